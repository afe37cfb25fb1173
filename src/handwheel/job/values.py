"""What stands after a dimension's colon: a size, a sum, a size followed, its tolerance, all exact."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from handwheel.job.numbers import Scale, read_quantity
from handwheel.job.phrases import Reader
from handwheel.job.records import DrawnValue, Follow, GeneralTolerance, Measure, Number, Size, Tolerance, Unit
from handwheel.job.tokens import Cursor, tokenise
from handwheel.job.tolerances import is_class, read_tolerance
from handwheel.job.wrong import Wrong, quoted, read_on
from handwheel.job.yamltext import Scalar

_DIAMETERS = frozenset({Size.DIAMETER, Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER, Size.DIAMETER_AT, Size.PITCH_CIRCLE})
_RADIUS_SIGN = re.compile(r"\s*\(?\s*[Rr](?=[\s.0-9\u00bc-\u00be\u2150-\u215e])")
_WANTED = {
    Measure.LENGTH: ("length-wanted", "a length", "write it like '7/16' or '25.4 mm'"),
    Measure.ANGLE: ("angle-wanted", "an angle", "write it like '2.5 deg'"),
    Measure.RATIO: ("taper-wanted", "a taper", "write it like '1 in 20' or '0.6 in per ft'"),
}
_MAY_BE_NOTHING = frozenset({Size.FROM_AXIS, Size.DISTANCE, Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER})
"""A flat through the axis, two points in one place, a pointed end."""
_FACTORS = (("same", "as", Fraction(1)), ("half", "of", Fraction(1, 2)))


def read_value(scalar: Scalar, size: Size, reader: Reader) -> DrawnValue:
    """value := [(] (follow | sum) [tolerance] [)], for a phrase of that size; raises `Wrong` with all its faults."""
    return read_on(scalar.text, lambda text: _read_value(replace(scalar, text=text), size, reader))


def wrong_in_any_case(scalar: Scalar, reader: Reader) -> tuple[Wrong, ...]:
    """What is wrong with a value whatever its phrase means, for a phrase that could not be read."""
    common: dict[tuple[str, int], Wrong] | None = None
    for size in (Size.DIAMETER, Size.RADIUS, Size.INCLUDED_ANGLE, Size.TAPER):
        try:
            read_value(scalar, size, reader)
        except Wrong as wrong:
            found = {(each.fault_id, each.at): each for each in (wrong, *wrong.more)}
            common = found if common is None else {key: each for key, each in common.items() if key in found}
        else:
            return ()
    return tuple((common or {}).values())


def _read_value(scalar: Scalar, size: Size, reader: Reader) -> DrawnValue:
    text = scalar.text
    if not text.strip():
        raise Wrong("value-missing", 0, "a value is missing", "write it, like 7/16 or 25.4 mm")
    radius = _RADIUS_SIGN.match(text)
    head = text[: radius.end()].replace("(", "") if radius else ""
    is_auxiliary = text.lstrip().startswith("(")
    begin = radius.end() if radius else (text.index("(") + 1 if is_auxiliary else 0)
    cursor = Cursor(text, tokenise(text, begin))
    if radius and size is not Size.RADIUS:
        at = text.index(head.strip()[0])
        raise Wrong(
            "radius-sign",
            at,
            f"'R' gives a radius, but the phrase asks for a {_asked(size)}",
            "write the size without 'R', or the phrase with 'radius'",
            (at, at + 1, ""),
        )
    _diameter_sign(cursor, size)
    inner = Reader(reader.known, reader.own, reader.bare, reader.implied)
    return inner.telling(lambda: _rest(cursor, scalar, size, inner, is_auxiliary))


def _rest(cursor: Cursor, scalar: Scalar, size: Size, reader: Reader, is_auxiliary: bool) -> DrawnValue:
    """What follows the sign of a radius or diameter."""
    text, begin = scalar.text, cursor.offset()
    follow = _follow(cursor, scalar, reader)
    want = follow.phrase.size.measure if follow else size.measure
    if follow and want is not size.measure:
        raise Wrong(
            "follow-measure",
            begin,
            f"the {_asked(size)} cannot follow the {_asked(follow.phrase.size)}",
            f"follow {_WANTED[size.measure][1]}",
        )
    number, last = _sum(cursor, reader.bare, want, follow is not None)
    tolerance = read_tolerance(cursor, last, scalar.span)
    if is_auxiliary and not cursor.take_if(")"):
        raise Wrong("bracket-open", cursor.offset(), "the bracket is not closed", "write ')' at the end")
    if cursor.peek() is not None:
        raise Wrong(
            "value-unreadable",
            cursor.offset(),
            f"{quoted(cursor.rest())} follows a value that is complete",
            "delete it",
        )
    _check_amount(number, size, follow, tolerance)
    return DrawnValue(text, scalar.at(len(text) - len(text.lstrip())), number, follow, tolerance, is_auxiliary)


def _asked(size: Size) -> str:
    return {Size.DISTANCE: "distance", Size.DIAMETER_AT: "diameter"}.get(size, size.value)


def _diameter_sign(cursor: Cursor, size: Size) -> None:
    token = cursor.peek()
    if token is not None and token.kind == "dia":
        cursor.take()
        if size not in _DIAMETERS:
            raise Wrong(
                "diameter-sign",
                token.start,
                f"'{token.text}' gives a diameter, but the phrase asks for a {_asked(size)}",
                "write the size without the sign, or the phrase with 'diameter'",
                (token.start, token.end, ""),
            )


def _follow(cursor: Cursor, scalar: Scalar, reader: Reader) -> Follow | None:
    """follow := (same as | half of | twice | to suit) phrase."""
    factor: Fraction | None = None
    to_suit = False
    for first, second, amount in _FACTORS:
        if cursor.take_if(first, second):
            factor = amount
    if cursor.take_if("twice"):
        factor = Fraction(2)
    elif cursor.take_if("to", "suit"):
        factor, to_suit = Fraction(1), True
    if factor is None:
        return None
    at = cursor.offset()
    phrase = reader.take_phrase(cursor, scalar, False)
    points = [p for p in (phrase.start, phrase.end) if p is not None]
    if to_suit and not phrase.part and not any(p.part for p in points):
        reader.note(Wrong("suit-needs-part", at, "'to suit' needs the part it suits", "add 'of PART' after the phrase"))
    return Follow(phrase, factor, to_suit)


def _sum(cursor: Cursor, bare: Scale, want: Measure, follows: bool) -> tuple[Number, Scale]:
    """sum := quantity (sign quantity)*, each sign with blanks on both sides; and the scale of its last number."""
    value, place = Fraction(0), Fraction(0)
    own = bare if want is Measure.LENGTH else Scale(Fraction(1), want, True)
    last = own
    is_first = not follows
    while is_first or _at_sum_sign(cursor):
        sign = 1 if is_first or cursor.take().text == "+" else -1
        found = read_quantity(cursor, bare, want)
        measure = found.number.measure
        if want is Measure.ANGLE and measure is Measure.LENGTH and found.scale.is_bare:
            raise Wrong("angle-unit", found.at, "an angle carries a unit", "write it like '2.5 deg' or '2 deg 30 min'")
        if measure is not want:
            fault_id, what, do = _WANTED[want]
            raise Wrong(fault_id, found.at, f"this is {_WANTED[measure][1]}, where {what} is wanted", do)
        if is_first and found.number.value < 0:
            raise Wrong("size-not-positive", found.at, "a size is more than nothing", "check it")
        value += sign * found.number.value
        place, last, is_first = max(place, found.number.place), found.scale, False
    return Number(value, want, place), last


def _at_sum_sign(cursor: Cursor) -> bool:
    """Whether a sign with blanks on both sides comes next, and not one before a tolerance class."""
    token = cursor.peek()
    return (
        token is not None
        and token.kind == "sign"
        and token.is_after_blank
        and token.is_before_blank
        and not is_class(cursor.peek(1))
    )


def _check_amount(number: Number, size: Size, follow: Follow | None, tolerance: Tolerance | None) -> None:
    """A size is more than nothing, an angle below its greatest; an ISO 286 class belongs to a length."""
    if tolerance is not None and tolerance.iso286 and number.measure is not Measure.LENGTH:
        raise Wrong(
            "class-on-angle",
            0,
            f"'{tolerance.iso286}' is for lengths and diameters",
            "write the tolerance like '± 0.5 deg'",
        )
    if follow is not None:
        return
    may_be_nothing = size in _MAY_BE_NOTHING
    if number.value < 0 or (number.value == 0 and not may_be_nothing):
        raise Wrong(
            "size-not-positive",
            0,
            f"the {_asked(size)} comes to {'nothing' if number.value == 0 else 'less than nothing'}",
            "a size is more than nothing; check it",
        )
    if (
        number.measure is Measure.LENGTH
        and size not in (Size.DISTANCE, Size.FROM_AXIS)
        and tolerance is not None
        and (number.value + tolerance.lower < 0 or (number.value + tolerance.lower == 0 and not may_be_nothing))
    ):
        raise Wrong(
            "limit-below-nothing",
            0,
            f"at its lower limit the {_asked(size)} comes to nothing or less",
            "check the tolerance and its unit",
        )
    if number.measure is Measure.ANGLE and number.value >= (90 if size is Size.ANGLE_TO_AXIS else 180):
        raise Wrong(
            "angle-too-large",
            0,
            f"an {size.value} is below {'90' if size is Size.ANGLE_TO_AXIS else '180'} deg",
            "check it",
        )


def read_plain(scalar: Scalar, bare: Scale, want: Measure, may_be_negative: bool = False) -> Number:
    """A quantity alone, without tolerance: an option such as `point: 120 deg` or `leaning: -18 deg`."""
    return read_on(scalar.text, lambda text: _read_plain(text, bare, want, may_be_negative))


def _read_plain(text: str, bare: Scale, want: Measure, may_be_negative: bool) -> Number:
    cursor = Cursor(text, tokenise(text))
    sign = 1
    if may_be_negative and cursor.low() in ("-", "+"):
        sign = -1 if cursor.take().text == "-" else 1
    number, _ = _sum(cursor, bare, want, False)
    if cursor.peek() is not None:
        raise Wrong(
            "value-unreadable",
            cursor.offset(),
            f"{quoted(cursor.rest())} follows a value that is complete",
            "delete it",
        )
    return Number(sign * number.value, number.measure, number.place)


def read_general_tolerance(scalar: Scalar, units: Unit, bare: Scale) -> GeneralTolerance:
    """general tolerance := ± quantity | ISO 2768-1 (f | m | c | v)."""
    found = re.fullmatch(r"ISO 2768-1 ([fmcv])", " ".join(scalar.text.split()))
    if found:
        return GeneralTolerance(None, found[1], scalar.span)
    loose = re.fullmatch(
        r"(?:ISO|DIN)?[ -]*(?:ISO)?[ -]*2768(?:-1)?[ -]*([fmcv])?[HKLhkl]?", scalar.text.strip(), re.IGNORECASE
    )
    if loose:
        raise Wrong(
            "general-tolerance",
            0,
            f"{quoted(scalar.text)} is not how that standard is named here",
            f"write 'ISO 2768-1 {(loose[1] or 'm').lower()}'",
        )
    return read_on(scalar.text, lambda text: _plus_minus(replace(scalar, text=text), units, bare))


def _plus_minus(scalar: Scalar, units: Unit, bare: Scale) -> GeneralTolerance:
    """`± 0.005` alone."""
    cursor = Cursor(scalar.text, tokenise(scalar.text))
    token = cursor.peek()
    if token is None or token.kind != "pm":
        example = "± 0.005" if units is Unit.INCH else "± 0.1"
        raise Wrong(
            "general-tolerance",
            cursor.offset(),
            f"{quoted(scalar.text)} is not a general tolerance",
            f"write '{example}' or 'ISO 2768-1 m'",
        )
    tolerance = read_tolerance(cursor, bare, scalar.span)
    if cursor.peek() is not None or tolerance is None or tolerance.iso286:
        raise Wrong(
            "general-tolerance", cursor.offset(), f"{quoted(cursor.rest())} has no place here", "write '± 0.1' alone"
        )
    return GeneralTolerance(tolerance.upper, "", scalar.span)
