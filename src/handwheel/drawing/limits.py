"""Least and greatest of a size over every combination of the limits: solved at the corners, not estimated.

A linear estimate chooses the corner; the shape is solved there, the signs looked at again there, and so on. Where
every equation that a size rests on is linear the sum of its shares is exact and nothing needs solving.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.ad import Dual, value_of
from handwheel.drawing.barely import ranges
from handwheel.drawing.corners import Slopes, at_corners
from handwheel.drawing.junctions import Equation, Fn
from handwheel.drawing.leeway import Leeway, duals

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


def slopes_of(way: Leeway, sizes: Sequence[Fn]) -> Slopes:
    """Value and derivatives of every size at the sizes as typed."""
    v = duals(way, way.v)
    column = {p: i for i, p in enumerate(way.places)}
    made = Slopes(
        np.zeros(len(sizes)), np.zeros((len(sizes), way.count - 1)), np.zeros((len(sizes), len(way.places))), [], []
    )
    for i, fn in enumerate(sizes):
        q = fn(v)
        made.value[i] = value_of(q)
        made.is_linear.append(type(q) is not Dual or q.lin)
        made.own.append({})
        if type(q) is Dual:
            made.own[-1] = {j: float(d) for j, d in q.g.items() if j < way.count}
            for j, d in q.g.items():
                if j < way.count:
                    made.by_unknown[i, j - 1] = d
                else:
                    made.by_given[i, column[j]] = d
    return made


def extents(way: Leeway, sizes: Sequence[Fn], *, is_quick: bool = False) -> list[Extent]:
    """Value, limits and mid-limit value of each size; quick: limits only estimated."""
    equations = way.settled.equations
    slopes = slopes_of(way, sizes)
    rests: Array = np.abs(slopes.by_unknown @ way.inverse / way.scale)
    s = slopes.by_unknown @ way.moves + slopes.by_given
    a, b = s * way.lower, s * way.upper
    low, high = slopes.value + np.minimum(a, b).sum(axis=1), slopes.value + np.maximum(a, b).sum(axis=1)
    mid = slopes.value + (a + b).sum(axis=1) / 2.0
    bent = rests[:, ~way.is_linear].max(axis=1, initial=0.0).tolist()
    found: list[Extent] = []
    hard: list[int] = []
    for i, value in enumerate(slopes.value.tolist()):
        shares = {p: float(d) for p, d in zip(way.places, s[i], strict=True) if abs(d) > STILL}
        on = [equations[k] for k in np.flatnonzero(rests[i] > STILL)]
        found.append(Extent(value, float(low[i]), float(high[i]), float(mid[i]), slopes.own[i], on, shares=shares))
        if high[i] - low[i] < STILL * 1e-2:
            found[-1].low = found[-1].high = value
        elif not (slopes.is_linear[i] and bent[i] <= STILL):
            hard.append(i)
    if way.loop and not is_quick:
        pairs, is_reached = ranges(way.settled, way.loop, sizes)
        for extent, (least, most) in zip(found, pairs, strict=True):
            extent.low, extent.high, extent.is_reached = least, most, is_reached
    elif hard and not is_quick:
        ends = at_corners(way, [sizes[i] for i in hard], slopes.only(hard), s[hard])
        for k, i in enumerate(hard):
            extent = found[i]
            extent.low, extent.high = float(ends.low[k]), float(ends.high[k])
            extent.is_reached = bool(ends.is_reached[k])
            if ends.mid is not None:
                extent.mid = float(ends.mid[k])
    return found
