"""Turns and divisions, checked by exact arithmetic with fractions and by facts of the trade."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handwheel.readings.dial import ball_wheel, dial, greatest_error_mm, unit_of
from handwheel.workshop.records import BallTool, Handwheel

INCH = 25.4


def wheel(lead_mm: float, divisions: int, smallest: float = 1.0, reads: str = "radius") -> Handwheel:
    return Handwheel("cross slide", lead_mm, divisions, reads, smallest, "clockwise in")


def ball_tool(worked_by: str, divisions: int, smallest: float) -> BallTool:
    return BallTool("ball tool", 0.025 * INCH, worked_by, divisions, smallest, ((3.0, 20.0),), 4.76, 30.0, 12.0)


# Common practice, no source: a ball tool's screw that advances 0.025 in a turn.
def test_quarter_turn_of_the_ball_tool_takes_twelve_and_a_half_thou_off_the_diameter():
    by_quarters = ball_wheel(ball_tool("divisions", 4, 1.0))
    turns, divisions, moves_mm = dial(0.00625 * INCH, by_quarters)
    assert (turns, divisions) == (0, 1.0)
    assert moves_mm / INCH * 2 == pytest.approx(0.0125, abs=5e-9)


def test_one_flat_of_a_hexagon_key_takes_8_3_thou_off_the_diameter():
    by_flats = ball_wheel(ball_tool("flats", 6, 1.0))
    turns, flats, moves_mm = dial(0.0083 / 2 * INCH, by_flats)
    assert (turns, flats, unit_of(by_flats)) == (0, 1.0, "flat")
    assert moves_mm / INCH * 2 == pytest.approx(0.0083, abs=0.00005)  # half the last digit of 8.3 thou


@pytest.mark.parametrize(
    ("travel_mm", "lead_mm", "lines", "smallest", "expected"),
    [
        (0.235 * INCH, 0.1 * INCH, 100, 1.0, (2, 35.0)),  # 2 x 100 thou and 35
        (0.2355 * INCH, 0.1 * INCH, 100, 0.5, (2, 35.5)),
        (2.999, 1.0, 50, 1.0, (3, 0.0)),  # nearer the full turn than line 49: carried
        (21.99 * 1.5, 21.99, 100, 1.0, (1, 50.0)),  # a bed wheel of an odd lead
        (0.040 * INCH, 0.040 * INCH, 50, 1.0, (1, 0.0)),  # 50 lines fitted to a 40-thou screw:
        (0.001 * INCH, 0.040 * INCH, 50, 0.5, (0, 1.0)),  # one thou is 1 1/4 of its lines, nearest half: 1 or 1 1/2
        (0.0, 2.5, 125, 1.0, (0, 0.0)),
    ],
)
def test_worked_by_hand(travel_mm, lead_mm, lines, smallest, expected):
    assert dial(travel_mm, wheel(lead_mm, lines, smallest))[:2] == expected


def test_fifty_lines_on_a_forty_thou_screw_do_not_read_thou():
    turns, divisions, moves_mm = dial(0.010 * INCH, wheel(0.040 * INCH, 50, 0.5))
    assert (turns, divisions) == (0, 12.5)  # not 10
    assert moves_mm == pytest.approx(0.010 * INCH, abs=1e-12)


def test_a_diameter_reading_collar_has_the_same_lines():
    for travel_mm in (0.3, 1.234, 7.0):
        assert dial(travel_mm, wheel(2.0, 100, reads="diameter")) == dial(travel_mm, wheel(2.0, 100))


def test_a_smallest_part_that_does_not_go_into_a_turn_starts_again_at_its_zero():
    odd = wheel(1.0, 10, 3.0)  # lines 0 3 6 9, then 0 again
    assert dial(0.94, odd)[:2] == (0, 9.0)
    assert dial(0.96, odd)[:2] == (1, 0.0)
    assert dial(1.29, odd)[:2] == (1, 3.0)


@pytest.mark.parametrize("travel_mm", [-0.1, math.nan, math.inf])
def test_what_cannot_be_dialled_is_said(travel_mm):
    with pytest.raises(ValueError, match="cannot be dialled"):
        dial(travel_mm, wheel(1.0, 50))


LEADS = [Fraction("2.5"), Fraction("21.99"), Fraction("2.54"), Fraction("25.4") * Fraction(40, 1000), Fraction("19.28")]


@given(
    travel=st.fractions(min_value=0, max_value=300, max_denominator=10_000),
    lead=st.sampled_from(LEADS),
    lines=st.sampled_from([4, 6, 40, 50, 100, 125, 250]),
    smallest=st.sampled_from([Fraction(1), Fraction(1, 2), Fraction(1, 4), Fraction(1, 10)]),
)
def test_following_the_wheel_arrives_within_half_a_smallest_part(travel, lead, lines, smallest):
    turns, divisions, moves_mm = dial(float(travel), wheel(float(lead), lines, float(smallest)))
    assert isinstance(turns, int)
    assert turns >= 0
    assert 0 <= divisions < lines
    followed = lead * turns + lead * Fraction(divisions).limit_denominator(1000) / lines
    assert abs(followed - travel) <= lead / lines * smallest / 2 + Fraction(1, 10**9)
    assert abs(float(followed) - moves_mm) < 1e-9
    assert abs(moves_mm - float(travel)) <= greatest_error_mm(wheel(float(lead), lines, float(smallest))) + 1e-9
    parts = Fraction(divisions).limit_denominator(1000) / smallest
    assert parts.denominator == 1
