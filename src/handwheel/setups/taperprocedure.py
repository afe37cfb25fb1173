"""The set-up of a taper in the order in which it is worked through, with this workshop's figures."""

from __future__ import annotations

import math

from handwheel.job.records import Unit
from handwheel.plan.records import Operation, Stage
from handwheel.readings.dial import dial, unit_of
from handwheel.readings.words import length_text, turns_text
from handwheel.setups.records import Procedure, Step
from handwheel.setups.sinebar import Stack, fewest_blocks, finest_step_mm, sine_bar_angle_deg, sine_bar_stack_mm
from handwheel.setups.tapers import (
    Method,
    Taper,
    along_bar_mm,
    end_off_mm,
    methods,
    most_shallow_deg,
    on_side_mm,
    runs_out_short_mm,
    seat_travel_mm,
)
from handwheel.workshop.records import Workshop

SPAN_MM = {Unit.INCH: 50.8, Unit.MM: 50.0}
"""Travel over which an indicator's figure is given: a length that most slides have."""
HEIGHT_MM = 0.25
"""A tool off centre height by so much, for the figure that says what that does. [mm]"""


def taper_procedure(stage: Stage, shop: Workshop) -> Procedure | None:
    """The set-up of a stage that turns or bores a taper by the top slide; None for any other stage."""
    operation = stage.operation
    angle = next((s.value for s in operation.settings if s.layer == "slide angle" and s.unit == "deg"), None)
    ends = _ends(operation, stage, angle)
    if operation.kind not in ("taper", "bore") or angle is None or ends is None:
        return None
    name = ", ".join(operation.why.features) or "taper"
    blank = 2.0 * float(stage.before.outer[:, 1].max())
    return Procedure(f"{name}: taper", taper_steps(ends, shop, blank, None))


def _ends(operation: Operation, stage: Stage, angle: float | None) -> Taper | None:
    """The taper between the ends of the cut, from the slope's own travel and the diameter the cross slide makes."""
    slope = next((m for m in operation.moves if m.wheel == "top slide"), None)
    across = next((m for m in operation.moves if m.wheel == "cross slide" and m.makes is not None), None)
    if slope is None or across is None or across.makes is None or angle is None:
        return None
    length = slope.exact_mm * math.cos(math.radians(angle))
    rise = 2.0 * slope.exact_mm * math.sin(math.radians(angle))
    end = across.makes.value_mm
    if operation.kind == "bore":
        return Taper(end, end - rise, length, is_inside=True)
    return Taper(end + rise, end, length)


def taper_steps(taper: Taper, shop: Workshop, blank_mm: float | None, between_centres_mm: float | None) -> tuple[Step, ...]:
    """The steps of a taper's set-up.

    Parameters
        taper: the taper.
        shop: the workshop.
        blank_mm: diameter of the metal before it; None where not known. [mm]
        between_centres_mm: length of the work between centres; None where it is not held so. [mm]
    """
    units = shop.units
    found = [
        Step("way", "; ".join(_method(m, shop) for m in methods(taper, shop, between_centres_mm))),
        Step("angle", _angle(taper, units)),
    ]
    if shop.sine_bar_mm is not None and shop.gauge_blocks_mm:
        found.append(Step("sine bar", _blocks(taper.half_angle_deg, shop.sine_bar_mm, shop.gauge_blocks_mm, units)))
    found.append(Step("tool height", _height(taper, units)))
    found.append(Step("begin", _begin(taper, shop, blank_mm)))
    found.append(Step("correct", correct_words(taper.half_angle_deg, taper.length_mm, units)))
    seat = seat_travel_mm(shop.habit("capability diameter"), taper.half_angle_deg)
    found.append(Step(
        "seat", f"{length_text(shop.habit('capability diameter'), units)} on the diameter lets it "
        f"{length_text(seat, units)} farther into its seat. Leave the slide as it stands until its mate is cut too: a bore "
        "on the far side, or with the tool upside down and the spindle's way of turning thought of first"))  # fmt: skip
    return tuple(found)


def _method(method: Method, shop: Workshop) -> str:
    needs = "" if method.needs_mm is None else f" {length_text(method.needs_mm, shop.units)}"
    has = "" if method.has_mm is None else f" of {length_text(method.has_mm, shop.units)}"
    verdict = {True: "", False: "not by ", None: "perhaps by "}[method.fits]
    return f"{verdict}{method.name}{needs}{has} ({method.why})"


def _angle(taper: Taper, units: Unit) -> str:
    angle, span = taper.half_angle_deg, SPAN_MM[units]
    whole, minutes = divmod(round(angle * 60.0), 60)
    return (
        f"{angle:.3f}° ({whole}° {minutes}′) to the axis. By protractor first. Then an indicator at rest, bearing on the "
        f"slide's side: {length_text(on_side_mm(angle, span), units)} in {length_text(span, units)} of the carriage "
        f"(tangent); or one carried by the top slide along a true bar: {length_text(along_bar_mm(angle, span), units)} in "
        f"{length_text(span, units)} of the slide (sine)"
    )


def _blocks(angle: float, centres: float, blocks: tuple[float, ...], units: Unit) -> str:
    if angle > 60.0:
        return f"{angle:.3f}° is too steep for a sine bar: set {90.0 - angle:.3f}° from the square"
    wanted = sine_bar_stack_mm(angle, centres)
    stack = fewest_blocks(wanted, blocks, (finest_step_mm(blocks) or 0.01) / 2.0)
    if stack is None:
        return f"a stack of {length_text(wanted, units)} cannot be made of these blocks"
    return f"on {length_text(centres, units)}: {stack_words(stack, units)}, which sets " \
        f"{sine_bar_angle_deg(stack.makes_mm, centres):.4f}°"


def stack_words(stack: Stack, units: Unit) -> str:
    """`0.1001 + 0.130 + 4.000 in = 4.2301 in`."""
    scale, name, places = (25.4, "in", 4) if units is Unit.INCH else (1.0, "mm", 4)
    sizes = " + ".join(f"{block / scale:.{places}f}".rstrip("0").rstrip(".") for block in stack.blocks_mm)
    return f"{sizes} = {stack.makes_mm / scale:.{places}f} {name}"


def _height(taper: Taper, units: Unit) -> str:
    over, hollow = end_off_mm(taper.large_mm, taper.small_mm, min(HEIGHT_MM, taper.small_mm / 4.0))
    return (
        f"exact: a tool {length_text(min(HEIGHT_MM, taper.small_mm / 4.0), units)} off height leaves the small end "
        f"{length_text(over, units)} over and the side {length_text(hollow, units)} hollow, which looks like a wrong angle; "
        "height first, then angle"
    )


def _begin(taper: Taper, shop: Workshop, blank_mm: float | None) -> str:
    over, steep = shop.habit("rough allowance"), 2.0 * shop.habit("capability angle")
    text = (
        f"set {steep:g}° too steep and leave the small end {length_text(over, shop.units)} over; too shallow by more than "
        f"{most_shallow_deg(taper, over):.3f}° it would already be under at the large end"
    )
    if blank_mm is not None and not taper.is_inside:
        short = runs_out_short_mm(taper, over, steep, blank_mm)
        if short > 0.0:
            text += f". So set the cut runs out {length_text(short, shop.units)} before the large end"
    wheel = shop.lathe.wheels.get("cross slide")
    if wheel is not None and wheel.divisions > 0:
        turns, divisions, _ = dial(over / 2.0, wheel)
        text += f"; those are {turns_text(turns, divisions, unit_of(wheel))} of the cross slide"
    return text


def correct_words(angle: float, length_mm: float, units: Unit) -> str:
    """What two diameters a length apart say of the angle, as one figure for each part of a thousandth."""
    fine = 0.0254 if units is Unit.INCH else 0.02
    off = math.degrees(fine / (2.0 * length_mm)) * math.cos(math.radians(angle)) ** 2
    span = SPAN_MM[units]
    moved = span * math.radians(off)
    return (
        f"measure two diameters {length_text(length_mm, units)} apart. Each {length_text(fine, units)} that their difference "
        f"is too small, set {off * 60.0:.2f}′ steeper: {length_text(moved, units)} on the arc {length_text(span, units)} from "
        "the pivot. Blue at the large end of a plug: too steep; at the small end: too shallow; in a bore the other way round"
    )
