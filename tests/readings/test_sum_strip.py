from bench_for_readings import cross

from handwheel.job.records import Unit
from handwheel.plan.records import Sum
from handwheel.readings.strip import make_strip
from handwheel.readings.words import inward, mixed
from handwheel.workshop.records import Handwheel

ACROSS = Sum("measured", 14.0, "take off", "cross slide", per_side=False)
LENGTH = Sum("measured", 50.0, "take off", "top slide", per_side=False)


def rows(strip):
    return {row.amount_text: row.wheel_text for row in strip.rows}


def test_off_a_diameter_the_slide_moves_half():
    found = rows(make_strip(ACROSS, cross(), Unit.INCH))  # 100 lines of a thou on the radius
    assert found["0.001 in"] == "1/2 division"
    assert found["0.050 in"] == "25 divisions"
    assert found["0.500 in"] == "2 turns and 50 divisions"


def test_per_side_and_along_the_bed_the_slide_moves_the_amount():
    per_side = Sum("measured", 7.0, "take off", "cross slide", per_side=True)
    assert rows(make_strip(per_side, cross(), Unit.INCH))["0.100 in"] == "1 turn"
    top = Handwheel("top slide", 2.54, 100, "travel", 1.0, "")
    assert rows(make_strip(LENGTH, top, Unit.INCH))["0.050 in"] == "50 divisions"


def test_odd_wheels():
    bed = Handwheel("carriage", 21.99, 100, "travel", 1.0, "")
    found = rows(make_strip(LENGTH, bed, Unit.MM))
    assert found["5.00 mm"] == "22.74 divisions"  # 5 / 0.2199
    fifty_on_forty = Handwheel("top slide", 1.016, 50, "travel", 1.0, "")
    assert rows(make_strip(LENGTH, fifty_on_forty, Unit.INCH))["0.010 in"] == "12 1/2 divisions"


def test_about_a_dozen_rows_and_none_without_a_wheel():
    assert 10 <= len(make_strip(ACROSS, cross(), Unit.MM).rows) <= 13
    assert make_strip(ACROSS, None, Unit.MM).rows == ()


def test_printed_limits_never_widen():
    assert inward(0.56151 * 25.4, 0.56299 * 25.4, Unit.INCH) == ("0.5616", "0.5629")
    assert inward(1.0004, 1.0016, Unit.MM) == ("1.0004", "1.0016")  # too narrow for 0.001: one place more


def test_fractions_of_a_division():
    assert [mixed(v) for v in (35.0, 35.5, 0.25, 12.7)] == ["35", "35 1/2", "1/4", "12.7"]
