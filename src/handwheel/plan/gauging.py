"""Which gauge measures what is cut, and where a sum to fill in stands beside the cut.

A gauge serves when it measures that kind of size, reaches it, and its real error is no more than a quarter of the
tolerance (common practice: a quarter, better a tenth). Of those that serve the coarsest is taken, being the quickest;
where none serves, the finest, and the row says that its error is too large; where it is more than half of the tolerance also
between which readings a size is inside its limits for certain (the limits drawn in by the error at each end: ISO 14253-1).
Inside a hole only what measures inside, or depth, serves; where nothing here does, a plug or the mate. In a groove narrower
than the usual anvils it is said.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from handwheel.plan.names import said
from handwheel.plan.records import Makes, Move, Operation, PartPlan, Stage, Sum
from handwheel.stages.records import Bore, Sweep
from handwheel.workshop.records import Workshop

SHARE = 0.25
ANVIL_MM = 6.5
"""Across a micrometer's usual anvils: common practice, no source. [mm]"""
NO_PLUG = "no gauge here measures it inside: a plug turned to size, or the mate"
NO_GAUGE = "no gauge here reaches it"
COARSE = "coarse for these limits"
SURE = 2.0
"""Half the limits over the gauge's error, below which it is told where its readings are certain: common practice, no source."""
FINE_MM = 0.08
"""A diameter whose limits lie closer than this is crept up on with a sum. [mm]"""


def with_gauges(plan: PartPlan, shop: Workshop) -> PartPlan:
    """The plan with a gauge beside every size that has limits, and sums where an amount depends on a measurement."""
    return replace(plan, stages=tuple(_stage(stage, shop) for stage in plan.stages))


def gauge_for(makes: Makes, shop: Workshop, is_inside: bool = False) -> str:
    """The gauge's name, with a warning where its error is too large; "" where the workshop has none that reaches.
    is_inside: the size is a hole's."""
    kinds = _kinds(makes, is_inside)
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
    return f"{finest.name} ({COARSE}, ± {said(shop.units, finest.error_mm)})"


def _kinds(makes: Makes, is_inside: bool) -> set[str]:
    """What a gauge has to measure for it to serve."""
    if makes.is_diameter:
        return {"inside"} if is_inside else {"outside"}
    return {"depth"} if is_inside else {"length", "depth", "step"}


def _stage(stage: Stage, shop: Workshop) -> Stage:
    operation = stage.operation
    moves = tuple(_move(move, operation, shop) for move in operation.moves)
    sums = operation.sums + tuple(s for s in (_sum(move, operation.kind) for move in moves) if s is not None)
    return replace(stage, operation=replace(operation, moves=moves, sums=sums))


def _move(move: Move, operation: Operation, shop: Workshop) -> Move:
    makes = move.makes
    if makes is None or makes.working_low_mm is None:
        return move
    is_inside = isinstance(operation.cut, Bore) or isinstance(operation.cut, Sweep) and operation.cut.inside
    gauge = gauge_for(makes, shop, is_inside)
    note = move.note
    if not gauge:
        note = "; ".join(filter(None, (note, NO_PLUG if is_inside and makes.is_diameter else NO_GAUGE)))
    else:
        note = "; ".join(filter(None, (note, _sure(makes, gauge, shop))))
    if gauge and makes.is_diameter and not is_inside and operation.kind == "groove":
        width = _width(operation)
        if 0.0 < width < ANVIL_MM:
            note = "; ".join(filter(None, (note, f"groove {said(shop.units, width)} wide: anvils or jaws that go in")))
    return replace(move, makes=replace(makes, gauge=gauge), note=note)


def ratio_of(gauge: str, half_mm: float, shop: Workshop) -> float | None:
    """How many times the gauge's error goes into half the limits; None for one that is not here. [mm]"""
    found = next((g for g in shop.gauges if gauge.startswith(g.name)), None)
    return None if found is None or found.error_mm <= 0.0 else half_mm / found.error_mm


def _sure(makes: Makes, gauge: str, shop: Workshop) -> str:
    """Where the gauge is coarse for the limits: what its readings tell for certain."""
    if COARSE not in gauge or makes.working_low_mm is None or makes.working_high_mm is None:
        return ""
    half = 0.5 * (makes.working_high_mm - makes.working_low_mm)
    ratio = ratio_of(gauge, half, shop)
    if ratio is None or ratio >= SURE:
        return ""
    if ratio <= 1.0:
        return "the gauge errs as much as the limits allow: a finer one, or the mate"
    low, high = (makes.working_low_mm + half / ratio, makes.working_high_mm - half / ratio)
    return f"inside for certain only where the gauge reads {said(shop.units, low)} to {said(shop.units, high)}"


def _width(operation: Operation) -> float:
    """How wide a groove a square tool's path makes. [mm]"""
    if not isinstance(operation.cut, Sweep) or not len(operation.cutter.outline):
        return 0.0
    edges = operation.cut.path[:, 0][:, None] + operation.cutter.outline[:, 0][None, :]
    return float(np.ptp(edges))


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
