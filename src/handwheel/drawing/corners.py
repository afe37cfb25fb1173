"""Sizes at the corners of their limits: every corner that any of them asks for solved in one batch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.ad import Scalar, value_of
from handwheel.drawing.bench import Bench

Array = NDArray[np.float64]
ROUNDS = 4
NEAREST = 1e-13
"""How near, as a share of the way, a corner without a shape is approached."""
MOST = 400
"""Steps of a walk."""
NO_SIGN = 1e-13
"""A limit that moves a size by less than this has no say in which corner it is. [mm]"""


@dataclass
class Ends:
    """Least and greatest of each size (S,), whether all its corners have a shape, and its value amid the limits."""

    low: Array
    high: Array
    is_reached: NDArray[np.bool_]
    mid: Array | None


def at_corners(bench: Bench, shares: Array) -> Ends:
    """What the corners give, each size's own chosen by its shares (S, P), and chosen again there."""
    count = len(bench.sizes)
    upper, lower = bench.upper[:, None], bench.lower[:, None]
    # columns: every size's low corner, then every high one; the sizes as typed may lie outside the limits
    value: Array = np.repeat([np.inf, -np.inf], count)
    clean = np.ones(2 * count, dtype=bool)
    sign = np.repeat([-1.0, 1.0], count)
    pull = np.concatenate([shares, shares]).T * sign
    corner = np.where(pull * (upper - lower) > -NO_SIGN, upper, lower)
    silent = np.abs(pull * (upper - lower)) <= NO_SIGN
    columns = np.arange(2 * count)
    for turn in range(ROUNDS):
        unique, back = _distinct(corner[:, columns])
        shift, reached = _solve(bench, unique)
        gradients, values = _gradients(bench, shift, unique, columns % count, back)
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
    value = np.where(np.isfinite(value), value, np.concatenate([bench.values, bench.values]))
    return Ends(value[:count], value[count:], clean[:count] & clean[count:], _middle(bench))


def _middle(bench: Bench) -> Array | None:
    """The sizes with every toleranced number amid its limits; None when there is no shape."""
    moved = (bench.lower + bench.upper) / 2.0
    if not moved.any():
        return bench.values
    shift, reached = _solve(bench, moved[:, None])
    if not reached[0]:
        return None
    v = bench.vector(shift[:, 0], moved)
    with np.errstate(all="ignore"):
        return np.array([value_of(fn(v)) for fn in bench.sizes], dtype=np.float64)


def _distinct(corners: Array) -> tuple[Array, NDArray[np.int64]]:
    """The different columns, and which of them each column is."""
    seen: dict[bytes, int] = {}
    back = [seen.setdefault(c.tobytes(), len(seen)) for c in np.ascontiguousarray(corners.T)]
    first = [back.index(k) for k in range(len(seen))]
    return corners[:, first], np.array(back)


def _solve(bench: Bench, moved: Array) -> tuple[Array, NDArray[np.bool_]]:
    """Shifts of the free numbers (f, K) with the given ones moved by (P, K), and which corners have a shape."""
    shift, done = bench.follow(moved)
    for j in np.flatnonzero(~done):
        shift[:, j], done[j] = _walk(bench, moved[:, j])
    return shift, done


def _walk(bench: Bench, moved: Array) -> tuple[Array, bool]:
    """Go to a corner by steps, halving where the shape is lost; the farthest that has a shape."""
    here = np.zeros(bench.by_free.shape[1])
    at, stride, was_good = 0.0, 0.5, False
    for _ in range(MOST):
        if at >= 1.0 or stride <= NEAREST:
            break
        aim = min(1.0, at + stride)
        there, good = _newton(bench, here, moved * aim)
        stride *= 2.0 if good and was_good else 1.0 if good else 0.5
        was_good = good
        if good:
            here, at = there, aim
    return here, at >= 1.0 - 1e3 * NEAREST


def _newton(bench: Bench, shift: Array, moved: Array) -> tuple[Array, bool]:
    reach = 0.3 * (1.0 + max(abs(bench.v[i]) for i in bench.support))
    start = shift
    for _ in range(15):
        v = bench.duals(bench.vector(shift[:, None], moved[:, None]))
        f, jac, _ = bench.jacobian(v, 1)
        step = np.linalg.lstsq(jac[0], -f[:, 0], rcond=1e-13)[0]
        shift = shift + step
        if not np.isfinite(shift).all() or np.abs(shift - start).max() > reach:
            return start, False
        if np.abs(step).max() < 1e-10:
            return shift, True
    return start, False


def _gradients(
    bench: Bench, shift: Array, moved: Array, which: NDArray[np.int64], back: NDArray[np.int64]
) -> tuple[Array, Array]:
    """Derivatives by the given numbers (P, W) and values (W,) of the sizes `which`, each at its corner `back`."""
    count = moved.shape[1]
    v = bench.duals(bench.vector(shift, moved))
    with np.errstate(all="ignore"):
        _, jac, par = bench.jacobian(v, count)
    try:
        moves = -np.linalg.solve(jac, par)
    except np.linalg.LinAlgError:
        moves = -np.einsum("kij,kjl->kil", np.linalg.pinv(jac), par)
    gy, gp = bench.size_free[which], bench.size_given[which]
    values = bench.values[which] + (gy * shift[:, back].T).sum(axis=1) + (gp * moved[:, back].T).sum(axis=1)
    for i in dict.fromkeys(which.tolist()):
        if bench.is_linear[i]:
            continue
        found = bench.sizes[i](v)
        by_free, by_given = bench.slopes(found, count)
        at = np.flatnonzero(which == i)
        gy[at], gp[at] = by_free[back[at]], by_given[back[at]]
        values[at] = _picked(value_of(found), back[at])
    gradients = (gy[:, None, :] @ moves[back])[:, 0, :] + gp
    return gradients.T, values


def _picked(found: Scalar, corner: NDArray[np.int64]) -> Scalar:
    """Of an array over the corners, those asked for; a number is the same at all of them."""
    return found[corner] if isinstance(found, np.ndarray) and found.ndim else found
