"""Cuts into holes and holes wider than their way in: metal by closed form, the bar that gets there, and true refusals."""

from __future__ import annotations

import math

import pytest

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.records import Operation, PartPlan
from handwheel.plan.route import plan_job
from handwheel.stages.metal import volume_mm3
from handwheel.workshop.read import built_in_workshop

METRIC = built_in_workshop(Unit.MM)
BODY = """handwheel: 1
job: Body
units: mm
parts:
  body:
    material: free-cutting mild steel
    outside:
      - cylinder: body
    inside:
INSIDE
    dimensions:
      body diameter: 28
SIZES
"""
RING = """      from right:
        - {hole: eye, through: yes, finish: bored}
        - {groove: oil, in: eye}"""
CHAMBER = """      from right:
        - {hole: way, finish: bored, bottom: flat}
        - {bore: room}"""


def planned(inside: str, *sizes: str) -> PartPlan:
    text = BODY.replace("INSIDE", inside).replace("SIZES", "\n".join(f"      {s}" for s in sizes))
    job, faults = read_job(text.encode(), "job.yaml")
    assert job is not None, faults
    drawing = size_job(job)
    assert not drawing.faults, drawing.faults
    return plan_job(drawing, METRIC).parts[0]


def kinds(plan: PartPlan) -> list[str]:
    return [s.operation.kind for s in plan.stages]


def one(plan: PartPlan, name: str, kind: str) -> Operation:
    (found,) = [s.operation for s in plan.stages if name in s.operation.features and s.operation.kind == kind]
    return found


def test_a_groove_in_a_bore_takes_its_ring_of_metal() -> None:
    plan = planned(RING, "overall length: 14", "eye diameter: 16", "oil left to right end: 10", "oil width: 3",
                   "oil diameter: 19")  # fmt: skip
    assert not plan.refused
    (stage,) = [s for s in plan.stages if s.operation.kind == "groove"]
    ring = math.pi * (9.5**2 - 8.0**2) * 3.0
    assert volume_mm3(stage.before) - volume_mm3(stage.after) == pytest.approx(ring, rel=1e-9)
    across, along = (next(m for m in stage.operation.moves if m.wheel == w) for w in ("cross slide", "carriage"))
    assert (across.way, across.exact_mm) == ("out", pytest.approx(1.5))
    assert along.exact_mm == pytest.approx(10.0)  # the groove's far edge, from the right end
    assert across.makes is not None
    assert across.makes.value_mm == pytest.approx(19.0)
    assert kinds(plan).index("groove") > kinds(plan).index("bore")
    assert volume_mm3(plan.stages[-1].after) == pytest.approx(math.pi * (14**2 - 8**2) * 14 - ring, rel=1e-9)


def test_a_groove_too_deep_for_its_hole_has_no_bar() -> None:
    # Ø 8 with a nose 6.5 out: 8 - 6.5 - 0.5 leaves 1 mm of bar for 12 of reach
    plan = planned(RING, "overall length: 14", "eye diameter: 8", "oil left to right end: 12", "oil width: 3",
                   "oil diameter: 21")  # fmt: skip
    assert "nose stands out 6.500 mm is 1.000 mm thick at most, and has to stand out 12.000 mm" in plan.refused


def test_a_knurl_in_a_hole_is_refused_with_the_reason() -> None:
    plan = planned("      from right:\n        - {hole: eye, through: yes}\n"
                   "        - {knurl: grip, in: eye, kind: straight 0.8 mm}",
                   "overall length: 14", "eye diameter: 16")  # fmt: skip
    assert "knurling wheels do not go into a hole" in plan.refused
    assert plan.would_do


def test_a_chamber_is_bored_through_its_narrower_way_in() -> None:
    plan = planned(CHAMBER, "overall length: 30", "way diameter: 12", "way depth: 8", "room diameter: 16", "room depth: 18")
    assert not plan.refused
    bored = one(plan, "room", "bore")
    assert "9.500 mm thick" in bored.cutter.name  # 12 less the nose's 2 less 0.5
    assert not bored.cutter.owned
    wanted = math.pi * (14**2 * 30 - 6**2 * 8 - 8**2 * 10)
    assert volume_mm3(plan.stages[-1].after) == pytest.approx(wanted, rel=1e-9)
    for stage in plan.stages:  # the drill for the chamber leaves its finished way in alone
        if stage.operation.kind == "drill" and "room" in stage.operation.features:
            assert float(stage.operation.cutter.outline[:, 1].max()) < 6.0


def test_a_chamber_deep_behind_a_narrow_way_is_refused() -> None:
    plan = planned(CHAMBER, "overall length: 60", "way diameter: 8", "way depth: 35", "room diameter: 13", "room depth: 50")
    assert "mouth of Ø 8.000 mm" in plan.refused
    assert "wider mouth" in plan.would_do


def test_a_drilled_point_cannot_be_wider_than_its_way_in() -> None:
    plan = planned(CHAMBER.replace("bore: room", "hole: room"), "overall length: 30", "way diameter: 12", "way depth: 8",
                   "room diameter: 16", "room depth: 18")  # fmt: skip
    assert "no drill's point gets there" in plan.refused


@pytest.mark.parametrize("through", ["left", "right"])
def test_countersinks_on_both_sides_of_one_hole(through: str) -> None:
    near, far = ("cr", "cl") if through == "right" else ("cl", "cr")
    other = "left" if through == "right" else "right"
    inside = (f"      from {other}:\n        - {{countersink: {far}}}\n"
              f"      from {through}:\n        - {{countersink: {near}}}\n        - {{hole: eye, through: yes}}")  # fmt: skip
    plan = planned(inside, "overall length: 24", "eye diameter: 6", "cl diameter: 10", "cl included angle: 90 deg",
                   "cr diameter: 12", "cr included angle: 90 deg")  # fmt: skip
    assert not plan.refused
    assert kinds(plan).count("drill") == 1  # right through from the bar, whichever end it is drawn from
    cones = sum(math.pi * h * (r * r + 3 * r + 9) / 3 - math.pi * 9 * h for r, h in ((5.0, 2.0), (6.0, 3.0)))
    wanted = math.pi * (14**2 - 9) * 24 - cones
    assert volume_mm3(plan.stages[-1].after) == pytest.approx(wanted, rel=1e-9)


def test_a_tapered_bore_right_through_keeps_its_taper() -> None:
    """1 in 20 from Ø 14 over 30: Ø 12.5 at the far end."""
    plan = planned("      from left:\n        - {bore: seat, cone: yes, taper: 1 in 20, through: yes}",
                   "overall length: 30", "seat left diameter: 14")  # fmt: skip
    assert not plan.refused
    cone = math.pi * 30 / 3 * (7.0**2 + 7.0 * 6.25 + 6.25**2)
    assert volume_mm3(plan.stages[-1].after) == pytest.approx(math.pi * 14**2 * 30 - cone, rel=1e-9)


def test_counterbores_on_both_sides() -> None:
    plan = planned("      from left:\n        - {counterbore: ca, bottom: flat}\n      from right:\n"
                   "        - {counterbore: cb, bottom: flat}\n        - {hole: eye, through: yes}",
                   "overall length: 20", "eye diameter: 6", "ca diameter: 10", "ca depth: 4", "cb diameter: 12",
                   "cb depth: 5")  # fmt: skip
    assert not plan.refused
    assert kinds(plan).count("drill") == 1
    wanted = math.pi * (14**2 * 20 - 5**2 * 4 - 6**2 * 5 - 3**2 * 11)
    assert volume_mm3(plan.stages[-1].after) == pytest.approx(wanted, rel=1e-9)


def test_the_groove_of_a_written_route_is_cut_by_its_name() -> None:
    route = """
    route:
      - {hold: three-jaw on stock, to tailstock: right}
      - face: right end
      - centre: eye
      - drill: eye
      - bore: eye
      - groove: oil
      - turn: body
      - part off: left end
"""
    sizes = ("overall length: 14", "eye diameter: 16", "oil left to right end: 10", "oil width: 3", "oil diameter: 19")
    text = BODY.replace("INSIDE", RING).replace("SIZES", "\n".join(f"      {s}" for s in sizes))
    job, faults = read_job((text.rstrip() + route).encode(), "job.yaml")
    assert job is not None, faults
    plan = plan_job(size_job(job), METRIC).parts[0]
    assert [s.operation.refused for s in plan.stages if s.operation.refused] == []
    assert "groove" in kinds(plan)
