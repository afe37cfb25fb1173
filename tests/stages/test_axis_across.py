"""Axes across the part's own: closed forms of the ball and the bar, and points drawn at random on the surface."""

import math

import numpy as np
import pytest

from handwheel.stages.axis import (
    Axis,
    between_axes,
    leaves_at,
    metal_between,
    outside_outline,
    reaches_along,
    swept_radius,
    to_bore,
)
from handwheel.stages.records import Section


def ball(radius: float) -> Section:
    t = np.linspace(0.0, math.pi, 6001)
    return Section(np.column_stack([-radius * np.cos(t), radius * np.sin(t)]), np.array([[-radius, 0.0], [radius, 0.0]]))


def bar(left: float, right: float, radius: float, bore: float = 0.0) -> Section:
    return Section(np.array([[left, radius], [right, radius]]), np.array([[left, bore], [right, bore]]))


@pytest.mark.parametrize("lean", [0.0, 18.0, -35.0, 80.0])
def test_a_ball_is_left_at_its_radius_whatever_the_lean(lean):
    outline = outside_outline(ball(11.0))
    assert leaves_at(outline, Axis(0.0, lean, 40.0)) == pytest.approx(11.0, abs=1e-5)
    assert leaves_at(outline, Axis(0.0, lean, 40.0), -1.0) == pytest.approx(11.0, abs=1e-5)


@pytest.mark.parametrize("lean", [0.0, 20.0, -20.0, 60.0])
def test_a_bar_is_left_on_the_slant(lean):
    outline = outside_outline(bar(-100.0, 100.0, 5.0))
    assert leaves_at(outline, Axis(0.0, lean)) == pytest.approx(5.0 / math.cos(math.radians(lean)))


def test_a_short_bar_is_left_by_its_face():
    assert leaves_at(outside_outline(bar(-100.0, 2.0, 50.0)), Axis(0.0, 30.0)) == pytest.approx(2.0 / math.sin(math.radians(30)))


@pytest.mark.parametrize(("flat", "hole"), [(8.4853, 4.0), (5.0, 6.0)])
def test_wall_at_the_mouth_in_a_flat_of_a_ball(flat, hole):
    # domain: R - sqrt(q² + (d/2)²)
    found = metal_between(Axis(0.0, 18.0, 70.0).circle(flat, hole), ball(11.0))
    assert found == pytest.approx(11.0 - math.hypot(flat, hole), abs=1e-5)


def test_what_lies_outside_is_below_nothing():
    assert metal_between(Axis(0.0).circle(10.5, 6.0), ball(11.0)) == pytest.approx(11.0 - math.hypot(10.5, 6.0), abs=1e-5)


def test_wall_behind_a_point_in_a_bar():
    assert metal_between(Axis(0.0).circle(-3.0, 0.0), bar(-50.0, 50.0, 5.0)) == pytest.approx(2.0)


def test_wall_to_a_bore():
    section = bar(-50.0, 50.0, 10.0, 3.0)
    assert to_bore(Axis(0.0).circle(5.5, 0.0), section) == pytest.approx(2.5)
    assert to_bore(Axis(0.0).circle(2.0, 0.0), section) == pytest.approx(-1.0)
    assert to_bore(Axis(0.0).circle(2.0, 0.0), bar(-50.0, 50.0, 10.0)) == math.inf


@pytest.mark.parametrize(("lean", "centre"), [(0.0, 3.0), (25.0, 3.0), (-40.0, 20.0), (75.0, 0.0)])
def test_what_is_swept_against_points_of_the_surface(lean, centre):
    left, right, radius = -10.0, 50.0, 5.0
    axis = Axis(centre, lean, 33.0)
    around = np.linspace(0.0, 2.0 * math.pi, 7201)
    rims = [np.column_stack([np.full_like(around, z - centre), radius * np.cos(around), radius * np.sin(around)])
            for z in (left, right)]
    points = np.vstack(rims)
    lean_rad, turn = math.radians(lean), math.radians(33.0)
    n = np.array([math.sin(lean_rad), math.cos(lean_rad) * math.cos(turn), math.cos(lean_rad) * math.sin(turn)])
    along = points @ n
    across = np.sqrt((points**2).sum(axis=1) - along**2)
    assert swept_radius(bar(left, right, radius), axis) == pytest.approx(across.max(), abs=1e-5)
    assert reaches_along(bar(left, right, radius), axis) == pytest.approx((along.min(), along.max()), abs=1e-5)


def test_axes_apart():
    assert between_axes(Axis(0.0), Axis(7.0)) == pytest.approx(7.0)
    assert between_axes(Axis(0.0, 0.0, 0.0), Axis(7.0, 0.0, 90.0)) == pytest.approx(7.0)
    assert between_axes(Axis(5.0, 20.0, 0.0), Axis(5.0, -10.0, 90.0)) == pytest.approx(0.0)
