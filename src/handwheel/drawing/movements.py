"""First derivatives of a group at a shape: what nothing hinders from moving, and how sizes follow the given numbers."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.ad import Dual, Scalar
from handwheel.drawing.group import Group
from handwheel.drawing.junctions import Equation, Fn

Array = NDArray[np.float64]
FREE = 1e-8
"""A singular value below this share of the greatest counts as none, rows being of size 1."""


def gradient(group: Group, fn: Fn, v: Sequence[float], places: Sequence[int] = ()) -> tuple[Array, Array]:
    """Derivatives of fn by the unknowns (count,) and by the numbers at `places` of v."""
    duals: list[Scalar] = [0.0, *(Dual(v[i], {i: 1.0}) for i in range(1, group.count)), *v[group.count :]]
    for place in places:
        duals[place] = Dual(v[place], {place: 1.0})
    row, by = np.zeros(group.count), np.zeros(len(places))
    try:
        with np.errstate(all="ignore"):
            found = fn(duals)
    except ZeroDivisionError:
        return row, by
    if type(found) is Dual:
        column = {p: i for i, p in enumerate(places)}
        for j, d in found.g.items():
            if j < group.count:
                row[j] = d
            else:
                by[column[j]] = d
    # at a shape that barely is a derivative may be without bound: nothing is told by it
    return np.where(np.abs(row) < 1e150, row, 0.0), np.where(np.abs(by) < 1e150, by, 0.0)


def jacobian(
    group: Group, equations: Sequence[Equation], v: Sequence[float], places: Sequence[int] = ()
) -> tuple[Array, Array]:
    """Rows of the equations by the unknowns (m, count) and by the numbers at `places` (m, n), each row of size 1."""
    rows, by = np.zeros((len(equations), group.count)), np.zeros((len(equations), len(places)))
    for i, equation in enumerate(equations):
        rows[i], by[i] = gradient(group, equation.fn, v, places)
    size = np.abs(rows).max(axis=1, keepdims=True, initial=0.0)
    size = np.where(size > 0, size, 1.0)
    return rows / size, by / size


def null_space(group: Group, equations: Sequence[Equation], v: Sequence[float]) -> Array:
    """(n, count) independent movements that no equation hinders, each in as few unknowns as may be."""
    rows, _ = jacobian(group, equations, v)
    count = group.count
    _, values, right = np.linalg.svd(rows[:, 1:], full_matrices=True)
    rank = int((values > FREE * max(1.0, float(values.max(initial=0.0)))).sum())
    loose = np.zeros((count - 1 - rank, count))
    loose[:, 1:] = _sparse(right[rank:].copy())
    return loose


def _sparse(rows: Array) -> Array:
    """The same space with every row led by a column of its own, so that what is independent is seen to be."""
    led: list[int] = []
    for k in range(len(rows)):
        head = np.abs(rows[k:]).max(axis=0)
        head[led] = 0.0
        p = int(head.argmax())
        best = k + int(np.abs(rows[k:, p]).argmax())
        rows[[k, best]] = rows[[best, k]]
        rows[k] /= rows[k, p]
        others = np.arange(len(rows)) != k
        rows[others] -= np.outer(rows[others, p], rows[k])
        led.append(p)
    rows[np.abs(rows) < 1e-9] = 0.0
    return rows


def sensitivities(
    group: Group, equations: Sequence[Equation], v: Sequence[float], fn: Fn, places: Sequence[int]
) -> Array:
    """(n,) how fn changes with each number at `places`, the equations holding."""
    rows, by = jacobian(group, equations, v, places)
    own, _ = gradient(group, fn, v)
    moves = -np.linalg.pinv(rows[:, 1:], rcond=1e-9) @ by
    return np.asarray(own[1:] @ moves, dtype=np.float64)


def is_rigid(group: Group, fn: Fn, v: Sequence[float], loose: Array) -> bool:
    """Whether fn keeps its value whatever is loose."""
    own, _ = gradient(group, fn, v)
    size = float(np.abs(own).max(initial=0.0))
    return not len(loose) or float(np.abs(loose @ own).max()) <= 1e-7 * max(size, 1e-300)
