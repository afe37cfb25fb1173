"""What each feature across takes away, as solids that pictures and drawings for other programs are made from."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from handwheel.drawing.records import SolvedAcross, SolvedPart
from handwheel.job.records import AcrossKind, OutsideKind, Side
from handwheel.plan.across.cuts import DRILL_POINT_DEG, hole_depth, place_of
from handwheel.plan.across.groups import BORED, Group, face_count, groups_of, host_of
from handwheel.stages.axis import Axis
from handwheel.stages.metal import ends
from handwheel.stages.offaxis import Array, OffAxis, radius_of
from handwheel.stages.records import Section

ROUND = 64
CLEAR_MM = 0.01
PAST_MM = 1.0
"""How far a flat that ends at the part's end is carried past it, so that no edge is left standing there. [mm]"""


def shapes_of(part: SolvedPart, section: Section) -> tuple[OffAxis, ...]:
    """All that lies across, each flat face by itself, of a pitch circle one hole; all with the same place at the top."""
    up = _up(part)
    found: list[OffAxis] = []
    for group in groups_of(part):
        for item in group.items:
            found += _shapes(item, group, part, section, up)
    return tuple(found)


def _up(part: SolvedPart) -> float:
    """Place about the axis at the top of a picture: a hole, slot or flat in the picture's plane; a hexagon on a corner."""
    groups = groups_of(part)
    first = [(g, i) for g in groups for i in g.items if g.face is None]
    first.sort(key=lambda f: (f[1].source.kind not in BORED, face_count(f[1]) > 2))
    if not first:
        return 0.0
    group, item = first[0]
    return group.axis.around_deg + (30.0 if item.source.kind is AcrossKind.HEXAGON else 0.0)


def _shapes(item: SolvedAcross, group: Group, part: SolvedPart, section: Section, up: float) -> Iterator[OffAxis]:
    kind, half = item.source.kind, item.sizes.get("diameter", 0.0) / 2.0
    if kind in BORED and half <= 0.0:
        return
    if item.source.face is not None:
        yield _ring(item, part, section, half)
        return
    place = place_of(group, part, section)
    if kind is AcrossKind.HOLE:
        depth = hole_depth(item, group, part, section, place)
        is_open = item.source.is_through or bool(item.source.into) or item.source.is_flat_bottomed
        point = 0.0 if is_open else half / math.tan(math.radians(DRILL_POINT_DEG / 2.0))
        end = -math.inf if item.source.is_through else place.entry - depth
        yield _about(item.name, "hole", group.axis, _obround(half, 0.0), end, point, up)
    elif kind is AcrossKind.SLOT:
        width = item.sizes.get("width", 0.0)
        if width <= 0.0:
            return
        depth = item.sizes.get("depth", place.crown - item.sizes.get("from axis", place.crown))
        end = -math.inf if item.source.is_through or depth <= 0.0 else place.entry - depth
        apart = max(item.sizes.get("right", 0.0) - item.sizes.get("left", 0.0) - width, 0.0)
        yield _about(item.name, "slot", group.axis, _obround(width / 2.0, apart / 2.0), end, 0.0, up)
    else:
        yield from _faces(item, group, part, section, up)


def _faces(item: SolvedAcross, group: Group, part: SolvedPart, section: Section, up: float) -> Iterator[OffAxis]:
    height = item.sizes.get("from axis", item.sizes.get("across flats", 0.0) / 2.0)
    host, centre, count = host_of(group, part), group.axis.centre, max(face_count(item), 1)
    low, high = item.sizes.get("left", 0.0), item.sizes.get("right", 0.0)
    if high <= low and host is not None:
        low, high = host.left, host.right
    if host is not None and host.source.kind is OutsideKind.BALL:
        chord = math.sqrt(max((host.arc_radius or 0.0) ** 2 - height**2, 0.0)) + CLEAR_MM
        low, high = centre - chord, centre + chord
    first, last = ends(section)
    low, high = low - PAST_MM * (low < first + 1e-6), high + PAST_MM * (high > last - 1e-6)
    wide = height * math.tan(math.pi / count) if count > 2 else 2.0 * float(section.outer[:, 1].max())
    contour = np.array([[low, -wide], [high, -wide], [high, wide], [low, wide]]) - (centre, 0.0)
    for k in range(count):
        axis = Axis(centre, group.axis.lean_deg, group.axis.around_deg + 360.0 * k / count)
        yield _about(item.name, str(item.source.kind), axis, contour, height, 0.0, up)


def _about(name: str, kind: str, axis: Axis, contour: Array, end: float, point: float, up: float) -> OffAxis:
    toward, around = axis.direction, math.radians(axis.around_deg)
    beside = np.array([0.0, math.sin(around), -math.cos(around)])
    return OffAxis(name, kind, axis.point(0.0), toward, np.cross(beside, toward), beside, contour, end, point, up)


def _ring(item: SolvedAcross, part: SolvedPart, section: Section, half: float) -> OffAxis:
    """One hole of a pitch circle, at the top."""
    depth, is_right = item.sizes.get("depth", 0.0), item.source.face is Side.RIGHT
    is_through = item.source.is_through or depth <= 0.0
    point = 0.0 if is_through or item.source.is_flat_bottomed else half / math.tan(math.radians(DRILL_POINT_DEG / 2.0))
    way = 1.0 if is_right else -1.0
    origin = np.array([part.length if is_right else 0.0, item.sizes.get("pitch circle diameter", 0.0) / 2.0, 0.0])
    toward, along = np.array([way, 0.0, 0.0]), np.array([0.0, 1.0, 0.0])
    if is_through:  # through the metal behind the face, not through what stands farther on
        behind = np.linspace(0.0, part.length, 400)
        metal = radius_of(section.outer, origin[0] - way * behind) >= origin[1]
        depth = float(behind[int(metal[1:].argmin()) + 1]) if not metal[1:].all() else part.length + PAST_MM
    return OffAxis(item.name, "ring", origin, toward, along, np.cross(toward, along), _obround(half, 0.0), -depth, point)


def _obround(half: float, apart: float) -> Array:
    """(n, 2) a circle, or a slot with round ends, anticlockwise. [mm]"""
    turns = (np.arange(ROUND) + 0.5) * 2.0 * math.pi / ROUND
    x, y = half * np.cos(turns), half * np.sin(turns)
    return np.column_stack([x + np.where(x > 0.0, apart, -apart), y])
