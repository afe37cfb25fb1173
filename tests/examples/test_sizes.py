"""Every example, and every other spelling of it, sizes, and to the same lengths. Expected values by hand."""

from __future__ import annotations

from math import sqrt

import pytest

from tests.examples.runs import CASES, EXAMPLES, ROOT, job_text, sized
from tests.variants import read

INCH = 25.4

LENGTHS_MM: dict[str, list[float]] = {
    # drawn outright
    "pin": [28.0],
    "stepped-spindle": [62.0],
    "taper-pin": [2.125 * INCH],
    "bush": [20.0],
    # half the ball, centre to shank's end, tenon
    "ball-arm": [7.0 + 34.0 + 9.0],
    "tapping-stand": [],
}


def cap(ball: float, flat: float) -> float:
    """From a ball's centre to a flat of that diameter on it."""
    return sqrt((ball / 2) ** 2 - (flat / 2) ** 2)


def tapping_stand_mm() -> list[float]:
    """The demo's overall lengths, in the order of its parts, by its drawing's own chain."""
    arm = 2 + 1 / 32 - 5 / 32 + 13 / 32
    lever = 11 / 32 + (1 + 29 / 32) - cap(7 / 16, 9 / 32) + 0.205
    short_lever = 9 / 32 + (1 + 9 / 16) - cap(3 / 8, 15 / 64) + 0.170
    knob = cap(7 / 16, 9 / 32) + 7 / 32
    short_knob = cap(3 / 8, 15 / 64) + 3 / 16
    return [inches * INCH for inches in (arm, 5 / 32, lever, short_lever, knob, short_knob)]


LENGTHS_MM["tapping-stand"] = tapping_stand_mm()


def part_names(example: str, variant: str) -> list[str]:
    return list(read(job_text(example, variant))["parts"])


def test_every_example_has_its_lengths_here() -> None:
    assert sorted(LENGTHS_MM) == EXAMPLES
    assert len(EXAMPLES) > 4
    assert all(path.suffix == ".yaml" for path in (ROOT / "examples").iterdir())


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_sizes_fully_and_to_the_same_lengths(example: str, variant: str) -> None:
    asks = tuple(f"overall length of {name}" for name in part_names(example, variant))
    status, printed, said = sized(example, variant, *asks)
    assert status == 0, said
    assert printed["state"] == "fully dimensioned"
    assert printed["faults"] == []
    assert printed["notices"] == []
    factor = 1.3 if variant == "scaled" else 1.0
    found = [answer["value_mm"] for answer in printed["answers"]]
    assert found == pytest.approx([length * factor for length in LENGTHS_MM[example]], abs=1e-6)


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_limits_hold_the_size(example: str, variant: str) -> None:
    asks = tuple(f"overall length of {name}" for name in part_names(example, variant))
    _, printed, _ = sized(example, variant, *asks)
    for answer in printed["answers"]:
        assert answer["low_mm"] < answer["value_mm"] < answer["high_mm"]
