"""The set-ups as runs of the running order, and the stages of each run by part: what a set-up's page is made from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from handwheel.plan.records import Operation, PartPlan, Plan, Setting, SetUp, Stage, Step
from handwheel.readings.of import workable


@dataclass(frozen=True, slots=True)
class Group:
    """Stages of one part that follow each other in one holding, with the copies they are done on."""

    part: str
    copies: tuple[int, ...]
    stages: tuple[Stage, ...]


@dataclass(frozen=True, slots=True)
class Run:
    """A set-up as it comes up in the running order. `again`: it was up before."""

    set_up: SetUp
    groups: tuple[Group, ...]
    again: bool = False

    @property
    def settings(self) -> tuple[Setting, ...]:
        """The settings made once for the run: the set-up's own, and those that operations of several parts share."""
        parts: dict[Setting, set[str]] = {}
        for group in self.groups:
            for stage in group.stages:
                for setting in stage.operation.settings:
                    parts.setdefault(setting, set()).add(group.part)
        shared = [setting for setting, names in parts.items() if len(names) > 1]
        return tuple(dict.fromkeys((*self.set_up.settings, *shared)))

    def own(self, operation: Operation) -> tuple[Setting, ...]:
        """The settings made for this operation alone."""
        return tuple(s for s in operation.settings if s not in self.settings)


def stage_of(plan: PartPlan, number: int) -> Stage | None:
    """The stage of an operation number; None when the plan has none."""
    return next((s for s in plan.stages if s.operation.number == number), None)


def can_be_read(plan: Plan) -> set[tuple[str, int]]:
    """The operations that can be done, and so have readings."""
    return {(p.part, op.number) for p in plan.parts for op in workable(p)}


def _joins(group: Group, step: Step, stage: Stage) -> bool:
    held, here = group.stages[-1].operation.holding, stage.operation.holding
    same = (held.device, held.toward_tailstock, held.from_mm, held.to_mm) == (
        here.device, here.toward_tailstock, here.from_mm, here.to_mm)
    return group.part == step.part and group.copies == step.copies and same


def _groups(steps: Iterable[Step], parts: dict[str, PartPlan]) -> tuple[Group, ...]:
    found: list[Group] = []
    for step in steps:
        stage = stage_of(parts[step.part], step.number) if step.part in parts else None
        if stage is None:
            continue
        if found and _joins(found[-1], step, stage):
            found[-1] = Group(step.part, step.copies, (*found[-1].stages, stage))
        else:
            found.append(Group(step.part, step.copies, (stage,)))
    return tuple(found)


def runs(plan: Plan) -> tuple[Run, ...]:
    """The running order as runs of one set-up each."""
    parts = {p.part: p for p in plan.parts}
    known = {s.key: s for s in plan.set_ups}
    bunches: list[tuple[str, list[Step]]] = []
    for step in plan.order:
        if not bunches or bunches[-1][0] != step.set_up:
            bunches.append((step.set_up, []))
        bunches[-1][1].append(step)
    found: list[Run] = []
    for key, steps in bunches:
        again = any(r.set_up.key == key for r in found)
        groups = _groups(steps, parts)
        if groups:
            found.append(Run(known.get(key, SetUp(key, "", (), ())), groups, again))
    return tuple(found)
