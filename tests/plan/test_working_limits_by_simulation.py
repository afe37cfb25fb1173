"""No part inside all its working limits is outside the drawing: parts drawn at random within them, and at their corners.

Each simulated part is the drawing dimensioned by its working sizes alone, exact; its drawing sizes are then asked for and
held against the limits written in the text (or ISO 2768-1 m and ISO 286 h7, from memory of the standards).
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from handwheel.drawing.records import Drawing
from handwheel.drawing.size import size_job
from handwheel.job.read import read_job, read_question
from handwheel.job.records import Job, Phrase, Unit
from handwheel.plan.limits import _at_mid_limits  # the sizes aimed at
from handwheel.plan.records import PartPlan
from handwheel.plan.route import plan_job
from handwheel.plan.working import Working, station_of, station_phrase, working_of
from handwheel.workshop.read import built_in_workshop

SPINDLE = """handwheel: 1
job: Spindle
units: mm
parts:
  piece:
    material: free-cutting mild steel
    outside:
      - cylinder: nose
      - cylinder: seat
      - cylinder: body
      - cylinder: tail
    dimensions:
      overall length: 62 ± 0.3
      nose diameter: 8 ± 0.2
      nose length: 12 ± 0.2
      left end to seat right: 30 ± 0.3
      seat diameter: 12 +0 -0.018
      body diameter: 18 ± 0.2
      tail length: 14 ± 0.2
      tail diameter: 10 ± 0.2
"""
SPINDLE_LIMITS = {
    "overall length": (61.7, 62.3), "nose diameter": (7.8, 8.2), "nose length": (11.8, 12.2),
    "left end to seat right": (29.7, 30.3), "seat diameter": (11.982, 12.0), "body diameter": (17.8, 18.2),
    "tail length": (13.8, 14.2), "tail diameter": (9.8, 10.2),
}  # fmt: skip
LEVER = """handwheel: 1
job: Lever
units: mm
parts:
  piece:
    material: free-cutting mild steel
    outside:
      - ball: hub
      - cone: shank
      - cylinder: tenon
    dimensions:
      hub diameter: 16 ± 0.2
      shank diameter at hub centre: 10 ± 0.2
      shank right diameter: 7 ± 0.1
      hub centre to shank right: 40 ± 0.3
      tenon diameter: 5 +0 -0.012
      tenon length: 6 ± 0.1
"""
LEVER_LIMITS = {
    "hub diameter": (15.8, 16.2), "shank diameter at hub centre": (9.8, 10.2), "shank right diameter": (6.9, 7.1),
    "hub centre to shank right": (39.7, 40.3), "tenon diameter": (4.988, 5.0), "tenon length": (5.9, 6.1),
}  # fmt: skip
SAMPLES = 60


def job_of(text: str) -> Job:
    job, faults = read_job(text.encode(), "job.yaml")
    assert job is not None, faults
    return job


def printed_limits(plan: PartPlan) -> dict[str, float]:
    """Half the working tolerance printed for each working size, by its phrase about the finished part."""
    found: dict[str, float] = {}
    for stage in plan.stages:
        for move in stage.operation.moves:
            if move.makes is None or move.makes.working_low_mm is None or move.makes.working_high_mm is None:
                continue
            station = station_of(move.makes.phrase, stage.operation.holding.toward_tailstock)
            phrase = move.makes.phrase if station is None else station_phrase(*station).text
            found[phrase] = (move.makes.working_high_mm - move.makes.working_low_mm) / 2.0
    return found


def independent(job: Job, working: tuple[Working, ...]) -> tuple[Working, ...]:
    """The working sizes without those that others fix already (at the sizes aimed at all of them agree)."""
    part = replace(job.parts[0], dimensions=tuple(w.drawn(Fraction(0)) for w in working))
    repeats = {n.phrases[0] for n in size_job(replace(job, parts=(part,))).notices if n.id == "repeated-dimension"}
    return tuple(w for w in working if w.phrase.text not in repeats)


def made_part(job: Job, working: tuple[Working, ...], half: dict[str, float], ask: list[tuple[str, Phrase]],
              draw: Callable[[float], float]) -> Drawing:  # fmt: skip
    """The drawing of one made part, each printed working size off by draw(half tolerance)."""
    dimensions = tuple(
        replace(w, value=w.value + draw(half.get(w.phrase.text, 0.0))).drawn(Fraction(0)) for w in working)  # fmt: skip
    part = replace(job.parts[0], dimensions=dimensions)
    return size_job(replace(job, parts=(part,)), ask)


@pytest.mark.parametrize(("text", "limits"), [(SPINDLE, SPINDLE_LIMITS), (LEVER, LEVER_LIMITS)])
def test_parts_within_the_working_limits_are_within_the_drawing(text: str, limits: dict[str, tuple[float, float]]) -> None:
    job = job_of(text)
    drawing = size_job(job)
    plan = plan_job(drawing, built_in_workshop(Unit.MM)).parts[0]
    assert not plan.refused
    assert len(printed_limits(plan)) >= 4
    ask = []
    for phrase in limits:
        question = read_question(phrase, job, "piece")
        assert isinstance(question, Phrase)
        ask.append((phrase, question))
    rng = random.Random(20261125)
    draws = [lambda h: rng.uniform(-h, h), lambda h: rng.choice((-h, h))]
    half = printed_limits(plan)
    working = independent(job, working_of(_at_mid_limits(drawing).parts[0], plan))
    assert sum(1 for w in working if half.get(w.phrase.text, 0.0) > 0.0) >= 4
    for i in range(SAMPLES):
        result = made_part(job, working, half, ask, draws[i % 2])
        assert len(result.answers) == len(limits), [f.line() for f in result.faults]
        for answer in result.answers:
            low, high = limits[answer.ask]
            assert low - 1e-9 <= answer.value <= high + 1e-9, f"{answer.ask}: {answer.value}"
