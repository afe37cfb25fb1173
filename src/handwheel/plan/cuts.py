"""Cut lists: how a diameter is come to from the touch, each cut as a travel from that one zero.

Roughing in equal cuts no deeper than the habit, the bending of work or boring bar and the lathe's power allow; then two equal
last cuts with a stop to measure between them, so that the cut that matters is like the one just measured. Where bending in a
last cut of the habit's depth may take more than its share of the limits the last cuts are lighter, and the last line is cut
once more. Bending after plan/springs.py, force after Kienzle (tables/cutting.py), each as a range: a cut is held to what its
greater end allows. That may forbid a cut, it does not say that a lesser one will do.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from handwheel.base.tolerance import EQUAL_MM
from handwheel.plan.records import CutList, Move, PartPlan, Pass, Share, Stage
from handwheel.plan.springs import Springs, bar_in_hole, springs_of
from handwheel.stages.check_reach import LEAST_CUT_MM
from handwheel.tables.cutting import Cutting, cutting_of
from handwheel.workshop.records import Workshop

LISTED = ("turn", "taper", "groove", "bore")
ROUGH_SHARE = 0.5
"""Of the metal that roughing leaves on the diameter, that bending may put there: common practice, no source."""
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


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of cutting that metal: its forces, and its surface speed. [m/min]"""

    cutting: Cutting | None
    speed_m_min: float | None


def with_cuts(plan: PartPlan, material: str, shop: Workshop) -> PartPlan:
    """The plan with a cut list at every diameter that is turned or bored to."""
    known = _known(material, shop)
    return replace(plan, stages=tuple(_stage(stage, known, shop) for stage in plan.stages))


def with_cuts_to_mates(plan: PartPlan, material: str, shop: Workshop) -> PartPlan:
    """The plan with its cut lists again where a diameter goes by its mate: they stop to measure whatever its own limits."""
    known = _known(material, shop)
    stages = (_stage(s, known, shop) if any(asked.carried for asked in s.operation.sums) else s for s in plan.stages)
    return replace(plan, stages=tuple(stages))


def _known(material: str, shop: Workshop) -> Known:
    return Known(cutting_of(material), next((m.surface_speed_m_min for m in shop.materials if m.name == material), None))


def cuts_to(
    taken_mm: float, last_mm: float, deepest_mm: float, *, is_measured: bool, has_spring: bool
) -> tuple[tuple[float, str], ...]:
    """What is off the diameter after each cut, and the cut's kind.

    Parameters
        taken_mm: all that comes off the diameter. [mm]
        last_mm: what each last cut takes off it where there is so much. [mm]
        deepest_mm: the most at one cut. [mm]
        is_measured: whether the size has limits, or goes by its mate's; without, it is roughed to in equal cuts.
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


def _stage(stage: Stage, known: Known, shop: Workshop) -> Stage:
    operation = stage.operation
    if operation.kind == "face":
        return replace(stage, operation=replace(operation, moves=tuple(_faced(move, shop) for move in operation.moves)))
    if operation.kind not in LISTED:
        return stage
    moves = tuple(_move(move, stage, known, shop) for move in operation.moves)
    return stage if moves == operation.moves else replace(stage, operation=replace(operation, moves=moves))


def _faced(move: Move, shop: Workshop) -> Move:
    """A facing cut that is too thick for one, with how many it takes."""
    count = _count(move.exact_mm, shop.habit("greatest cut") / 2.0) if move.exact_mm > EQUAL_MM else 1
    return move if count == 1 else replace(move, note="; ".join(filter(None, (move.note, f"in {count} cuts"))))


def _move(move: Move, stage: Stage, known: Known, shop: Workshop) -> Move:
    makes = move.makes
    if move.wheel != "cross slide" or makes is None or not makes.is_diameter or move.way not in ("in", "out"):
        return move
    if move.exact_mm <= EQUAL_MM:
        return move
    sense = 1.0 if move.grows else -1.0
    start = makes.value_mm - sense * 2.0 * move.exact_mm
    limits = None if makes.working_low_mm is None or makes.working_high_mm is None else (
        makes.working_high_mm - makes.working_low_mm)  # fmt: skip
    springs = springs_of(stage, known.cutting, shop)
    deepest = deepest_cut(stage, springs, known, shop)
    share = None if limits is None else share_of(springs, limits, shop)
    last = shop.habit("last cut") if share is None else share.last_mm
    spring = share is not None or limits is not None and _is_slim(stage, shop)
    is_measured = limits is not None or any(asked.carried for asked in stage.operation.sums)
    found = cuts_to(2.0 * move.exact_mm, last, deepest.mm, is_measured=is_measured, has_spring=spring)
    passes = tuple(Pass(off / 2.0, start + sense * off, kind) for off, kind in found)
    return replace(move, cuts=CutList(passes, deepest.mm, deepest.limited_by, shop.habit("rough feed"),
                                      shop.habit("fine feed"), deepest.bends_mm, share))  # fmt: skip


def share_of(springs: Springs | None, limits_mm: float, shop: Workshop) -> Share | None:
    """What bending asks of the last cuts of a size; None where at the habit's depth it stays within its share.

    Parameters
        limits_mm: from one limit to the other. [mm]
    """
    if springs is None or springs.give_mm_per_n <= 0.0:
        return None
    last, feed = shop.habit("last cut"), shop.habit("fine feed")
    may = shop.habit("bending share") * limits_mm
    if springs.on_diameter_mm(last, feed)[1] <= may:
        return None
    reached = springs.off_for_mm(may, feed)
    light = min(last, max(LEAST_CUT_MM, reached[0]))
    return Share(may, reached, light, springs.on_diameter_mm(light, feed), springs.has_chuck)


def deepest_cut(stage: Stage, springs: Springs | None, known: Known, shop: Workshop) -> Deepest:
    """What habit, bending and power allow of one cut. `springs`: None where what gives is not known."""
    operation = stage.operation
    if operation.kind == "groove":  # plunged: no slice of a stated depth, its width is the tool's
        return Deepest(math.inf, "plunged to the last cuts")
    habit, is_bore = shop.habit("greatest cut"), operation.kind == "bore"
    found = Deepest(habit / 2.0, "a slender boring bar") if is_bore and _is_slim(stage, shop) else Deepest(habit, HABIT)
    least = shop.habit("last cut")
    ways = [(found.mm, found.limited_by)]
    bends = None
    if springs is not None and springs.give_mm_per_n > 0.0:
        bends = springs.on_diameter_mm(least, shop.habit("fine feed"))
        bent = springs.off_for_mm(ROUGH_SHARE * shop.habit("rough allowance"), shop.habit("rough feed"))[0]
        ways.append((max(bent, least), "what the boring bar bends" if is_bore else "what the work bends"))
    if known.cutting is not None and shop.lathe.power_w is not None and known.speed_m_min:
        force = known.cutting.force_n(1.0, shop.habit("rough feed")) * DOUBLE
        ways.append((max(2.0 * shop.lathe.power_w * 60.0 / (force * known.speed_m_min), least), "the lathe's power"))
    deepest, why = min(ways)
    return Deepest(deepest, why, bends)


def _is_slim(stage: Stage, shop: Workshop) -> bool:
    """Whether a boring bar stands out more than it should without further thought, or is not known."""
    if stage.operation.kind != "bore":
        return False
    bar = bar_in_hole(stage.operation, stage, shop)
    return bar is None or bar[1] > BAR_SLENDER * bar[0]
