"""Each check on a case with the fault and on one without; the figures worked by hand or by SciPy."""

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import quad

from handwheel.stages.case import Case, CheckContext, LightCut
from handwheel.stages.check_reach import stiff_diameter_mm
from handwheel.stages.checks import CHECKED, CHECKS, run_checks
from handwheel.stages.metal import apply, round_bar
from handwheel.stages.records import (
    Bore,
    CheckResult,
    Cut,
    Cutter,
    Holding,
    NoCut,
    Section,
    Sweep,
    Swing,
    Truncate,
)

KNIFE = Cutter("knife tool", "knife", np.array([[0, 0], [1, 0], [6, 2], [6, 12], [0, 12]], dtype=float))
BIT = Cutter("ball bit", "ball tool", np.array([[0, 0], [-2, 6], [2, 6]], dtype=float))
BLADE = Cutter("parting tool", "parting", np.array([[0, 0], [2, 0], [2, 15], [0, 15]], dtype=float))
DRILL = Cutter("drill", "drill", np.zeros((1, 2)))
JAWS = Holding("three-jaw", "three-jaw", 0.0, 25.0, "stock", "right", 25.0, device_radius_mm=40.0, grip_radius_mm=10.0)
CONTEXT = CheckContext("pin", 20, chuck_clearance_mm=2.0, least_grip_mm=10.0, least_grip_share=1.0,
                       free_overhang=3.0, greatest_overhang=4.0, swing_beyond_tip_mm=8.0,
                       ball_ranges_mm=((3.0, 9.0), (12.0, 20.0)), tool_reach_mm=12.0)
BAR = round_bar(20, 0, 70)


def turning(z: float, radius: float, end: float = 72.0) -> Sweep:
    return Sweep(np.array([[end, radius], [z, radius], [z, 11.0]]))


def found(cut: Cut, cutter: Cutter = KNIFE, finished: Section | None = None, holding: Holding = JAWS,
          context: CheckContext = CONTEXT, before: Section = BAR) -> dict[str, CheckResult]:
    after = apply(before, cut, cutter)
    target = after if finished is None else finished
    return {r.check: r for r in run_checks(before, after, target, holding, cutter, cut, context)}


def faults(**case: object) -> set[str]:
    return {name for name, result in found(**case).items() if result.is_fault}  # type: ignore[arg-type]


def flipped(holding: Holding) -> Holding:
    other = "left" if holding.toward_tailstock == "right" else "right"
    return replace(holding, from_mm=-holding.to_mm, to_mm=-holding.from_mm, face_mm=-holding.face_mm,
                   toward_tailstock=other, centre_mm=None if holding.centre_mm is None else -holding.centre_mm)


def turned_round(section: Section) -> Section:
    return Section(section.outer[::-1] * [-1, 1], section.inner[::-1] * [-1, 1])


def test_good_turning_has_no_fault_and_says_what_was_looked_at() -> None:
    results = found(turning(40, 8.0))
    assert not any(r.is_fault for r in results.values())
    assert {"cut into the part", "metal before and after", "metal cut in the grip", "something to grip",
            "clear of the chuck", "overhang", "shank", "nose in a corner"} == set(results)
    assert all(r.part == "pin" and r.operation == 20 for r in results.values())
    names = [line.partition(":")[0] for line in CHECKED]
    assert len(names) == len(set(names))
    assert names[:len(CHECKS)] == [check.name for check in CHECKS]


def test_cut_into_the_part_by_the_edge() -> None:
    result = found(turning(40, 8.0), finished=apply(BAR, turning(40, 8.25), KNIFE))["cut into the part"]
    assert result.is_fault
    assert "knife tool cuts 0.250 mm into the finished part" in result.found
    assert result.do


def test_cut_into_the_part_by_the_flank() -> None:
    # the knife's trailing edge rises 2 mm in 5: behind the groove at 50 stands a collar that it cannot clear
    finished = apply(BAR, Sweep(np.array([[50.0, 5.0], [51.0, 5.0]])), BLADE)
    cut = Sweep(np.array([[50.0, 12.0], [50.0, 5.0]]))
    assert "cut into the part" in faults(cut=cut, finished=finished)
    assert "cut into the part" not in faults(cut=cut, cutter=BLADE, finished=finished)


def test_stock_too_small_is_not_blamed_on_the_tool() -> None:
    result = found(NoCut(), finished=round_bar(21, 0, 70))["cut into the part"]
    assert result.is_fault
    assert "already" in result.found


def test_metal_does_not_grow() -> None:
    results = run_checks(BAR, round_bar(20.2, 0, 70), BAR, JAWS, KNIFE, NoCut(), CONTEXT)
    grown = next(r for r in results if r.check == "metal before and after")
    assert "0.100 mm" in grown.found


def test_cut_in_the_grip() -> None:
    assert "metal cut in the grip" in faults(cut=turning(24, 8.0))
    assert "metal cut in the grip" not in faults(cut=turning(30, 8.0))
    assert "metal cut in the grip" in faults(cut=Truncate(10, 70))
    assert "metal cut in the grip" not in faults(cut=Truncate(-1, 68))
    assert "metal cut in the grip" not in faults(cut=Truncate(40, 70), cutter=BLADE)


def test_a_hole_behind_the_jaws_is_a_fault_unless_allowed() -> None:
    deep = Bore(np.array([[20.0, 3.0], [71.0, 3.0]]))
    assert "metal cut in the grip" in faults(cut=deep, cutter=DRILL)
    allowed = replace(CONTEXT, may_bore_in_grip=True)
    assert "metal cut in the grip" not in faults(cut=deep, cutter=DRILL, context=allowed)
    shallow = Bore(np.array([[26.0, 3.0], [71.0, 3.0]]))
    assert "metal cut in the grip" not in faults(cut=shallow, cutter=DRILL)


def test_on_a_mandrel_the_outside_may_be_cut_over_the_grip() -> None:
    bored = apply(BAR, Bore(np.array([[-1.0, 4.0], [71.0, 4.0]])), DRILL)
    mandrel = Holding("stub mandrel", "stub mandrel", 0.0, 30.0, "bore", "right", -5.0, grip_radius_mm=4.0)
    assert faults(cut=Sweep(np.array([[72.0, 9.0], [0.0, 9.0]])), before=bored, holding=mandrel) == set()
    assert "metal cut in the grip" in faults(cut=Bore(np.array([[10.0, 5.0], [71.0, 5.0]])), before=bored,
                                             holding=mandrel, cutter=DRILL)


@pytest.mark.parametrize(("holding", "words"), [
    (replace(JAWS, to_mm=0.0), "nothing is gripped"),
    (replace(JAWS, from_mm=-5.0), "past the end"),
    (replace(JAWS, to_mm=15.0), "only 15.000 mm is gripped, 20.000 mm wanted"),
])
def test_nothing_to_grip(holding: Holding, words: str) -> None:
    assert words in found(turning(40, 8.0), holding=holding)["something to grip"].found


def test_no_grip_on_a_step_a_taper_or_a_thread() -> None:
    stepped = apply(BAR, Sweep(np.array([[-7.0, 8.0], [5.0, 8.0]])), Cutter("k", "k", KNIFE.outline * [-1, 1]))
    assert "∅ 16.000 mm to ∅ 20.000 mm" in found(turning(40, 8.0), before=stepped)["something to grip"].found
    taper = apply(BAR, Sweep(np.array([[0.0, 9.9], [25.0, 10.0]])), BLADE)
    assert "something to grip" in faults(cut=turning(40, 8.0), before=taper)
    threaded = replace(CONTEXT, not_to_grip=((20.0, 30.0, "the thread"),))
    assert "the thread" in found(turning(40, 8.0), context=threaded)["something to grip"].found
    beyond = replace(CONTEXT, not_to_grip=((25.0, 30.0, "the thread"),))
    assert not found(turning(40, 8.0), context=beyond)["something to grip"].is_fault


def test_ball_collet_must_reach_past_the_centre() -> None:
    ball = apply(apply(round_bar(20, 0, 60), Swing(10, 9.5, 60, 180), BIT), turning(16, 4.0), KNIFE)
    collet = Holding("ball collet", "ball collet", 3.0, 13.0, "hub", "right", 14.0)
    assert not found(turning(40, 3.0, 62), before=ball, holding=collet)["something to grip"].is_fault
    short = replace(collet, to_mm=9.0, face_mm=9.0)
    assert found(turning(40, 3.0, 62), before=ball, holding=short)["something to grip"].is_fault


def test_cutter_clear_of_the_chuck() -> None:
    assert not found(turning(27.1, 8.0))["clear of the chuck"].is_fault
    assert "within 1.500 mm" in found(turning(26.5, 8.0))["clear of the chuck"].found
    # a flank leaning over the chuck is only in its way as high as the chuck: 2 mm along for 4 of height, to r 12
    leaning = Cutter("left-hand knife", "knife", np.array([[0, 0], [1, 0], [-9, 20], [-10, 20]], dtype=float))
    low = replace(JAWS, device_radius_mm=12.0)
    assert "within 1.000 mm" in found(turning(28, 8.0), cutter=leaning, holding=low)["clear of the chuck"].found
    assert "goes 7.000 mm past" in found(turning(28, 8.0), cutter=leaning)["clear of the chuck"].found


def test_what_swings_clear_of_the_chuck() -> None:
    # to level: radius 8 and 8 beyond the tip need the centre 18 from the face
    assert not found(Swing(43.0, 8.0, 0, 180), cutter=DRILL)["clear of the chuck"].is_fault
    assert found(Swing(42.9, 8.0, 0, 180), cutter=DRILL)["clear of the chuck"].is_fault
    # stopped 60 degrees short of level, half as much
    assert not found(Swing(35.0, 8.0, 0, 120), cutter=DRILL)["clear of the chuck"].is_fault
    assert found(Swing(34.9, 8.0, 0, 120), cutter=DRILL)["clear of the chuck"].is_fault
    wide = replace(CONTEXT, swing_width_mm=6.0)
    assert found(Swing(37.9, 8.0, 0, 120), cutter=DRILL, context=wide)["clear of the chuck"].is_fault
    unknown = found(Swing(50.0, 8.0, 0, 120), cutter=DRILL, context=replace(CONTEXT, swing_beyond_tip_mm=None))
    assert unknown["clear of the chuck"].is_warning
    assert "not known" in unknown["clear of the chuck"].found


def test_overhang_warns_then_refuses_then_wants_a_centre() -> None:
    long = round_bar(20, 0, 200)
    near, far = found(turning(80, 9.99, 85), before=long), found(turning(88, 9.99, 105), before=long)
    assert not near["overhang"].is_fault
    # the knife cuts 5 mm and more to the right of where it is set, so its far end counts
    assert "light cuts" in near["overhang"].do
    assert "without a centre" in found(turning(140, 9.9, 170), before=long)["overhang"].found
    assert far["overhang"].is_fault
    centred = replace(JAWS, centre_mm=200.0)
    assert not found(turning(140, 9.9, 170), before=long, holding=centred)["overhang"].is_fault
    strict = replace(CONTEXT, greatest_with_centre=6.0)
    assert found(turning(140, 9.9, 170), before=long, holding=centred, context=strict)["overhang"].is_fault
    assert "overhang" not in found(Bore(np.array([[180.0, 3.0], [201.0, 3.0]])), cutter=DRILL, before=long)


def test_beyond_the_habit_bending_decides_as_a_range() -> None:
    """A plain bar of Ø 20 cut from 105 mm out to 125: F L³/(3 E I) each way of the tool, with 0.54·(d/L)² of that for
    shear; twice on the diameter."""
    long = round_bar(20, 0, 200)
    length = 125.0 - 25.0
    give = length**3 / (3 * 205e3 * np.pi * 20.0**4 / 64) * (1.0 + 0.54 * (20.0 / length) ** 2)
    light = LightCut((5.0, 20.0), (10.0, 40.0), 1000.0, 205.0, 0.05, 0.25, 2.0, 8.0, 20.0)
    cut = Sweep(np.array([[125.0, 9.995], [105.0, 9.995]]))
    tip = Cutter("tip", "knife", np.zeros((1, 2)))

    def looked_at(known: LightCut | None) -> CheckResult:
        return found(cut, tip, before=long, context=replace(CONTEXT, light=known))["overhang"]

    assert looked_at(None).is_fault  # 5 to 1, and nothing is known
    good = looked_at(light)
    assert not good.is_fault
    assert f"{2 * give * 5:.3f} mm to {2 * give * 20:.3f} mm on the diameter" in good.found
    # roughing may put 0.25 mm on the diameter, 1000 N for each mm of depth: d off it is d/2 deep, 2·give·1000·d/2 = 0.25
    assert f"no more than {0.25 / (give * 1000.0):.3f} mm off" in good.do
    assert 0.25 / (give * 1000.0) < 2.0
    assert looked_at(replace(light, may_err_mm=2 * give * 20 - 1e-4)).is_fault
    assert not looked_at(replace(light, may_err_mm=2 * give * 20 + 1e-4)).is_fault
    assert looked_at(replace(light, farthest=length / 20 - 0.01)).is_fault
    parted = Truncate(0.0, 125.0)
    assert found(parted, BLADE, before=long, context=replace(CONTEXT, light=light))["overhang"].is_fault


def test_a_travelling_steady_carries_plain_turning_only() -> None:
    long = round_bar(20, 0, 400)
    steadied = replace(JAWS, centre_mm=400.0, has_steady=True)
    strict = replace(CONTEXT, greatest_with_centre=6.0)
    assert not found(turning(340, 9.9, 370), before=long, holding=steadied, context=strict)["overhang"].is_fault
    assert found(Swing(360.0, 9.0, 0, 120), cutter=DRILL, before=long, holding=steadied, context=strict)["overhang"].is_fault


def test_stiff_diameter_of_plain_stepped_hollow_and_tapered_bars() -> None:
    assert stiff_diameter_mm(round_bar(12, -5, 90), 0, 60) == pytest.approx(12.0, rel=1e-12)
    stepped = apply(round_bar(20, 0, 60), Sweep(np.array([[20.0, 5.0], [70.0, 5.0]])), BLADE)
    # pushed at 60: 20 mm of d 20 beyond 40 mm of d 10: (40^3/3)/10^4 + (60^3 - 40^3)/3/20^4 = 60^3/(3 d^4)
    expected = (60**3 / (40**3 / 10**4 + (60**3 - 40**3) / 20**4)) ** 0.25
    assert stiff_diameter_mm(stepped, 0, 60) == pytest.approx(expected, rel=1e-9)
    hollow = apply(round_bar(20, 0, 60), Bore(np.array([[0.0, 8.0], [60.0, 8.0]])), DRILL)
    assert stiff_diameter_mm(hollow, 0, 60) == pytest.approx((20**4 - 16**4) ** 0.25, rel=1e-12)
    taper = apply(round_bar(20, 0, 60), Sweep(np.array([[0.0, 10.0], [60.0, 4.0]])), Cutter("p", "p", np.zeros((1, 2))))
    bend = quad(lambda z: (60 - z) ** 2 / (20 - 0.2 * z) ** 4, 0, 60)[0]
    assert stiff_diameter_mm(taper, 0, 60) == pytest.approx((60**3 / (3 * bend)) ** 0.25, rel=1e-6)


def test_parting_reach() -> None:
    part_off = Truncate(40, 70)
    assert not found(part_off, cutter=BLADE)["parting reach"].is_fault
    short = found(part_off, cutter=BLADE, context=replace(CONTEXT, tool_reach_mm=9.0))["parting reach"]
    assert "reaches 9.000 mm, 10.000 mm wanted" in short.found
    unknown = found(part_off, cutter=BLADE, context=replace(CONTEXT, tool_reach_mm=None))["parting reach"]
    assert unknown.is_warning
    assert not unknown.is_fault
    assert "not known" in unknown.found
    bored = apply(BAR, Bore(np.array([[-1.0, 4.0], [71.0, 4.0]])), DRILL)
    assert not found(part_off, cutter=BLADE, before=bored,
                     context=replace(CONTEXT, tool_reach_mm=6.5))["parting reach"].is_fault
    groove = Sweep(np.array([[40.0, 11.0], [40.0, 2.0]]))
    assert found(groove, cutter=BLADE, context=replace(CONTEXT, tool_reach_mm=7.5))["parting reach"].is_fault
    assert "parting reach" not in found(turning(40, 8.0))


def test_ball_tool_range() -> None:
    assert not found(Swing(50, 9.0, 0, 120))["ball tool's range"].is_fault
    assert "9.500 mm is outside" in found(Swing(50, 9.5, 0, 120))["ball tool's range"].found


def test_room_for_the_bit_needs_a_relief_behind_the_ball() -> None:
    name = "room for the ball tool's bit"
    relieved = apply(BAR, Sweep(np.array([[34.0, 11.0], [34.0, 4.5], [46.0, 4.5]])), BLADE)
    done = apply(relieved, Swing(55, 9, 0, 150), BIT)
    assert "relief" in found(Swing(55, 9.0, 0, 150), cutter=BIT, finished=done)[name].do
    # neck at 150 degrees: r 4.5; the bit's own 18.4 degree flank then needs, to bar height, about 11.5 mm of relief
    assert not found(Swing(55, 9.0, 0, 150), cutter=BIT, before=relieved)[name].is_fault
    # a blunt bit, 45 degrees a side against a neck at 30, digs into the neck itself
    blunt = Cutter("blunt bit", "ball tool", np.array([[0, 0], [-6, 6], [6, 6]], dtype=float))
    assert "finished part" in found(Swing(55, 9.0, 0, 150), cutter=blunt, before=relieved)[name].found


def test_nothing_left_at_the_end() -> None:
    last = replace(CONTEXT, is_last=True)
    finished = apply(BAR, turning(40, 8.0), KNIFE)
    assert found(turning(40, 8.0), context=last)["nothing left"].found == "no fault"
    left = found(turning(45, 8.0), finished=finished, context=last)["nothing left"]
    assert "2.000 mm of metal is left" in left.found
    said = replace(last, left_over=((39.0, 45.5, "fillet"),))
    assert not found(turning(45, 8.0), finished=finished, context=said)["nothing left"].is_fault
    assert "nothing left" in faults(cut=NoCut(), finished=round_bar(20, 0, 68), context=last)
    tip = replace(last, left_over=((68.0, 70.0, "centre stub"),))
    assert "nothing left" not in faults(cut=NoCut(), finished=round_bar(20, 0, 68), context=tip)
    assert "nothing left" not in found(turning(45, 8.0), finished=finished)


def test_off_the_lathe_there_is_no_grip_to_check() -> None:
    bench = replace(CONTEXT, revolves=False)
    assert set(found(NoCut(), holding=replace(JAWS, to_mm=0.0), context=bench)) == {
        "cut into the part", "metal before and after"}


def test_inch_workshop_is_told_in_inches() -> None:
    inch = replace(CONTEXT, in_inches=True)
    result = found(turning(40, 8.0), finished=apply(BAR, turning(40, 8.254), KNIFE), context=inch)["cut into the part"]
    assert "0.0100 in into" in result.found


@pytest.mark.parametrize(("cut", "cutter"), [
    (turning(40, 8.0), KNIFE), (turning(24, 8.0), KNIFE), (turning(26.5, 8.0), KNIFE),
    (Swing(42.9, 8.0, 0, 180), DRILL),
    (Swing(34.9, 8.0, 0, 120), BIT), (Swing(55, 9.0, 0, 150), BIT), (Truncate(0, 65), KNIFE), (turning(65, 2.0), KNIFE),
])
def test_mirror_image_has_the_same_findings(cut: Cut, cutter: Cutter) -> None:
    finished = apply(BAR, turning(40, 7.5), KNIFE)
    after = apply(BAR, cut, cutter)
    if isinstance(cut, Sweep):
        back: Cut = Sweep(cut.path * [-1, 1])
    elif isinstance(cut, Swing):
        back = Swing(-cut.centre, cut.radius, 180 - cut.from_deg, 180 - cut.to_deg)
    else:
        assert isinstance(cut, Truncate)
        back = Truncate(-cut.right, -cut.left)
    tool = replace(cutter, outline=cutter.outline * [-1, 1])
    straight = run_checks(BAR, after, finished, JAWS, cutter, cut, CONTEXT)
    sections = (turned_round(section) for section in (BAR, after, finished))
    other = run_checks(*sections, flipped(JAWS), tool, back, CONTEXT)
    assert [(r.check, r.is_fault) for r in straight] == [(r.check, r.is_fault) for r in other]
    assert apply(turned_round(BAR), back, tool).outer == pytest.approx(turned_round(after).outer, abs=1e-9)


def test_each_check_gives_one_line_or_none() -> None:
    cut = turning(40, 8.0)
    case = Case(BAR, apply(BAR, cut, KNIFE), BAR, JAWS, KNIFE, cut, CONTEXT)
    given = [check.result(case) for check in CHECKS]
    assert sum(result is not None for result in given) == len(run_checks(*(getattr(case, n) for n in (
        "before", "after", "finished", "holding", "cutter", "cut", "context"))))


def test_the_guide_has_a_line_for_each_check() -> None:
    guide = (Path(__file__).parents[2] / "docs" / "checks.md").read_text(encoding="utf-8")
    listed = [line.partition("|")[2].partition("|")[0].strip() for line in guide.splitlines() if line.startswith("| ")]
    names = {name for cell in listed for name in re.split(r", room for its bit", cell)}
    assert {c.name for c in CHECKS} - names == {"room for the ball tool's bit"}


def test_a_ball_is_held_in_no_jaws() -> None:
    ball = apply(round_bar(20, 0, 60), Swing(10, 9.5, 60, 180), BIT)
    jaws = replace(JAWS, from_mm=2.0, to_mm=18.0, face_mm=18.0)
    assert "not one diameter" in found(turning(40, 8.0, 62), before=ball, holding=jaws)["something to grip"].found
