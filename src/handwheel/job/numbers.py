"""One quantity of a value: a number with its unit, exact, with one unit of the last decimal typed.

Decimals, fractions and mixed numbers; lengths, angles, tapers and drill names. One function per form.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from handwheel.job.records import Measure, Number, Unit
from handwheel.job.tokens import Cursor, Token
from handwheel.job.wrong import Wrong, nearest, quoted
from handwheel.tables.drills import drill_diameter_mm

INCH_MM = Fraction(254, 10)
_RUN = re.compile("(?:[0-9./]|[\u00bc-\u00be\u2150-\u215e])+")
_COMMAS = re.compile(r"[0-9.]+(?:\s*,\s*[0-9.]+)+")
_LENGTHS = {
    "mm": Fraction(1),
    "millimetre": Fraction(1),
    "millimetres": Fraction(1),
    "in": INCH_MM,
    "inch": INCH_MM,
    "inches": INCH_MM,
    '"': INCH_MM,
    "thou": INCH_MM / 1000,
}
_ANGLES = {
    "deg": Fraction(1),
    "degree": Fraction(1),
    "degrees": Fraction(1),
    "°": Fraction(1),
    "min": Fraction(1, 60),
    "'": Fraction(1, 60),
    "sec": Fraction(1, 3600),
}
_FOOT = {"ft": 12 * INCH_MM, "foot": 12 * INCH_MM}
_OFFERS = {
    "cm": "write it in mm",
    "m": "write it in mm",
    "mil": "write 'thou'",
    "mils": "write 'thou'",
    "ft": "write it in inches",
    "foot": "write it in inches",
    "feet": "write it in inches",
    "tenth": "write it in inches",
    "rad": "write it in deg",
    "radians": "write it in deg",
    "grad": "write it in deg",
    "gon": "write it in deg",
    "thru": "write the size alone, and 'through: yes' at the hole",
    "um": "write it in mm",
    "\u00b5m": "write it in mm",
    "\u03bcm": "write it in mm",
    "microns": "write it in mm",
    "es": "write 'in'",
    "ins": "write 'in'",
    "drill": "write 'No. 7 drill' or 'letter F drill'",
}
_SPHERES = ("s", "sr")
_SPELT = [word for word in (*_LENGTHS, *_ANGLES) if word.isalpha()]


@dataclass(frozen=True, slots=True)
class Scale:
    """What one of a number is: so many mm, degrees, or of diameter per length. `is_bare`: no unit was written."""

    factor: Fraction
    measure: Measure
    is_bare: bool = False


def scale_of(units: Unit) -> Scale:
    """The job's own unit, which a bare number takes."""
    return Scale(INCH_MM if units is Unit.INCH else Fraction(1), Measure.LENGTH, True)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number and the scale it was read in, `at` its offset in the text."""

    number: Number
    scale: Scale
    at: int


def read_quantity(cursor: Cursor, bare: Scale, want: Measure) -> Quantity:
    """quantity := drill | taper | angle | number [unit]. `bare` is the scale of a number without a unit."""
    start = cursor.offset()
    if cursor.low() in ("no", "letter", "nos"):
        return _drill(cursor)
    count, place = _plain_number(cursor)
    if (cursor.low() == "in" and _starts_number(cursor.peek(1))) or cursor.low() == ":":
        return _one_in(cursor, count, place, start)
    scale = _unit(cursor)
    if scale is not None and scale.measure is Measure.ANGLE:
        return _angle(cursor, count, place, scale, start)
    if cursor.take_if("per"):
        return _per(cursor, count, place, scale or bare, start)
    if scale is None:
        is_ratio = want is Measure.RATIO and bare.measure is not Measure.RATIO
        scale = Scale(Fraction(1), Measure.RATIO, True) if is_ratio else bare
    return Quantity(Number(count * scale.factor, scale.measure, place * scale.factor), scale, start)


def _starts_number(token: Token | None) -> bool:
    return token is not None and token.kind in ("num", "vulgar")


def _is_sign(token: Token | None) -> bool:
    return token is not None and token.kind == "sign"


def _plain_number(cursor: Cursor) -> tuple[Fraction, Fraction]:
    """number := decimal | whole [fraction] | fraction; with one unit of its last decimal."""
    token = cursor.peek()
    if token is None or token.kind not in ("num", "vulgar"):
        raise _no_number(cursor, token)
    cursor.take()
    if token.kind == "vulgar":
        _check_end(cursor, token)
        return Fraction(token.text), Fraction(0)
    if "." in token.text:
        decimals = len(token.text) - token.text.index(".") - 1
        if cursor.low() == "/" and _starts_number(cursor.peek(1)):
            raise Wrong(
                "fraction-of-decimals",
                token.start,
                "a fraction needs whole numbers",
                "write the decimal alone",
                (token.start, cursor.tokens[cursor.index + 1].end, "1"),
            )
        _check_end(cursor, token)
        return Fraction(token.text), Fraction(1, 10**decimals) if decimals else Fraction(0)
    if cursor.low() == "/" and not cursor.tokens[cursor.index].is_after_blank and not _is_sign(cursor.peek(1)):
        return _over(cursor, token, token), Fraction(0)
    whole = Fraction(token.text)
    follow, after = cursor.peek(), cursor.peek(1)
    if follow and follow.kind == "vulgar":
        cursor.take()
        return whole + Fraction(follow.text), Fraction(0)
    if follow and follow.kind == "num" and after and after.text == "/" and not after.is_after_blank:
        cursor.take()
        part = _over(cursor, follow, token)
        if part >= 1:
            end = cursor.tokens[cursor.index - 1].end
            raise Wrong(
                "fraction-not-proper",
                follow.start,
                f"{follow.text}/{cursor.tokens[cursor.index - 1].text} is not a part of one",
                "check the fraction",
                (follow.start, end, "1/2"),
            )
        return whole + part, Fraction(0)
    _check_end(cursor, token)
    return whole, Fraction(0)


def _over(cursor: Cursor, top: Token, first: Token) -> Fraction:
    """The fraction `top / bottom`, the cursor at the `/`."""
    cursor.take()
    bottom = cursor.peek()
    if bottom is None or bottom.kind != "num" or "." in bottom.text or "." in top.text:
        raise Wrong(
            "fraction-of-decimals",
            first.start,
            "a fraction needs whole numbers above and below",
            "write it like 7/16 or as a decimal",
            (first.start, _run_end(cursor, first.start), "1"),
        )
    cursor.take()
    if int(bottom.text) == 0:
        what = f"{top.text}/{bottom.text} divides by nothing"
        raise Wrong("fraction-by-zero", top.start, what, "check the fraction", (bottom.start, bottom.end, "4"))
    _check_end(cursor, first)
    return Fraction(int(top.text), int(bottom.text))


def _check_end(cursor: Cursor, first: Token) -> None:
    """What must not stand right after a number: a comma, a hyphen before a fraction, another number."""
    token = cursor.peek()
    if token is None:
        return
    after = cursor.peek(1)
    if token.text == "," and after and after.kind == "num":
        found = _COMMAS.match(cursor.text, first.start)
        if found is None:
            raise Wrong("value-unreadable", token.start, "a comma has no place in a value", "write one size")
        raise _comma(found)
    slash = cursor.peek(2)
    if token.text == "-" and not token.is_after_blank and after and slash and slash.text == "/":
        bottom = cursor.peek(3)
        typed = cursor.text[first.start : token.start]
        ending = f"{after.text}/{bottom.text}" if bottom else after.text
        raise Wrong(
            "hyphen-in-number",
            first.start,
            f"'{typed}-{ending}' could be a sum",
            f"write '{typed} {ending}' for the mixed number, '{typed} - {ending}' for the sum",
            (token.start, token.end, " "),
        )
    if token.kind in ("num", "vulgar"):
        raise Wrong(
            "two-numbers",
            token.start,
            f"a second number, {quoted(token.text)}, follows the first",
            "write one number, with a sign between two that are added",
            (token.start, _run_end(cursor, token.start), ""),
        )


def _run_end(cursor: Cursor, start: int) -> int:
    """Where the number or fraction that begins at `start` ends."""
    found = _RUN.match(cursor.text, start)
    return found.end() if found else start + 1


def _comma(found: re.Match[str]) -> Wrong:
    """`25,4` offers 25.4; `1,234.5` and `1,234,567`, where the commas part thousands, the number without them."""
    typed = "".join(found[0].split())
    whole, _, rest = typed.partition(",")
    plain = typed.replace(",", "") if "," in rest or "." in rest else f"{whole}.{rest}"
    do = f"write '{plain}'" if plain.count(".") < 2 else "write one number, with a point"
    return Wrong("decimal-comma", found.start(), f"'{typed}' has a comma in it", do, (*found.span(), plain))


def _no_number(cursor: Cursor, token: Token | None) -> Wrong:
    """Why no number begins here."""
    at = cursor.offset()
    if token is None:
        return Wrong("value-missing", at, "a number is missing", "write it, like 7/16 or 25.4 mm")
    if token.text == "#":
        number = re.match(r"#\s*([0-9]+)", cursor.text[token.start :])
        return Wrong(
            "value-unreadable", at, "'#' is no part of a number", f"write 'No. {number[1] if number else 7} drill'"
        )
    if token.low in _SPHERES and cursor.peek(1) is not None:
        do = f"leave the '{token.text[0]}' out: a ball is said by its kind"
        return Wrong("value-unreadable", at, f"{quoted(token.text)} is not read before a size", do,
                     (token.start, token.start + 1, ""))  # fmt: skip
    if token.kind == "word" and cursor.low(1) == "drill":
        return Wrong(
            "value-unreadable",
            at,
            f"{quoted(token.text + ' drill')} is not how a drill is written",
            f"write 'letter {token.text} drill' or 'No. 7 drill'",
        )
    if token.kind == "sign":
        return Wrong(
            "size-not-positive",
            at,
            "a size is written without a sign before it",
            f"delete the '{token.text}'",
            (token.start, token.end, ""),
        )
    if token.kind == "pm":
        return Wrong("value-missing", at, "a tolerance without a size", "write the size before it")
    what, do = f"{quoted(cursor.rest())} is not a number", "write it like 7/16, 1 7/16, 0.375 or 25.4 mm"
    after = cursor.peek(1)
    if token.low in _SPELT and after is not None and after.kind in ("num", "vulgar"):
        do = "write the unit behind the number"
    elif token.text == "=" or (token.kind == "word" and after is not None and after.kind == "word" and cursor.peek(2)):
        do = "write a size, or 'same as PHRASE', 'half of PHRASE', 'twice PHRASE'"
    return Wrong("value-unreadable", at, what, do)


def _unit(cursor: Cursor) -> Scale | None:
    """unit := mm | in | inch | " | thou | deg | ° | min | '; None where none is written."""
    token = cursor.peek()
    if token is None:
        return None
    if token.low in _LENGTHS:
        cursor.take()
        if cursor.low() == "." and token.low in ("in", "mm"):
            cursor.take()
        return Scale(_LENGTHS[token.low], Measure.LENGTH)
    if token.low in _ANGLES:
        cursor.take()
        if cursor.low() == "." and token.low in ("min", "deg"):
            cursor.take()
        return Scale(_ANGLES[token.low], Measure.ANGLE)
    if token.low in _OFFERS:
        do = _OFFERS[token.low]
        instead = "deg" if do.endswith("deg") else "mm" if len(token.text) > 1 else '"'
        what = f"{quoted(token.text)} is not a unit here"
        raise Wrong("unit-unknown", token.start, what, do, (token.start, token.end, instead))
    near = nearest(token.low, _SPELT, 0.7) if token.kind == "word" and len(token.text) > 2 else ""
    if near:
        what = f"{quoted(token.text)} is not a unit here"
        raise Wrong("unit-unknown", token.start, what, f"did you mean '{near}'?", (token.start, token.end, near))
    return None


def _angle(cursor: Cursor, count: Fraction, place: Fraction, scale: Scale, start: int) -> Quantity:
    """angle := number deg [number min [number sec]]; a second is written `sec` or `"` here."""
    value, last = count * scale.factor, place * scale.factor
    unit = scale
    while unit.factor > Fraction(1, 3600) and _starts_number(cursor.peek()):
        count, place = _plain_number(cursor)
        token = cursor.peek()
        at = cursor.offset()
        if token is not None and token.text == '"' and unit.factor < 1:
            cursor.take()
            smaller: Scale | None = Scale(Fraction(1, 3600), Measure.ANGLE)
        else:
            smaller = _unit(cursor)
        if smaller is None or smaller.measure is not Measure.ANGLE or smaller.factor >= unit.factor:
            raise Wrong("angle-parts", at, "an angle goes from deg to min", "write it like '2 deg 30 min'")
        unit = smaller
        value, last = value + count * unit.factor, place * unit.factor
    return Quantity(Number(value, Measure.ANGLE, last), unit, start)


def _one_in(cursor: Cursor, count: Fraction, place: Fraction, start: int) -> Quantity:
    """taper := number (in | :) number, diameter per length."""
    cursor.take()
    length, _ = _plain_number(cursor)
    if length == 0:
        raise Wrong("fraction-by-zero", start, "a taper over no length", "write it like '1 in 20'")
    return Quantity(
        Number(count / length, Measure.RATIO, place / length), Scale(Fraction(1), Measure.RATIO, True), start
    )


def _per(cursor: Cursor, count: Fraction, place: Fraction, scale: Scale, start: int) -> Quantity:
    """taper := length per (ft | [number] unit), diameter per length."""
    at = cursor.offset()
    length = _plain_number(cursor)[0] if _starts_number(cursor.peek()) else Fraction(1)
    token = cursor.peek()
    if token is not None and token.low in _FOOT:
        cursor.take()
        over = Scale(_FOOT[token.low], Measure.LENGTH)
    else:
        over = _unit(cursor) or Scale(Fraction(0), Measure.LENGTH)
    length *= over.factor
    if length == 0 or scale.measure is not Measure.LENGTH or over.measure is not Measure.LENGTH:
        raise Wrong("taper-unreadable", at, "'per' needs a length on both sides", "write it like '0.6 in per ft'")
    factor = scale.factor / length
    return Quantity(Number(count * factor, Measure.RATIO, place * factor), Scale(factor, Measure.RATIO, True), start)


def _drill(cursor: Cursor) -> Quantity:
    """drill := No. number drill | letter X drill, its diameter from the tables."""
    first = cursor.take()
    if cursor.low() == ".":
        cursor.take()
    token = cursor.peek()
    if token is None or token.kind not in ("num", "word"):
        raise Wrong(
            "drill-unknown", first.start, "a drill's name is missing", "write 'No. 7 drill' or 'letter F drill'"
        )
    cursor.take()
    # `No.7` runs together: its point is the abbreviation's.
    name = f"No. {token.text.removeprefix('.')}" if first.low != "letter" else f"letter {token.text.upper()}"
    if not cursor.take_if("drill"):
        raise Wrong("drill-unknown", first.start, f"'{name}' is not said to be a drill", f"write '{name} drill'")
    size = drill_diameter_mm(name)
    if size is None:
        raise Wrong(
            "drill-unknown",
            first.start,
            f"there is no '{name} drill'",
            "number drills run from 1 to 97, letters A to Z",
            (first.start, cursor.tokens[cursor.index - 1].end, "1"),
        )
    return Quantity(Number(size, Measure.LENGTH), Scale(INCH_MM, Measure.LENGTH, True), first.start)
