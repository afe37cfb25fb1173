"""Blind tapped holes: the drill's further readings by the tap that finishes them, by sums written out here.

M6 in a hole 9 deep: full diameter to 9 + lead + two pitches; the point is d / (2 tan 59 deg) more, d the basic minor diameter.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.records import Operation, Plan
from handwheel.readings.of import readings_of
from handwheel.workshop.read import read_workshop
from handwheel.workshop.records import Workshop

from .test_route_rules import METRIC, planned
from .test_threads_and_joints import CAP

MINOR = 6.0 - 1.25 * math.sqrt(3.0) / 2.0
POINT = MINOR / 2.0 / math.tan(math.radians(59.0))


def cap(long: float, shop: Workshop = METRIC, **change: str) -> tuple[Plan, Operation, Operation]:
    text = CAP.replace("LONG", f"{long:g}")
    for old, new in change.items():
        text = text.replace({"thread": "thread: M6", "hole": "depth: 9"}[old], new)
    plan = planned(text, shop)
    assert not plan.parts[0].refused, plan.parts[0].refused
    found = {s.operation.kind: s.operation for s in plan.parts[0].stages}
    return plan, found["drill"], found["tap"]


def owning(**leads: float) -> Workshop:
    tools = tuple(replace(t, leads=tuple(leads.items())) if t.kind == "tap" else t for t in METRIC.round_tools)
    return replace(METRIC, round_tools=tools)


def with_chuck(screwed: bool | None) -> Workshop:
    return replace(METRIC, lathe=replace(METRIC.lathe, has_screwed_chuck=screwed))


def test_the_first_row_is_the_drawn_depth_and_the_others_go_on_from_the_same_zero() -> None:
    """The built-in workshop's taps have a lead of 4 threads; a bottoming tap has 1 1/2 by common practice."""
    plan, drill, _ = cap(30.0)
    assert [m.exact_mm for m in drill.moves] == pytest.approx([9 + POINT, 9 + 4 + 2 + POINT, 9 + 1.5 + 2 + POINT], abs=1e-4)
    assert {(m.wheel, m.way, m.zero) for m in drill.moves} == {
        ("tailstock", "toward the headstock", "point touched on the right end")}  # fmt: skip
    assert [m.makes.value_mm for m in drill.moves if m.makes] == pytest.approx([m.exact_mm for m in drill.moves])
    rows = readings_of(plan, METRIC)["cap", drill.number]
    wheel = METRIC.lathe.wheels["tailstock"]
    for row, move in zip(rows, drill.moves, strict=True):
        made = row.turns * wheel.lead_mm + row.divisions * wheel.lead_mm / wheel.divisions
        assert abs(made - move.exact_mm) <= wheel.lead_mm / wheel.divisions / 2.0 + 1e-9
        assert made == pytest.approx(row.moves_mm)


def test_the_metal_keeps_to_the_drawing() -> None:
    plan, drill, tap = cap(30.0)
    stage = next(s for s in plan.parts[0].stages if s.operation.kind == "drill")
    bottom = min(float(z) for z, r in stage.after.inner if r > MINOR / 2.0 - 1e-3)
    assert bottom == pytest.approx(30.0 - 9.0, abs=1e-6)
    assert drill.drilled_on_mm == pytest.approx(6.0)
    assert tap.drilled_on_mm == pytest.approx(6.0)


def test_the_tap_is_then_not_said_to_stand_on_the_bottom() -> None:
    plan, _, tap = cap(30.0)
    mine = [c for c in plan.checks if c.check == "tool on the bottom" and c.operation == tap.number]
    assert [c.found for c in mine] == ["no fault"]


@pytest.mark.parametrize(("long", "leads"), [(30.0, [4.0, 1.5]), (16.6, [1.5]), (14.0, [])])
def test_no_row_where_the_wall_forbids_it(long: float, leads: list[float]) -> None:
    """A millimetre is the habit: behind the point 16.6 - 15 - 1.48 is 0.12, 16.6 - 12.5 - 1.48 is 2.6; 14 leaves 0.02."""
    _, drill, tap = cap(long)
    told = [m.exact_mm - drill.moves[0].exact_mm - 2.0 for m in drill.moves[1:]]
    assert told == pytest.approx(leads, abs=1e-6)
    for lead in (4.0, 1.5):
        behind = long - 9.0 - lead - 2.0 - POINT
        assert (lead in leads) == (behind >= 1.0)
    if 4.0 not in leads:
        assert "is the habit" in drill.note
        assert "of full thread, drilled to" in drill.note
    assert tap.drilled_on_mm == pytest.approx(max((lead + 2.0 for lead in leads), default=0.0))


def test_breaking_into_a_hole_from_the_other_end_is_no_row() -> None:
    """8 deep from the left with its point 9.5, so 30 - 9.5 is 20.5 from the right: 16.48 leaves 4.0, but 12 deep leaves 0.02."""
    for other, rows in ((8, 2), (12, 1)):
        text = CAP.replace("LONG", "30") + f"      from left:\n        - {{hole: other, diameter: 5, depth: {other}}}\n"
        drills = [s.operation for s in planned(text, METRIC).parts[0].stages if s.operation.kind == "drill"]
        socket = next(o for o in drills if "socket" in o.features)
        assert len(socket.moves) - 1 == rows


def test_the_taps_of_the_workshop_file_have_their_own_rows() -> None:
    _, drill, _ = cap(30.0, owning(taper=7.0, second=3.0))
    assert [m.exact_mm - drill.moves[0].exact_mm for m in drill.moves[1:]] == pytest.approx([9.0, 5.0], abs=1e-6)
    assert [m.makes.phrase for m in drill.moves if m.makes][1:] == [
        "socket: point, this far instead for the taper tap, lead 7 threads",
        "socket: point, this far instead for the second tap, lead 3 threads"]  # fmt: skip


def test_beyond_the_barrels_travel_is_no_row() -> None:
    short = replace(METRIC.lathe.wheels["tailstock"], travel_mm=14.0)
    shop = replace(METRIC, lathe=replace(METRIC.lathe, wheels={**METRIC.lathe.wheels, "tailstock": short}))
    _, drill, _ = cap(30.0, shop)
    assert [m.exact_mm for m in drill.moves] == pytest.approx([9 + POINT, 12.5 + POINT], abs=1e-4)


def test_a_through_hole_and_a_flat_bottom_have_none() -> None:
    _, through, _ = cap(30.0, hole="through: yes")
    assert len(through.moves) <= 1
    _, flat, _ = cap(30.0, hole="depth: 9, bottom: flat")
    assert len(flat.moves) == 1


@pytest.mark.parametrize("file", ["taper lead in threads: 8\n  bottoming lead in threads: 1", ""])
def test_leads_by_tap_in_the_workshop_file(file: str) -> None:
    from importlib import resources

    text = resources.files("handwheel.workshop").joinpath("data", "metric.yaml").read_text("utf-8")
    old = "taps:\n  lead in threads: 4\n"
    assert text.count(old) == 1
    shop, faults = read_workshop(text.replace(old, old + (f"  {file}\n" if file else "")).encode(), "shed.yaml")
    assert shop is not None, faults
    tap = next(t for t in shop.round_tools if t.kind == "tap" and t.designation == "M6")
    assert tap.leads == ((("taper", 8.0), ("bottoming", 1.0)) if file else ())
    assert tap.lead_mm == pytest.approx(4.0)
    die = next(t for t in shop.round_tools if t.kind == "die" and t.designation == "M6")
    assert die.leads == ()


@pytest.mark.parametrize("written", ["M6-6H", "M6 x 1", "M6 - 5H", "M6-6H/6g"])
def test_a_tap_at_hand_is_known_whatever_the_class_or_spelling(written: str) -> None:
    _, drill, tap = cap(30.0, thread=f"thread: {written}")
    assert drill.moves[1].exact_mm - drill.moves[0].exact_mm == pytest.approx(6.0)
    assert tap.cutter.owned
    assert tap.cutter.name.startswith("tap M6")


@pytest.mark.parametrize(("screwed", "words"), [(True, "the cut itself unscrews this chuck"), (False, "turned the other way"),
                                                (None, "the cut itself unscrews a screwed chuck")])  # fmt: skip
def test_a_left_hand_thread_and_the_chuck(screwed: bool | None, words: str) -> None:
    """Common practice: cutting a left-hand thread pulls the work the way that undoes a right-hand spindle nose."""
    _, _, tap = cap(30.0, with_chuck(screwed), thread="thread: M6 LH")
    assert words in tap.caution
    _, _, right = cap(30.0, with_chuck(screwed))
    assert "Left-hand" not in right.caution
    assert ("no reverse under power" in right.caution) == (screwed is not False)


def test_long_engagement_names_the_class_for_it() -> None:
    """ISO 965-1 table 2: M6 N is 3 to 9; medium for L is 7H with 7g6g, for S 5H with 5g6g."""
    _, _, tap = cap(30.0)
    assert "length of engagement" not in dict(tap.figures)
    _, _, tap = cap(30.0, hole="depth: 12")
    assert "7H with 7g6g" in dict(tap.figures)["length of engagement"]
    _, _, tap = cap(30.0, hole="depth: 12", thread="thread: M6-6H")
    assert "length of engagement" not in dict(tap.figures)


def test_a_job_with_classes_is_read_and_sized() -> None:
    text = CAP.replace("LONG", "30").replace("thread: M6", "thread: M6-6G LH")
    job, faults = read_job(text.encode(), "job.yaml")
    assert job is not None, faults
    assert job.units is Unit.MM
    hole = size_job(job).parts[0].inside_right[0]
    assert 2.0 * hole.bottom_radius == pytest.approx(MINOR, abs=1e-4)


def test_a_thread_outside_is_taken_out_to_its_root() -> None:
    """M8 over an M6 socket's deeper drill: 8 - 17/12 · 0.866 · 1.25 is 6.466, less 4.917, halved: 0.77 of the blank's 1.54."""
    text = """handwheel: 1
job: Sleeve
units: mm
parts:
  sleeve:
    material: brass
    outside:
      - {cylinder: screw, thread: M8, length: 15}
      - {cylinder: head, diameter: 14, length: 12}
    inside:
      from right:
        - {hole: socket, thread: M6, depth: 9}
"""
    drill = next(s.operation for s in planned(text, METRIC).parts[0].stages if s.operation.kind == "drill")
    # full diameter to 15 is 3 into the screw; a bottoming tap's 12.5 is half a millimetre into it: both leave under a millimetre
    assert len(drill.moves) == 1
    root = 8.0 - 17.0 / 12.0 * math.sqrt(3.0) / 2.0 * 1.25
    assert f"only {(root - MINOR) / 2.0:.3f} mm" in drill.note
