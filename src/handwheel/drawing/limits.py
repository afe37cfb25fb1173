"""Least and greatest of a size over every combination of the limits: solved at the corners, not estimated.

A linear estimate chooses the corner; the shape is solved there, the signs looked at again there, and so on. Where
every equation that a size rests on is linear the sum of its shares is exact and nothing needs solving.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.ad import Dual, Scalar, value_of
from handwheel.drawing.barely import ranges, touching
from handwheel.drawing.junctions import Equation, Fn
from handwheel.drawing.settle import Settled

Array = NDArray[np.float64]
STILL = 1e-9
"""A share of a size smaller than this moves nothing."""
ROUNDS = 4
NEAREST = 1e-13
"""How near, as a share of the way, a corner without a shape is approached."""


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


@dataclass
class Leeway:
    """A settled group made ready for its sizes' limits. `loop`: equations that only just hold together, if any."""

    settled: Settled
    v: list[float]
    places: list[int] = field(default_factory=list)
    lower: Array = field(default_factory=lambda: np.zeros(0))
    upper: Array = field(default_factory=lambda: np.zeros(0))
    inverse: Array = field(default_factory=lambda: np.zeros((0, 0)))
    moves: Array = field(default_factory=lambda: np.zeros((0, 0)))
    is_linear: Array = field(default_factory=lambda: np.zeros(0, dtype=bool))
    scale: Array = field(default_factory=lambda: np.zeros(0))
    loop: list[Equation] = field(default_factory=list)

    @property
    def count(self) -> int:
        """Places of v that are unknowns, the constant included."""
        return self.settled.group.count


def make_leeway(settled: Settled) -> Leeway:
    """Jacobian, its inverse, and how every unknown moves with every toleranced size."""
    assert settled.v is not None
    left_out = {r.given.index for r in settled.repeats}
    free = [g for g in settled.group.givens if g.index not in left_out and (g.limits.lower or g.limits.upper)]
    way = Leeway(settled, settled.v, [g.index for g in free])
    way.lower = np.array([g.limits.lower for g in free])
    way.upper = np.array([g.limits.upper for g in free])
    count, m = way.count, len(settled.equations)
    jac, par = np.zeros((m, count)), np.zeros((m, len(free)))
    way.is_linear = np.ones(m, dtype=bool)
    v = _duals(way, way.v)
    column = {p: i for i, p in enumerate(way.places)}
    for i, equation in enumerate(settled.equations):
        found = equation.fn(v)
        if type(found) is Dual:
            way.is_linear[i] = found.lin
            for j, d in found.g.items():
                if j < count:
                    jac[i, j] = d
                else:
                    par[i, column[j]] = d
    way.scale = np.maximum(np.abs(jac).max(axis=1, initial=0.0), 1e-12)
    scaled = jac[:, 1:] / way.scale[:, None]
    way.inverse = _inverse(scaled) if m else np.zeros((count - 1, 0))
    if m and np.abs(scaled @ way.inverse - np.eye(m)).max() > 1e-4:
        way.loop = touching(settled.equations, scaled)
    way.moves = -way.inverse @ (par / way.scale[:, None])
    return way


def _inverse(matrix: Array) -> Array:
    if matrix.shape[0] == matrix.shape[1]:
        try:
            found = np.linalg.inv(matrix)
            if np.isfinite(found).all() and np.abs(found).max() < 1e6:
                return np.asarray(found)
        except np.linalg.LinAlgError:
            pass
    return np.asarray(np.linalg.pinv(matrix, rcond=1e-7))


def _duals(way: Leeway, v: Sequence[Scalar]) -> list[Scalar]:
    made: list[Scalar] = list(v)
    for i in [*range(1, way.count), *way.places]:
        made[i] = Dual(v[i], {i: 1.0})
    return made


def extents(way: Leeway, sizes: Sequence[Fn], *, is_quick: bool = False) -> list[Extent]:
    """Value, limits and mid-limit value of each size; quick: limits only estimated."""
    duals = _duals(way, way.v)
    column = {p: i for i, p in enumerate(way.places)}
    found: list[Extent] = []
    slopes: list[Array] = []
    hard: list[int] = []
    equations = way.settled.equations
    for i, fn in enumerate(sizes):
        q = fn(duals)
        gx, gp = np.zeros(way.count - 1), np.zeros(len(way.places))
        is_linear = True
        slope: dict[int, float] = {}
        if type(q) is Dual:
            is_linear = q.lin
            for j, d in q.g.items():
                if j < way.count:
                    gx[j - 1] = d
                    slope[j] = float(d)
                else:
                    gp[column[j]] = d
        share = gx @ way.inverse
        rests = np.flatnonzero(np.abs(share / way.scale) > STILL)
        s = gx @ way.moves + gp
        a, b = s * way.lower, s * way.upper
        value = float(value_of(q))
        low, high = value + float(np.minimum(a, b).sum()), value + float(np.maximum(a, b).sum())
        mid = value + float((a + b).sum()) / 2.0
        shares = {p: float(s[i]) for p, i in column.items() if abs(s[i]) > STILL}
        found.append(Extent(value, low, high, mid, slope, [equations[k] for k in rests], shares=shares))
        slopes.append(s)
        if high - low < STILL * 1e-2:
            found[-1].low = found[-1].high = value
        elif not (is_linear and bool(way.is_linear[rests].all())):
            hard.append(i)
    if way.loop and not is_quick:
        pairs, is_reached = ranges(way.settled, way.loop, sizes)
        for extent, (low, high) in zip(found, pairs, strict=True):
            extent.low, extent.high, extent.is_reached = low, high, is_reached
    elif hard and not is_quick:
        _corners(way, [sizes[i] for i in hard], [found[i] for i in hard], [slopes[i] for i in hard])
    return found


def _corners(way: Leeway, sizes: list[Fn], found: list[Extent], slopes: list[Array]) -> None:
    """Replace the estimates by what the corners give."""
    count = len(sizes)
    middle = np.zeros((len(way.places), 1)) + ((way.lower + way.upper) / 2.0)[:, None]
    x, reached = _solve(way, middle)
    if reached[0]:
        v = _vector(way, x, middle)
        for extent, fn in zip(found, sizes, strict=True):
            extent.mid = float(np.broadcast_to(value_of(fn(v)), (1,))[0])
    best = np.array([[e.value] * 2 for e in found]).T  # row 0 low, row 1 high
    clean = np.ones((2, count), dtype=bool)
    signs = np.array(slopes).T  # (params, sizes)
    signs = np.concatenate([-signs, signs], axis=1)
    last: Array | None = None
    for _ in range(ROUNDS):
        corner = np.where(signs >= 0, way.upper[:, None], way.lower[:, None])
        if last is not None and bool((corner == last).all()):
            break
        unique, back = np.unique(corner, axis=1, return_inverse=True)
        back = np.asarray(back).reshape(-1)
        x, reached = _solve(way, unique)
        gradients, values = _gradients(way, sizes, x, unique, back)
        low, high = values[:count], values[count:]
        best[0] = np.minimum(best[0], low)
        best[1] = np.maximum(best[1], high)
        clean &= reached[back].reshape(2, count)
        signs = np.concatenate([-gradients[:, :count], gradients[:, count:]], axis=1)
        last = corner
    for i, extent in enumerate(found):
        extent.low, extent.high = float(best[0, i]), float(best[1, i])
        extent.is_reached = bool(clean[:, i].all())


def _vector(way: Leeway, x: Array, moved: Array) -> list[Scalar]:
    v: list[Scalar] = list(way.v)
    for i in range(1, way.count):
        v[i] = x[i - 1]
    for p, delta in zip(way.places, moved, strict=True):
        v[p] = way.v[p] + delta
    return v


def _solve(way: Leeway, moved: Array) -> tuple[Array, NDArray[np.bool_]]:
    """Unknowns (n, K) with the given numbers moved by (params, K), and which corners have a shape."""
    start = np.array(way.v[1 : way.count])[:, None]
    x = start + way.moves @ moved
    k = moved.shape[1]
    step = np.full(k, np.inf)
    for _ in range(25):
        f = _residuals(way, x, moved)
        change = way.inverse @ f
        size = np.abs(change).max(axis=0, initial=0.0)
        x = np.where(size < 1e3, x - change, x)
        step = size
        if bool((size < 1e-11).all()):
            break
    done = step < 1e-9
    for j in np.flatnonzero(~done):
        x[:, j], done[j] = _walk(way, moved[:, j])
    return x, done


def _residuals(way: Leeway, x: Array, moved: Array) -> Array:
    v = _vector(way, x, moved)
    f = np.zeros((len(way.settled.equations), moved.shape[1]))
    with np.errstate(all="ignore"):
        for i, equation in enumerate(way.settled.equations):
            f[i] = value_of(equation.fn(v))
    return np.nan_to_num(f / way.scale[:, None], nan=1e9)


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
        f, jac, _ = _jacobian(way, x[:, None], moved[:, None])
        step = np.linalg.lstsq(jac[0], -f[:, 0], rcond=1e-13)[0]
        x = x + step
        if not np.isfinite(x).all() or np.abs(x - start).max() > reach:
            return start, False
        if np.abs(step).max() < 1e-10:
            return x, True
    return start, False


def _jacobian(way: Leeway, x: Array, moved: Array) -> tuple[Array, Array, Array]:
    """Residuals (m, K), Jacobians (K, m, n) and by the given numbers (K, m, params), rows scaled."""
    v = _duals(way, _vector(way, x, moved))
    m, k = len(way.settled.equations), moved.shape[1]
    f, jac = np.zeros((m, k)), np.zeros((k, m, way.count - 1))
    par = np.zeros((k, m, len(way.places)))
    column = {p: i for i, p in enumerate(way.places)}
    for i, equation in enumerate(way.settled.equations):
        found = equation.fn(v)
        f[i] = value_of(found) / way.scale[i]
        if type(found) is Dual:
            for j, d in found.g.items():
                if j < way.count:
                    jac[:, i, j - 1] = d / way.scale[i]
                else:
                    par[:, i, column[j]] = d / way.scale[i]
    return f, jac, par


def _gradients(
    way: Leeway, sizes: list[Fn], x: Array, moved: Array, back: NDArray[np.int64]
) -> tuple[Array, Array]:
    """Each size's derivative by the given numbers, and its value, at its own low and high corner."""
    _, jac, par = _jacobian(way, x, moved)
    duals = _duals(way, _vector(way, x, moved))
    count, wide = len(sizes), len(back)
    gradients, values = np.zeros((len(way.places), wide)), np.zeros(wide)
    column = {p: i for i, p in enumerate(way.places)}
    try:
        moves = -np.linalg.solve(jac, par)
    except np.linalg.LinAlgError:
        moves = -np.einsum("kij,kjl->kil", np.linalg.pinv(jac), par)
    for i, fn in enumerate(sizes):
        q = fn(duals)
        for col in (i, i + count):
            k = int(back[col])
            values[col] = float(np.broadcast_to(value_of(q), (moved.shape[1],))[k])
            if type(q) is not Dual:
                continue
            for j, d in q.g.items():
                slope = float(np.broadcast_to(d, (moved.shape[1],))[k])
                if j < way.count:
                    gradients[:, col] += slope * moves[k, j - 1]
                else:
                    gradients[column[j], col] += slope
    return gradients, values
