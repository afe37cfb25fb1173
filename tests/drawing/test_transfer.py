"""Working shares: never outside the drawing's tolerance, and the least share as great as a linear programme's."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linprog

from handwheel.drawing.transfer import share, working_shares


@pytest.mark.parametrize("seed", range(40))
def test_against_a_linear_programme(seed: int) -> None:
    dice = np.random.default_rng(seed)
    m, n = int(dice.integers(1, 6)), int(dice.integers(1, 6))
    S = dice.integers(-1, 2, (m, n)) * dice.uniform(0.5, 20.0, (m, n))
    S[0] = 1.0
    T, c = dice.uniform(0.01, 0.3, m), dice.uniform(0.01, 0.05, n)
    half = working_shares(S, T, c)
    assert np.all(np.abs(S) @ half <= T * (1 + 1e-12))
    # greatest s with t >= s c and |S| t <= T
    best = linprog(
        np.r_[np.zeros(n), -1.0],
        A_ub=np.block([[np.abs(S), np.zeros((m, 1))], [-np.eye(n), c[:, None]]]),
        b_ub=np.r_[T, np.zeros(n)],
    )
    assert np.min(half / c) == pytest.approx(best.x[-1], rel=1e-9)
    assert np.min(half / c) == pytest.approx(np.min(T[np.abs(S) @ c > 0] / (np.abs(S) @ c)[np.abs(S) @ c > 0]))
    # no share can be widened alone
    for j in range(n):
        wider = half.copy()
        wider[j] *= 1.001
        assert np.any(np.abs(S) @ wider > T)


def test_the_tight_row_is_held_and_the_rest_widened() -> None:
    half = working_shares(np.array([[1.0, 1.0, 0.0], [0.0, 0.0, 1.0]]), np.array([0.1, 0.3]), np.ones(3))
    assert half == pytest.approx([0.05, 0.05, 0.3])


def test_what_nothing_limits_is_not_limited() -> None:
    half = working_shares(np.array([[1.0, 0.0]]), np.array([0.1]), np.ones(2))
    assert half[0] == pytest.approx(0.1)
    assert np.isinf(half[1])


@pytest.mark.parametrize(("T", "c"), [([-0.1], [1.0]), ([0.1], [0.0]), ([0.1, 0.1], [1.0])])
def test_what_cannot_be_is_refused(T: list[float], c: list[float]) -> None:
    with pytest.raises(ValueError, match="must"):
        working_shares(np.array([[1.0]]), np.array(T), np.array(c))


def _system(seed: int) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    dice = np.random.default_rng(seed)
    m, n = int(dice.integers(2, 8)), int(dice.integers(1, 6))
    S = dice.integers(-1, 2, (m, n)) * dice.uniform(0.5, 20.0, (m, n))
    S[0] = 1.0
    off = dice.uniform(-0.1, 0.1, m) * dice.integers(0, 2, m)
    held = np.where(dice.integers(0, 4, n) == 0, 0.001, np.nan)
    held[0] = np.nan
    return S, dice.uniform(0.05, 0.3, m), dice.uniform(0.01, 0.05, n), off, held


@pytest.mark.parametrize("seed", range(60))
def test_sizes_aimed_at_and_some_fixed_against_a_linear_programme(seed: int) -> None:
    S, T, c, off, held = _system(seed)
    m, n = S.shape
    found = share(S, T, c, off, held)
    free = np.isnan(held)
    load, taken = np.abs(S) @ (c * free), np.abs(S) @ np.where(free, 0.0, held)
    best = linprog(
        np.r_[np.zeros(n), -1.0],
        A_ub=np.block([[S, load[:, None]], [-S, load[:, None]]]),
        b_ub=np.r_[T - taken - off, T - taken + off],
        bounds=[(None, None)] * n + [(0, None)],
    )
    if best.status != 0:
        assert found.even == 0.0
        return
    assert found.even == pytest.approx(best.x[-1], rel=1e-6)
    assert np.allclose(found.half[~free], held[~free])
    # no part inside all working limits is outside the drawing: drawn at random, and every one at a corner
    dice = np.random.default_rng(seed)
    ways = np.vstack([dice.uniform(-1, 1, (300, n)), dice.choice([-1.0, 1.0], (300, n))])
    made = off + (found.shift + ways * found.half) @ S.T
    assert np.all(np.abs(made) <= T + 1e-9)
    # and the row that is said to hold a dimension is full
    for row in found.holder:
        if row >= 0:
            assert abs(off[row] + S[row] @ found.shift) + np.abs(S[row]) @ found.half == pytest.approx(T[row], abs=1e-9)


def test_one_sided_limits_are_centred() -> None:
    # 10 +0.2 -0 and 20 +0 -0.1 worked to as drawn: aimed at 10.1 and 19.95
    found = share(np.eye(2), np.array([0.1, 0.05]), np.ones(2), np.array([-0.1, 0.05]))
    assert found.shift == pytest.approx([0.1, -0.05])
    assert found.half == pytest.approx([0.1, 0.05])


def test_more_drawing_dimensions_than_working_ones() -> None:
    # one size that must be 10 ± 0.1 and 10.1 ± 0.1: only 10.0 to 10.1 does, aimed at 10.05
    found = share(np.ones((2, 1)), np.array([0.1, 0.1]), np.ones(1), np.array([0.0, -0.1]))
    assert found.shift == pytest.approx([0.05])
    assert found.half == pytest.approx([0.05])


def test_a_diameter_on_a_taper_allows_twenty_times_along() -> None:
    # 1 in 20 on the diameter: d = 0.05 x, and 0.05 on the diameter is 1 along
    assert working_shares(np.array([[0.05]]), np.array([0.05]), np.ones(1)) == pytest.approx([1.0])


def test_what_holds_is_named() -> None:
    found = share(np.array([[1.0, 1.0, 0.0], [0.0, 0.0, 1.0]]), np.array([0.1, 0.3]), np.ones(3))
    assert (found.even, found.tight, found.holder) == (pytest.approx(0.05), (0,), (0, 0, 1))


def test_fixed_ones_that_take_all_leave_nothing() -> None:
    found = share(np.array([[1.0, 1.0]]), np.array([0.1]), np.ones(2), held=np.array([0.1, np.nan]))
    assert found.half == pytest.approx([0.1, 0.0])
    assert found.even == 0.0
