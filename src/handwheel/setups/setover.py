"""The set-up of a taper with the tailstock set over: how it is set, what a piece's length does, and the correction from two
measured diameters.

Between centres the set-over s and the work's length L from centre to centre give the angle: sin θ = s / L.
"""

from __future__ import annotations

import math

from handwheel.plan.records import Stage
from handwheel.readings.words import length_text
from handwheel.setups.closingin import gauge_figures
from handwheel.setups.records import Figure, Procedure, Step
from handwheel.setups.taperprocedure import FINE_MM, SPAN_MM, taper_of
from handwheel.setups.tapers import half_angle_deg, set_over_mm
from handwheel.workshop.records import Workshop

STEPS = (
    Step("zero", "tailstock straight: a bar between centres turned at both ends alike. Indicator on its barrel, square to the "
         "bed, at zero; its line written down"),
    Step("set", "clamp slackened, over by the screws until the indicator reads the amount; clamped, and read again"),
    Step("tool height", "exact, as for any taper: height first, then angle"),
    Step("test cut", "along the whole side with metal left on; two diameters measured as far apart as there is room"),
    Step("correct", "their difference too small: farther over; too large: back, by the figure below; past the mark and "
         "return, so that the screws push the same way"),
    Step("set back", "when all pieces are done: back to the indicator's zero, then a bar turned at both ends alike, measured"),
)  # fmt: skip


def set_over_procedure(stage: Stage, shop: Workshop) -> Procedure | None:
    """The set-up of a stage that turns a taper so; None for any other stage."""
    operation = stage.operation
    holding = operation.holding
    amount = next((s.value for s in operation.settings if s.layer == "tailstock"), None)
    if amount is None or holding.centre_mm is None or holding.headstock_centre_mm is None:
        return None
    between = abs(holding.centre_mm - holding.headstock_centre_mm)
    figures = [*set_over_figures(amount, between, shop)]
    ends = taper_of(operation, math.degrees(math.asin(amount / between)))
    if ends is not None:
        figures += [_begin(ends.half_angle_deg, between, shop), *gauge_figures(ends, shop)]
    figures += [Figure(*found) for found in operation.figures]
    return Procedure("tailstock set over", STEPS, tuple(figures))


def _begin(angle_deg: float, between_mm: float, shop: Workshop) -> Figure:
    """Set over for a first cut too steep, which leaves metal all along while the small end is over size."""
    steep, over, units = 2.0 * shop.habit("capability angle"), shop.habit("rough allowance"), shop.units
    amount = length_text(set_over_mm(angle_deg + steep, between_mm), units)
    return Figure("begin", f"set over {amount}, {steep:g}° too steep, the small end left {length_text(over, units)} over size")


def set_over_figures(amount_mm: float, between_mm: float, shop: Workshop) -> tuple[Figure, ...]:
    """Amount, what a piece of another length does, and the correction for a small difference of two diameters. [mm]"""
    units, fine, span = shop.units, FINE_MM[shop.units], SPAN_MM[shop.units]
    angle = math.degrees(math.asin(amount_mm / between_mm))
    longer, right = 50.0 * fine, 2.0 * span * math.tan(math.radians(angle))
    off = right - 2.0 * span * math.tan(math.asin(amount_mm / (between_mm + longer)))
    back = correction_mm(between_mm, angle, right + fine, 0.0, span)
    has = shop.lathe.tailstock_set_over_mm
    known = "not known how far it goes" if has is None else f"of {length_text(has, units)}"
    return (
        Figure("set over", f"{length_text(amount_mm, units)} {known}: {length_text(between_mm, units)} between the centres "
               f"× sin {angle:.3f}°"),
        Figure("length of the piece", f"{length_text(longer, units)} longer between its centres: two diameters "
               f"{length_text(span, units)} apart differ by {length_text(off, units)} less"),
        Figure("correct", f"two diameters {length_text(span, units)} apart should differ by {length_text(right, units)}; "
               f"{length_text(fine, units)} off: tailstock by {length_text(abs(back), units)}"),
    )  # fmt: skip


def correction_mm(between_mm: float, wanted_deg: float, large_mm: float, small_mm: float, apart_mm: float) -> float:
    """How much farther the tailstock goes over (below zero: back) when two diameters so far apart are measured. [mm]"""
    return set_over_mm(wanted_deg, between_mm) - set_over_mm(half_angle_deg(large_mm, small_mm, apart_mm), between_mm)
