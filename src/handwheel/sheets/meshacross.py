"""What lies across taken out of a mesh: holes, flats, squares, hexagons and slots, by a library for solids where it is
installed (the extra `mesh`). Without it the mesh is round all over, and the caller is told so.
"""

from __future__ import annotations

import importlib
import importlib.util
import math
from collections.abc import Collection, Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.records import SolvedAcross, SolvedPart
from handwheel.job.records import AcrossKind, OutsideKind, Side
from handwheel.plan.across.cuts import DRILL_POINT_DEG, Place, hole_depth, place_of
from handwheel.plan.across.groups import Group, face_count, groups_of, host_of
from handwheel.sheets.mesh import Mesh, corners_around
from handwheel.stages.axis import Axis
from handwheel.stages.envelope import clip, polyline, upper
from handwheel.stages.metal import ends
from handwheel.stages.records import Section

LIBRARY = "manifold3d"
NEAR_MM = 0.02
"""A corner this near the surface is taken to be on it. [mm]"""
ALONG = np.array([[0.0, 0.0, 1.0, 0.0], [0.0, 1.0, 0.0, 0.0], [-1.0, 0.0, 0.0, 0.0]])
"""(3, 4): what stands up laid along the part, its own x downward."""
Solid = Any
"""A solid of the library, which comes without types."""


def has_solids() -> bool:
    """Whether the library for solids is installed."""
    return importlib.util.find_spec(LIBRARY) is not None


def with_corners(section: Section, part: SolvedPart, made: Collection[str]) -> Section:
    """The section raised a little where a square or hexagon reaches just to the surface, so that its corners come out
    sharp and no face of the mesh ends in nothing. [mm]"""
    outer = section.outer
    left, right = ends(section)
    for item in part.across:
        count = face_count(item)
        if item.name not in made or count not in (4, 6):
            continue
        host = next((f for f in part.outside if f.name == item.source.on), None)
        low, high = (max(item.sizes.get("left", host.left if host else left), left),
                     min(item.sizes.get("right", host.right if host else right), right))  # fmt: skip
        corner = item.sizes.get("across flats", 0.0) / 2.0 / math.cos(math.pi / count)
        there = clip(outer, low + 1e-6, high - 1e-6)
        if len(there) and abs(float(there[:, 1].max()) - corner) < NEAR_MM:
            outer = upper(outer, polyline([[low, corner + NEAR_MM], [high, corner + NEAR_MM]]))
    return Section(outer, section.inner)


def without_across(mesh: Mesh, part: SolvedPart, section: Section, made: Collection[str]) -> Mesh:
    """The mesh with the features across that are named in `made` taken out. ImportError without the library."""
    solids = importlib.import_module(LIBRARY)
    body = solids.Manifold(solids.Mesh(mesh.corners.astype(np.float32), mesh.triangles.astype(np.uint32)))
    for group in groups_of(part):
        place = place_of(group, part, section)
        for item in group.items:
            if item.name in made:
                for tool in _tools(solids, item, group, part, section, place):
                    body = body - tool
    found = body.to_mesh()
    return Mesh(np.asarray(found.vert_properties, dtype=np.float64)[:, :3], np.asarray(found.tri_verts, dtype=np.int64))


def _tools(solids: Any, item: SolvedAcross, group: Group, part: SolvedPart, section: Section, place: Place) -> Iterator[Solid]:
    """What is taken away for one feature, as solids in the part's place."""
    far = 2.0 * float(section.outer[:, 1].max()) + part.length
    kind = item.source.kind
    if kind is AcrossKind.HOLES:
        yield from _on_face(solids, item, part, far)
    elif kind is AcrossKind.HOLE:
        half = item.sizes.get("diameter", 0.0) / 2.0
        depth = hole_depth(item, group, part, section, place)
        is_open = item.source.is_through or item.source.into or item.source.is_flat_bottomed
        end = -far if item.source.is_through else place.entry - depth
        yield _drill(solids, half, far, end, not is_open).transform(_placed(group.axis))
    elif kind is AcrossKind.SLOT:
        yield _slot(solids, item, place, far).transform(_placed(group.axis))
    else:
        yield from _faces(solids, item, group, part, far)


def _drill(solids: Any, radius: float, top: float, bottom: float, has_point: bool) -> Solid:
    """A cylinder along its own axis, from `top` down to the end of its full diameter, with a drill's point or flat."""
    around = corners_around(radius)
    body = solids.Manifold.cylinder(top - bottom, radius, radius, around).translate((0.0, 0.0, bottom))
    if not has_point:
        return body
    point = radius / math.tan(math.radians(DRILL_POINT_DEG / 2.0))
    return body + solids.Manifold.cylinder(point, 0.0, radius, around).translate((0.0, 0.0, bottom - point))


def _slot(solids: Any, item: SolvedAcross, place: Place, far: float) -> Solid:
    width = item.sizes.get("width", 0.0)
    depth = item.sizes.get("depth", place.crown - item.sizes.get("from axis", place.crown))
    bottom = -far if item.source.is_through or depth <= 0.0 else place.entry - depth
    apart = max(item.sizes.get("right", 0.0) - item.sizes.get("left", 0.0) - width, 0.0)
    ends = [_drill(solids, width / 2.0, far, bottom, False).translate((x, 0.0, 0.0)) for x in (-apart / 2.0, apart / 2.0)]
    middle = solids.Manifold.cube((max(apart, 1e-6), width, far - bottom), False)
    return middle.translate((-apart / 2.0, -width / 2.0, bottom)) + ends[0] + ends[1]


def _faces(solids: Any, item: SolvedAcross, group: Group, part: SolvedPart, far: float) -> Iterator[Solid]:
    """All beyond each flat, as far along as it goes; on a ball as far as the ball reaches."""
    height = item.sizes.get("from axis", item.sizes.get("across flats", 0.0) / 2.0)
    host = host_of(group, part)
    low, high = item.sizes.get("left", 0.0), item.sizes.get("right", 0.0)
    if high <= low and host is not None:
        low, high = host.left, host.right
    centre = group.axis.centre
    if host is not None and host.source.kind is OutsideKind.BALL:
        low, high = centre - (host.arc_radius or 0.0), centre + (host.arc_radius or 0.0)
    if not group.axis.lean_deg:  # its ends to the mesh's own digits, so that it ends in the faces it ends at
        low, high, centre = float(np.float32(low)), float(np.float32(high)), 0.0
    count = max(face_count(item), 1)
    slab = solids.Manifold.cube((high - low, 2.0 * far, 2.0 * far), False).translate((low - centre, -far, -far))
    if count > 2:  # all at once, so that no face leaves its mark in the shoulder it ends at
        corner = height / math.cos(math.pi / count)
        turns = 2.0 * math.pi * (np.arange(count) + 0.5) / count
        shape = solids.CrossSection([np.column_stack([corner * np.cos(turns), corner * np.sin(turns)])])
        prism = shape.extrude(3.0 * far).translate((0.0, 0.0, -1.5 * far)).transform(ALONG)
        yield (slab - prism).transform(_placed(Axis(centre, group.axis.lean_deg, group.axis.around_deg)))
        return
    for k in range(count):
        beyond = slab ^ solids.Manifold.cube((3.0 * far, 3.0 * far, far), False).translate((-1.5 * far, -1.5 * far, height))
        yield beyond.transform(_placed(Axis(centre, group.axis.lean_deg, group.axis.around_deg + 360.0 * k / count)))


def _on_face(solids: Any, item: SolvedAcross, part: SolvedPart, far: float) -> Iterator[Solid]:
    """Holes on a pitch circle, bored square to an end face."""
    radius, half = item.sizes.get("pitch circle diameter", 0.0) / 2.0, item.sizes.get("diameter", 0.0) / 2.0
    depth = item.sizes.get("depth", 0.0)
    bottom = -far if item.source.is_through or depth <= 0.0 else -depth
    is_right = item.source.face is Side.RIGHT
    x, outward = (part.length, 1.0) if is_right else (0.0, -1.0)
    for k in range(item.source.count):
        angle = math.radians(float(item.source.first_at_deg) + 360.0 * k / item.source.count)
        tool = _drill(solids, half, 1.0, bottom, bottom > -far and not item.source.is_flat_bottomed)
        yield tool.transform(np.array([
            [0.0, 0.0, outward, x],
            [1.0, 0.0, 0.0, radius * math.cos(angle)],
            [0.0, outward, 0.0, radius * math.sin(angle)]]))  # fmt: skip


def _placed(axis: Axis) -> NDArray[np.float64]:
    """(3, 4): a tool's own z onto the axis toward its open end, its x along the part as far as the lean lets it."""
    up = axis.direction
    around = math.radians(axis.around_deg)
    beside = np.array([0.0, math.sin(around), -math.cos(around)])
    along = np.cross(beside, up)
    turned = np.round(np.column_stack([along, beside, up]), 12)  # faces that meet in one plane stay in it
    return np.column_stack([turned, [axis.centre, 0.0, 0.0]])
