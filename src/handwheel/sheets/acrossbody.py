"""The metal with what lies across cut out of it: a half-section above the axis, the outside below, or the outside alone."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from handwheel.sheets.acrosslines import Cuts, Stroke, centre_lines, cuts_of, in_section, outside, seen_outside
from handwheel.sheets.primitives import Item, Line, LineType, Polyline
from handwheel.sheets.shading import hatch
from handwheel.sheets.view import View, body, clipped, corners, half_loop, has_hole
from handwheel.stages.offaxis import Array, OffAxis, as_seen, seen_profile
from handwheel.stages.records import Section

PAST_MM = 2.5
NEAR_MM = 3e-6


def body_across(section: Section, shapes: Sequence[OffAxis], view: View, is_cut: bool, spacing_mm: float) -> list[Item]:
    """The metal in the picture; `is_cut`: its upper half in section. Without shapes as `view.body` has it. [mm]"""
    if not shapes:
        return body(section, view, is_cut, spacing_mm)
    cuts = cuts_of(section, as_seen(shapes, far_side=view.mirrored))
    if len(clipped(section.outer, view.z_low, view.z_high)) < 2:
        return []
    items = _upper_half(cuts, view, spacing_mm) if is_cut else _whole_half(cuts, view, 1.0)
    items += _whole_half(cuts, view, -1.0)
    return items + _put(centre_lines(cuts, PAST_MM / view.scale), view)


def needs_section(shapes: Sequence[OffAxis]) -> bool:
    """Whether a hole or slot lies across, which a section shows best."""
    return any(not shape.is_face for shape in shapes)


def _upper_half(cuts: Cuts, view: View, spacing_mm: float) -> list[Item]:
    section, voids = cuts.section, [v for v in cuts.voids if len(v)]
    outer = clipped(section.outer, view.z_low, view.z_high)
    inner = clipped(section.inner, view.z_low, view.z_high)
    items: list[Item] = [hatch([half_loop(section, view)], spacing_mm, [[view.point(*p) for p in void] for void in voids])]
    runs = outside(_closed_on_axis(outer), cuts.breaking)
    if has_hole(section):
        runs += outside(inner, cuts.breaking)
    strokes = [Stroke(run, LineType.OUTLINE) for run in runs]
    strokes += in_section(cuts, np.vstack([outer, inner[::-1]]))
    return items + _put(strokes, view)


def _whole_half(cuts: Cuts, view: View, up: float) -> list[Item]:
    profile = clipped(seen_profile(cuts.section, cuts.faces, up), view.z_low, view.z_high)
    run = _closed_on_axis(profile) * (1.0, up)
    strokes = [Stroke(piece, LineType.OUTLINE) for piece in outside(run, cuts.open_voids)]
    strokes += seen_outside(cuts, run, up)
    items: list[Item] = []
    for z, r in corners(cuts.section.outer)[1:-1]:
        if view.z_low < z < view.z_high:
            near = profile[np.abs(profile[:, 0] - z) < NEAR_MM][:, 1]
            reach = float(near.min()) if len(near) else r
            items.append(Line(view.x(z), 0.0, view.x(z), -up * reach * view.scale, LineType.EDGE))
    return items + _put(strokes, view)


def _closed_on_axis(profile: Array) -> Array:
    """The profile from the axis to the axis."""
    return np.vstack([[profile[0, 0], 0.0], profile, [profile[-1, 0], 0.0]])


def _put(strokes: Iterable[Stroke], view: View) -> list[Item]:
    """Strokes in the picture, a straight one as a line; what lies beyond the view left out."""
    items: list[Item] = []
    for stroke in strokes:
        z = np.clip(stroke.points[:, 0], view.z_low, view.z_high)
        if float(np.ptp(stroke.points[:, 0])) > 0.0 and float(np.ptp(z)) == 0.0:
            continue
        points = tuple(view.point(float(a), float(b)) for a, b in zip(z, stroke.points[:, 1], strict=True))
        items.append(Line(*points[0], *points[1], stroke.kind) if len(points) == 2 else Polyline(points, stroke.kind))
    return items
