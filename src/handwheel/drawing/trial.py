"""The drawing sized once more with some dimensions changed or gone: how every fault of the drawing is confirmed."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TypeAlias, TypeVar

from handwheel.drawing.group import Given, Group, build_group
from handwheel.drawing.junctions import Equation
from handwheel.drawing.movements import is_rigid, null_space
from handwheel.drawing.rulings import Broken
from handwheel.drawing.settle import Settled, measured_off, settle
from handwheel.drawing.walls import walls
from handwheel.job.records import (
    AcrossFeature,
    DrawnDimension,
    DrawnValue,
    InsideFeature,
    Number,
    OutsideFeature,
    Part,
    Phrase,
)

Item = TypeVar("Item")
AnyFeature: TypeAlias = OutsideFeature | InsideFeature | AcrossFeature
Changes: TypeAlias = Mapping[int, DrawnDimension | None]
"""By a given number's place in v: what stands there instead, None for nothing."""


def tried(
    group: Group,
    changes: Changes,
    more: Mapping[str, Sequence[DrawnDimension]] | None = None,
    features: Mapping[tuple[str, str], AnyFeature] | None = None,
    *,
    is_quick: bool = True,
) -> Settled:
    """The group sized anew from the drawing with those dimensions changed, `more` by part, and `features` replaced."""
    gone = {(g.part, id(g.dimension)): changes[g.index] for g in group.givens if g.index in changes}

    def kept(part: str, dimensions: Sequence[DrawnDimension]) -> tuple[DrawnDimension, ...]:
        found = [gone.get((part, id(d)), d) for d in dimensions]
        return (*(d for d in found if d is not None), *(more or {}).get(part, ()))

    def changed(part: Part) -> Part:
        own = {name: f for (where, name), f in (features or {}).items() if where == part.name}
        outside = tuple(f for k in part.outside if isinstance(f := own.get(k.name, k), OutsideFeature))
        left, right = (
            tuple(f for k in holes if isinstance(f := own.get(k.name, k), InsideFeature))
            for holes in (part.inside_left, part.inside_right)
        )
        across = tuple(f for k in part.across if isinstance(f := own.get(k.name, k), AcrossFeature))
        dimensions = kept(part.name, part.dimensions)
        return replace(
            part, dimensions=dimensions, outside=outside, inside_left=left, inside_right=right, across=across
        )

    parts = [changed(s.part) for s in group.shapes.values()]
    placed = [replace(a.source, dimensions=kept("", a.source.dimensions)) for a in group.assemblies]
    again = build_group(group.job, parts, placed)
    # what a change does not touch was solved before, in the drawing as it is or in another trial
    again.solved = group.solved = {} if group.solved is None else group.solved
    return settle(again, is_quick=is_quick)


def dimension_of(phrase: Phrase, size: float) -> DrawnDimension:
    """A dimension that gives the phrase a size. [mm, degrees, diameter per length]"""
    number = Number(Fraction(size), phrase.size.measure)
    return DrawnDimension(phrase, DrawnValue(f"{size:.6g}", phrase.span, number))


def with_size(given: Given, nominal: float, coarser: float = 1.0) -> DrawnDimension:
    """The dimension with another number typed, its last place so many times as coarse. [mm, deg, diameter per length]"""
    value = given.dimension.value
    number = replace(value.number, value=Fraction(nominal), place=value.number.place * Fraction(coarser))
    return replace(given.dimension, value=replace(value, number=number))


def impossible(settled: Settled) -> list[Broken]:
    """What cannot be at the shape found, whatever is still loose."""
    if settled.v is None:
        return []
    found = list(settled.broken)
    if not found and not settled.loose:
        unsure = {name for _, name in settled.undecided}
        return [b for b in walls(settled.group, settled.v) if not unsure & set(b.features)]
    if not settled.loose or not found:
        return found
    loose = null_space(settled.group, settled.equations, settled.v)
    v, group = settled.v, settled.group
    return [b for b in found if b.margins and all(is_rigid(group, m, v, loose) for m in b.margins)]


@dataclass(frozen=True)
class Baseline:
    """What may be wrong in a trial because it was so for another reason: rulings broken.

    `stuck`: what must not be stuck; where it is something else that has no shape, that is for later. `is_order_only`:
    features were out of order, so that whether metal is left could not be told.
    """

    broken: frozenset[tuple[str, str]] = frozenset()
    stuck: frozenset[tuple[str, str, tuple[str, ...]]] = frozenset()
    is_order_only: bool = False

    def is_restored(self, found: Settled) -> bool:
        """Whether the trial has a shape, no sizes that quarrel, and nothing impossible that was not so before."""
        if found.v is None:
            return bool(self.stuck and found.stuck) and not self.stuck & stuck_keys(found.stuck)
        if not all(r.agrees for r in found.repeats):
            return False
        if self.is_order_only and not found.broken:
            return True
        return {b.key for b in impossible(found)} <= self.broken


def baseline(settled: Settled, mended: frozenset[tuple[str, str]] = frozenset()) -> Baseline:
    """What may stay wrong in a trial that is to put right `mended` alone."""
    broken = frozenset(b.key for b in impossible(settled))
    return Baseline(broken - mended, is_order_only=bool(settled.broken))


def stuck_keys(equations: Sequence[Equation]) -> frozenset[tuple[str, str, tuple[str, ...]]]:
    """What tells which of the shape's own equations these are."""
    return frozenset((e.part, e.what, e.features) for e in equations if e.source is None)


def needed_size(found: Settled, given: Given) -> float | None:
    """The number the dimension would need at the shape found without it; None where that is loose."""
    if found.v is None:
        return None
    group = found.group
    if found.loose:
        loose = null_space(group, found.equations, found.v)
        if not is_rigid(group, group.measured(given.dimension.phrase, given.part), found.v, loose):
            return None
    size = given.nominal + measured_off(group, given, found.v)
    return size if math.isfinite(size) else None


def clusters(items: Sequence[Item], touched: Callable[[Item], set[int]]) -> list[list[Item]]:
    """Items in sets that share nothing that they touch, in their order."""
    sets: list[tuple[list[Item], set[int]]] = []
    for item in items:
        mine, places = [item], set(touched(item))
        apart = []
        for other in sets:
            if other[1] & places:
                mine, places = other[0] + mine, places | other[1]
            else:
                apart.append(other)
        sets = [*apart, (mine, places)]
    return [s for s, _ in sets]
