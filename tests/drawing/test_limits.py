"""Least and greatest over the limits, against closed forms evaluated at every combination."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product
from math import atan, degrees, sqrt

import pytest

from tests.drawing.jobs import part


def every_corner(fn: Callable[..., float], *limits: tuple[float, float]) -> tuple[float, float]:
    found = [fn(*corner) for corner in product(*limits)]
    return min(found), max(found)


def near_cone(ball: float, across: float, small: float, apart: float) -> float:
    """Distance from a ball's centre to where it meets a cone known at the centre and at its small end."""
    r0, r1, big = across / 2, small / 2, ball / 2
    u = (r0 - r1) / apart
    return (r0 * u + sqrt((r0 * u) ** 2 + (1 + u * u) * (big * big - r0 * r0))) / (1 + u * u)


def test_ball_on_cone() -> None:
    found = part(
        ["ball: b", "cone: c"],
        ["b diameter: 20 ± 0.1", "c diameter at b centre: 12 +0.3 -0.1", "c right diameter: 6 +0 -0.2"]
        + ["b centre to c right: 70 ± 1"],
        "b centre to b right",
        "c left diameter",
        "c included angle",
    )
    limits = [(19.9, 20.1), (11.9, 12.3), (5.8, 6.0), (69.0, 71.0)]
    functions = [
        near_cone,
        lambda b, a, s, d: a - (a - s) / d * near_cone(b, a, s, d),
        lambda b, a, s, d: 2 * degrees(atan((a - s) / 2 / d)),
    ]
    for answer, fn in zip(found.answers, functions, strict=True):
        low, high = every_corner(fn, *limits)
        assert answer.low == pytest.approx(low, abs=1e-8)
        assert answer.high == pytest.approx(high, abs=1e-8)


def test_near_a_tangent_the_corners_are_far_from_the_linear_estimate() -> None:
    found = part(
        ["ball: b", "cylinder: s"],
        ["b radius: 10 ± 0.05", "s radius: 9.9 ± 0.05", "overall length: 50 ± 0"],
        "b centre to b right",
    )
    low, high = every_corner(lambda b, s: sqrt(b * b - s * s), (9.95, 10.05), (9.85, 9.95))
    (answer,) = found.answers
    assert answer.high == pytest.approx(high, abs=1e-7)
    assert answer.low == pytest.approx(low, abs=1e-5)  # the last corner is where they just touch
    assert answer.value == pytest.approx(sqrt(100 - 9.9**2), abs=1e-9)


def test_a_given_size_has_its_own_limits_and_a_chain_their_sum() -> None:
    found = part(
        ["cylinder: a1", "cylinder: b1"],
        ["a1 diameter: 10 h7", "b1 diameter: 20", "a1 length: 20 +0.1 -0.3", "overall length: 50 ± 0.2"],
        "b1 length",
        tolerance="± 0.4",
    )
    (answer,) = found.answers
    assert (answer.low, answer.high) == (pytest.approx(29.7), pytest.approx(30.5))
    sizes = {d.phrase: d for d in found.part("it").dimensions}
    assert (sizes["a1 diameter"].low, sizes["a1 diameter"].high) == (pytest.approx(9.985), pytest.approx(10.0))
    assert (sizes["b1 diameter"].low, sizes["b1 diameter"].high) == (pytest.approx(19.6), pytest.approx(20.4))
    assert sizes["a1 length"].mid == pytest.approx(19.9)
    assert sizes["b1 length"].mid == pytest.approx(30.1)
    assert set(sizes["b1 length"].sources) == {"a1 length", "overall length"}


def test_general_tolerance_leaves_angles_tapers_and_same_as_exact() -> None:
    found = part(
        ["cylinder: k", "cone: c", "cylinder: m"],
        ["k diameter: 30", "c taper: 1 in 10", "c left diameter: 20", "c length: 40", "m diameter: half of k diameter"]
        + ["k length: 10", "m length: 0.4"],
        "c right diameter",
        "m diameter",
        tolerance="ISO 2768-1 m",
    )
    right, follower = found.answers
    # between 6 and 30: 0.2; between 30 and 120: 0.3, which on 1 in 10 is 0.03
    assert (right.low, right.high) == (pytest.approx(16 - 0.23), pytest.approx(16 + 0.23))
    assert (follower.low, follower.high) == (pytest.approx(14.9), pytest.approx(15.1))
    assert [(n.id, n.phrases) for n in found.notices] == [("no-general-tolerance", ("m length",))]


def test_follower_keeps_its_own_tolerance_and_moves_with_what_it_follows() -> None:
    found = part(
        ["cylinder: a1", "cylinder: b1"],
        ["a1 diameter: 20 ± 0.1", "a1 length: 10", "b1 length: 10", "b1 diameter: half of a1 diameter + 1 ± 0.02"],
        "b1 diameter",
    )
    (answer,) = found.answers
    assert answer.value == pytest.approx(11)
    assert (answer.low, answer.high) == (pytest.approx(10.93), pytest.approx(11.07))


def test_least_where_the_derivative_changes_sign_inside_the_limits() -> None:
    # centre of an arc over equal shoulders: the deepest place moves either way
    found = part(
        ["cylinder: j", "hollow: h", "cylinder: k"],
        ["j diameter: 20 ± 0.2", "k diameter: 20 ± 0.2", "h radius: 15 ± 0", "h length: 10 ± 0", "j length: 10 ± 0"]
        + ["k length: 10 ± 0"],
        "h diameter at h centre",
    )

    def waist(j: float, k: float) -> float:
        half = sqrt(100 + (k / 2 - j / 2) ** 2) / 2
        up = sqrt(225 - half * half)
        return 2 * ((j + k) / 4 + up * 10 / (2 * half) - 15)

    low, high = every_corner(waist, (19.8, 20.2), (19.8, 20.2))
    (answer,) = found.answers
    assert answer.low == pytest.approx(low, abs=1e-8)
    assert answer.high == pytest.approx(high, abs=1e-8)
