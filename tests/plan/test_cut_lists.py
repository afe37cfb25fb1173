"""Cut lists: sums worked by hand, and the depth that bending and power leave, against the textbook beam and P = F·v."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handwheel.job.records import Unit
from handwheel.plan.cuts import Deepest, Known, cuts_to, deepest_cut, with_cuts
from handwheel.plan.records import Makes, Move, Operation, PartPlan, Stage, Stock, Why
from handwheel.plan.springs import springs_of
from handwheel.stages.records import Cutter, Holding, NoCut, Section
from handwheel.tables.cutting import cutting_of
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import Workshop

SHOP = built_in_workshop(Unit.MM)
STEEL = "free-cutting mild steel"
KC11, M, E_GPA = 1200.0, 0.18, 205.0
"""Of free-cutting steel, as its table's source gives them."""


def kinds(found: tuple[tuple[float, str], ...]) -> list[tuple[float, str]]:
    return [(pytest.approx(off), kind) for off, kind in found]  # type: ignore[misc]


def test_seven_off_in_cuts_of_two_by_hand() -> None:
    """7 off: 0.5 for the two last, 6.5 in four cuts of 1.625."""
    found = cuts_to(7.0, 0.25, 2.0, is_measured=True, has_spring=False)
    assert list(found) == kinds(((1.625, "rough"), (3.25, "rough"), (4.875, "rough"), (6.5, "rough"),
                                 (6.75, "measure"), (7.0, "last")))  # fmt: skip


def test_little_to_come_off_is_two_equal_cuts_or_one() -> None:
    assert list(cuts_to(0.4, 0.25, 2.0, is_measured=True, has_spring=False)) == kinds(((0.2, "measure"), (0.4, "last")))
    assert list(cuts_to(0.2, 0.25, 2.0, is_measured=True, has_spring=True)) == kinds(((0.2, "last"), (0.2, "spring")))
    assert cuts_to(0.0, 0.25, 2.0, is_measured=True, has_spring=True) == ()


def test_a_size_without_limits_is_roughed_to() -> None:
    assert list(cuts_to(3.0, 0.25, 2.0, is_measured=False, has_spring=False)) == kinds(((1.5, "rough"), (3.0, "rough")))


@given(st.floats(0.01, 60.0), st.floats(0.05, 0.5), st.floats(0.1, 4.0), st.booleans(), st.booleans())
def test_no_cut_deeper_than_allowed_and_the_last_two_alike(
    taken: float, last: float, deepest: float, measured: bool, spring: bool
) -> None:
    found = cuts_to(taken, last, deepest, is_measured=measured, has_spring=spring)
    offs = [0.0, *(off for off, kind in found if kind != "spring")]
    steps = [b - a for a, b in zip(offs, offs[1:], strict=False)]
    assert offs[-1] == pytest.approx(taken)
    assert all(0.0 < step <= max(deepest, 1.125 * min(last, deepest)) + 1e-9 for step in steps)
    if [kind for _, kind in found if kind != "spring"][-2:] == ["measure", "last"]:
        assert steps[-1] == pytest.approx(steps[-2])
        assert steps[-1] <= 1.125 * last + 1e-9


def bar(diameter: float, left: float, right: float) -> Section:
    return Section(np.array([[left, diameter / 2], [right, diameter / 2]]), np.array([[left, 0.0], [right, 0.0]]))


def turned(diameter: float, out: float, kind: str = "turn", start: float = 1.0, tolerance: float | None = 0.04) -> Stage:
    """A bar held up to z 0, `out` long, turned from `start` more."""
    holding = Holding("three-jaw", "three-jaw", -30.0, 0.0, "stock", "right", 0.0)
    limits = (None, None) if tolerance is None else (diameter - tolerance / 2, diameter + tolerance / 2)
    move = Move("cross slide", "in", "touched", start / 2, Makes("stem diameter", diameter, *limits, True))
    cutter = Cutter("knife tool", "knife", np.array([[0.0, 0.0], [5.0, 0.0], [5.0, 9.0]]))
    operation = Operation(10, "pin", kind, "A1", holding, cutter, NoCut(), "right end", out, Why("r", ("stem",), "w"), "",
                          moves=(move,))  # fmt: skip
    return Stage(operation, bar(diameter + start, -30.0, out), bar(diameter, -30.0, out))


def deepest(stage: Stage, material: str, speed: float | None, shop: Workshop) -> Deepest:
    cutting = cutting_of(material)
    return deepest_cut(stage, springs_of(stage, cutting, shop), Known(cutting, speed), shop)


def without_power(shop: Workshop = SHOP) -> Workshop:
    return replace(shop, lathe=replace(shop.lathe, power_w=None))


def test_depth_by_bending_is_the_textbook_cantilever_s() -> None:
    """Ø 6, 48 out: F·L³/3EI on the radius, twice that on the diameter, a quarter millimetre of it: half of what is left."""
    diameter, out = 6.0, 48.0
    give = out**3 / (3.0 * E_GPA * 1e3 * math.pi * diameter**4 / 64.0) * (1.0 + 0.54 * (diameter / out) ** 2)
    feed = SHOP.habit("rough feed")
    push_per_mm = KC11 * feed ** (1.0 - M)  # as much as the whole main force
    depth_radius = 0.5 * SHOP.habit("rough allowance") / (2.0 * give * push_per_mm)
    found = deepest(turned(diameter, out), STEEL, None, without_power())
    assert found.limited_by == "what the work bends"
    assert found.mm == pytest.approx(max(2.0 * depth_radius, SHOP.habit("last cut")), rel=1e-3)
    assert 2.0 * depth_radius > SHOP.habit("last cut")


def test_last_cut_bends_between_a_quarter_and_the_whole_force() -> None:
    give = 48.0**3 / (3.0 * E_GPA * 1e3 * math.pi * 6.0**4 / 64.0) * (1.0 + 0.54 * (6.0 / 48.0) ** 2)
    force = KC11 * SHOP.habit("last cut") / 2.0 * SHOP.habit("fine feed") ** (1.0 - M)
    bends = deepest(turned(6.0, 48.0), STEEL, None, without_power()).bends_mm
    assert bends == pytest.approx((2.0 * give * 0.25 * force, 2.0 * give * force), rel=1e-3)


def test_depth_by_power_by_hand() -> None:
    """60 W at 30 m/min is 120 N; twice the table's force counts: 60 N by the table, 1200 · depth · 0.1^0.82."""
    weak = replace(SHOP, lathe=replace(SHOP.lathe, power_w=60.0))
    found = deepest(turned(40.0, 20.0), STEEL, 30.0, weak)
    assert found.mm == pytest.approx(2.0 * 60.0 / (KC11 * SHOP.habit("rough feed") ** (1.0 - M)), rel=1e-6)
    assert found.limited_by == "the lathe's power"
    unknown = deepest(turned(40.0, 20.0), STEEL, None, weak)  # no surface speed: nothing said of power
    assert unknown.limited_by == "the habit 'greatest cut'"


def test_a_stout_bar_is_held_by_the_habit_and_an_unknown_material_too() -> None:
    for material in (STEEL, "unobtainable"):
        found = deepest(turned(40.0, 20.0), material, None, without_power())
        assert (found.mm, found.limited_by) == (SHOP.habit("greatest cut"), "the habit 'greatest cut'")


def listed(stage: Stage, material: str = STEEL) -> list[str]:
    stock = Stock("round", 20.0, 60.0, "bar", True, 0.0)
    plan = with_cuts(PartPlan("pin", 1, stock, stage.after, (stage,)), material, SHOP)
    cuts = plan.stages[0].operation.moves[0].cuts
    return [] if cuts is None else [cut.kind for cut in cuts.passes]


def test_a_cut_without_feed_where_bending_takes_more_than_a_quarter_of_the_limits() -> None:
    assert listed(turned(6.0, 48.0, tolerance=0.02))[-1] == "spring"
    assert listed(turned(40.0, 20.0, tolerance=0.02))[-1] == "last"
    assert "spring" not in listed(turned(6.0, 48.0, tolerance=0.02), "unobtainable")  # not known: nothing is claimed


def test_a_groove_is_plunged_to_its_last_cuts() -> None:
    assert listed(turned(20.0, 20.0, "groove", start=12.0)) == ["rough", "measure", "last"]


def test_what_is_not_turned_has_no_list() -> None:
    assert listed(turned(20.0, 20.0, "knurl")) == []


def test_a_thick_facing_is_taken_in_cuts_of_half_the_greatest() -> None:
    """2.6 thick, a millimetre at the most: three."""
    stage = turned(20.0, 20.0)
    move = Move("carriage", "toward the headstock", "touched", 2.6)
    faced = replace(stage, operation=replace(stage.operation, kind="face", moves=(move,)))
    plan = with_cuts(PartPlan("pin", 1, Stock("round", 20.0, 60.0, "bar", True, 0.0), stage.after, (faced,)), STEEL, SHOP)
    assert plan.stages[0].operation.moves[0].note == "in 3 cuts"
