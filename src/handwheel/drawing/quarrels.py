"""Dimensions that contradict each other: the smallest sets, by how much, confirmed by leaving each one out in turn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from handwheel.drawing.group import Given, Group
from handwheel.drawing.movements import sensitivities
from handwheel.drawing.settle import Repeat, Settled
from handwheel.drawing.trial import Baseline, Changes, baseline, clusters, impossible, needed_size, tried
from handwheel.job.records import DrawnDimension

MOST = 80
"""The most dimensions of one quarrel that are each left out in turn."""


@dataclass
class Quarrel:
    """Dimensions of which each, left out, restores agreement, once what `apart` names is left out as well.

    `head` is the one by which the amount `off` is told; `needed`: by place in v, the number each would need.
    `features`: where it is the shape itself that quarrels; `others`: what else stands in the sets that do not agree.
    """

    members: list[Given]
    head: Given
    off: float
    needed: dict[int, float] = field(default_factory=dict)
    apart: Changes = field(default_factory=dict)
    features: tuple[str, ...] = ()
    others: list[Given] = field(default_factory=list)


def quarrels(settled: Settled) -> list[Quarrel]:
    """The quarrels of a group, independent ones apart."""
    bad = [r for r in settled.repeats if not r.agrees]
    if not bad:
        return []
    base = baseline(settled)
    found: list[Quarrel] = []
    for repeat in bad:
        repeat.others = _resting(settled, repeat)
    for cluster in clusters(bad, _members):
        aside: dict[int, DrawnDimension | None] = dict.fromkeys((r.given.index for r in bad if r not in cluster), None)
        by_index = {g.index: g for r in cluster for g in [r.given, *r.others]}
        candidates = [by_index[i] for i in sorted(by_index)]
        one = _confirmed(settled.group, cluster[0], candidates, aside, base)
        if one.members:
            found.append(one)
            continue
        for repeat in cluster:
            others = dict.fromkeys((r.given.index for r in cluster if r is not repeat), None)
            rest = [g for g in candidates if g.index not in others]
            found.append(_confirmed(settled.group, repeat, rest, {**aside, **others}, base))
    return found


def _resting(settled: Settled, repeat: Repeat) -> list[Given]:
    """What the loop names, and all that the size rests on at the shape found without it."""
    group, given = settled.group, repeat.given
    gone = {r.given.index for r in settled.repeats}
    kept = [g for g in group.givens if g.index not in gone]
    assert settled.v is not None
    sizes = [(given.dimension.phrase, given.part)]
    if given.dimension.value.follow is not None:
        sizes.append((given.dimension.value.follow.phrase, given.part))
    found = {g.index: g for g in repeat.others}
    for phrase, part in sizes:
        fn = group.measured(phrase, part)
        rates = sensitivities(group, settled.equations, settled.v, fn, [g.index for g in kept])
        most = float(np.abs(rates).max(initial=0.0))
        found.update({g.index: g for g, r in zip(kept, rates, strict=True) if abs(r) > 1e-7 * max(most, 1e-12)})
    return [found[i] for i in sorted(found)]


def barred(settled: Settled) -> Quarrel | None:
    """Where sizes quarrel and no shape is left either: the dimensions of which one alone would end both, if any."""
    if settled.v is not None or not settled.repeats:
        return None
    one = _confirmed(settled.group, settled.repeats[0], settled.group.givens, {}, Baseline())
    return one if one.members else None


def standing_in_the_way(settled: Settled) -> Quarrel | None:
    """Where no shape is left: the dimensions of which one alone, left out, ends it; those that leave nothing loose.

    None where there is no such dimension: what merely frees something else to give way is no cause.
    """
    givens = settled.group.givens
    if settled.v is not None or not givens:
        return None
    one = _confirmed(settled.group, Repeat(givens[0], []), givens, {}, Baseline())
    one.members = [g for g in one.members if g.index in one.needed]
    if not one.members:
        return None
    one.head = one.members[0]
    one.off = one.head.nominal - one.needed[one.head.index]
    return one


def _members(repeat: Repeat) -> set[int]:
    return {repeat.given.index, *(g.index for g in repeat.others)}


def _confirmed(
    group: Group, repeat: Repeat, candidates: Sequence[Given], aside: Mapping[int, DrawnDimension | None], base: Baseline
) -> Quarrel:
    """Of the candidates, those whose removal alone restores agreement, and leaves the least that cannot be.

    Where one of them accounts for all that is wrong, the others only move it elsewhere.
    """
    leaving: dict[int, int] = {}
    made = Quarrel([], repeat.given, repeat.off, apart=dict(aside), features=repeat.features)
    for given in candidates[:MOST]:
        found = tried(group, {**aside, given.index: None})
        if not base.is_restored(found):
            continue
        made.members.append(given)
        leaving[given.index] = len(impossible(found))
        size = needed_size(found, given)
        if size is not None:
            made.needed[given.index] = size
    least = min(leaving.values(), default=0)
    made.members = [g for g in made.members if leaving[g.index] == least]
    if made.members and repeat.given not in made.members:
        made.head = made.members[0]
    made.others = [g for g in candidates if g not in made.members]
    if made.head.index in made.needed:
        made.off = made.head.nominal - made.needed[made.head.index]
    return made
