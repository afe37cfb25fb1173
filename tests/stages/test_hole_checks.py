"""Checks on holes, each with a planted fault and a clean case; the figures worked by hand."""

import math
from dataclasses import replace

import numpy as np
import pytest

from handwheel.stages.athand import BoringBar, Drilled
from handwheel.stages.case import Case, CheckContext, Finding, LightCut
from handwheel.stages.check_hole import bar_room, boring_bar, bottoming, meets_another
from handwheel.stages.metal import apply, round_bar
from handwheel.stages.records import Bore, Cut, Cutter, Holding, NoCut, Section

DRILL = Cutter("drill 6", "drill", np.zeros((1, 2)))
BAR_TOOL = Cutter("boring bar", "bore", np.zeros((1, 2)))
JAWS = Holding("three-jaw", "three-jaw", 0.0, 25.0, "stock", "right", 25.0, 40.0, 10.0)
CONTEXT = CheckContext("pin", 20, chuck_clearance_mm=2.0, least_grip_mm=10.0, least_grip_share=1.0, free_overhang=3.0,
                       greatest_overhang=4.0)  # fmt: skip
BAR = round_bar(20, 0, 70)
POINT = 3.0 / math.tan(math.radians(59.0))
DRILLED = apply(BAR, Bore(np.array([[50.0 - POINT, 0.0], [50.0, 3.0], [70.0, 3.0]])), DRILL)
HOLE = Drilled("socket", "reamer", mouth_mm=70.0, bottom_mm=50.0, is_blind=True, lead_mm=4.0)


def case(hole: Drilled, cut: Cut, before: Section, cutter: Cutter = DRILL, finished: Section | None = None,
         light: LightCut | None = None) -> Case:
    after = apply(before, cut, cutter)
    return Case(before, after, finished or after, JAWS, cutter, cut, replace(CONTEXT, hole=hole, light=light))


def looked_at(finding: Finding | None) -> Finding:
    assert finding is not None
    return finding


def mirrored(a: Case) -> Case:
    """The same held the other way round, z from right to left about 35."""
    def turn(section: Section) -> Section:
        return Section(np.column_stack([70.0 - section.outer[::-1, 0], section.outer[::-1, 1]]),
                       np.column_stack([70.0 - section.inner[::-1, 0], section.inner[::-1, 1]]))  # fmt: skip

    hole = a.context.hole
    assert hole is not None
    cut = a.cut
    if isinstance(cut, Bore):
        cut = Bore(np.column_stack([70.0 - cut.profile[::-1, 0], cut.profile[::-1, 1]]))
    other = replace(hole, mouth_mm=70.0 - hole.mouth_mm, bottom_mm=70.0 - hole.bottom_mm)
    return Case(turn(a.before), turn(a.after), turn(a.finished), a.holding, a.cutter, cut, replace(a.context, hole=other))


@pytest.mark.parametrize("way", ["right", "left"])
def test_a_reamer_stands_on_the_bottom_with_its_lead(way: str) -> None:
    """Drilled 20 deep to its full diameter; a lead of 4 leaves 16 of full size, and 50 - 1.803 of metal is behind."""
    short = case(HOLE, NoCut(), DRILLED)
    found = looked_at(bottoming(short if way == "right" else mirrored(short)))
    assert found.is_warning
    assert "full size only 16.000 mm deep of 20.000 mm" in found.fault
    assert "drill 4.000 mm deeper" in found.do
    assert f"{50.0 - POINT:.3f} mm of metal behind" in found.do
    deeper = case(replace(HOLE, bottom_mm=54.0), NoCut(), DRILLED)
    assert looked_at(bottoming(deeper if way == "right" else mirrored(deeper))).fault == ""


def test_a_tap_says_how_deep_the_thread_is_full() -> None:
    tap = replace(HOLE, tool="tap", lead_mm=5.0)
    assert "full thread only 15.000 mm deep" in looked_at(bottoming(case(tap, NoCut(), DRILLED))).fault
    assert looked_at(bottoming(case(replace(tap, bottom_mm=55.0), NoCut(), DRILLED))).fault == ""


def test_a_lead_as_long_as_the_hole_is_refused() -> None:
    found = looked_at(bottoming(case(replace(HOLE, lead_mm=20.0), NoCut(), DRILLED)))
    assert found.fault
    assert not found.is_warning
    assert looked_at(bottoming(case(replace(HOLE, lead_mm=19.0), NoCut(), DRILLED))).is_warning


def test_a_lead_that_is_not_known_is_said() -> None:
    found = looked_at(bottoming(case(replace(HOLE, lead_mm=None), NoCut(), DRILLED)))
    assert found.is_warning
    assert "not known" in found.fault


def test_nothing_stops_a_tool_in_a_hole_that_goes_through() -> None:
    assert bottoming(case(replace(HOLE, is_blind=False), NoCut(), DRILLED)) is None


def test_a_drill_ground_to_another_point() -> None:
    """Ø 6: 1.803 long at 118°, 1.243 at 135°, 3 at 90°."""
    cut = Bore(np.array([[50.0 - POINT, 0.0], [50.0, 3.0], [70.0, 3.0]]))
    drill = replace(HOLE, tool="drill", lead_mm=None)
    assert looked_at(bottoming(case(replace(drill, point_deg=118.0), cut, BAR))).fault == ""
    blunt = looked_at(bottoming(case(replace(drill, point_deg=135.0), cut, BAR)))
    assert f"{POINT - 3.0 / math.tan(math.radians(67.5)):.3f} mm shallower" in blunt.fault
    assert blunt.is_warning
    sharp = looked_at(bottoming(case(replace(drill, point_deg=90.0), cut, BAR)))
    assert f"{3.0 - POINT:.3f} mm deeper" in sharp.fault
    assert sharp.is_warning
    assert "not known" in looked_at(bottoming(case(drill, cut, BAR))).fault


def test_a_point_that_would_come_through_is_refused() -> None:
    thin = round_bar(20, 50.0 - POINT - 1.0, 70)  # 1 mm behind the point drawn; 90° reaches 1.197 farther
    cut = Bore(np.array([[50.0 - POINT, 0.0], [50.0, 3.0], [70.0, 3.0]]))
    found = looked_at(bottoming(case(replace(HOLE, tool="drill", point_deg=90.0), cut, thin)))
    assert found.fault
    assert not found.is_warning


BAR_5 = BoringBar("small boring bar", width_mm=6.0, thickness_mm=5.0, reach_mm=32.0)


@pytest.mark.parametrize(("cuts", "way", "room"), [
    (10.0, 10.0, 1.0),  # the bar lies from 4 to 9 on the cutting side: its nose stands 1 out of it
    (3.5, 3.5, 1.0),  # on the axis, 2.5 each way
    (3.0, 3.0, 0.0),  # from -3: its back touches
    (2.8, 2.8, -0.4),  # 6 over all in 5.6
    (8.0, 6.0, -1.0),  # cutting 2 behind its mouth, but the nose stands only 1 out of the bar
    (4.5, 3.6, 0.1),  # bar from -1.5 to 3.5 in a mouth of 3.6
])  # fmt: skip
def test_room_of_a_bar_in_a_bore(cuts: float, way: float, room: float) -> None:
    assert bar_room(BAR_5, cuts, way) == pytest.approx(room, abs=1e-9)


def bored(radius: float, drilled: float, bars: tuple[BoringBar, ...], light: LightCut | None = None,
          depth: float = 18.0) -> Finding:
    before = apply(BAR, Bore(np.array([[70.0 - depth, drilled], [70.0, drilled]])), DRILL)
    hole = Drilled("bore", "boring bar", 70.0, 70.0 - depth, True, bars=bars)
    cut = Bore(np.array([[70.0 - depth, radius], [70.0, radius]]))
    return looked_at(boring_bar(case(hole, cut, before, BAR_TOOL, light=light)))


def test_a_boring_bar_that_rubs_is_refused_and_one_that_fits_is_not() -> None:
    rubs = bored(6.0, 2.8, (BAR_5,))
    assert "0.400 mm outside the bore" in rubs.fault
    assert not rubs.is_warning
    assert bored(6.0, 5.0, (BAR_5,)).fault == ""
    thin = BoringBar("thin", 4.0, 3.5, 30.0)
    assert bored(6.0, 2.8, (BAR_5, thin), depth=14.0).fault == ""  # 14 / 3.5 is 4 to 1
    assert "5.1 to 1" in bored(6.0, 2.8, (thin,)).fault
    tight = bored(6.0, 3.2, (BAR_5,))
    assert "only 0.400 mm" in tight.fault  # 6.4 across, 6 over all
    assert tight.is_warning


def test_a_drill_s_point_that_fills_a_short_hole_is_no_obstacle() -> None:
    """Ø 10 drilled 4 deep to its point, 3.0 long: the bar cuts its own way down the cone."""
    before = apply(BAR, Bore(np.array([[66.0, 0.0], [69.0, 5.0], [70.0, 5.0]])), DRILL)
    cut = Bore(np.array([[66.0, 6.0], [70.0, 6.0]]))
    hole = Drilled("bore", "boring bar", 70.0, 66.0, True, bars=(BAR_5,))
    assert looked_at(boring_bar(case(hole, cut, before, BAR_TOOL))).fault == ""
    # bored out above a point that stays: 16 deep at its full diameter
    before = apply(BAR, Bore(np.array([[51.0, 0.0], [54.0, 5.0], [70.0, 5.0]])), DRILL)
    cut = Bore(np.array([[51.0, 0.0], [54.0, 6.0], [70.0, 6.0]]))
    reaching = replace(hole, bottom_mm=54.0, bars=(replace(BAR_5, reach_mm=16.0),))
    assert looked_at(boring_bar(case(reaching, cut, before, BAR_TOOL))).fault == ""


def test_a_boring_bar_that_does_not_reach_is_refused() -> None:
    assert "reaches 17.000 mm, 18.000 mm wanted" in bored(6.0, 5.0, (replace(BAR_5, reach_mm=17.0),)).fault


def test_a_slender_boring_bar_is_looked_at_as_a_beam() -> None:
    """Ø 5, 30 out, 6 to 1: F·L³/(3·E·I), I = π d⁴/64, and 0.54·(d/L)² of that for shear; twice on the diameter."""
    give = 30.0**3 / (3.0 * 205e3 * math.pi * 5.0**4 / 64.0) * (1.0 + 0.54 * (5.0 / 30.0) ** 2)
    light = LightCut((5.0, 20.0), (10.0, 40.0), 100.0, 205.0, 2 * give * 20.0 + 1e-3, 0.25, 2.0, 8.0, 20.0)
    good = bored(6.0, 5.0, (BAR_5,), light, depth=30.0)
    assert good.is_warning
    assert f"{2 * give * 5.0:.3f} mm to {2 * give * 20.0:.3f} mm on the diameter" in good.fault
    bends = bored(6.0, 5.0, (BAR_5,), replace(light, may_err_mm=2 * give * 20.0 - 1e-3), depth=30.0)
    assert bends.fault
    assert not bends.is_warning
    assert not bored(6.0, 5.0, (BAR_5,), None, depth=30.0).is_warning  # nothing is known of the push: refused
    assert bored(6.0, 5.0, (BAR_5,), None, depth=20.0).fault == ""  # 4 to 1


def test_without_a_boring_bar_it_is_not_known() -> None:
    found = bored(6.0, 5.0, ())
    assert found.is_warning
    assert "not known" in found.fault
    assert "at most 9.500 mm over all" in found.fault  # 10 across, less half a millimetre


def test_a_blind_hole_that_breaks_into_another() -> None:
    """A second hole from the left, Ø 8 and 30 deep; from the right 38.2 deep leaves nothing between."""
    other = apply(BAR, Bore(np.array([[0.0, 4.0], [30.0, 4.0]])), DRILL)
    through = Bore(np.array([[31.8 - POINT, 0.0], [31.8, 3.0], [70.0, 3.0]]))
    short = Bore(np.array([[32.2 - POINT, 0.0], [32.2, 3.0], [70.0, 3.0]]))
    drill = replace(HOLE, tool="drill", bottom_mm=31.8)
    assert "breaks through" in looked_at(meets_another(case(drill, through, other, finished=other))).fault
    assert not looked_at(meets_another(case(drill, through, other, finished=other))).is_warning
    assert looked_at(meets_another(case(drill, through, other))).is_warning  # drawn so
    assert looked_at(meets_another(case(replace(drill, bottom_mm=32.2), short, other))).fault == ""
    assert meets_another(case(replace(drill, is_blind=False), through, other)) is None
