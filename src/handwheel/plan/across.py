"""Straight cross holes and flats, made when the turning is done; what else lies across is said to be left."""

from __future__ import annotations

from dataclasses import replace

from handwheel.drawing.records import SolvedAcross, SolvedPart
from handwheel.job.records import AcrossKind, Part, Unit
from handwheel.plan.bench import NO_CUTTER, diameter_makes, length_makes
from handwheel.plan.caution import caution_for
from handwheel.plan.names import said
from handwheel.plan.records import Move, Operation, PartPlan, Setting, Stage, Why
from handwheel.stages.records import Cutter, NoCut
from handwheel.workshop.records import Workshop


def cannot_yet(drawn: Part, shop: Workshop) -> str:
    """What of a part handwheel does not plan yet, or ""."""
    for cut in drawn.cut_in:
        if cut.is_inside:
            return f"{cut.name}: a {cut.kind.value} cut into a hole is not planned yet"
    for across in drawn.across:
        if shop.mill is None:
            return f"{across.name}: the workshop has no mill or drilling machine"
        plain = across.kind in (AcrossKind.HOLE, AcrossKind.FLAT) and across.face is None and not across.square_to
        plain = plain and across.thread is None and across.count == 1
        if not plain or across.leaning_deg:
            return f"{across.name}: only straight cross holes and flats are planned yet"
    return ""


def add_across(plan: PartPlan, part: SolvedPart, units: Unit) -> PartPlan:
    """The plan with its cross holes and flats as last operations."""
    if not plan.stages or not part.across:
        return plan
    stages, made = list(plan.stages), []
    for across in sorted(part.across, key=lambda a: a.source.kind is AcrossKind.HOLE):
        made.append(across.name)
        stages.append(_stage(stages[-1], across, part, tuple(made), units))
    return replace(plan, stages=tuple(stages))


def _stage(last: Stage, across: SolvedAcross, part: SolvedPart, made: tuple[str, ...], units: Unit) -> Stage:
    name, is_hole = across.name, across.source.kind is AcrossKind.HOLE
    kind = "cross-drill" if is_hole else "mill"
    around = f"{float(across.source.around_deg):g}° round from the part's mark"
    left, right = grip_beside(across, part)
    holding = replace(
        last.operation.holding, device="vice, vee packing", kind="vice", from_mm=left, to_mm=right,
        surface="finished work", centre_mm=None)  # fmt: skip
    along = length_makes(f"left end to {name} centre", across.centre)
    place = Move("mill table, along", "away from the end", "edge found on the left end", across.centre, along,
                 "finder's half diameter taken off")  # fmt: skip
    cutter, words, down = _hole(across, part, units) if is_hole else _flat(across, part, units)
    turned = Setting("holding", f"part lies level, {around}; cross centre found from both sides", "moving the vice")
    operation = Operation(
        last.operation.number + 10, part.name, kind, "mill or drill", holding, cutter, NoCut(), "left end", 0.0,
        Why("across-when-turned", (name,), f"{name}: {words}, {around}"), caution_for(kind), moves=(place, down),
        settings=(turned,), features=(name,), across_made=made, axis_through=f"{name} centre",
        note="right through; ease off at breakthrough" if across.source.is_through else "")  # fmt: skip
    return Stage(operation, last.after, last.after)


def _hole(across: SolvedAcross, part: SolvedPart, units: Unit) -> tuple[Cutter, str, Move]:
    size = across.sizes.get("diameter", 0.0)
    depth = across.sizes.get("depth", 0.0) or 2 * max(f.greatest_radius for f in part.outside)
    words = f"Ø {said(units, size)}"
    down = Move("mill head, down", "in", "touched on the work", depth,
                diameter_makes(f"{across.name} diameter", size / 2))  # fmt: skip
    return Cutter(f"drill {words}", "drill", NO_CUTTER.outline, False), words, down


def _flat(across: SolvedAcross, part: SolvedPart, units: Unit) -> tuple[Cutter, str, Move]:
    height = across.sizes.get("from axis", 0.0)
    host = next((f for f in part.outside if f.name == across.source.on), None)
    start = host.greatest_radius if host else height
    down = Move("mill head, down", "in", "touched on the work", start - height,
                length_makes(f"{across.name} from axis", height))  # fmt: skip
    return Cutter("end mill", "end mill", NO_CUTTER.outline), f"{said(units, height)} from the axis", down


def grip_beside(across: SolvedAcross, part: SolvedPart) -> tuple[float, float]:
    """The longest cylinder of the part that the feature does not lie on, else the whole length. [mm]"""
    beside = [f for f in part.outside if f.name != across.source.on and f.left_radius == f.right_radius]
    if not beside:
        return 0.0, part.length
    best = max(beside, key=lambda f: f.length)
    return best.left, best.right
