"""A slot right through has no floor: it is fixed by its width, length and place, and takes a whole band away."""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad

from handwheel.drawing.size import size_job
from handwheel.job.ask import read_question
from handwheel.job.read import read_job

TEXT = """handwheel: 1
job: Slot
units: mm
parts:
  piece:
    outside: [{cylinder: body, diameter: 20, length: 30}]
    across: [{slot: way, on: body, width: 4, length: 12, MORE}]
    dimensions: {left end to way centre: 15}
"""


def volume(more: str) -> float:
    job, faults = read_job(TEXT.replace("MORE", more).encode(), "test.yaml")
    assert job is not None, faults
    asked = read_question("volume", job, "piece")
    drawing = size_job(job, [("volume", asked)])
    assert not drawing.faults, drawing.faults
    return drawing.answers[0].value


def test_a_slot_right_through_takes_its_whole_band() -> None:
    # 12 mm long, 4 mm wide across a circle of radius 10: the area between x = -2 and 2 is 2·∫ sqrt(100 - x²) dx
    area = 2 * quad(lambda x: math.sqrt(100 - x * x), -2, 2)[0]
    assert volume("through: yes") == pytest.approx(math.pi * 100 * 30 - 12 * area, rel=1e-5)


def test_one_with_a_floor_is_told_when_that_is_missing() -> None:
    job, _ = read_job(TEXT.replace(", MORE", "").encode(), "test.yaml")
    assert job is not None
    faults = size_job(job).faults
    assert len(faults) == 1
    assert "way" in faults[0].what
