"""Threads by pointed tool: depths from the standards' own relations, passes of equal area, what is said, and when not."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.records import Operation, PartPlan
from handwheel.plan.route import plan_job
from handwheel.plan.singlepoint import pass_depths
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import Workshop

METRIC = built_in_workshop(Unit.MM)
SCREW = """handwheel: 1
job: Screw
units: mm
parts:
  screw:
    material: free-cutting mild steel
    outside:
      - cylinder: body
      - cylinder: relief
      - {cylinder: nose, thread: THREAD}
    dimensions:
      body diameter: 25
      body length: 20
      relief diameter: RELIEF
      relief length: 4
      nose length: 18
"""
PLAIN = SCREW.replace("      - cylinder: relief\n", "").replace("      relief diameter: RELIEF\n      relief length: 4\n", "")
NUT = """handwheel: 1
job: Nut
units: mm
parts:
  nut:
    material: brass
    outside:
      - cylinder: body
    inside:
      from right:
        - {hole: eye, through: yes, thread: THREAD}
    dimensions:
      body diameter: 28
      overall length: 14
"""
BEHIND = """handwheel: 1
job: Behind
units: mm
parts:
  stud:
    material: free-cutting mild steel
    outside:
      - {cylinder: screw, thread: THREAD}
      - cylinder: neck
      - cylinder: head
    dimensions:
      screw length: 12
      neck diameter: 4
      neck length: 2
      head diameter: 16
      head length: 8
"""
BETWEEN = """handwheel: 1
job: Between
units: mm
parts:
  bobbin:
    material: free-cutting mild steel
    outside:
      - cylinder: big
      - {cylinder: screw, thread: THREAD}
      - cylinder: rim
    dimensions:
      big diameter: 16
      big length: 14
      screw length: 12
      rim diameter: 16
      rim length: 4
"""


def planned(text: str, thread: str, shop: Workshop = METRIC, relief: str = "12") -> PartPlan:
    job, faults = read_job(text.replace("THREAD", thread).replace("RELIEF", relief).encode(), "job.yaml")
    assert job is not None, faults
    drawing = size_job(job)
    assert not drawing.faults, drawing.faults
    return plan_job(drawing, shop).parts[0]


def threading(plan: PartPlan) -> Operation:
    assert not plan.refused, plan.refused
    (found,) = [s.operation for s in plan.stages if s.operation.kind in ("thread", "tap")]
    return found


@pytest.mark.parametrize(("thread", "depth"), [
    ("M16 x 1.5", 17.0 / 24.0 * math.sqrt(3.0) / 2.0 * 1.5),  # ISO 68-1: d less d3 is 17/12 H
    ("M20", 17.0 / 24.0 * math.sqrt(3.0) / 2.0 * 2.5),
    ("3/4 BSW", 0.640327 * 25.4 / 10.0),  # BS 84
])  # fmt: skip
def test_the_depth_is_the_basic_profiles(thread: str, depth: float) -> None:
    (move,) = threading(planned(SCREW, thread)).moves
    share = 1.0
    if move.wheel == "top slide":
        share = math.cos(math.radians(30.0))  # this lathe's slide swings 60 deg, no farther: the half angle itself
    assert move.exact_mm == pytest.approx(depth / share, abs=2e-6)
    assert move.wheel == ("top slide" if thread.startswith("M") else "cross slide")


def test_the_slide_stands_half_a_degree_less_where_it_swings_so_far() -> None:
    shop = replace(METRIC, lathe=replace(METRIC.lathe, top_slide_swivel_deg=90.0))
    operation = threading(planned(SCREW, "M16 x 1.5", shop))
    (angle,) = [s.value for s in operation.settings if s.layer == "slide angle"]
    depth = 17.0 / 24.0 * math.sqrt(3.0) / 2.0 * 1.5
    assert angle == pytest.approx(60.5)
    assert operation.moves[0].exact_mm == pytest.approx(depth / math.cos(math.radians(29.5)), abs=2e-6)


def test_passes_take_equal_areas_and_grow_finer() -> None:
    depths = pass_depths(0.92, 0.25)
    assert depths[-1] == pytest.approx(0.92)
    assert depths[0] <= 0.25
    areas = [d * d - before * before for before, d in zip((0.0, *depths), depths, strict=False)]
    assert areas == pytest.approx([0.92**2 / len(depths)] * len(depths))
    cuts = [d - before for before, d in zip((0.0, *depths), depths, strict=False)]
    assert cuts == sorted(cuts, reverse=True)
    assert 0.92 / math.sqrt(len(depths) - 1) > 0.25  # one pass fewer would begin too deep


def test_the_passes_listed_end_at_the_move() -> None:
    operation = threading(planned(SCREW, "M16 x 1.5"))  # the top slide's wheel: 2 mm a turn, 100 divisions, by halves
    listed = operation.note.split("from the touch: ")[1].split("; then")[0].split("; ")
    lines = [sum(float(Fraction(p)) for p in row.split(" (")[0].split()) for row in listed]
    assert lines[-1] * 0.02 == pytest.approx(operation.moves[0].exact_mm, abs=0.005 + 1e-9)
    assert lines == sorted(lines)
    assert all(abs(n * 0.02 - float(row.split("(")[1].split()[0])) <= 0.0055 for n, row in zip(lines, listed, strict=True))


def test_straight_in_the_passes_are_cuts_of_the_wheel() -> None:
    (move,) = threading(planned(SCREW, "3/4 BSW")).moves
    assert move.cuts is not None
    travels = [p.travel_mm for p in move.cuts.passes]
    assert travels[-2:] == pytest.approx([move.exact_mm] * 2)  # the last again, without more
    assert [p.leaves_mm for p in move.cuts.passes] == pytest.approx([19.05 - 2.0 * t for t in travels])
    assert move.cuts.rough_feed_mm == pytest.approx(2.54)  # ten to the inch


def test_a_die_at_hand_is_preferred() -> None:
    assert threading(planned(SCREW, "M10", relief="7")).cutter.kind == "die"
    assert threading(planned(SCREW, "M16")).why.rule == "single-point"


def test_without_a_leadscrew_the_die_goes_on_the_list() -> None:
    shop = replace(METRIC, lathe=replace(METRIC.lathe, leadscrew_pitch_mm=None))
    assert threading(planned(SCREW, "M16", shop)).cutter.name == "die M16, tailstock die holder"


def test_a_thread_behind_a_head_is_not_for_a_die() -> None:
    operation = threading(planned(BEHIND, "M6"))
    assert operation.why.rule == "single-point"
    assert "a die does not pass over head" in operation.why.text
    fine = planned(BEHIND, "M4")  # too fine for a point, so no way is left
    assert fine.refused or threading(fine).holding.toward_tailstock == "left"


def test_where_the_nut_may_be_closed() -> None:
    def pick_up(thread: str) -> str:
        operation = threading(planned(SCREW, thread))
        return next(s.text for s in operation.settings if s.layer == "pick-up")

    assert "may be closed anywhere: the leadscrew's 3.000 mm is 2 times" in pick_up("M16 x 1.5")
    assert "stays closed" in pick_up("M16")  # 3 mm is not a whole number of times 2 mm
    assert "stays closed" in pick_up("3/4 BSW")


def test_running_out() -> None:
    assert "no groove" not in threading(planned(SCREW, "M16 x 1.5")).note
    assert "no groove to run out into (2.250 mm wide would do)" in threading(planned(PLAIN, "M16 x 1.5")).note
    assert "no groove" in threading(planned(SCREW, "M16 x 1.5", relief="14.5")).note  # shallower than the root, Ø 14.160


def test_a_left_hand_thread_goes_the_other_way_and_wants_its_groove() -> None:
    operation = threading(planned(SCREW, "M16 x 1.5 LH"))
    assert any("fed away from the headstock" in s.text for s in operation.settings)
    assert "starts in the groove" in operation.caution
    without = threading(planned(PLAIN, "M16 x 1.5 LH"))
    assert without.cutter.name == "die M16 x 1.5 LH, tailstock die holder"  # to get: a point has nowhere to start
    assert "has no groove to start in" in planned(BETWEEN, "M12 LH").refused
    assert "a die does not pass over" in threading(planned(BETWEEN, "M12")).why.text


@pytest.mark.parametrize(("screwed", "words"), [
    (True, "No reverse under power: this chuck screws on"), (None, "unless the chuck is locked on"),
    (False, "Stop before reversing")])
def test_no_reverse_on_a_screwed_chuck(screwed: bool | None, words: str) -> None:
    shop = replace(METRIC, lathe=replace(METRIC.lathe, has_screwed_chuck=screwed))
    assert words in threading(planned(SCREW, "M16", shop)).caution


def test_a_nut_without_a_tap_is_cut_from_inside_to_the_basic_major() -> None:
    operation = threading(planned(NUT, "M16 x 1.5"))
    (move,) = operation.moves
    assert (move.wheel, move.way) == ("cross slide", "out")
    assert move.exact_mm == pytest.approx(5.0 / 8.0 * math.sqrt(3.0) / 2.0 * 1.5, abs=2e-6)
    assert threading(planned(NUT, "M12")).kind == "tap"


@pytest.mark.parametrize(("relief", "runs_out"), [("20.6", True), ("19", False)])
def test_a_blind_thread_in_a_cap_runs_out_into_its_groove(relief: str, runs_out: bool) -> None:
    """M20 x 1.5 cut into a bore: the groove comes first, and must be as deep as the basic major."""
    text = NUT.replace("        - {hole: eye, through: yes, thread: THREAD}\n",
                       "        - {bore: eye}\n        - {groove: relief, in: eye}\n"
                       "        - {thread: grip, in: eye, kind: THREAD}\n")  # fmt: skip
    text = text.replace("overall length: 14", "overall length: 24") + (
        f"      eye diameter: 18.38\n      eye depth: 16\n      relief right to eye bottom: 3\n      relief width: 3\n"
        f"      relief diameter: {relief}\n      grip length: 12\n      grip right to right end: 1\n")
    plan = planned(text, "M20 x 1.5")
    operation = threading(plan)
    assert ("no groove" not in operation.note) is runs_out
    kinds = [s.operation.kind for s in plan.stages]
    assert kinds.index("groove") < kinds.index("thread")
    (move,) = operation.moves
    assert move.exact_mm == pytest.approx((20.0 - 18.38) / 2.0)


def test_the_pointed_tool_at_hand_is_taken_for_its_own_angle_only() -> None:
    owned = threading(planned(SCREW, "M16")).cutter
    assert (owned.name, owned.owned) == ("pointed tool", True)
    british = threading(planned(SCREW, "3/4 BSW")).cutter
    assert british.name.startswith("threading tool, 55°")
    assert not british.owned
