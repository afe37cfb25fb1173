"""What the measurements of a ball or a taper say of its set-up, in words: what is out, by how much, which way."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from handwheel.job.records import Unit
from handwheel.readings.words import length_text
from handwheel.setups.form import BallMeasures, Way
from handwheel.setups.inverse import BallErrors, Likely, ball_errors, which_way
from handwheel.setups.tapercorrect import Correction
from handwheel.setups.taperprocedure import SPAN_MM

BALL_SIZES = ("equator", "headstock side", "free side", "pole", "pip")
COVERED = 2.0
"""Standard uncertainties each way that are told as plus or minus: about 95 in 100. Source: JCGM 100:2008, 6.2."""


@dataclass(frozen=True, slots=True)
class Moved:
    """A deliberate move that was made since an amount was told, and that amount. [mm]"""

    by_mm: float
    before_mm: float
    of: str


def ball_words(
    read_mm: Mapping[str, float], radius_mm: float, gauge_error_mm: float, way: Way, units: Unit, moved: Moved | None = None
) -> tuple[str, ...]:
    """What was measured on a ball, as the likely errors of the tool's set-up and what to do.

    Parameters
        read_mm: `BALL_SIZES` as far as measured. [mm]
        radius_mm: wanted. [mm]
        gauge_error_mm: plus or minus of each reading. [mm]
        way: how it was swung.
        units: of the words.
        moved: a deliberate move of the height or the cross slide since the measurement before.
    """
    measures = BallMeasures(*(read_mm.get(name) for name in BALL_SIZES))
    errors = dict.fromkeys(("equator", "near", "far", "pole", "pip"), gauge_error_mm)
    found = ball_errors(measures, radius_mm, errors, way)
    lines = [*_screw(found.radius, radius_mm, units), *_stop(found.centre, units)]
    for likely, of, screw in ((found.height, "height", "swing axis"), (found.cross, "cross", "cross slide")):
        turned = moved if moved is not None and moved.of == of else None
        lines += _beside(likely, of, screw, found, units, turned)
    return (*lines, *_open(found))


def _amount(likely: Likely, units: Unit) -> str:
    return f"{length_text(abs(likely.mm), units)}, give or take {length_text(COVERED * likely.uncertainty_mm, units)}"


def _is_shown(likely: Likely) -> bool:
    return abs(likely.mm) > COVERED * likely.uncertainty_mm


def _screw(likely: Likely | None, wanted_mm: float, units: Unit) -> list[str]:
    if likely is None:
        return []
    over = Likely(likely.mm - wanted_mm, likely.uncertainty_mm)
    if over.mm > 0.0:
        return [f"radius: {_amount(over, units)}, still on: advance the ball tool's screw by that"]
    if not _is_shown(over):
        return [f"radius: to size as far as this gauge shows (give or take {length_text(COVERED * over.uncertainty_mm, units)})"]
    return [f"radius: {_amount(over, units)}, under: no screw puts metal back"]


def _stop(likely: Likely | None, units: Unit) -> list[str]:
    if likely is None:
        return []
    if not _is_shown(likely):
        return [f"carriage stop: nothing shows beyond {length_text(COVERED * likely.uncertainty_mm, units)}"]
    way = "headstock" if likely.mm > 0.0 else "tailstock"
    return [f"carriage stop: {_amount(likely, units)}, to be moved toward the {way}"]


def _beside(
    likely: Likely | None, of: str, screw: str, found: BallErrors, units: Unit, moved: Moved | None
) -> list[str]:
    """The height or the cross slide, whose direction is told only where something shows it."""
    if likely is None:
        return []
    if not _is_shown(likely) and moved is None:
        return [f"{screw}: nothing shows beyond {length_text(COVERED * likely.uncertainty_mm, units)}"]
    if of == "height" and found.way is Way.ABOVE:
        side, act = ("above", "lower") if likely.mm > 0.0 else ("below", "raise")
        return [f"{screw}: {_amount(likely, units)}, {side} the lathe's axis: {act} it by that"]
    if moved is not None:
        turn = which_way(Likely(moved.before_mm, likely.uncertainty_mm), likely, moved.by_mm)
        way = "on the same way" if turn.go_on_mm >= 0.0 else "back"
        told = "right" if turn.was_right else "wrong"
        return [f"{screw}: the move was the {told} way (at least {min(99, math.floor(100.0 * turn.chance))} chances in 100): "
                f"go {length_text(abs(turn.go_on_mm), units)} {way}"]  # fmt: skip
    gap = "; or by the equal-gap test" if of == "height" else ""
    return [f"{screw}: {_amount(likely, units)}, direction unknown: with more than twice that still on the radius move that "
            f"much, take a light cut, measure again, and keep it or come back by twice{gap}"]  # fmt: skip


def _open(found: BallErrors) -> list[str]:
    words = {"height": "height of the swing axis", "radius": "radius of the tip", "centre": "place of the stop", "cross":
             "cross slide (measure the pip)"}  # fmt: skip
    if not found.cannot_tell:
        return []
    return [f"cannot be told from these: {', '.join(words[name] for name in found.cannot_tell)}"]


def taper_words(correction: Correction, units: Unit, apart_mm: float) -> tuple[str, ...]:
    """A taper's correction in words: the angle turned, and what to move.

    Parameters
        correction: from two diameters or from blue.
        units: of the words.
        apart_mm: between the two diameters, or the seat's length. [mm]
    """
    span = SPAN_MM[units]
    change = abs(correction.change_deg)
    spread = "" if correction.uncertainty_deg is None else f", give or take {COVERED * correction.uncertainty_deg:.4f}°"
    lines = [f"turned: {correction.is_deg:.4f}° to the axis{spread}; wanted {correction.wanted_deg:.4f}°"]
    if not correction.is_told:
        return (*lines, f"no correction shows over {length_text(apart_mm, units)} with this gauge: measure farther apart")
    steeper = "steeper" if correction.change_deg > 0.0 else "shallower"
    per = length_text(span, units)
    return (
        *lines,
        f"set {change:.4f}° ({change * 60.0:.1f}′) {steeper}",
        f"arc, {per} from the pivot: {length_text(abs(correction.arc_mm(span)), units)}",
        f"indicator on the slide's side, in {per} of the carriage: {_more(correction.on_side_mm(span), units)}",
        f"indicator along a true bar, in {per} of the slide: {_more(correction.along_bar_mm(span), units)}",
        f"tailstock set over, for each {per} between centres: {_more(correction.set_over_mm(span), units)}",
    )


def _more(length_mm: float, units: Unit) -> str:
    return f"{length_text(abs(length_mm), units)} {'more' if length_mm > 0.0 else 'less'}"
