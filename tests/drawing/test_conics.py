"""Pairs of conics solved in closed form, against crossings known beforehand."""

from collections.abc import Callable
from math import sqrt

import numpy as np
import pytest

from handwheel.drawing.conics import conic_roots

Array = np.ndarray
Pair = Callable[[Array], tuple[Array, Array]]


def of_conics(one: Array, two: Array) -> Pair:
    """Residuals and exact slopes of two conics, by coefficients of x x, x y, y y, x, y, 1."""

    def residual(at: Array) -> tuple[Array, Array]:
        x, y = at
        f = [a * x * x + b * x * y + c * y * y + d * x + e * y + g for a, b, c, d, e, g in (one, two)]
        jac = [[2 * a * x + b * y + d, b * x + 2 * c * y + e] for a, b, c, d, e, _ in (one, two)]
        return np.array(f).T, np.array(jac).transpose(2, 0, 1)

    return residual


def found(one: Array, two: Array, start: tuple[float, float]) -> list[tuple[float, float]] | None:
    made = conic_roots(of_conics(np.asarray(one, dtype=float), np.asarray(two, dtype=float)), np.array(start))
    return None if made is None else [(float(x), float(y)) for x, y in made[0]]


@pytest.mark.parametrize("seed", range(60))
def test_conics_through_four_points_cross_there(seed: int) -> None:
    """Any two conics through the same four points cross at those and nowhere else."""
    rng = np.random.default_rng(seed)
    points = rng.uniform(-30, 30, (4, 2))
    gaps = [np.abs(p - q).max() for i, p in enumerate(points) for q in points[:i]]
    if min(gaps) < 1.0:
        points = np.array([(0.0, 1.0), (7.0, -3.0), (12.0, 9.0), (-20.0, 4.0)])
    x, y = points.T
    pencil = np.linalg.svd(np.stack([x * x, x * y, y * y, x, y, np.ones(4)]).T)[2][4:]
    mixed = np.array([[1.0, 0.4], [-0.3, 1.0]]) @ pencil
    made = found(mixed[0], mixed[1], (3.0, 5.0))
    assert made is not None
    assert len(made) == 4
    for point in points:
        assert min(max(abs(a - point[0]), abs(b - point[1])) for a, b in made) < 1e-8


def test_a_line_across_a_circle() -> None:
    """x x + y y = 25 and y = x / 2 + 1: x = (-2 ± sqrt(4 + 5 * 96)) / 5 by the formula for quadratics."""
    made = found(np.array([1, 0, 1, 0, 0, -25]), np.array([0, 0, 0, 0.5, -1, 1]), (4.0, 3.0))
    assert made is not None
    roots = [(-2 + sqrt(484)) / 5, (-2 - sqrt(484)) / 5]
    assert [x for x, _ in made] == pytest.approx(roots, abs=1e-12)  # the nearest to the start first
    assert [y for _, y in made] == pytest.approx([r / 2 + 1 for r in roots], abs=1e-12)


def test_circles_apart_have_no_crossing() -> None:
    assert found(np.array([1, 0, 1, 0, 0, -25]), np.array([1, 0, 1, -24, 0, 119]), (6.0, 0.0)) == []


def test_touching_is_left_to_the_search() -> None:
    """Two circles that just touch: x x + y y = 25 and (x - 11)^2 + y y = 36 at (5, 0)."""
    assert found(np.array([1, 0, 1, 0, 0, -25]), np.array([1, 0, 1, -22, 0, 85]), (6.0, 1.0)) is None


def test_what_is_no_conic_is_left_to_the_search() -> None:
    def residual(at: Array) -> tuple[Array, Array]:
        x, y = at
        return np.array([x * x * x - y, y - 1.0]).T, np.zeros((len(x), 2, 2))

    assert conic_roots(residual, np.array([1.0, 1.0])) is None
