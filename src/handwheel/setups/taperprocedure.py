"""The set-up of a taper in the order in which it is worked through, with this workshop's figures."""

from __future__ import annotations

import math

from handwheel.base.tolerance import EQUAL_MM
from handwheel.job.records import Unit
from handwheel.plan.records import Operation, Stage
from handwheel.readings.dial import dial, unit_of
from handwheel.readings.words import in_unit, is_shown, length_text, turns_text, unit_name
from handwheel.setups.records import Figure, Procedure, Step
from handwheel.setups.sinebar import (
    Stack,
    block_and_stack,
    fewest_blocks,
    finest_step_mm,
    sine_bar_angle_deg,
    sine_bar_stack_mm,
)
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
from handwheel.stages.records import Bore, Sweep
from handwheel.workshop.records import Workshop

SPAN_MM = {Unit.INCH: 50.8, Unit.MM: 50.0}
"""Travel over which an indicator's figure is given: a length that most slides have."""
FINE_MM = {Unit.INCH: 0.0254, Unit.MM: 0.02}
"""The difference of two diameters for which the correction is given: what a micrometer shows with ease."""
HEIGHT_MM = 0.25
"""A tool off centre height by so much, for the figure that says what that does. [mm]"""


def taper_procedure(stage: Stage, shop: Workshop) -> Procedure | None:
    """The set-up of a stage that turns or bores a taper by the top slide; None for any other stage."""
    operation = stage.operation
    angle = next((s.value for s in operation.settings if s.layer == "slide angle" and s.unit == "deg"), None)
    ends = taper_of(operation, angle)
    if operation.kind not in ("taper", "bore") or ends is None:
        return None
    blank = 2.0 * float(stage.before.outer[:, 1].max())
    return Procedure("taper", taper_steps(shop), taper_figures(ends, shop, blank, None))


def taper_of(operation: Operation, angle: float | None) -> Taper | None:
    """The taper from the angle set and the greatest and least radius of the cut; None where it has no slope."""
    if angle is None or not 0.0 < angle < 90.0:
        return None
    if isinstance(operation.cut, Sweep):
        radii = [float(r) for _, r in operation.cut.path]
    elif isinstance(operation.cut, Bore):
        radii = [float(r) for _, r in operation.cut.profile if r > 0.0]
    else:
        return None
    large, small = 2.0 * max(radii), 2.0 * min(radii)
    if large - small < EQUAL_MM:
        return None
    length = (large - small) / 2.0 / math.tan(math.radians(angle))
    return Taper(large, small, length, is_inside=operation.kind == "bore")


def taper_steps(shop: Workshop) -> tuple[Step, ...]:
    """What to do, the same for every taper."""
    over, steep = length_text(shop.habit("rough allowance"), shop.units), 2.0 * shop.habit("capability angle")
    wheel = shop.lathe.wheels.get("cross slide")
    dialled = ""
    if wheel is not None and wheel.divisions > 0:
        turns, divisions, _ = dial(shop.habit("rough allowance") / 2.0, wheel)
        dialled = f" ({turns_text(turns, divisions, unit_of(wheel))} of the cross slide)"
    return (
        Step("tool height", "exact: a tool off height cuts the side hollow and leaves the small end over, as a wrong angle "
             "does. Height first, then angle"),
        Step("angle", "by protractor, then by an indicator at rest that bears on the slide's side while the carriage moves "
             "(tangent), or one carried by the top slide along a true bar (sine), or by a sine bar"),
        Step("begin", f"{steep:g}° too steep, and the small end left {over}{dialled} over: the cut runs out early and leaves "
             "metal all along. Then close in"),
        Step("correct", "measure two diameters as far apart as there is room. Their difference too small: steeper; too "
             "large: shallower, by the figures below. Blue at the large end of a plug: too steep; at its small end: too "
             "shallow; in a bore the other way round"),
        Step("keep", "leave the slide as it stands until the mate is cut too: a bore on its far side, or with the tool "
             "upside down; think first which way the spindle must turn, and lock a screwed chuck"),
    )  # fmt: skip


def taper_figures(
    taper: Taper, shop: Workshop, blank_mm: float | None, between_centres_mm: float | None
) -> tuple[Figure, ...]:
    """One taper's figures.

    Parameters
        taper: the taper.
        shop: the workshop.
        blank_mm: diameter of the metal before it; None where not known. [mm]
        between_centres_mm: length of the work between centres; None where it is not held so. [mm]
    """
    units, angle = shop.units, taper.half_angle_deg
    found = [*angle_figures(angle, shop)]
    ways = methods(taper, shop, between_centres_mm)
    until = next((k for k, way in enumerate(ways) if way.fits), len(ways)) + 1
    found += [Figure(way.name, _method(way, shop)) for way in ways[:until]]
    found += _begin(taper, shop, blank_mm)
    found.append(_correct(taper, units))
    found += _height(taper, units)
    held = shop.habit("capability diameter")
    found.append(Figure(
        "seat", f"{length_text(held, units)} on the diameter is {length_text(seat_travel_mm(held, angle), units)} along"))
    return tuple(found)


def angle_figures(half_angle_deg: float, shop: Workshop) -> tuple[Figure, ...]:
    """What sets a slide to an angle, where no more than the angle is known. [deg]"""
    units, span = shop.units, SPAN_MM[shop.units]
    per = f"in {length_text(span, units)}"
    whole, minutes = divmod(round(half_angle_deg * 60.0), 60)
    side, bar = on_side_mm(half_angle_deg, span), along_bar_mm(half_angle_deg, span)
    found = [
        Figure("angle to the axis", f"{half_angle_deg:.3f}° ({whole}° {minutes:02d}′)"),
        Figure("on the slide's side (tangent)", f"{length_text(side, units)} {per} of the carriage"),
        Figure("along a true bar (sine)", f"{length_text(bar, units)} {per} of the slide"),
    ]
    if shop.sine_bar_mm is not None and shop.gauge_blocks_mm:
        found.append(Figure("sine bar", _blocks(half_angle_deg, shop.sine_bar_mm, shop.gauge_blocks_mm, units)))
    return tuple(found)


def _method(method: Method, shop: Workshop) -> str:
    needs = "" if method.needs_mm is None else length_text(method.needs_mm, shop.units)
    has = "" if method.has_mm is None else f" of {length_text(method.has_mm, shop.units)}"
    verdict = {True: "", False: "does not do: ", None: ""}[method.fits]
    return f"{verdict}{'; '.join(filter(None, (needs + has, method.why)))}"


def _blocks(angle: float, centres: float, blocks: tuple[float, ...], units: Unit) -> str:
    if angle > 60.0:
        return f"{angle:.3f}° is too steep for it: set {90.0 - angle:.3f}° from the square"
    wanted, within = sine_bar_stack_mm(angle, centres), (finest_step_mm(blocks) or 0.01) / 2.0
    stack, on = fewest_blocks(wanted, blocks, within), f"on {length_text(centres, units)}"
    if stack is not None:
        return f"{on}: {stack_words(stack, units)}, which sets {sine_bar_angle_deg(stack.makes_mm, centres):.4f}°"
    both = block_and_stack(wanted, blocks, within)
    if both is None:
        return f"{on}: {length_text(wanted, units)} cannot be made of the blocks owned"
    under, stack = both
    sets = sine_bar_angle_deg(stack.makes_mm - under, centres)
    return f"{on}: {stack_words(stack, units)} under one roller, {_block(under, units)} under the other, which sets {sets:.4f}°"


def stack_words(stack: Stack, units: Unit) -> str:
    """`4 + 0.13 + 0.1001 in = 4.2301 in`."""
    if len(stack.blocks_mm) == 1:
        return f"{_block(stack.blocks_mm[0], units)} {unit_name(units)}"
    sizes = " + ".join(_block(block, units) for block in stack.blocks_mm)
    return f"{sizes} = {in_unit(stack.makes_mm, units):.4f} {unit_name(units)}"


def _block(size_mm: float, units: Unit) -> str:
    """A block's size as it is marked."""
    return f"{in_unit(size_mm, units):.5f}".rstrip("0").rstrip(".")


def _height(taper: Taper, units: Unit) -> list[Figure]:
    off = min(HEIGHT_MM, taper.small_mm / 4.0)
    over, hollow = end_off_mm(taper.large_mm, taper.small_mm, off)
    if not is_shown(over, units):
        return []
    words = f"small end {length_text(over, units)} over"
    words += f", side {length_text(hollow, units)} hollow" if is_shown(hollow, units) else ""
    return [Figure(f"tool {length_text(off, units)} off height", words)]


def _begin(taper: Taper, shop: Workshop, blank_mm: float | None) -> list[Figure]:
    over, steep = shop.habit("rough allowance"), 2.0 * shop.habit("capability angle")
    found = []
    if blank_mm is not None and not taper.is_inside:
        short = runs_out_short_mm(taper, over, steep, blank_mm)
        if short > 0.0:
            found.append(Figure("first cut runs out before the large end by", length_text(short, shop.units)))
    if taper.large_mm - taper.small_mm > over:
        shallow = most_shallow_deg(taper, over)
        found.append(Figure("under at the large end if too shallow by", f"{shallow:.3f}°"))
    return found


def _correct(taper: Taper, units: Unit) -> Figure:
    """What a difference of two diameters at its ends says of the angle."""
    span, fine = SPAN_MM[units], FINE_MM[units]
    off = math.degrees(fine / (2.0 * taper.length_mm)) * math.cos(math.radians(taper.half_angle_deg)) ** 2
    return Figure(
        f"end diameters' difference out by {length_text(fine, units)}",
        f"{off * 60.0:.2f}′: {length_text(span * math.radians(off), units)} on the arc {length_text(span, units)} from the pivot",
    )
