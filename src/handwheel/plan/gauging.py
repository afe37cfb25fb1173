"""Which gauge measures what is cut, and where a sum to fill in stands beside the cut.

A gauge serves when it measures that kind of size, reaches it, and its real error is no more than a quarter of the
tolerance (common practice: a quarter, better a tenth). Of those that serve the coarsest is taken, being the quickest;
where none serves, the finest, and the row says that its error is too large.
"""

from __future__ import annotations

from dataclasses import replace

from handwheel.plan.records import Makes, Move, PartPlan, Stage, Sum
from handwheel.workshop.records import Workshop

SHARE = 0.25
FINE_MM = 0.08
"""A diameter whose limits lie closer than this is crept up on with a sum. [mm]"""


def with_gauges(plan: PartPlan, shop: Workshop) -> PartPlan:
    """The plan with a gauge beside every size that has limits, and sums where an amount depends on a measurement."""
    return replace(plan, stages=tuple(_stage(stage, shop) for stage in plan.stages))


def gauge_for(makes: Makes, shop: Workshop) -> str:
    """The gauge's name, with a warning where its error is too large; "" where the workshop has none that reaches."""
    kinds = {"outside"} if makes.is_diameter else {"length", "depth", "step"}
    reaching = [g for g in shop.gauges if kinds & set(g.measures) and g.least_mm <= makes.value_mm <= g.greatest_mm]
    if not reaching:
        return ""
    finest = min(reaching, key=lambda g: g.error_mm)
    if makes.working_low_mm is None or makes.working_high_mm is None:
        return max(reaching, key=lambda g: g.error_mm).name
    allowed = SHARE * (makes.working_high_mm - makes.working_low_mm) / 2.0
    serving = [g for g in reaching if g.error_mm <= allowed + 1e-9]
    if serving:
        return max(serving, key=lambda g: g.error_mm).name
    return f"{finest.name} (coarse for these limits)"


def _stage(stage: Stage, shop: Workshop) -> Stage:
    operation = stage.operation
    moves = tuple(_move(move, shop) for move in operation.moves)
    sums = operation.sums + tuple(s for s in (_sum(move, operation.kind) for move in moves) if s is not None)
    return replace(stage, operation=replace(operation, moves=moves, sums=sums))


def _move(move: Move, shop: Workshop) -> Move:
    makes = move.makes
    if makes is None or makes.working_low_mm is None:
        return move
    return replace(move, makes=replace(makes, gauge=gauge_for(makes, shop)))


def _sum(move: Move, kind: str) -> Sum | None:
    """What is measured before the last cut, what is wanted, and so what is to come off."""
    makes = move.makes
    if makes is None or not makes.is_diameter or makes.working_low_mm is None or makes.working_high_mm is None:
        return None
    is_fine = makes.working_high_mm - makes.working_low_mm <= FINE_MM
    if kind != "ball" and not (kind in ("turn", "groove") and is_fine):
        return None
    limits = (makes.working_low_mm, makes.working_high_mm)
    return Sum(f"{makes.phrase} as measured", makes.value_mm, "take off the diameter", move.wheel, False, limits)
