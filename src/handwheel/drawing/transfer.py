"""Dimension transfer: how much of the drawing's tolerance each working dimension may have, and what is aimed at.

With working dimensions w and drawing dimensions g = S·w each drawing tolerance T_i asks for sum |S_ij| t_j <= T_i.
The least t_j / c_j is made as great as it can be, t = c·min_i T_i/(|S|c)_i; rows that are then full are held and the
rest widened evenly. Where the drawing's mid-limits cannot all be aimed at together (more drawing dimensions than working
ones), the sizes aimed at are unknowns too, and a linear programme finds them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.simplex import maximise

Array = NDArray[np.float64]
FULL = 1e-12
SMALL = 1e-9
DRAW_IN, DRAWN_IN_STEPS = 0.9, 12
Ends = tuple[float, float]
MOST_COLUMNS = 120
"""Working dimensions bound together beyond this keep the sizes they have: the programme would take too long."""


@dataclass(frozen=True, slots=True)
class Shares:
    """Working limits.

    half: (n,) half-tolerances, infinite where no finite row limits one. shift: (n,) how far each size aimed at moves.
    even: the greatest even share in units of c; None where nothing limits it; 0 where none is left.
    tight: the rows that set it. holder: (n,) the row that holds each working dimension, -1 for none.
    """

    half: Array
    shift: Array
    even: float | None
    tight: tuple[int, ...]
    holder: tuple[int, ...]


def working_shares(S: Array, T: Array, c: Array) -> Array:
    """Half-tolerances of the working dimensions, all aimed at mid-limits; see `share`."""
    return share(S, T, c).half


def share(S: Array, T: Array, c: Array, off: Array | None = None, held: Array | None = None) -> Shares:
    """The working limits that give the greatest even share.

    Parameters
        S: (m, n) drawing dimensions per working dimension.
        T: (m,) half-tolerances drawn, >= 0; infinite where nothing is asked. [mm]
        c: (n,) what the workshop holds, > 0. [mm]
        off: (m,) how far each drawing dimension is from its mid-limit at the present sizes; left out: not at all. [mm]
        held: (n,) half-tolerances that are fixed, nan where free; left out: all free. [mm]
    Returns
        Limits with |off + S·shift| + |S|·half <= T, where any are possible.
    Raises
        ValueError: shapes that do not fit, T < 0, c <= 0 or held < 0.
    """
    slopes = np.asarray(S, dtype=np.float64)
    limit, able = np.asarray(T, dtype=np.float64), np.asarray(c, dtype=np.float64)
    away = np.zeros(limit.size) if off is None else np.asarray(off, dtype=np.float64)
    fixed = np.full(able.size, np.nan) if held is None else np.asarray(held, dtype=np.float64)
    if slopes.ndim != 2 or slopes.shape != (limit.size, able.size) or away.shape != limit.shape:
        raise ValueError(f"S is {slopes.shape}, T {limit.shape}, c {able.shape}; S must be (len T, len c)")
    if np.any(limit < 0) or np.any(able <= 0) or np.any(fixed < 0):
        raise ValueError("T and held must not be below 0 and c must be above 0")
    weight = np.where(np.isfinite(limit)[:, None], np.abs(slopes), 0.0)
    is_free = np.isnan(fixed)
    room = limit - weight[:, ~is_free] @ fixed[~is_free]
    shift = _aimed(np.where(weight > 0, slopes, 0.0), room, able * is_free, away) if np.any(away) else np.zeros(able.size)
    left = room - np.abs(away + slopes @ shift)
    half, even, tight, holder = _filled(weight, left, limit, able, is_free)
    half[~is_free] = fixed[~is_free]
    return Shares(half, shift, even, tight, holder)


def drawn_in(ends: Callable[[float], Sequence[Ends] | None], allowed: Sequence[Ends]) -> float:
    """How much of the shares may be used so that at every corner of them the drawing's limits hold; 0: none found.

    The slopes are first order; where surfaces meet on a curve the corners can lie a little outside. `ends`: low and high
    of every drawing dimension with the shares times a factor, None where there is no shape; `allowed`: its limits.
    """
    factor = 1.0
    for _ in range(DRAWN_IN_STEPS):
        found = ends(factor)
        if found is None:
            return 0.0
        if all(low >= a - SMALL and high <= b + SMALL for (low, high), (a, b) in zip(found, allowed, strict=True)):
            return factor
        factor *= DRAW_IN
    return 0.0


def _filled(
    weight: Array, room: Array, limit: Array, able: Array, is_free: NDArray[np.bool_]
) -> tuple[Array, float | None, tuple[int, ...], tuple[int, ...]]:
    """All widened evenly until a row is full, what that row holds left where it is, the others widened on."""
    open_, left = is_free.copy(), np.maximum(room, 0.0)
    half, holder = np.zeros(able.size), [-1] * able.size
    even: float | None = None
    tight: tuple[int, ...] = ()
    while open_.any():
        load = weight[:, open_] @ able[open_]
        loaded = load > 0
        if not loaded.any():
            half[open_] = np.inf
            break
        step = float(np.min(left[loaded] / load[loaded]))
        half[open_] += step * able[open_]
        left = np.where(loaded, np.maximum(left - step * load, 0.0), left)
        full = loaded & (left <= FULL * np.maximum(np.where(np.isfinite(limit), limit, 1.0), 1.0))
        if even is None:
            even, tight = step, tuple(int(i) for i in np.flatnonzero(full))
        held = open_ & np.any(weight[full] > 0, axis=0)
        if not held.any():
            break
        for j in np.flatnonzero(held):
            holder[j] = next(int(i) for i in np.flatnonzero(full) if weight[i, j] > 0)
        open_ &= ~held
    return half, even, tight, tuple(holder)


def _aimed(S: Array, room: Array, able: Array, off: Array) -> Array:
    """How far to move the sizes aimed at for the greatest even share; by blocks that share no working dimension."""
    shift = np.zeros(able.size)
    for rows, columns in blocks(S):
        if not np.any(np.abs(off[rows]) > SMALL) or len(columns) > MOST_COLUMNS:
            continue
        shift[columns] = _aimed_block(S[np.ix_(rows, columns)], room[rows], able[columns], off[rows])
    return shift


def _aimed_block(S: Array, room: Array, able: Array, off: Array) -> Array:
    """The mid-limits where all can be aimed at; else the greatest even share, and with that kept, nearest to them.

    Unknowns: moves up, moves down, share; then how far each row is from its mid-limit.
    """
    m, n = S.shape
    middle = np.asarray(np.linalg.lstsq(S, -off, rcond=None)[0])
    if float(np.abs(S @ middle + off).max()) < SMALL:
        return middle
    load = (np.abs(S) @ able)[:, None]
    unit = max(float(np.abs(off).max()), float(room.max()), SMALL)  # near 1, so that one threshold does for the table
    most = np.vstack([np.hstack([S, -S, load]), np.hstack([-S, S, load])])
    limit = np.concatenate([room - off, room + off]) / unit
    gain = np.zeros(2 * n + 1)
    gain[-1] = 1.0
    found = maximise(gain, most, limit) if np.any(load) else None
    if found is None:
        return np.zeros(n)
    floor = np.zeros((1, 2 * n + 1 + m))
    floor[0, 2 * n] = -1.0
    away = np.hstack([np.vstack([S, -S]), np.vstack([-S, S]), np.zeros((2 * m, 1)), np.vstack([-np.eye(m)] * 2)])
    whole = np.vstack([np.hstack([most, np.zeros((2 * m, m))]), away, floor])
    right = np.concatenate([limit, -off / unit, off / unit, [-found[-1] * (1 - SMALL)]])
    cost = np.concatenate([np.zeros(2 * n + 1), -1.0 / np.maximum(room / unit, SMALL)])
    calm = maximise(cost, whole, right)
    best = found if calm is None else calm
    return np.asarray((best[:n] - best[n : 2 * n]) * unit)


def blocks(S: Array) -> list[tuple[list[int], list[int]]]:
    """Rows and columns in blocks that have no entry in common."""
    to_see, found = set(range(S.shape[0])), []
    while to_see:
        rows, columns, new = set[int](), set[int](), {min(to_see)}
        while new:
            rows |= new
            columns |= {int(j) for i in new for j in np.flatnonzero(S[i])}
            new = {int(i) for j in columns for i in np.flatnonzero(S[:, j])} - rows
        to_see -= rows
        if columns:
            found.append((sorted(rows), sorted(columns)))
    return found
