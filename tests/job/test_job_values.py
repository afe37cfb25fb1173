"""Values: each spelling against its exact size worked out by hand (1 in = 25.4 mm)."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from handwheel.base.faults import Span
from handwheel.job.numbers import scale_of
from handwheel.job.phrases import Reader
from handwheel.job.records import DrawnValue, Measure, Size, Unit
from handwheel.job.senses import OUTSIDE
from handwheel.job.values import read_value
from handwheel.job.wrong import Wrong
from handwheel.job.yamltext import Scalar

KNOWN = {
    "lever": {"hub": OUTSIDE["ball"], "shank": OUTSIDE["cone"]},
    "short arm": {"eye": OUTSIDE["cylinder"]},
}


def read(text: str, size: Size = Size.DIAMETER, units: Unit = Unit.INCH) -> DrawnValue:
    return read_value(Scalar(text, Span("f", 1, 1)), size, Reader(KNOWN, "lever", scale_of(units)))


LENGTHS = [
    ("0.375", F("9.525"), F("0.0254")),
    (".375", F("9.525"), F("0.0254")),
    ("3/8", F("9.525"), F(0)),
    ("1 7/16", F("36.5125"), F(0)),
    ("2", F("50.8"), F(0)),
    ("2.0", F("50.8"), F("2.54")),
    ("25.4 mm", F("25.4"), F("0.1")),
    ("25.40mm", F("25.4"), F("0.01")),
    ("0.5 in", F("12.7"), F("2.54")),
    ("1 inch", F("25.4"), F(0)),
    ('1/2"', F("12.7"), F(0)),
    ("1/2″", F("12.7"), F(0)),
    ("20 thou", F("0.508"), F(0)),
    ("1.5 thou", F("0.0381"), F("0.00254")),
    ("No. 7 drill", F("5.1054"), F(0)),  # ASME B94.11M: 0.2010 in
    ("letter F drill", F("6.5278"), F(0)),  # 0.2570 in
    ("½", F("12.7"), F(0)),
    ("1½", F("38.1"), F(0)),
    ("1 ½ in", F("38.1"), F(0)),
    ("1⁄2", F("12.7"), F(0)),
    ("∅ 3/8", F("9.525"), F(0)),
    ("Ø3/8", F("9.525"), F(0)),
    ("⌀25 mm", F(25), F(0)),
    ("7/8 - 0.5 mm", F("21.725"), F("0.1")),
    ("7/8 − 0.5 mm", F("21.725"), F("0.1")),
    ("25 mm + 1/8", F("28.175"), F(0)),
    ("1 + 1/2 - 1/4", F("31.75"), F(0)),
]


@pytest.mark.parametrize(("text", "value", "place"), LENGTHS, ids=[c[0] for c in LENGTHS])
def test_a_length_is_exact(text: str, value: F, place: F) -> None:
    number = read(text).number
    assert (number.value, number.place, number.measure) == (value, place, Measure.LENGTH)


def test_a_bare_number_takes_the_job_unit() -> None:
    assert read("0.5", units=Unit.MM).number.value == F("0.5")
    assert read("20 - 1/2 in", units=Unit.MM).number.value == F("7.3")
    assert read("20 mm - 1/2", units=Unit.INCH).number.value == F("7.3")


ANGLES = [
    ("2.5 deg", F(5, 2), F(1, 10)),
    ("2 deg 30 min", F(5, 2), F(0)),
    ("2°30′", F(5, 2), F(0)),
    ("2° 30'", F(5, 2), F(0)),
    ("30 min", F(1, 2), F(0)),
    ("2 deg 30.5 min", F(5, 2) + F(1, 120), F(1, 600)),
    ("2° 30' 18\"", F(5, 2) + F(18, 3600), F(0)),
    ("10 deg - 30 min", F(19, 2), F(0)),
]


@pytest.mark.parametrize(("text", "value", "place"), ANGLES, ids=[c[0] for c in ANGLES])
def test_an_angle_is_exact(text: str, value: F, place: F) -> None:
    number = read(text, Size.INCLUDED_ANGLE).number
    assert (number.value, number.place, number.measure) == (value, place, Measure.ANGLE)


TAPERS = [
    ("1 in 20", F(1, 20)),
    ("1:20", F(1, 20)),
    ("0.6 in per ft", F(1, 20)),
    ("0.5 mm per 10 mm", F(1, 20)),
    ("0.05", F(1, 20)),
    ("1.5 in 20", F(3, 40)),
]


@pytest.mark.parametrize(("text", "value"), TAPERS, ids=[c[0] for c in TAPERS])
def test_a_taper_is_diameter_per_length(text: str, value: F) -> None:
    number = read(text, Size.TAPER).number
    assert (number.value, number.measure) == (value, Measure.RATIO)


TOLERANCES = [
    ("9/16 ± 0.001", Size.DIAMETER, "-0.0254", "0.0254"),
    ("9/16 +/- 0.001", Size.DIAMETER, "-0.0254", "0.0254"),
    ("9/16 ±0.001", Size.DIAMETER, "-0.0254", "0.0254"),
    ("25 mm ± 0.02", Size.DIAMETER, "-0.02", "0.02"),
    ("25 mm + 1/8 ± 0.002", Size.DIAMETER, "-0.0508", "0.0508"),
    ("0.5 in ± 2 thou", Size.DIAMETER, "-0.0508", "0.0508"),
    ("20 thou ± 2", Size.DIAMETER, "-0.0508", "0.0508"),
    ("0.200 +0 -0.005", Size.LENGTH, "-0.127", "0"),
    ("25 mm +0.002 -0", Size.LENGTH, "0", "0.002"),
    ("25 mm +0.02/+0.01", Size.LENGTH, "0.01", "0.02"),
    ("25 mm -0.01/-0.02", Size.LENGTH, "-0.02", "-0.01"),
    ("25 mm −0.01 −0.02", Size.LENGTH, "-0.02", "-0.01"),
    ("1/2 +1/64 -0", Size.LENGTH, "0", "0.396875"),
    ("2.5 deg ± 0.5 deg", Size.INCLUDED_ANGLE, "-0.5", "0.5"),
    ("2.5 deg ± 15 min", Size.INCLUDED_ANGLE, "-0.25", "0.25"),
    ("2.5 deg +0.5 deg -0", Size.INCLUDED_ANGLE, "0", "0.5"),
    ("1 in 20 ± 0.001", Size.TAPER, "-0.001", "0.001"),
    ("0.6 in per ft ± 0.06", Size.TAPER, "-0.005", "0.005"),
    ("same as hub diameter ± 0.002", Size.DIAMETER, "-0.0508", "0.0508"),
]


@pytest.mark.parametrize(("text", "size", "lower", "upper"), TOLERANCES, ids=[c[0] for c in TOLERANCES])
def test_a_tolerance_is_signed_deviations(text: str, size: Size, lower: str, upper: str) -> None:
    tolerance = read(text, size).tolerance
    assert tolerance is not None
    assert (tolerance.lower, tolerance.upper, tolerance.iso286) == (F(lower), F(upper), "")


@pytest.mark.parametrize("name", ["h7", "H7", "js6", "JS7", "k6", "zc11", "g6"])
def test_a_tolerance_class_is_kept_for_the_tables(name: str) -> None:
    for text in (f"5/32 {name}", f"25 mm ± {name}"):
        tolerance = read(text).tolerance
        assert tolerance is not None
        assert tolerance.iso286 == name


def test_what_follows_another_size() -> None:
    value = read("half of hub diameter + 0.1 mm ± 0.05")
    assert value.follow is not None
    assert (value.follow.factor, value.follow.to_suit, value.number.value) == (F(1, 2), False, F("0.1"))
    assert value.follow.phrase.text == "hub diameter"
    assert value.tolerance is not None
    assert value.tolerance.upper == F("0.05")
    suit = read("to suit eye diameter of short arm - 0.002 +0.001 -0")
    assert suit.follow is not None
    assert (suit.follow.to_suit, suit.follow.phrase.part, suit.number.value) == (True, "short arm", F("-0.0508"))
    twice = read("twice hub diameter")
    assert twice.follow is not None
    assert (twice.follow.factor, twice.number.value, twice.tolerance) == (2, 0, None)


def test_a_sign_behind_a_followed_distance_belongs_to_the_sum() -> None:
    value = read("half of hub left to shank right + 1/4", Size.DISTANCE)
    assert value.follow is not None
    assert value.follow.phrase.end is not None
    assert (value.follow.phrase.end.offset_mm, value.number.value) == (0, F("6.35"))


def test_an_auxiliary_dimension() -> None:
    value = read("(2 25/32)", Size.LENGTH)
    assert (value.auxiliary, value.number.value) == (True, F("70.64375"))
    assert not read("2 25/32", Size.LENGTH).auxiliary


def test_a_radius_sign() -> None:
    assert read("R 3/8", Size.RADIUS).number.value == F("9.525")
    assert read("R3/8", Size.RADIUS).number.value == F("9.525")


UNREADABLE = [  # what a general units library reads wrongly or not at all, among others
    ("25,4 mm", "decimal-comma", "write '25.4'"),
    ("25,4", "decimal-comma", "write '25.4'"),
    ("1-7/16", "hyphen-in-number", "write '1 7/16' for the mixed number, '1 - 7/16' for the sum"),
    ("1-7/16 in", "hyphen-in-number", "write '1 7/16' for the mixed number, '1 - 7/16' for the sum"),
    ("3 ft 2 in", "unit-unknown", "write it in inches"),
    ("", "value-missing", "write it, like 7/16 or 25.4 mm"),
    ("   ", "value-missing", "write it, like 7/16 or 25.4 mm"),
    ("#7 drill", "value-unreadable", "write 'No. 7 drill'"),
    ("F drill", "value-unreadable", "write 'letter F drill' or 'No. 7 drill'"),
    ("16 µm", "unit-unknown", "write it in mm"),
    ("5 mil", "unit-unknown", "write 'thou'"),
    ("7/8 -0.5 mm", "single-limit", "write '+0.5 mm -0' or '+0 -0.5 mm' for limits, '- 0.5 mm' with blanks on both "
     "sides of the sign for a sum"),
    ("10 tpi", "value-unreadable", None),
    ("1e3", "value-unreadable", None),
    ("80 ft/min", "unit-unknown", None),
    ("1 rad", "unit-unknown", None),
    ("1.5.2", "two-numbers", None),
    ("- 3/8", "size-not-positive", "delete the '-'"),
    ("1/2 - 1/2", "size-not-positive", None),
    ("1 in 20", "length-wanted", None),
    ("3 deg", "length-wanted", None),
    ("same as shank included angle", "follow-measure", None),
]


@pytest.mark.parametrize(("text", "fault_id", "do"), UNREADABLE, ids=[c[0] or "nothing" for c in UNREADABLE])
def test_what_is_not_read_offers_the_plain_spelling(text: str, fault_id: str, do: str | None) -> None:
    with pytest.raises(Wrong) as caught:
        read(text)
    assert caught.value.fault_id == fault_id
    assert do is None or caught.value.do == do


def test_seven_sixteenths_with_a_sign_for_inches_is_a_length() -> None:
    assert read('7/16"').number.value == F("11.1125")
    assert read("1 7/16 in").number.value == F("36.5125")
