"""The form error told of a stated mistake, against shapely's ring of the swung tip and pencil and paper."""

from __future__ import annotations

import math

import pytest

from handwheel.setups.form import BallSetting, Way
from handwheel.setups.predicted import form_error_mm


@pytest.mark.parametrize("high", [0.05, -0.05])
def test_a_lemon_is_out_by_the_height_at_its_equator(high: float) -> None:
    """Swung both ways: under by |h| at the equator, and at the pole only by h² / 2 rho."""
    low, top = form_error_mm(BallSetting(10.0, high), 10.0)
    assert low == pytest.approx(-0.05, abs=1e-5)
    assert top == pytest.approx(-0.0025 / 20.0, abs=1e-6)


def test_a_stop_out_moves_the_whole_sphere() -> None:
    """A sphere 0.1 along stands off the wanted one by 0.1 cos of the angle from the pole: -0.0707 at 45° behind."""
    low, top = form_error_mm(BallSetting(10.0, centre_mm=0.1), 10.0)
    assert top == pytest.approx(0.1, abs=1e-9)
    radius = math.sqrt(100.0 - (math.sqrt(50.0) + 0.1) ** 2)
    assert low == pytest.approx(math.hypot(radius, math.sqrt(50.0)) - 10.0, abs=1e-9)


def test_from_above_a_high_axis_leaves_it_fat_and_the_cross_slide_nearly_nothing() -> None:
    assert form_error_mm(BallSetting(10.0, 0.05, way=Way.ABOVE), 10.0)[1] == pytest.approx(0.05, abs=1e-5)
    low, top = form_error_mm(BallSetting(10.0, cross_mm=0.05), 10.0)
    assert low == pytest.approx(top, abs=1e-9)
    assert top == pytest.approx(math.hypot(10.0, 0.05) - 10.0, abs=1e-9)


def test_nothing_out_is_a_true_ball() -> None:
    assert form_error_mm(BallSetting(10.0), 10.0) == pytest.approx((0.0, 0.0), abs=1e-9)
