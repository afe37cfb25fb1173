"""Lengths, fractions and turns as they are said at the machine: the workshop's unit first, the other in brackets."""

from __future__ import annotations

import math
from fractions import Fraction

from handwheel.job.records import Unit

INCH_MM = 25.4
PLACES = {Unit.INCH: 4, Unit.MM: 3}
LEAST_PLACES = {Unit.INCH: 3, Unit.MM: 2}

HALF_NOISE = 1e-9
"""Added before rounding, so that an exact half goes up whatever the arithmetic made of its last bit."""


def in_unit(length_mm: float, units: Unit) -> float:
    """A length in that unit. [mm] in."""
    return length_mm / INCH_MM if units is Unit.INCH else length_mm


def unit_name(units: Unit) -> str:
    """`in` or `mm`."""
    return "in" if units is Unit.INCH else "mm"


def other(units: Unit) -> Unit:
    """The other unit, that stands in brackets."""
    return Unit.MM if units is Unit.INCH else Unit.INCH


def fixed(value: float, places: int) -> str:
    """A decimal with that many places, an exact half rounded away from nought."""
    return f"{value + math.copysign(HALF_NOISE, value):.{places}f}"


def trimmed(value: float, places: int, least: int = 0) -> str:
    """A decimal rounded to `places`, its last zeros taken off down to `least` places; never `-0`."""
    whole, _, decimals = fixed(value, places).partition(".")
    decimals = decimals.rstrip("0").ljust(least, "0")
    text = f"{whole}.{decimals}" if decimals else whole
    return text.lstrip("-") if float(text) == 0 else text


def figure(length_mm: float, units: Unit) -> str:
    """A length's bare figure in that unit: inches to 0.0001, millimetres to 0.001."""
    return trimmed(in_unit(length_mm, units), PLACES[units], LEAST_PLACES[units])


def is_shown(length_mm: float, units: Unit) -> bool:
    """Whether a length comes to anything at the fineness that is printed."""
    return abs(in_unit(length_mm, units)) >= 0.5 * 10.0 ** -PLACES[units]


def length_text(length_mm: float, units: Unit, sign: str = "") -> str:
    """`Ø 0.5625 in (14.288 mm)`; `sign` is what stands before the figure."""
    back = other(units)
    front = f"{sign} " if sign else ""
    return f"{front}{figure(length_mm, units)} {unit_name(units)} ({figure(length_mm, back)} {unit_name(back)})"


def inward(low_mm: float, high_mm: float, units: Unit) -> tuple[str, str]:
    """Two limits as figures, rounded toward each other so that what is printed never widens them."""
    low, high = in_unit(low_mm, units), in_unit(high_mm, units)
    for places in range(PLACES[units], PLACES[units] + 5):
        step = 10.0**places
        up, down = math.ceil(low * step - 1e-6), math.floor(high * step + 1e-6)
        if up < down or math.isclose(low, high):
            break
    return f"{up / step:.{places}f}", f"{down / step:.{places}f}"


def limits_text(low_mm: float, high_mm: float, units: Unit, sign: str = "") -> str:
    """`between Ø 0.5615 and Ø 0.5630 in (14.263 and 14.300 mm)`."""
    low, high = inward(low_mm, high_mm, units)
    back_low, back_high = inward(low_mm, high_mm, other(units))
    front = f"{sign} " if sign else ""
    return (
        f"between {front}{low} and {front}{high} {unit_name(units)} "
        f"({back_low} and {back_high} {unit_name(other(units))})"
    )


def mixed(value: float) -> str:
    """A count with halves, quarters and eighths as fractions (`35 1/2`), anything else as a decimal."""
    near = Fraction(value).limit_denominator(8)
    if abs(float(near) - value) > 1e-9 or near.denominator not in (1, 2, 4, 8):
        return trimmed(value, 2)
    whole, part = divmod(near, 1)
    if not part:
        return str(whole)
    return f"{whole} {part}" if whole else str(part)


def counted(value: float, noun: str) -> str:
    """`1 turn`, `2 turns`, `1/2 division`: the noun in the plural above one."""
    plural = noun if value <= 1 or noun.endswith("s") else f"{noun}s"
    if value == 0:
        plural = f"{noun}s"
    return f"{mixed(value)} {plural}"


def turns_text(turns: int, divisions: float, unit: str) -> str:
    """`2 turns and 35 divisions`, `4 flats`, `2 1/4 turns`, or `0 divisions`; whole turns before the final line."""
    if unit == "turn":
        return counted(turns + divisions, "turn")
    if not turns:
        return counted(divisions, unit)
    if not divisions:
        return f"{counted(turns, 'turn')} exactly"
    return f"{counted(turns, 'turn')} and {counted(divisions, unit)}"
