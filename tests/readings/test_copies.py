"""Readings for copies with sizes as made: moves by hand from the measured sizes, nothing for what is made."""

from __future__ import annotations

import pytest

from handwheel.drawing.asmade import with_as_made
from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.route import plan_job
from handwheel.readings.copies import CopyReadings, copy_readings
from handwheel.readings.of import readings_of
from handwheel.workshop.read import built_in_workshop

JOB = """handwheel: 1
job: Pins
units: mm
general tolerance: ± 0.2
parts:
  pin:
    quantity: 2
    material: free-cutting mild steel
    outside:
      - cylinder: head
      - cylinder: body
      - cylinder: tip
    dimensions:
      head diameter: 24
      body diameter: 16
      tip diameter: 10 ± 0.02
      head length: 8 ± 0.1
      body length: 20 ± 0.1
      tip length: 12 ± 0.1
  cap:
    quantity: 2
    material: free-cutting mild steel
    outside:
      - cylinder: cup
    inside:
      from left:
        - hole: seat
    dimensions:
      cup diameter: 20
      cup length: 18
      seat diameter: to suit tip diameter of pin + 0.1 ± 0.05
      seat depth: 9
as made:
"""


def copies(*lines: str) -> dict[str, CopyReadings]:
    job, faults = read_job((JOB + "".join(f"  {line}\n" for line in lines)).encode(), "job.yaml")
    assert job is not None, faults
    drawing = with_as_made(size_job(job))
    shop = built_in_workshop(Unit.MM)
    plan = plan_job(drawing, shop)
    (found,) = copy_readings(drawing, plan, readings_of(plan, shop), shop)
    assert not any(c.cannot for c in found)
    return {c.part: c for c in found}


def test_a_tip_faced_short_moves_every_length_from_that_end() -> None:
    found = copies("pin 2: {tip length: 11.7}")
    moves = {
        r.now.makes.phrase: (r.now.exact_mm, r.was.exact_mm, r.now.makes.value_mm)
        for r in found["pin"].readings
        if r.now.makes is not None
    }
    # from the right end: body at 11.7 (made), head at 31.7, the left end at 39.7
    assert "right end to tip left" not in moves
    for phrase, now, was in (("right end to body left", 31.7, 32.0), ("right end to head left", 39.7, 40.0)):
        assert moves[phrase] == pytest.approx((now, was, now), abs=1e-6)
    assert found["cap"].readings == ()


def test_a_tip_turned_small_changes_the_drill_of_its_cap() -> None:
    # the seat was 10.1 ± 0.05, and is 9.7 ± 0.05: in tenths of a millimetre 10.1 and 9.7 are drills
    found = copies("pin 1: {tip diameter: 9.6}")
    (tool,) = found["cap"].tools
    assert tool.kind == "drill"
    assert "9.7" in tool.now
    assert "10.1" in tool.was
    assert not [r for r in found["pin"].readings if r.now.makes and r.now.makes.is_diameter]


def test_what_is_all_measured_has_no_readings() -> None:
    found = copies("pin 2: {head length: 8.05, body length: 20.03, tip length: 11.96}")
    assert found["pin"].readings == ()


def test_nothing_as_made_gives_nothing() -> None:
    job, _ = read_job(JOB.removesuffix("as made:\n").encode(), "job.yaml")
    assert job is not None
    drawing = with_as_made(size_job(job))
    shop = built_in_workshop(Unit.MM)
    plan = plan_job(drawing, shop)
    assert copy_readings(drawing, plan, readings_of(plan, shop), shop) == ()
