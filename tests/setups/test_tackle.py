"""Collets and bushes to be made: a ball set on two circles, segments that bend, cuts that close, by other ways of reckoning."""

from __future__ import annotations

import math

import pytest
from scipy.integrate import dblquad
from scipy.optimize import brentq

from handwheel.job.records import Unit
from handwheel.setups.tackle import (
    CLOSES_SHARE,
    CUT_MM,
    PIECES,
    SPRUNG_SLOTS,
    SPRUNG_WALL_MM,
    STRAIN,
    ball_collet_for,
    collet_readings,
    slots_mm,
    split_bush_for,
)
from handwheel.workshop.read import built_in_workshop

SHOP = built_in_workshop(Unit.MM)


@pytest.mark.parametrize(("ball", "mouth"), [(12.7, 3.175), (9.5, 1.4), (25.0, 6.25)])
def test_the_ball_rests_on_the_recess_s_corners(ball: float, mouth: float) -> None:
    """Lowered along the axis into a bore with a recess, a ball of the seat's size touches both corners at once."""
    one = ball_collet_for((ball - 0.02, ball), mouth, SHOP)
    bore, wide = one.bore_mm[0] / 2, one.recess_mm[0]
    at = brentq(lambda z: math.hypot(z - 0.0, bore) - math.hypot(z - wide, bore), -ball, ball)
    assert 2 * math.hypot(at, bore) == pytest.approx(ball)
    assert one.lip_mm + at == pytest.approx(mouth)
    assert one.lip_mm >= 0.5
    assert one.takes_mm[0] < ball - 0.02 < ball <= one.takes_mm[1] + 1e-9


def test_what_it_takes_is_where_the_cuts_have_closed_so_far() -> None:
    """The circles' length is shorter by what the cuts close: three of 1 mm, half used."""
    one = ball_collet_for((15.98, 16.0), 4.0, SHOP)
    around = math.pi * one.bore_mm[1] - CLOSES_SHARE * PIECES * CUT_MM
    assert one.takes_mm[0] == pytest.approx(math.sqrt((around / math.pi) ** 2 + one.recess_mm[1] ** 2))
    bush = split_bush_for((9.98, 10.0), 22.0, 20.0, 1, SHOP)
    assert bush.bore_mm[0] == 10.0
    assert math.pi * (bush.bore_mm[1] - bush.takes_mm[0]) == pytest.approx(CLOSES_SHARE * CUT_MM)


def test_slots_by_the_section_integrated() -> None:
    """Centre of area and farthest fibre of the segment's section integrated; a cantilever pushed y at its end bends to a
    strain of 3 c y / L^2 at its root (textbook: M = F L, y = F L^3 / 3 E I)."""
    inner, opens = 6.0, 0.5
    outer, half = inner + SPRUNG_WALL_MM, math.pi / SPRUNG_SLOTS
    area = dblquad(lambda r, a: r, -half, half, inner, outer)[0]
    middle = dblquad(lambda r, a: r * r * math.cos(a), -half, half, inner, outer)[0] / area
    fibres = [outer * math.cos(a) - middle for a in (0.0, half)] + [inner * math.cos(a) - middle for a in (0.0, half)]
    far = max(abs(f) for f in fibres)
    for length, strain in zip(slots_mm(inner, opens), STRAIN[::-1], strict=True):
        force_by_ei = 3.0 * opens / length**3
        assert force_by_ei * length * far == pytest.approx(strain, rel=1e-6)


def test_readings_are_the_wheels() -> None:
    """The metric example workshop: each wheel's lines times its lead comes to the length within half a line."""
    one = ball_collet_for((15.98, 16.0), 4.0, SHOP)
    wanted = (("top slide", one.lip_mm), ("top slide", one.lip_mm + one.recess_mm[0]),
              ("cross slide", (one.recess_bore_mm - one.bore_mm[0]) / 2))  # fmt: skip
    for figure, (slide, travel) in zip(collet_readings(one, SHOP), wanted, strict=True):
        wheel = SHOP.lathe.wheels[slide]
        words = figure.value.replace(" and ", " ").replace(" exactly", "").split()
        turns = float(words[0]) if "turn" in words[1] else 0.0
        rest = words[2 if turns else 0 : -1] if "division" in words[-1] else []
        lines = sum(eval_fraction(word) for word in rest)
        assert (turns + lines / wheel.divisions) * wheel.lead_mm == pytest.approx(travel, abs=wheel.step_mm / 2 + 1e-9)


def eval_fraction(word: str) -> float:
    top, _, low = word.partition("/")
    return float(top) / float(low or 1)


def test_a_mouth_with_no_room_for_a_lip_is_refused() -> None:
    with pytest.raises(ValueError, match="leaves no lip"):
        ball_collet_for((7.98, 8.0), 0.4, SHOP)
