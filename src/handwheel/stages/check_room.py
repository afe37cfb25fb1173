"""Checks on the lathe's room: what swings, what passes behind the jaws, the jaws themselves, slides, tailstock, thin tube."""

from __future__ import annotations

import numpy as np

from handwheel.stages.case import Case, Finding
from handwheel.stages.compare import INSIDE_MM
from handwheel.stages.envelope import aligned, clip
from handwheel.stages.metal import ends
from handwheel.stages.records import Section, Sweep, Swing

THIN_SHARE = 0.05
"""A wall thinner than this share of the diameter is crushed by jaws: common practice, no source."""
JAW_SHARE = 1.0 / 3.0
"""Share of a jaw's height that may stand out of the chuck's body: common practice, no source."""
LOW_SHARE = 0.5
"""Up to this share of the centre height a cross slide is taken to leave room: common practice, no source."""
JAWS_OUT = 2.0 / 3.0
"""Where the height of the jaws is not known, it matters from this share of the body's radius on."""


def swing(case: Case) -> Finding | None:
    """Whether the work turns clear of the bed, and of the cross slide where it is cut."""
    room, context = case.context.room, case.context
    if room is None or not context.revolves:
        return None
    radius = float(case.before.outer[:, 1].max())
    if radius > room.centre_height_mm:
        return Finding(f"∅ {context.length(2 * radius)} does not swing over the bed: centre height "
                       f"{context.length(room.centre_height_mm)}", "a larger lathe")
    cut_at = _cut_radius(case)
    if cut_at is None:
        return Finding()
    over = room.over_cross_slide_mm
    if over is None:
        if cut_at <= LOW_SHARE * room.centre_height_mm:
            return Finding()
        return Finding(f"not known what swings over the cross slide; ∅ {context.length(2 * cut_at)} is cut",
                       "turn the work round by hand with the slide under it", is_warning=True)
    if 2.0 * cut_at > over:
        return Finding(f"∅ {context.length(2 * cut_at)} does not swing over the cross slide: ∅ {context.length(over)} does",
                       "a larger lathe, or face it with the slide beside it")
    if 2.0 * radius > over:
        return Finding(f"∅ {context.length(2 * radius)} beside the cut does not swing over the cross slide",
                       "see by hand that the slide stays beside it, from one end of the cut to the other", is_warning=True)
    return Finding()


def behind_the_jaws(case: Case) -> Finding | None:
    """Whether what reaches in behind the jaws passes the chuck's bore and the spindle's."""
    room, context, holding = case.context.room, case.context, case.holding
    if room is None or not context.revolves or holding.to_mm - holding.from_mm <= 0.0 or room.jaws_mm is None:
        return None
    away = 1.0 if holding.toward_tailstock == "right" else -1.0
    start = holding.face_mm - away * room.jaws_mm
    left, right = ends(case.before)
    low, high = (left, min(start, right)) if away > 0 else (max(start, left), right)
    if high - low <= INSIDE_MM:
        return Finding()
    diameter = 2.0 * float(clip(case.before.outer, low, high)[:, 1].max())
    said = f"∅ {context.length(diameter)} reaches {context.length(high - low)} in behind the jaws"
    if room.through_mm is None:
        return Finding(f"{said}; not known what passes there", "try it through the chuck first", is_warning=True)
    if diameter > room.through_mm + INSIDE_MM:
        return Finding(f"{said}; ∅ {context.length(room.through_mm)} passes", "shorter stock, or grip it elsewhere")
    if room.spindle_bore_mm is None:
        return Finding(f"{said}; not known what the spindle's bore passes", "try it first", is_warning=True)
    if diameter > room.spindle_bore_mm + INSIDE_MM:
        return Finding(f"{said}; the spindle's bore passes ∅ {context.length(room.spindle_bore_mm)}",
                       "see that it ends within the chuck, or shorter stock", is_warning=True)
    return Finding()


def jaws_out(case: Case) -> Finding | None:
    """Whether the jaws stand out of the chuck's body by more than a third of their height."""
    room, context, holding = case.context.room, case.context, case.holding
    if room is None or not context.revolves or not room.has_jaws or room.body_radius_mm is None:
        return None
    radius = holding.grip_radius_mm
    if room.jaw_height_mm is None:
        if radius <= JAWS_OUT * room.body_radius_mm:
            return Finding()
        return Finding(f"not known how far the jaws stand out of the chuck's body on ∅ {context.length(2 * radius)}",
                       "no more than a third of a jaw outside; else turn the jaws round", is_warning=True)
    out = radius + room.jaw_height_mm - room.body_radius_mm
    if out <= JAW_SHARE * room.jaw_height_mm:
        return Finding()
    return Finding(f"the jaws stand {context.length(out)} out of the chuck's body on ∅ {context.length(2 * radius)}, a third of "
                   f"their height is {context.length(JAW_SHARE * room.jaw_height_mm)}",
                   "the outside jaws, or jaws turned round; mind the knuckles", is_warning=True)


def thin_tube(case: Case) -> Finding | None:
    """Whether jaws would press a thin wall out of round."""
    room, context, holding = case.context.room, case.context, case.holding
    if room is None or not room.has_jaws or holding.to_mm - holding.from_mm <= INSIDE_MM:
        return None
    wall = _least_wall(case.before, holding.from_mm, holding.to_mm)
    if wall is None:
        return None
    diameter = 2.0 * holding.grip_radius_mm
    if wall >= THIN_SHARE * diameter:
        return Finding()
    return Finding(f"jaws on a wall of {context.length(wall)}, ∅ {context.length(diameter)} outside: less than a twentieth",
                   "soft jaws or a split bush all round, a plug in the bore, or hold it by the bore", is_warning=True)


def slides(case: Case) -> Finding | None:
    """Whether every slide has the travel its move wants."""
    room, context = case.context.room, case.context
    if room is None or not room.travels:
        return None
    unknown = [t for t in room.travels if t.travel_mm is None]
    short = [t for t in room.travels if t.travel_mm is not None and t.exact_mm > t.travel_mm + INSIDE_MM]
    for travel in short:
        fault = (f"the {travel.wheel} has {context.length(travel.travel_mm or 0.0)} of travel, "
                 f"{context.length(travel.exact_mm)} wanted")
        if travel.wheel == "tailstock":
            return Finding(fault, "wind it back, move the tailstock up by its body against a rule, and go on",
                           is_warning=True)
        return Finding(fault, "in two settings of the slide, or another way of cutting it")
    if unknown:
        what = ", ".join(dict.fromkeys(t.wheel for t in unknown))
        return Finding(f"not known how far the {what} travels", "wind it from end to end before starting", is_warning=True)
    return Finding()


def set_over(case: Case) -> Finding | None:
    """The top slide swung: nothing is known of its body against chuck and tailstock, so it is tried by hand."""
    room, context = case.context.room, case.context
    if room is None or room.slide_angle_deg is None:
        return None
    angle, most = room.slide_angle_deg, room.swivel_deg
    if most is not None and angle > most + 1e-6:
        return Finding(f"the top slide sets over to {most:g}°, {angle:.3f}° wanted",
                       "a form tool, or both slides by a step-off chart")
    against = "chuck and tailstock" if case.holding.centre_mm is not None else "chuck"
    wants = "" if room.top_crank_mm is None else f", which wants {context.length(room.top_crank_mm)},"
    reach = "" if most is not None else f" sets over to {angle:.3f}°, and whether it"
    return Finding(f"not known whether the top slide{reach} at its set-over angle, and its handle{wants} clear the {against}",
                   "run it by hand to both ends of its travel, the lathe still; the tailstock away where no centre is in use",
                   is_warning=True)


def tailstock_hand(case: Case) -> Finding | None:
    """The room the hand wants at the tailstock's wheel."""
    room = case.context.room
    if room is None or not room.is_pushed:
        return None
    if room.tail_crank_mm is None:
        return Finding("not known what room the tailstock's handle wants", "turn it through by hand at both ends of the travel",
                       is_warning=True)
    return Finding()


def _cut_radius(case: Case) -> float | None:
    """Greatest radius of the metal that the tool is over; None where nothing is cut on the outside. [mm]"""
    if not isinstance(case.cut, Sweep | Swing) or isinstance(case.cut, Sweep) and case.cut.inside:
        return None
    both = aligned(case.before.outer, case.after.outer)
    with np.errstate(invalid="ignore"):
        gone = (np.abs(both.a0 - both.b0) > INSIDE_MM) | (np.abs(both.a1 - both.b1) > INSIDE_MM)
    return float(np.maximum(both.a0, both.a1)[gone].max()) if gone.any() else None


def _least_wall(section: Section, low: float, high: float) -> float | None:
    """Least wall between two stations; None where it is solid all along. [mm]"""
    outer, inner = clip(section.outer, low, high), clip(section.inner, low, high)
    if len(outer) < 2 or float(inner[:, 1].max()) <= INSIDE_MM:
        return None
    both = aligned(outer, inner)
    return float(min((both.a0 - both.b0).min(), (both.a1 - both.b1).min()))
