"""The strip beside a sum: an amount to take off in turns and divisions of the wheel that takes it off.

Amounts are added up on the strip (0.137 is 0.100 and 0.030 and ...), so no row is rounded to a line: it carries a
hundredth of a division and the sum is rounded once, by the hand that dials it.
"""

from __future__ import annotations

from handwheel.job.records import Unit
from handwheel.plan.records import Sum
from handwheel.readings.dial import unit_of
from handwheel.readings.of import ON_THE_RADIUS
from handwheel.readings.records import Strip, StripRow
from handwheel.readings.words import INCH_MM, counted, trimmed
from handwheel.workshop.records import Handwheel

AMOUNTS_INCH = (0.001, 0.002, 0.003, 0.005, 0.010, 0.020, 0.030, 0.050, 0.100, 0.200, 0.300, 0.500)
AMOUNTS_MM = (0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 1.0, 2.0, 3.0, 5.0, 10.0, 20.0)
TINY = 1e-6
LEAST_SHOWN = 0.01
"""An amount that moves the wheel less than this part of a division has no row."""


def make_strip(sum: Sum, wheel: Handwheel | None, units: Unit) -> Strip:
    """About a dozen amounts in the workshop's unit with what each is on the wheel; no rows without a wheel.

    An amount taken off a diameter (`per_side` False) moves a cross slide or ball tool half as far; on a slide that
    works along the bed, and for an amount already per side, the slide moves the amount itself.
    """
    if wheel is None or wheel.divisions < 1:
        return Strip(sum.wheel, sum.per_side, ())
    is_halved = not sum.per_side and wheel.slide in ON_THE_RADIUS
    amounts = [(a, a * INCH_MM) for a in AMOUNTS_INCH] if units is Unit.INCH else [(a, a) for a in AMOUNTS_MM]
    rows: list[StripRow] = []
    for amount, amount_mm in amounts:
        travel_mm = amount_mm / 2 if is_halved else amount_mm
        if travel_mm / wheel.lead_mm * wheel.divisions >= LEAST_SHOWN:
            text = f"{amount:.3f} in" if units is Unit.INCH else f"{amount:.2f} mm"
            rows.append(StripRow(amount_mm, text, wheel_text(travel_mm, wheel)))
    return Strip(sum.wheel, sum.per_side, tuple(rows))


def wheel_text(travel_mm: float, wheel: Handwheel) -> str:
    """A travel as turns and hundredths of a division, not rounded to a line."""
    unit = unit_of(wheel)
    if unit == "turn":
        return f"{trimmed(travel_mm / wheel.lead_mm, 3)} turns"
    all_divisions = travel_mm / wheel.lead_mm * wheel.divisions
    turns = int((all_divisions + TINY) // wheel.divisions)
    divisions = round(all_divisions - turns * wheel.divisions, 2)
    if divisions >= wheel.divisions:
        turns, divisions = turns + 1, 0.0
    words = [counted(turns, "turn")] if turns else []
    if divisions > 0 or not turns:
        words.append(counted(abs(divisions), unit))
    return " and ".join(words)
