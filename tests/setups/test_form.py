"""The form a swinging tool cuts: the closed form against the tip swung step by step, and against pencil and paper."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from handwheel.setups.form import BallSetting, Way, cut_radius_mm, measures_of, pole_of

SETTINGS = [
    BallSetting(10.0),
    BallSetting(10.0, height_mm=0.05),
    BallSetting(10.0, height_mm=-0.05),
    BallSetting(10.0, cross_mm=0.08, square_deg=1.5),
    BallSetting(10.0, 0.04, -0.06, -2.0, 0.1),
    BallSetting(10.0, 0.04, -0.06, 2.0, -0.1, Way.ABOVE),
    BallSetting(10.0, -0.04, 0.06, 1.0, 0.05, Way.ABOVE),
]


def swung(setting: BallSetting, z: float) -> float:
    """Least radius that the tip cuts at a station, by finding every swing angle at which it stands there."""
    psi = math.radians(setting.square_deg)

    def tip(phi: float) -> tuple[float, float, float]:
        x = setting.cross_mm + setting.radius_mm * math.sin(psi) * math.cos(phi)
        return x, setting.height_mm + setting.radius_mm * math.sin(phi), (
            setting.centre_mm + setting.radius_mm * math.cos(psi) * math.cos(phi))

    arcs = [(0.0, math.pi)] if setting.way is Way.ABOVE else [(0.0, math.pi), (-math.pi, 0.0)]
    found = [brentq(lambda phi: tip(phi)[2] - z, low, high, xtol=1e-14) for low, high in arcs]
    return min(math.hypot(*tip(phi)[:2]) for phi in found)


@pytest.mark.parametrize("setting", SETTINGS, ids=str)
def test_the_cut_surface_is_the_least_over_the_swing(setting: BallSetting) -> None:
    for z in np.linspace(-8.0, 9.5, 29):
        assert cut_radius_mm(setting, float(z)) == pytest.approx(swung(setting, float(z)), abs=1e-9)


def test_nothing_is_cut_beyond_the_swing() -> None:
    assert cut_radius_mm(BallSetting(10.0), 10.001) is None


def test_height_makes_a_lemon_of_the_right_length() -> None:
    found = measures_of(BallSetting(10.0, height_mm=0.05), 10.0)
    assert found.equator_mm == pytest.approx(2 * 9.95, abs=1e-9)
    assert found.pole_mm == pytest.approx(math.sqrt(100 - 0.0025), abs=1e-12)
    assert found.pip_mm == 0.0


def test_from_above_a_high_axis_makes_it_fat_with_a_pip() -> None:
    found = measures_of(BallSetting(10.0, 0.05, 0.03, way=Way.ABOVE), 10.0)
    assert found.equator_mm == pytest.approx(2 * math.hypot(0.03, 10.05), abs=1e-9)
    assert found.pip_mm == pytest.approx(2 * math.hypot(0.03, 0.05), abs=1e-12)
    assert found.pole_mm == pytest.approx(10.0)


@pytest.mark.parametrize(("cross", "psi"), [(0.3, 2.0), (-0.4, 3.0), (0.0, -1.0)])
def test_without_a_height_error_any_place_cuts_a_true_sphere(cross: float, psi: float) -> None:
    """Radius sqrt(rho^2 + e^2 / cos^2 psi), centre at e tan psi: by hand, from the tip's own circle."""
    setting, turn = BallSetting(10.0, 0.0, cross, psi), math.radians(psi)
    radius, centre = math.hypot(10.0, cross / math.cos(turn)), cross * math.tan(turn)
    for z in np.linspace(-7.0, 9.0, 17):
        cut = cut_radius_mm(setting, float(z))
        assert cut is not None
        assert math.hypot(cut, z - centre) == pytest.approx(radius, abs=1e-9)


def test_a_cross_error_is_hidden_by_a_lack_of_square() -> None:
    psi = 2.0
    assert pole_of(BallSetting(10.0, 0.0, -10.0 * math.sin(math.radians(psi)), psi))[1] == pytest.approx(0.0, abs=1e-12)


def test_the_side_diameters_differ_by_four_times_the_stop() -> None:
    found = measures_of(BallSetting(10.0, centre_mm=0.02), 10.0)
    assert found.far_mm is not None
    assert found.near_mm is not None
    assert found.far_mm - found.near_mm == pytest.approx(4 * 0.02, rel=1e-4)


def test_a_tip_that_reaches_no_side_station_is_refused() -> None:
    with pytest.raises(ValueError, match="does not cut at 7.07107 mm"):
        measures_of(BallSetting(5.0), 10.0)
