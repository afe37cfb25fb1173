"""What is not round about the axis, on a part's own drawing: cross holes, holes on a face, flats, slots, squares,
hexagons. The part is shown turned so that each lies at the top, as it would if it were the only one.
"""

from __future__ import annotations

import math

import numpy as np

from handwheel.drawing.records import SolvedAcross, SolvedPart
from handwheel.job.records import AcrossKind
from handwheel.plan.across.groups import axis_of
from handwheel.sheets.primitives import Item, Line, LineType
from handwheel.sheets.view import View, radius_at
from handwheel.stages.axis import Axis
from handwheel.stages.records import Section

PAST_MM = 2.5
"""How far an axis goes on beyond the surface."""


def across_marks(part: SolvedPart, section: Section, view: View) -> list[Item]:
    """The lines of every feature across, in the picture's own frame. [mm]"""
    items: list[Item] = []
    for across in part.across:
        kind = across.source.kind
        if across.source.face is not None:
            items += _on_face(across, part, section, view)
        elif kind in (AcrossKind.HOLE, AcrossKind.HOLES):
            items += _cross_hole(across, axis_of(across, part), section, view)
        elif kind in (AcrossKind.SQUARE, AcrossKind.HEXAGON):
            items += _sides(across, section, view)
        else:
            items += _floor(across, part, view)
    return items


def _cross_hole(across: SolvedAcross, axis: Axis, section: Section, view: View) -> list[Item]:
    """Its axis, and dashed lines a diameter apart."""
    x, leaning = view.x(across.centre), math.radians(axis.lean_deg)
    reach = radius_at(section.outer, across.centre) * view.scale + PAST_MM
    lean = math.tan(leaning) * reach
    items: list[Item] = [Line(x + lean, -reach, x - lean, reach, LineType.CENTRE)]
    half = across.sizes.get("diameter", 0.0) / 2 * view.scale / math.cos(leaning)
    tilt, top = lean / reach, reach - PAST_MM
    for side in (-half, half) if half > 0 else ():
        items.append(Line(x + side + tilt * top, -top, x + side - tilt * top, top, LineType.HIDDEN))
    return items


def _on_face(across: SolvedAcross, part: SolvedPart, section: Section, view: View) -> list[Item]:
    """Two of the holes, at the top and the bottom of their pitch circle."""
    circle, half = across.sizes.get("pitch circle diameter", 0.0) / 2, across.sizes.get("diameter", 0.0) / 2
    is_left = across.source.face == "left"
    start, way = (0.0, 1.0) if is_left else (part.length, -1.0)
    deep = across.sizes.get("depth") or _through(section, start, way, circle, part.length)
    items: list[Item] = []
    x0, x1 = view.x(start), view.x(start + way * deep)
    past = -PAST_MM if is_left else PAST_MM
    for sign in (-1.0, 1.0):
        items.append(Line(x0 + past, sign * circle * view.scale, x1 - past, sign * circle * view.scale, LineType.CENTRE))
        for r in (circle - half, circle + half):
            items.append(Line(x0, sign * r * view.scale, x1, sign * r * view.scale, LineType.HIDDEN))
    return items


def _through(section: Section, start: float, way: float, radius: float, length: float) -> float:
    """How far there is metal behind a face at a radius. [mm]"""
    steps = np.linspace(0.0, length, 400)[1:]
    return float(next((s for s in steps if radius_at(section.outer, start + way * s) < radius), length))


def _sides(across: SolvedAcross, section: Section, view: View) -> list[Item]:
    """The flat faces as they are seen: a square's with its thin diagonals, a hexagon's edges."""
    low, high = across.sizes.get("left"), across.sizes.get("right")
    flats = across.sizes.get("across flats")
    if low is None or high is None or flats is None:
        return []
    a, b = view.x(low), view.x(high)
    if across.source.kind is AcrossKind.HEXAGON:
        y = flats / math.sqrt(3.0) / 2 * view.scale
        return [Line(a, s * y, b, s * y, LineType.EDGE) for s in (-1.0, 1.0)]
    y = min(flats / 2, radius_at(section.outer, (low + high) / 2)) * view.scale
    edges: list[Item] = [Line(a, s * y, b, s * y, LineType.EDGE) for s in (-1.0, 1.0)]
    return [*edges, Line(a, -y, b, y), Line(a, y, b, -y)]


def _floor(across: SolvedAcross, part: SolvedPart, view: View) -> list[Item]:
    """A flat or a slot's floor edge on, at its lean; of a pair the other too."""
    height = across.sizes.get("from axis")
    host = next((f for f in part.outside if f.name == across.source.on), None)
    if height is None or host is None:
        return []
    lean = math.radians(axis_of(across, part).lean_deg)
    if host.centre is not None and host.arc_radius and host.centre_radius == 0.0:
        half = math.sqrt(max(host.arc_radius**2 - height**2, 0.0))
    else:
        half = across.sizes.get("length", host.length) / 2 / max(math.cos(lean), 1e-6)
    items: list[Item] = []
    for sign in (1.0, -1.0) if across.source.count == 2 else (1.0,):
        x = view.x(across.centre) + sign * height * math.sin(lean) * view.scale
        y = -sign * height * math.cos(lean) * view.scale
        dx, dy = half * math.cos(lean) * view.scale, half * math.sin(lean) * view.scale
        items.append(Line(x - dx, y - dy, x + dx, y + dy, LineType.EDGE))
    return items
