"""What is not at hand: small tools and bar never refuse a job, they go on the list to get or to make."""

from __future__ import annotations

from collections.abc import Iterator

from handwheel.plan.candidate import HOLLOW_CENTRE
from handwheel.plan.grips import BETWEEN, MANDREL, SPLIT_BUSH
from handwheel.plan.names import line_text, said
from handwheel.plan.records import PartPlan
from handwheel.stages.records import Holding
from handwheel.tables.threads import is_same_thread
from handwheel.workshop.records import Workshop


def to_get(plans: tuple[PartPlan, ...], shop: Workshop) -> tuple[str, ...]:
    """One line a thing to get or to make, each once, in order of need."""
    lines: list[str] = []
    for plan in plans:
        if not plan.stages:
            continue
        if not plan.stock.is_owned:
            lines.append(
                f"bar: {plan.stock.as_named} ({plan.part}), {plan.quantity} off {line_text(shop.units, plan.stock.length_mm)}"
            )
        for stage in plan.stages:
            operation = stage.operation
            if operation.holding.kind in ("ball collet", SPLIT_BUSH, MANDREL):
                lines.append(f"to make: {operation.holding.device}")
            if HOLLOW_CENTRE in operation.holding.device and "hollow" not in shop.centres:
                lines.append(f"{HOLLOW_CENTRE}, its cup smaller than the ball ({plan.part})")
            if operation.holding.has_steady and "travelling" not in shop.steadies:
                lines.append(f"travelling steady ({plan.part})")
            if operation.holding.steady_mm is not None and "fixed" not in shop.steadies:
                lines.append(f"fixed steady ({plan.part})")
            if operation.holding.kind == BETWEEN:
                lines += [f"{what} ({plan.part})" for what in _for_centres(operation.holding, shop)]
            if operation.cutter.name and not operation.cutter.owned:
                lines.append(f"{operation.cutter.name} ({plan.part})")
            if operation.cutter.name.startswith(("die ", "tap ")) and not _has_thread_tool(operation.cutter.name, shop):
                lines.append(f"{operation.cutter.name} ({plan.part})")
    return tuple(dict.fromkeys(lines))


def _for_centres(holding: Holding, shop: Workshop) -> Iterator[str]:
    """What turning between centres takes; the workshop file lists no driving dogs."""
    yield f"driving dog for Ø {said(shop.units, 2.0 * holding.grip_radius_mm)} with its catch plate, where there is none"
    if "fixed" not in shop.centres:
        yield "fixed centre for the headstock"


def _has_thread_tool(name: str, shop: Workshop) -> bool:
    kind, _, rest = name.partition(" ")
    return any(t.kind == kind and is_same_thread(t.designation, rest.split(", ")[0]) for t in shop.round_tools
               if kind in ("die", "tap"))  # fmt: skip
