"""The running order: operations of all parts that share a set-up run together, a delicate setting made once.

Each part's route falls into runs of operations with one raw set-up. Runs of several parts with the same set-up are merged
greedily: of the set-ups standing next on some part, the one is taken that no other part still has farther down its
route (so that it need not be made again); between several, the plainest. No bound is claimed for the number of set-ups.
"""

from __future__ import annotations

import string
from collections.abc import Iterable
from dataclasses import dataclass, replace

from handwheel.plan.records import Operation, PartPlan, Setting, SetUp, Stage, Step

NO_SPEED = "no speed given"
TITLES = {"saw": "Sawing", "bar": "Bar in the chuck", "bond": "Bonding", "bench": "At the bench"}


@dataclass(frozen=True, slots=True)
class Run:
    """Consecutive operations of one part in one raw set-up."""

    part: str
    key: str
    numbers: tuple[int, ...]
    after: tuple[str, ...] = ()


def share_set_ups(plans: tuple[PartPlan, ...]) -> tuple[tuple[PartPlan, ...], tuple[SetUp, ...], tuple[Step, ...]]:
    """The plans with printed set-up keys, the set-ups in order, and the running order."""
    routes = {p.part: _runs(p) for p in plans}
    sequence = _merge(routes)
    names: dict[tuple[str, int], str] = {}
    set_ups: list[SetUp] = []
    letters: dict[str, str] = {}
    visits: dict[str, int] = {}
    steps: list[Step] = []
    by_part = {p.part: p for p in plans}
    for key, runs in sequence:
        letter = letters.setdefault(key, _letter(len(letters)))
        visits[key] = visits.get(key, 0) + 1
        name = f"{letter}{visits[key]}"
        for run in runs:
            plan = by_part[run.part]
            for number in run.numbers:
                names[(run.part, number)] = name
                steps.append(Step(run.part, tuple(range(1, plan.quantity + 1)), number, name))
        operations = [
            s.operation for run in runs for s in by_part[run.part].stages if s.operation.number in run.numbers
        ]
        set_ups.append(
            SetUp(name, title_of(key), _layers(key, operations), tuple(dict.fromkeys(run.part for run in runs)))
        )
    renamed = tuple(replace(p, stages=tuple(_renamed(s, names) for s in p.stages)) for p in plans)
    return renamed, tuple(set_ups), tuple(steps)


def title_of(key: str) -> str:
    """A raw set-up key in words."""
    first, _, setting = key.partition("|")
    title = TITLES.get(first, first[:1].upper() + first[1:])
    if setting == "ball tool":
        return f"{title}, swinging ball tool"
    if setting.startswith("top slide"):
        return f"{title}, {setting.replace(' deg', '°')}"
    return title


def _letter(index: int) -> str:
    letters = string.ascii_uppercase.replace("I", "").replace("O", "")
    return (
        letters[index] if index < len(letters) else letters[index // len(letters) - 1] + letters[index % len(letters)]
    )


def _runs(plan: PartPlan) -> list[Run]:
    runs: list[Run] = []
    for stage in plan.stages:
        operation = stage.operation
        if runs and runs[-1].key == operation.set_up:
            runs[-1] = replace(runs[-1], numbers=(*runs[-1].numbers, operation.number))
        else:
            runs.append(Run(plan.part, operation.set_up, (operation.number,), operation.after_parts))
    return runs


def _merge(routes: dict[str, list[Run]]) -> list[tuple[str, list[Run]]]:
    left = {part: list(runs) for part, runs in routes.items()}
    sequence: list[tuple[str, list[Run]]] = []
    while any(left.values()):
        ready = [runs for runs in left.values() if runs and not any(left.get(p) for p in runs[0].after)]
        ready = ready or [runs for runs in left.values() if runs]
        key = min({runs[0].key for runs in ready}, key=lambda k: _cost(k, left, ready))
        sequence.append((key, [runs.pop(0) for runs in ready if runs[0].key == key]))
    return sequence


def _cost(key: str, left: dict[str, list[Run]], ready: list[list[Run]]) -> tuple[int, int, str]:
    """Lower is taken first: no other part still has it farther down its route; then the one that serves most parts."""
    serves = [runs for runs in ready if runs[0].key == key]
    waiting = sum(1 for runs in left.values() if runs not in serves and any(r.key == key for r in runs))
    return waiting, -len(serves), key


def _layers(key: str, operations: Iterable[Operation]) -> tuple[Setting, ...]:
    """The layers every part in the set-up shares: machine, holding, tool; then those the operations bring."""
    operations = list(operations)
    holdings = list(dict.fromkeys(o.holding.device for o in operations))
    tools = list(dict.fromkeys(o.cutter.name for o in operations if o.cutter.name))
    machine = {"saw": "saw or vice", "bond": "bench", "mill or drill": "mill or drill"}.get(key, "lathe")
    layers = [
        Setting("machine", machine, ""),
        Setting("holding", "; ".join(holdings), "letting go of the work"),
        Setting("tool", ", ".join(tools), "changing the tool"),
    ]
    seen: set[tuple[str, str]] = set()
    for operation in operations:
        for setting in operation.settings:
            shared = setting.layer in ("square", "height", "cross centre", "slide angle")
            if shared and (setting.layer, setting.text) not in seen:
                seen.add((setting.layer, setting.text))
                layers.append(setting)
    unknown = dict.fromkeys(o.speed_text for o in operations if o.speed_text.startswith(NO_SPEED))
    layers += [Setting("speed", text, "") for text in unknown]
    return tuple(layers)


def _renamed(stage: Stage, names: dict[tuple[str, int], str]) -> Stage:
    """With the printed key; why no speed is given is said once, in the set-up's layers."""
    operation = stage.operation
    speed = "" if operation.speed_text.startswith(NO_SPEED) else operation.speed_text
    return replace(
        stage, operation=replace(operation, set_up=names[(operation.part, operation.number)], speed_text=speed)
    )
