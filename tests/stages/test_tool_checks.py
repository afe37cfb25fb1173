"""Checks on the tool beside its cutting end, each with a planted fault and a clean case; figures by hand and by shapely."""

import math
from dataclasses import replace

import numpy as np
import pytest
from shapely import Polygon
from shapely.affinity import translate

from handwheel.stages.athand import Threaded
from handwheel.stages.case import Case, CheckContext, Finding
from handwheel.stages.check_tool import blade, clear_of_centre, die_at_shoulder, nose_in_corner, rides_on_corner, shank
from handwheel.stages.metal import apply, round_bar
from handwheel.stages.records import Bore, Cut, Cutter, Holding, NoCut, Section, Sweep, Truncate

KNIFE = Cutter("knife tool", "knife", np.array([[0, 0], [8, 4.6], [8, 12], [0, 12]], dtype=float))
BLADE = Cutter("parting tool", "parting", np.array([[0, 0], [2, 0], [2, 15], [0, 15]], dtype=float))
DRILL = Cutter("drill", "drill", np.zeros((1, 2)))
JAWS = Holding("three-jaw", "three-jaw", 0.0, 25.0, "stock", "right", 25.0, 40.0, 10.0)
CONTEXT = CheckContext("pin", 20, chuck_clearance_mm=2.0, least_grip_mm=10.0, least_grip_share=1.0, free_overhang=3.0,
                       greatest_overhang=4.0, nose_radius_mm=0.0)  # fmt: skip
BAR = round_bar(20, 0, 70)


def turning(z: float, radius: float, end: float = 71.0) -> Sweep:
    return Sweep(np.array([[end, radius], [z, radius], [z, 11.0]]))


def case(cut: Cut, cutter: Cutter = KNIFE, before: Section = BAR, context: CheckContext = CONTEXT,
         holding: Holding = JAWS, finished: Section | None = None) -> Case:
    after = apply(before, cut, cutter)
    return Case(before, after, finished or after, holding, cutter, cut, context)


def looked_at(finding: Finding | None) -> Finding:
    assert finding is not None
    return finding


def test_a_nose_leaves_its_radius_in_a_sharp_corner() -> None:
    cut = turning(40.0, 8.0)
    assert looked_at(nose_in_corner(case(cut))).fault == ""
    found = looked_at(nose_in_corner(case(cut, context=replace(CONTEXT, nose_radius_mm=0.4))))
    assert found.is_warning
    assert "R 0.400 mm in the corner at 40.000 mm from" in found.fault
    unknown = looked_at(nose_in_corner(case(cut, context=replace(CONTEXT, nose_radius_mm=None))))
    assert unknown.is_warning
    assert "not known" in unknown.fault
    # a plain cylinder to the chuck's side has no corner, nor has one that is cut already
    assert nose_in_corner(case(cut, finished=apply(BAR, Truncate(0, 40), KNIFE))) is None
    again = case(turning(45.0, 8.0), before=apply(BAR, cut, KNIFE))
    assert nose_in_corner(again) is None


def test_a_nose_does_not_get_into_a_tighter_hollow() -> None:
    cut = Sweep(np.array([[60.0, 8.0], [50.0, 7.9]]))
    for nose, is_wrong in ((1.0, False), (1.5, False), (1.6, True)):
        context = replace(CONTEXT, nose_radius_mm=nose, hollows_mm=((1.5, "root"), (4.0, "waist")))
        found = looked_at(nose_in_corner(case(cut, context=context, finished=round_bar(16, 0, 70))))
        assert bool(found.fault) is is_wrong
        assert not found.is_warning
    assert "root, R 1.500 mm" in found.fault


def test_a_slope_of_many_chords_has_no_corner() -> None:
    angles = np.radians(np.linspace(180.0, 270.0, 91))
    fillet = np.column_stack([60.0 + 5.0 * np.cos(angles), 10.0 + 5.0 * np.sin(angles)])
    finished = Section(np.vstack([[0.0, 10.0], fillet, [70.0, 5.0]]), np.array([[0.0, 0.0], [70.0, 0.0]]))
    cut = Sweep(np.vstack([[71.0, 5.0], fillet[::-1]]))
    done = case(cut, replace(BLADE, outline=np.array([[0, 0], [1, 0], [1, 15], [0, 15]], dtype=float)),
                finished=finished, context=replace(CONTEXT, nose_radius_mm=0.4))  # fmt: skip
    assert float(done.after.outer[:, 1].min()) == pytest.approx(5.0)
    assert nose_in_corner(done) is None
    sharp = Section(np.array([[0.0, 10.0], [60.0, 10.0], [60.0, 5.0], [70.0, 5.0]]), finished.inner)
    assert looked_at(nose_in_corner(replace(done, after=sharp, finished=sharp))).fault


def test_the_shank_meets_a_flange_that_its_reach_does_not_clear() -> None:
    """At r 5 beside a flange of r 20, a tool reaching 12 with its shank over the flange: by shapely 3 of it is met."""
    flange = Section(np.array([[0.0, 20.0], [50.0, 20.0], [50.0, 5.0], [62.0, 5.0], [62.0, 20.0], [70.0, 20.0]]),
                     np.array([[0.0, 0.0], [70.0, 0.0]]))  # fmt: skip
    wide = Cutter("wide tool", "pointed", np.array([[0, 0], [-4, 7], [-4, 12], [4, 12], [4, 7]], dtype=float))
    metal = Polygon([(62.0, 0.0), (70.0, 0.0), (70.0, 20.0), (62.0, 20.0)])
    box = Polygon([(-4, 12), (4, 12), (4, 99), (-4, 99)])

    def at(z: float, cutter: Cutter = wide, context: CheckContext = CONTEXT) -> Finding:
        cut = Sweep(np.array([[z, 21.0], [z, 5.0]]))
        return looked_at(shank(Case(flange, flange, flange, JAWS, cutter, cut, context)))

    met = metal.intersection(translate(box, 59.5, 5.0)).bounds
    assert f"{met[3] - met[1]:.3f} mm of metal" in at(59.5).fault
    assert met[3] - met[1] == pytest.approx(3.0)
    assert not at(59.5).is_warning
    assert metal.intersection(translate(box, 57.9, 5.0)).is_empty
    assert at(57.9).is_warning  # beside it: what the shank is there is not known
    assert at(59.5, replace(wide, outline=wide.outline * [1, 2])).fault == ""  # reaching 24
    assert "6.000 mm of metal" in at(59.5, context=replace(CONTEXT, tool_reach_mm=9.0)).fault


def test_a_shank_that_may_be_wider_than_its_point_is_said() -> None:
    """A collar of r 20 stands 0 to 6 beside the knife, 15 above its point; it reaches 12."""
    before = round_bar(40, 0, 70)
    near = looked_at(shank(case(Sweep(np.array([[71.0, 5.0], [50.0, 5.0]])), before=before)))
    assert near.is_warning
    assert "not known" in near.fault
    assert "3.000 mm higher" in near.fault
    assert looked_at(shank(case(Sweep(np.array([[71.0, 8.5], [50.0, 8.5]])), before=before))).fault == ""


CENTRED = apply(BAR, Bore(np.array([[66.0, 0.0], [66.0, 0.5], [67.0, 0.5], [70.0, 2.0]])), DRILL)
WITH_CENTRE = replace(JAWS, centre_mm=70.0)


@pytest.mark.parametrize(("radius", "into"), [(2.05, 0.0), (1.9, 0.1)])
def test_a_cutter_against_the_centre(radius: float, into: float) -> None:
    """The hole's mouth is r 2; where the knife's edge starts, at the end, the point is as thick. From there it widens by
    0.577 for each mm, the knife's own edge rises 4.6 in 8: 0.575."""
    found = looked_at(clear_of_centre(case(turning(40.0, radius), before=CENTRED, holding=WITH_CENTRE)))
    at_8 = 2.0 + 8.0 * math.tan(math.radians(30.0)) - radius - 4.6
    worst = max(2.0 - radius, at_8)
    if into == 0.0:
        assert worst < 0.0
        assert found.fault == ""
    else:
        assert f"{worst:.3f} mm into the centre" in found.fault
        assert not found.is_warning


def test_no_centre_no_check_and_a_hollow_one_is_not_known() -> None:
    assert clear_of_centre(case(turning(40.0, 8.0))) is None
    found = looked_at(clear_of_centre(case(turning(40.0, 8.0), holding=WITH_CENTRE)))  # no hole in the end: a cup
    assert found.is_warning
    assert "not known" in found.fault


def test_a_blade_too_long_for_its_width_and_too_far_out() -> None:
    near = replace(JAWS, face_mm=35.0)
    assert looked_at(blade(case(Truncate(40, 70), BLADE, holding=near))).fault == ""
    thin = replace(BLADE, outline=BLADE.outline * [0.45, 1])  # 0.9 wide, 10 out
    found = looked_at(blade(case(Truncate(40, 70), thin, holding=near)))
    assert "0.900 mm wide stands out 10.000 mm" in found.fault
    assert found.is_warning
    far = looked_at(blade(case(Truncate(46, 70), BLADE)))  # 21 from the jaws, Ø 20
    assert "parted 21.000 mm from the jaws" in far.fault
    assert looked_at(blade(case(Truncate(45, 70), BLADE))).fault == ""
    assert blade(case(turning(40.0, 8.0))) is None


HOLE_6 = 6.0


@pytest.mark.parametrize(("corner", "along", "up", "stands"), [
    (0.4, 0.5, 0.5, 0.0),  # the chamfer is larger than the corner
    (0.5, 0.5, 0.5, 0.0),
    (0.5, 0.0, 0.0, 0.5),  # no chamfer: the whole corner
    (0.5, 0.5, 0.3, 0.2),  # 0.5 along, 0.3 up: 0.2 of the corner stands out at the face
    (0.5, 0.2, 0.5, 0.5 - math.sqrt(0.25 - 0.09)),  # at 0.2 deep the rounding is 0.5 - √(0.5² - 0.3²) high: 0.1
])  # fmt: skip
def test_corner_against_the_chamfer_of_a_hole(corner: float, along: float, up: float, stands: float) -> None:
    hole = np.array([[0.0, HOLE_6 + up], [along, HOLE_6], [20.0, HOLE_6]]) if along else np.array([[0.0, 6.0], [20.0, 6.0]])
    assert rides_on_corner(corner, HOLE_6, hole) == pytest.approx(stands, abs=1e-9)


def test_clearance_counts_and_a_press_fit_does_not() -> None:
    plain = np.array([[0.0, 6.0], [20.0, 6.0]])
    assert rides_on_corner(0.5, 5.9, plain) == pytest.approx(0.4, abs=1e-9)
    assert rides_on_corner(0.5, 5.5, plain) == 0.0
    chamfered = np.array([[0.0, 6.5], [0.5, 6.0], [20.0, 6.0]])
    assert rides_on_corner(0.4, 6.02, chamfered) == 0.0  # 0.02 of interference is the fit's own
    assert rides_on_corner(0.0, 6.0, plain) == 0.0


STEPPED = Section(np.array([[0.0, 10.0], [50.0, 10.0], [50.0, 4.0], [70.0, 4.0]]), np.array([[0.0, 0.0], [70.0, 0.0]]))


def threaded(finished: Section, end: float, lead: float | None, cutter: str = "die", holding: Holding = JAWS) -> Finding | None:
    context = replace(CONTEXT, threaded=Threaded("tail", end, 70.0, 4.0, lead))
    tool = Cutter("die M8", cutter, np.zeros((0, 2)))
    return die_at_shoulder(Case(finished, finished, finished, holding, tool, NoCut(), context))


def test_a_die_stops_its_lead_short_of_a_shoulder() -> None:
    found = looked_at(threaded(STEPPED, 50.0, 2.5))
    assert found.is_warning
    assert "2.500 mm short of the shoulder" in found.fault
    assert "not known" in looked_at(threaded(STEPPED, 50.0, None)).fault
    grooved = Section(np.array([[0.0, 10.0], [48.0, 10.0], [48.0, 3.0], [50.0, 3.0], [50.0, 4.0], [70.0, 4.0]]), STEPPED.inner)
    assert looked_at(threaded(grooved, 50.0, 2.5)).fault == ""
    assert looked_at(threaded(STEPPED, 54.0, 2.5)).fault == ""  # 4 of plain shank before the shoulder
    assert looked_at(threaded(STEPPED, 51.0, 2.5)).is_warning  # 1: the die's lead wants 2.5
    assert threaded(STEPPED, 50.0, 2.5, "thread tool") is None
    # held by the thread's own end: its die comes from the left, nothing in its way at 70
    other = replace(JAWS, from_mm=0.0, to_mm=0.0, toward_tailstock="left")
    assert looked_at(threaded(STEPPED, 50.0, 2.5, holding=other)).fault == ""
