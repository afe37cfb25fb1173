"""Two equations in two numbers, both of the second degree: every solution in closed form, with no search.

An arc run into a straight line, two arcs, a cone given at a ball's centre leave such pairs. One number is eliminated
(Sylvester's resultant of two quadratics), which leaves a polynomial of the fourth degree in the other.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.quadratic import Residual

Array = NDArray[np.float64]
TURNED = np.array([[math.cos(0.6), -math.sin(0.6)], [math.sin(0.6), math.cos(0.6)]])
"""The axes are turned, lest two solutions have one number in common or an equation lack its square."""
AT = np.array(
    [(0, 0), (1, 0), (0, 1), (-1, 0), (0, -1), (1, 1), (-1.3, 0.7), (0.6, -1.7), (2.1, 1.4), (-1.9, -2.3), (3.1, -0.8)]
).T
"""Where the equations are looked at, in parts of the step: more places than a conic has coefficients."""
BEND = 1e-10
"""A share of the values, below which what is beyond the second degree is rounding."""
NEAR = 1e-5
"""Solutions nearer to each other than this, or to none, are left to the search, which knows of touching."""
FAR = 1e4
"""Steps beyond which there is no solution but one at infinity that rounding has brought in."""
ROOT = 1e-9
POLISH = 4
LEAST = 1e-13


def conic_roots(residual: Residual, start: Array) -> tuple[list[Array], Array] | None:
    """Every solution, the one nearest the start first, and that one or a place near none; None if they are no conics.

    `residual` as in `descend`, of two equations in two numbers; `start` (2,).
    """
    h = 0.25 * max(1.0, float(np.abs(start).max()))
    with np.errstate(all="ignore"):
        f = residual(start[:, None] + h * (TURNED @ AT))[0].T
        table = _terms(AT).T
        made = [_fitted(table, values) for values in f]
        one, two = made
        if one is None or two is None:
            return None
        found = _crossings(one, two)
        if found is None:
            return None
        ends = start[:, None] + h * (TURNED @ np.array(found, dtype=float).reshape(-1, 2).T)
        if not ends.size:
            return [], start
        return _polished(residual, start, ends, h)


def _terms(at: Array) -> Array:
    """(6, K) the terms of a conic: x x, x y, y y, x, y and 1."""
    x, y = at
    return np.stack([x * x, x * y, y * y, x, y, np.ones_like(x)])


def _fitted(table: Array, values: Array) -> Array | None:
    """The coefficients of the conic through the values, the greatest 1; None where they are of no conic."""
    size = float(np.abs(values).max())
    if not math.isfinite(size) or size == 0.0:
        return None
    found, *_ = np.linalg.lstsq(table, values / size, rcond=None)
    if np.abs(table @ found - values / size).max() > BEND:
        return None
    return np.asarray(found / np.abs(found).max())


def _crossings(one: Array, two: Array) -> list[tuple[float, float]] | None:
    """Where two conics cross; None where that is not told clearly."""
    a, b, c = _by_y(one)
    d, e, g = _by_y(two)
    low = np.polysub(np.polymul(a, g), np.polymul(d, c))
    high = np.polysub(np.polymul(a, e), np.polymul(d, b))
    other = np.polysub(np.polymul(b, g), np.polymul(e, c))
    made: Array = np.polysub(np.polymul(low, low), np.polymul(high, other))
    most = float(np.abs(made).max())
    if most <= LEAST:
        return None
    while abs(made[0]) <= LEAST * most:
        made = made[1:]
    found: list[tuple[float, float]] = []
    roots = [x for x in np.roots(made) if abs(x) < FAR]
    for k, x in enumerate(roots):
        if min((abs(x - z) for i, z in enumerate(roots) if i != k), default=1.0) <= NEAR * max(1.0, abs(x)):
            return None  # two of them, or two complex ones, all but fall together
        if abs(x.imag) > NEAR * max(1.0, abs(x)):
            continue
        under = float(np.polyval(high, x.real))
        if abs(under) <= NEAR * float(np.abs(high).max()):
            return None
        found.append((float(x.real), -float(np.polyval(low, x.real)) / under))
    return found


def _by_y(conic: Array) -> tuple[Array, Array, Array]:
    """Its coefficients of y y, y and 1, as polynomials in x."""
    xx, xy, yy, x, y, c = conic
    return np.array([yy]), np.array([xy, y]), np.array([xx, x, c])


def _polished(residual: Residual, start: Array, ends: Array, h: float) -> tuple[list[Array], Array] | None:
    """The ends after some of Newton's steps; None where one of them is no solution after all."""
    at = ends.copy()
    for _ in range(POLISH):
        f, jac = residual(at)
        try:
            at = at - np.linalg.solve(jac, f[:, :, None])[:, :, 0].T
        except np.linalg.LinAlgError:
            return None
    f, jac = residual(at)
    left = np.abs(f / np.abs(jac).max(axis=2)).max()
    if not (left < ROOT and np.abs(at - ends).max() < 1e-3 * max(h, float(np.abs(ends).max()))):
        return None
    order = np.argsort(np.abs(at - start[:, None]).max(axis=0))
    return [at[:, k] for k in order], at[:, order[0]]
