"""Envelopes against plain evaluation point by point, and crossings in closed form."""

import bisect
import random

import numpy as np
import pytest

from handwheel.stages.envelope import clip, lower, polyline, radius_at, simplify, upper


def random_steps(rng: random.Random, start: float, end: float) -> list[tuple[float, float]]:
    stations = sorted(rng.uniform(start, end) for _ in range(rng.randint(1, 9)))
    points = [(start, rng.uniform(0, 10))]
    for z in stations:
        points.append((z, rng.uniform(0, 10)))
        if rng.random() < 0.4:
            points.append((z, rng.uniform(0, 10)))
    return [*points, (end, rng.uniform(0, 10))]


def value(points: list[tuple[float, float]], z: float) -> float | None:
    """Plain interpolation at a station that is not one of the points' own."""
    index = bisect.bisect_left([p[0] for p in points], z)
    if index in (0, len(points)):
        return None
    (z0, r0), (z1, r1) = points[index - 1], points[index]
    return r0 + (r1 - r0) * (z - z0) / (z1 - z0)


@pytest.mark.parametrize("seed", range(40))
def test_pointwise_least_and_greatest(seed: int) -> None:
    rng = random.Random(seed)
    a = random_steps(rng, 0.0, rng.uniform(3.0, 10.0))
    b = random_steps(rng, rng.uniform(-2.0, 2.5), rng.uniform(3.0, 12.0))
    least = [tuple(p) for p in lower(polyline(a), polyline(b)).tolist()]
    greatest = [tuple(p) for p in upper(polyline(a), polyline(b)).tolist()]
    for _ in range(300):
        z = rng.uniform(-3.0, 13.0)
        known = [r for r in (value(a, z), value(b, z)) if r is not None]
        assert value(least, z) == (pytest.approx(min(known), abs=1e-6) if known else None)
        assert value(greatest, z) == (pytest.approx(max(known), abs=1e-6) if known else None)


def test_crossing_is_exact() -> None:
    rise, fall = polyline([[0, 0], [3, 1]]), polyline([[0, 1], [3, 0.5]])
    # z/3 = 1 - z/6 at z = 2, r = 2/3
    np.testing.assert_allclose(lower(rise, fall), [[0, 0], [2, 2 / 3], [3, 0.5]], atol=1e-15)
    np.testing.assert_allclose(upper(rise, fall), [[0, 1], [2, 2 / 3], [3, 1]], atol=1e-15)


def test_a_step_is_kept_and_a_spike_is_not_metal() -> None:
    stepped = polyline([[0, 2], [1, 2], [1, 9], [1, 5], [4, 5]])
    np.testing.assert_array_equal(lower(stepped, polyline([[0, 7], [4, 7]])), [[0, 2], [1, 2], [1, 5], [4, 5]])


def test_radius_at_a_step_from_either_side() -> None:
    stepped = polyline([[0, 2], [1, 2], [1, 5], [4, 8]])
    assert radius_at(stepped, 1.0, "left") == 2.0
    assert radius_at(stepped, 1.0, "right") == 5.0
    assert radius_at(stepped, 2.0, "left") == radius_at(stepped, 2.0, "right") == pytest.approx(6.0)
    assert radius_at(stepped, 0.0, "left") == 2.0
    assert radius_at(stepped, 4.0, "right") == 8.0
    assert radius_at(stepped, 4.1, "right") == 0.0


def test_clip_cuts_slopes_where_they_are() -> None:
    np.testing.assert_allclose(clip(polyline([[0, 0], [4, 8]]), 1, 3), [[1, 2], [3, 6]], atol=1e-15)
    assert len(clip(polyline([[0, 0], [4, 8]]), 5, 6)) == 0


def test_simplify_drops_repeats_and_straights_only() -> None:
    points = polyline([[0, 1], [0, 1], [1, 1], [2, 1], [2, 3], [3, 4], [4, 5]])
    np.testing.assert_array_equal(simplify(points), [[0, 1], [2, 1], [2, 3], [4, 5]])


def test_simplify_does_not_straighten_a_slow_bend() -> None:
    # a curve so shallow that every point lies within 1e-9 of its neighbours' chord, yet 1e-6 from the whole chord
    z = np.linspace(0.0, 1.0, 201)
    bend = np.column_stack([z, 4e-6 * z * (1.0 - z)])
    kept = simplify(bend)
    assert np.abs(np.interp(z, kept[:, 0], kept[:, 1]) - bend[:, 1]).max() < 2e-9
