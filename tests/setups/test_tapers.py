"""Taper settings, corrections and measurements over rollers and balls, against plane geometry done another way."""

from __future__ import annotations

import math
from dataclasses import replace

import mpmath
import numpy as np
import pytest
from scipy.optimize import brentq
from shapely.geometry import LineString, Point

from handwheel.job.records import Unit
from handwheel.setups.overrollers import (
    angle_by_two_balls_deg,
    angle_over_rollers_deg,
    mouth_by_ball_mm,
    over_rollers_mm,
    small_end_mm,
)
from handwheel.setups.tapercorrect import correct_by_blue, correct_by_two_balls, correct_by_two_diameters
from handwheel.setups.tapers import (
    Taper,
    along_bar_mm,
    end_off_mm,
    methods,
    most_shallow_deg,
    on_side_mm,
    runs_out_short_mm,
    seat_travel_mm,
    set_over_mm,
)
from handwheel.workshop.read import built_in_workshop

TAPERS = [Taper(19.05, 16.51, 50.8), Taper(30.0, 10.0, 40.0), Taper(12.0, 11.5, 60.0)]


@pytest.mark.parametrize("taper", TAPERS, ids=str)
def test_angle_and_slope(taper: Taper) -> None:
    rise = mpmath.mpf(taper.large_mm - taper.small_mm) / 2
    exact = mpmath.degrees(mpmath.atan2(rise, taper.length_mm))
    assert taper.half_angle_deg == pytest.approx(float(exact), abs=1e-12)
    assert taper.slant_mm == pytest.approx(float(taper.length_mm / mpmath.cos(mpmath.radians(exact))), abs=1e-11)


def test_sine_along_the_bar_and_tangent_on_the_side() -> None:
    """5.739° takes a tenth of the slide's own travel; at 45° the side moves as far as the carriage."""
    assert along_bar_mm(5.739170, 50.0) == pytest.approx(5.0, abs=1e-6)
    assert on_side_mm(45.0, 50.0) == pytest.approx(50.0)
    assert set_over_mm(30.0, 100.0) == pytest.approx(50.0)
    assert seat_travel_mm(0.02, math.degrees(math.atan(0.025))) == pytest.approx(0.4)


@pytest.mark.parametrize("height", [0.1, -0.1, 0.4])
def test_a_tool_off_height(height: float) -> None:
    """The cut side is a hyperbola: the tool's straight path at that height, turned round the axis."""
    over, hollow = end_off_mm(30.0, 10.0, height)
    start = brentq(lambda x: math.hypot(x, height) - 15.0, 0.0, 15.0, xtol=1e-14)
    radii = [math.hypot(x, height) for x in np.linspace(start, start - 10.0, 3)]
    assert over == pytest.approx(2 * (radii[2] - 5.0), abs=1e-10)
    assert hollow == pytest.approx((radii[0] + radii[2]) / 2 - radii[1], abs=1e-10)
    assert over > 0.0
    assert hollow > 0.0


def test_hollow_by_its_first_term() -> None:
    """y² tan²θ l² / 8 r³, where y is small beside r."""
    large, small, length, y = 22.0, 20.0, 40.0, 0.2
    tangent = (large - small) / 2 / length
    assert end_off_mm(large, small, y)[1] == pytest.approx(y * y * tangent**2 * length**2 / 8 / 10.5**3, rel=0.02)


def test_too_steep_leaves_metal_and_too_shallow_does_not() -> None:
    taper, over = Taper(30.0, 20.0, 50.0), 0.5
    shallow = most_shallow_deg(taper, over)
    slope = math.tan(math.radians(taper.half_angle_deg - shallow))
    assert (20.0 + over) / 2 + 50.0 * slope == pytest.approx(15.0)  # just to size at the large end
    short = runs_out_short_mm(taper, over, 0.2, 30.0)
    cut = LineString([(0.0, 10.25), (100.0, 10.25 + 100.0 * math.tan(math.radians(taper.half_angle_deg + 0.2)))])
    out = cut.intersection(LineString([(0.0, 15.0), (100.0, 15.0)]))
    assert short == pytest.approx(50.0 - out.x, abs=1e-9)


def touching(side: LineString, radius: float, x: float) -> float:
    """Height above the axis at which a round of that radius, its centre at x, touches the side from outside."""
    low = side.interpolate(side.project(Point(x, 0.0))).y
    return brentq(lambda y: side.distance(Point(x, y)) - radius, low, 200.0, xtol=1e-13)


@pytest.mark.parametrize("raised", [0.0, 40.0])
def test_over_rollers(raised: float) -> None:
    small, half, roller = 20.0, 3.0, 12.0
    side = LineString([(-100.0, 10.0 - 100 * math.tan(math.radians(half))), (300.0, 10.0 + 300 * math.tan(math.radians(half)))])
    top = 2 * touching(side, roller / 2, raised + roller / 2) + roller
    assert over_rollers_mm(small, roller, half, raised) == pytest.approx(top, abs=1e-9)
    if not raised:
        assert small_end_mm(top, roller, half) == pytest.approx(small, abs=1e-9)


def test_angle_over_rollers_and_by_balls() -> None:
    """Worked by hand: tan = 4.2 / 80; sin = 4 / 80; sin = 2.5 / 62.5."""
    assert angle_over_rollers_deg(32.0, 36.2, 40.0) == pytest.approx(3.0053, abs=0.0001)
    assert angle_by_two_balls_deg(40.0, 32.0, 8.0, 76.0) == pytest.approx(2.866, abs=0.0005)
    assert angle_by_two_balls_deg(25.0, 20.0, 5.0, 60.0) == pytest.approx(2.2924, abs=0.0001)
    assert angle_by_two_balls_deg(12.0, 8.0, -1.5, 30.0) == pytest.approx(4.3283, abs=0.0001)  # sin = 2 / 26.5, the ball sunk
    with pytest.raises(ValueError, match="put equal blocks under them"):
        angle_over_rollers_deg(32.0, 36.0, 0.0)
    with pytest.raises(ValueError, match="cannot lie"):
        angle_by_two_balls_deg(40.0, 20.0, 0.0, 10.0)


def test_a_ball_in_a_taper_bore() -> None:
    mouth, half, ball = 25.0, 4.0, 20.0
    side = LineString([(0.0, mouth / 2), (200.0, mouth / 2 - 200 * math.tan(math.radians(half)))])
    centre = brentq(lambda z: side.distance(Point(z, 0.0)) - ball / 2, 0.0, 150.0, xtol=1e-13)
    assert mouth_by_ball_mm(ball, ball / 2 - centre, half) == pytest.approx(mouth, abs=1e-9)


@pytest.mark.parametrize("off", [0.1, -0.1, 0.02])
def test_the_correction_undoes_the_error(off: float) -> None:
    wanted, apart = 1.432, 40.0
    tangent = math.tan(math.radians(wanted + off))
    found = correct_by_two_diameters(wanted, 20.0, 20.0 - 2 * apart * tangent, apart, 0.002)
    assert found.change_deg == pytest.approx(-off, abs=1e-10)
    assert found.arc_mm(50.0) == pytest.approx(-50.0 * math.radians(off), abs=1e-10)
    assert found.on_side_mm(50.0) == pytest.approx(50.0 * (math.tan(math.radians(wanted)) - tangent), abs=1e-10)
    sines = math.sin(math.radians(wanted)) - math.sin(math.radians(wanted + off))
    assert found.along_bar_mm(50.0) == pytest.approx(50.0 * sines, abs=1e-10)
    assert found.set_over_mm(200.0) == pytest.approx(200.0 * sines, abs=1e-10)


def test_the_correction_spreads_as_many_trials_do() -> None:
    rng = np.random.default_rng(7)
    trials = [
        correct_by_two_diameters(
            5.0, 30.0 + rng.uniform(-0.005, 0.005), 24.0 + rng.uniform(-0.005, 0.005), 40.0 + rng.uniform(-0.1, 0.1),
            0.005, 0.1)
        for _ in range(4000)
    ]  # fmt: skip
    assert trials[0].uncertainty_deg is not None
    assert np.std([t.is_deg for t in trials]) == pytest.approx(trials[0].uncertainty_deg, rel=0.04)


def test_two_balls_and_blue_spread_as_many_trials_do() -> None:
    rng = np.random.default_rng(11)
    balls = [correct_by_two_balls(4.0, (25.0, 20.0), 5.0 + rng.uniform(-0.01, 0.01), 60.0 + rng.uniform(-0.01, 0.01), 0.01)
             for _ in range(4000)]  # fmt: skip
    blued = [correct_by_blue(4.0, True, False, 0.1 + rng.uniform(-0.01, 0.01), 30.0, 0.01) for _ in range(4000)]
    for trials in (balls, blued):
        spread = trials[0].uncertainty_deg
        assert spread is not None
        assert np.std([t.is_deg for t in trials]) == pytest.approx(spread, rel=0.04)


@pytest.mark.parametrize(("at_large", "inside", "is_steep"), [(True, False, True), (False, False, False),
                                                             (True, True, False), (False, True, True)])  # fmt: skip
def test_blue_says_which_way(at_large: bool, inside: bool, is_steep: bool) -> None:
    """A plug too steep is held by its large end, a bore too shallow too: 0.03 over 30 on each side is 0.0286°."""
    found = correct_by_blue(1.432, at_large, inside, 0.03, 30.0)
    assert (found.is_deg > 1.432) == is_steep
    assert abs(found.change_deg) == pytest.approx(math.degrees(0.03 / 60.0), rel=2e-3)
    assert found.uncertainty_deg is None


def test_an_error_below_the_gauge_is_not_told() -> None:
    tangent = math.tan(math.radians(1.432))
    assert not correct_by_two_diameters(1.432, 20.001, 20.0 - 80.0 * tangent, 40.0, 0.005).is_told
    assert correct_by_two_diameters(1.432, 20.1, 20.0 - 80.0 * tangent, 40.0, 0.005).is_told


def test_ways_of_turning() -> None:
    shop = built_in_workshop(Unit.INCH)  # top slide travel 2 1/2 in, swings to 60°
    short, long, steep = Taper(20.0, 18.0, 60.0), Taper(20.0, 18.0, 70.0), Taper(60.0, 0.1, 10.0)
    assert [(m.name, m.fits) for m in methods(short, shop, 200.0)] == [
        ("top slide", True), ("tailstock set-over", True), ("step-off chart", True)]
    unknown = replace(shop, lathe=replace(shop.lathe, tailstock_set_over_mm=None))
    assert methods(short, unknown, 200.0)[1].fits is None
    assert methods(short, unknown, None)[1].fits is False
    assert methods(long, shop, None)[0].fits is False
    assert methods(steep, shop, None)[0].fits is False
    assert [m.name for m in methods(Taper(20.0, 18.0, 60.0, is_inside=True), shop, 200.0)] == ["top slide"]
    with pytest.raises(ValueError, match="make no taper"):
        _ = Taper(20.0, 18.0, 0.0).half_angle_deg
