"""From what was measured on a ball to the likely errors of its set-up, with their uncertainty from the gauge.

Unknown: k (what the height takes off the equator's radius: |h| swung above and below, -h swung from above only), the
tip's radius rho, and the swing axis's place zc along the lathe. With p the pip's radius the readings are
    diameter at z: 2 hypot(p, sqrt(rho^2 - (z - zc)^2) - k),   pole: zc + sqrt(rho^2 - k^2)   (rho + zc where k < 0)
solved by weighted least squares; the covariance is that of linear propagation, (J' W J)^-1. What the readings do not
fix is the null space of J: it is None and named. Swung above and below, the sign of h shows in no reading; the sign
of the pip's cause in none at all: which way is found by a deliberate move (`which_way`).

A gauge's plus or minus is taken as the half-width of an even spread: standard uncertainty a / sqrt(3).
Source: JCGM 100:2008, 4.3.7 and 5.1.2.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handwheel.setups.form import HALF, BallMeasures, Way

NAMES = ("height", "radius", "centre")
SIZES = ("equator", "near", "far", "pole")
ROUNDS = 30
NULL = 0.02
"""Share of an unknown in what the readings leave open from which it counts as open: below it, what is open moves it
by a fiftieth of itself at most."""


@dataclass(frozen=True, slots=True)
class Likely:
    """An amount and its standard uncertainty. [mm]"""

    mm: float
    uncertainty_mm: float


@dataclass(frozen=True, slots=True)
class BallErrors:
    """The likely set-up of a ball tool; None for what the readings cannot tell.

    height: of the swing axis: |h| swung above and below, h itself (above the axis > 0) swung from above only.
    radius: of the tip. cross: |e + rho sin psi|, the pip's cause. centre: of the swing axis along the lathe from where
    the ball's centre belongs, toward the free end > 0. `cannot_tell` names the rest.
    """

    way: Way
    height: Likely | None
    radius: Likely | None
    cross: Likely | None
    centre: Likely | None
    cannot_tell: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Turn:
    """Which way after a deliberate move. `was_right`: the move was toward the true place; `chance`: of that being so.

    go_on_mm: still to move in the direction of the first move; below zero: come back by so much. [mm]
    """

    was_right: bool
    chance: float
    go_on_mm: float


def ball_errors(
    measures: BallMeasures, wanted_radius_mm: float, gauge_errors_mm: Mapping[str, float], way: Way = Way.FULL
) -> BallErrors:
    """The likely errors of a ball tool's set-up.

    Parameters
        measures: what was measured.
        wanted_radius_mm: the drawing's radius, > 0. [mm]
        gauge_errors_mm: plus or minus of each reading made: equator, near, far, pole, pip; > 0. [mm]
        way: how the tool was swung.
    Raises
        ValueError: nothing was measured, or a reading has no gauge error.
    """
    sizes = {"equator": measures.equator_mm, "near": measures.near_mm, "far": measures.far_mm, "pole": measures.pole_mm}
    made = {name: value for name, value in sizes.items() if value is not None}
    for name in (*made, *(["pip"] if measures.pip_mm is not None else [])):
        if not gauge_errors_mm.get(name, 0.0) > 0.0:
            raise ValueError(f"'{name}' has no gauge error; give the plus or minus of what it was measured with")
    if not made:
        raise ValueError("no size was measured; give the diameter at the equator at least")
    pip = (measures.pip_mm or 0.0) / 2.0
    weights = np.array([math.sqrt(3.0) / gauge_errors_mm[name] for name in made])
    read = np.array(list(made.values()))
    beside = _beside(pip, 0.0, way)
    found = _fit(read, tuple(made), weights, wanted_radius_mm, beside, way)
    if way is Way.ABOVE and measures.pip_mm is not None:
        found = _fit(read, tuple(made), weights, wanted_radius_mm, _beside(pip, -found[0], way), way)
    jacobian = _slopes(found, tuple(made), wanted_radius_mm, beside, way) * weights[:, None]
    covariance, is_open = _spread(jacobian)
    if way is Way.FULL and found[0] < 0.0 and not is_open[0]:
        found = _fit(read, tuple(made), weights, wanted_radius_mm, beside, way, is_level=True)
    return _told(found, covariance, is_open, measures.pip_mm, gauge_errors_mm.get("pip"), wanted_radius_mm, way)


def _told(
    found: NDArray[np.float64], covariance: NDArray[np.float64], is_open: list[bool], pip_mm: float | None,
    pip_error_mm: float | None, wanted_mm: float, way: Way,
) -> BallErrors:  # fmt: skip
    spread = [math.sqrt(max(0.0, covariance[i, i])) for i in range(3)]
    height = None if is_open[0] else Likely(float(found[0] if way is Way.FULL else -found[0]), spread[0])
    radius = None if is_open[1] else Likely(float(found[1]), spread[1])
    centre = None if is_open[2] else Likely(float(found[2]), spread[2])
    cross = None
    if pip_mm is not None and pip_error_mm is not None and (way is Way.FULL or height is not None):
        beside = _beside(pip_mm / 2.0, -float(found[0]), way)
        cross = Likely(beside, pip_error_mm / 2.0 / math.sqrt(3.0))
    names = [name for name, shut in zip(NAMES, is_open, strict=True) if shut]
    names += ["cross"] if cross is None else []
    return BallErrors(way, height, radius, cross, centre, tuple(names))


def _beside(pip_radius: float, height: float, way: Way) -> float:
    """|e + rho sin psi| from the pip's radius. Swung from above only, a height above the axis is part of the pip."""
    if way is Way.FULL or height <= 0.0:
        return pip_radius
    return math.sqrt(max(0.0, pip_radius * pip_radius - height * height))


def _predicted(q: NDArray[np.float64], name: str, wanted: float, beside: float, way: Way) -> float:
    k, rho, centre = (float(v) for v in q)
    if name == "pole":
        return centre + (math.sqrt(max(0.0, rho * rho - k * k)) if way is Way.FULL or k > 0.0 else rho)
    station = {"equator": centre, "near": -HALF * wanted, "far": HALF * wanted}[name]
    rise = math.sqrt(max(1e-12, rho * rho - (station - centre) ** 2))
    return 2.0 * math.hypot(beside, rise - k)


def _slopes(
    q: NDArray[np.float64], names: tuple[str, ...], wanted: float, beside: float, way: Way
) -> NDArray[np.float64]:
    step = 1e-5 * wanted
    columns = []
    for i in range(3):
        ahead, behind = q.copy(), q.copy()
        ahead[i] += step
        behind[i] -= step
        columns.append([
            (_predicted(ahead, n, wanted, beside, way) - _predicted(behind, n, wanted, beside, way)) / (2 * step)
            for n in names])  # fmt: skip
    return np.array(columns).T


def _fit(
    read: NDArray[np.float64], names: tuple[str, ...], weights: NDArray[np.float64], wanted: float, beside: float,
    way: Way, is_level: bool = False,
) -> NDArray[np.float64]:  # fmt: skip
    """The unknowns by Gauss and Newton; what the readings leave open stays at its nominal. `is_level`: k held at 0."""
    q = np.array([0.0, wanted, 0.0])
    for _ in range(ROUNDS):
        residual = (read - [_predicted(q, n, wanted, beside, way) for n in names]) * weights
        slopes = _slopes(q, names, wanted, beside, way) * weights[:, None]
        if is_level:
            slopes[:, 0] = 0.0
        step = np.linalg.lstsq(slopes, residual, rcond=1e-9)[0]
        q = q + step
        if float(np.abs(step).max()) < 1e-12 * wanted:
            break
    return q


def _spread(jacobian: NDArray[np.float64]) -> tuple[NDArray[np.float64], list[bool]]:
    """Covariance of the unknowns, and which of them the readings leave open."""
    _, values, rows = np.linalg.svd(jacobian, full_matrices=True)
    full = np.concatenate([values, np.zeros(3 - len(values))]) if len(values) < 3 else values
    is_null = full <= 1e-6 * full[0]
    is_open = [bool(np.abs(rows[is_null, i]).max(initial=0.0) > NULL) for i in range(3)]
    return np.asarray(np.linalg.pinv(jacobian.T @ jacobian, rcond=1e-11), dtype=np.float64), is_open


def which_way(before: Likely, after: Likely, moved_mm: float) -> Turn:
    """Whether a deliberate move went the right way, from the same amount measured before and after it.

    Moved toward the true place the amount becomes |before - moved|, away from it before + moved; the nearer of the
    two, each as likely beforehand, with the uncertainty of both measurements. [mm]

    Raises
        ValueError: a move of nothing tells nothing.
    """
    if moved_mm <= 0.0:
        raise ValueError(f"a move of {moved_mm} mm tells nothing; move about as much as the error itself")
    variance = before.uncertainty_mm**2 + after.uncertainty_mm**2
    right = (after.mm - abs(before.mm - moved_mm)) ** 2
    wrong = (after.mm - before.mm - moved_mm) ** 2
    chance = 1.0 / (1.0 + math.exp(max(-700.0, min(700.0, (right - wrong) / (2.0 * variance))))) if variance else (
        1.0 if right < wrong else 0.0)  # fmt: skip
    if chance >= 0.5:
        return Turn(True, chance, before.mm - moved_mm)
    return Turn(False, 1.0 - chance, -(before.mm + moved_mm))
