"""Working shares: never outside the drawing's tolerance, and the least share as great as a linear programme's."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linprog

from handwheel.drawing.transfer import working_shares


@pytest.mark.parametrize("seed", range(40))
def test_against_a_linear_programme(seed: int) -> None:
    dice = np.random.default_rng(seed)
    m, n = int(dice.integers(1, 6)), int(dice.integers(1, 6))
    S = dice.integers(-1, 2, (m, n)) * dice.uniform(0.5, 20.0, (m, n))
    S[0] = 1.0
    T, c = dice.uniform(0.01, 0.3, m), dice.uniform(0.01, 0.05, n)
    share = working_shares(S, T, c)
    assert np.all(np.abs(S) @ share <= T * (1 + 1e-12))
    # greatest s with t >= s c and |S| t <= T
    best = linprog(
        np.r_[np.zeros(n), -1.0],
        A_ub=np.block([[np.abs(S), np.zeros((m, 1))], [-np.eye(n), c[:, None]]]),
        b_ub=np.r_[T, np.zeros(n)],
    )
    assert np.min(share / c) == pytest.approx(best.x[-1], rel=1e-9)
    assert np.min(share / c) == pytest.approx(np.min(T[np.abs(S) @ c > 0] / (np.abs(S) @ c)[np.abs(S) @ c > 0]))
    # no share can be widened alone
    for j in range(n):
        wider = share.copy()
        wider[j] *= 1.001
        assert np.any(np.abs(S) @ wider > T)


def test_the_tight_row_is_held_and_the_rest_widened() -> None:
    share = working_shares(np.array([[1.0, 1.0, 0.0], [0.0, 0.0, 1.0]]), np.array([0.1, 0.3]), np.ones(3))
    assert share == pytest.approx([0.05, 0.05, 0.3])


def test_what_nothing_limits_is_not_limited() -> None:
    share = working_shares(np.array([[1.0, 0.0]]), np.array([0.1]), np.ones(2))
    assert share[0] == pytest.approx(0.1)
    assert np.isinf(share[1])


@pytest.mark.parametrize(("T", "c"), [([-0.1], [1.0]), ([0.1], [0.0]), ([0.1, 0.1], [1.0])])
def test_what_cannot_be_is_refused(T: list[float], c: list[float]) -> None:
    with pytest.raises(ValueError, match="must"):
        working_shares(np.array([[1.0]]), np.array(T), np.array(c))
