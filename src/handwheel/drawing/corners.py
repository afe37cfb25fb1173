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

DOUBT = 4.0
"""A pull smaller than so many times what it has changed by on the way to the corner may turn round."""
SLIGHT = 1e-3
"""A limit that has less than this share in how far a size goes may pull the other way a little beside."""
GAIN = 1e-12
"""How much more a corner must give to be better, of the size."""


@dataclass
class Ends:
    """Least and greatest of each size (S,), whether all its corners have a shape, and its value amid the limits."""

    low: Array
    high: Array
    is_reached: NDArray[np.bool_]
    mid: Array | None


class _Climb:
    """Every size's low corner, then every high one, with the best value met on the way to each."""

    def __init__(self, bench: Bench, shares: Array) -> None:
        self.bench, self.count = bench, len(bench.sizes)
        self.upper, self.lower = bench.upper[:, None], bench.lower[:, None]
        self.way_out = np.repeat([-1.0, 1.0], self.count)
        # the sizes as typed may lie outside the limits
        self.value: Array = -self.way_out * np.inf
        self.clean = np.ones(2 * self.count, dtype=bool)
        self.typed: Array = np.concatenate([shares, shares]).T * self.way_out
        self.pull = self.typed.copy()
        self.corner = np.where(self._told(self.pull) & (self.pull < 0), self.lower, self.upper)

    def _told(self, pull: Array) -> NDArray[np.bool_]:
        return np.abs(pull * (self.upper - self.lower)) > NO_SIGN

    def go(self, columns: NDArray[np.int64]) -> None:
        """From corner to corner by the signs found at each, until none differs."""
        bench, upper, lower = self.bench, self.upper, self.lower
        silent = ~self._told(self.typed)
        for turn in range(ROUNDS):
            found, values, reached = self._at(self.corner[:, columns], columns)
            is_better = (values - self.value[columns]) * self.way_out[columns] > 0
            self.value[columns] = np.where(is_better, values, self.value[columns])
            self.clean[columns] &= reached
            self.pull[:, columns] = found
            there = self.corner[:, columns]
            again = np.where(self._told(found), np.where(found > 0, upper, lower), there)
            # where there is no shape, limits that have no say are tried other ways, lest they were what took it away
            is_odd = (np.arange(len(bench.lower)) + turn) % 2 > 0
            other = np.where(is_odd[:, None] & (turn > 0), upper, lower)
            again = np.where(silent[:, columns] & ~reached, other, again)
            self.corner[:, columns] = again
            columns = columns[(again != there).any(axis=0)]
            if not len(columns):
                break

    def _at(self, corners: Array, columns: NDArray[np.int64]) -> tuple[Array, Array, NDArray[np.bool_]]:
        """Outward pull of the given numbers on the columns' sizes, their values, and whether there is a shape."""
        unique, back = _distinct(corners)
        shift, reached = _solve(self.bench, unique)
        gradients, values = _gradients(self.bench, shift, unique, columns % self.count, back)
        return gradients * self.way_out[columns], values, reached[back]

    def probe(self) -> NDArray[np.int64]:
        """Cross over, one at a time, the limits whose pull may turn round on the way; the columns that gained."""
        bend = np.abs(self.pull - self.typed)
        span = np.abs(self.pull) * (self.upper - self.lower)
        is_slight = span < SLIGHT * span.sum(axis=0)
        doubtful = self._told(self.pull) & (is_slight | (np.abs(self.pull) < DOUBT * bend)) & self.clean
        rows, columns = np.nonzero(doubtful)
        if not len(rows):
            return columns
        tried = self.corner[:, columns]
        ends = np.stack([self.lower[rows, 0], self.upper[rows, 0]])
        k = np.arange(len(rows))
        tried[rows, k] = np.where(tried[rows, k] == ends[0], ends[1], ends[0])
        _, values, reached = self._at(tried, columns)
        gained: dict[int, int] = {}
        for i in np.flatnonzero(reached & np.isfinite(values)).tolist():
            column = int(columns[i])
            best = self.value[column] if column not in gained else values[gained[column]]
            if (values[i] - best) * self.way_out[column] > GAIN * max(1.0, abs(float(best))):
                gained[column] = i
        for column, i in gained.items():
            self.corner[:, column] = tried[:, i]
        return np.array(sorted(gained), dtype=np.int64)


def at_corners(bench: Bench, shares: Array) -> Ends:
    """What the corners give, each size's own chosen by its shares (S, P), and chosen again there."""
    climb = _Climb(bench, shares)
    columns = np.arange(2 * climb.count)
    for _ in range(ROUNDS):
        climb.go(columns)
        columns = climb.probe()
        if not len(columns):
            break
    value, clean, count = climb.value, climb.clean, climb.count
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
