"""Which tool is named, whether it is at hand, by which corner it is set, and the caution where a stub comes off."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from handwheel.plan.records import Operation
from handwheel.workshop.records import Workshop

from .test_route_rules import LEVER, METRIC, PIN, planned

NUT = """handwheel: 1
job: Nut
units: mm
parts:
  nut:
    material: brass
    outside:
      - {cylinder: head, knurl: straight 0.8 mm}
      - cylinder: boss
    inside:
      from left:
        - {hole: eye, thread: M5, through: yes}
    dimensions:
      head diameter: 18
      head length: 5
      boss diameter: 10
      boss length: 4
"""
SLEEVE = """handwheel: 1
job: Sleeve
units: mm
parts:
  sleeve:
    material: brass
    outside:
      - cylinder: body
    inside:
      from right:
        - {bore: socket, cone: yes, taper: 1 in 20, depth: 20}
    dimensions:
      body diameter: 25
      overall length: 30
      socket right diameter: 14
"""
CROSS = PIN.replace("    dimensions:", "    across:\n      - {hole: eye, on: head, at: head middle, diameter: 3, "
                    "through: yes}\n    dimensions:")  # fmt: skip


def operations(text: str, shop: Workshop = METRIC) -> list[Operation]:
    plan = planned(text, shop)
    assert not plan.parts[0].refused, plan.parts[0].refused
    return [stage.operation for stage in plan.parts[0].stages]


def test_a_tapped_hole_is_drilled_with_its_tapping_drill() -> None:
    """M5: 4.2 mm (ISO 2306, from memory), not the basic minor of 4.134 at which the hole is drawn."""
    drill = next(o for o in operations(NUT) if o.kind == "drill")
    assert drill.cutter.name == "tapping drill 4.2 mm"


def test_a_knurling_tool_that_is_not_there_is_to_get() -> None:
    shop = replace(METRIC, tools=tuple(t for t in METRIC.tools if t.kind != "knurl"))
    assert any("knurling tool" in line for line in planned(NUT, shop).to_get)


def test_a_tapered_bore_has_its_slide_angle_and_a_setting_of_its_own() -> None:
    """1 in 20: atan(1/40) = 1.4321 degrees."""
    bore = next(o for o in operations(SLEEVE) if o.kind == "bore")
    angle = next(s for s in bore.settings if s.layer == "slide angle")
    assert angle.value == pytest.approx(math.degrees(math.atan(1 / 40)))
    plain = next(o for o in operations(SLEEVE) if o.kind == "face")
    assert bore.set_up != plain.set_up


def test_a_stub_is_not_parted_right_through_on_its_centre() -> None:
    text = LEVER.replace("hub centre to shank right: 40", "hub centre to shank right: 48")
    off = next(o for o in operations(text.replace("free-cutting mild steel", "a metal")) if o.kind == "part off")
    assert off.holding.centre_mm is not None
    assert "pip" in off.caution
    assert "by hand" in off.note


def test_either_side_of_a_ball_in_the_middle_is_set_by_its_own_corner() -> None:
    """The side that falls to the headstock by the right corner of a square nose, the other by the left."""
    text = """handwheel: 1
job: Joint
units: mm
parts:
  joint:
    outside:
      - cylinder: one
      - ball: middle-ball
      - cylinder: two
    dimensions:
      one diameter: 8
      middle-ball diameter: 16
      two diameter: 8
      left end to middle-ball centre: 25
      middle-ball centre to right end: 20
"""
    by_steps = replace(METRIC, ball_tool=None)
    curves = [o for o in operations(text.replace("middle-ball", "knob"), by_steps) if o.kind == "curve"]
    notes = [m.note for o in curves for m in o.moves if m.wheel == "cross slide"]
    assert notes == ["set by the left corner", "set by the right corner"]


def test_cross_work_without_a_mill_is_refused() -> None:
    plan = planned(CROSS, replace(METRIC, mill=None)).parts[0]
    assert "no mill or drilling machine" in plan.stages[-1].operation.refused
    assert planned(CROSS).parts[0].stages[-1].operation.kind == "cross-drill"
