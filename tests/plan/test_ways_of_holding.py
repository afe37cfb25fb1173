"""Between centres, tailstock set over, mandrel, steady, split bush, soft jaws: planned where they serve, with their numbers by
closed forms, and refused with the reason where they do not."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.records import PartPlan, Plan
from handwheel.plan.route import plan_job
from handwheel.plan.writeout import route_lines
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import Chuck, Workshop

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
METRIC = built_in_workshop(Unit.MM)
HEAD = """handwheel: 1
job: Holding
units: mm
parts:
  it:
    material: free-cutting mild steel
"""
TAPER = """    outside:
      - cylinder: nose
      - cylinder: collar
      - cone: shank
    dimensions:
      nose diameter: 10
      nose length: 12
      collar diameter: 18
      collar length: 8
      shank left diameter: 16
      shank right diameter: {small}
      shank length: {length}
"""
SHAFT = """    outside:
      - cylinder: journal
      - cylinder: body
      - cylinder: seat
    dimensions:
      journal diameter: 10 h6
      journal length: 20
      body diameter: 16
      body length: 60
      seat diameter: 12 h6
      seat length: 20
"""


def planned(text: str, shop: Workshop = METRIC) -> Plan:
    job, faults = read_job((HEAD + text).encode(), "test.yaml")
    assert job is not None, faults
    drawing = size_job(job)
    assert not drawing.faults, drawing.faults
    return plan_job(drawing, shop)


def only(text: str, shop: Workshop = METRIC) -> PartPlan:
    return planned(text, shop).parts[0]


def devices(plan: PartPlan) -> list[str]:
    return list(dict.fromkeys(s.operation.holding.kind for s in plan.stages))


def written_again(text: str, plan: PartPlan, shop: Workshop = METRIC) -> PartPlan:
    """The route written out and read back."""
    lines = "".join(f"      {line}\n" for line in route_lines(plan))
    return only(f"    route:\n{lines}{text}", shop)


def alike(one: PartPlan, other: PartPlan) -> bool:
    return len(one.stages) == len(other.stages) and all(
        a.operation.kind == b.operation.kind and a.after.outer.shape == b.after.outer.shape
        and np.allclose(a.after.outer, b.after.outer, atol=1e-5) and np.allclose(a.after.inner, b.after.inner, atol=1e-5)
        for a, b in zip(one.stages, other.stages, strict=True))  # fmt: skip


def test_a_taper_longer_than_the_top_slide_s_travel_is_turned_with_the_tailstock_set_over() -> None:
    """s = L sin θ, L from centre to centre of the work, θ = atan((D - d) / 2l)."""
    text = TAPER.format(small=13, length=70)
    plan = only(text)
    assert not plan.refused
    operation = next(s.operation for s in plan.stages if s.operation.kind == "taper")
    holding = operation.holding
    assert holding.kind == "between centres"
    setting = next(s for s in operation.settings if s.layer == "tailstock")
    assert holding.centre_mm is not None
    assert holding.headstock_centre_mm is not None
    between = abs(holding.centre_mm - holding.headstock_centre_mm)
    assert setting.value == pytest.approx(between * math.sin(math.atan(1.5 / 70)))
    assert "set it back" in setting.text
    small_at_tailstock = holding.toward_tailstock == "right"
    assert ("toward the operator" in setting.text) is small_at_tailstock
    carriage = next(m for m in operation.moves if m.wheel == "carriage" and m.makes and "slope" in m.makes.phrase)
    assert carriage.exact_mm == pytest.approx(math.hypot(70.0, 1.5))
    assert np.allclose(plan.stages[-1].after.outer[-1], [90.0, 6.5])
    assert alike(plan, written_again(text, plan))


def test_a_taper_that_wants_more_set_over_than_there_is_goes_by_steps_and_says_why_with_both_numbers() -> None:
    """90 mm of work with stubs of 8 for the centre and 13.5 for the dog: 111.5 sin(atan(6 / 70)) = 9.52, and 8 there is."""
    plan = only(TAPER.format(small=4, length=70))
    theta = math.atan(6 / 70)
    told = plan.refused or next(s.operation.why.text for s in plan.stages if s.operation.chart is not None)
    assert f"travel of 60.000 mm; tailstock set-over: 111.500 mm between centres × sin {math.degrees(theta):.3f}°" in told
    assert f"set over {111.5 * math.sin(theta):.3f} mm; it goes 8.000 mm" in told


def test_where_the_set_over_is_not_known_it_is_said() -> None:
    shop = replace(METRIC, lathe=replace(METRIC.lathe, tailstock_set_over_mm=None))
    operation = next(s.operation for s in only(TAPER.format(small=13, length=70), shop).stages if s.operation.kind == "taper")
    assert any("not known how far this tailstock sets over" in s.text for s in operation.settings)


def test_a_short_taper_is_left_to_the_top_slide() -> None:
    operation = next(s.operation for s in only(TAPER.format(small=13, length=40)).stages if s.operation.kind == "taper")
    assert operation.holding.kind != "between centres"
    assert any(s.layer == "slide angle" for s in operation.settings)


def test_journals_closer_than_the_collet_s_run_out_are_turned_between_centres_in_one_setting() -> None:
    """10 h6 and 12 h6 are 9 and 11 µm wide (ISO 286-2); the collet runs out 20."""
    plan = only(SHAFT)
    for name in ("journal", "seat"):
        held = {s.operation.holding.kind for s in plan.stages if name in s.operation.features and s.operation.kind in
                ("turn", "groove")}  # fmt: skip
        assert held == {"between centres"}
    assert alike(plan, written_again(SHAFT, plan))
    assert any("driving dog" in line for line in planned(SHAFT).to_get)


def test_a_truer_collet_holds_them_and_the_sheet_says_what_it_leaves() -> None:
    chucks = tuple(replace(c, run_out_mm=0.005) if c.kind == "collet" else c for c in METRIC.chucks)
    plan = only(SHAFT, replace(METRIC, chucks=chucks))
    assert "between centres" not in devices(plan)
    said = [s.text for stage in plan.stages for s in stage.operation.settings if s.layer == "running true"]
    assert any("within 0.005 mm on the indicator" in text for text in said)


def test_wider_limits_ask_for_nothing_and_a_run_out_not_known_is_to_be_clocked() -> None:
    loose = SHAFT.replace("10 h6", "10 ± 0.03").replace("12 h6", "12 ± 0.03")
    assert "between centres" not in devices(only(loose))
    chucks = tuple(replace(c, run_out_mm=None) for c in METRIC.chucks)
    wide = SHAFT.replace("10 h6", "10 ± 0.03").replace("12 h6", "12 ± 0.03").replace("journal length: 20", "journal length: 40")
    shop = replace(METRIC, chucks=chucks, steadies=(), lathe=replace(METRIC.lathe, between_centres_mm=50.0))
    said = [s.text for stage in only(wide, shop).stages for s in stage.operation.settings if s.layer == "running true"]
    assert any("not known how true" in text for text in said)


LONG = """    outside:
      - cylinder: stem
      - cylinder: head
    inside:
      from right:
        - hole: socket
    dimensions:
      stem diameter: 28
      stem length: 200
      head diameter: 24
      head length: 20
      socket diameter: 10
      socket depth: 20
"""


def test_the_end_of_long_work_is_drilled_in_a_fixed_steady_on_what_is_turned() -> None:
    plan = only(LONG)
    drilled = next(s.operation.holding for s in plan.stages if s.operation.kind == "drill")
    assert drilled.steady_mm is not None
    assert 200.0 < drilled.steady_mm < 220.0
    assert "fixed steady on head" in drilled.device
    assert alike(plan, written_again(LONG, plan))
    without = replace(METRIC, steadies=())
    assert any(line.startswith("fixed steady") for line in planned(LONG, without).to_get)


def test_bar_that_does_not_pass_the_spindle_is_centred_in_a_fixed_steady() -> None:
    centred = next(s.operation.holding for s in only(LONG).stages if s.operation.kind == "centre")
    assert centred.steady_mm is not None
    assert "fixed steady on the bar" in centred.device


WAISTED = """    outside:
      - cylinder: flange
      - cylinder: waist
      - cylinder: rim
    dimensions:
      flange diameter: 24
      flange length: 12
      waist diameter: 14
      waist length: 24
      rim diameter: 20
      rim length: 3
"""


def test_a_split_bush_in_halves_holds_a_waist_between_larger_diameters() -> None:
    route = """    route:
      - {hold: three-jaw on stock, to tailstock: right, out: 45 mm}
      - face: right end
      - turn: rim
      - groove: waist
      - saw: left end
      - {hold: split bush on waist, to tailstock: left}
      - face: left end
      - turn: flange
"""
    plan = only(route + WAISTED)
    held = plan.stages[-1].operation.holding
    assert [s.operation.refused for s in plan.stages if s.operation.refused] == []
    assert held.kind == "split bush"
    assert "in halves bored to waist" in held.device
    assert held.grip_radius_mm == 7.0
    assert 12.0 <= held.from_mm < held.to_mm <= 36.0


def test_soft_jaws_are_taken_where_the_jaws_run_out_too_far() -> None:
    """A reamed hole (8 H7, 15 µm) from either end: three jaws would leave 0.08 between them, soft jaws bored in place 0.01."""
    text = """    outside:
      - cylinder: spigot
      - cylinder: rim
      - cylinder: register
    inside:
      from left:
        - hole: near
          finish: reamed
      from right:
        - hole: far
          finish: reamed
    dimensions:
      near diameter: 8 H7
      near depth: 12
      far diameter: 8 H7
      far depth: 12
      spigot diameter: 18 ± 0.01
      spigot length: 15
      rim diameter: 40
      rim length: 8
      register diameter: 26 ± 0.01
      register length: 20
"""
    soft = Chuck("soft jaws", "soft jaws", 5.0, 90.0, 22.0, 0.01, None, 20.0, 50.0)
    collets = tuple(c for c in METRIC.chucks if c.kind != "collet")
    plan = only(text, replace(METRIC, chucks=(*collets, soft)))
    assert not plan.refused
    assert "soft jaws" in devices(plan)
    said = [s.text for stage in plan.stages for s in stage.operation.settings if s.layer == "running true"]
    assert not any("clock" in text for text in said)


def test_a_bored_wheel_is_finished_on_a_mandrel_between_centres_as_written() -> None:
    text = """    outside:
      - cylinder: hub
      - cylinder: rim
    inside:
      from right:
        - {hole: bore, through: yes, finish: reamed}
    dimensions:
      hub diameter: 18
      hub length: 10
      rim diameter: 40
      rim length: 12
      bore diameter: 10 H7
"""
    route = """    route:
      - {hold: three-jaw on stock, to tailstock: right, out: 5 mm}
      - face: right end
      - centre: bore
      - drill: bore
      - ream: bore
      - saw: left end
      - {hold: mandrel on bore, to tailstock: left}
      - face: left end
      - turn: hub
      - turn: rim
"""
    plan = only(route + text)
    assert [s.operation.refused for s in plan.stages if s.operation.refused] == []
    turned = next(s.operation.holding for s in plan.stages if s.operation.features == ("rim",))
    assert turned.kind == "mandrel"
    assert (turned.headstock_centre_mm, turned.centre_mm) == (47.0, -25.0)


def test_between_centres_wants_both_centres() -> None:
    route = """    route:
      - {hold: three-jaw on stock, to tailstock: right, out: 0 mm}
      - face: right end
      - centre: right end
      - {hold: between centres on stock, to tailstock: right}
      - turn: seat
"""
    refusals = [s.operation.refused for s in only(route + SHAFT).stages if s.operation.refused]
    assert "there is no centre in the left end" in refusals[0]


def test_a_slender_lever_with_two_balls_has_both_turned_while_the_bar_between_is_stout() -> None:
    """Its shank, 9 to 6 mm over 60, would leave the second ball 9.5 diameters out: the shank comes last, on a hollow centre."""
    text = """    outside:
      - ball: hub
      - cone: shank
      - ball: knob
    dimensions:
      hub diameter: 18
      knob diameter: 12
      hub centre to knob centre: 60
      shank diameter at hub centre: 9
      shank diameter at knob centre: 6
"""
    plan = only(text)
    assert not plan.refused
    order = [(s.operation.kind, s.operation.features) for s in plan.stages if s.operation.kind in ("ball", "taper")]
    balls = [k for k, (kind, _) in enumerate(order) if kind == "ball"]
    tapers = [k for k, (kind, _) in enumerate(order) if kind == "taper"]
    assert max(balls) < min(tapers)
    shank = next(s.operation.holding for s in plan.stages if s.operation.kind == "taper")
    assert shank.kind == "ball collet"
    assert shank.surface == "hub"
    assert "hollow centre in the tailstock on knob" in shank.device
    assert alike(plan, written_again(text, plan))


@pytest.mark.parametrize("name", ["tapping-stand", "ball-arm", "stepped-spindle"])
def test_no_holding_is_to_get_where_what_is_at_hand_does(name: str) -> None:
    job, _ = read_job((EXAMPLES / f"{name}.yaml").read_bytes(), "test.yaml")
    assert job is not None
    plan = plan_job(size_job(job), built_in_workshop(job.units))
    assert not [p.part for p in plan.parts if p.refused]
    assert not [line for line in plan.to_get if "steady" in line or "hollow centre" in line or "driving dog" in line]
