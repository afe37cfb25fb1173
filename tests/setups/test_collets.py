"""A ball-holding collet: its segments moved until they clear the ball, and a shank tilted until it touches."""

from __future__ import annotations

import math

import pytest
from scipy.optimize import brentq
from shapely.affinity import rotate
from shapely.geometry import Point, box

from handwheel.setups.collets import most_tilt_deg, mouth_radius_mm, opening_mm


@pytest.mark.parametrize("slots", [2, 3, 4, 6])
@pytest.mark.parametrize("latitude", [15.0, 30.0, 40.0])
def test_each_segment_clears_the_ball_just_so(slots: int, latitude: float) -> None:
    radius, lip = 10.0, 10.0 * math.sin(math.radians(latitude))
    mouth = 10.0 * math.cos(math.radians(latitude))
    half = math.pi / slots

    def nearest(moved: float) -> float:
        angles = [-half + half * k / 50 for k in range(101)]
        return min(math.hypot(mouth * math.cos(a) + moved, mouth * math.sin(a)) for a in angles) - radius

    assert mouth_radius_mm(radius, lip) == pytest.approx(mouth)
    assert opening_mm(radius, lip, slots) == pytest.approx(brentq(nearest, 0.0, 20.0, xtol=1e-12), abs=1e-9)


def test_three_slots_need_more_and_many_as_much_as_the_simple_sum() -> None:
    simple = 10.0 * (1 - math.cos(math.radians(30.0)))
    assert opening_mm(10.0, 5.0, 3) / simple == pytest.approx(1.7, abs=0.05)
    assert opening_mm(10.0, 5.0, 400) == pytest.approx(simple, rel=1e-3)


def test_a_shank_tilted_until_it_touches() -> None:
    """The shank's section about the ball's centre, against the mouth's outer corner, by shapely."""
    tilt = most_tilt_deg(4.0, 8.0, 6.0)
    corner = Point(6.0, 8.0)
    assert rotate(box(0.0, -4.0, 50.0, 4.0), tilt, origin=(0, 0)).distance(corner) == pytest.approx(0.0, abs=1e-9)
    assert rotate(box(0.0, -4.0, 50.0, 4.0), tilt - 0.1, origin=(0, 0)).distance(corner) > 0.005


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="does not hold a ball"):
        mouth_radius_mm(10.0, 10.0)
    with pytest.raises(ValueError, match="saw two at least"):
        opening_mm(10.0, 5.0, 1)
    with pytest.raises(ValueError, match="does not pass a mouth"):
        most_tilt_deg(9.0, 8.0, 6.0)
