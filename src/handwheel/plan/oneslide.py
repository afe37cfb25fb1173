"""Which further parts an angle should stay for, and bores turned to their far side so that it can.

A plug that narrows toward the tailstock and a bore that narrows inward want the slide swung opposite ways while both are cut
on the operator's side. On the bore's far side the same swing does, with the tool upside down and the spindle forward as
always; the tool right way up would want the spindle backward, which unscrews a screwed chuck.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from handwheel.plan.attachment import LAYER
from handwheel.plan.records import Move, Operation, PartPlan, Setting, SetUp, Stage, Step

ANGLES = ("slide angle", LAYER)
SAME_DEG = 5e-4
"""Two angles no farther apart are one: a quarter of a second over is less than any way of setting shows. [deg]"""
FAR = "bored on its far side: tool upside down, its edge at centre height, spindle forward as always"
FAR_CAUTION = "Far side: never with the spindle backward in a screwed chuck; the back of the bar tried clear by hand first."


def with_one_setting(plans: Sequence[PartPlan]) -> tuple[PartPlan, ...]:
    """The plans with each tapering bore turned to its far side where that lets it share another taper's setting; all that
    share one have it in the same words."""
    first: list[Angle] = []
    for outside in (True, False):
        for found in (_angle(s.operation) for p in plans for s in p.stages):
            if found is not None and (found.bores is not outside) and not any(_alike(found, one) for one in first if outside):
                first.append(found)
    outsides = [angle for angle in first if not angle.bores]
    return tuple(replace(p, stages=tuple(_turned(s, first, outsides) for s in p.stages)) for p in plans)


@dataclass(frozen=True, slots=True)
class Angle:
    """What sets a taper's angle and which way, its part of the raw set-up key, and whether it bores."""

    setting: Setting
    key: str
    bores: bool

    @property
    def deg(self) -> float:
        """The angle to the axis. [deg]"""
        return self.setting.value or 0.0


def _angle(operation: Operation) -> Angle | None:
    """The angle that a taper's operation is cut at; None for an edge by the slide's own graduations and all else."""
    for setting in operation.settings:
        if setting.layer in ANGLES and setting.value is not None and operation.kind in ("taper", "bore"):
            return Angle(setting, operation.set_up.partition("|")[2], operation.kind == "bore")
    return None


def _alike(one: Angle, other: Angle, *, swung: bool = True) -> bool:
    """Whether one setting does for both; `swung`: the same way, or either."""
    same = one.setting.layer == other.setting.layer and abs(one.deg - other.deg) <= SAME_DEG
    return same and (not swung or one.setting.side == other.setting.side)


def _turned(stage: Stage, first: Sequence[Angle], outsides: Sequence[Angle]) -> Stage:
    """A bore turned to its far side where only that shares an outside's setting; then the setting's words as first said."""
    mine, operation = _angle(stage.operation), stage.operation
    if mine is None:
        return stage
    if mine.bores:
        mates = [angle for angle in outsides if _alike(angle, mine, swung=False)]
        if mates and not any(_alike(angle, mine) for angle in mates):
            operation = far_side(operation, mine.setting.side, mates[0].setting.side)
            mine = _angle(operation) or mine
    known = next((angle for angle in first if _alike(angle, mine)), mine)
    settings = tuple(known.setting if s.layer in ANGLES else s for s in operation.settings)
    held = operation.set_up.partition("|")[0]
    return replace(stage, operation=replace(operation, settings=settings, set_up=f"{held}|{known.key}"))


def far_side(operation: Operation, was: str, now: str) -> Operation:
    """A bore's operation on its far side. was, now: which way the slide is swung."""
    settings = tuple(replace(s, text=s.text.replace(was, now), side=now) if s.layer in ANGLES else s for s in operation.settings)
    return replace(
        operation, settings=settings, set_up=operation.set_up.replace(was, now), moves=tuple(map(_far, operation.moves)),
        note="; ".join(filter(None, (operation.note, FAR))), caution=f"{operation.caution} {FAR_CAUTION}",
        why=replace(operation.why, text=f"{operation.why.text}; an outside taper takes the same setting"),
    )  # fmt: skip


def _far(move: Move) -> Move:
    if move.way not in ("in", "out") or move.makes is None or not move.makes.is_diameter:
        return move
    zero = move.zero.replace("touched in the hole", "touched on the hole's far side")
    return replace(move, way="in" if move.way == "out" else "out", zero=zero, is_far=True)


def keeping(set_ups: Sequence[SetUp], steps: Sequence[Step], plans: Sequence[PartPlan]) -> tuple[SetUp, ...]:
    """The set-ups, each taper's with what its setting should stay for: later set-ups at the same angle, and what would swing
    it before them.

    Parameters
        steps: the running order, with the printed keys.
    """
    by_key: dict[str, list[Operation]] = {}
    operations = {(p.part, s.operation.number): s.operation for p in plans for s in p.stages}
    for step in steps:
        if (step.part, step.number) in operations:
            by_key.setdefault(step.set_up, []).append(operations[step.part, step.number])
    return tuple(_kept(k, set_ups, by_key) for k in range(len(set_ups)))


def _kept(at: int, set_ups: Sequence[SetUp], by_key: Mapping[str, list[Operation]]) -> SetUp:
    mine = next((a for a in map(_angle, by_key.get(set_ups[at].key, ())) if a is not None), None)
    if mine is None:
        return set_ups[at]
    said: list[str] = []
    here = _named(by_key[set_ups[at].key], mine)
    if len(here) > 1:
        said.append(f"{' and '.join(here) if len(here) == 2 else ', '.join(here)}, one setting for all")
    between: list[str] = []
    for later in set_ups[at + 1 :]:
        names = _named(by_key.get(later.key, ()), mine)
        if names and between:
            said.append(f"{later.key} wants it again for {', '.join(names)}; {', '.join(between)} swing it before: write down "
                        "what the indicator reads")  # fmt: skip
        elif names:
            said.append(f"leave it for {later.key}: {', '.join(names)}")
        if any(_swings(operation, mine) for operation in by_key.get(later.key, ())):
            between.append(later.key)
    if not said:
        return set_ups[at]
    return replace(set_ups[at], settings=(*set_ups[at].settings, Setting("stays for", "; ".join(said), "")))


def _named(operations: Iterable[Operation], mine: Angle) -> list[str]:
    """The parts and features that are cut at that angle, swung the same way."""
    found = []
    for operation in operations:
        angle = _angle(operation)
        if angle is not None and _alike(angle, mine):
            found.append(f"{operation.part} {', '.join(operation.features)}")
    return list(dict.fromkeys(found))


def _swings(operation: Operation, mine: Angle) -> bool:
    """Whether it sets the same slide otherwise."""
    for setting in operation.settings:
        if setting.layer == mine.setting.layer:
            angle = _angle(operation)
            if angle is None or not _alike(angle, mine):
                return True
    return False
