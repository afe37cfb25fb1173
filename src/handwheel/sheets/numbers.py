"""Lengths as the sheets print them: the job's unit first, the other lighter beside; figures as in the readings."""

from __future__ import annotations

from handwheel.job.records import Measure, Unit
from handwheel.readings.words import figure, inward, other, trimmed, unit_name


def length(mm: float, unit: Unit) -> str:
    """A length with its unit."""
    return f"{figure(mm, unit)} {unit_name(unit)}"


def both(mm: float, unit: Unit) -> tuple[str, str]:
    """A length in the job's unit and in the other."""
    return length(mm, unit), length(mm, other(unit))


def limits(low_mm: float, high_mm: float, unit: Unit) -> str:
    """'LOW to HIGH UNIT', each limit rounded inward."""
    low, high = inward(low_mm, high_mm, unit)
    return f"{low} to {high} {unit_name(unit)}"


def measure_text(value: float, measure: Measure, unit: Unit) -> str:
    """A size of any measure: a length with its unit, degrees, or a taper as 1 in N on diameter."""
    if measure is Measure.ANGLE:
        return f"{trimmed(value, 3)}°"
    if measure is Measure.RATIO:
        return f"taper 1 in {trimmed(1 / value, 3)}" if value else "no taper"
    return length(value, unit)
