"""Runs the command line on an example's variants, each once, and keeps what came of it."""

from __future__ import annotations

import contextlib
import io
import json
import tempfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from shapely.geometry import Polygon

from handwheel.cli.main import main
from tests.variants import VARIANTS, read, write

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted(path.stem for path in (ROOT / "examples").glob("*.yaml"))

CASES = [(example, variant) for example in EXAMPLES for variant in VARIANTS]

SLACK_MM = 0.002
"""Two outlines of one shape, each with its arcs within 0.001 mm, lie no further apart than this."""


@dataclass(frozen=True)
class Run:
    """One `handwheel make`: its exit status, what it said, and job.json ({} when none was written)."""

    status: int
    said: str
    job: dict[str, Any]
    files: tuple[str, ...]

    def routes(self) -> list[tuple[str, dict[str, Any], list[dict[str, Any]]]]:
        """Name, part and route up to where it is refused, for each part; nothing to look at is a failure."""
        assert self.job, self.said
        found = []
        for name, part in self.job["parts"].items():
            route = []
            for entry in part["route"]:
                if entry.get("refused"):
                    break
                route.append(entry)
            found.append((name, part, route))
        return found


def job_text(example: str, variant: str) -> str:
    """The example's own text, or the variant's."""
    text = (ROOT / "examples" / f"{example}.yaml").read_text(encoding="utf-8")
    return text if variant == "as drawn" else write(VARIANTS[variant](read(text)))


def command(*words: str) -> tuple[int, str, str]:
    """A command in this process: exit status, standard output, standard error."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            status = main(list(words))
        except SystemExit as left:
            status = left.code if isinstance(left.code, int) else 3
    return status, out.getvalue(), err.getvalue()


@cache
def made(example: str, variant: str) -> Run:
    """The sheets of a variant, made once."""
    with tempfile.TemporaryDirectory(prefix="handwheel ") as folder:
        path = Path(folder) / f"{example}.yaml"
        path.write_text(job_text(example, variant), encoding="utf-8")
        out = Path(folder) / "sheets out"
        status, _, said = command("make", str(path), "--out", str(out))
        written = out / "job.json"
        job = json.loads(written.read_text(encoding="utf-8")) if written.exists() else {}
        files = tuple(sorted(p.name for p in out.iterdir())) if out.exists() else ()
        return Run(status, said, job, files)


@cache
def sized(example: str, variant: str, *asks: str) -> tuple[int, dict[str, Any], str]:
    """`handwheel size --json` of a variant: exit status, what was printed, what was said."""
    with tempfile.TemporaryDirectory(prefix="handwheel ") as folder:
        path = Path(folder) / f"{example}.yaml"
        path.write_text(job_text(example, variant), encoding="utf-8")
        words = [word for ask in asks for word in ("--ask", ask)]
        status, printed, said = command("size", str(path), "--json", *words)
        return status, json.loads(printed) if printed else {}, said


def polygon(outline: list[list[float]]) -> Polygon:
    """An `outline_mm` as a polygon."""
    return Polygon(outline)
