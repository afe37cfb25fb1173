"""Checks on room and reach: the tool and what swings clear of the chuck, overhang, parting reach, the ball tool."""

from __future__ import annotations

import math

import numpy as np

from handwheel.stages.bending import Elastic, even_diameter_mm, worst_give
from handwheel.stages.case import Case, Finding
from handwheel.stages.check_metal import MANDRELS
from handwheel.stages.compare import INSIDE_MM
from handwheel.stages.envelope import Floats, aligned, clip, radius_at
from handwheel.stages.metal import ends
from handwheel.stages.records import Holding, Polyline, Section, Sweep, Swing, Truncate
from handwheel.stages.sweep import lower_chain

FLANK_MM = 0.05
"""So much a pointed bit's flank takes off like any edge: common practice, no source. [mm]"""
LEAST_CUT_MM = 0.05
"""Off the diameter: a thinner cut rubs. Common practice, no source. [mm]"""
PLACES = 25
"""Places along the cut at which bending is looked at."""
_LEAST_SHARE = 0.05
"""Diameters below this share of the overhang count as this much: a pointed end is not a slender bar."""


def clear_of_chuck(case: Case) -> Finding | None:
    """Whether the cutter along its whole path, or what swings with a ball tool, keeps clear of the chuck's face."""
    context, cut = case.context, case.cut
    if not context.revolves or isinstance(cut, Sweep) and cut.inside:
        return None
    if isinstance(cut, Sweep):
        room = _room_of_sweep(case.cutter.outline, cut.path, case.holding)
        what = f"the {case.cutter.name}"
    elif isinstance(cut, Swing):
        if context.swing_beyond_tip_mm is None:
            return Finding("not known what swings beyond the tip", "swing it round by hand before starting", is_warning=True)
        room = _room_of_swing(cut, case)
        what = "what swings with the ball tool"
    else:
        return None
    if room >= context.chuck_clearance_mm - INSIDE_MM:
        return Finding()
    wanted = context.length(context.chuck_clearance_mm)
    where = f"comes within {context.length(room)} of" if room >= 0.0 else f"goes {context.length(-room)} past"
    return Finding(f"{what} {where} the chuck's face, {wanted} wanted",
                   "let the work stand farther out, or cut this nearer the tailstock end after turning it round")


def overhang(case: Case) -> Finding | None:
    """Whether the work stands out too far for its diameter, from the grip to the far end of the cut."""
    context, holding = case.context, case.holding
    far = _far_point(case)
    if not context.revolves or far is None:
        return None
    if holding.kind in MANDRELS and holding.headstock_centre_mm is not None:
        return Finding("on a mandrel between centres: its own bending is not known", "light cuts", is_warning=True)
    section = case.before if isinstance(case.cut, Truncate) else case.after
    where, start, end = _unsupported(holding, far)
    length = abs(end - start)
    if (end - start) * _away(holding) <= INSIDE_MM:
        return Finding()
    is_between = holding.headstock_centre_mm is not None
    diameter = (even_diameter_mm if is_between else stiff_diameter_mm)(section, start, end)
    ratio = length / diameter
    said = f"{context.length(length)} {where} on an effective ∅ {context.length(diameter)}, {ratio:.1f} to 1"
    if holding.has_steady and isinstance(case.cut, Sweep):
        return Finding(said, "the travelling steady follows the tool, its fingers on what has just been cut", is_warning=True)
    is_centred = holding.centre_mm is not None
    greatest = context.greatest_with_centre if is_centred else context.greatest_overhang
    if greatest is None or ratio <= greatest:
        is_long = not is_centred and ratio > context.free_overhang
        return Finding(said, "light cuts", is_warning=True) if is_long else Finding()
    return _bent(case, section, far, ratio, f"{said}; {greatest:g} to 1 is the most with{'' if is_centred else 'out'} a centre")


def _unsupported(holding: Holding, far: float) -> tuple[str, float, float]:
    """What bends: from the grip, or the steady beyond it, to the end of the cut; all that is between two centres."""
    if holding.headstock_centre_mm is not None and holding.centre_mm is not None:
        return "between centres", holding.headstock_centre_mm, holding.centre_mm
    steady = holding.steady_mm
    if steady is not None and holding.centre_mm is None and (far - steady) * _away(holding) > INSIDE_MM:
        return "beyond the fixed steady", steady, far
    return "out of the grip", holding.face_mm, far


def _bent(case: Case, section: Section, far: float, ratio: float, said: str) -> Finding:
    """Farther out than the habit allows: looked at as bending under a light last cut, where the material is known."""
    context, holding, light = case.context, case.holding, case.context.light
    is_centred = holding.centre_mm is not None
    do = "a steady, or a shorter stage at a time" if is_centred else "a centre, a shorter stick-out, or turn the thin part last"
    is_plunged = case.cutter.kind == "parting"
    if light is None or (is_plunged and isinstance(case.cut, Truncate) and not is_centred):
        return Finding(said, do)
    if ratio > (light.farthest_with_centre if is_centred else light.farthest):
        return Finding(said, do)
    start = _unsupported(holding, far)[1]
    places = np.linspace(start, far, PLACES)[1:] if isinstance(case.cut, Sweep) else np.array([far])
    give, _ = worst_give(section, holding, places, Elastic(light.e_gpa, light.chuck_mm_per_n))
    width = float(np.ptp(case.cutter.outline[:, 0])) if is_plunged and len(case.cutter.outline) else 0.0
    low, high = (2.0 * give * push * (width if is_plunged else 1.0) for push in
                 (light.plunged_n_per_mm if is_plunged else light.push_n))  # fmt: skip
    allowed = light.rough_err_mm if is_plunged else light.may_err_mm
    what = "a plunge at fine feed" if is_plunged else "a light last cut"
    bends = f"bending puts {context.length(low)} to {context.length(high)} on the diameter in {what}"
    if high > allowed:
        lighter = 0.0 if is_plunged else light.last_mm * allowed / high
        way = f", or last cuts of {context.length(lighter)} (habit 'last cut')" if lighter >= LEAST_CUT_MM else ""
        return Finding(f"{said}; {bends}, {context.length(allowed)} is the most", f"{do}{way}")
    deepest = light.rough_err_mm / (give * light.per_mm) if give > 0.0 else math.inf
    advice = "narrow bites, let it spring before the last" if is_plunged else (
        f"rough with no more than {context.length(min(deepest, light.roughest_mm))} off the diameter at a cut, last cuts "
        "light and repeated without feeding in")
    return Finding(f"{said}: {bends}", f"{advice}; stop if it chatters", is_warning=True)


def parting_reach(case: Case) -> Finding | None:
    """Whether the parting tool reaches to the axis, or to the bore."""
    if case.cutter.kind != "parting":
        return None
    if isinstance(case.cut, Truncate):
        left, right = ends(case.before)
        planes = [plane for plane in (case.cut.left, case.cut.right) if left < plane < right]
        needed = max((_wall(case.before, plane) for plane in planes), default=0.0)
    elif isinstance(case.cut, Sweep):
        edge = lower_chain(case.cutter.outline)
        places = [(float(z) + corner, float(r)) for z, r in case.cut.path for corner in (edge[0, 0], edge[-1, 0])]
        needed = max(_outside(case.before, z) - max(r, 0.0) for z, r in places)
    else:
        return None
    context, reach = case.context, case.context.tool_reach_mm
    if reach is None:
        return Finding(f"reach of the {case.cutter.name} not known", f"see that it is over {context.length(needed)}",
                       is_warning=True)
    if reach >= needed:
        return Finding()
    return Finding(f"the {case.cutter.name} reaches {context.length(reach)}, {context.length(needed)} wanted",
                   "saw it off and face, or a tool with more reach")


def ball_range(case: Case) -> Finding | None:
    """Whether the ball tool's head takes this radius."""
    cut, context = case.cut, case.context
    if not isinstance(cut, Swing) or not context.ball_ranges_mm:
        return None
    if any(least - INSIDE_MM <= cut.radius <= greatest + INSIDE_MM for least, greatest in context.ball_ranges_mm):
        return Finding()
    ranges = " or ".join(f"{context.length(low)} to {context.length(high)}" for low, high in context.ball_ranges_mm)
    return Finding(f"a tip radius of {context.length(cut.radius)} is outside the ball tool's {ranges}",
                   "another head, or turn the ball by steps and finish with a file")


def room_for_bit(case: Case) -> Finding | None:
    """Whether the bit of a ball tool, at either end of its swing, meets metal beside the ball with its flank.

    The bit's outline is drawn as it stands above the ball's centre: r outward from its tip.
    """
    cut = case.cut
    if not isinstance(cut, Swing) or len(case.cutter.outline) < 3:
        return None
    worst = where = into_part = dug_at = 0.0
    for angle in (cut.from_deg, cut.to_deg):
        edge = clip(lower_chain(_swung_bit(case.cutter.outline, cut, angle)), *ends(case.after))
        amount, station = _above(case.after.outer, edge)
        if amount > worst:
            worst, where = amount, station
            into_part, dug_at = _above(case.finished.outer, edge)
    if worst <= INSIDE_MM:
        return Finding()
    context = case.context
    if into_part > INSIDE_MM:
        return Finding(f"the bit's flank goes {context.length(into_part)} into the finished part at "
                       f"{context.station(dug_at)}", "a bit ground to a sharper point, or end the swing sooner")
    if worst <= FLANK_MM:
        return Finding(f"the bit's flank meets {context.length(worst)} of metal at {context.station(where)}, which it takes with "
                       "it", "the last of the swing slowly, by hand", is_warning=True)
    return Finding(f"{context.length(worst)} of metal stands in the way of the bit's flank at {context.station(where)}",
                   "a wider or deeper relief behind the ball first")


def stiff_diameter_mm(section: Section, from_mm: float, to_mm: float) -> float:
    """Diameter of the plain bar that bends as much as this one, held at from_mm and pushed at to_mm. [mm]

    Cantilever, bending alone: integral of x^2/(D^4 - d^4) along the bar, x from the push, is L^3/(3 D_eff^4).
    Where there is no metal between the two (a mandrel's face short of the work) nothing is taken to bend.
    """
    left, right = min(from_mm, to_mm), max(from_mm, to_mm)
    length = right - left
    outer, inner = clip(section.outer, left, right), clip(section.inner, left, right)
    if len(outer) < 2:
        return _LEAST_SHARE * length
    both = aligned(outer, inner)
    nodes, weights = np.polynomial.legendre.leggauss(8)
    share = 0.5 * (nodes + 1.0)[:, None]
    z = both.z0 + share * (both.z1 - both.z0)
    outside, inside = both.a0 + share * (both.a1 - both.a0), both.b0 + share * (both.b1 - both.b0)
    fourth = np.maximum(16.0 * (outside**4 - inside**4), (_LEAST_SHARE * length) ** 4)
    bend = float(np.sum(0.5 * weights[:, None] * (both.z1 - both.z0) * (z - to_mm) ** 2 / fourth))
    return float((length**3 / (3.0 * bend)) ** 0.25)


def _away(holding: Holding) -> float:
    """+1 where z grows from the chuck toward the tailstock, else -1."""
    return 1.0 if holding.toward_tailstock == "right" else -1.0


def _far_point(case: Case) -> float | None:
    """The station of the cut farthest from the chuck; None for drilling and where nothing is cut."""
    away, cut = _away(case.holding), case.cut
    if isinstance(cut, Truncate):
        left, right = ends(case.before)
        planes = [plane for plane in (cut.left, cut.right) if left < plane < right]
        return max(planes, key=lambda plane: away * plane) if planes else None
    if isinstance(cut, Sweep | Swing):
        both = aligned(case.before.outer, case.after.outer)
        with np.errstate(invalid="ignore"):
            cut_here = (np.abs(both.a0 - both.b0) > INSIDE_MM) | (np.abs(both.a1 - both.b1) > INSIDE_MM)
        if not cut_here.any():
            return None
        left, right = ends(case.after)
        farthest = both.z1[cut_here].max() if away > 0 else both.z0[cut_here].min()
        return float(min(max(farthest, left), right))
    return None


def _room_of_sweep(outline: Polyline, path: Polyline, holding: Holding) -> float:
    """Least distance along the axis from the chuck's face to the cutter, where the cutter is within its radius."""
    away, limit = _away(holding), holding.device_radius_mm if holding.steady_mm is None else None
    placed = path[:, None, :] + outline[None, :, :]
    z, r = away * (placed[..., 0] - holding.front_mm), placed[..., 1]
    if not z.size:
        return math.inf
    if limit is None:
        return float(z.min())
    # the body swept is a row of prisms: its nearest point within the radius is a corner, or on an edge at the radius
    edges = (((z, r), (np.roll(z, -1, 1), np.roll(r, -1, 1))), ((z[:-1], r[:-1]), (z[1:], r[1:])))
    found = [z[r <= limit]]
    for (z0, r0), (z1, r1) in edges:
        passes = (r0 - limit) * (r1 - limit) < 0.0
        share = (limit - r0[passes]) / (r1[passes] - r0[passes])
        found.append(z0[passes] + share * (z1[passes] - z0[passes]))
    near = np.concatenate(found)
    return float(near.min()) if len(near) else math.inf


def _room_of_swing(swing: Swing, case: Case) -> float:
    """Distance left between the chuck's face and what swings, at the end of the swing nearest the chuck."""
    context, away = case.context, _away(case.holding)
    distance = away * (swing.centre - case.holding.front_mm)
    low, high = sorted((swing.from_deg, swing.to_deg))
    short = 180.0 - high if away > 0 else low
    swings = swing.radius + (context.swing_beyond_tip_mm or 0.0)
    half_width = 0.5 * (context.swing_width_mm or 0.0)
    toward = min(swings, max(swings * math.cos(math.radians(short)), 0.0) + half_width) if short > 0.0 else swings
    return distance - toward


def _swung_bit(outline: Polyline, swing: Swing, angle_deg: float) -> Polyline:
    """The bit's outline turned to an angle of its swing."""
    along, up = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    out = swing.radius + outline[:, 1]
    points: Floats = np.column_stack([swing.centre + out * along + outline[:, 0] * up,
                                      out * up - outline[:, 0] * along])
    return points


def _above(outer: Polyline, edge: Polyline) -> tuple[float, float]:
    """Greatest height of a profile above an edge, where both reach, and where."""
    if len(edge) < 2:
        return 0.0, 0.0
    both = aligned(outer, edge)
    counts = np.isfinite(both.a0) & np.isfinite(both.b0) & (both.z1 - both.z0 > INSIDE_MM)
    if not counts.any():
        return 0.0, 0.0
    height0, height1 = both.a0 - np.maximum(both.b0, 0.0), both.a1 - np.maximum(both.b1, 0.0)
    amounts = np.concatenate([height0[counts], height1[counts]])
    best = int(np.argmax(amounts))
    return float(amounts[best]), float(np.concatenate([both.z0[counts], both.z1[counts]])[best])


def _outside(section: Section, z_mm: float) -> float:
    return max(radius_at(section.outer, z_mm, "left"), radius_at(section.outer, z_mm, "right"))


def _wall(section: Section, z_mm: float) -> float:
    """Thickness of metal from the outside to the bore, or to the axis."""
    bore = min(radius_at(section.inner, z_mm, "left"), radius_at(section.inner, z_mm, "right"))
    return _outside(section, z_mm) - bore
