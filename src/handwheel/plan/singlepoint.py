"""Threads cut by a pointed tool from the leadscrew: where no die or tap is at hand, or none can get there.

The depth is the basic profile's, taken in passes that each take off the same area of chip, so that every one is finer
than the last. Change gears are the lathe's own table's.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from handwheel.job.records import OutsideKind
from handwheel.plan.bench import NO_CUTTER, Bench, CannotMakeError, cutter_of, length_makes
from handwheel.plan.bored import bar_of
from handwheel.plan.caution import caution_for
from handwheel.plan.names import said
from handwheel.plan.records import CutList, Makes, Move, Pass, Setting, Why
from handwheel.plan.threadwords import fit_figures, limits_of
from handwheel.plan.view import Link
from handwheel.stages.envelope import clip
from handwheel.stages.records import Cutter, NoCut
from handwheel.tables.threads import Thread
from handwheel.workshop.records import Handwheel, Workshop

FIRST_MM = 0.25
"""Depth of the first pass: common practice, no source. [mm]"""
LEAST_OUTSIDE_MM, LEAST_INSIDE_MM = 5.0, 10.0
"""Finer threads are for dies and taps: below this a point and the work are too frail: common practice, no source. [mm]"""
ANGLED_FROM_MM = 1.0
"""From this pitch on one flank is cut, the top slide set over: common practice, no source. [mm]"""
LESS_DEG = 0.5
"""The slide stands this much less than the half angle, so that the other flank is shaved clean: common practice."""
RUN_OUT_PITCHES = 1.5
"""Width of the groove a tool runs out into: common practice, no source."""
SAME_DEG = 0.5
NOSE = {60.0: math.sqrt(3.0) / 12.0, 55.0: 0.137329, 47.5: 2.0 / 11.0}
"""Radius of the root by the pitch: H/6 (ISO 68-1), BS 84, BS 93."""


@dataclass(frozen=True, slots=True)
class ThreadPlace:
    """A thread to be cut between two places of u, on a surface of that radius. [mm]"""

    name: str
    thread: Thread
    u0: float
    u1: float
    radius: float
    is_inside: bool = False

    @property
    def root_radius(self) -> float:
        """Of the screw's root, or of the nut's. [mm]"""
        return (self.thread.major_mm if self.is_inside else self.thread.minor_external_mm) / 2.0

    @property
    def depth(self) -> float:
        """From the surface as made to the root. [mm]"""
        return abs(self.radius - self.root_radius)


def pass_depths(depth_mm: float, first_mm: float = FIRST_MM) -> tuple[float, ...]:
    """Depth reached by each pass, the last the whole: d·√(k/n), which takes the same area each time. [mm]"""
    count = max(2, math.ceil((depth_mm / first_mm) ** 2 - 1e-9))
    return tuple(depth_mm * math.sqrt(k / count) for k in range(1, count + 1))


def infeed_angle(thread: Thread, shop: Workshop) -> float:
    """From the cross slide's direction, the top slide's set-over for cutting one flank; 0: straight in. [deg]"""
    swivel, half = shop.lathe.top_slide_swivel_deg, thread.angle_deg / 2.0
    if thread.pitch_mm < ANGLED_FROM_MM or swivel is None or "top slide" not in shop.lathe.wheels:
        return 0.0
    return next((a for a in (half - LESS_DEG, half) if 90.0 - a <= swivel + 1e-9), 0.0)


def over_a_die(bench: Bench, place: ThreadPlace) -> str:
    """What stands in a die's way between the tailstock end and the thread, or ""."""
    if bench.holding.centre_mm is not None:
        return "the tailstock's centre"
    return _larger(bench, place, [link for link in bench.view.links if link.u1 > place.u1 + 1e-6])


def under_a_die(bench: Bench, place: ThreadPlace) -> str:
    """What would stand in its way with the other end at the tailstock, or ""."""
    return _larger(bench, place, [link for link in reversed(bench.view.links) if link.u0 < place.u0 - 1e-6])


def _larger(bench: Bench, place: ThreadPlace, links: Sequence[Link]) -> str:
    """The first of the links that a die for the thread does not pass over, or ""."""
    root = place.root_radius
    for link in links:
        is_plain = link.kind is OutsideKind.CYLINDER and not link.feature.thread and link.r0 > root + 0.01
        if is_plain or link.greatest > place.thread.major_mm / 2.0 + 0.01:
            return f"{link.name}, Ø {said(bench.shop.units, 2 * link.greatest)}"
    return ""


def can_single_point(shop: Workshop, thread: Thread, is_inside: bool) -> bool:
    """Whether this lathe is known to have a leadscrew, and the thread is stout enough for a pointed tool."""
    least = LEAST_INSIDE_MM if is_inside else LEAST_OUTSIDE_MM
    return shop.lathe.leadscrew_pitch_mm is not None and thread.major_mm >= least


def single_point(bench: Bench, place: ThreadPlace, because: str) -> None:
    """The thread by pointed tool. Raises CannotMakeError."""
    thread, units = place.thread, bench.shop.units
    has_groove = runs_out(bench, place)
    if thread.is_left_hand and not has_groove:
        raise CannotMakeError(
            place.name, f"{place.name}: a left-hand thread is fed away from the headstock, and has no groove to start in",
            "a groove as deep as the thread at its headstock end, or a left-hand die or tap")  # fmt: skip
    room, wanted = place.u0 - bench.view.u(bench.holding.face_mm), bench.shop.habit("chuck clearance")
    if not place.is_inside and room < wanted + RUN_OUT_PITCHES * thread.pitch_mm - 1e-9:
        raise CannotMakeError(place.name, f"the threading tool would run out within {said(units, room)} of the chuck",
                              "more of the bar outside the jaws, or the other end toward the tailstock")  # fmt: skip
    if place.is_inside:
        bar_of(bench, place.name, place.u0, place.u1, place.root_radius)
    angle = 0.0 if place.is_inside else infeed_angle(thread, bench.shop)
    why = Why("single-point", (place.name,), f"{place.name}: {thread.designation}, full thread "
              f"{said(units, place.u1 - place.u0)}; {because}")  # fmt: skip
    wrong = bench.attempt(
        "thread", NoCut(), _tool(bench, place), why,
        setting=f"{bench.setting}|threading {thread.pitch_mm:.4f} mm", caution=_caution(place, bench.shop),
        moves=_moves(bench, place, angle), settings=_settings(bench, place, angle), note=_note(bench, place, angle, has_groove),
        figures=() if place.is_inside else fit_figures(bench.shop, thread, limits_of(thread, is_nut=False)))
    bench.must(place.name, "a die or a tap", wrong)


def runs_out(bench: Bench, place: ThreadPlace) -> bool:
    """Whether beyond the thread's headstock end there is room as deep as its root, wide enough, or no metal at all."""
    profile = bench.section.inner if place.is_inside else bench.section.outer
    low, high = bench.view.span(place.u0 - RUN_OUT_PITCHES * place.thread.pitch_mm, place.u0)
    beyond = clip(profile, low + 1e-6, high - 1e-6)
    if len(beyond) < 2 or beyond[-1, 0] - beyond[0, 0] < high - low - 0.01:
        return True
    if place.is_inside:
        return bool((beyond[:, 1] >= place.root_radius - 0.01).all())
    return bool((beyond[:, 1] <= place.root_radius + 0.01).all())


def _tool(bench: Bench, place: ThreadPlace) -> Cutter:
    thread, units = place.thread, bench.shop.units
    nose = f"nose R {said(units, NOSE.get(thread.angle_deg, 0.0) * thread.pitch_mm)}"
    if place.is_inside:
        return Cutter(f"inside threading tool, {thread.angle_deg:g}°", "pointed", NO_CUTTER.outline, False)
    for tool in bench.shop.tools:
        if tool.kind == "pointed" and tool.owned and abs(_point_deg(tool.outline_mm) - thread.angle_deg) < SAME_DEG:
            return cutter_of(tool, bench.view)
    return Cutter(f"threading tool, {thread.angle_deg:g}°, {nose}", "pointed", NO_CUTTER.outline, False)


def _point_deg(outline: Sequence[tuple[float, float]]) -> float:
    """Included angle between the two edges at the setting point. [deg]"""
    if len(outline) < 3:
        return 0.0
    return sum(math.degrees(math.atan2(abs(z), r)) for z, r in (outline[1], outline[-1]))


def _moves(bench: Bench, place: ThreadPlace, angle: float) -> tuple[Move, ...]:
    units = bench.shop.units
    touched = f"touched on {place.name} as turned, Ø {said(units, 2 * place.radius)}"
    if place.is_inside:
        touched = f"touched in {place.name}, Ø {said(units, 2 * place.radius)}"
    makes = Makes(f"{place.name} root diameter", 2 * place.root_radius, None, None, True)
    if not angle:
        way = "out" if place.is_inside else "in"
        return (Move("cross slide", way, touched, place.depth, makes, "fed by the leadscrew", _cuts(place)),)
    along = place.depth / math.cos(math.radians(angle))
    return (Move("top slide", "in", touched, along, length_makes(f"{place.name} depth along the slide", along),
                 "in the passes listed; the cross slide goes back to the same zero for each"),)  # fmt: skip


def _cuts(place: ThreadPlace) -> CutList:
    """The passes as a list of cuts, straight in, the last of them again without more."""
    depths, sign = pass_depths(place.depth), 1.0 if place.is_inside else -1.0
    kinds = ["rough"] * (len(depths) - 1) + ["last"]
    passes = [Pass(d, 2.0 * (place.radius + sign * d), kind) for d, kind in zip(depths, kinds, strict=True)]
    again = Pass(place.depth, 2.0 * place.root_radius, "spring")
    pitch = place.thread.pitch_mm
    return CutList((*passes, again), 2.0 * depths[0], "the habit of a first pass", pitch, pitch)


def _divisions(wheel: Handwheel, travel_mm: float) -> str:
    """A travel in divisions of that wheel, to the least worth dialling."""
    steps = round(travel_mm * wheel.divisions / wheel.lead_mm / wheel.smallest_part)
    whole, part = divmod(steps * Fraction(wheel.smallest_part).limit_denominator(100), 1)
    return f"{whole} {part}".strip() if whole and part else str(part or whole)


def _settings(bench: Bench, place: ThreadPlace, angle: float) -> tuple[Setting, ...]:
    thread, units, lathe = place.thread, bench.shop.units, bench.shop.lathe
    toward = "away from the headstock" if thread.is_left_hand else "toward the headstock"
    pitch = f"{said(units, thread.pitch_mm)}, {25.4 / thread.pitch_mm:.4g} to the inch"
    hand = "left-hand: tumbler reversed, " if thread.is_left_hand else ""
    found = [Setting("gears", f"for a pitch of {pitch}, by the lathe's own table; {hand}fed {toward}",
                     "changing the gears for another feed")]  # fmt: skip
    screw = lathe.leadscrew_pitch_mm or 0.0
    times = screw / thread.pitch_mm
    if abs(times - round(times)) < 1e-6 and round(times) >= 1:
        text = f"the nut may be closed anywhere: the leadscrew's {said(units, screw)} is {round(times)} times the pitch"
    else:
        text = ("the nut stays closed from first pass to last (tool out, spindle turned back by hand, in again), or is closed by "
                "the chasing dial's own table")  # fmt: skip
    found.append(Setting("pick-up", text, "opening the nut off its mark; moving the work in the chuck"))
    found.append(Setting("tool", f"point square to the work by a {thread.angle_deg:g}° thread gauge, at centre height",
                         "regrinding or moving the tool"))  # fmt: skip
    if angle:
        found.append(Setting("slide angle", f"top slide {angle:g}° from the cross slide's direction ({90 - angle:g}° from the "
                             "lathe's axis): it cuts one flank and shaves the other", "swinging the top slide", 90.0 - angle,
                             "deg"))  # fmt: skip
    return tuple(found)


def _note(bench: Bench, place: ThreadPlace, angle: float, has_groove: bool) -> str:
    units = bench.shop.units
    words = [f"depth {said(units, place.depth)}"]
    if angle:
        share, wheel = 1.0 / math.cos(math.radians(angle)), bench.shop.lathe.wheels["top slide"]
        listed = "; ".join(f"{_divisions(wheel, share * d)} ({said(units, share * d)})" for d in pass_depths(place.depth))
        words.append(f"passes, divisions of the top slide from the touch: {listed}; then the last again without more")
    if not has_groove:
        width = RUN_OUT_PITCHES * place.thread.pitch_mm
        words.append(f"no groove to run out into ({said(units, width)} wide would do): spindle by hand over the last turn, tool "
                     "drawn out at the same mark each time")  # fmt: skip
    words.append("try in the mate, or over wires, before the last passes")
    return "; ".join(words)


def _caution(place: ThreadPlace, shop: Workshop) -> str:
    hand = "Left-hand: it starts in the groove beside the chuck; turn over by hand there first. " if (
        place.thread.is_left_hand) else "Turn over by hand to where the tool runs out first. "
    chuck = ("no reverse under power: this chuck screws on" if shop.lathe.has_screwed_chuck else
             "no reverse under power unless the chuck is locked on" if shop.lathe.has_screwed_chuck is None else
             "stop before reversing")  # fmt: skip
    return f"{caution_for('single point')} {hand}{chuck[0].upper()}{chuck[1:]}."

