"""Where a blind hole leaves too little metal: the ways on, each tried by sizing the drawing again with it.

Shorter spigot (and its mate's length with it), flat-bottomed hole, larger ball, and a flat bottom with one of the others: the
values are those at which the wall comes to the habit.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from handwheel.drawing.records import Drawing, SolvedHole, SolvedPart, State
from handwheel.drawing.size import size_job
from handwheel.drawing.trial import dimension_of
from handwheel.job.records import DrawnDimension, InsideFeature, Job, OutsideKind, Part
from handwheel.plan.bondwords import Spigots
from handwheel.plan.joints import bonded_joint
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
                _add_ways(stages, part, hole, drawing, shop)
        found.append(replace(plan, stages=tuple(stages)))
    return tuple(found)


def _add_ways(stages: list[Stage], part: SolvedPart, hole: SolvedHole, drawing: Drawing, shop: Workshop) -> None:
    at = _last_of(stages, hole.name)
    if at is None or hole.source.is_through or not _is_thin(part, hole, shop):
        return
    operation = stages[at].operation
    seats = (seat for assembly in drawing.job.assemblies for seat in assembly.seats)
    joints = (bonded_joint(seat, drawing) for seat in seats if seat.moving.part == part.name)
    joint = next((j for j in joints if j is not None and j.hole.name == hole.name), None)
    figures = (*operation.figures, *wall_ways(drawing.job, part.name, hole.name, shop, joint))
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


@dataclass(frozen=True, slots=True)
class Way:
    """A given size that may be changed: its name on the sheet, the dimension, how far at most, what goes with it in words, and
    the mate's length that gives way by as much (its part and dimension), None where there is none."""

    head: str
    drawn: DrawnDimension
    most: float
    what: str
    mate: tuple[str, DrawnDimension] | None = None


class _Trial:
    """The wall that the drawing leaves, sized again with parts changed."""

    def __init__(self, job: Job, part: str, hole: str, shop: Workshop) -> None:
        self.job, self.part, self.hole, self.shop = job, part, hole, shop

    def wall(self, *changed: Part) -> float | None:
        """With those parts in place of the drawn ones; None where that is no shape, or contradicts. [mm]"""
        by_name = {p.name: p for p in changed}
        sized = size_job(replace(self.job, parts=tuple(by_name.get(p.name, p) for p in self.job.parts)))
        if sized.state not in GOOD or sized.faults:
            return None
        return wall_of(sized.part(self.part), self.hole, self.shop.habit("least wall"))

    def with_size(self, part: Part, way: Way, size: float) -> float | None:
        """With that way's dimension at a size, and its mate's length less by as much. [mm]"""
        changed = [_with(part, way.drawn, size)]
        if way.mate is not None:
            name, drawn = way.mate
            assert way.drawn.value.number is not None
            assert drawn.value.number is not None
            length = float(drawn.value.number.value) + size - float(way.drawn.value.number.value)
            if length <= 0.0:
                return None
            changed.append(_with(next(p for p in self.job.parts if p.name == name), drawn, length))
        return self.wall(*changed)


def wall_ways(job: Job, part: str, hole: str, shop: Workshop, joint: Spigots | None = None) -> tuple[tuple[str, str], ...]:
    """The wall, and what each way on makes of it, by sizing the drawing again; then two ways together.

    Parameters
        job: as drawn. part, hole: the names of a part and of its blind hole.
        shop: whose habit of the least wall is kept.
        joint: the spigot that goes into the hole, None where none is known.
    """
    habit, units = shop.habit("least wall"), shop.units
    drawn = next(p for p in job.parts if p.name == part)
    trial = _Trial(job, part, hole, shop)
    now = trial.wall(drawn)
    if now is None:
        return ()
    found = [("wall left", f"{said(units, now)}; {said(units, habit)} is the habit. Ways on, each sized again:")]
    ways = tuple(_sizes(drawn, hole, job, joint))
    found += [(way.head, _words(trial, drawn, way)) for way in ways]
    flat = _flat(drawn, hole)
    left = trial.wall(flat)
    if left is None or left <= now + NEAR_MM:
        return tuple(found)
    enough = left >= habit - NEAR_MM
    found.append(("flat bottom", f"leaves {said(units, left)}{'' if enough else ': not yet enough'}; opened by a flat-ended "
                  "cutter after the drill"))  # fmt: skip
    if not enough:
        found += [(f"flat and {way.head}", _words(trial, flat, way)) for way in ways]
    return tuple(found)


def _sizes(part: Part, hole: str, job: Job, joint: Spigots | None) -> Iterator[Way]:
    """The given sizes that may be changed."""
    by_name = {d.phrase.text: d for d in part.dimensions if d.value.number is not None}
    if f"{hole} depth" in by_name:
        mate = None if joint is None else _mate(job, joint)
        whose = "its spigot" if joint is None else f"{joint.spigot.name} of {joint.spigot_part.name}"
        yield Way("shorter", by_name[f"{hole} depth"], SHORTEST, f"deep, and {whose} as much shorter", mate)
    for feature in part.outside:
        if feature.kind is OutsideKind.BALL and f"{feature.name} diameter" in by_name:
            yield Way("larger ball", by_name[f"{feature.name} diameter"], LARGEST, f"{feature.name} diameter")


def _mate(job: Job, joint: Spigots) -> tuple[str, DrawnDimension] | None:
    """The spigot's own length where it is given as a number: then it is made shorter with the hole."""
    part = next(p for p in job.parts if p.name == joint.spigot_part.name)
    phrase = f"{joint.spigot.name} length"
    drawn = next((d for d in part.dimensions if d.phrase.text == phrase and d.value.follow is None and d.value.number), None)
    return None if drawn is None else (part.name, drawn)


def _words(trial: _Trial, part: Part, way: Way) -> str:
    """The size at which the wall comes to the habit, between that drawn and so many times it."""
    habit, units = trial.shop.habit("least wall"), trial.shop.units
    assert way.drawn.value.number is not None
    start = float(way.drawn.value.number.value)
    far = start * way.most
    at_far = trial.with_size(part, way, far)
    if at_far is None or at_far < habit:
        return f"not to {said(units, far)}: {'no such shape' if at_far is None else said(units, at_far) + ' left'}"
    near = start
    for _ in range(TRIES):
        middle = (near + far) / 2.0
        at = trial.with_size(part, way, middle)
        near, far = (near, middle) if at is not None and at >= habit else (middle, far)
        if abs(far - near) < NEAR_MM:
            break
    left = trial.with_size(part, way, far)
    return f"{said(units, far)} {way.what}: leaves {said(units, math.nan if left is None else left)}"


def _with(part: Part, drawn: DrawnDimension, size: float) -> Part:
    changed = dimension_of(drawn.phrase, size)
    return replace(part, dimensions=tuple(changed if d is drawn else d for d in part.dimensions))


def _flat(part: Part, hole: str) -> Part:
    def flat(feature: InsideFeature) -> InsideFeature:
        return replace(feature, is_flat_bottomed=True) if feature.name == hole else feature

    return replace(part, inside_left=tuple(map(flat, part.inside_left)), inside_right=tuple(map(flat, part.inside_right)))
