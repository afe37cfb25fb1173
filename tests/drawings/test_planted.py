"""One dimension taken out of a sound drawing, one put in that agrees, one put in that does not."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from handwheel.cli.main import main
from tests.drawings.closed_forms import expected
from tests.drawings.planted import Line, dimensions, text_of, with_one_more, without

SOUND = expected()
REPEATING = ("17-checked-shaft", "55-flush-and-tied", "18-hand-of-spindles")
"""A dimension less leaves these fixed all the same, or takes another from the part they are like."""
TAKEN = [(name, line) for name in SOUND if name not in REPEATING for line in list(dimensions(name))[1::4]]
UNIT = {"mm": (" mm", 3), "deg": (" deg", 3), "ratio": ("", 5)}


def put_in() -> Iterator[tuple[str, str, str, float, str]]:
    """Drawing, part, phrase, value and unit of each third answer that can be written as a further dimension."""
    for name, answers in SOUND.items():
        text = text_of(name)
        parts = [line.part for line in dimensions(name)]
        threads = any("thread:" in line for line in text)
        for phrase in list(answers)[::3]:
            bare, _, part = phrase.partition(" of ")
            written = any(line.startswith(f"      {bare}:") for line in text)
            # A thread's diameter written as well is the blank's and stands in its place; one of 18 is inherited.
            if phrase.count(" of ") > 1 or written or (threads and "diameter" in bare) or name.startswith(("15", "18")):
                continue
            key = next(k for k in answers[phrase] if k.startswith("value"))
            yield name, part or parts[0], bare, answers[phrase][key], key.removeprefix("value_")


PUT = list(put_in())


def size(text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, dict[str, Any]]:
    path = tmp_path / "drawing.yaml"
    path.write_text(text, encoding="utf-8")
    status = main(["size", str(path), "--json"])
    return status, json.loads(capsys.readouterr().out)


@pytest.mark.parametrize(("name", "line"), TAKEN, ids=[f"{n}: {line.phrase}" for n, line in TAKEN])
def test_one_taken_out(name: str, line: Line, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, found = size(without(name, line), tmp_path, capsys)
    assert (status, found["state"]) == (2, "under-dimensioned"), found["faults"]
    here = [fault for fault in found["faults"] if fault["part"] == line.part] or found["faults"]
    assert all("'" in fault["do"] for fault in here), here


@pytest.mark.parametrize(("name", "part", "phrase", "value", "unit"), PUT, ids=[f"{p[0]}: {p[2]}" for p in PUT])
def test_one_put_in_that_agrees(
    name: str, part: str, phrase: str, value: float, unit: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    word, places = UNIT[unit]
    status, found = size(with_one_more(name, part, f"{phrase}: {value:.{places}f}{word}"), tmp_path, capsys)
    assert (status, found["state"]) == (0, "over-dimensioned"), found["faults"]


@pytest.mark.parametrize(("name", "part", "phrase", "value", "unit"), PUT, ids=[f"{p[0]}: {p[2]}" for p in PUT])
def test_one_put_in_that_quarrels(
    name: str, part: str, phrase: str, value: float, unit: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    word, places = UNIT[unit]
    off = value * 1.08 + {"mm": 0.5, "deg": 0.5, "ratio": 0.01}[unit]
    status, found = size(with_one_more(name, part, f"{phrase}: {off:.{places}f}{word}"), tmp_path, capsys)
    assert (status, found["state"]) == (2, "contradictory"), found["notices"]
    (fault,) = found["faults"]
    assert phrase in fault["phrases"]
