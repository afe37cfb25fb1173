"""The running order: operations of all parts that share a set-up run together, a delicate setting made once.

Each part's route falls into runs of operations with one raw set-up; `plan/sequence.py` finds the order of set-ups with
the least making of them. Weights: a plain set-up counts little, a swinging ball tool on centre or a tailstock set over
much (common practice, no source).
"""

from __future__ import annotations

import string
from collections.abc import Iterable
from dataclasses import replace

from handwheel.plan.attachment import LAYER
from handwheel.plan.oneslide import keeping
from handwheel.plan.records import Operation, PartPlan, Setting, SetUp, Stage, Step
from handwheel.plan.sequence import Found, Run, least_order
from handwheel.plan.slideorder import fewest_swings

NO_SPEED = "no speed given"
TITLES = {"saw": "Sawing", "bar": "Bar in the chuck", "bond": "Bonding", "bench": "At the bench"}


PLAIN_WEIGHT = 2
WEIGHTS = {"saw": 1, "bond": 1, "bench": 1}
DELICATE = (("ball tool", 6), ("tailstock over", 6), ("top slide", 3), ("taper attachment", 3))
"""What making a setting again counts beside the holding's: common practice, no source."""


def share_set_ups(
    plans: tuple[PartPlan, ...],
) -> tuple[tuple[PartPlan, ...], tuple[SetUp, ...], tuple[Step, ...], str]:
    """The plans with printed set-up keys, the set-ups in order, the running order, and how good that is in words."""
    found = least_order({p.part: _runs(p) for p in plans}, weight)
    names: dict[tuple[str, int], str] = {}
    set_ups: list[SetUp] = []
    letters: dict[str, str] = {}
    visits: dict[str, int] = {}
    steps: list[Step] = []
    by_part = {p.part: p for p in plans}
    operations_of = {(p.part, s.operation.number): s.operation for p in plans for s in p.stages}
    for key, runs in fewest_swings(found.visits, operations_of):
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
    said = "; ".join(filter(None, (said_of(found), _waiting_said(plans, found))))
    return renamed, keeping(set_ups, steps, renamed), tuple(steps), said


def weight(key: str) -> int:
    """What it costs to make a raw set-up once."""
    first, _, setting = key.partition("|")
    extra = next((cost for start, cost in DELICATE if setting.startswith(start)), 0)
    return WEIGHTS.get(first, PLAIN_WEIGHT) + extra


def said_of(found: Found) -> str:
    """Whether another order would make set-ups less often."""
    if not found.visits:
        return ""
    count = len(found.visits)
    many = f"{count} set-up{'' if count == 1 else 's'}"
    if found.is_least:
        return f"{many}: no order of work has less setting up"
    return (f"{many}, weighing {found.cost}; the search was stopped: there may be an order that has less setting up, but "
            f"none under {found.least}")  # fmt: skip


def title_of(key: str) -> str:
    """A raw set-up key in words."""
    first, _, setting = key.partition("|")
    title = TITLES.get(first, first[:1].upper() + first[1:])
    if setting == "ball tool":
        return f"{title}, swinging ball tool"
    if setting.startswith(("top slide", "tailstock over", "taper attachment")):
        return f"{title}, {setting.partition(', headstock end')[0].replace(' deg', '°')}"
    return title


def _waiting_said(plans: tuple[PartPlan, ...], found: Found) -> str:
    """What it costs in set-ups that sizes made to a mate wait for that mate; "" where it costs none, or a search was stopped."""
    if not found.is_least or not any(s.operation.after_sizes for p in plans for s in p.stages):
        return ""
    free = least_order({p.part: [replace(run, after_sizes=()) for run in _runs(p)] for p in plans}, weight)
    more = len(found.visits) - len(free.visits)
    if not free.is_least or found.cost <= free.cost or more <= 0:
        return ""
    return f"{more} of them because what is made to a mate's size waits until that is made and measured"


def _letter(index: int) -> str:
    letters = string.ascii_uppercase.replace("I", "").replace("O", "")
    return (
        letters[index] if index < len(letters) else letters[index // len(letters) - 1] + letters[index % len(letters)]
    )


def _runs(plan: PartPlan) -> list[Run]:
    runs: list[Run] = []
    for stage in plan.stages:
        operation = stage.operation
        if runs and runs[-1].key == operation.set_up and not operation.after_sizes:
            after = tuple(dict.fromkeys((*runs[-1].after, *operation.after_parts)))
            runs[-1] = replace(runs[-1], numbers=(*runs[-1].numbers, operation.number), after=after)
        else:
            runs.append(Run(plan.part, operation.set_up, (operation.number,), operation.after_parts, operation.after_sizes))
    return runs


def _layers(key: str, operations: Iterable[Operation]) -> tuple[Setting, ...]:
    """The layers every part in the set-up shares: machine, holding, tool; then those the operations bring."""
    operations = list(operations)
    holdings = list(dict.fromkeys(o.holding.device for o in operations))
    tools = list(dict.fromkeys(o.cutter.name for o in operations if o.cutter.name))
    machine = {"saw": "saw or vice", "bond": "bench", "bench": "bench", "mill or drill": "mill or drill"}.get(key, "lathe")
    layers = [
        Setting("machine", machine, ""),
        Setting("holding", "; ".join(holdings), "letting go of the work"),
        Setting("tool", ", ".join(tools), "changing the tool"),
    ]
    seen: set[tuple[str, str]] = set()
    for operation in operations:
        for setting in operation.settings:
            shared = setting.layer in ("square", "height", "cross centre", "slide angle", LAYER)
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
