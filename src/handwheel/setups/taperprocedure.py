"""The set-up of a taper in the order in which it is worked through, with this workshop's figures."""

from __future__ import annotations

import math

from handwheel.base.tolerance import EQUAL_MM
from handwheel.job.records import Unit
from handwheel.plan.records import Operation, Stage
from handwheel.plan.taperways import TaperWay
from handwheel.readings.words import in_unit, is_shown, length_text, unit_name
from handwheel.setups.closingin import begin_figures, gauge_figures
from handwheel.setups.records import Figure, Procedure, Step
from handwheel.setups.sinebar import (
    Stack,
    block_and_stack,
    fewest_blocks,
    finest_step_mm,
    sine_bar_angle_deg,
    sine_bar_stack_mm,
)
from handwheel.setups.sketches import ENDS, narrow_end, short, swung_for, taper_sketches
from handwheel.setups.tapers import Taper, along_bar_mm, end_off_mm, methods, on_side_mm
from handwheel.stages.records import Bore, Sweep
from handwheel.workshop.records import Workshop

SPAN_MM = {Unit.INCH: 50.8, Unit.MM: 50.0}
"""Travel over which an indicator's figure is given: a length that most slides have."""
FINE_MM = {Unit.INCH: 0.0254, Unit.MM: 0.02}
"""The difference of two diameters for which the correction is given: what a micrometer shows with ease."""
HEIGHT_MM = 0.25
"""A tool off centre height by so much, for the figure that says what that does. [mm]"""
MOST_SINE_DEG = 60.0
"""Steeper than this no sine bar is set."""


def taper_procedure(stage: Stage, shop: Workshop) -> Procedure | None:
    """The set-up of a stage that turns or bores a taper by the top slide; None for any other stage."""
    operation = stage.operation
    angle = next((s.value for s in operation.settings if s.layer == "slide angle" and s.unit == "deg"), None)
    ends = taper_of(operation, angle)
    if operation.kind not in ("taper", "bore") or ends is None:
        return None
    blank = 2.0 * float(stage.before.outer[:, 1].max())
    pictures = taper_sketches(ends, shop, SPAN_MM[shop.units], _stacks(ends.half_angle_deg, shop),
                              narrow_end(operation), swung_for(operation))  # fmt: skip
    figures = (*taper_figures(ends, shop, blank, None), *(Figure(*found) for found in operation.figures))
    return Procedure("taper", taper_steps(shop), figures, sketches=pictures)


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
    steep = 2.0 * shop.habit("capability angle")
    return (
        Step("tool height", "exact: a tool off height cuts the side hollow and leaves the small end over, as a wrong angle "
             "does. Height first, then angle"),
        Step("angle", "by protractor, then by an indicator at rest that bears on the slide's side while the carriage moves "
             "(tangent), or one carried by the top slide along a true bar (sine), or by a sine bar"),
        Step("begin", f"{steep:g}° too steep, and short of size at the end it begins at, as in the figures: the cut runs out "
             "early and leaves metal all along. Then close in"),
        Step("creep", "a gauge set over the size, tried on as it comes near, stands off far along for a little on the "
             "diameter: as in the figures"),
        Step("correct", "measure two diameters as far apart as there is room. Their difference too small: steeper; too "
             "large: shallower, by the figures below. Blue at the large end of a plug: too steep; at its small end: too "
             "shallow; in a bore the other way round"),
        Step("keep", "leave the slide until the mate is cut too. A bore that narrows inward takes a plug's setting on its far "
             "side: tool upside down, spindle forward. Right way up it would want the spindle backward, which unscrews a "
             "screwed chuck: not without its lock"),
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
    found += [Figure(f"by {way.name}", _method(way, shop)) for way in ways[:until]]
    large, small, length = (short(size, units) for size in (taper.large_mm, taper.small_mm, taper.length_mm))
    found.append(Figure(ENDS, f"Ø {large}, Ø {small}, {length}"))
    found += begin_figures(taper, shop, blank_mm, SPAN_MM[units])
    found += gauge_figures(taper, shop)
    found.append(_correct(taper, units))
    found += height_figures(taper, units)
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
        found.append(Figure("sine bar", _blocks(half_angle_deg, shop.sine_bar_mm, shop)))
    return tuple(found)


def _method(method: TaperWay, shop: Workshop) -> str:
    needs = "" if method.needs_mm is None else length_text(method.needs_mm, shop.units)
    has = "" if method.has_mm is None else f" of {length_text(method.has_mm, shop.units)}"
    verdict = {True: "", False: "does not do: ", None: ""}[method.fits]
    return f"{verdict}{'; '.join(filter(None, (needs + has, method.why)))}"


def _stacks(angle: float, shop: Workshop) -> tuple[float, Stack] | None:
    """The block under one roller of the sine bar, 0 where none, and the stack under the other; None: not to be had. [mm]"""
    if shop.sine_bar_mm is None or not shop.gauge_blocks_mm or angle > MOST_SINE_DEG:
        return None
    wanted, within = sine_bar_stack_mm(angle, shop.sine_bar_mm), (finest_step_mm(shop.gauge_blocks_mm) or 0.01) / 2.0
    stack = fewest_blocks(wanted, shop.gauge_blocks_mm, within)
    return (0.0, stack) if stack is not None else block_and_stack(wanted, shop.gauge_blocks_mm, within)


def _blocks(angle: float, centres: float, shop: Workshop) -> str:
    units = shop.units
    if angle > MOST_SINE_DEG:
        return f"{angle:.3f}° is too steep for it: set {90.0 - angle:.3f}° from the square"
    both, on = _stacks(angle, shop), f"on {length_text(centres, units)}"
    if both is None:
        return f"{on}: {length_text(sine_bar_stack_mm(angle, centres), units)} cannot be made of the blocks owned"
    under, stack = both
    if not under:
        return f"{on}: {stack_words(stack, units)}, which sets {sine_bar_angle_deg(stack.makes_mm, centres):.4f}°"
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


def height_figures(taper: Taper, units: Unit) -> list[Figure]:
    """What a tool off centre height does."""
    off = min(HEIGHT_MM, taper.small_mm / 4.0)
    over, hollow = end_off_mm(taper.large_mm, taper.small_mm, off)
    if not is_shown(over, units):
        return []
    words = f"small end {length_text(over, units)} over"
    words += f", side {length_text(hollow, units)} hollow" if is_shown(hollow, units) else ""
    return [Figure(f"tool {length_text(off, units)} off height", words)]


def _correct(taper: Taper, units: Unit) -> Figure:
    """What a difference of two diameters at its ends says of the angle."""
    span, fine = SPAN_MM[units], FINE_MM[units]
    off = math.degrees(fine / (2.0 * taper.length_mm)) * math.cos(math.radians(taper.half_angle_deg)) ** 2
    return Figure(
        f"end diameters' difference out by {length_text(fine, units)}",
        f"{off * 60.0:.2f}′: {length_text(span * math.radians(off), units)} on the arc {length_text(span, units)} from the pivot",
    )
