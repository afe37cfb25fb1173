"""Cut lists: how a diameter is come to from the touch, each cut as a travel from that one zero.

Roughing in equal cuts no deeper than the habit, the bending of the work and the lathe's power allow; then two equal last
cuts with a stop to measure between them, so that the cut that matters is like the one just measured; then, where work or
bar is slender, the same line once more. Bending after stages/bending.py, force after Kienzle (tables/cutting.py), each as
a range: a cut is held to what its greater end allows. That may forbid a cut, it does not say that a lesser one will do.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from handwheel.base.tolerance import EQUAL_MM
from handwheel.plan.records import CutList, Move, Operation, PartPlan, Pass, Stage
from handwheel.stages.bending import worst_give
from handwheel.stages.envelope import aligned
from handwheel.stages.records import Holding
from handwheel.tables.cutting import Cutting, cutting_of
from handwheel.workshop.records import Workshop

LISTED = ("turn", "taper", "groove", "bore")
PLACES = 9
"""Places along the cut at which bending is looked at."""
ROUGH_SHARE = 0.5
"""Of the metal that roughing leaves on the diameter, that bending may put there: common practice, no source."""
SPRING_SHARE = 0.25
"""Of the limits, from one to the other, that bending may take before a cut without feed: common practice, no source."""
DOUBLE = 2.0
"""The main force counts as up to twice the table's value; what pushes apart is a range already."""
BAR_SLENDER = 4.0
"""A steel boring bar that stands out more than this many of its own thickness: common practice."""
SMALL_SHARE = 0.25
"""A roughing cut less than this share of a last cut is not worth a pass of its own."""
HABIT = "the habit 'greatest cut'"


@dataclass(frozen=True, slots=True)
class Deepest:
    """The most off the diameter at one cut, and what limits it; what bending puts on the diameter in a last cut. [mm]"""

    mm: float
    limited_by: str
    bends_mm: tuple[float, float] | None = None


def with_cuts(plan: PartPlan, material: str, shop: Workshop) -> PartPlan:
    """The plan with a cut list at every diameter that is turned or bored to."""
    cutting = cutting_of(material)
    known = next((m.surface_speed_m_min for m in shop.materials if m.name == material), None)
    return replace(plan, stages=tuple(_stage(stage, cutting, known, shop) for stage in plan.stages))


def cuts_to(
    taken_mm: float, last_mm: float, deepest_mm: float, *, is_measured: bool, has_spring: bool
) -> tuple[tuple[float, str], ...]:
    """What is off the diameter after each cut, and the cut's kind.

    Parameters
        taken_mm: all that comes off the diameter. [mm]
        last_mm: what each last cut takes off it where there is so much. [mm]
        deepest_mm: the most at one cut. [mm]
        is_measured: whether the size has limits; without, it is roughed to in equal cuts.
        has_spring: whether the last line is cut once more without feeding in.
    """
    if taken_mm <= EQUAL_MM:
        return ()
    if not is_measured:
        count = _count(taken_mm, deepest_mm)
        return tuple((taken_mm * (k + 1) / count, "rough") for k in range(count))
    each = min(last_mm, deepest_mm, taken_mm / 2.0)
    spring = ((taken_mm, "spring"),) if has_spring else ()
    if taken_mm <= min(last_mm, deepest_mm) + EQUAL_MM:
        return ((taken_mm, "last"), *spring)
    rough = taken_mm - 2.0 * each
    if rough < SMALL_SHARE * each:
        each, rough = taken_mm / 2.0, 0.0
    count = _count(rough, deepest_mm) if rough > 0.0 else 0
    roughed = tuple((rough * (k + 1) / count, "rough") for k in range(count))
    return (*roughed, (rough + each, "measure"), (taken_mm, "last"), *spring)


def _count(taken: float, deepest: float) -> int:
    return max(1, math.ceil(taken / deepest - 1e-9))


def _stage(stage: Stage, cutting: Cutting | None, speed: float | None, shop: Workshop) -> Stage:
    operation = stage.operation
    if operation.kind == "face":
        return replace(stage, operation=replace(operation, moves=tuple(_faced(move, shop) for move in operation.moves)))
    if operation.kind not in LISTED:
        return stage
    moves = tuple(_move(move, stage, cutting, speed, shop) for move in operation.moves)
    return stage if moves == operation.moves else replace(stage, operation=replace(operation, moves=moves))


def _faced(move: Move, shop: Workshop) -> Move:
    """A facing cut that is too thick for one, with how many it takes."""
    count = _count(move.exact_mm, shop.habit("greatest cut") / 2.0) if move.exact_mm > EQUAL_MM else 1
    return move if count == 1 else replace(move, note="; ".join(filter(None, (move.note, f"in {count} cuts"))))


def _move(move: Move, stage: Stage, cutting: Cutting | None, speed: float | None, shop: Workshop) -> Move:
    makes = move.makes
    if move.wheel != "cross slide" or makes is None or not makes.is_diameter or move.way not in ("in", "out"):
        return move
    if move.exact_mm <= EQUAL_MM:
        return move
    sense = 1.0 if move.way == "out" else -1.0
    start = makes.value_mm - sense * 2.0 * move.exact_mm
    limits = None if makes.working_low_mm is None or makes.working_high_mm is None else (
        makes.working_high_mm - makes.working_low_mm)  # fmt: skip
    deepest = deepest_cut(stage, cutting, speed, shop)
    spring = limits is not None and _springs(stage, deepest, limits, shop)
    found = cuts_to(2.0 * move.exact_mm, shop.habit("last cut"), deepest.mm,
                    is_measured=limits is not None, has_spring=spring)  # fmt: skip
    passes = tuple(Pass(off / 2.0, start + sense * off, kind) for off, kind in found)
    return replace(move, cuts=CutList(passes, deepest.mm, deepest.limited_by, shop.habit("rough feed"),
                                      shop.habit("fine feed"), deepest.bends_mm))  # fmt: skip


def deepest_cut(stage: Stage, cutting: Cutting | None, speed: float | None, shop: Workshop) -> Deepest:
    """What habit, bending and power allow of one cut. speed: the material's surface speed, None where not known. [m/min]"""
    operation = stage.operation
    if operation.kind == "groove":  # plunged: no slice of a stated depth, its width is the tool's
        return Deepest(math.inf, "plunged to the last cuts")
    habit = shop.habit("greatest cut")
    found = Deepest(habit, HABIT)
    if operation.kind == "bore":
        slim = bar_slimness(operation, stage, shop)
        return found if slim is not None and slim <= BAR_SLENDER else Deepest(habit / 2.0, "a slender boring bar")
    if cutting is None:
        return found
    rough, fine = shop.habit("rough feed"), shop.habit("fine feed")
    give = _give(stage, cutting)
    low, high = cutting.push_n(shop.habit("last cut") / 2.0, fine)
    bends = (2.0 * give * low, 2.0 * give * high) if give > 0.0 else None
    least = shop.habit("last cut")
    bent = math.inf if give <= 0.0 else ROUGH_SHARE * shop.habit("rough allowance") / (
        give * cutting.push_n(1.0, rough)[1])  # fmt: skip
    pulled = math.inf
    if shop.lathe.power_w is not None and speed:
        pulled = 2.0 * shop.lathe.power_w * 60.0 / (cutting.force_n(1.0, rough) * DOUBLE * speed)
    deepest, why = min((habit, HABIT), (max(bent, least), "what the work bends"), (max(pulled, least), "the lathe's power"))
    return Deepest(deepest, why, bends)


def _give(stage: Stage, cutting: Cutting) -> float:
    """Most that the work bends for a newton where this cut comes to; 0 where a travelling steady follows. [mm/N]"""
    span = cut_span(stage)
    holding: Holding = stage.operation.holding
    if span is None or holding.has_steady:
        return 0.0
    return worst_give(stage.after, holding, np.linspace(*span, PLACES), cutting.e_gpa)[0]


def cut_span(stage: Stage) -> tuple[float, float] | None:
    """The stations between which the outside is cut; None where it is not. [mm]"""
    both = aligned(stage.before.outer, stage.after.outer)
    with np.errstate(invalid="ignore"):
        here = (np.abs(both.a0 - both.b0) > EQUAL_MM) | (np.abs(both.a1 - both.b1) > EQUAL_MM)
    return (float(both.z0[here].min()), float(both.z1[here].max())) if here.any() else None


def bar_slimness(operation: Operation, stage: Stage, shop: Workshop) -> float | None:
    """How many of its own thickness a boring bar stands out in this hole; None where the bar is not known."""
    tool = next((t for t in shop.tools if t.kind == "boring" and t.name == operation.cutter.name), None)
    both = aligned(stage.before.inner, stage.after.inner)
    here = np.abs(both.a0 - both.b0) + np.abs(both.a1 - both.b1) > EQUAL_MM
    if tool is None or not here.any() or len(tool.outline_mm) < 3:
        return None
    far = both.z0[here].min() if operation.holding.toward_tailstock == "right" else both.z1[here].max()
    thick = max(r for _, r in tool.outline_mm) - min(r for _, r in tool.outline_mm)
    return float(abs(operation.datum_mm - far) / thick) if thick > 0.0 else None


def _springs(stage: Stage, deepest: Deepest, limits_mm: float, shop: Workshop) -> bool:
    """Whether the last line is cut again: where bending may take more of the limits than its share, or a bar is slender."""
    if stage.operation.kind == "bore":
        slim = bar_slimness(stage.operation, stage, shop)
        return slim is None or slim > BAR_SLENDER
    return deepest.bends_mm is not None and deepest.bends_mm[1] > SPRING_SHARE * limits_mm
