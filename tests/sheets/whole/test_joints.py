"""Fits against the standard's limits and sums by hand."""

from __future__ import annotations

import pytest

from handwheel.sheets.whole.assembled import overlap_mm, placed_parts
from handwheel.sheets.whole.joints import Joint, joints_of
from tests.sheets.whole.jobs import STAND, laid_out, page_of, planned, shaft_job, texts

# ISO 286-2, over 6 up to 10 mm, in micrometres: lower and upper deviation
PUBLISHED = {"h7": (-15, 0), "g6": (-14, -5), "k6": (1, 10), "s6": (23, 32), "f7": (-28, -13), "H7": (0, 15), "H8": (0, 22)}


def joints(text: str) -> list[Joint]:
    drawing, _, _ = planned(text)
    return [j for a in drawing.assemblies for j in joints_of(a, drawing, {})]


@pytest.mark.parametrize(("shaft", "hole", "fit"), [
    ("h7", "H7", "clearance"), ("g6", "H7", "clearance"), ("f7", "H8", "clearance"), ("k6", "H7", "transition"),
    ("s6", "H7", "interference"),
])
def test_play_over_the_drawn_limits(shaft: str, hole: str, fit: str) -> None:
    (joint,) = joints(shaft_job(shaft, hole))
    (low, high), (lower, upper) = PUBLISHED[shaft], PUBLISHED[hole]
    assert joint.least_mm == pytest.approx((lower - high) / 1000.0, abs=1e-9)
    assert joint.greatest_mm == pytest.approx((upper - low) / 1000.0, abs=1e-9)
    assert joint.kind == fit
    assert (joint.hole.called, joint.shaft.called) == (hole, shaft)


def test_working_limits_stand_in_place_of_drawn_ones_and_lie_inside_them() -> None:
    drawing, plan, _ = planned(shaft_job())
    plans = {p.part: p for p in plan.parts}
    (joint,) = joints_of(drawing.assemblies[0], drawing, plans)
    assert joint.shaft.limits_from == "working"
    assert joint.shaft.low_mm is not None
    assert joint.shaft.high_mm is not None
    assert 7.985 - 1e-9 <= joint.shaft.low_mm < joint.shaft.high_mm <= 8.0 + 1e-9
    assert joint.least_mm is not None
    assert joint.least_mm >= -1e-9


def test_bonded_and_threaded_joints_of_the_stand() -> None:
    drawing, plan, _ = planned(STAND)
    plans = {p.part: p for p in plan.parts}
    found = {(j.hole.part, j.shaft.feature): j for a in drawing.assemblies for j in joints_of(a, drawing, plans)}
    assert found["lever knob", "tenon"].kind == "bonded"
    assert found["short lever knob", "tenon"].kind == "bonded"
    clear = found["arm collar", "screw"]
    assert clear.kind == "clearance"
    # an eye of 5.2 mm within 0.005 in over an M5 thread, whose crests are never over 5 mm
    assert clear.least_mm == pytest.approx(5.2 - 0.127 - 5.0, abs=1e-9)
    assert clear.greatest_mm is None


def test_a_part_lies_at_its_seat_and_clear_of_the_other() -> None:
    drawing, _, _ = planned(shaft_job())
    inside, around = placed_parts(drawing.assemblies[0], drawing)
    assert (inside.part.name, around.part.name) == ("shaft", "cap")
    # the cap's right face stands at the shoulder, 12 mm from the shaft's left end, and the cap is 20 mm long
    assert (around.low, around.high) == pytest.approx((-8.0, 12.0))
    assert overlap_mm(inside, around) == pytest.approx(0.0, abs=1e-9)


def test_metal_in_metal_is_told() -> None:
    text = shaft_job().replace("rim right of cap on tail right of shaft", "rim right of cap on body right of shaft")
    drawing, _, _ = planned(text)
    inside, around = placed_parts(drawing.assemblies[0], drawing)
    # turned to stand against the body's right face: the nose, 30 mm long and of radius 3, ends in metal behind 14 mm of hole
    assert overlap_mm(inside, around) == pytest.approx(3.0, abs=1e-9)
    assert any("stand in each other's metal" in t for t in texts(page_of(laid_out(text), "General arrangement")))


def test_the_schedule_says_play_below_nought_as_interference() -> None:
    said = texts(page_of(laid_out(shaft_job("s6", "H7")), "General arrangement"))
    assert "interference" in said
    assert any(t.startswith("−0.03") for t in said)


def test_a_part_put_on_turned_end_for_end_has_its_fit() -> None:
    text = shaft_job().replace("from right:", "from left:").replace("rim right of cap on", "rim left of cap on")
    drawing, _, _ = planned(text)
    assembly = drawing.assemblies[0]
    assert assembly.direction["cap"] == -1
    (joint,) = joints_of(assembly, drawing, {})
    assert (joint.hole.feature, joint.shaft.feature) == ("eye", "tail")
    assert joint.greatest_mm == pytest.approx(0.030)
