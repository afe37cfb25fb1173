"""Checks on the tool beside its cutting end: its nose in a corner, its shank, the centre in its way, a long blade."""

from __future__ import annotations

import math

import numpy as np

from handwheel.stages.case import Case, Finding
from handwheel.stages.compare import INSIDE_MM
from handwheel.stages.envelope import aligned, clip, radius_at
from handwheel.stages.metal import ends
from handwheel.stages.records import Polyline, Section, Sweep, Truncate
from handwheel.stages.sweep import swept_edge

SHARP_DEG = 15.0
"""A hollow corner turns by more than this between two chords; less is a curve."""
SHANK_MM = 6.0
"""How far a shank may stand out beside the cutting end: common practice, no source. [mm]"""
BLADE = 10.0
"""A parting blade stands out at most this many of its widths: common practice, no source."""
CENTRE_HALF_DEG = 30.0
"""Half the angle of a centre's point: 60° included."""
_UP_MM = 1000.0


def nose_in_corner(case: Case) -> Finding | None:
    """Whether the tool's nose leaves more in a corner, or in a hollow, than is drawn there."""
    cut, context = case.cut, case.context
    if not isinstance(cut, Sweep) or cut.inside:
        return None
    tightest = min(context.hollows_mm, default=None)
    places = corners_made(case.before, case.after, case.finished)
    if tightest is None and not places:
        return None
    nose = context.nose_radius_mm
    if nose is None:
        return Finding(f"not known what nose the {case.cutter.name} has, and so what it leaves in a corner",
                       "grind it to a sharp corner, or measure what is left", is_warning=True)
    if tightest is not None and nose > tightest[0] + INSIDE_MM:
        return Finding(f"the {case.cutter.name}, R {context.length(nose)} at its nose, does not get into {tightest[1]}, "
                       f"R {context.length(tightest[0])}", "a tool with a smaller nose")
    if not places or nose <= INSIDE_MM:
        return Finding()
    where = ", ".join(context.station(z) for z in places)
    return Finding(f"the {case.cutter.name} leaves R {context.length(nose)} in the corner at {where}, drawn sharp",
                   "a tool with a sharper nose, an undercut, or a chamfer larger than that on what goes up to it",
                   is_warning=True)


def corners_made(before: Section, after: Section, finished: Section) -> list[float]:
    """Stations of the sharp hollow corners of the finished outside whose metal a cut has taken. [mm]"""
    steps = np.diff(finished.outer, axis=0)
    first, second = steps[:-1], steps[1:]
    turn = np.degrees(np.arctan2(first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0], np.sum(first * second, axis=1)))
    found = []
    for z, r in finished.outer[1:-1][turn >= SHARP_DEG]:
        had, has = (min(radius_at(s.outer, z, "left"), radius_at(s.outer, z, "right")) for s in (before, after))
        if had > r + INSIDE_MM and has <= r + INSIDE_MM:
            found.append(float(z))
    return found


def shank(case: Case) -> Finding | None:
    """Whether the tool's shank, above its cutting end, meets metal beside the cut."""
    cut, context, outline = case.cut, case.context, case.cutter.outline
    if not context.revolves or not isinstance(cut, Sweep) or cut.inside or len(outline) < 3:
        return None
    top = float(outline[:, 1].max())
    reach = top if context.tool_reach_mm is None else min(top, context.tool_reach_mm)
    low, high = float(outline[:, 0].min()), float(outline[:, 0].max())
    beside, near = _stands_in(case.after, _box(low - SHANK_MM, high + SHANK_MM, reach), cut.path)
    if beside <= INSIDE_MM:
        return Finding()
    worst, where = _stands_in(case.after, _box(low, high, reach), cut.path)
    if worst > INSIDE_MM:
        return Finding(f"the shank of the {case.cutter.name}, {context.length(reach)} from its point, meets "
                       f"{context.length(worst)} of metal at {context.station(where)}",
                       "a tool with more reach, or turn down what stands beside it first")
    return Finding(f"not known how far the shank of the {case.cutter.name} stands out beside its point: metal within "
                   f"{context.length(SHANK_MM)} is {context.length(beside)} higher than it reaches, at "
                   f"{context.station(near)}", "bring the tool there by hand, the lathe still", is_warning=True)


def clear_of_centre(case: Case) -> Finding | None:
    """Whether the cutter meets the tailstock's centre, from the end of the work on."""
    holding, cut, context = case.holding, case.cut, case.context
    if holding.centre_mm is None or not isinstance(cut, Sweep) or cut.inside:
        return None
    left, right = ends(case.before)
    away = 1.0 if holding.toward_tailstock == "right" else -1.0
    end = right if away > 0 else left
    mouth = float(case.before.inner[-1 if away > 0 else 0, 1])
    if mouth <= INSIDE_MM:
        return Finding("not known how wide the hollow centre is beside the work", "bring the tool to the end by hand, the "
                       "lathe still", is_warning=True)
    path = cut.path.copy()
    path[:, 0] = np.minimum(path[:, 0], end) if away > 0 else np.maximum(path[:, 0], end)
    edge = swept_edge(case.cutter.outline, path)
    reach = float(np.ptp(case.cutter.outline[:, 0])) if len(case.cutter.outline) else 0.0
    if reach <= INSIDE_MM or not len(edge):
        return Finding()
    wide = mouth + reach * math.tan(math.radians(CENTRE_HALF_DEG))
    cone = np.array([[end, mouth], [end + reach, wide]] if away > 0 else [[end - reach, wide], [end, mouth]])
    both = aligned(cone, edge)
    meets = np.isfinite(both.a0) & np.isfinite(both.b0)
    worst = float(np.maximum(both.a0 - both.b0, both.a1 - both.b1)[meets].max()) if meets.any() else 0.0
    if worst <= INSIDE_MM:
        return Finding()
    return Finding(f"the {case.cutter.name} goes {context.length(worst)} into the centre's point where it starts",
                   "a smaller centre hole, a centre relieved on that side, or a longer stub")


def blade(case: Case) -> Finding | None:
    """Whether a parting tool stands out too long for its width, or parts too far from the chuck."""
    cut, context = case.cut, case.context
    if case.cutter.kind != "parting" or not isinstance(cut, Truncate) or not context.revolves:
        return None
    left, right = ends(case.before)
    planes = [plane for plane in (cut.left, cut.right) if left < plane < right]
    if not planes or not len(case.cutter.outline):
        return None
    width = float(np.ptp(case.cutter.outline[:, 0]))
    radius = max(max(radius_at(case.before.outer, p, "left"), radius_at(case.before.outer, p, "right")) for p in planes)
    far = max(abs(plane - case.holding.face_mm) for plane in planes)
    if width > INSIDE_MM and radius > BLADE * width:
        return Finding(f"a blade {context.length(width)} wide stands out {context.length(radius)}, more than {BLADE:g} times "
                       "its width", "saw it off and face, or a wider blade", is_warning=True)
    if far > 2.0 * radius + INSIDE_MM and case.holding.centre_mm is None:
        return Finding(f"parted {context.length(far)} from the jaws, farther than the work is thick",
                       "narrow bites to each side, or saw it off and face", is_warning=True)
    return Finding()


def die_at_shoulder(case: Case) -> Finding | None:
    """How far short of a shoulder a die's lead leaves the thread."""
    thread, context, holding = case.context.threaded, case.context, case.holding
    if thread is None or case.cutter.kind != "die":
        return None
    away = 1.0 if holding.toward_tailstock == "right" else -1.0
    end = thread.left_mm if away > 0 else thread.right_mm
    left, right = ends(case.after)
    before_it = (left, end) if away > 0 else (end, right)
    line = clip(case.after.outer, *before_it)
    tall = line[line[:, 1] > thread.radius_mm + INSIDE_MM, 0]
    if not len(tall):
        return Finding()
    room = float(np.abs(tall - end).min())
    beside = clip(case.after.outer, *sorted((end - away * room, end)))
    if len(beside) and room > INSIDE_MM and float(beside[:, 1].min()) < thread.radius_mm - INSIDE_MM:
        return Finding()  # it runs out into a groove
    if thread.lead_mm is None:
        return Finding(f"not known how long the die's lead is, and so how near the shoulder {thread.name} is full thread",
                       "measure the lead and write it in the workshop file", is_warning=True)
    if room >= thread.lead_mm - INSIDE_MM:
        return Finding()
    return Finding(f"the die's lead leaves {thread.name} {context.length(thread.lead_mm - room)} short of the shoulder in full "
                   "thread", "the last turns with the die the other way round, or a groove for the thread to run out into",
                   is_warning=True)


def rides_on_corner(corner_mm: float, shaft_mm: float, hole: Polyline) -> float:
    """How far a rounding in the corner of a shoulder stands into what is pushed up to it; 0.0 where it clears. [mm]

    corner_mm: its radius; shaft_mm: radius of what the hole goes over; hole: (n, 2), depth from its face and radius there.
    What the fit itself overlaps beyond the rounding does not count.
    """
    if corner_mm <= INSIDE_MM:
        return 0.0
    deep = corner_mm * (1.0 - np.cos(np.linspace(0.0, math.pi / 2.0, 65)))
    deep = np.sort(np.concatenate([deep, hole[(hole[:, 0] >= 0.0) & (hole[:, 0] <= corner_mm), 0]]))
    stands = shaft_mm + corner_mm - np.sqrt(np.maximum(corner_mm**2 - (corner_mm - deep) ** 2, 0.0))
    open_to = np.array([min(radius_at(hole, float(t), "left"), radius_at(hole, float(t), "right")) for t in deep])
    fit = max(0.0, shaft_mm - radius_at(hole, corner_mm, "right"))
    worst = float((stands - open_to).max()) - fit
    return worst if worst > INSIDE_MM else 0.0


def _box(low: float, high: float, reach: float) -> Polyline:
    return np.array([[low, reach], [high, reach], [high, _UP_MM], [low, _UP_MM]])


def _stands_in(section: Section, box: Polyline, path: Polyline) -> tuple[float, float]:
    """Greatest height of metal within what the box sweeps, and where. [mm]"""
    edge = clip(swept_edge(box, path), *ends(section))
    if len(edge) < 2:
        return 0.0, 0.0
    both = aligned(section.outer, edge)
    reach = np.isfinite(both.a0) & np.isfinite(both.b0) & (both.z1 - both.z0 > INSIDE_MM)
    if not reach.any():
        return 0.0, 0.0
    high = np.concatenate([(both.a0 - both.b0)[reach], (both.a1 - both.b1)[reach]])
    best = int(np.argmax(high))
    return float(high[best]), float(np.concatenate([both.z0[reach], both.z1[reach]])[best])
