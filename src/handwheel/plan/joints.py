"""Joints between parts: what is bonded on its seat when both are finished."""

from __future__ import annotations

from dataclasses import replace

from handwheel.drawing.records import Drawing
from handwheel.plan.bench import NO_CUTTER
from handwheel.plan.caution import caution_for
from handwheel.plan.names import said
from handwheel.plan.records import Operation, PartPlan, Stage, Why
from handwheel.stages.records import Holding, NoCut
from handwheel.workshop.records import Workshop


def add_bonds(plans: tuple[PartPlan, ...], drawing: Drawing, shop: Workshop) -> tuple[PartPlan, ...]:
    """A last operation on the part that is put on, for every seat of an assembly whose parts are both planned."""
    by_part = {p.part: p for p in plans}
    gap = shop.habits["bond gap"]
    for assembly in drawing.job.assemblies:
        for seat in assembly.seats:
            moving, fixed = by_part.get(seat.moving.part), by_part.get(seat.fixed.part)
            if moving is None or fixed is None or not moving.stages or not fixed.stages:
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
