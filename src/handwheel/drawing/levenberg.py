"""Damped Gauss-Newton from many starts at once, for the few equations that elimination leaves."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
GREATEST = float(np.finfo(np.float64).max)
Allowed = Callable[[Array], NDArray[np.bool_]]
"""(p, K) points to (K,): whether each may be gone to."""
Residual = Callable[[Array], tuple[Array, Array]]
"""(p, K) starts to residuals (K, m) and Jacobians (K, m, p)."""


def descend(residual: Residual, starts: Array, allowed: Allowed, steps: int = 60) -> tuple[Array, Array]:
    """End points (p, K) and their greatest residual (K,), each start followed on its own.

    A start that is allowed goes only to points that are.
    """
    y = starts.copy()
    p, count = y.shape
    with np.errstate(all="ignore"):
        f, jac = residual(y)
        row = _row_sizes(jac)
        damp = np.full(count, 1e-3)
        within = allowed(y)
        cost = _cost(f / row)
        for _ in range(steps):
            step = _step(f / row, jac / row[None, :, None], damp)
            trial = y + step.T
            f2, jac2 = residual(trial)
            cost2 = _cost(f2 / row)
            inside = allowed(trial)
            better = (cost2 <= cost) & (inside | ~within)
            if better.all():
                damp, within = np.maximum(damp * 0.1, 1e-15), inside
                moved, y, f, jac, cost = np.abs(step).max(axis=1), trial, f2, jac2, cost2
            else:
                damp = np.where(better, np.maximum(damp * 0.1, 1e-15), np.minimum(damp * 5.0 + 1e-9, 1e12))
                within = np.where(better, inside, within)
                moved = np.where(better, np.abs(step).max(axis=1), 0.0)
                y = np.where(better, trial, y)
                f = np.where(better[:, None], f2, f)
                jac = np.where(better[:, None, None], jac2, jac)
                cost = np.where(better, cost2, cost)
            if bool(np.all(((cost < 1e-26) & (moved < 1e-12)) | (damp > 1e11))):
                break
        return y, np.asarray(np.abs(f / row).max(axis=1, initial=0.0), dtype=np.float64)


def _row_sizes(jac: Array) -> Array:
    """Size (m,) of each equation's slopes at most starts: a few that stand where it has no end do not count."""
    most = np.abs(jac).max(axis=2)
    middle = np.median(np.where(np.isfinite(most), most, np.inf), axis=0)
    return np.where(np.isfinite(middle), np.maximum(middle, 1e-9), 1.0)


def _step(f: Array, jac: Array, damp: Array) -> Array:
    """Steps (K, p), columns scaled; a plain Newton step where the damping has gone, for accuracy near a solution."""
    count, m, p = jac.shape
    length: Array = np.sqrt((jac * jac).sum(axis=1))
    scale = np.maximum(length, 1e-3 * np.maximum(length.max(axis=1, keepdims=True), 1e-12))
    scaled = jac / scale[:, None, :]
    if m < p:  # least step: J' (J J' + damp)^-1 f keeps its accuracy where J' J is singular
        raised = np.einsum("kmp,kqp->kmq", scaled, scaled) + np.eye(m) * (damp + 1e-14)[:, None, None]
        pull: Array = _solve(raised, -f)
        return np.asarray(np.einsum("kmp,km->kp", scaled, pull) / scale, dtype=np.float64)
    if m == p:
        plain = _solve(scaled, -f)
        small = (damp < 2e-3) & np.isfinite(plain).all(axis=1) & (np.abs(plain).max(axis=1) < 1e6)
        if small.all():
            return np.asarray(plain / scale, dtype=np.float64)
    across = scaled.transpose(0, 2, 1)
    raised = across @ scaled + np.eye(p) * (damp + 1e-14)[:, None, None]
    step: Array = _solve(raised, -(across @ f[:, :, None])[:, :, 0])
    if m == p:
        step[small] = plain[small]
    return np.asarray(step / scale, dtype=np.float64)


def _cost(miss: Array) -> Array:
    """Sum of squares of each start; infinite where there is none, and no infinity otherwise."""
    cost = (miss * miss).sum(axis=1)
    return np.where(np.isnan(cost), np.inf, np.minimum(cost, GREATEST))


def _solve(matrix: Array, right: Array) -> Array:
    try:
        return np.asarray(np.linalg.solve(matrix, right[:, :, None])[:, :, 0], dtype=np.float64)
    except np.linalg.LinAlgError:
        out = np.full(right.shape, np.nan)
        for k in range(len(matrix)):
            if np.isfinite(matrix[k]).all():
                out[k] = np.linalg.lstsq(matrix[k], right[k], rcond=1e-13)[0]
        return out
