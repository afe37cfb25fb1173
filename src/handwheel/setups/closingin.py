"""A taper crept up to: where the first cut begins, and what a gauge set over the finished size tells while it comes near.

A gauge set to what the taper measures a stated way in from its small end stops short of that mark by off / (2 tan) while the
taper is `off` over size on the diameter: so a small amount on the diameter is read as a large one along.
"""

from __future__ import annotations

import math

from handwheel.job.records import Unit
from handwheel.readings.dial import dial, unit_of
from handwheel.readings.words import counted, figure, length_text, turns_text, unit_name
from handwheel.setups.records import Figure
from handwheel.setups.tapers import Taper, most_shallow_deg, on_side_mm, runs_out_short_mm, seat_travel_mm
from handwheel.workshop.records import Workshop

MARK_MM = {Unit.INCH: 12.7, Unit.MM: 10.0}
"""In from the small end to where a gauge is set, where the taper is long enough: common practice, no source. [mm]"""
OFF_MM = {Unit.INCH: (0.0127, 0.0254, 0.0508, 0.127), Unit.MM: (0.01, 0.02, 0.05, 0.1)}
"""Amounts over size that are told where the cross slide has no lines. [mm]"""
LINES = (1.0, 2.0, 5.0)
"""Lines of the cross slide for which it is told."""


def mark_mm(taper: Taper, units: Unit) -> float:
    """How far in from the small end (of a bore, from its mouth) the gauge is set. [mm]"""
    return min(MARK_MM[units], taper.length_mm / 2.0)


def preset_mm(taper: Taper, units: Unit) -> float:
    """What the gauge is set to there: over the small end by twice the tangent for each of the way in. [mm]"""
    along = 2.0 * mark_mm(taper, units) * math.tan(math.radians(taper.half_angle_deg))
    return taper.large_mm - along if taper.is_inside else taper.small_mm + along


def gauge_figures(taper: Taper, shop: Workshop) -> tuple[Figure, ...]:
    """What the gauge is set to, and what its standing off means on the diameter and on the cross slide's wheel."""
    units, mark, size = shop.units, mark_mm(taper, shop.units), preset_mm(taper, shop.units)
    if taper.is_inside:
        words = (f"a plug turned to the taper, with a line where it measures {length_text(taper.large_mm, units, 'Ø')}: at size "
                 "when the line comes to the mouth; it stands out while the bore is small")  # fmt: skip
    else:
        words = (f"micrometer locked at {length_text(size, units, 'Ø')}, a line {length_text(mark, units)} from the small end: "
                 "at size when the anvils' edge toward the large end comes to the line; short of it, still over")  # fmt: skip
    return Figure("gauge set over size", words), Figure("it stands off by", _table(taper, shop))


def _table(taper: Taper, shop: Workshop) -> str:
    """`0.40 along for 0.02 on Ø, 1/2 division; ...`: by the cross slide's lines where it has some."""
    units, wheel = shop.units, shop.lathe.wheels.get("cross slide")
    rows = []
    if wheel is None or wheel.divisions <= 1:
        rows = [(off, "") for off in OFF_MM[units]]
    else:
        line = 2.0 * wheel.lead_mm / wheel.divisions
        counts = dict.fromkeys((wheel.smallest_part, *LINES))
        rows = [(count * line, f", {counted(count, unit_of(wheel))}") for count in counts]
    told = (f"{figure(seat_travel_mm(off, taper.half_angle_deg), units)} along for {figure(off, units)} on Ø{lines}"
            for off, lines in rows)  # fmt: skip
    return f"{'; '.join(told)} ({unit_name(units)})"


def begin_figures(taper: Taper, shop: Workshop, blank_mm: float | None, span: float) -> tuple[Figure, ...]:
    """Where the first cut begins, steep and short, in this workshop's divisions.

    Parameters
        blank_mm: diameter before it; None where not known. span: of carriage for the indicator. [mm]
    """
    units, over, steep = shop.units, shop.habit("rough allowance"), 2.0 * shop.habit("capability angle")
    angle = taper.half_angle_deg + steep
    end, way = ("mouth", "under") if taper.is_inside else ("small end", "over")
    side = f"{length_text(on_side_mm(angle, span), units)} in {length_text(span, units)} of the carriage"
    found = [Figure("begin", f"at {angle:.3f}°: {side}; {end} left {length_text(over, units)} {way}{_short_of(over, shop)}")]
    if blank_mm is not None and not taper.is_inside:
        short = runs_out_short_mm(taper, over, steep, blank_mm)
        if short > 0.0:
            found.append(Figure("first cut runs out before the large end by",
                                f"{length_text(short, units)}{_slide_for(taper.length_mm - short, angle, shop)}"))  # fmt: skip
    if taper.large_mm - taper.small_mm > over:
        shallow = most_shallow_deg(taper, over)
        where = "the bottom" if taper.is_inside else "the large end"
        found.append(Figure(f"{'over' if taper.is_inside else 'under'} at {where} if too shallow by", f"{shallow:.3f}°"))
    return tuple(found)


def _short_of(over_mm: float, shop: Workshop) -> str:
    wheel = shop.lathe.wheels.get("cross slide")
    if wheel is None or wheel.divisions <= 1:
        return ""
    turns, divisions, _ = dial(over_mm / 2.0, wheel)
    return f", {turns_text(turns, divisions, unit_of(wheel))} of the cross slide short of the last line"


def _slide_for(along_mm: float, angle_deg: float, shop: Workshop) -> str:
    """How far the top slide goes until the cut runs out."""
    wheel = shop.lathe.wheels.get("top slide")
    if wheel is None or wheel.divisions <= 1 or along_mm <= 0.0:
        return ""
    turns, divisions, _ = dial(along_mm / math.cos(math.radians(angle_deg)), wheel)
    return f", after {turns_text(turns, divisions, unit_of(wheel))} of the top slide"
