"""A small linear programme, solved exactly at a corner: for the few rows that sharing tolerances asks for.

Two-phase simplex on a dense table, the entering column the first that gains (Bland's rule), so that it cannot go
round in a circle. Made for tens of rows, not thousands.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
NIL = 1e-10


def maximise(gain: Array, most: Array, limit: Array, equal: Array | None = None, to: Array | None = None) -> Array | None:
    """The x >= 0 with the greatest gain·x that keeps most·x <= limit and equal·x = to.

    Parameters
        gain: (n,). most: (m, n), limit: (m,). equal: (k, n), to: (k,); left out: none.
    Returns
        (n,) one corner where the greatest gain is reached; None when nothing keeps every row.
    Raises
        ValueError: the gain grows without end.
    """
    n, m = gain.size, limit.size
    rows = most if equal is None else np.vstack([most, equal])
    right = limit if to is None else np.concatenate([limit, to])
    slack = np.vstack([np.eye(m), np.zeros((right.size - m, m))])
    sign = np.where(right < 0, -1.0, 1.0)
    table = np.hstack([rows, slack]) * sign[:, None]
    right = right * sign
    basis = [n + i if i < m and sign[i] > 0 else -1 for i in range(right.size)]
    needs = [i for i, b in enumerate(basis) if b < 0]
    helpers = np.zeros((right.size, len(needs)))
    for k, i in enumerate(needs):
        helpers[i, k] = 1.0
        basis[i] = n + m + k
    whole = np.hstack([table, helpers, right[:, None]])
    if needs:
        start = np.concatenate([np.zeros(n + m), -np.ones(len(needs))])
        _climb(whole, basis, start, n + m + len(needs))
        if sum(float(whole[i, -1]) for i, b in enumerate(basis) if b >= n + m) > NIL * max(1.0, float(right.max())):
            return None
        whole, basis = _without_helpers(whole, basis, n + m)
    _climb(whole, basis, np.concatenate([gain, np.zeros(m)]), n + m)
    x = np.zeros(n + m)
    for i, b in enumerate(basis):
        x[b] = whole[i, -1]
    return np.asarray(x[:n])


def _climb(table: Array, basis: list[int], gain: Array, columns: int) -> None:
    """Pivot in place until no column gains."""
    size = max(1.0, float(np.abs(gain).max(initial=0.0)))
    while True:
        worth = gain[:columns] - gain[basis] @ table[:, :columns]
        gaining = np.flatnonzero(worth > NIL * size)
        if not gaining.size:
            return
        j = int(gaining[0])
        up = np.flatnonzero(table[:, j] > NIL)
        if not up.size:
            raise ValueError("the gain grows without end")
        steps = table[up, -1] / table[up, j]
        least = float(steps.min())
        ties = [int(i) for i, s in zip(up, steps, strict=True) if s <= least + NIL * max(1.0, abs(least))]
        _pivot(table, basis, min(ties, key=lambda i: basis[i]), j)


def _pivot(table: Array, basis: list[int], i: int, j: int) -> None:
    table[i] /= table[i, j]
    column = table[:, j].copy()
    column[i] = 0.0
    table -= np.outer(column, table[i])
    basis[i] = j


def _without_helpers(table: Array, basis: list[int], columns: int) -> tuple[Array, list[int]]:
    """Helpers still in the basis (at nought) put out; a row in which nothing can take their place says nothing."""
    keep = []
    for i, b in enumerate(basis):
        if b >= columns:
            able = np.flatnonzero(np.abs(table[i, :columns]) > NIL)
            if not able.size:
                continue
            _pivot(table, basis, i, int(able[0]))
        keep.append(i)
    kept = np.hstack([table[keep, :columns], table[keep, -1:]])
    return kept, [basis[i] for i in keep]
