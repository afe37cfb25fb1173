"""The planner's own rules against the trade's figures and closed forms; each refusal planted."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.balls import relief_width
from handwheel.plan.records import Plan
from handwheel.plan.route import plan_job
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import BallTool, Workshop

PIN = """handwheel: 1
job: Pin
units: mm
parts:
  pin:
    quantity: 2
    material: free-cutting mild steel
    outside:
      - cylinder: stem
      - cylinder: head
    dimensions:
      stem diameter: 8 ± 0.05
      stem length: 20
      head diameter: 14
      overall length: 27 ± 0.1
"""
LEVER = """handwheel: 1
job: Lever
units: mm
parts:
  lever:
    material: free-cutting mild steel
    outside:
      - ball: hub
      - cone: shank
      - cylinder: tenon
    dimensions:
      hub diameter: 16 ± 0.1
      shank diameter at hub centre: 10
      shank right diameter: 7
      hub centre to shank right: 40
      tenon diameter: 5
      tenon length: 6
"""
METRIC = built_in_workshop(Unit.MM)


def planned(text: str, shop: Workshop = METRIC) -> Plan:
    job, faults = read_job(text.encode(), "job.yaml")
    assert job is not None, faults
    return plan_job(size_job(job), shop)


def with_habit(shop: Workshop, name: str, value: float) -> Workshop:
    return replace(shop, habits={**shop.habits, name: replace(shop.habits[name], value=value)})


def test_relief_rule_where_the_bit_is_narrow() -> None:
    """Common practice, no source: relief 1/4 in wide for a 3/16 in bit, where the swept bit asks for less."""
    tool = BallTool("ball tool", 0.635, "flats", 6, 0.5, ((0.0, 20.0),), 3 / 16 * 25.4, 20.0, 12.0)
    width = relief_width(8.0, 7.9, 8.0, tool, 4 / 3)
    assert width == pytest.approx(25.4 / 4, abs=0.06)


def test_relief_by_the_swept_bit() -> None:
    """D 20, d 12, a 0.5, w 6: (10.5 - 6) cot g + 3/sin g with sin g 0.6 is 6 + 5 = 11 mm, worked by hand."""
    tool = BallTool("ball tool", 1.0, "divisions", 40, 1.0, ((0.0, 20.0),), 6.0, 20.0, 12.0)
    assert relief_width(10.0, 6.0, 10.5, tool, 4 / 3) == pytest.approx(11.0, abs=0.06)


def test_ball_blank_is_over_by_the_trade_s_allowance() -> None:
    """Common practice, no source: 0.020 in over at the end and 0.040 in over on the diameter."""
    plan = planned(LEVER, built_in_workshop(Unit.INCH)).parts[0]
    makes = {m.makes.phrase: m.makes.value_mm for s in plan.stages for m in s.operation.moves if m.makes}
    assert makes["hub blank diameter"] == pytest.approx(16.0 + 0.040 * 25.4)
    ball = next(s for s in plan.stages if s.operation.kind == "ball")
    assert ball.before.outer[0, 0] == pytest.approx(-0.020 * 25.4)


def test_corner_leg_brings_the_first_pass_down_to_the_blank_s_radius() -> None:
    """The 45° line of a leg (2 - sqrt 2)(R + a) touches the circle R + a: by the distance from a point to a line."""
    plan = planned(LEVER).parts[0]
    full = 8.0 + METRIC.habit("ball diameter allowance") / 2
    leg = next(m.makes.value_mm for s in plan.stages for m in s.operation.moves
               if m.makes and "corner" in m.makes.phrase)
    distance = (2 * full - leg) / math.sqrt(2.0)
    assert distance == pytest.approx(full)


def test_both_balls_of_two_parts_share_one_setting() -> None:
    text = LEVER + LEVER[LEVER.index("  lever:"):].replace("lever", "small-lever").replace("16 ± 0.1", "15")
    plan = planned(text)
    keys = {s.operation.set_up for p in plan.parts for s in p.stages if s.operation.kind == "ball"}
    assert len(keys) == 1
    steps = [(s.part, s.set_up) for s in plan.order]
    first_ball = next(i for i, s in enumerate(steps) if s[1] in keys)
    blanks = {p.part for p in plan.parts}
    assert {s[0] for s in steps[:first_ball]} == blanks, "all blanks stand before the first ball"


def test_a_ball_that_a_collet_holds_is_held_within_the_collet_s_limits() -> None:
    """Common practice, no source: 1 to 2 thou for a ball that a collet must hold, whatever the drawing allows (0.1)."""
    plan = planned(LEVER).parts[0]
    hub = next(m.makes for s in plan.stages for m in s.operation.moves if m.makes and m.makes.phrase == "hub diameter")
    assert hub.working_low_mm is not None
    assert hub.working_high_mm is not None
    assert 0.0254 <= hub.working_high_mm - hub.working_low_mm <= 2 * 0.0508
    assert "collet" in hub.limits_from


def test_working_limits_of_a_chain_share_its_tolerance() -> None:
    """Head = overall - stem: ± 0.1, ± 0.2 and ± 0.2 (ISO 2768-1 m, from memory) may not be overrun by the two cuts."""
    plan = planned(PIN).parts[0]
    limits = [m.makes for s in plan.stages for m in s.operation.moves
              if m.makes and m.makes.working_low_mm is not None and not m.makes.is_diameter]
    assert limits
    assert all(0 < (m.working_high_mm or 0) - (m.working_low_mm or 0) <= 0.4 + 1e-9 for m in limits)
    stem = next(m.makes for s in plan.stages for m in s.operation.moves if m.makes and m.makes.phrase == "stem diameter")
    assert (stem.working_low_mm, stem.working_high_mm) == (pytest.approx(7.95), pytest.approx(8.05))


def test_stock_too_thin_is_refused_with_both_figures() -> None:
    plan = planned(PIN.replace("    outside:", "    stock: round 12\n    outside:", 1)).parts[0]
    assert "12.000 mm is thinner than the part's 14.000 mm" in plan.refused
    assert plan.stages == ()


def test_no_knife_tool_is_refused() -> None:
    shop = replace(METRIC, tools=tuple(t for t in METRIC.tools if t.kind != "knife"))
    plan = planned(PIN, shop).parts[0]
    assert "knife" in plan.refused


def test_slender_work_is_refused_without_and_planned_with_a_centre() -> None:
    long = PIN.replace("stem length: 20", "stem length: 60").replace("overall length: 27", "overall length: 67")
    plan = planned(long).parts[0]
    assert plan.refused == ""
    assert any(s.operation.holding.centre_mm is not None for s in plan.stages)
    longer = long.replace("60", "190").replace("67 ±", "197 ±").replace("8 ± 0.05", "8 ± 0.005")
    steadied = planned(longer).parts[0]
    assert any(s.operation.holding.has_steady for s in steadied.stages)
    assert not any("steady" in line for line in planned(longer).to_get)
    assert any("steady" in line for line in planned(longer, replace(METRIC, steadies=())).to_get)


HANDLE = """handwheel: 1
job: Handle
units: mm
parts:
  handle:
    material: free-cutting mild steel
    outside:
      - ball: small
      - cone: stem
      - ball: big
    dimensions:
      big diameter: 20
      small diameter: 14
      small centre to big centre: 45
      stem diameter at big centre: 10
      stem diameter at small centre: 8
"""


def test_farther_out_than_the_habit_only_as_far_as_bending_allows() -> None:
    """Balls at both ends leave no room for a centre. The push of a light cut is known for the steel, not for any metal."""
    light = [c for c in planned(HANDLE).checks if c.check == "overhang" and "bending puts" in c.found + c.do]
    assert light
    assert not any(c.is_fault for c in light)
    assert "overhang" in planned(HANDLE.replace("free-cutting mild steel", "a metal")).parts[0].refused


def test_no_grip_left_is_refused() -> None:
    """With a least grip longer than anything on the part nothing finished can be held."""
    plan = planned(PIN, with_habit(METRIC, "least grip", 30.0)).parts[0]
    held = [s.operation.holding.surface for s in plan.stages]
    assert plan.refused or set(held) == {"stock"}


def test_bond_waits_for_both_parts() -> None:
    text = LEVER + """  cap:
    material: free-cutting mild steel
    outside:
      - cylinder: rim
    inside:
      from left:
        - {hole: eye, diameter: 5, through: yes}
    dimensions:
      rim diameter: 12
      rim length: 8
assemblies:
  both:
    seats:
      - rim left of cap on shank right of lever
"""
    loose = planned(text.replace("diameter: 5, through", "diameter: 5.5, through"))
    assert "bond" not in {s.operation.kind for p in loose.parts for s in p.stages}
    plan = planned(text)
    last = plan.order[-1]
    kinds = {(p.part, s.operation.number): s.operation.kind for p in plan.parts for s in p.stages}
    assert kinds[(last.part, last.number)] == "bond"
    caution = next(s.operation.caution for p in plan.parts for s in p.stages if s.operation.kind == "bond")
    assert "skin" in caution


@pytest.mark.parametrize("kind", ["ball", "saw", "turn", "face"])
def test_every_operation_has_its_caution(kind: str) -> None:
    plan = planned(LEVER).parts[0]
    cautions = [s.operation.caution for s in plan.stages if s.operation.kind == kind]
    assert cautions
    assert all(len(c) > 20 for c in cautions)
