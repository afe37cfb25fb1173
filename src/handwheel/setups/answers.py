"""What the measurements of a ball or a taper say of its set-up, in words: what is out, by how much, which way."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from handwheel.job.records import Unit
from handwheel.readings.words import is_shown, length_text
from handwheel.setups.attachment import scale_change
from handwheel.setups.form import BallMeasures, Way
from handwheel.setups.inverse import BallErrors, Likely, ball_errors, which_way
from handwheel.setups.passes import MEASURE_MM
from handwheel.setups.tapercorrect import Correction
from handwheel.setups.taperprocedure import SPAN_MM

BALL_SIZES = ("equator", "headstock side", "free side", "pole", "pip")
COVERED = 2.0
"""Standard uncertainties each way that are told as plus or minus: about 95 in 100. Source: JCGM 100:2008, 6.2."""
LIGHT_MM = 0.05
"""A light cut, on the radius: common practice, no source. [mm]"""


@dataclass(frozen=True, slots=True)
class Moved:
    """A deliberate move that was made since an amount was told, and that amount. [mm]"""

    by_mm: float
    before_mm: float
    of: str


def ball_words(
    read_mm: Mapping[str, float], radius_mm: float, gauge_error_mm: float, way: Way, units: Unit, moved: Sequence[Moved] = ()
) -> tuple[str, ...]:
    """What was measured on a ball, as the likely errors of the tool's set-up and what to do, in the order to do it.

    Parameters
        read_mm: `BALL_SIZES` as far as measured. [mm]
        radius_mm: wanted. [mm]
        gauge_error_mm: plus or minus of each reading. [mm]
        way: how it was swung.
        units: of the words.
        moved: deliberate moves of the height and the cross slide since the measurement before, one of each at most.
    """
    measures = BallMeasures(*(read_mm.get(name) for name in BALL_SIZES))
    errors = dict.fromkeys(("equator", "near", "far", "pole", "pip"), gauge_error_mm)
    found = ball_errors(measures, radius_mm, errors, way)
    lines: list[str] = []
    for likely, of in ((found.height, "height"), (found.cross, "cross")):
        lines += _beside(likely, of, found, radius_mm, units, next((turn for turn in moved if turn.of == of), None))
    lines += _stop(found.centre, units)
    return (*lines, *_screw(found.radius, radius_mm, units, _to_clean_mm(found), is_alone=not lines), *_open(found))


def _amount(likely: Likely, units: Unit) -> str:
    return f"{length_text(abs(likely.mm), units)}, give or take {length_text(COVERED * likely.uncertainty_mm, units)}"


def _is_shown(likely: Likely) -> bool:
    return abs(likely.mm) > COVERED * likely.uncertainty_mm


def _screw(likely: Likely | None, wanted_mm: float, units: Unit, to_clean_mm: float, is_alone: bool) -> list[str]:
    """What is still on. With the axis off height the equator has less on than the tip: so the screw is the last."""
    if likely is None:
        return []
    over = Likely(likely.mm - wanted_mm, likely.uncertainty_mm)
    if not _is_shown(over):
        return [f"radius: to size as far as this gauge shows (give or take {length_text(COVERED * over.uncertainty_mm, units)})"]
    if over.mm < 0.0:
        return [f"radius: {_amount(over, units)}, under: no screw puts metal back"]
    after = "" if is_alone else ", when what stands above is right"
    words = f"radius: {_amount(over, units)}, still on: advance the ball tool's screw by that{after}"
    spare, deepest = over.mm - to_clean_mm, to_clean_mm - LIGHT_MM - over.mm
    if deepest > COVERED * over.uncertainty_mm:
        return [f"{words}; where the wrong setting cut deepest it is about {length_text(deepest, units)} under size already"]
    if over.mm <= MEASURE_MM:
        return [words]
    if spare < LIGHT_MM:
        return [f"{words}; less would not cut all over"]
    return [f"{words}; stop {length_text(min(MEASURE_MM / 2.0, spare), units)} short of it and measure again"]


def _to_clean_mm(found: BallErrors) -> float:
    """How far in the tip must go, height and stop put right, before it cuts where the wrong setting took most. [mm]"""
    low = 0.0 if found.height is None else found.height.mm if found.way is Way.FULL else -found.height.mm
    along = 0.0 if found.centre is None else abs(found.centre.mm)
    return max(0.0, low) + along + LIGHT_MM


def _stop(likely: Likely | None, units: Unit) -> list[str]:
    if likely is None:
        return []
    if not _is_shown(likely):
        return [f"carriage stop: nothing shows beyond {length_text(COVERED * likely.uncertainty_mm, units)}"]
    way = "headstock" if likely.mm > 0.0 else "tailstock"
    return [f"carriage stop: {_amount(likely, units)}, to be moved toward the {way}"]


def _beside(
    likely: Likely | None, of: str, found: BallErrors, wanted_mm: float, units: Unit, moved: Moved | None
) -> list[str]:
    """The height or the cross slide, whose direction is told only where something shows it."""
    if likely is None:
        return []
    screw = "swing axis" if of == "height" else "cross slide"
    if not _is_shown(likely):
        kept = "" if moved is None else "; the move was the right way"
        return [f"{screw}: nothing shows beyond {length_text(COVERED * likely.uncertainty_mm, units)}{kept}"]
    if of == "height" and found.way is Way.ABOVE:
        side, act = ("above", "lower") if likely.mm > 0.0 else ("below", "raise")
        return [f"{screw}: {_amount(likely, units)}, {side} the lathe's axis: {act} it by that"]
    if moved is not None:
        turn = which_way(Likely(moved.before_mm, likely.uncertainty_mm), likely, moved.by_mm)
        way = "on the same way" if turn.go_on_mm >= 0.0 else "back"
        told = "right" if turn.was_right else "wrong"
        return [f"{screw}: the move was the {told} way (at least {min(99, math.floor(100.0 * turn.chance))} chances in 100): "
                f"go {length_text(abs(turn.go_on_mm), units)} {way}"]  # fmt: skip
    return [f"{screw}: {_amount(likely, units)}, direction unknown: {_trial(likely, of, found, wanted_mm, units)}"]


def _trial(likely: Likely, of: str, found: BallErrors, wanted_mm: float, units: Unit) -> str:
    """The deliberate move that tells the direction.

    Of the height by h: the right way the equator gains h, so the tip goes in by h and a light cut before it cuts there, and
    by what the stop is moved as well; the wrong way it loses h twice. So all that must be on the tip's radius, or the wrong
    way ends under size.
    """
    on = None if found.radius is None else found.radius.mm - wanted_mm
    first = _to_clean_mm(found)
    needs = first + (2.0 * likely.mm if of == "height" else 0.0)
    if on is not None and on < needs:
        other = "go by the equal-gap test" if of == "height" else "stone the pip off"
        return f"too little is left on for a trial move: {other}"
    known = "" if on is not None else f" (with {length_text(needs, units)} at least still on the radius)"
    begin, again = ("by the equal-gap test; or move", "") if of == "height" else ("move", " the pip")
    return (f"{begin} that much past the lost motion, advance the screw by {length_text(first, units)} so that it cuts all "
            f"over{known}, measure{again} again, and keep it or come back by twice")  # fmt: skip


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
    per = length_text(span, units)
    if not is_shown(correction.arc_mm(span), units):
        return (*lines, f"what is left, {change:.4f}°, is less than shows on an arc {per} from the pivot: left as it is")
    steeper = "steeper" if correction.change_deg > 0.0 else "shallower"
    return (
        *lines,
        f"set {change:.4f}° ({change * 60.0:.1f}′) {steeper}",
        f"arc, {per} from the pivot: {length_text(abs(correction.arc_mm(span)), units)}",
        f"indicator on the slide's side, in {per} of the carriage: {_more(correction.on_side_mm(span), units)}",
        f"indicator along a true bar, in {per} of the slide: {_more(correction.along_bar_mm(span), units)}",
        f"tailstock set over, for each {per} between centres: {_more(correction.set_over_mm(span), units)}",
        f"taper attachment's scale: {_scales(correction)}",
        "then cut until the whole side is bright, before it is measured again",
    )


def _scales(correction: Correction) -> str:
    """The change on each kind of scale that counts the taper on the diameter; degrees are told already."""
    kinds = ("inches per foot", "mm in 100 mm")
    return ", or ".join(scale_change(correction.wanted_deg, correction.is_deg, kind) for kind in kinds)


def _more(length_mm: float, units: Unit) -> str:
    return f"{length_text(abs(length_mm), units)} {'more' if length_mm > 0.0 else 'less'}"
