"""One slender shaft held four ways: what bending makes of its last cuts, by textbook beams written out here.

Free-cutting steel, 1200 N/mm² and 0.18 (Kienzle), 205 GPa; 0.25 off the diameter at 0.05 a turn: F = 150·0.05^0.82, a quarter
of it to the whole pushes apart; a quarter of the limits may go. Common practice gives the habits their values.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.records import CutList, Move, Plan, Stage
from handwheel.plan.route import plan_job
from handwheel.readings.of import readings_of
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import Workshop

SHOP = built_in_workshop(Unit.MM)
E_MPA = 205e3
LAST_N = 1200.0 * 0.25 / 2.0 * 0.05**0.82
JOB = """handwheel: 1
job: Slender shaft
units: mm
parts:
  shaft:
    material: MATERIAL
    stock: round 12
    outside:
      - cylinder: shank
      - cylinder: head
    dimensions:
      shank diameter: 10 ± TOLERANCE
      shank length: LENGTH
      head diameter: 11.4 ± 0.1
      head length: 8
    route:
"""
BAR = "{hold: three-jaw on stock, to tailstock: left}"
SECOND = ("saw: right end", "{hold: collet on shank, to tailstock: right}", "face: right end")
TURNED = ("turn: shank", "turn: head")
ROUTES = {
    "chuck": (BAR, "face: left end", *TURNED, *SECOND),
    "centre": (BAR, "face: left end", "centre: left end", "{support: centre}", *TURNED, *SECOND),
    "between centres": (
        "{hold: three-jaw on stock, to tailstock: right}", "face: right end", "centre: right end", BAR, "face: left end",
        "centre: left end", "{hold: between centres on stock, to tailstock: left}", *TURNED, "stub off: left end",
        "stub off: right end"),
    "steady": (BAR, "face: left end", "centre: left end", "{support: centre}", "{support: travelling steady}", *TURNED, *SECOND),
}  # fmt: skip


def planned(way: str, length: float, tolerance: str, material: str = "free-cutting mild steel", shop: Workshop = SHOP) -> Plan:
    text = JOB.replace("LENGTH", f"{length:g}").replace("TOLERANCE", tolerance).replace("MATERIAL", material)
    job, faults = read_job((text + "\n".join(f"      - {step}" for step in ROUTES[way])).encode(), "shaft.yaml")
    assert job is not None, faults
    return plan_job(size_job(job), shop)


def shank(plan: Plan) -> tuple[Stage, Move, CutList]:
    stage = next(s for s in plan.parts[0].stages if s.operation.kind == "turn" and "shank" in s.operation.why.features)
    move = next(m for m in stage.operation.moves if m.cuts is not None)
    assert move.cuts is not None
    return stage, move, move.cuts


def moment(d: float) -> float:
    return math.pi * d**4 / 64


def shear(d: float, length: float) -> float:
    """kL/GA, k 10/9, G = E / 2.6."""
    return 10 / 9 * length * 2.6 / (E_MPA * math.pi / 4 * d**2)


def test_the_chuck_alone() -> None:
    """A stepped cantilever, Ø 12 out of the jaws and then 28 of Ø 10: (L³ - b³)/I₁ + b³/I₂ over 3E (handbook), and shear."""
    stage, _, cuts = shank(planned("chuck", 28.0, "0.004"))
    holding = stage.operation.holding
    out = abs(holding.face_mm - 0.0)
    b = 28.0
    give = ((out**3 - b**3) / moment(12) + b**3 / moment(10)) / (3 * E_MPA) + shear(12, out - b) + shear(10, b)
    assert cuts.bends_mm == pytest.approx((2 * give * LAST_N / 4, 2 * give * LAST_N), rel=0.01)
    assert cuts.share is not None  # 0.004 of 0.008
    assert cuts.share.may_mm == pytest.approx(0.002)
    worst = 0.25 * 0.002 / (2 * give * LAST_N)
    assert cuts.share.reached_mm == pytest.approx((worst, 4 * worst), rel=0.01)
    assert cuts.share.last_mm == pytest.approx(worst, rel=0.01)
    assert [cut.kind for cut in cuts.passes] == ["rough", "measure", "last", "spring"]
    steps = [b.leaves_mm - a.leaves_mm for a, b in zip(cuts.passes, cuts.passes[1:], strict=False)]
    assert steps[-2] == pytest.approx(-worst, rel=0.01)


def test_wide_limits_leave_the_habit_s_last_cut() -> None:
    _, _, cuts = shank(planned("chuck", 28.0, "0.05"))
    assert cuts.share is None
    assert [cut.kind for cut in cuts.passes] == ["rough", "measure", "last"]


def test_between_centres() -> None:
    """The middle of the shank lies near that of the bar between its centres, so the plain bars of Ø 10 and of Ø 12 bound it."""
    stage, _, cuts = shank(planned("between centres", 60.0, "0.004"))
    holding = stage.operation.holding
    assert holding.centre_mm is not None
    assert holding.headstock_centre_mm is not None
    length = abs(holding.centre_mm - holding.headstock_centre_mm)
    least, most = (length**3 / (48 * E_MPA * moment(d)) for d in (12, 10))
    assert cuts.bends_mm is not None
    assert 2 * least * LAST_N < cuts.bends_mm[1] < 1.1 * 2 * most * LAST_N
    assert cuts.share is not None
    assert cuts.passes[-1].kind == "spring"


@pytest.mark.parametrize(("way", "is_slight"), [("centre", True), ("steady", True), ("between centres", False)])
def test_a_centre_or_steady_leaves_the_last_cut_as_it_is(way: str, is_slight: bool) -> None:
    plan = planned(way, 60.0, "0.004")
    assert not plan.parts[0].refused
    assert (shank(plan)[2].share is None) is is_slight


def test_a_travelling_steady_is_not_reckoned() -> None:
    assert shank(planned("steady", 60.0, "0.004"))[2].bends_mm is None


def test_too_slender_for_the_chuck_alone_is_refused_and_a_lighter_last_cut_named() -> None:
    """7 to 1, and 0.027 in a last cut of 0.25: a quarter of 0.03 is 0.0075, which 0.0075/0.027 of that cut would reach."""
    plan = planned("chuck", 60.0, "0.015")
    refused = next(c for c in plan.checks if c.check == "overhang" and c.is_fault)
    assert "is the most without a centre" in refused.found
    assert "last cuts of 0.069 mm (habit 'last cut')" in refused.do
    assert not readings_of(plan, SHOP).get(("shaft", refused.operation))


def test_what_the_list_says() -> None:
    plan = planned("chuck", 28.0, "0.004")
    notes = [r.cuts_note for several in readings_of(plan, SHOP).values() for r in several]
    note = next(note for note in notes if "last cuts light" in note)
    assert "its share of the limits" in note
    assert "the chuck's own give not counted" in note


def test_an_unknown_metal_is_not_reckoned() -> None:
    _, _, cuts = shank(planned("chuck", 28.0, "0.004", "a metal"))
    assert cuts.bends_mm is None
    assert cuts.share is None


def test_the_lines_of_the_wheel_take_no_more_than_that() -> None:
    """Rounded down to half a line of 0.02: 0.115 off the diameter is 5.7 half lines on the radius, so 5 of them, 0.10."""
    plan = planned("chuck", 28.0, "0.004")
    share = shank(plan)[2].share
    assert share is not None
    rows = next(r.cuts for several in readings_of(plan, SHOP).values() for r in several if "last cuts light" in r.cuts_note)
    left = {row.kind: row.leaves_mm for row in rows}
    assert left["measure"] - left["last"] == pytest.approx(0.10)
    assert left["measure"] - left["last"] <= share.last_mm
    assert left["spring"] == left["last"]


def test_a_chuck_s_give_that_was_measured_is_counted() -> None:
    """0.0001 mm for a newton, twice on the diameter, beside what the beam gives."""
    chucks = tuple(replace(c, give_mm_per_n=1e-4) if c.kind == "three-jaw" else c for c in SHOP.chucks)
    plan = planned("chuck", 28.0, "0.004", shop=replace(SHOP, chucks=chucks))
    stiff, soft = shank(planned("chuck", 28.0, "0.004"))[2].bends_mm, shank(plan)[2].bends_mm
    assert stiff is not None
    assert soft is not None
    assert soft[1] - stiff[1] == pytest.approx(2e-4 * LAST_N)
    assert all("own give not counted" not in r.cuts_note for several in readings_of(plan, SHOP).values() for r in several)
