"""Sizes at the corners of their limits: every corner that any of them asks for solved in one batch.

Linear equations and sizes are carried there by their derivatives, which are the same everywhere; only the others are
worked out again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.ad import Dual, Scalar, value_of
from handwheel.drawing.junctions import Fn
from handwheel.drawing.leeway import Leeway, duals

Array = NDArray[np.float64]
ROUNDS = 4
NEAREST = 1e-13
"""How near, as a share of the way, a corner without a shape is approached."""
NO_SIGN = 1e-13
"""A limit that moves a size by less than this has no say in which corner it is. [mm]"""


@dataclass
class Slopes:
    """Sizes (S,), their derivatives by the unknowns (S, n) and by the toleranced numbers (S, P).

    `own`: the former by place in v, as the size's formula has them.
    """

    value: Array
    by_unknown: Array
    by_given: Array
    is_linear: list[bool]
    own: list[dict[int, float]]

    def only(self, rows: list[int]) -> Slopes:
        """Those of some of the sizes."""
        linear, own = [self.is_linear[i] for i in rows], [self.own[i] for i in rows]
        return Slopes(self.value[rows], self.by_unknown[rows], self.by_given[rows], linear, own)


@dataclass
class Ends:
    """Least and greatest of each size (S,), whether all its corners have a shape, and its value amid the limits."""

    low: Array
    high: Array
    is_reached: NDArray[np.bool_]
    mid: Array | None


def at_corners(way: Leeway, sizes: Sequence[Fn], slopes: Slopes, shares: Array) -> Ends:
    """What the corners give, each size's own chosen by its shares (S, P), and chosen again there."""
    count = len(sizes)
    upper, lower = way.upper[:, None], way.lower[:, None]
    value = np.concatenate([slopes.value, slopes.value])  # columns: every size's low corner, then every high one
    clean = np.ones(2 * count, dtype=bool)
    sign = np.repeat([-1.0, 1.0], count)
    pull = np.concatenate([shares, shares]).T * sign
    corner = np.where(pull * (upper - lower) > -NO_SIGN, upper, lower)
    silent = np.abs(pull * (upper - lower)) <= NO_SIGN
    columns = np.arange(2 * count)
    for turn in range(ROUNDS):
        unique, back = _distinct(corner[:, columns])
        x, reached = _solve(way, unique)
        gradients, values = _gradients(way, sizes, slopes, x, unique, columns % count, back)
        way_out = sign[columns]
        value[columns] = np.where((values - value[columns]) * way_out > 0, values, value[columns])
        clean[columns] &= reached[back]
        pull = gradients * way_out
        there = corner[:, columns]
        told = np.abs(pull * (upper - lower)) > NO_SIGN
        again = np.where(told, np.where(pull > 0, upper, lower), there)
        # where there is no shape, limits that have no say are tried other ways, lest they were what took it away
        other = np.where(((np.arange(len(lower)) + turn) % 2 > 0)[:, None] & (turn > 0), upper, lower)
        again = np.where(silent[:, columns] & ~reached[back], other, again)
        corner[:, columns] = again
        columns = columns[(again != there).any(axis=0)]
        if not len(columns):
            break
    return Ends(value[:count], value[count:], clean[:count] & clean[count:], _middle(way, sizes, slopes))


def _middle(way: Leeway, sizes: Sequence[Fn], slopes: Slopes) -> Array | None:
    """The sizes with every toleranced number amid its limits; None when there is no shape."""
    moved = (way.lower + way.upper) / 2.0
    if not moved.any():
        return slopes.value
    x, reached = _solve(way, moved[:, None])
    if not reached[0]:
        return None
    v = _vector(way, x[:, 0], moved)
    with np.errstate(all="ignore"):
        return np.array([value_of(fn(v)) for fn in sizes], dtype=np.float64)


def _distinct(corners: Array) -> tuple[Array, NDArray[np.int64]]:
    """The different columns, and which of them each column is."""
    seen: dict[bytes, int] = {}
    back = [seen.setdefault(c.tobytes(), len(seen)) for c in np.ascontiguousarray(corners.T)]
    first = [back.index(k) for k in range(len(seen))]
    return corners[:, first], np.array(back)


def _vector(way: Leeway, x: Array, moved: Array) -> list[Scalar]:
    v: list[Scalar] = [way.v[0], *x, *way.v[way.count :]]
    for p, delta in zip(way.places, moved, strict=True):
        v[p] = way.v[p] + delta
    return v


def _solve(way: Leeway, moved: Array) -> tuple[Array, NDArray[np.bool_]]:
    """Unknowns (n, K) with the given numbers moved by (params, K), and which corners have a shape."""
    start = np.array(way.v[1 : way.count])[:, None]
    shift = way.moves @ moved
    straight = way.left[:, None] + way.par @ moved
    step = np.full(moved.shape[1], np.inf)
    for _ in range(25):
        f = straight + way.jac @ shift
        v = _vector(way, start + shift, moved)
        with np.errstate(all="ignore"):
            for i, equation in way.curved:
                f[i] = value_of(equation.fn(v)) / way.scale[i]
        f[~np.isfinite(f)] = 1e9
        change = way.inverse @ f
        step = np.abs(change).max(axis=0, initial=0.0)
        shift = np.where(step < 1e3, shift - change, shift)
        if bool((step < 1e-11).all()):
            break
    x = start + shift
    done = step < 1e-9
    for j in np.flatnonzero(~done):
        x[:, j], done[j] = _walk(way, moved[:, j])
    return x, done


def _walk(way: Leeway, moved: Array) -> tuple[Array, bool]:
    """Go to a corner by steps, halving where the shape is lost; the farthest that has a shape."""
    here = np.array(way.v[1 : way.count])
    at, stride = 0.0, 0.5
    while at < 1.0 and stride > NEAREST:
        aim = min(1.0, at + stride)
        there, good = _newton(way, here, moved * aim)
        if good:
            here, at = there, aim
        else:
            stride *= 0.5
    return here, at >= 1.0 - 1e3 * NEAREST


def _newton(way: Leeway, x: Array, moved: Array) -> tuple[Array, bool]:
    reach = 0.3 * (1.0 + np.abs(x).max())
    start = x
    for _ in range(15):
        v = _dual_vector(way, x[:, None], moved[:, None])
        f, jac, _ = _jacobian(way, x[:, None], moved[:, None], v, is_all=True)
        step = np.linalg.lstsq(jac[0], -f[:, 0], rcond=1e-13)[0]
        x = x + step
        if not np.isfinite(x).all() or np.abs(x - start).max() > reach:
            return start, False
        if np.abs(step).max() < 1e-10:
            return x, True
    return start, False


def _dual_vector(way: Leeway, x: Array, moved: Array) -> list[Scalar]:
    return duals(way, _vector(way, x, moved))


def _jacobian(
    way: Leeway, x: Array, moved: Array, v: list[Scalar], *, is_all: bool = False
) -> tuple[Array, Array, Array]:
    """Residuals (m, K), Jacobians (K, m, n) and by the given numbers (K, m, params), rows scaled.

    `is_all`: linear equations worked out again too, for the last digits beside a shape that just ends.
    """
    k = moved.shape[1]
    start = np.array(way.v[1 : way.count])[:, None]
    f = way.left[:, None] + way.jac @ (x - start) + way.par @ moved
    jac, par = np.repeat(way.jac[None], k, axis=0), np.repeat(way.par[None], k, axis=0)
    column = {p: i for i, p in enumerate(way.places)}
    for i, equation in enumerate(way.settled.equations) if is_all else way.curved:
        found = equation.fn(v)
        f[i] = value_of(found) / way.scale[i]
        jac[:, i], par[:, i] = 0.0, 0.0
        if type(found) is Dual:
            for j, d in found.g.items():
                if j < way.count:
                    jac[:, i, j - 1] = d / way.scale[i]
                else:
                    par[:, i, column[j]] = d / way.scale[i]
    return f, jac, par


def _gradients(
    way: Leeway,
    sizes: Sequence[Fn],
    slopes: Slopes,
    x: Array,
    moved: Array,
    which: NDArray[np.int64],
    back: NDArray[np.int64],
) -> tuple[Array, Array]:
    """Derivatives by the given numbers (params, W) and values (W,) of the sizes `which`, each at its corner `back`."""
    v = _dual_vector(way, x, moved)
    _, jac, par = _jacobian(way, x, moved, v)
    try:
        moves = -np.linalg.solve(jac, par)
    except np.linalg.LinAlgError:
        moves = -np.einsum("kij,kjl->kil", np.linalg.pinv(jac), par)
    start = np.array(way.v[1 : way.count])[:, None]
    gx, gp = slopes.by_unknown[which], slopes.by_given[which]
    values = slopes.value[which] + (gx * (x - start)[:, back].T).sum(axis=1) + (gp * moved[:, back].T).sum(axis=1)
    column = {p: i for i, p in enumerate(way.places)}
    for i in dict.fromkeys(which.tolist()):
        if slopes.is_linear[i]:
            continue
        q = sizes[i](v)
        at = np.flatnonzero(which == i)
        corner = back[at]
        gx[at], gp[at] = 0.0, 0.0
        values[at] = _picked(value_of(q), corner)
        for j, d in q.g.items() if type(q) is Dual else ():
            if j < way.count:
                gx[at, j - 1] = _picked(d, corner)
            else:
                gp[at, column[j]] = _picked(d, corner)
    gradients = (gx[:, None, :] @ moves[back])[:, 0, :] + gp
    return gradients.T, values


def _picked(found: Scalar, corner: NDArray[np.int64]) -> Scalar:
    """Of an array over the corners, those asked for; a number is the same at all of them."""
    return found[corner] if isinstance(found, np.ndarray) and found.ndim else found
