"""Statistical limits and shares against a general error-propagation library, from closed forms written out here."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import pytest
from uncertainties import ufloat, umath

from tests.drawing.jobs import part


def given(value: float, upper: float, lower: float) -> Any:
    """A size between limits: its mid-limit, three standard deviations to either limit."""
    return ufloat(value + (upper + lower) / 2, (upper - lower) / 6)


def near(ball: Any, across: Any, small: Any, apart: Any) -> Any:
    """From a ball's centre to where it meets a cone known there and at its small end."""
    r0, r1, big = across / 2, small / 2, ball / 2
    u = (r0 - r1) / apart
    return (r0 * u + umath.sqrt((r0 * u) ** 2 + (1 + u * u) * (big * big - r0 * r0))) / (1 + u * u)


BALL_AND_CONE = (
    ["ball: b", "cone: c"],
    ["b diameter: 20 ± 0.1", "c diameter at b centre: 12 +0.3 -0.1", "c right diameter: 6 +0 -0.2"]
    + ["b centre to c right: 70 ± 1"],
    (given(20, 0.1, -0.1), given(12, 0.3, -0.1), given(6, 0, -0.2), given(70, 1, -1)),
    {
        "b centre to b right": near,
        "c left diameter": lambda b, a, s, d: a - (a - s) / d * near(b, a, s, d),
        "c included angle": lambda b, a, s, d: umath.degrees(2 * umath.atan((a - s) / 2 / d)),
        "overall length": lambda b, a, s, d: b / 2 + d,
        "b right to c right": lambda b, a, s, d: d - near(b, a, s, d),
        "left end to c apex": lambda b, a, s, d: b / 2 + a * d / (a - s),
        "c diameter at b left": lambda b, a, s, d: a + (a - s) / d * b / 2,
    },
)
STEPS = (
    ["cylinder: c", "cylinder: d", "cylinder: e"],
    ["c diameter: 20", "d diameter: 12", "e diameter: 8", "overall length: 60 +0.2 -0", "c length: 20 ± 0.05"]
    + ["e length: 15 +0 -0.1"],
    (given(60, 0.2, 0), given(20, 0.05, -0.05), given(15, 0, -0.1)),
    {
        "d length": lambda o, c, e: o - c - e,
        "c right to right end": lambda o, c, e: o - c,
        "c middle to e middle": lambda o, c, e: o - c / 2 - e / 2,
    },
)
HOLLOW = (
    ["cylinder: c", "hollow: h", "cylinder: d"],
    ["c diameter: 16 ± 0.05", "d diameter: 20 ± 0.05", "h radius: 12 ± 0.1", "h centre to c left: 30 ± 0.1"]
    + ["left end to h left: 24 ± 0.1", "overall length: 70 ± 0.3"],
    (given(16, 0.05, -0.05), given(20, 0.05, -0.05), given(12, 0.1, -0.1), given(30, 0.1, -0.1), given(24, 0.1, -0.1)),
    {
        # the centre lies `out` from the axis: out = r + sqrt(R^2 - gap^2)
        "h right to h centre": lambda c, d, h, z, s: umath.sqrt(
            h * h - (c / 2 + umath.sqrt(h * h - (z - s) ** 2) - d / 2) ** 2
        ),
    },
)


@pytest.mark.parametrize("case", [BALL_AND_CONE, STEPS, HOLLOW], ids=["ball and cone", "steps", "hollow"])
def test_statistical_limits(
    case: tuple[Sequence[str], list[str], Sequence[Any], dict[str, Callable[..., Any]]],
) -> None:
    outside, dimensions, sizes, asks = case
    dimensions = [d.replace("h centre to c left", "c left to h centre") for d in dimensions]
    found = part(outside, [d if "±" in d or "+" in d else d + " ± 0" for d in dimensions], *asks)
    assert not found.faults, [f.line() for f in found.faults]
    for answer, (ask, fn) in zip(found.answers, asks.items(), strict=True):
        expected = fn(*sizes)
        spread = 3 * expected.std_dev
        assert answer.statistical_low is not None
        assert answer.statistical_high is not None
        assert answer.statistical_low == pytest.approx(expected.nominal_value - spread, abs=1e-8), ask
        assert answer.statistical_high == pytest.approx(expected.nominal_value + spread, abs=1e-8), ask
        assert answer.low - 1e-9 <= answer.statistical_low <= answer.statistical_high <= answer.high + 1e-9


@pytest.mark.parametrize("case", [BALL_AND_CONE, STEPS], ids=["ball and cone", "steps"])
def test_shares_of_the_spread(
    case: tuple[Sequence[str], list[str], Sequence[Any], dict[str, Callable[..., Any]]],
) -> None:
    outside, dimensions, sizes, asks = case
    found = part(outside, [d if "±" in d or "+" in d else d + " ± 0" for d in dimensions], *asks)
    names = [d.split(":")[0] for d in dimensions if "±" in d or "+" in d]
    for answer, fn in zip(found.answers, asks.values(), strict=True):
        expected = fn(*sizes).error_components()
        parts = {n: 6 * expected.get(s, 0.0) for n, s in zip(names, sizes, strict=True)}
        whole = sum(parts.values())
        wanted = {n: 100 * p / whole for n, p in parts.items() if p > 1e-12}
        said = {c.phrase: c.percent for c in answer.contributors}
        assert said == pytest.approx(wanted, abs=1e-5)
        in_order = [c.share for c in answer.contributors]
        assert in_order == sorted(in_order, reverse=True)
