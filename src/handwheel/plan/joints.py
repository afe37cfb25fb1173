"""Joints between parts: what is bonded on its seat when both are finished."""

from __future__ import annotations

from dataclasses import replace

from handwheel.drawing.records import Drawing
from handwheel.job.records import OutsideKind, Seat, Where
from handwheel.plan.bench import NO_CUTTER
from handwheel.plan.caution import caution_for
from handwheel.plan.names import said
from handwheel.plan.records import Operation, PartPlan, Stage, Why
from handwheel.stages.records import Holding, NoCut
from handwheel.workshop.records import Workshop

FITS_MM = 0.15
"""A hole and a spigot nearer in diameter than this are meant for each other: common practice, no source. [mm]"""


def add_bonds(plans: tuple[PartPlan, ...], drawing: Drawing, shop: Workshop) -> tuple[PartPlan, ...]:
    """A last operation on the part that is put on, for every seat of an assembly whose parts are both planned."""
    by_part = {p.part: p for p in plans}
    gap = shop.habits["bond gap"]
    for assembly in drawing.job.assemblies:
        for seat in assembly.seats:
            moving, fixed = by_part.get(seat.moving.part), by_part.get(seat.fixed.part)
            if moving is None or fixed is None or not moving.stages or not fixed.stages:
                continue
            if not is_bonded(seat, drawing):
                continue
            last = moving.stages[-1]
            number = last.operation.number + 10
            where = f"{seat.moving.feature} of {seat.moving.part} on {seat.fixed.feature} of {seat.fixed.part}"
            operation = Operation(
                number,
                moving.part,
                "bond",
                "bond",
                Holding(
                    "hand",
                    "hand",
                    last.operation.holding.from_mm,
                    last.operation.holding.from_mm,
                    "finished work",
                    last.operation.holding.toward_tailstock,
                    last.operation.holding.face_mm,
                ),
                NO_CUTTER,
                NoCut(),
                "",
                0.0,
                Why("bond-last", (seat.moving.feature,), f"{assembly.name}: {where}; both finished and measured first"),
                caution_for("bond"),
                features=(seat.moving.feature,),
                note=f"degrease both; diametral gap {said(shop.units, gap.value)} aimed at ({gap.whose}): "
                "measure both before, and turn the spigot to the measured hole; home to the shoulder; leave to cure",
                after_parts=(fixed.part,),
            )
            by_part[moving.part] = replace(moving, stages=(*moving.stages, Stage(operation, last.after, last.after)))
    return tuple(by_part[p.part] for p in plans)


def is_bonded(seat: Seat, drawing: Drawing) -> bool:
    """Whether a plain spigot beyond the seat goes into a hole of nearly its size: a joint that is bonded."""
    fixed, moving = drawing.part(seat.fixed.part), drawing.part(seat.moving.part)
    names = [f.name for f in fixed.outside]
    if seat.fixed.feature not in names:
        return False
    at = names.index(seat.fixed.feature) + (1 if seat.fixed.where is Where.RIGHT else -1)
    if not 0 <= at < len(names):
        return False
    spigot = fixed.outside[at]
    holes = moving.inside_left if seat.moving.where is Where.LEFT else moving.inside_right
    if spigot.source.kind is not OutsideKind.CYLINDER or spigot.thread or not holes or holes[0].thread:
        return False
    return abs(holes[0].mouth_radius - spigot.left_radius) <= FITS_MM / 2.0
