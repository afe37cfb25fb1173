"""Slips planted in a true drawing are offered put right; where the numbers fit none, none is offered."""

from __future__ import annotations

import math

import pytest

from handwheel.drawing.records import State
from tests.drawing.faulty import CYLINDERS, DIAMETERS, the_fault
from tests.drawing.jobs import part

TRUE = [*DIAMETERS[:3], "a1 length: 12.5", "b1 length: 21.3", "c1 length: 5.0", "overall length: 38.8"]
CONE = ["cone: c", "cylinder: d"]
HALF = math.degrees(math.atan(5 / 40))
CONED = ["c left diameter: 20", "c right diameter: 10", "c length: 40", "d diameter: 5", "d length: 6"]


def fix(outside: list[str] | tuple[str, ...], lines: list[str], slip: str, words: str, **more: str) -> None:
    """The line planted instead of the one with its phrase draws an offer with those words."""
    phrase = slip.split(":")[0]
    others = [line for line in lines if not line.startswith(f"{phrase}:")]
    found = part(outside, [*others, slip], **more)
    assert found.state is State.CONTRADICTORY
    assert len(found.faults) == 1, [f.line() for f in found.faults]
    assert words in found.faults[0].do, found.faults[0].do
    assert "would agree if" in found.faults[0].do


@pytest.mark.parametrize(
    ("slip", "words"),
    [
        ("overall length: 83.8", "the 83.8 of 'overall length' should read 38.8"),
        ("b1 length: 23.1", "the 23.1 of 'b1 length' should read 21.3"),
        ("a1 length: 1.25", "the decimal point of 1.25 of 'a1 length' stands one place too far left"),
        ("c1 length: 50.0", "the decimal point of 50.0 of 'c1 length' stands one place too far right"),
        ("b1 length: 0.8386", "the 0.8386 of 'b1 length' is in inches"),
    ],
)
def test_in_a_chain(slip: str, words: str) -> None:
    fix(CYLINDERS[:3], TRUE, slip, words)


def test_millimetres_in_an_inch_job() -> None:
    lines = ["a1 diameter: 1/2", "b1 diameter: 3/4", "a1 length: 1 1/2", "b1 length: 1.000", "overall length: 2.500"]
    fix(CYLINDERS[:2], lines, "b1 length: 25.4", "the 25.4 of 'b1 length' is in millimetres", units="inch")


def test_radius_for_diameter_and_the_other_way_about() -> None:
    lines = ["a1 diameter: 14", "a1 radius: 7", "a1 length: 10"]
    fix(CYLINDERS[:1], lines, "a1 radius: 14", "the 14 of 'a1 radius' is a diameter")
    fix(CYLINDERS[:1], lines, "a1 diameter: 7", "the 7 of 'a1 diameter' is a radius")


@pytest.mark.parametrize(
    ("slip", "words"),
    [
        (f"c included angle: {HALF:.2f} deg", "is 'c angle to axis'"),
        (f"c angle to axis: {2 * HALF:.2f} deg", "is 'c included angle'"),
        ("c taper: 1 in 8", "the 1 in 8 of 'c taper' is on the radius"),
        ("c taper: 1 in 2", "the 1 in 2 of 'c taper' is twice the taper"),
    ],
)
def test_half_and_whole_angles_and_tapers(slip: str, words: str) -> None:
    # 20 to 10 over 40: 5 in 40 on the radius, 1 in 4 on the diameter
    fix(CONE, CONED, slip, words)


def test_measured_to_the_other_end() -> None:
    lines = [*DIAMETERS[:3], "a1 length: 10", "b1 length: 20", "c1 length: 5", "a1 right to right end: 25"]
    fix(CYLINDERS[:3], lines, "a1 right to right end: 35", "'a1 right to right end' is measured from a1 left")
    fix(CYLINDERS[:3], [*lines[:6], "left end to b1 right: 30"], "left end to b1 right: 10", "measured to b1 left")


@pytest.mark.parametrize(("off", "step"), [("7/16", "1/16 in"), ("17/32", "1/32 in"), ("5/8", "1/8 in"), ("0.6", "0.1 in")])
def test_a_common_fraction(off: str, step: str) -> None:
    lines = ["a1 diameter: 1/2", "b1 diameter: 3/4", "a1 length: 1 1/2", f"b1 length: {off}", "overall length: 2"]
    fault = the_fault(part(CYLINDERS[:2], lines, units="inch"), "dimensions-quarrel")
    assert f"just {step}" in fault.do


def test_numbers_that_fit_no_slip_are_offered_none() -> None:
    lines = [*DIAMETERS[:3], "a1 length: 11.17", "b1 length: 21.38", "c1 length: 5.06", "overall length: 40.93"]
    fault = the_fault(part(CYLINDERS[:3], lines), "dimensions-quarrel")
    assert fault.do.startswith("correct one of them")
    assert "just" not in fault.do


def test_a_slip_that_would_leave_another_fault_is_not_offered() -> None:
    # 40 for 4.0 would close the chain, were it not for the hole that is longer than that
    hole = "    inside:\n      from left:\n        - hole: h"
    lines = [*DIAMETERS[:2], "a1 length: 10.0", "b1 length: 4.0", "overall length: 50.0"]
    assert "decimal point of 4.0" in the_fault(part(CYLINDERS[:2], lines), "dimensions-quarrel").do
    lines = ["a1 diameter: 10", "b1 diameter: 7", "a1 length: 10.0", "b1 length: 40.0", "overall length: 14.0"]
    lines += ["h diameter: 3", "h depth: 20"]
    fault = the_fault(part(CYLINDERS[:2], lines, more=hole), "dimensions-quarrel")
    assert "decimal point of 40.0" not in fault.do  # 14 long in all, and the hole 20 deep


def test_radius_for_diameter_where_there_is_no_shape() -> None:
    lines = ["b diameter: 8", "s diameter: 12", "s length: 20"]
    found = part(["ball: b", "cylinder: s"], lines)
    fault = the_fault(found, "no-such-shape")
    assert "the 8 of 'b diameter' is a radius" in fault.do
    mended = part(["ball: b", "cylinder: s"], ["b radius: 8", *lines[1:]])
    assert mended.state is State.FULLY_DIMENSIONED


def test_a_size_out_of_scale_where_there_is_no_shape() -> None:
    lines = [*DIAMETERS[:3], "a1 length: 150", "b1 length: 14", "c1 length: 12", "a1 left to right end: 41"]
    fault = the_fault(part(CYLINDERS[:3], lines), "dimensions-quarrel")
    assert "decimal point of 150 of 'a1 length'" in fault.do
    hole = "    inside:\n      from left:\n        - hole: h"
    lines = ["a1 diameter: 30", "a1 length: 41", "h diameter: 12", "h depth: 380"]
    fault = the_fault(part(CYLINDERS[:1], lines, more=hole), "no-such-shape")
    assert "decimal point of 380 of 'h depth'" in fault.do
