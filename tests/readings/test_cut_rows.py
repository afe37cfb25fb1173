"""Cut lists on wheels of all kinds, followed by hand from the one zero with exact fractions."""

from __future__ import annotations

from fractions import Fraction

import pytest
from bench_for_readings import a_workshop, cross, operation, plan
from hypothesis import given, settings
from hypothesis import strategies as st

from handwheel.job.records import Unit
from handwheel.plan.cuts import cuts_to
from handwheel.plan.records import CutList, Makes, Move, Pass
from handwheel.readings.of import readings_of
from handwheel.readings.records import Reading
from handwheel.workshop.records import Handwheel

WHEELS = {
    "thou": cross(2.54, 100, 1.0),
    "half thou": cross(2.54, 100, 0.5),
    "50 lines on a screw of 40 thou": cross(1.016, 50, 1.0),
    "inch dial on a metric screw": cross(1.0, 40, 1.0),
    "metric": cross(2.5, 125, 0.5),
    "no lines": cross(1.5, 1, 0.125),
    "a third of a line": cross(1.0, 10, 0.3),
}


def move(start: float, size: float, last: float = 0.25, deepest: float = 2.0, way: str = "in", has_spring: bool = False) -> Move:
    sense = 1.0 if way == "out" else -1.0
    found = cuts_to(abs(start - size), last, deepest, is_measured=True, has_spring=has_spring)
    passes = tuple(Pass(off / 2.0, start + sense * off, kind) for off, kind in found)
    makes = Makes("stem diameter", size, size - 0.02, size + 0.02, True)
    cuts = CutList(passes, deepest, "the habit", 0.1, 0.05)
    return Move("cross slide", way, "touched", abs(start - size) / 2, makes, cuts=cuts)


def read(one: Move, wheel: Handwheel, units: Unit = Unit.MM) -> Reading:
    (found,) = readings_of(plan(operation(10, one)), a_workshop(units, {"cross slide": wheel}))["pin", 10]
    return found


def travel(turns: int, divisions: float, wheel: Handwheel) -> Fraction:
    """What the hand does: whole turns, then lines of the next."""
    line = Fraction(wheel.lead_mm) / max(1, wheel.divisions)
    return turns * Fraction(wheel.lead_mm) + Fraction(divisions) * line


@pytest.mark.parametrize("wheel", WHEELS.values(), ids=WHEELS)
@settings(max_examples=40, deadline=None)
@given(st.floats(4.0, 40.0), st.floats(0.3, 12.0), st.sampled_from(["in", "out"]))
def test_every_cut_followed_from_the_zero_leaves_what_it_says(wheel: Handwheel, size: float, taken: float, way: str) -> None:
    start = size + taken if way == "in" else size - taken
    if start <= 0.0:
        return
    reading = read(move(start, size, way=way), wheel)
    sense = 1 if way == "out" else -1
    before = Fraction(-1)
    for row in reading.cuts:
        reached = Fraction(start) + sense * 2 * travel(row.turns, row.divisions, wheel)
        assert float(reached) == pytest.approx(row.leaves_mm, abs=1e-6), row
        gone = travel(row.turns, row.divisions, wheel)
        assert gone > before
        before = gone
        if row.kind == "rough":
            assert float(gone) <= row.exact_mm + wheel.step_mm + 1e-6  # no deeper than its cut but for the last ones' rounding
    if reading.cuts:
        last = reading.cuts[-1]
        assert (last.turns, last.divisions) == (reading.turns, reading.divisions)  # the reading itself
        assert abs(float(before) - reading.exact_mm) <= wheel.step_mm / 2 + 1e-9  # rounded once


def test_by_hand_in_thou() -> None:
    """3/4 to 9/16, cuts of 80 thou, last of 10: 187.5 off, 167.5 in three cuts; on the radius 27, 55, 83, 88.5, 93.5 thou."""
    inch = 25.4
    reading = read(move(0.75 * inch, 0.5625 * inch, 0.010 * inch, 0.080 * inch), WHEELS["half thou"], Unit.INCH)
    # 93.75 thou on the radius: the half-thou line before it, half way; then back 5 and 10 thou
    assert [(row.kind, row.turns, row.divisions) for row in reading.cuts] == [
        ("rough", 0, 27.0), ("rough", 0, 55.0), ("rough", 0, 83.0), ("measure", 0, 88.5), ("last", 0, 93.5)]  # fmt: skip
    assert [round(row.leaves_mm / inch, 4) for row in reading.cuts] == [0.696, 0.64, 0.584, 0.573, 0.563]


def test_last_cuts_are_equal_in_lines() -> None:
    for wheel in WHEELS.values():
        rows = read(move(20.0, 12.07), wheel).cuts
        if [row.kind for row in rows][-2:] != ["measure", "last"] or len(rows) < 3:
            continue
        steps = [b.moves_mm - a.moves_mm for a, b in zip(rows, rows[1:], strict=False)]
        assert steps[-1] <= steps[-2] + wheel.lead_mm / max(1, wheel.divisions) + 1e-9
        assert steps[-1] > 0.0


def test_fifty_lines_on_forty_thou_are_eight_tenths_of_a_thou_each() -> None:
    """1 mm on the radius is 49.2 of those lines, not 39.4: 49 lines, Ø 0.00879 mm over."""
    wheel = WHEELS["50 lines on a screw of 40 thou"]
    reading = read(move(12.0, 10.0), wheel)
    assert (reading.turns, reading.divisions) == (0, 49.0)
    assert reading.cuts[-1].leaves_mm == pytest.approx(12.0 - 2 * 49 * 0.02032, abs=1e-9)


def test_an_inch_dial_on_a_metric_screw_counts_its_own_lines() -> None:
    """40 lines on 1 mm: a line is 0.025 mm, 0.98 thou. An inch size on it: 0.1 in on the radius is 2.54 mm, 2 turns 21.6."""
    reading = read(move(0.7 * 25.4, 0.5 * 25.4), WHEELS["inch dial on a metric screw"], Unit.INCH)
    assert (reading.turns, reading.divisions) == (2, 22.0)
    assert reading.moves_mm == pytest.approx(2.55)


def test_the_text_says_the_list_with_its_stop() -> None:
    text = read(move(20.0, 12.0, has_spring=True), WHEELS["metric"]).text
    assert "Cuts, all from that zero, Ø in mm: " in text
    assert "stop and measure" in text
    assert "again, no feed in" in text
    assert "Feed 0.10 mm, the last 0.05 mm a turn." in text


def test_one_cut_is_no_list() -> None:
    assert read(move(12.2, 12.0), WHEELS["metric"]).cuts == ()
