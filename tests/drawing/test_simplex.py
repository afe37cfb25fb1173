"""The small linear programme against HiGHS, as scipy calls it."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linprog

from handwheel.drawing.simplex import maximise


@pytest.mark.parametrize("seed", range(150))
def test_against_another_solver(seed: int) -> None:
    dice = np.random.default_rng(seed)
    n, m, k = int(dice.integers(1, 7)), int(dice.integers(1, 7)), int(dice.integers(0, 4))
    most, limit = dice.integers(-3, 4, (m, n)).astype(float), dice.integers(-3, 8, m).astype(float)
    most, limit = np.vstack([most, np.ones(n)]), np.append(limit, 20.0)  # so that nothing grows without end
    equal, to = dice.integers(-2, 3, (k, n)).astype(float), dice.integers(-2, 4, k).astype(float)
    gain = dice.integers(-3, 4, n).astype(float)
    theirs = linprog(-gain, A_ub=most, b_ub=limit, A_eq=equal if k else None, b_eq=to if k else None)
    x = maximise(gain, most, limit, equal, to)
    if theirs.status == 2:
        assert x is None
        return
    assert theirs.status == 0
    assert x is not None
    assert gain @ x == pytest.approx(-theirs.fun, abs=1e-8)
    assert np.all(x >= -1e-9)
    assert np.all(most @ x <= limit + 1e-8)
    assert np.allclose(equal @ x, to, atol=1e-8)


def test_it_does_not_go_round_in_a_circle() -> None:
    # the classic example on which the plain rule cycles; the best is 1/20
    gain = np.array([0.75, -150.0, 0.02, -6.0])
    most = np.array([[0.25, -60.0, -0.04, 9.0], [0.5, -90.0, -0.02, 3.0], [0.0, 0.0, 1.0, 0.0]])
    x = maximise(gain, most, np.array([0.0, 0.0, 1.0]))
    assert x is not None
    assert gain @ x == pytest.approx(0.05)


def test_gain_without_end_is_refused() -> None:
    with pytest.raises(ValueError, match="without end"):
        maximise(np.array([1.0, 0.0]), np.array([[-1.0, 1.0]]), np.array([1.0]))


def test_rows_that_repeat_say_nothing_more() -> None:
    equal = np.array([[1.0, 1.0], [2.0, 2.0]])
    x = maximise(np.array([1.0, 0.0]), np.zeros((0, 2)), np.zeros(0), equal, np.array([3.0, 6.0]))
    assert x == pytest.approx([3.0, 0.0])
