"""Lengths as they are printed: the job's unit first, the other beside it; limits never rounded outward."""

from __future__ import annotations

import math

from handwheel.job.records import Measure, Unit

MM_PER_INCH = 25.4


def _places(value: float, unit: Unit) -> int:
    coarse = 3 if unit is Unit.INCH else 2
    return coarse if abs(value - round(value, coarse)) < 2e-6 else coarse + 1


def in_unit(mm: float, unit: Unit) -> float:
    """A length in the given unit."""
    return mm / MM_PER_INCH if unit is Unit.INCH else mm


def bare(mm: float, unit: Unit) -> str:
    """The figures of a length alone: 3 or 4 places of an inch, 2 or 3 of a millimetre."""
    value = in_unit(mm, unit)
    text = f"{value:.{_places(value, unit)}f}"
    return text[1:] if text.startswith("-") and float(text) == 0 else text.replace("-", "−")


def mark(unit: Unit) -> str:
    """'in' or 'mm'."""
    return "in" if unit is Unit.INCH else "mm"


def other_unit(unit: Unit) -> Unit:
    """The unit that stands lighter beside."""
    return Unit.MM if unit is Unit.INCH else Unit.INCH


def length(mm: float, unit: Unit) -> str:
    """A length with its unit."""
    return f"{bare(mm, unit)} {mark(unit)}"


def both(mm: float, unit: Unit) -> tuple[str, str]:
    """A length in the job's unit and in the other."""
    return length(mm, unit), length(mm, other_unit(unit))


def limits(low_mm: float, high_mm: float, unit: Unit) -> str:
    """'LOW to HIGH' with the unit, each limit rounded inward (to nearest where that would leave nothing between)."""
    places = 4 if unit is Unit.INCH else 3
    step = 10.0**-places
    low, high = in_unit(low_mm, unit), in_unit(high_mm, unit)
    inner_low = math.ceil(low / step - 1e-6) * step
    inner_high = math.floor(high / step + 1e-6) * step
    if inner_low <= inner_high:
        low, high = inner_low, inner_high
    return f"{low:.{places}f} to {high:.{places}f} {mark(unit)}"


def measure_text(value: float, measure: Measure, unit: Unit) -> str:
    """A size of any measure: a length with its unit, degrees, or a taper as 1 in N on diameter."""
    if measure is Measure.ANGLE:
        return f"{value:.3f}".rstrip("0").rstrip(".") + "°"
    if measure is Measure.RATIO:
        return f"1 in {1 / value:.4g} on Ø" if value else "no taper"
    return length(value, unit)


def figures(value: float) -> str:
    """A count of divisions: whole, or with the part of a division worth dialling as ½, ¼, ¾ or a decimal."""
    whole = math.floor(value + 1e-9)
    part = value - whole
    for sign, worth in (("", 0.0), ("½", 0.5), ("¼", 0.25), ("¾", 0.75)):
        if abs(part - worth) < 1e-6:
            return f"{whole}{sign}" if whole or not sign else sign
    return f"{value:.2f}".rstrip("0").rstrip(".")
