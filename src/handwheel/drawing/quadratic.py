"""One equation in one number that turns out to be a quadratic: both roots in closed form, with no search.

Most of what elimination leaves is of that kind: an arc met by a straight line, a chord, a flat.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Residual = Callable[[Array], tuple[Array, Array]]
AT = np.array([-2.0, -1.0, 0.0, 1.0, 2.0])
BEND = 1e-10
"""A share of the values, below which what is beyond a quadratic is rounding."""
NEAR = 1e-7
"""Roots nearer than this share of their distance from the start are left to the search, which knows of touching."""
ROUNDING = 1e-11
"""A share of the step, below which the equation holds whatever the number is: it says nothing of it."""
POLISH = 3


def quadratic_roots(residual: Residual, start: float) -> tuple[list[Array], Array] | None:
    """The roots, the one nearest the start first, and that root or the nearest approach; None if it is no quadratic.

    `residual` as in `descend`, of one equation in one number.
    """
    h = 0.25 * max(1.0, abs(start))
    with np.errstate(all="ignore"):
        f = residual((start + h * AT)[None, :])[0][:, 0]
    size = float(np.abs(f).max())
    if not math.isfinite(size) or size <= ROUNDING * h or np.abs(np.diff(f, 3)).max() > BEND * size:
        return None
    a, b, c = (f[4] - 2.0 * f[2] + f[0]) / 8.0, (f[4] - f[0]) / 4.0, float(f[2])
    if abs(a) <= BEND * abs(b):
        if abs(b) <= BEND * size:
            return None
        return _polished(residual, start, h, [-c / b])
    disc = b * b - 4.0 * a * c
    if abs(disc) <= NEAR * (b * b + abs(4.0 * a * c)):
        return None
    if disc < 0.0:
        return [], np.array([start - h * b / (2.0 * a)])
    q = -0.5 * (b + math.copysign(math.sqrt(disc), b))
    return _polished(residual, start, h, sorted([q / a, c / q], key=abs))


def _polished(residual: Residual, start: float, h: float, roots: list[float]) -> tuple[list[Array], Array] | None:
    y = start + h * np.array(roots)
    with np.errstate(all="ignore"):
        for _ in range(POLISH):
            f, jac = residual(y[None, :])
            y = y - f[:, 0] / jac[:, 0, 0]
    # an equation that holds whatever the number is, but for rounding, has no root to come nearer to
    if not np.isfinite(y).all():
        return None
    return [np.array([root]) for root in y.tolist()], y[:1]
