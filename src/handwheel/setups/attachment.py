"""The set-up of a taper attachment: its scale, then an indicator; its play taken up; the correction as change on its scale.

An indicator in the tool post that bears on a true bar, its axis the lathe's, reads the tangent over the carriage's travel.
"""

from __future__ import annotations

import math

from handwheel.plan.attachment import LAYER, scale_text, scale_value
from handwheel.plan.records import Stage
from handwheel.plan.taperways import run_up_mm
from handwheel.readings.words import length_text, trimmed
from handwheel.setups.closingin import begin_figures, gauge_figures
from handwheel.setups.records import Figure, Procedure, Step
from handwheel.setups.taperprocedure import FINE_MM, SPAN_MM, height_figures, taper_of
from handwheel.setups.tapers import Taper, half_angle_deg, on_side_mm
from handwheel.workshop.records import TaperAttachment, Workshop

SCALE_UNITS = {"angle to axis": "°", "included angle": "°", "inches per foot": " in per foot", "mm in 100 mm": " mm in 100 mm"}
STEPS = (
    Step("tool height", "exact, as for any taper: height first, then angle"),
    Step("angle", "the bar to its scale and nipped; then an indicator in the tool post on a true bar between centres, the "
         "carriage moved over the length given; tap the bar until it reads the amount; bolts tight, and read again"),
    Step("play", "every cut begins with the carriage well beyond the work, by the figure below, and goes one way: what lies in "
         "the play comes out parallel. Never wind back through the cut"),
    Step("begin", "too steep and short, as in the figures; then close in"),
    Step("creep", "with a gauge set over size, as in the figures"),
    Step("correct", "two diameters as far apart as there is room, and clear of the start. Their difference too small: steeper; "
         "too large: shallower, by the figure below, past it and back so that the same side of the play bears"),
    Step("set back", "when all is done: clamp on the bed off, the cross slide's screw made fast again where it was freed, a bar "
         "turned and measured at both ends"),
)  # fmt: skip


def attachment_procedure(stage: Stage, shop: Workshop) -> Procedure | None:
    """The set-up of a stage that turns or bores a taper by the attachment; None for any other stage."""
    angle = next((s.value for s in stage.operation.settings if s.layer == LAYER), None)
    ends, owned = taper_of(stage.operation, angle), shop.lathe.attachment
    if ends is None or owned is None:
        return None
    blank = 2.0 * float(stage.before.outer[:, 1].max())
    figures = (*attachment_figures(ends, shop, owned, blank), *(Figure(*found) for found in stage.operation.figures))
    return Procedure(LAYER, STEPS, figures)


def attachment_figures(taper: Taper, shop: Workshop, owned: TaperAttachment, blank_mm: float | None) -> tuple[Figure, ...]:
    """Scale, indicator, run-up, where to begin, the gauge, and the correction. blank_mm: None where not known. [mm]"""
    units, angle, span = shop.units, taper.half_angle_deg, SPAN_MM[shop.units]
    side = f"{length_text(on_side_mm(angle, span), units)} in {length_text(span, units)} of the carriage"
    return (
        Figure("angle to the axis", f"{angle:.3f}°: {scale_text(angle, owned)}"),
        Figure("indicator on a true bar (tangent)", side),
        Figure("play", _play(angle, owned, shop)),
        *begin_figures(taper, shop, blank_mm, span),
        *gauge_figures(taper, shop),
        Figure(f"difference of the diameters {length_text(taper.length_mm, units)} apart out by "
               f"{length_text(FINE_MM[units], units)}", _correct(taper, owned, shop)),
        *height_figures(taper, units),
    )  # fmt: skip


def _play(angle: float, owned: TaperAttachment, shop: Workshop) -> str:
    units = shop.units
    play = owned.play_mm if owned.play_mm is not None else FINE_MM[units]
    far = length_text(run_up_mm(angle, play), units)
    if owned.play_mm is None:
        return (f"not known: an indicator on the cross slide, the carriage moved until it stirs; each {length_text(play, units)} "
                f"across takes {far} of the carriage")  # fmt: skip
    return f"{length_text(play, units)} across: start {far} or more beyond the work; less, and so much of its end comes parallel"


def scale_change(wanted_deg: float, is_deg: float, reads: str) -> str:
    """`0.012 in per foot more`: the correction on a scale; "" where there is none. [deg]"""
    wanted, was = scale_value(wanted_deg, reads), scale_value(is_deg, reads)
    if wanted is None or was is None:
        return ""
    return f"{trimmed(abs(wanted - was), 4)}{SCALE_UNITS[reads]} {'more' if wanted > was else 'less'}"


def _correct(taper: Taper, owned: TaperAttachment, shop: Workshop) -> str:
    """What a small difference of the end diameters says, on the scale and by the indicator."""
    angle, span, fine = taper.half_angle_deg, SPAN_MM[shop.units], FINE_MM[shop.units]
    was = half_angle_deg(taper.large_mm, taper.small_mm + fine, taper.length_mm)
    scale, off = scale_change(angle, was, owned.reads), span * (math.tan(math.radians(angle)) - math.tan(math.radians(was)))
    lines = ""
    value, old = scale_value(angle, owned.reads), scale_value(was, owned.reads)
    if owned.line and value is not None and old is not None:
        lines = f" ({trimmed(abs(value - old) / owned.line, 2)} of a line)"
    told = f"{scale.rsplit(' ', 1)[0]}{lines} on the scale, " if scale else ""
    return f"{told}{length_text(off, shop.units)} on the indicator in {length_text(span, shop.units)}"
