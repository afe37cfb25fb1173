import pytest
from bench_for_readings import HUB, a_workshop, cross, operation, plan
from hypothesis import given
from hypothesis import strategies as st

from handwheel.job.records import Unit
from handwheel.plan.records import Makes, Move
from handwheel.readings.of import readings_of
from handwheel.workshop.records import BallTool, Handwheel

MM = 25.4


def only(moves, workshop):
    (reading,) = readings_of(plan(operation(10, *moves)), workshop)["pin", 10]
    return reading


def test_a_whole_sentence_in_the_order_of_the_hand():
    reading = only([HUB], a_workshop(wheels={"cross slide": cross(sense="")}))
    assert reading.text == (
        "Cross slide in 2 turns and 35 divisions from zero touched on the blank: "
        "Ø 0.5625 in (14.288 mm), hub diameter, "
        "cut between Ø 0.5615 and Ø 0.5630 in (14.263 and 14.300 mm), check with the micrometer."
    )
    assert (reading.turns, reading.divisions, reading.unit) == (2, 35.0, "division")


def test_the_sense_of_the_wheel_is_said_when_known():
    assert ", clockwise, 2 turns" in only([HUB], a_workshop(wheels={"cross slide": cross()})).text
    other = a_workshop(wheels={"cross slide": cross(sense="clockwise out")})
    assert ", anticlockwise, 2 turns" in only([HUB], other).text


def test_move_made_and_error_are_carried():
    reading = only([HUB], a_workshop(wheels={"cross slide": cross()}))
    assert reading.exact_mm == HUB.exact_mm
    assert reading.moves_mm == pytest.approx(0.235 * MM, abs=1e-9)
    assert reading.error_mm == pytest.approx(-0.0002 * MM, abs=1e-9)
    # 0.2 thou short on the radius leaves the diameter 0.4 thou over: 0.5629, inside 0.5630
    assert reading.note == "The nearest line makes Ø 0.5629 in (14.298 mm)."


def test_a_line_outside_the_working_limits_is_said():
    makes = Makes("tenon diameter", 0.1560 * MM, 0.1558 * MM, 0.1562 * MM, True)
    coarse = a_workshop(wheels={"cross slide": cross()})
    reading = only([Move("cross slide", "in", "touched", 0.0504 * MM, makes)], coarse)
    assert "makes Ø 0.1568 in" in reading.note  # by hand: 0.4 thou short on the radius, 0.8 over on the diameter
    assert "outside the working limits" in reading.note


def test_boring_outward_errs_the_other_way():
    makes = Makes("bore diameter", 0.5000 * MM, None, None, True)
    workshop = a_workshop(wheels={"cross slide": cross()})
    reading = only([Move("cross slide", "out", "touched", 0.0203 * MM, makes)], workshop)
    assert "makes Ø 0.4994 in" in reading.note  # 0.3 thou short on the radius leaves the bore 0.6 thou small


def test_metric_shop_says_millimetres_first():
    workshop = a_workshop(Unit.MM, {"cross slide": cross(2.5, 125, sense="")})
    text = only([HUB], workshop).text
    # 5.97408 mm is 2 turns of 2.5 and 0.97408, 48.704 lines of 0.02
    assert text.startswith("Cross slide in 2 turns and 49 divisions from zero touched on the blank: ")
    assert "Ø 14.288 mm (0.5625 in), hub diameter" in text


def test_backlash_is_named_only_when_known():
    unknown = only([HUB], a_workshop(wheels={"cross slide": cross()}))
    assert unknown.approach == (
        "come up to the line going in; if past it, back off past the lost motion and come in again"
    )
    known = only([HUB], a_workshop(wheels={"cross slide": cross(backlash_mm=0.254)}))
    assert "lost motion, 0.010 in (0.254 mm) on this screw, and come in again" in known.approach


def test_ball_tool_by_flats():
    tool = BallTool("ball tool", 0.025 * MM, "flats", 6, 1.0, ((3.0, 20.0),), 4.76, 30.0, 12.0)
    move = Move("ball tool", "in", "touched on the blank", 0.0292 * MM, HUB.makes)
    reading = only([move], a_workshop(ball_tool=tool))
    # 0.0292 in is one turn of 25 thou and 4.2, one flat of 4 1/6 thou
    assert (reading.turns, reading.divisions, reading.unit) == (1, 1.0, "flat")
    assert "1 turn and 1 flat from zero" in reading.text


def test_without_the_wheel_there_is_no_reading_but_what_to_measure():
    reading = only([HUB], a_workshop())
    assert not reading.is_dialled
    assert "no cross slide wheel to read, so measure directly, touched on the blank: Ø 0.5625 in" in reading.text


def test_a_wheel_without_lines_is_read_in_turns():
    plain = Handwheel("tailstock", 2.0, 1, "travel", 0.25, "")
    move = Move("tailstock", "toward the headstock", "point touched", 9.1)
    reading = only([move], a_workshop(wheels={"tailstock": plain}))
    assert (reading.turns, reading.divisions, reading.unit) == (4, 0.5, "turn")
    assert "4 1/2 turns from zero point touched" in reading.text


def test_nothing_is_read_from_a_refused_operation_on():
    workshop = a_workshop(wheels={"cross slide": cross()})
    found = readings_of(plan(operation(10, HUB), operation(20, HUB, refused="no"), operation(30, HUB)), workshop)
    assert [key for key, rows in found.items() if rows] == [("pin", 10)]
    assert readings_of(plan(operation(10, HUB), refused="no bar"), workshop) == {}


def test_each_reading_is_from_its_own_zero_so_rounding_never_adds_up():
    workshop = a_workshop(wheels={"cross slide": cross()})
    moves = [Move("cross slide", "in", "touched", 0.0003 * k * MM) for k in range(1, 21)]
    rows = readings_of(plan(operation(10, *moves)), workshop)["pin", 10]
    assert all(abs(row.error_mm) <= 0.0005 * MM + 1e-9 for row in rows)
    assert rows[-1].divisions == 6.0  # 20 x 0.3 thou


@given(
    blank_mm=st.floats(5.0, 60.0),
    share=st.floats(0.05, 0.99),
    lead_mm=st.sampled_from([2.5, 21.99, 2.54, 1.016]),
    lines=st.sampled_from([40, 50, 100, 125]),
)
def test_following_a_reading_from_its_zero_gives_the_size_within_the_stated_error(blank_mm, share, lead_mm, lines):
    wanted_mm = blank_mm * share
    makes = Makes("stem diameter", wanted_mm, None, None, True)
    move = Move("cross slide", "in", "touched on the work", (blank_mm - wanted_mm) / 2, makes)
    reading = only([move], a_workshop(Unit.MM, {"cross slide": cross(lead_mm, lines, 0.5)}))
    left_mm = blank_mm - 2 * (reading.turns + reading.divisions / lines) * lead_mm
    assert left_mm == pytest.approx(wanted_mm - 2 * reading.error_mm, abs=1e-9)
    assert abs(left_mm - wanted_mm) <= lead_mm / lines * 0.5 + 1e-9
