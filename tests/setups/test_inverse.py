"""From a ball's measurements to its set-up: exact readings come back, and the spread is that of many noisy trials."""

from __future__ import annotations

import math

import numpy as np
import pytest

from handwheel.setups.form import BallMeasures, BallSetting, Way, measures_of
from handwheel.setups.inverse import Likely, ball_errors, which_way

WANTED = 10.0
GAUGE = dict.fromkeys(("equator", "near", "far", "pole", "pip"), 0.003)


@pytest.mark.parametrize("height", [0.04, -0.04, 0.0])
@pytest.mark.parametrize("centre", [0.03, -0.03])
@pytest.mark.parametrize("way", Way)
def test_true_readings_give_the_setting_back(height: float, centre: float, way: Way) -> None:
    setting = BallSetting(10.1, height, 0.05, 0.0, centre, way)
    found = ball_errors(measures_of(setting, WANTED), WANTED, GAUGE, way)
    assert found.height is not None
    assert found.radius is not None
    assert found.centre is not None
    assert found.cross is not None
    expected = height if way is Way.ABOVE else abs(height)
    assert found.height.mm == pytest.approx(expected, abs=2e-5)
    assert found.radius.mm == pytest.approx(10.1, abs=2e-5)
    assert found.centre.mm == pytest.approx(centre, abs=2e-5)
    assert found.cross.mm == pytest.approx(0.05, abs=2e-4)
    assert found.cannot_tell == ()


def test_the_sign_of_the_height_shows_in_no_reading_of_a_full_swing() -> None:
    high, low = (measures_of(BallSetting(10.0, h, 0.02), WANTED) for h in (0.05, -0.05))
    assert high == low


def noisy(setting: BallSetting, rng: np.random.Generator) -> BallMeasures:
    true = measures_of(setting, WANTED)
    return BallMeasures(*(
        value + rng.uniform(-GAUGE["pip"], GAUGE["pip"])
        for value in (true.equator_mm, true.near_mm, true.far_mm, true.pole_mm, true.pip_mm) if value is not None))


@pytest.mark.parametrize("way", Way)
def test_many_noisy_trials_spread_as_the_propagation_says(way: Way) -> None:
    rng = np.random.default_rng(4)
    setting = BallSetting(10.1, -0.05, 0.06, 0.0, 0.02, way)
    trials = [ball_errors(noisy(setting, rng), WANTED, GAUGE, way) for _ in range(2500)]
    for name in ("height", "radius", "centre", "cross"):
        likely: list[Likely] = [getattr(t, name) for t in trials]
        assert np.std([one.mm for one in likely]) == pytest.approx(likely[0].uncertainty_mm, rel=0.06)


def test_the_spread_by_pencil_and_paper() -> None:
    """Linear in (k, rho): E = 2 (rho - k), S = (A + B) / 2 = 2 (sqrt 2 rho - k) about 10, P = rho; the stop falls out."""
    found = ball_errors(BallMeasures(20.0, 20 * math.sqrt(0.5), 20 * math.sqrt(0.5), None), WANTED, GAUGE)
    sigma = 0.003 / math.sqrt(3)
    variance_rho = (sigma**2 + sigma**2 / 2) / (2 * (math.sqrt(2) - 1)) ** 2
    variance_k = (sigma**2 * 2 + sigma**2 / 2) / (2 * (math.sqrt(2) - 1)) ** 2
    assert found.radius is not None
    assert found.height is not None
    assert found.radius.uncertainty_mm == pytest.approx(math.sqrt(variance_rho), rel=1e-3)
    assert found.height.uncertainty_mm == pytest.approx(math.sqrt(variance_k), rel=1e-3)


@pytest.mark.parametrize(
    ("kept", "open_"),
    [
        ({"equator_mm"}, ("height", "radius", "centre", "cross")),
        ({"equator_mm", "pole_mm"}, ("height", "radius", "centre", "cross")),
        ({"near_mm", "far_mm"}, ("height", "radius", "cross")),
        ({"equator_mm", "near_mm", "far_mm"}, ("cross",)),
        ({"equator_mm", "near_mm", "far_mm", "pip_mm"}, ()),
    ],
)
def test_what_the_readings_leave_open_is_named(kept: set[str], open_: tuple[str, ...]) -> None:
    true = measures_of(BallSetting(10.0, 0.03, 0.01, 0.0, 0.02), WANTED)
    found = ball_errors(BallMeasures(**{name: getattr(true, name) for name in kept}), WANTED, GAUGE)
    assert found.cannot_tell == open_
    for name in ("height", "radius", "centre", "cross"):
        assert (getattr(found, name) is None) == (name in open_)


def test_a_reading_without_its_gauge_is_refused() -> None:
    with pytest.raises(ValueError, match="'equator' has no gauge error"):
        ball_errors(BallMeasures(20.0), WANTED, {})
    with pytest.raises(ValueError, match="no size was measured"):
        ball_errors(BallMeasures(), WANTED, GAUGE)


@pytest.mark.parametrize(("true", "go_on"), [(0.05, 0.0), (-0.05, -0.1)])
def test_a_deliberate_move_tells_which_way(true: float, go_on: float) -> None:
    before, after = Likely(0.05, 0.002), Likely(abs(true - 0.05), 0.002)
    turn = which_way(before, after, 0.05)
    assert turn.was_right == (true > 0)
    assert turn.go_on_mm == pytest.approx(go_on)
    assert turn.chance > 0.99


def test_a_move_as_small_as_the_uncertainty_decides_little() -> None:
    turn = which_way(Likely(0.002, 0.005), Likely(0.003, 0.005), 0.002)
    assert turn.chance < 0.6
    with pytest.raises(ValueError, match="tells nothing"):
        which_way(Likely(0.002, 0.005), Likely(0.003, 0.005), 0.0)


def test_a_height_below_nothing_is_none_at_all() -> None:
    """A gauge a little out makes the equator fatter than any ball swung both ways: height 0, radius the best of the three."""
    side = 20 * math.sqrt(0.5)
    found = ball_errors(BallMeasures(20.004, side, side), WANTED, GAUGE)
    assert found.height is not None
    assert found.radius is not None
    assert found.height.mm == pytest.approx(0.0, abs=1e-9)
    # least squares of 2 d = 0.004 and twice 2 sqrt(2) d = 0
    assert found.radius.mm - 10.0 == pytest.approx(2 * 0.004 / (4 + 2 * 8), rel=1e-3)
