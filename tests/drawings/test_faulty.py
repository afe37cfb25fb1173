"""Twenty faulty drawings: where the fault is told, what it names and what it says to do."""

from __future__ import annotations

import json
import re
from fnmatch import fnmatchcase
from pathlib import Path
from typing import Any

import pytest
import yaml

from handwheel.cli.main import main

HERE = Path(__file__).parent
WRONG: dict[str, Any] = yaml.safe_load((HERE / "expected_faults.yaml").read_text(encoding="utf-8"))


_RUNS: dict[str, tuple[int, dict[str, Any], list[str]]] = {}


def run(name: str, capsys: pytest.CaptureFixture[str]) -> tuple[int, dict[str, Any], list[str]]:
    """Exit status, the JSON, and standard error's lines without the file's name; each drawing is run once."""
    if name in _RUNS:
        return _RUNS[name]
    path = str(HERE / f"{name}.yaml")
    status = main(["size", path, "--json"])
    seen = capsys.readouterr()
    lines = seen.err.splitlines()
    assert all(line.startswith(f"{path}:") for line in lines), seen.err
    _RUNS[name] = status, json.loads(seen.out), [line.removeprefix(f"{path}:") for line in lines]
    return _RUNS[name]


def fits(told: dict[str, Any], wanted: dict[str, Any]) -> bool:
    """Whether a fault told is the one wanted: its part, all it must name, nothing it may not, and its words."""
    names, words = set(told["phrases"]), f"{told['what']} {told['do']}"
    allowed = set(wanted["names"]) | set(wanted.get("also", []))
    return (
        wanted["part"] in (told["part"], "*")
        and set(wanted["names"]) <= names <= allowed
        and all(word in words for word in wanted["told"])
    )


@pytest.mark.parametrize("name", sorted(WRONG))
def test_state_and_exit(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    status, found, _ = run(name, capsys)
    assert (status, found["state"]) == (WRONG[name].get("exit", 2), WRONG[name]["state"])


@pytest.mark.parametrize("name", sorted(WRONG))
def test_told_at_its_place_and_nowhere_else(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    _, _, lines = run(name, capsys)
    places = [":".join(line.split(":")[:2]) for line in lines]
    wanted = WRONG[name]["at"]
    assert [p for p in places if not any(fnmatchcase(p, w) for w in wanted)] == [], lines
    assert [w for w in wanted if not any(fnmatchcase(p, w) for p in places)] == [], lines
    assert [int(p.split(":")[0]) for p in places] == sorted(int(p.split(":")[0]) for p in places), lines
    assert all(re.match(r"\d+:\d+: [^;]+; .+", line) for line in lines)


@pytest.mark.parametrize("name", sorted(WRONG))
def test_names_what_is_concerned_and_no_more(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    _, found, _ = run(name, capsys)
    for kind in ("faults", "notices"):
        wanted = WRONG[name].get(kind, [])
        assert [w for w in wanted if not any(fits(told, w) for told in found[kind])] == [], found[kind]
        assert [told for told in found[kind] if not any(fits(told, w) for w in wanted)] == [], found[kind]


@pytest.mark.parametrize("name", [n for n in sorted(WRONG) if WRONG[n]["state"] in ("under-dimensioned", "ambiguous")])
def test_every_size_offered_can_be_written(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A size offered in quotation marks, written as a dimension of that part, is read."""
    _, found, _ = run(name, capsys)
    text = (HERE / f"{name}.yaml").read_text(encoding="utf-8")
    for fault in found["faults"]:
        for phrase in (p for p in re.findall(r"'([^']*)'", fault["do"]) if ":" not in p and " " in p):
            head, part, tail = text.partition(f"  {fault['part']}:\n")
            tail = tail.replace("    dimensions:\n", f"    dimensions:\n      {phrase}: 17\n", 1)
            mended = tmp_path / "mended.yaml"
            mended.write_text(head + part + tail, encoding="utf-8")
            main(["size", str(mended), "--json"])
            assert json.loads(capsys.readouterr().out)["state"] is not None, phrase
