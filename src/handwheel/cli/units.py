"""One value as text with its unit."""

from __future__ import annotations

from handwheel.job.records import Measure, Unit
from handwheel.readings.words import INCH_MM, PLACES, fixed, in_unit, unit_name

POUND_G = 453.59237
FIGURES = 5


def value_text(measure: Measure, value: float, units: Unit) -> str:
    """A value with its unit: `0.5625 in`, `14.288 mm`, `2.5°`, `0.05000 (1 in 20.000)`, `27.4 g`, `0.21 in3`."""
    if measure is Measure.ANGLE:
        return f"{fixed(value, 4)}°"
    if measure is Measure.RATIO:
        return f"{fixed(value, 5)} (1 in {fixed(1 / value, 3)})" if value else "0"
    if measure is Measure.MASS:
        return f"{value / POUND_G:.4g} lb" if units is Unit.INCH else f"{value:.4g} g"
    if measure in (Measure.AREA, Measure.VOLUME):
        power = 2 if measure is Measure.AREA else 3
        amount = value / INCH_MM**power if units is Unit.INCH else value
        return f"{amount:.{FIGURES}g} {unit_name(units)}{power}"
    figure = fixed(in_unit(value, units), PLACES[units])
    return f"{figure.lstrip('-') if float(figure) == 0.0 else figure} {unit_name(units)}"


def other_text(measure: Measure, value: float, units: Unit) -> str:
    """A length in that other unit; nothing for what has only one."""
    return value_text(measure, value, units) if measure is Measure.LENGTH else ""
