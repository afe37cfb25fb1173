"""What each set-up needs: tools, what holds the work, gauges, each owned, to get or to make."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from handwheel.plan.records import Operation, Plan
from handwheel.sheets.setups import Run

TO_MAKE = "to make: "


@dataclass(frozen=True, slots=True)
class Needs:
    """What a set-up needs, each once in order of need; `(to get)` or `(to make)` stands behind what is not at hand."""

    keys: tuple[str, ...]
    title: str
    holding: tuple[str, ...]
    tools: tuple[str, ...]
    gauges: tuple[str, ...]


def needs_of(plan: Plan, runs: Sequence[Run]) -> tuple[Needs, ...]:
    """The needs of every set-up, those that need the same together."""
    found: list[Needs] = []
    for run in runs:
        operations = [s.operation for g in run.groups for s in g.stages]
        now = Needs(
            (run.set_up.key,), run.set_up.title.split(",")[0],
            _once(_status(o.holding.device, plan) for o in operations if o.holding.device),
            _once(_tool(o, plan) for o in operations if o.cutter.name),
            _once(m.makes.gauge.split(" (")[0] for o in operations for m in o.moves if m.makes and m.makes.gauge),
        )  # fmt: skip
        alike = next((k for k, n in enumerate(found) if _same(n, now)), None)
        if alike is None:
            found.append(now)
        elif now.keys[0] not in found[alike].keys:
            one = found[alike]
            found[alike] = Needs((*one.keys, *now.keys), one.title, one.holding, one.tools, one.gauges)
    return tuple(n for n in found if n.tools or n.gauges)


def _same(a: Needs, b: Needs) -> bool:
    return (a.title, a.holding, a.tools, a.gauges) == (b.title, b.holding, b.tools, b.gauges)


def _once(texts: object) -> tuple[str, ...]:
    assert hasattr(texts, "__iter__")
    return tuple(dict.fromkeys(str(t) for t in texts))


def _tool(operation: Operation, plan: Plan) -> str:
    name = operation.cutter.name
    return f"{name} (to get)" if not operation.cutter.owned else _status(name, plan)


def _status(name: str, plan: Plan) -> str:
    """The name with what is to be done about it, where the list of things to get has it."""
    if any(line == f"{TO_MAKE}{name}" or line.startswith(f"{TO_MAKE}{name} (") for line in plan.to_get):
        return f"{name} (to make)"
    if any(line == name or line.startswith(f"{name} (") for line in plan.to_get):
        return f"{name} (to get)"
    return name
