"""The ways of turning a taper with this workshop, the best first, each with what it wants, what there is, and why.

Top slide at the angle, within its travel; a taper attachment, within its length and angle; the tailstock set over, between
centres only; a step-off chart and the file. An amount that the workshop file does not give is not known, and said so.

Which way a slide is swung follows from the tool's path seen from above: toward the headstock it goes toward the operator
where the work grows that way and is cut on the operator's side. In a bore cut on its far side it is the other way round:
so a plug and the bore it goes into, both with their ends toward the tailstock, share one setting.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from handwheel.plan.names import said
from handwheel.workshop.records import TaperAttachment, Workshop

TOP, ATTACHMENT, TAILSTOCK, STEPS = "top slide", "taper attachment", "tailstock set-over", "step-off chart"
TOWARD, AWAY = "headstock end toward the operator", "headstock end away from the operator"
BALL_CENTRES_DEG = 2.0
"""From this angle on the centres bear on an edge and ball centres are wanted: common practice, no source. [deg]"""


@dataclass(frozen=True, slots=True)
class TaperWay:
    """A way of turning a taper. `fits`: None where the workshop file does not say enough. `why`: what decides, with the
    numbers. needs_mm, has_mm: of the slide's travel, the attachment's length, the tailstock's set-over. [mm]"""

    name: str
    fits: bool | None
    needs_mm: float | None
    has_mm: float | None
    why: str


def side_of(*, grows: bool, is_far: bool = False) -> str:
    """Which way a slide or bar is swung for a side that grows toward the headstock, or not; `is_far`: of a bore cut on the
    side away from the operator."""
    return TOWARD if grows != is_far else AWAY


def taper_ways(
    angle_deg: float, length_mm: float, shop: Workshop, between_mm: float | None, *, is_inside: bool
) -> tuple[TaperWay, ...]:
    """Every way there might be, the best first; the first that is not ruled out is the one to take.

    Parameters
        angle_deg: of the side to the axis. [deg]
        length_mm: along the axis. [mm]
        shop: what is at hand.
        between_mm: length of the work between centres; None where it is not held so. [mm]
        is_inside: a bore, which neither a set-over tailstock nor a chart makes.
    """
    found = [_by_top_slide(angle_deg, length_mm, shop)]
    if shop.lathe.attachment is not None:
        found.append(_by_attachment(angle_deg, length_mm, shop.lathe.attachment, shop))
    if not is_inside:
        found.append(_by_tailstock(angle_deg, shop, between_mm))
        found.append(TaperWay(STEPS, True, None, None, "cross slide and carriage line by line, then the file"))
    return tuple(found)


def chosen(ways: tuple[TaperWay, ...]) -> TaperWay | None:
    """The first that is not ruled out."""
    return next((way for way in ways if way.fits is not False), None)


def ruled_out(ways: tuple[TaperWay, ...]) -> str:
    """The ways before the one taken, each with why it does not do; "" where the first is taken."""
    taken = chosen(ways)
    before = ways if taken is None else ways[: ways.index(taken)]
    return "; ".join(f"{way.name}: {way.why}" for way in before)


def not_by(ruled_out_text: str) -> str:
    """The ways that do not do, to end a reason with; "" where there are none."""
    return f". Not by the {ruled_out_text}" if ruled_out_text else ""


def _by_top_slide(angle: float, length: float, shop: Workshop) -> TaperWay:
    wheel, most, units = shop.lathe.wheels.get("top slide"), shop.lathe.top_slide_swivel_deg, shop.units
    slope = length / math.cos(math.radians(angle))
    if wheel is None:
        return TaperWay(TOP, False, slope, None, "there is none")
    if most is not None and angle > most:
        why = f"it swings to {most:g}°, {angle:.3f}° wanted; from the cross slide's direction that is {90.0 - angle:.3f}°"
        return TaperWay(TOP, False, slope, wheel.travel_mm, why)
    if wheel.travel_mm is not None and slope > wheel.travel_mm + 1e-9:
        why = f"its slope of {said(units, slope)} is longer than the top slide's travel of {said(units, wheel.travel_mm)}"
        return TaperWay(TOP, False, slope, wheel.travel_mm, why)
    if wheel.travel_mm is None or most is None:
        what = " and ".join(w for w, v in (("its travel", wheel.travel_mm), ("how far it swings", most)) if v is None)
        return TaperWay(TOP, None, slope, wheel.travel_mm, f"{what} not known: try it by hand first")
    return TaperWay(TOP, True, slope, wheel.travel_mm, "the slope against the top slide's travel")


def run_up_mm(angle_deg: float, play_mm: float) -> float:
    """How far the carriage goes before play across is taken up, and the tool with it begins to move across. [mm]

    The bar leads the slide by tan of its angle for each of carriage: play / tan. [deg], [mm]
    """
    return play_mm / math.tan(math.radians(angle_deg))


def _by_attachment(angle: float, length: float, owned: TaperAttachment, shop: Workshop) -> TaperWay:
    units, most, has = shop.units, owned.greatest_angle_deg, owned.length_mm
    needs = length + (run_up_mm(angle, owned.play_mm) if owned.play_mm else 0.0)
    if most is not None and angle > most:
        return TaperWay(ATTACHMENT, False, needs, has, f"it goes to {most:g}°, {angle:.3f}° wanted")
    if has is not None and needs > has + 1e-9:
        run_up = "" if needs == length else f", {said(units, needs - length)} of it to take up its play,"
        return TaperWay(ATTACHMENT, False, needs, has, f"{said(units, needs)} wanted{run_up}, it leads {said(units, has)}")
    if has is None or most is None:
        what = " and ".join(w for w, v in (("how far it leads", has), ("its greatest angle", most)) if v is None)
        return TaperWay(ATTACHMENT, None, needs, has, f"{what} not known: try it by hand first")
    return TaperWay(ATTACHMENT, True, needs, has, "length and angle against what it leads")


def _by_tailstock(angle: float, shop: Workshop, between: float | None) -> TaperWay:
    units, has = shop.units, shop.lathe.tailstock_set_over_mm
    if between is None:
        return TaperWay(TAILSTOCK, False, None, has, "only between centres")
    over = between * math.sin(math.radians(angle))
    balls = "; centres with ball ends" if angle > BALL_CENTRES_DEG else ""
    wants = f"{said(units, between)} between centres × sin {angle:.3f}° wants the tailstock set over {said(units, over)}"
    if has is None:
        return TaperWay(TAILSTOCK, None, over, None, f"{wants}; how far it goes is not known: try it first{balls}")
    if over > has + 1e-9:
        return TaperWay(TAILSTOCK, False, over, has, f"{wants}; it goes {said(units, has)}")
    return TaperWay(TAILSTOCK, True, over, has, f"{wants}{balls}")
