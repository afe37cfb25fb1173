"""Elimination, solving order and closed roots, against dense linear algebra and polynomials of known roots."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment

from handwheel.drawing.ad import Dual, value_of
from handwheel.drawing.blocks import ordered_blocks
from handwheel.drawing.eliminate import CONST, Row, eliminate
from handwheel.drawing.quadratic import quadratic_roots


def random_rows(rng: np.random.Generator, m: int, n: int) -> tuple[np.ndarray, np.ndarray, list[Row]]:
    matrix = np.where(rng.uniform(size=(m, n)) < 0.3, rng.integers(-3, 4, (m, n)), 0).astype(float)
    matrix[:, 0] = 0.0
    constants = rng.integers(-5, 6, m).astype(float)
    rows = [{CONST: c, **{j: float(d) for j, d in enumerate(row) if d}} for c, row in zip(constants, matrix, strict=True)]
    return matrix, constants, rows


@pytest.mark.parametrize("seed", range(40))
def test_elimination_keeps_exactly_the_solutions(seed: int) -> None:
    rng = np.random.default_rng(seed)
    m, n = int(rng.integers(1, 9)), int(rng.integers(4, 12))
    matrix, constants, rows = random_rows(rng, m, n)
    made = eliminate(rows, n)
    rank = int(np.linalg.matrix_rank(matrix))
    if rank < m:
        loop = made.loops[0]
        weights = np.array([loop.weights.get(i, 0.0) for i in range(m)])
        assert np.abs(weights).max() > 1e-6
        np.testing.assert_allclose(weights @ matrix, 0.0, atol=1e-9)
        assert weights @ constants == pytest.approx(loop.misclosure, abs=1e-9)
        return
    assert not made.loops
    assert len(made.free) == n - 1 - rank
    v = made.filled([0.0, *rng.uniform(-4, 4, n - 1)])
    np.testing.assert_allclose(matrix @ np.array(v) + constants, 0.0, atol=1e-8)


@pytest.mark.parametrize("seed", range(10))
def test_tracks_say_how_a_number_moves_with_each_rows_rest(seed: int) -> None:
    rng = np.random.default_rng(100 + seed)
    n = 7
    matrix = rng.uniform(-1, 1, (n - 1, n))
    matrix[:, 0] = 0.0
    made = eliminate([{j: float(c) for j, c in enumerate(row) if j} for row in matrix], n, is_tracked=True)
    inverse = np.linalg.inv(matrix[:, 1:])
    found = np.array([[made.tracks[i].get(k, 0.0) for k in range(n - 1)] for i in range(1, n)])
    np.testing.assert_allclose(found, -inverse, atol=1e-8)


@pytest.mark.parametrize("seed", range(40))
def test_blocks_rest_only_on_what_comes_before(seed: int) -> None:
    rng = np.random.default_rng(seed)
    m, n = int(rng.integers(1, 12)), int(rng.integers(1, 12))
    pattern = rng.uniform(size=(m, n)) < 0.25
    touched = [np.flatnonzero(row).tolist() for row in pattern]
    blocks = ordered_blocks(touched)
    assert sorted(e for equations, _ in blocks for e in equations) == list(range(m))
    seen: set[int] = set()
    for equations, places in blocks:
        assert not seen & set(places)
        seen |= set(places)
        assert {p for e in equations for p in touched[e]} <= seen
    assert seen == set(np.flatnonzero(pattern.any(axis=0)).tolist())
    # as many equations as can be have a number of their own, by the assignment problem
    rows, columns = linear_sum_assignment(-pattern.astype(float))
    most = int(pattern[rows, columns].sum())
    assert sum(min(len(e), len(p)) for e, p in blocks) == most


def polynomial(*coefficients: float):  # type: ignore[no-untyped-def]
    def residual(y):  # type: ignore[no-untyped-def]
        v = Dual(y[0], {0: 1.0})
        found = coefficients[0] * v + coefficients[1] if len(coefficients) == 2 else None
        if found is None:
            found = v * 0.0
            for c in coefficients:
                found = found * v + c
        slope = np.broadcast_to(np.asarray(found.g[0], dtype=float), y[0].shape)
        return np.asarray(value_of(found), dtype=float)[:, None], slope[:, None, None]

    return residual


@pytest.mark.parametrize(("one", "two"), [(3.0, -5.0), (1e-3, 2e3), (40.0, 40.1), (0.0, 7.0)])
def test_both_roots_the_nearer_first(one: float, two: float) -> None:
    found = quadratic_roots(polynomial(1.0, -(one + two), one * two), 1.0)
    assert found is not None
    roots = [float(r[0]) for r in found[0]]
    assert roots == pytest.approx(sorted((one, two), key=lambda r: abs(r - 1.0)), rel=1e-9, abs=1e-9)


def test_no_root_gives_the_nearest_approach() -> None:
    found = quadratic_roots(polynomial(2.0, -12.0, 50.0), 10.0)
    assert found is not None
    assert found[0] == []
    assert float(found[1][0]) == pytest.approx(3.0)


def test_what_is_no_quadratic_or_just_touches_is_left_alone() -> None:
    assert quadratic_roots(polynomial(1.0, 0.0, -3.0, 1.0), 1.0) is None
    assert quadratic_roots(polynomial(1.0, -6.0, 9.0), 1.0) is None
