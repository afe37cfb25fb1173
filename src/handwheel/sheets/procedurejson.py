"""A delicate set-up in `job.json`: its steps, its figures in words, and the passes of a ball tool in millimetres."""

from __future__ import annotations

from handwheel.plan.records import Stage
from handwheel.setups.of import procedure_of
from handwheel.setups.records import Procedure
from handwheel.sheets.jsonfigures import figure
from handwheel.workshop.records import Workshop


def procedure_json(stage: Stage, workshop: Workshop, is_read: bool) -> dict[str, object]:
    """`{"procedure": ...}` where a stage has one and its readings stand; else nothing."""
    found = procedure_of(stage, workshop) if is_read else None
    return {} if found is None else {"procedure": _procedure(found)}


def _procedure(found: Procedure) -> dict[str, object]:
    told: dict[str, object] = {
        "sets": found.subject,
        "steps": [{"step": step.head, "text": step.text} for step in found.steps],
        "figures": [{"figure": one.head, "text": one.value} for one in found.figures],
    }
    if found.passes:
        told["passes"] = [
            {"number": one.number, "radius_mm": figure(one.radius_mm), "exact_mm": figure(one.exact_mm),
             "text": one.reading, "note": one.note}
            for one in found.passes
        ]  # fmt: skip
        told["zero"] = found.zero
    return told
