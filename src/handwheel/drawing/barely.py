"""Limits of a shape that barely is: where at the sizes as typed two surfaces just touch.

There no derivative exists, so every combination of the limits that matter is solved from scratch. Combinations
without a shape are left out and said to be.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.group import Given, Group
from handwheel.drawing.junctions import Equation, Fn
from handwheel.drawing.settle import Settled, settle

Array = NDArray[np.float64]
MOST = 6
"""How many toleranced sizes are taken in every combination; others move one at a time."""


def ranges(settled: Settled, loop: Sequence[Equation], sizes: Sequence[Fn]) -> tuple[list[tuple[float, float]], bool]:
    """Least and greatest of each size over the combinations that have a shape, and whether all have one."""
    group = settled.group
    assert settled.v is not None
    gone = {r.given.index for r in settled.repeats}
    free = [g for g in group.givens if g.index not in gone and (g.limits.lower or g.limits.upper)]
    inner = {e.param for e in loop if e.source is not None}
    tight = [g for g in free if g.index in inner][:MOST]
    tight += [g for g in free if g not in tight][: MOST - len(tight)]
    others = [g for g in free if g not in tight]
    seen = [_values(settled.v, sizes)]
    all_solved = True
    for ends in product((0, 1), repeat=len(tight)):
        found = _solved_at(group, tight, ends, sizes)
        all_solved &= found is not None
        if found is not None:
            seen.append(found)
    table = np.array(seen)
    low, high = table.min(axis=0), table.max(axis=0)
    nominal = table[0]
    for given in others:
        for end in (0, 1):
            found = _solved_at(group, [given], (end,), sizes)
            if found is not None:
                change = np.array(found) - nominal
                low, high = low + np.minimum(change, 0.0), high + np.maximum(change, 0.0)
    settle(group)
    return list(zip(low.tolist(), high.tolist(), strict=True)), all_solved


def _values(v: Sequence[float], sizes: Sequence[Fn]) -> list[float]:
    return [float(fn(v)) for fn in sizes]


def _solved_at(group: Group, givens: Sequence[Given], ends: Sequence[int], sizes: Sequence[Fn]) -> list[float] | None:
    """The sizes with the given numbers at their lower (0) or upper (1) limit; None when there is no shape."""
    kept = [g.nominal for g in givens]
    for given, end in zip(givens, ends, strict=True):
        given.nominal += given.limits.upper if end else given.limits.lower
    found = settle(group, is_quick=True)
    for given, nominal in zip(givens, kept, strict=True):
        given.nominal = nominal
    if found.v is None or found.broken or found.loose:
        return None
    return _values(found.v, sizes)

