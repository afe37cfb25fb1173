"""Phrases and points: what is read of each spelling."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from handwheel.base.faults import Span
from handwheel.job.numbers import scale_of
from handwheel.job.phrases import Reader, phrase_key
from handwheel.job.records import Phrase, Size, Unit, Where
from handwheel.job.senses import CUT_IN, INSIDE, OUTSIDE
from handwheel.job.wrong import Wrong
from handwheel.job.yamltext import Scalar

KNOWN = {
    "lever": {"hub": OUTSIDE["ball"], "shank": OUTSIDE["cone"], "tenon": OUTSIDE["cylinder"], "R1": OUTSIDE["round"]},
    "short arm": {"eye": INSIDE["hole"], "hub": OUTSIDE["ball"], "clip": CUT_IN["groove"]},
    "arm": {"eye": INSIDE["hole"]},
}
BARE = scale_of(Unit.INCH)


def read(text: str, own: str = "lever", implied: str = "") -> Phrase:
    return Reader(KNOWN, own, BARE, implied).phrase(Scalar(text, Span("f", 3, 5)))


SIZES = [
    ("overall length", Size.OVERALL_LENGTH, ""),
    ("hub diameter", Size.DIAMETER, "hub"),
    ("hub radius", Size.RADIUS, "hub"),
    ("hub length", Size.LENGTH, "hub"),
    ("R1 radius", Size.RADIUS, "R1"),
    ("shank left diameter", Size.LEFT_DIAMETER, "shank"),
    ("shank right diameter", Size.RIGHT_DIAMETER, "shank"),
    ("shank included angle", Size.INCLUDED_ANGLE, "shank"),
    ("shank angle to axis", Size.ANGLE_TO_AXIS, "shank"),
    ("shank half angle", Size.ANGLE_TO_AXIS, "shank"),
    ("shank taper", Size.TAPER, "shank"),
    ("shank diameter at hub centre", Size.DIAMETER_AT, "shank"),
    ("hub centre to tenon right", Size.DISTANCE, ""),
]


@pytest.mark.parametrize(("text", "size", "feature"), SIZES, ids=[c[0] for c in SIZES])
def test_sizes(text: str, size: Size, feature: str) -> None:
    phrase = read(text)
    assert (phrase.size, phrase.feature, phrase.text, phrase.part) == (size, feature, text, "")


def test_points_with_steps() -> None:
    phrase = read("shank meets tenon - 5 mm to right end + 1/4 in + 1")
    assert phrase.start is not None
    assert phrase.end is not None
    assert (phrase.start.where, phrase.start.feature, phrase.start.meets) == (Where.MEETS, "shank", "tenon")
    assert (phrase.start.offset_mm, phrase.end.offset_mm) == (F(-5), F("31.75"))
    assert (phrase.end.where, phrase.end.feature) == (Where.RIGHT_END, "")
    assert (phrase.start.span, phrase.end.span) == (Span("f", 3, 5), Span("f", 3, 33))


def test_order_is_kept_and_blanks_are_made_single() -> None:
    one, other = read("tenon  right to hub left"), read("hub left to tenon right")
    assert one.text == "tenon right to hub left"
    assert one.start is not None
    assert one.start.feature == "tenon"
    assert phrase_key(one) == phrase_key(other)


def test_of_part_at_the_end_covers_both_points() -> None:
    phrase = read("hub centre to eye bottom of short arm", own="")
    assert phrase.part == "short arm"
    assert [p.part for p in (phrase.start, phrase.end) if p] == ["short arm", "short arm"]
    two = read("hub centre of lever to eye bottom of short arm", own="")
    assert two.part == ""
    assert [p.part for p in (two.start, two.end) if p] == ["lever", "short arm"]
    at = read("shank diameter at hub centre of lever", own="")
    assert at.at is not None
    assert (at.part, at.at.part) == ("lever", "lever")
    assert read("eye diameter of arm", own="").part == "arm"


def test_the_first_points_own_part_stands_alone() -> None:
    phrase = read("eye mouth of arm to tenon right")
    assert [p.part for p in (phrase.start, phrase.end) if p] == ["arm", ""]


WRONG = [
    ("tenon included angle", "no-such-size", 0, "write 'tenon diameter'"),
    ("shank diameter", "no-such-size", 0, "write 'shank left diameter' or 'shank right diameter'"),
    ("hub width", "no-such-size", 0, "write 'hub length'"),
    ("hub left to hub mouth", "no-such-point", 0, "write 'hub left' or 'hub right'"),
    ("hob diameter", "feature-unknown", 0, "did you mean 'hub'?"),
    ("hub diametre", "phrase-unreadable", 4, "did you mean 'diameter'?"),
    ("hub dia", "phrase-unreadable", 4, "did you mean 'diameter'?"),
    ("hub centre", "phrase-unreadable", 10, "write 'POINT to POINT' for a distance"),
    ("hub length at left end", "phrase-unreadable", 11, "write 'hub diameter at …'"),
    ("left diameter", "phrase-unreadable", 0, "begin the phrase with the feature, like 'hub diameter'"),
    ("hub diameter of shrt arm", "part-unknown", 16, "did you mean 'short arm'?"),
    ("clip meets hub to left end of short arm", "no-such-point", 0,
     "write 'clip left', 'clip right' or 'clip centre'"),
    ("hub left to left end + 5 deg", "length-wanted", 23, "write it like '+ 1/4 in'"),
]


@pytest.mark.parametrize(("text", "fault_id", "at", "do"), WRONG, ids=[c[0] for c in WRONG])
def test_what_has_no_sense_offers_what_has(text: str, fault_id: str, at: int, do: str) -> None:
    with pytest.raises(Wrong) as caught:
        read(text)
    assert (caught.value.fault_id, caught.value.at, caught.value.do) == (fault_id, at, do)


def test_an_implied_feature_need_not_be_named() -> None:
    for text in ("diameter", "hub diameter"):
        assert (read(text, implied="hub").size, read(text, implied="hub").feature) == (Size.DIAMETER, "hub")
    phrase = read("left to centre", implied="hub")
    assert [(p.where, p.feature) for p in (phrase.start, phrase.end) if p] == [
        (Where.LEFT, "hub"), (Where.CENTRE, "hub")]
    end = read("left end to right", implied="hub").start
    assert end is not None
    assert end.where is Where.LEFT_END
    assert read("left diameter", implied="shank").size is Size.LEFT_DIAMETER
    assert read("overall length", implied="hub").size is Size.OVERALL_LENGTH
