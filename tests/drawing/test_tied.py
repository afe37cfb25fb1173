"""Many parts tied into one: every junction against its own quadratic, every limit against its corners."""

from __future__ import annotations

from itertools import product
from math import sqrt

import pytest

from handwheel.drawing.records import Drawing, State
from tests.drawing.jobs import sized

LINKS = 15
FIFTH = 5


def stack(tolerance: str) -> str:
    """Links seated one on another, tenon and socket all of one size, every fifth length given over five links."""
    lines = ["handwheel: 1", "job: stack", "units: mm", f"general tolerance: ± {tolerance}", "parts:"]
    for n in range(LINKS):
        lines += [
            f"  link-{n}:",
            "    outside: [{cylinder: body}, {cone: shank}, {ball: knob, flat: right}, {cylinder: tenon}]",
            "    inside: {from left: [{bore: socket}]}",
            "    dimensions:",
            f"      body diameter: {20 + n / 10}",
            "      body length: 8",
            f"      shank left diameter: {16 + n / 10}",
            "      shank diameter at knob centre: 10",
            f"      knob diameter: {15 + n / 50}",
            "      knob right diameter: 11",
            f"      tenon diameter: {f'same as tenon diameter of link-{n - 1}' if n else '7.5'}",
            "      tenon length: 6",
            "      socket depth: 6.2",
            f"      socket diameter: {f'same as tenon diameter of link-{n - 1} + 0.1' if n else '7.6'}",
        ]
        if n % FIFTH != FIFTH - 1:
            lines.append(f"      body right to knob centre: {25 + n / 10}")
    lines += ["assemblies:", "  stack:", "    seats:"]
    lines += [f"      - body left of link-{n} on knob right of link-{n - 1}" for n in range(1, LINKS)]
    lines.append("    dimensions:")
    lines += [
        f"      body left of link-{n - FIFTH + 1} to knob centre of link-{n}: {190 + n / 5}"
        for n in range(FIFTH - 1, LINKS, FIFTH)
    ]
    return "\n".join(lines) + "\n"


def advance(reach: float, ball: float, flat: float, body: float = 8.0) -> float:
    """From a link's left to the next one's: body, knob centre, and the flat beyond it."""
    return body + reach + sqrt((ball / 2) ** 2 - (flat / 2) ** 2)


def junction(reach: float, left: float, at_centre: float, ball: float) -> float:
    """From the body's right to where the shank meets the knob, the meeting on the shank's side of the centre."""
    slope = (at_centre - left) / 2.0 / reach
    # (z - reach)² + (left/2 + slope z)² = (ball/2)²
    a, b = 1.0 + slope**2, 2.0 * (slope * left / 2.0 - reach)
    c = reach**2 + (left / 2.0) ** 2 - (ball / 2.0) ** 2
    return (-b - sqrt(b * b - 4.0 * a * c)) / (2.0 * a)


@pytest.fixture(scope="module")
def drawing() -> Drawing:
    return sized(stack("0.05"))


def reaches(n: int) -> float:
    if n % FIFTH != FIFTH - 1:
        return 25 + n / 10
    before = sum(advance(25 + k / 10, 15 + k / 50, 11.0) for k in range(n - FIFTH + 1, n))
    return 190 + n / 5 - before - 8.0


def test_every_link_is_solved_whatever_it_hangs_on(drawing: Drawing) -> None:
    assert drawing.state is State.FULLY_DIMENSIONED
    assert len(drawing.parts) == LINKS
    for n, part in enumerate(drawing.parts):
        shank, knob = part.feature("shank"), part.feature("knob")
        assert knob.centre == pytest.approx(8.0 + reaches(n), abs=1e-8)
        wanted = 8.0 + junction(reaches(n), 16 + n / 10, 10.0, 15 + n / 50)
        assert shank.right == pytest.approx(wanted, abs=1e-8)
        assert part.feature("tenon").left_radius == pytest.approx(3.75)


def test_where_each_link_lies(drawing: Drawing) -> None:
    (assembly,) = drawing.assemblies
    at = 0.0
    for n in range(LINKS):
        assert assembly.left_end[f"link-{n}"] == pytest.approx(at, abs=1e-7)
        at += advance(reaches(n), 15 + n / 50, 11.0)


def test_limits_of_a_link_by_itself_at_its_own_corners(drawing: Drawing) -> None:
    part = drawing.parts[7]
    (length,) = (d for d in part.dimensions if d.phrase == "shank length")
    t = 0.05
    ends = [
        junction(25.7 + a * t, 16.7 + b * t, 10.0 + c * t, 15.14 + d * t) for a, b, c, d in product((-1, 1), repeat=4)
    ]
    assert (length.low, length.high) == pytest.approx((min(ends), max(ends)), abs=1e-8)


def test_limits_of_a_length_that_hangs_on_four_other_links(drawing: Drawing) -> None:
    part = drawing.parts[9]
    (reach,) = (d for d in part.dimensions if d.phrase == "left end to knob centre")
    t = 0.05
    spread = []
    for sign in (-1, 1):
        # the length over all one way, every other link's advance the other way: bodies and reaches, ball and flat
        before = sum(
            advance(25 + k / 10 - sign * t, 15 + k / 50 - sign * t, 11.0 + sign * t, 8.0 - sign * t)
            for k in range(5, 9)
        )
        spread.append(190 + 9 / 5 + sign * t - before)
    assert (reach.low, reach.high) == pytest.approx(tuple(spread), abs=1e-8)
    assert "tenon length of link-5" not in reach.sources
    assert "knob diameter of link-5" in reach.sources
