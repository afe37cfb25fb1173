"""Work across the axis: leaning on a ball in a slotted collet, faces, pitch circles; each refusal planted.

Expected figures: closed forms of the sphere and circle, written out here.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.across.shapes import shapes_of
from handwheel.plan.records import Operation, Plan
from handwheel.plan.route import plan_job
from handwheel.sheets.acrosslines import cuts_of
from handwheel.stages.finished import finished_section
from handwheel.stages.offaxis import as_seen
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import Workshop

METRIC = built_in_workshop(Unit.MM)
NO_MILL = replace(METRIC, mill=None)
LEVER = """handwheel: 1
job: Lever
units: mm
parts:
  lever:
    material: free-cutting mild steel
    outside:
      - ball: small
      - cone: stem
      - ball: big
    across:
      - {hole: eye, on: big, through: yes, leaning: 18 deg, finish: reamed}
      - {flat: seat, on: big, square to: eye}
    dimensions:
      big diameter: 20
      small diameter: 14
      small centre to big centre: 34
      stem diameter at big centre: 11
      stem diameter at small centre: 9
      seat from axis: 8
      eye diameter: 6
"""
TURNED = """handwheel: 1
job: Turned
units: mm
parts:
  piece:
    material: free-cutting mild steel
    outside:
"""


def planned(text: str, shop: Workshop = METRIC) -> Plan:
    job, faults = read_job(text.encode("utf-8"), "test.yaml")
    assert job is not None, faults
    drawing = size_job(job)
    assert not drawing.faults, drawing.faults
    return plan_job(drawing, shop)


OUTSIDE = ("- cylinder: body", "- cylinder: spigot")
SIZES = ("body diameter: 20", "body length: 30", "spigot diameter: 12", "spigot length: 16")


def turned(
    across: str,
    *more: str,
    shop: Workshop = METRIC,
    outside: tuple[str, ...] = OUTSIDE,
    sizes: tuple[str, ...] = SIZES,
) -> Plan:
    lines = [*(f"      {item}" for item in outside), "    across:", f"      - {across}", "    dimensions:",
             *(f"      {size}" for size in (*sizes, *more))]  # fmt: skip
    return planned(TURNED + "\n".join(lines) + "\n", shop)


def operations(plan: Plan) -> list[Operation]:
    return [s.operation for s in plan.parts[0].stages]


def across(plan: Plan) -> list[Operation]:
    return [o for o in operations(plan) if "across-when-turned" in o.why.rule]


def test_a_leaning_seat_and_its_hole_are_made_in_one_holding() -> None:
    made = across(planned(LEVER))
    assert [o.kind for o in made] == ["face", "centre", "drill", "ream"]
    assert {o.set_up for o in made} == {made[0].set_up}
    assert {(o.axis_lean_deg, o.axis_around_deg) for o in made} == {(18.0, 0.0)}
    assert [name for o in made for name in o.across_made] == ["seat", "eye"]
    assert made[0].moves[0].exact_mm == pytest.approx(10.0 - 8.0)  # crown of the ball to the flat
    assert "by hand" in made[0].caution
    assert all("stand clear" in o.caution for o in made)
    assert all("lowest" in o.speed_text for o in made)


def test_the_circle_that_the_lever_sweeps_is_said() -> None:
    # The end of the small ball is a sphere of radius 7 whose centre lies 34 along the part's axis, 18° off square.
    sweep = 34.0 * math.cos(math.radians(18.0)) + 7.0
    assert f"sweeps Ø {2 * sweep:.3f} mm" in across(planned(LEVER))[0].caution


def test_a_bed_too_near_is_refused_and_nothing_read_from_there() -> None:
    near = replace(NO_MILL, lathe=replace(METRIC.lathe, centre_height_mm=40.0))
    last = operations(planned(LEVER, near))[-1]
    assert "sweeps" in last.refused
    assert last.moves == ()


def test_a_flat_that_leaves_no_cap_is_refused_and_the_lean_is_not_shrunk() -> None:
    last = operations(planned(LEVER.replace("seat from axis: 8", "seat from axis: 2.9"), NO_MILL))[-1]
    assert "no cap" in last.refused
    assert last.axis_lean_deg == 18.0


def test_a_thick_shank_leaves_too_little_collet() -> None:
    # A slot 1 mm over Ø 18.4 in a collet for Ø 20 takes 2·asin(19.4/20) of the round: 208.1° are left.
    plan = turned("{flat: seat, on: knob, leaning: 10 deg}", "knob diameter: 20", "seat from axis: 8", shop=NO_MILL,
                  outside=("- cylinder: body", "- {ball: knob}"), sizes=("body diameter: 18.4", "body length: 26"))
    left = 360 - 2 * math.degrees(math.asin(19.4 / 20))
    assert f"{left:.0f}° of the collet" in operations(plan)[-1].refused


def test_a_lever_that_leans_back_says_how_far_the_collet_has_to_stand_out() -> None:
    # The small ball's lowest point lies 34·sin 18° + 7 behind the big one's centre; the mouth is half the radius before it.
    out = 10.0 / 2 + 34.0 * math.sin(math.radians(18.0)) + 7.0 + METRIC.habit("chuck clearance")
    found = [c.found for c in planned(LEVER).checks if c.check == "what sweeps, against the headstock"]
    assert len(found) == 1
    assert f"{out:.3f} mm out" in found[0]


def test_a_hole_that_breaks_out_is_refused() -> None:
    plan = turned("{hole: blind, on: body}", "left end to blind centre: 15", "blind diameter: 6", "blind depth: 19")
    last = operations(plan)[-1]
    # Full depth 19 of Ø 20 leaves 1 mm; the point of a 118° drill is 3/tan 59° = 1.80 long.
    assert f"{3 / math.tan(math.radians(59)) - 1:.3f} mm" in last.refused
    assert last.moves == ()


def test_a_thin_wall_behind_a_point_is_listed_with_its_size() -> None:
    plan = turned("{hole: blind, on: body}", "left end to blind centre: 15", "blind diameter: 6", "blind depth: 17.8")
    wall = 20 - 17.8 - 3 / math.tan(math.radians(59))
    found = [c for c in plan.checks if c.check.startswith("wall") and c.is_warning]
    assert len(found) == 1
    assert f"{wall:.3f} mm" in found[0].found


def test_walls_thick_enough_are_no_fault() -> None:
    plan = turned("{hole: blind, on: body}", "left end to blind centre: 15", "blind diameter: 6", "blind depth: 10")
    assert [c.found for c in plan.checks if c.check.startswith("wall beside")] == ["no fault"]


def test_the_hexagon_is_cut_from_every_side() -> None:
    made = across(turned("{hexagon: nut, on: spigot}", "nut across flats: 10"))
    assert [o.kind for o in made] == ["mill"]
    assert made[0].moves[-1].exact_mm == pytest.approx((12 - 10) / 2)
    assert "6 faces, turned 60°" in made[0].note
    assert "corners" not in made[0].note  # 10·2/√3 = 11.55, within Ø 12


def test_a_square_whose_corners_stay_round_is_said() -> None:
    made = across(turned("{square: drive, on: spigot}", "drive across flats: 10"))
    assert f"Ø {10 * math.sqrt(2):.3f} mm" in made[0].note  # 14.14 from Ø 12
    assert "4 faces, turned 90°" in made[0].note


def test_holes_on_a_pitch_circle_by_their_two_places() -> None:
    made = across(turned("{holes: studs, face: left, count: 3, through: yes, first at: 90 deg}",
                         "studs diameter: 3", "studs pitch circle diameter: 15"))  # fmt: skip
    places = [move.makes.value_mm for move in made[0].moves]
    for k in range(3):
        angle = math.radians(90 + 120 * k)
        wanted = [7.5 * math.cos(angle), 7.5 * math.sin(angle)]
        assert places[2 * k : 2 * k + 2] == pytest.approx([abs(w) for w in wanted], abs=1e-9)
        if abs(wanted[0]) > 1e-6:
            assert made[0].moves[2 * k].way == ("right of centre" if wanted[0] > 0 else "left of centre")
        assert made[0].moves[2 * k + 1].way == ("beyond centre" if wanted[1] > 0 else "before centre")
    assert f"{15 * math.sin(math.pi / 3):.3f} mm between neighbours" in made[0].why.text


def test_a_slot_is_long_by_no_cutter() -> None:
    made = across(turned("{slot: key, on: body}", "key width: 4", "key depth: 2.5", "left end to key left: 6",
                         "key length: 14"))  # fmt: skip
    assert [m.exact_mm for m in made[0].moves] == pytest.approx([6 + 2, 6 + 14 - 2, 2.5])


def test_a_grub_screw_goes_into_the_hole_it_clamps_in_after_it() -> None:
    two = "{hole: grub, on: body, into: main, thread: M4, around: 90 deg}\n      - {hole: main, on: body, through: yes}"
    made = across(turned(two, "left end to main centre: 15", "left end to grub centre: 15", "main diameter: 8"))
    assert [(o.kind, o.features[0]) for o in made] == [("cross-drill", "main"), ("cross-drill", "grub"), ("tap", "grub")]
    down = made[1].moves[-1]
    assert down.exact_mm == pytest.approx(10 - 4)  # from the surface to the hole it goes into
    assert "tapping drill" in made[1].cutter.name


def test_no_mill_refuses_what_only_a_mill_can_do() -> None:
    last = operations(turned("{hexagon: nut, on: spigot}", "nut across flats: 10", shop=NO_MILL))[-1]
    assert "no mill or drilling machine" in last.refused


def test_a_flat_square_to_a_leaning_hole_leans_on_the_card_as_well() -> None:
    """Its edge lies square to the hole's axis, 8 mm from the ball's centre along it, and is a chord of the ball."""
    job, _ = read_job(LEVER.encode("utf-8"), "test.yaml")
    assert job is not None
    part = size_job(job).parts[0]
    centre = part.feature("big").centre or 0.0
    section, turn = finished_section(part), math.radians(18.0)
    cuts = cuts_of(section, as_seen(shapes_of(part, section)))
    (void,) = (v for shape, v in zip(cuts.shapes, cuts.voids, strict=True) if shape.kind == "flat")
    half = math.sqrt(10.0**2 - 8.0**2)
    ends = [(centre + 8 * math.sin(turn) + s * half * math.cos(turn), 8 * math.cos(turn) - s * half * math.sin(turn))
            for s in (-1, 1)]  # fmt: skip
    on_floor = sorted(tuple(p) for p in void if math.hypot(p[0] - centre, p[1]) < 10.1)
    assert on_floor == [pytest.approx(end, abs=0.02) for end in sorted(ends)]
