"""A mistake put into the set-up, measured on what it cut, and mended by what is told: the part comes inside limits.

The metal is kept as all the cuts made into it: at each station the least of them. The gauges read within their error,
even spread. Every sign of every mistake is drawn, and a first wrong guess of the way is part of it.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from handwheel.setups.form import BallMeasures, BallSetting, Way, cut_radius_mm
from handwheel.setups.inverse import ball_errors, which_way
from handwheel.setups.tapercorrect import correct_by_two_diameters

WANTED, HALF_LIMIT, GAUGE = 10.0, 0.0125, 0.002
ERRORS = dict.fromkeys(("equator", "near", "far", "pole", "pip"), GAUGE)
STATIONS = np.linspace(-7.4, 9.8, 173)


class Ball:
    """A ball being cut. What is measured is read off the metal, not off the setting."""

    def __init__(self, rng: np.random.Generator) -> None:
        self.cuts: list[BallSetting] = []
        self.rng = rng

    def radius(self, z: float) -> float:
        radii = (cut_radius_mm(cut, z) for cut in self.cuts)
        return min(radius for radius in radii if radius is not None)

    def cut(self, setting: BallSetting) -> BallMeasures:
        self.cuts.append(setting)
        equator = max(self.radius(float(z)) for z in np.linspace(-0.4, 0.4, 801))
        near, far = (self.radius(side * math.sqrt(0.5) * WANTED) for side in (-1.0, 1.0))
        h, e = setting.height_mm, setting.cross_mm
        pole = setting.centre_mm + math.sqrt(setting.radius_mm**2 - h**2)
        if setting.way is Way.ABOVE and h > 0:
            pole, e = setting.centre_mm + setting.radius_mm, math.hypot(e, h)
        exact = (2 * equator, 2 * near, 2 * far, pole, 2 * abs(e))
        return BallMeasures(*(value + self.rng.uniform(-GAUGE, GAUGE) for value in exact))

    def worst(self) -> float:
        """How far the metal stands off the wanted sphere anywhere, on the radius."""
        return max(abs(math.hypot(self.radius(float(z)), z) - WANTED) for z in STATIONS)


@pytest.mark.parametrize(("high", "beside", "along"), [*product((0.06, -0.06), (0.05, -0.05), (0.08, -0.08))])
def test_a_ball_swung_above_and_below(high: float, beside: float, along: float) -> None:
    """The way of height and cross slide is guessed as +, and put right by the second measurement."""
    ball = Ball(np.random.default_rng([int(1000 * v) + 500 for v in (high, beside, along)]))
    setting = BallSetting(10.5, high, beside, 0.0, along)
    first = ball_errors(ball.cut(setting), WANTED, ERRORS)
    assert first.height is not None
    assert first.cross is not None
    assert first.centre is not None
    setting = replace(
        setting, radius_mm=10.3, height_mm=high - first.height.mm, cross_mm=beside - first.cross.mm,
        centre_mm=along - first.centre.mm)  # fmt: skip
    second = ball_errors(ball.cut(setting), WANTED, ERRORS)
    assert second.height is not None
    assert second.cross is not None
    assert second.radius is not None
    height, cross = which_way(first.height, second.height, first.height.mm), which_way(first.cross, second.cross, first.cross.mm)
    assert (height.was_right, cross.was_right) == (high > 0, beside > 0)
    setting = replace(
        setting, height_mm=setting.height_mm - height.go_on_mm, cross_mm=setting.cross_mm - cross.go_on_mm,
        radius_mm=setting.radius_mm - (second.radius.mm - WANTED))  # fmt: skip
    ball.cut(setting)
    assert ball.worst() < HALF_LIMIT
    assert abs(setting.cross_mm) < 0.01


@pytest.mark.parametrize(("high", "along"), [*product((0.06, -0.06), (0.08, -0.08))])
def test_a_ball_swung_from_above_tells_which_way_at_once(high: float, along: float) -> None:
    ball = Ball(np.random.default_rng([int(1000 * v) + 500 for v in (high, along)]))
    setting = BallSetting(10.3, high, 0.0, 0.0, along, Way.ABOVE)
    first = ball_errors(ball.cut(setting), WANTED, ERRORS, Way.ABOVE)
    assert first.height is not None
    assert first.radius is not None
    assert first.centre is not None
    ball.cut(replace(
        setting, height_mm=high - first.height.mm, centre_mm=along - first.centre.mm,
        radius_mm=10.3 - (first.radius.mm - WANTED)))  # fmt: skip
    assert ball.worst() < HALF_LIMIT


@pytest.mark.parametrize("mistake", [{"height_mm": 0.06}, {"height_mm": -0.06}, {"centre_mm": 0.08}, {"centre_mm": -0.08}])
def test_unmended_the_same_mistakes_are_outside(mistake: dict[str, float]) -> None:
    ball = Ball(np.random.default_rng(1))
    ball.cut(BallSetting(10.0, **mistake))
    assert ball.worst() > HALF_LIMIT


LARGE, SMALL, LENGTH = 20.0, 17.0, 45.0
ANGLE = math.degrees(math.atan((LARGE - SMALL) / 2 / LENGTH))


class Taper:
    """A taper being turned by the top slide, z from the small end; the blank is the large end's size and a little."""

    def __init__(self, rng: np.random.Generator, height: float) -> None:
        self.rng, self.height = rng, height
        self.cuts: list[tuple[float, float]] = []

    def radius(self, z: float) -> float:
        """At each station the least that was left; the tool's path lies at its own height."""
        plane = min(small + z * math.tan(math.radians(angle)) for small, angle in self.cuts)
        return min(math.hypot(plane, self.height), LARGE / 2 + 0.5)

    def measured(self, z: float) -> float:
        return 2 * self.radius(z) + self.rng.uniform(-GAUGE, GAUGE)


@pytest.mark.parametrize("off", [0.15, -0.15, 0.03, -0.03])
@pytest.mark.parametrize("height", [0.0, 0.15, -0.15])
def test_a_taper_set_wrong(off: float, height: float) -> None:
    """Measured near both ends with metal on, corrected, and finished by the small end: both ends inside 0.01 mm."""
    taper = Taper(np.random.default_rng([int(1000 * off) + 500, int(1000 * height) + 500]), height)
    angle = ANGLE + off
    taper.cuts.append((SMALL / 2 + 0.35, angle))
    near, far = 2.0, 38.0
    told = correct_by_two_diameters(ANGLE, taper.measured(far), taper.measured(near), far - near, GAUGE)
    angle += told.change_deg
    taper.cuts.append((SMALL / 2 + 0.1, angle))
    over = taper.measured(near) - (SMALL + 2 * near * math.tan(math.radians(ANGLE)))
    taper.cuts.append((taper.cuts[-1][0] - over / 2, angle))
    assert 2 * taper.radius(0.0) == pytest.approx(SMALL, abs=0.01)
    assert 2 * taper.radius(LENGTH) == pytest.approx(LARGE, abs=0.01)
    middle = SMALL / 2 + LENGTH / 2 * math.tan(math.radians(ANGLE))
    assert taper.radius(LENGTH / 2) == pytest.approx(middle, abs=0.005)


@pytest.mark.parametrize("off", [0.15, -0.15, 0.03, -0.03])
def test_unmended_the_same_taper_is_outside(off: float) -> None:
    taper = Taper(np.random.default_rng(1), 0.0)
    taper.cuts.append((SMALL / 2, ANGLE + off))
    assert abs(2 * taper.radius(LENGTH) - LARGE) > 0.01
