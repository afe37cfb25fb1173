"""`job.json`, contract section 3: the whole job in figures, every length in millimetres."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from handwheel.drawing.records import Drawing, SolvedDimension, SolvedPart
from handwheel.plan.records import Makes, Operation, PartPlan, Plan
from handwheel.readings.charts import chart_reading
from handwheel.readings.copies import CopyReadings
from handwheel.readings.records import CutRow, Reading
from handwheel.sheets.asmadejson import as_made_json
from handwheel.sheets.jsonfigures import Json, figure
from handwheel.sheets.procedurejson import procedure_json
from handwheel.sheets.sizejson import size_json, sizes, text, unread_json
from handwheel.stages.check_metal import MANDRELS
from handwheel.stages.finished import finished_section
from handwheel.stages.metal import outline, tube
from handwheel.stages.records import CheckResult
from handwheel.workshop.records import Workshop

__all__ = ["job_json", "size_json", "unread_json"]


def job_json(
    drawing: Drawing,
    plan: Plan,
    readings: Mapping[tuple[str, int], tuple[Reading, ...]],
    workshop: Workshop,
    copies: Sequence[Sequence[CopyReadings]] = (),
) -> str:
    """The text of `job.json`: ASCII, ending in a line feed."""
    plans = {part.part: part for part in plan.parts}
    changed = copies or [()] * len(drawing.as_made)
    as_made = [
        {**made, "readings": [_copy(part) for part in parts]}
        for made, parts in zip(as_made_json(drawing.as_made), changed, strict=True)
    ]
    return text(
        {
            "handwheel": 1,
            "job": drawing.job.name,
            "example_workshop": workshop.is_example,
            "parts": {part.name: _part(part, plans.get(part.name), readings, workshop) for part in drawing.parts},
            "order_of_work": [
                {"part": step.part, "copies": list(step.copies), "number": step.number, "set_up": step.set_up}
                for step in plan.order
            ],
            "to_get": list(plan.to_get),
            "checks": [_check(check) for check in plan.checks],
        }
        | ({"as_made": as_made} if as_made else {})
    )


def _dimension(size: SolvedDimension) -> Json:
    return {"phrase": size.phrase, **sizes(size.measure, size.value, size.low, size.high), "given": size.given}


def _points(rows: Iterable[Iterable[float]]) -> list[list[float]]:
    return [[figure(value) for value in row] for row in rows]


def _part(
    part: SolvedPart, plan: PartPlan | None, readings: Mapping[tuple[str, int], tuple[Reading, ...]], workshop: Workshop
) -> Json:
    finished = plan.finished if plan is not None else finished_section(part)
    found: dict[str, object] = {
        "quantity": part.quantity,
        "outline_mm": _points(outline(finished)),
        "dimensions": [_dimension(size) for size in part.dimensions],
    }
    if plan is None:
        return found | {"stock": None, "route": []}
    found["stock"] = {
        "form": plan.stock.form,
        "diameter_mm": figure(plan.stock.diameter_mm),
        "length_mm": figure(plan.stock.length_mm),
    } | ({"across_mm": figure(plan.stock.across_mm)} if 0.0 < plan.stock.across_mm < plan.stock.diameter_mm else {}) | (
        {"bore_mm": figure(plan.stock.bore_mm)} if plan.stock.bore_mm else {})  # fmt: skip
    found["route"] = _route(part, plan, readings, workshop)
    return found


def _route(
    part: SolvedPart, plan: PartPlan, readings: Mapping[tuple[str, int], tuple[Reading, ...]], workshop: Workshop
) -> list[dict[str, object]]:
    route = [_stock_entry(plan)]
    across = list(plan.stock.leaves)
    for stage in plan.stages:
        operation = stage.operation
        across.extend(operation.across_made)
        entry = _operation(operation) | {
            "readings": [_reading(r) for r in readings.get((part.name, operation.number), ()) if r.is_dialled],
            "across": list(across),
            "outline_mm": _points(outline(stage.after)),
        } | _step_off(operation, workshop, (part.name, operation.number) in readings)
        entry |= procedure_json(stage, workshop, (part.name, operation.number) in readings)
        route.append(entry | ({"refused": operation.refused} if operation.refused else {}))
    if plan.refused and not any("refused" in entry for entry in route):
        route[-1]["refused"] = plan.refused
    return route


def _stock_entry(plan: PartPlan) -> dict[str, object]:
    stock = plan.stock
    right_mm = stock.from_mm + stock.length_mm
    blank = plan.stages[0].before if plan.stages else tube(stock.diameter_mm, stock.bore_mm, stock.from_mm, right_mm)
    return {
        "number": 0,
        "kind": "stock",
        "set_up": "",
        "toward_tailstock": None,
        "axis": "part",
        "grips": None,
        "tool": None,
        "datum": None,
        "why": {"rule": "stock", "features": [], "text": stock.as_named},
        "caution": "",
        "readings": [],
        "across": list(stock.leaves),
        "outline_mm": _points(outline(blank)),
    }


def _operation(operation: Operation) -> dict[str, object]:
    holding, cutter, why = operation.holding, operation.cutter, operation.why
    low, high = holding.from_mm, holding.to_mm
    if holding.kind in MANDRELS and holding.headstock_centre_mm is not None:  # gripped inside, turned outside all along
        low = high = holding.face_mm
    return {
        "number": operation.number,
        "kind": operation.kind,
        "set_up": operation.set_up,
        "toward_tailstock": holding.toward_tailstock,
        "axis": _axis(operation),
        "grips": {
            "device": holding.kind,
            "from_mm": figure(low),
            "to_mm": figure(high),
            "surface": holding.surface,
        },
        "tool": {"name": cutter.name, "outline_mm": _points(cutter.outline)},
        "datum": {"point": operation.datum_point, "z_mm": figure(operation.datum_mm)},
        "why": {"rule": why.rule, "features": list(why.features), "text": why.text},
        "caution": operation.caution,
    }


def _axis(operation: Operation) -> object:
    if not operation.axis_through:
        return "part"
    return {
        "through": operation.axis_through,
        "leaning_deg": figure(operation.axis_lean_deg),
        "around_deg": figure(operation.axis_around_deg),
    }


def _step_off(operation: Operation, workshop: Workshop, is_read: bool) -> dict[str, object]:
    """A curve's chart, both travels from their zeros."""
    chart = chart_reading(operation, workshop) if is_read else None
    if chart is None or not chart.rows:
        return {}
    rows = [
        {"along": {"turns": r.along[0], "divisions": figure(r.along[1]), "moves_mm": figure(r.along_mm)},
         "in": {"turns": r.in_[0], "divisions": figure(r.in_[1]), "moves_mm": figure(r.in_mm)},
         "leaves_mm": figure(r.leaves_mm)}
        for r in chart.rows
    ]  # fmt: skip
    zeros = {"along": chart.zero_along, "in": chart.zero_in}
    return {"step_off": {"wheel": chart.along_wheel, "zeros": zeros, "note": chart.note, "left_mm": figure(chart.left_mm),
                         "lines": rows}}  # fmt: skip


def _reading(reading: Reading) -> Json:
    return {
        "wheel": reading.wheel,
        "way": reading.way,
        "zero": reading.zero,
        "turns": reading.turns,
        "divisions": figure(reading.divisions),
        "unit": reading.unit,
        "moves_mm": figure(reading.moves_mm),
        "exact_mm": figure(reading.exact_mm),
        "text": reading.text,
        "makes": None if reading.makes is None else _makes(reading.makes),
    } | ({"cuts": [_cut(row) for row in reading.cuts]} if reading.cuts else {})


def _cut(row: CutRow) -> Json:
    return {
        "kind": row.kind, "turns": row.turns, "divisions": figure(row.divisions), "unit": row.unit,
        "moves_mm": figure(row.moves_mm), "exact_mm": figure(row.exact_mm), "leaves_mm": figure(row.leaves_mm),
    }  # fmt: skip


def _copy(part: CopyReadings) -> Json:
    """The readings that change on a copy, each with the drawing's beside it."""
    changed = [{"number": one.now.operation, "kind": one.kind, **_reading(one.now), "was": one.was.text}
               for one in part.readings]  # fmt: skip
    tools = [{"number": t.operation, "kind": t.kind, "tool": t.now, "was": t.was} for t in part.tools]
    return {"part": part.part, "changed": changed, "tools": tools, "cannot": part.cannot}


def _makes(makes: Makes) -> Json:
    low, high = makes.working_low_mm, makes.working_high_mm
    return {
        "phrase": makes.phrase,
        "value_mm": figure(makes.value_mm),
        "working_low_mm": None if low is None else figure(low),
        "working_high_mm": None if high is None else figure(high),
    }


def _check(check: CheckResult) -> Json:
    found = {"check": check.check, "found": check.found, "operation": check.operation, "part": check.part}
    return found | ({"do": check.do} if check.do else {}) | ({"warns": True} if check.is_warning else {})
