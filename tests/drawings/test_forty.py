"""Forty drawings put through the public command line and compared with what was worked out without it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from handwheel.cli.main import main
from tests.drawings.closed_forms import expected

HERE = Path(__file__).parent
SOUND = expected()
ASKED = [(name, phrase) for name, answers in SOUND.items() for phrase in answers]
REPEATS = ("17-checked-shaft", "55-flush-and-tied")
"""Drawings with one size more than they need, that agrees."""
_RUNS: dict[str, dict[str, Any]] = {}


def run(name: str, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    """All of a drawing's questions at once, asked of it only the first time."""
    if name not in _RUNS:
        asks = [word for phrase in SOUND[name] for word in ("--ask", phrase)]
        status = main(["size", str(HERE / f"{name}.yaml"), "--json", *asks])
        seen = capsys.readouterr()
        _RUNS[name] = {"exit": status, "stderr": seen.err, **json.loads(seen.out)}
    return _RUNS[name]


@pytest.mark.parametrize("name", sorted(SOUND))
def test_sound_drawing_is_taken(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    found = run(name, capsys)
    assert found["exit"] == 0
    assert found["faults"] == []
    assert found["state"] == ("over-dimensioned" if name in REPEATS else "fully dimensioned")
    assert [answer["ask"] for answer in found["answers"]] == list(SOUND[name])


@pytest.mark.parametrize(("name", "phrase"), ASKED, ids=[f"{name}: {phrase}" for name, phrase in ASKED])
def test_answer(name: str, phrase: str, capsys: pytest.CaptureFixture[str]) -> None:
    found = next(answer for answer in run(name, capsys)["answers"] if answer["ask"] == phrase)
    for key, wanted in SOUND[name][phrase].items():
        assert found[key] == pytest.approx(wanted, abs=1e-6 if key.startswith("value") else 1e-5), key


def test_bore_as_made_moves_the_piston(capsys: pytest.CaptureFixture[str]) -> None:
    """28.60 made for 28.575 drawn: two thou under it is 28.5492, half a thou either way."""
    (made,) = run("15-pump-piston", capsys)["as_made"]
    moved = {size["phrase"]: size for size in made["moved"] if size["part"] == "piston"}
    body = moved["body diameter"]
    assert body["value_mm"] == pytest.approx(28.6 - 0.0508, abs=1e-6)
    assert body["limit_low_mm"] == pytest.approx(28.6 - 0.0635, abs=1e-6)
    assert body["limit_high_mm"] == pytest.approx(28.6 - 0.0381, abs=1e-6)
    assert moved["upper diameter"]["value_mm"] == pytest.approx(28.6 - 0.0508 - 2 * 1.397, abs=1e-6)
