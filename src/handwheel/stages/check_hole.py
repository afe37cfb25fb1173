"""Checks on holes: what stops a reamer, a tap or a drill's point at the bottom, the boring bar, breaking into another."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from handwheel.stages.athand import BoringBar, Drilled
from handwheel.stages.bending import overhung_mm_per_n
from handwheel.stages.case import Case, Finding
from handwheel.stages.compare import INSIDE_MM
from handwheel.stages.envelope import Floats, clip, radius_at
from handwheel.stages.metal import ends
from handwheel.stages.records import Bore, Polyline, Section

STOUT = 4.0
"""A steel boring bar stands out this many of its thickness without further thought: common practice, no source."""
STEEL_GPA = 205.0
"""Elastic modulus of the bar's steel; textbooks give 200 to 210."""
SWARF_MM = 0.5
"""Wanted between a boring bar's back and the hole before it cuts: common practice, no source. [mm]"""


def bottoming(case: Case) -> Finding | None:
    """Whether drill point, reamer or tap in a blind hole makes what is drawn before it stands on the bottom."""
    hole, context = case.context.hole, case.context
    if hole is None or not hole.is_blind or hole.tool not in ("drill", "reamer", "tap"):
        return None
    behind = _behind(case.finished, hole)
    if hole.tool == "drill":
        return _point(case, hole, behind)
    return on_the_bottom(context.length, hole, drilled_depth(case.before, hole) + hole.drilled_on_mm, behind)


def on_the_bottom(length: Callable[[float], str], hole: Drilled, drilled_mm: float, behind_mm: float | None) -> Finding:
    """What a reamer's or tap's lead leaves of a blind hole drilled so deep; behind_mm: metal beyond it. [mm]"""
    what = "full thread" if hole.tool == "tap" else "full size"
    if hole.lead_mm is None:
        return Finding(f"not known how long the {hole.tool}'s lead is, and how deep {hole.name} is {what}",
                       "measure the lead and write it in the workshop file", is_warning=True)
    full = drilled_mm - hole.lead_mm
    if full >= hole.depth_mm - INSIDE_MM:
        return Finding()
    wall = "" if behind_mm is None else f" ({length(behind_mm)} of metal behind)"
    short = length(hole.depth_mm - max(full, 0.0))
    if full <= INSIDE_MM:
        return Finding(f"{hole.name} is not deep enough for the {hole.tool}'s lead of {length(hole.lead_mm)}: nothing comes to "
                       f"{what}", f"drill {short} deeper{wall}, or a {hole.tool} with a shorter lead")
    return Finding(f"{hole.name} is {what} only {length(full)} deep of {length(hole.depth_mm)} drawn: the "
                   f"{hole.tool} stands on the bottom with its lead of {length(hole.lead_mm)}",
                   f"drill {short} deeper where the drawing lets you{wall}, or end with a {hole.tool} with a shorter lead",
                   is_warning=True)


def _point(case: Case, hole: Drilled, behind: float) -> Finding:
    """A drill ground to another point than the hole is drawn with."""
    context = case.context
    if hole.point_deg is None:
        return Finding(f"not known to what point the drill for {hole.name} is ground: {hole.drawn_point_deg:g}° is drawn",
                       "measure the depth to the point, not to the full diameter", is_warning=True)
    radius = radius_at(case.after.inner, hole.bottom_mm - hole.way * INSIDE_MM, "left")
    deeper = radius * (_cot(hole.point_deg) - _cot(hole.drawn_point_deg))
    if abs(deeper) <= INSIDE_MM:
        return Finding()
    if deeper >= behind:
        return Finding(f"the drill's point of {hole.point_deg:g}° reaches {context.length(deeper)} past the point drawn, "
                       f"{context.length(behind)} of metal is behind it", "a blunter drill, or a flat-bottomed one to finish")
    more = "deeper" if deeper > 0.0 else "shallower"
    return Finding(f"the drill's point of {hole.point_deg:g}° comes {context.length(abs(deeper))} {more} than the "
                   f"{hole.drawn_point_deg:g}° drawn", "the depth holds for the full diameter: allow for the point when it "
                   "is touched on", is_warning=True)


def drilled_depth(section: Section, hole: Drilled) -> float:
    """How deep the hole so far keeps the diameter it has half-way down. [mm]"""
    z, r, size = *_way_in(section, hole), _half_way(section, hole)
    holds = r >= size - INSIDE_MM
    return float(np.abs(z[holds] - hole.mouth_mm).max()) if holds.any() else 0.0


def boring_bar(case: Case) -> Finding | None:
    """Whether a bar at hand goes in, clears the bore with its back, reaches the bottom, and how much it bends."""
    hole, cut = case.context.hole, case.cut
    if hole is None or hole.tool != "boring bar" or not isinstance(cut, Bore):
        return None
    depth, before, way, widest = _bore(case, hole)
    bars = ([b for b in hole.bars if b.name == case.cutter.name] or list(hole.bars)) if case.cutter.owned else []
    context = case.context
    if not bars:
        return Finding(f"not known what boring bar there is: one at most {context.length(2.0 * before - SWARF_MM)} over all "
                       f"that reaches {context.length(depth)}", "try it in the drilled hole by hand first", is_warning=True)
    faults = [_of_bar(case, bar, depth, before, way, widest) for bar in bars]
    return min(faults, key=lambda f: (bool(f.fault) and not f.is_warning, bool(f.fault)))


def _of_bar(case: Case, bar: BoringBar, depth: float, before: float, way: float, widest: float) -> Finding:
    context = case.context
    room = min(bar_room(bar, before, before), bar_room(bar, widest, way))
    if room < 0.0:
        return Finding(f"the {bar.name} rubs: its back is {context.length(-room)} outside the bore",
                       "a thinner bar, or a larger drill first")
    if bar.reach_mm < depth:
        return Finding(f"the {bar.name} reaches {context.length(bar.reach_mm)}, {context.length(depth)} wanted",
                       "a longer bar, or bore from both ends")
    slender = depth / bar.thickness_mm
    said = (f"the {bar.name}, {context.length(bar.thickness_mm)} thick, stands out {context.length(depth)}, "
            f"{slender:.1f} to 1")
    if slender > STOUT:
        light = context.light
        if light is None:
            return Finding(f"{said}; {STOUT:g} to 1 is the most", "a stouter bar, or a reamer")
        give = overhung_mm_per_n(bar.thickness_mm, depth, STEEL_GPA)
        low, high = (2.0 * give * push for push in light.push_n)
        bends = f"bending puts {context.length(low)} to {context.length(high)} on the diameter in a light last cut"
        if high > light.may_err_mm:
            return Finding(f"{said}; {bends}, {context.length(light.may_err_mm)} is the most", "a stouter bar, or a reamer")
        return Finding(f"{said}: {bends}", "light cuts, and the last again without more feed", is_warning=True)
    if room < SWARF_MM:
        return Finding(f"only {context.length(room)} between the back of the {bar.name} and the bore",
                       "clear the swarf at every cut; a larger drill first where there is room", is_warning=True)
    return Finding()


def bar_room(bar: BoringBar, cuts_mm: float, way_mm: float) -> float:
    """Room between a round bar and a hole of radius way_mm, its point cutting at radius cuts_mm; negative: it rubs. [mm]

    The bar's own circle, and before it is fed out the whole tool, across the hole.
    """
    half = bar.thickness_mm / 2.0
    centre = cuts_mm - bar.width_mm + half
    return min(way_mm - abs(centre) - half, 2.0 * way_mm - bar.width_mm)


def meets_another(case: Case) -> Finding | None:
    """Whether a blind hole breaks into a hole beyond it."""
    hole = case.context.hole
    if hole is None or not hole.is_blind or not isinstance(case.cut, Bore):
        return None
    if _is_solid(case.before) and not _is_solid(case.after):
        return Finding(f"{hole.name} is blind and breaks through into what is beyond it",
                       "less depth, a blunter point, or draw it with 'through: yes'", is_warning=not _is_solid(case.finished))
    return Finding()


def _bore(case: Case, hole: Drilled) -> tuple[float, float, float, float]:
    """Depth from the free end; least radius where it goes in before, of all its way after; greatest that is cut. [mm]"""
    assert isinstance(case.cut, Bore)
    left, right = ends(case.before)
    free = left if hole.way > 0 else right
    deep = max(min(hole.bottom_mm, right), left)  # a drill's point beyond is left as drilled
    first, last = sorted((free, deep - hole.way * INSIDE_MM))
    mouths = (min(max(place + hole.way * INSIDE_MM, left), right) for place in (free, hole.mouth_mm))
    before = min(radius_at(case.before.inner, place, "left") for place in mouths)
    after = clip(case.after.inner, first, last)
    return abs(deep - free), before, float(after[:, 1].min()), float(case.cut.profile[:, 1].max())


def _half_way(section: Section, hole: Drilled) -> float:
    return radius_at(section.inner, 0.5 * (hole.mouth_mm + hole.bottom_mm), "left")


def _way_in(section: Section, hole: Drilled) -> tuple[Floats, Floats]:
    """Stations and radii of the hole's profile from its middle inward."""
    middle = 0.5 * (hole.mouth_mm + hole.bottom_mm)
    left, right = ends(section)
    profile: Polyline = clip(section.inner, *((middle, right) if hole.way > 0 else (left, middle)))
    return profile[:, 0], profile[:, 1]


def _behind(section: Section, hole: Drilled) -> float:
    """Metal on the axis beyond the finished hole, to the far face or the next hole. [mm]"""
    z, r = _way_in(section, hole)
    solid = z[r <= INSIDE_MM]
    return float(np.ptp(solid)) if len(solid) else 0.0


def _is_solid(section: Section) -> bool:
    """Whether the axis is closed by metal anywhere."""
    flat = section.inner[:, 1] <= INSIDE_MM
    return bool((flat[1:] & flat[:-1] & (np.diff(section.inner[:, 0]) > INSIDE_MM)).any())


def _cot(included_deg: float) -> float:
    return 1.0 / math.tan(math.radians(included_deg) / 2.0)
