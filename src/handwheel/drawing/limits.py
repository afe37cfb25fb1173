"""Least and greatest of a size over every combination of the limits: solved at the corners, not estimated.

A linear estimate chooses the corner; the shape is solved there, the signs looked at again there, and so on. Where
every equation that a size rests on is linear the sum of its shares is exact and nothing needs solving.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.barely import ranges
from handwheel.drawing.bench import Bench, make_bench
from handwheel.drawing.corners import at_corners
from handwheel.drawing.eliminate import Row
from handwheel.drawing.junctions import Equation, Fn
from handwheel.drawing.leeway import TOGETHER, Leeway, Sway, duals, sway

Array = NDArray[np.float64]
STILL = 1e-9
"""A share of a size smaller than this moves nothing."""


@dataclass
class Extent:
    """A size with its limits. `slope` by place in v; `rests_on` are the equations with a share in it;
    `shares` how it moves with each toleranced number, by that number's place in v."""

    value: float
    low: float
    high: float
    mid: float
    slope: dict[int, float]
    rests_on: list[Equation]
    is_reached: bool = True
    shares: dict[int, float] = field(default_factory=dict)


def sways_of(way: Leeway, sizes: Sequence[Fn]) -> list[Sway]:
    """Value and derivatives of every size at the sizes as typed."""
    v = duals(way, way.v)
    return [sway(way, fn(v)) for fn in sizes]


def extents(way: Leeway, sizes: Sequence[Fn], *, is_quick: bool = False) -> list[Extent]:
    """Value, limits and mid-limit value of each size; quick: limits only estimated."""
    sways = sways_of(way, sizes)
    order = {id(e): k for k, e in enumerate(way.settled.equations)}
    limits = {p: (float(a), float(b)) for p, a, b in zip(way.places, way.lower, way.upper, strict=True)}
    found: list[Extent] = []
    hard: list[int] = []
    for i, one in enumerate(sways):
        on, shares, is_bent = _rests(way, one)
        on.sort(key=lambda e: order[id(e)])
        ends = [(d * limits[p][0], d * limits[p][1]) for p, d in shares.items()]
        low, high = one.value + sum(min(e) for e in ends), one.value + sum(max(e) for e in ends)
        mid = one.value + sum(a + b for a, b in ends) / 2.0
        kept = {p: shares[p] for p in sorted(shares) if abs(shares[p]) > STILL}
        found.append(Extent(one.value, low, high, mid, one.by_place, on, shares=kept))
        if high - low < STILL * 1e-2:
            found[-1].low = found[-1].high = one.value
        elif not (one.is_linear and not is_bent):
            hard.append(i)
    if way.loop and not is_quick:
        pairs, is_reached = ranges(way.settled, way.loop, sizes)
        for extent, (least, most) in zip(found, pairs, strict=True):
            extent.low, extent.high, extent.is_reached = least, most, is_reached
    elif hard and not is_quick:
        for bench, some in benches(way, sizes, sways, hard):
            _solve(bench, [found[i] for i in some])
    return found


def _rests(way: Leeway, one: Sway) -> tuple[list[Equation], Row, bool]:
    """The equations a size rests on, how it moves with each toleranced number, and whether any of them bends."""
    rows, shares = dict(one.by_row), dict(one.by_given)
    on: list[Equation] = []
    is_bent = False
    if one.by_free and way.blocks:
        closure = way.closure(way.resting(one.by_free))
        pull = np.array([one.by_free.get(j, 0.0) for j in closure.free]) @ closure.inverse / closure.scale
        is_bent = bool(np.abs(pull * closure.scale).max(initial=0.0) > STILL)
        for e, weight in zip(closure.equations, pull.tolist(), strict=True):
            if abs(weight) > STILL:
                on.append(way.curved[e])
            if weight:
                for k, c in way.sways[e].by_row.items():
                    rows[k] = rows.get(k, 0.0) - weight * c
                for p, c in way.sways[e].by_given.items():
                    shares[p] = shares.get(p, 0.0) - weight * c
    on += [way.linear[k] for k, c in rows.items() if abs(c) > STILL]
    return on, shares, is_bent


def benches(
    way: Leeway, sizes: Sequence[Fn], sways: Sequence[Sway], which: Sequence[int]
) -> list[tuple[Bench, list[int]]]:
    """The sizes `which` in lots, each with the blocks that its sizes rest on."""
    lots: list[tuple[set[int], list[int]]] = []
    for i in which:
        mine = way.resting(sways[i].by_free)
        if lots:
            both = lots[-1][0] | mine
            if mine <= lots[-1][0] or sum(len(way.blocks[b][1]) for b in both) <= TOGETHER:
                lots[-1][0].update(mine)
                lots[-1][1].append(i)
                continue
        lots.append((set(mine), [i]))
    return [
        (make_bench(way, blocks, [sizes[i] for i in some], [sways[i] for i in some]), some) for blocks, some in lots
    ]


def _solve(bench: Bench, found: Sequence[Extent]) -> None:
    shares = np.array([[e.shares.get(p, 0.0) for p in bench.numbers] for e in found]).reshape(len(found), -1)
    ends = at_corners(bench, shares)
    for k, extent in enumerate(found):
        extent.low, extent.high = float(ends.low[k]), float(ends.high[k])
        extent.is_reached = bool(ends.is_reached[k])
        if ends.mid is not None:
            extent.mid = float(ends.mid[k])
