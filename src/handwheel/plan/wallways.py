"""Where a blind hole leaves too little metal: the ways on, each tried by sizing the drawing again with it.

Shorter spigot, flat-bottomed hole, larger ball: the values are those at which the wall comes to the habit.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

from handwheel.drawing.records import Drawing, SolvedHole, SolvedPart, State
from handwheel.drawing.size import size_job
from handwheel.drawing.trial import dimension_of
from handwheel.job.records import DrawnDimension, InsideFeature, Job, OutsideKind, Part
from handwheel.plan.names import said
from handwheel.plan.records import PartPlan, Stage
from handwheel.stages.check_wall import least_wall
from handwheel.stages.finished import finished_section
from handwheel.workshop.records import Workshop

HOLE_KINDS = ("drill", "bore", "ream")
SHORTEST, LARGEST = 0.3, 1.6
"""How far a depth is shortened and a ball made larger, at most: times what is drawn."""
TRIES = 24
NEAR_MM = 0.0005
GOOD = (State.FULLY_DIMENSIONED, State.OVER_DIMENSIONED)


def with_wall_ways(plans: tuple[PartPlan, ...], drawing: Drawing, shop: Workshop) -> tuple[PartPlan, ...]:
    """The plans with the ways on at the last operation of every blind hole whose wall is under the habit."""
    found = []
    for plan in plans:
        part = next((p for p in drawing.parts if p.name == plan.part), None)
        stages = list(plan.stages)
        if part is not None and stages:
            for hole in (*part.inside_left, *part.inside_right):
                _add_ways(stages, part, hole, drawing.job, shop)
        found.append(replace(plan, stages=tuple(stages)))
    return tuple(found)


def _add_ways(stages: list[Stage], part: SolvedPart, hole: SolvedHole, job: Job, shop: Workshop) -> None:
    at = _last_of(stages, hole.name)
    if at is None or hole.source.is_through or not _is_thin(part, hole, shop):
        return
    operation = stages[at].operation
    figures = (*operation.figures, *wall_ways(job, part.name, hole.name, shop))
    stages[at] = replace(stages[at], operation=replace(operation, figures=figures))


def _last_of(stages: list[Stage], hole: str) -> int | None:
    found = [k for k, s in enumerate(stages) if s.operation.kind in HOLE_KINDS and hole in s.operation.features]
    return found[-1] if found else None


def _is_thin(part: SolvedPart, hole: SolvedHole, shop: Workshop) -> bool:
    return wall_of(part, hole.name, shop.habit("least wall")) < shop.habit("least wall") - NEAR_MM


def wall_of(part: SolvedPart, hole: str, lips_mm: float) -> float:
    """The least metal round that hole alone, inf where there is none such. [mm]"""
    keep = tuple(h for h in part.inside_left if h.name == hole), tuple(h for h in part.inside_right if h.name == hole)
    return least_wall(finished_section(replace(part, inside_left=keep[0], inside_right=keep[1])), lips_mm)[0]


def wall_ways(job: Job, part: str, hole: str, shop: Workshop) -> tuple[tuple[str, str], ...]:
    """The wall, and what each way on makes of it, by sizing the drawing again.

    Parameters
        job: as drawn. part, hole: the names of a part and of its blind hole.
        shop: whose habit of the least wall is kept.
    """
    habit, units = shop.habit("least wall"), shop.units
    drawn = next(p for p in job.parts if p.name == part)

    def wall(changed: Part) -> float | None:
        sized = size_job(replace(job, parts=tuple(changed if p.name == part else p for p in job.parts)))
        if sized.state not in GOOD or sized.faults:
            return None
        return wall_of(sized.part(part), hole, habit)

    now = wall(drawn)
    if now is None:
        return ()
    found = [("wall left", f"{said(units, now)}; {said(units, habit)} is the habit. Ways on, each sized again:")]
    for head, phrase, most, what in _sizes(drawn, hole):
        found.append((head, _words(wall, drawn, phrase, most, what, shop)))
    flat = wall(_flat(drawn, hole))
    if flat is not None and flat > now + NEAR_MM:
        enough = "" if flat >= habit - NEAR_MM else ": not yet enough, with one of the others"
        found.append(("flat bottom", f"leaves {said(units, flat)}{enough}; opened by a flat-ended cutter after the drill"))
    return tuple(found)


def _sizes(part: Part, hole: str) -> Iterator[tuple[str, DrawnDimension, float, str]]:
    """The given sizes that may be changed: its name on the sheet, the dimension, how far, and what goes with it."""
    by_name = {d.phrase.text: d for d in part.dimensions if d.value.number is not None}
    if f"{hole} depth" in by_name:
        yield "shorter", by_name[f"{hole} depth"], SHORTEST, "deep, and its spigot as much shorter"
    for feature in part.outside:
        if feature.kind is OutsideKind.BALL and f"{feature.name} diameter" in by_name:
            yield "larger ball", by_name[f"{feature.name} diameter"], LARGEST, f"{feature.name} diameter"


def _words(
    wall: Callable[[Part], float | None], part: Part, drawn: DrawnDimension, most: float, what: str, shop: Workshop
) -> str:
    """The size at which the wall comes to the habit, between that drawn and so many times it."""
    habit, units = shop.habit("least wall"), shop.units
    assert drawn.value.number is not None
    start = float(drawn.value.number.value)
    far = start * most

    def left(size: float) -> float | None:
        return wall(_with(part, drawn, size))

    at_far = left(far)
    if at_far is None or at_far < habit:
        return f"not to {said(units, far)}: {'no such shape' if at_far is None else said(units, at_far) + ' left'}"
    near = start
    for _ in range(TRIES):
        middle = (near + far) / 2.0
        at = left(middle)
        near, far = (near, middle) if at is not None and at >= habit else (middle, far)
        if abs(far - near) < NEAR_MM:
            break
    left_then = left(far)
    return f"{said(units, far)} {what}: leaves {said(units, left_then if left_then is not None else math.nan)}"


def _with(part: Part, drawn: DrawnDimension, size: float) -> Part:
    changed = dimension_of(drawn.phrase, size)
    return replace(part, dimensions=tuple(changed if d is drawn else d for d in part.dimensions))


def _flat(part: Part, hole: str) -> Part:
    def flat(feature: InsideFeature) -> InsideFeature:
        return replace(feature, is_flat_bottomed=True) if feature.name == hole else feature

    return replace(part, inside_left=tuple(map(flat, part.inside_left)), inside_right=tuple(map(flat, part.inside_right)))
