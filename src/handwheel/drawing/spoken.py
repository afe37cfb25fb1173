"""Sizes and dimensions in a drawing's own words: the unit, the decimals and the fractions as they were typed."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from fractions import Fraction

from handwheel.drawing.group import Given
from handwheel.job.records import DrawnValue, Measure, Unit

INCH_MM = Fraction(254, 10)
_INCH = re.compile(r"\d\s*(?:in|inch|inches|\"|thou)\b|\d\"")
_MM = re.compile(r"\d\s*(?:mm|millimetres?)\b")
_THOU = re.compile(r"\d\s*thou\b")
_TOLERANCE = re.compile(r"±|\+/-|\s[+-]\s*[\d.]|\s[A-Za-z]{1,2}\d{1,2}\b")
LEAST = 1e-6


def typed(value: DrawnValue) -> str:
    """The size as typed, without its tolerance."""
    return _TOLERANCE.split(value.text, maxsplit=1)[0].strip()


def unit_of(value: DrawnValue, units: Unit) -> Unit:
    """The unit in which a length was typed."""
    text = typed(value)
    if _MM.search(text):
        return Unit.MM
    return Unit.INCH if _INCH.search(text) or "drill" in text else units


def size_text(size: float, like: DrawnValue, measure: Measure, units: Unit) -> str:
    """A size (mm, degrees, diameter per length) written the way `like` was: `1 7/16`, `0.375`, `9.5 mm`, `1 in 20`."""
    if measure is Measure.ANGLE:
        return f"{_decimal(size, float(like.number.place), 4)} deg"
    if measure is Measure.RATIO:
        return f"1 in {_plain(1.0 / size, 4)}" if size else "0"
    unit = unit_of(like, units)
    factor = float(INCH_MM) if unit is Unit.INCH else 1.0
    count, place = size / factor, float(like.number.place) / factor
    if _THOU.search(like.text):
        return f"{_plain(count * 1000.0, 1)} thou"
    text = _fraction(count) if "/" in like.text or unit is Unit.INCH else ""
    text = text or _decimal(count, place, 4 if unit is Unit.INCH else 3)
    return text if unit is units else f"{text} {'in' if unit is Unit.INCH else 'mm'}"


def amount_text(size: float, measure: Measure, units: Unit) -> str:
    """A difference for a person, with its unit: `0.04 mm`, `1/16 in`, `0.3 deg`."""
    if measure is Measure.ANGLE:
        return f"{size:.6g} deg"
    if measure is Measure.RATIO:
        return f"{size:.6g}"
    if units is Unit.MM:
        return f"{size:.6g} mm"
    return f"{_fraction(size / float(INCH_MM)) or format(size / float(INCH_MM), '.5g')} in"


def _fraction(count: float) -> str:
    """Sixty-fourths as a fraction in lowest terms, where that is what it is."""
    whole = round(count * 64)
    if whole == 0 or abs(count * 64 - whole) > LEAST * 64:
        return ""
    exact = Fraction(abs(whole), 64)
    if exact.denominator == 1:
        return f"{'-' if whole < 0 else ''}{exact}"
    units, rest = divmod(exact.numerator, exact.denominator)
    return f"{'-' if whole < 0 else ''}{f'{units} ' if units else ''}{rest}/{exact.denominator}"


def _decimal(count: float, place: float, most: int) -> str:
    """With as many decimals as were typed; where none were, as few as it needs."""
    if place <= 0:
        return _plain(count, most)
    decimals = max(0, round(-math.log10(place)))
    return f"{count:.{decimals}f}"


def _plain(count: float, most: int) -> str:
    text = f"{count:.{most}f}"
    return (text.rstrip("0").rstrip(".") if "." in text else text) or "0"


def named(given: Given, part: str) -> str:
    """The phrase, with `of PART` where it stands in another part than the one spoken of."""
    own = given.dimension.phrase
    said = own.part or any(p is not None and p.part for p in (own.start, own.end, own.at))
    return given.text if not given.part or given.part == part or said else f"{given.text} of {given.part}"


def listed(words: Sequence[str], most: int = 12) -> str:
    """`'a', 'b' and 'c'`."""
    quoted = [f"'{w}'" for w in words[:most]]
    if len(words) > most:
        return f"{', '.join(quoted)} and {len(words) - most} more"
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} and {quoted[-1]}" if quoted else ""
