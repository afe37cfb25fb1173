"""What is made to its mate's size as made: the sums, and the mate first in the order of work."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handwheel.plan.mates import with_late_told
from handwheel.plan.order import share_set_ups
from handwheel.plan.records import Operation, Plan
from handwheel.workshop.records import Workshop

from .test_route_rules import METRIC, planned
from .test_threads_and_joints import PAIR, numbers

FINE_GAUGE = replace(METRIC, gauges=tuple(
    replace(g, error_mm=0.004) if "inside" in g.measures else g for g in METRIC.gauges))  # fmt: skip
SUIT = """handwheel: 1
job: Suit
units: mm
parts:
  pin:
    material: silver steel
    outside:
      - {cylinder: head, diameter: 16, length: 10}
      - {cylinder: spigot, length: 12}
    dimensions:
      spigot diameter: to suit eye diameter of hub - 0.02 mm ± 0.005 mm
  hub:
    material: bronze
    outside:
      - {cylinder: body, diameter: 24, length: 12}
    inside:
      from left:
        - {hole: eye, diameter: 10 H7, through: yes, finish: reamed}
"""


def turned(plan: Plan, part: str = "pin", size: str = "spigot diameter") -> Operation:
    stages = next(p for p in plan.parts if p.part == part).stages
    return next(s.operation for s in stages if any(m.makes and m.makes.phrase == size for m in s.operation.moves))


def reamed(plan: Plan) -> Operation:
    return next(s.operation for p in plan.parts for s in p.stages if p.part == "hub" and s.operation.kind == "ream")


def place(plan: Plan, operation: Operation) -> int:
    return [(step.part, step.number) for step in plan.order].index((operation.part, operation.number))


@pytest.mark.parametrize("text", [PAIR.replace("SHAFT", "h7"), PAIR.replace("SHAFT", "s6"), SUIT], ids=["bond", "press", "suit"])
def test_the_hole_is_made_before_what_is_turned_to_it(text: str) -> None:
    plan = planned(text, METRIC)
    assert turned(plan).after_sizes == (("hub", reamed(plan).number),)
    assert place(plan, reamed(plan)) < place(plan, turned(plan))


@pytest.mark.parametrize(
    ("text", "less"),
    [(PAIR.replace("SHAFT", "h7"), 0.03),  # the habit's gap
     (PAIR.replace("SHAFT", "s6"), -0.02),  # ISO 286-2 at 10 mm: 0.008 to 0.032 tight
     (SUIT, 0.02)],
)  # fmt: skip
def test_the_sum_from_the_hole_comes_first_and_the_last_cut_goes_by_it(text: str, less: float) -> None:
    operation = turned(planned(text, METRIC))
    first, *others = operation.sums
    assert first.measured.startswith("eye of hub as measured")
    assert first.wanted_mm == pytest.approx(less)
    assert first.result.startswith("spigot diameter to turn")
    own = [s for s in others if s.measured == "spigot diameter as measured"]
    assert [(s.carried, s.limits_mm, s.wheel) for s in own] == [(True, None, "cross slide")]
    move = next(m for m in operation.moves if m.makes and m.makes.phrase == "spigot diameter")
    assert "goes by the mate as measured" in move.note


@pytest.mark.parametrize(("shop", "within"), [(METRIC, None), (FINE_GAUGE, 0.006)])
def test_how_far_off_it_may_come(shop: Workshop, within: float | None) -> None:
    """A third of 0.03 each way, less the gauge's error: nothing left with ± 0.03, 0.006 with ± 0.004."""
    first = turned(planned(PAIR.replace("SHAFT", "h7"), shop)).sums[0]
    assert ("by a plug" in first.measured) == (within is None)
    assert numbers(first.result.partition("±")[2]) == ([] if within is None else [within])


def test_a_measured_reamer_tells_the_hole_and_the_spigot() -> None:
    """Reamer 10.008, cutting up to 0.01 over: 10.008 to 10.018, over H7's 10.015; gap 0.02 to 0.04 at both ends."""
    tools = tuple(replace(t, cuts_mm=10.008) if (t.kind, t.diameter_mm) == ("reamer", 10.0) else t for t in METRIC.round_tools)
    plan = planned(PAIR.replace("SHAFT", "h7"), replace(METRIC, round_tools=tools))
    bond = next(s.operation for p in plan.parts for s in p.stages if s.operation.kind == "bond")
    told = dict(bond.figures)["hole expected"]
    assert numbers(told) == pytest.approx([10.008, 10.018, 10.008, 10.015, 9.978, 9.988])
    plain = next(s.operation for p in planned(PAIR.replace("SHAFT", "h7"), METRIC).parts for s in p.stages
                 if s.operation.kind == "bond")  # fmt: skip
    assert dict(plain.figures)["hole expected"].startswith("reamer not measured")


def test_two_that_wait_for_each_other_are_told_what_to_do() -> None:
    """A hub whose reaming waits for the pin's turning, which waits for the reaming: no order has both."""
    plan = planned(PAIR.replace("SHAFT", "h7"), METRIC)
    spigot, hole = turned(plan), reamed(plan)
    knotted = tuple(
        replace(p, stages=tuple(
            replace(s, operation=replace(s.operation, after_sizes=(("pin", spigot.number),)))
            if (s.operation.part, s.operation.number) == ("hub", hole.number) else s for s in p.stages))
        for p in plan.parts
    )  # fmt: skip
    parts, _, order, _ = share_set_ups(knotted)
    every = [s.operation for p in with_late_told(parts, order, METRIC) for s in p.stages]
    told = [operation for operation in every if "is made after this" in operation.note]
    assert len(told) == 1
    assert "leave 0.500 mm on the diameter here" in told[0].note
    assert not [s for p in plan.parts for s in p.stages if "is made after this" in s.operation.note]


def test_what_waiting_costs_is_said() -> None:
    """bar, vice serve all; where the pin's spigot waits for the eye made in the vice, the bar's set-up is made again."""
    plan = planned(PAIR.replace("SHAFT", "h7"), METRIC)
    hole = reamed(plan)
    keyed = tuple(
        replace(p, stages=tuple(
            replace(s, operation=replace(
                s.operation, after_parts=(),
                set_up="vice" if (p.part == "hub" and s.operation.number >= hole.number) else "bar")) for s in p.stages))
        for p in plan.parts
    )  # fmt: skip
    free = tuple(replace(p, stages=tuple(replace(s, operation=replace(s.operation, after_sizes=())) for s in p.stages))
                 for p in keyed)  # fmt: skip
    _, many, _, said = share_set_ups(keyed)
    _, few, _, plainly = share_set_ups(free)
    assert (len(few), len(many)) == (2, 3)
    assert "1 of them because what is made to a mate's size waits" in said
    assert "waits" not in plainly


GRUB = (
    PAIR.replace("SHAFT", "h7")
    .replace("material: silver steel", "material: silver steel\n    across:\n      - {flat: seat, on: spigot}")
    .replace("material: bronze", "material: bronze\n    across:\n      - {hole: grub, on: body, thread: M4, into: eye}")
    .replace("assemblies:", "    dimensions:\n      left end to grub centre: GRUB_AT\nassemblies:")
    .replace("  hub:", "    dimensions:\n      seat from axis: 4.5\n      seat length: 6\n"
             "      head right to seat left: 3\n  hub:")
)


def made(plan: Plan, part: str, feature: str) -> list[Operation]:
    return [s.operation for p in plan.parts if p.part == part for s in p.stages if feature in s.operation.features]


def test_the_flat_for_a_grub_screw_is_placed_by_trial_after_its_hole() -> None:
    plan = planned(GRUB.replace("GRUB_AT", "6"), METRIC)
    tapped, flat = made(plan, "hub", "grub")[-1], made(plan, "pin", "seat")[-1]
    assert not tapped.refused
    assert not flat.refused
    assert "nip the screw to mark" in flat.note
    assert (tapped.part, tapped.number) in flat.after_sizes
    assert place(plan, tapped) < place(plan, flat)
    bond = next(s.operation for p in plan.parts for s in p.stages if s.operation.kind == "bond")
    assert place(plan, flat) < place(plan, bond)
    assert dict(bond.figures)["grub screw"].startswith("grub, M4: put on home")


def test_a_joint_without_a_grub_screw_tells_of_none() -> None:
    plan = planned(PAIR.replace("SHAFT", "h7"), METRIC)
    assert not [f for p in plan.parts for s in p.stages for f in s.operation.figures if f[0] == "grub screw"]


def test_a_size_that_goes_by_its_mate_stops_to_measure_though_it_has_no_limits_of_its_own() -> None:
    """Two equal last cuts of the habit's 0.25 mm on the diameter, the stop between them."""
    plan = planned(SUIT.replace(" ± 0.005 mm", "").replace("eye, diameter: 10 H7", "eye, diameter: 10"), METRIC)
    move = next(m for m in turned(plan).moves if m.makes and m.makes.phrase == "spigot diameter")
    assert move.makes is not None
    assert move.makes.working_low_mm is None
    assert move.cuts is not None
    assert [one.kind for one in move.cuts.passes][-2:] == ["measure", "last"]
    leaves = [one.leaves_mm for one in move.cuts.passes]
    assert leaves[-1] == pytest.approx(9.98)
    assert leaves[-2] - leaves[-1] == pytest.approx(0.25)
    assert leaves[-3] - leaves[-2] == pytest.approx(0.25)
