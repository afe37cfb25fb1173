"""Reamers and taps in blind holes across: what their lead leaves of the depth drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handwheel.drawing.records import SolvedPart
from handwheel.plan.athand import TOOLS, round_tool_of
from handwheel.plan.names import said
from handwheel.plan.records import Stage
from handwheel.stages.athand import Drilled
from handwheel.stages.case import NO_FAULT
from handwheel.stages.check_hole import on_the_bottom
from handwheel.stages.records import CheckResult
from handwheel.workshop.records import Workshop

CHECK = "tool on the bottom"


def lead_checks(part: SolvedPart, stages: Sequence[Stage], shop: Workshop) -> Iterator[CheckResult]:
    """One line for each reamer or tap in a hole across that ends in metal; it warns, for the plan stands when it is drilled
    deeper."""
    items = {a.name: a for a in part.across}
    for stage in stages:
        operation = stage.operation
        item = next((items[name] for name in operation.features if name in items), None)
        if item is None or operation.kind not in ("ream", "tap") or operation.refused:
            continue
        if item.source.is_through or item.source.into or "depth" not in item.sizes:
            continue
        depth = item.sizes["depth"]
        tool = round_tool_of(operation, item.source.thread.designation if item.source.thread else "", shop)
        hole = Drilled(item.name, TOOLS[operation.kind], 0.0, depth, True, tool.lead_mm if tool else None)
        found = on_the_bottom(lambda mm: said(shop.units, mm), hole, depth, None)
        yield CheckResult(CHECK, found.fault or NO_FAULT, part.name, operation.number, found.do, bool(found.fault))
