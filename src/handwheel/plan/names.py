"""What the planner calls ends and places, in the job file's words."""

from __future__ import annotations

import math
from fractions import Fraction

from handwheel.job.records import Side, Unit


def end_name(toward: Side, *, headstock: bool) -> str:
    """'left' or 'right': the side of a feature that lies toward the headstock, or the tailstock."""
    return str(toward.other if headstock else toward)


def said(units: Unit, length_mm: float) -> str:
    """A length as this workshop's sheets say it."""
    return f"{length_mm / 25.4:.4f} in" if units is Unit.INCH else f"{length_mm:.3f} mm"


def sawn_mm(length_mm: float, units: Unit) -> float:
    """The next line up that a saw is led to: a thirty-second of an inch, or a millimetre. Common practice, no source. [mm]"""
    step = 25.4 / 32.0 if units is Unit.INCH else 1.0
    return math.ceil(length_mm / step - 1e-6) * step


def line_text(units: Unit, length_mm: float) -> str:
    """That line as a rule has it: '2 11/16 in', '68 mm'."""
    line = sawn_mm(length_mm, units)
    if units is Unit.MM:
        return f"{line:.0f} mm"
    whole, part = divmod(Fraction(round(line / 25.4 * 32.0), 32), 1)
    return " ".join(filter(None, (str(whole) if whole or not part else "", str(part) if part else "", "in")))
