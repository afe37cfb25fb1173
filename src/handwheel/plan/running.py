"""Diameters that have to run true with each other, and what run-out a way of holding leaves between them.

A diameter drawn with limits of its own, by class or written, is taken to matter to its mate. Those finished without
letting go run true with each other; across two holdings the second device's run-out lies between them.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from handwheel.drawing.records import SolvedPart
from handwheel.plan.grips import BUSH_IN
from handwheel.plan.names import said
from handwheel.plan.records import PartPlan, Setting, Stage
from handwheel.stages.records import Holding
from handwheel.workshop.records import Workshop

Tied = tuple[int, tuple[str, ...], tuple[str, ...], float, float | None]
OWN = re.compile(r"written$|[A-Za-z]{1,2}\d{1,2}$")
"""Where limits come from that are drawn for this very size."""
IN_PLACE = ("stub mandrel", "between centres")
"""Ways of holding that are made true where they stand."""
FINISH = ("turn", "groove", "curve", "taper", "ball", "bore", "ream")
"""Kinds of operation that finish a diameter."""


@dataclass(frozen=True, slots=True)
class Close:
    """A feature whose diameter has limits of its own, from one to the other. [mm]"""

    name: str
    span_mm: float


def close_features(part: SolvedPart) -> tuple[Close, ...]:
    """Every feature on the axis that has them."""
    names = [*(f.name for f in part.outside), *(h.name for h in (*part.inside_left, *part.inside_right))]
    found = []
    for name in names:
        spans = [d.tolerance[1] - d.tolerance[0] for d in part.dimensions
                 if d.given and d.phrase == f"{name} diameter" and OWN.match(d.tolerance_from)]  # fmt: skip
        found += [Close(name, min(spans))] if spans and min(spans) > 0.0 else []
    return tuple(found)


def run_out_of(holding: Holding, shop: Workshop) -> float | None:
    """What the holding may run out, on the indicator; None where it is not known. [mm]"""
    if holding.kind in IN_PLACE:
        return 0.0
    if holding.kind in BUSH_IN:
        return None  # bored where it is used, then slackened: how well it comes back is not known
    chucks = [c for c in shop.chucks if c.kind == holding.kind]
    named = [c for c in chucks if holding.device.startswith(c.name)]
    return (named or chucks)[0].run_out_mm if chucks else None


def wanted_mm(part: SolvedPart, first: Collection[str], second: Collection[str]) -> float | None:
    """The closest limits of what is finished in either of two holdings; None where one of them finishes none. [mm]"""
    close = close_features(part)
    here, there = ([c.span_mm for c in close if c.name in names] for names in (first, second))
    return min(*here, *there) if here and there else None


def leaves_too_much(part: SolvedPart, first: Collection[str], second: Collection[str], holding: Holding, shop: Workshop) -> bool:
    """Whether that second holding may run out by more than the closest limits on either side of it."""
    wanted, out = wanted_mm(part, first, second), run_out_of(holding, shop)
    return wanted is not None and (out is None or out > wanted)


def loses_true(plan: PartPlan, part: SolvedPart, shop: Workshop) -> bool:
    """Whether a planned route leaves, or may leave, more run-out between two such diameters than their limits are apart."""
    return any(out is None or out > wanted for _, _, _, wanted, out in _tied(plan, part, shop))


def with_running(plan: PartPlan, part: SolvedPart, shop: Workshop) -> PartPlan:
    """The plan with what runs true with what, said where a later holding begins to finish such a diameter."""
    stages = list(plan.stages)
    for k, before, names, wanted, out in _tied(plan, part, shop):
        text = _said(before, names, stages[k].operation.holding, wanted, out, shop)
        stages[k] = _with(stages[k], Setting("running true", text, "letting go of the work"))
    return replace(plan, stages=tuple(stages))


def _tied(plan: PartPlan, part: SolvedPart, shop: Workshop) -> Iterator[Tied]:
    """For each later holding that finishes such diameters: where it begins, those finished before and in it, the closest
    limits of all of them, and what it may run out."""
    close = {c.name: c for c in close_features(part)}
    last: dict[str, int] = {}
    for k, stage in enumerate(plan.stages):
        for name in stage.operation.features:
            if name in close and stage.operation.kind in FINISH:
                last[name] = k
    groups: dict[tuple[object, ...], list[str]] = {}
    for name, k in sorted(last.items(), key=lambda item: item[1]):
        groups.setdefault(_held(plan.stages[k].operation.holding), []).append(name)
    before: tuple[str, ...] = ()
    for held, names in groups.items():
        if before:
            k = next(i for i, s in enumerate(plan.stages) if _held(s.operation.holding) == held)
            wanted = min(close[name].span_mm for name in (*before, *names))
            yield k, before, tuple(names), wanted, run_out_of(plan.stages[k].operation.holding, shop)
        before += tuple(names)


def _held(holding: Holding) -> tuple[object, ...]:
    return holding.kind, holding.surface, holding.from_mm, holding.to_mm, holding.toward_tailstock


def _said(before: Sequence[str], now: Sequence[str], holding: Holding, wanted: float, out: float | None, shop: Workshop) -> str:
    units = shop.units
    what = f"{_names(now)} with {_names(before)}"
    if out is None:
        return (f"{what}: not known how true the {holding.kind} runs; clock {holding.surface} before cutting, "
                f"the closest limits are {said(units, wanted)} apart")  # fmt: skip
    if out > wanted:
        return (f"{what}: the {holding.kind} may run out {said(units, out)} on the indicator, the closest limits are "
                f"{said(units, wanted)} apart: clock {holding.surface} true before cutting")  # fmt: skip
    return f"{what}: within {said(units, out)} on the indicator, the run-out of the {holding.kind}" if out > 0.0 else (
        f"{what}: the {holding.kind} is made true where it stands")  # fmt: skip


def _names(names: Sequence[str]) -> str:
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def _with(stage: Stage, setting: Setting) -> Stage:
    operation = stage.operation
    return replace(stage, operation=replace(operation, settings=(*operation.settings, setting)))
