"""Linear equations eliminated row by row, keeping account of which rows a dependent one is made of.

Rows come in order of trust; one that adds nothing is reported as a loop: the rows it is a sum of, and by how much
they fail to close.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
RANK = 1e-9
"""A row whose rest is smaller than this, rows being of size 1, is dependent."""


@dataclass
class Loop:
    """Rows that depend on each other: sum of weight_i times row_i is zero; `misclosure` that sum of constants."""

    weights: dict[int, float]
    misclosure: float


@dataclass
class Reduced:
    """x[pivots] = const - rest @ x[free]; `x = base + spread @ y` with y = x[free]."""

    pivots: list[int]
    free: list[int]
    base: Array
    spread: Array
    kept: list[int]
    loops: list[Loop] = field(default_factory=list)


def eliminate(rows: Array, constants: Array, count: int) -> Reduced:
    """Reduce `rows @ x + constants = 0` over `count` unknowns; x[0] is the constant 0 and never a pivot."""
    made = _eliminate(rows, constants, count, is_tracked=False)
    return _eliminate(rows, constants, count, is_tracked=True) if made.loops else made


def _eliminate(rows: Array, constants: Array, count: int, *, is_tracked: bool) -> Reduced:
    """The same; the account of what a dependent row is made of is kept only when there is one."""
    m = rows.shape[0]
    size = np.abs(rows).max(axis=1) if m else np.zeros(0)
    size[size == 0] = 1.0
    full = np.empty((m, count + 1))
    full[:, :count] = rows / size[:, None]
    full[:, count] = constants / size
    table = np.zeros((m, count + 1))
    track = np.zeros((m, m))
    pivots: list[int] = []
    kept: list[int] = []
    loops: list[Loop] = []
    for i in range(m):
        row = full[i]
        k = len(pivots)
        if is_tracked:
            made = np.zeros(m)
            made[i] = 1.0
        if k:
            factor = row[pivots]
            row = row - factor @ table[:k]
            if is_tracked:
                made -= factor @ track[:k]
        head = np.abs(row[1:count])
        p = int(head.argmax()) + 1 if count > 1 else 0
        if count <= 1 or head[p - 1] < RANK:
            if not is_tracked:
                return Reduced([], [], full[:0], full[:0], [], [Loop({}, 0.0)])
            weights = {int(j): float(made[j] / size[j]) for j in np.flatnonzero(np.abs(made) > 1e-9)}
            loops.append(Loop(weights, float(row[count])))
            continue
        scale = row[p]
        row = row / scale
        if k:
            column = table[:k, p].copy()
            table[:k] -= np.multiply.outer(column, row)
            if is_tracked:
                track[:k] -= np.multiply.outer(column, made / scale)
        table[k] = row
        if is_tracked:
            track[k] = made / scale
        pivots.append(p)
        kept.append(i)
    taken = set(pivots)
    free = [j for j in range(1, count) if j not in taken]
    base = np.zeros(count)
    spread = np.zeros((count, len(free)))
    k = len(pivots)
    if k:
        base[pivots] = -table[:k, count]
        rest = -table[:k][:, free]
        rest[np.abs(rest) < 1e-12] = 0.0
        spread[pivots] = rest
    for j, f in enumerate(free):
        spread[f, j] = 1.0
    return Reduced(pivots, free, base, spread, kept, loops)
