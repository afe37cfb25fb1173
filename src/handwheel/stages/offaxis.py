"""What is taken off the axis, as solids: straight-sided, convex, open to one side, on the metal turned about the axis.

Frame as in `axis`: (z, x, y), x up in the picture, y toward whoever looks at it. Lengths in mm, angles in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from handwheel.stages.records import Section

Array = NDArray[np.float64]
ON_MM = 1e-6
STEPS = 400
"""Places along a line at which it is looked for where it leaves the metal."""
HALVINGS = 30
ANGLES = 721
CURVE = 121


@dataclass(frozen=True, slots=True)
class OffAxis:
    """One straight-sided cut: everything within `contour` on its open side, down to `end`.

    kind: hole, ring (one hole of a pitch circle), slot, flat, square, hexagon. origin, toward, along, beside: (3,) where its
    axis begins, unit vectors to its open side, and the two that `contour` (n, 2) is drawn on, anticlockwise. end: least
    place on the axis at full size, -inf right through; point: a drill's point beyond it. up_deg: place about the part's
    axis, from its mark, that pictures have at the top.
    """

    name: str
    kind: str
    origin: Array
    toward: Array
    along: Array
    beside: Array
    contour: Array
    end: float
    point: float = 0.0
    up_deg: float = 0.0

    @property
    def is_face(self) -> bool:
        """Whether it is a flat face, not a hole or slot."""
        return self.kind in ("flat", "square", "hexagon")

    def at(self, u: Array, w: Array, s: Array) -> Array:
        """(n, 3) the points so far along, beside and up its axis."""
        return self.origin + np.outer(u, self.along) + np.outer(w, self.beside) + np.outer(s, self.toward)


def turned(shape: OffAxis, by_deg: float) -> OffAxis:
    """The same turned about the part's axis."""
    c, s = math.cos(math.radians(by_deg)), math.sin(math.radians(by_deg))
    turn = np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]])
    return replace(shape, origin=turn @ shape.origin, toward=turn @ shape.toward, along=turn @ shape.along,
                   beside=turn @ shape.beside)  # fmt: skip


def as_seen(shapes: Sequence[OffAxis], up_deg: float | None = None, far_side: bool = False) -> list[OffAxis]:
    """The shapes with `up_deg` (left out: their own) at the top. Of a pitch circle one hole at the top and one at the bottom,
    as drawings have them. `far_side`: seen from the other side, left and right exchanged."""
    found: list[OffAxis] = []
    for shape in shapes:
        if shape.kind == "ring":
            found += [turned(shape, 0.0), turned(shape, 180.0)]
        else:
            found.append(turned(shape, -(shape.up_deg if up_deg is None else up_deg)))
    return [_mirrored(s) for s in found] if far_side else found


def _mirrored(shape: OffAxis) -> OffAxis:
    """Near and far side exchanged. [mm]"""
    flip = np.array([1.0, 1.0, -1.0])
    contour = np.asarray(shape.contour)[::-1] * (1.0, -1.0)
    return replace(shape, origin=shape.origin * flip, toward=shape.toward * flip, along=shape.along * flip,
                   beside=-shape.beside * flip, contour=contour)  # fmt: skip


def _half_spaces(shape: OffAxis) -> tuple[Array, Array]:
    """(m, 3) outward normals and (m,) the greatest n·p within: the sides, then the floor or the drill's point."""
    a, b = shape.contour, np.roll(shape.contour, -1, axis=0)
    step = b - a
    normals = np.outer(step[:, 1], shape.along) - np.outer(step[:, 0], shape.beside)
    corners = shape.at(a[:, 0], a[:, 1], np.zeros(len(a)))
    if math.isinf(shape.end):
        pass
    elif shape.point <= 0.0:
        normals = np.vstack([normals, -shape.toward])
        corners = np.vstack([corners, shape.origin + shape.end * shape.toward])
    else:
        full = np.full(len(a), shape.end)
        apex = shape.at(np.zeros(1), np.zeros(1), np.array([shape.end - shape.point]))[0]
        first, second = shape.at(a[:, 0], a[:, 1], full), shape.at(b[:, 0], b[:, 1], full)
        normals = np.vstack([normals, np.cross(second - apex, first - apex)])
        corners = np.vstack([corners, first])
    lengths = np.linalg.norm(normals, axis=1)
    normals = normals[lengths > 0] / lengths[lengths > 0][:, None]
    return normals, np.einsum("ij,ij->i", normals, corners[lengths > 0])


def in_plane(shape: OffAxis, far: float) -> Array:
    """(n, 2) what it takes of the picture's plane, y 0, as a convex polygon (z, x), within `far` of the axis' middle; or
    (0, 2)."""
    centre = float(shape.origin[0])
    polygon = np.array([[centre - far, -far], [centre + far, -far], [centre + far, far], [centre - far, far]])
    normals, limits = _half_spaces(shape)
    for normal, limit in zip(normals[:, :2], limits, strict=True):
        polygon = _kept(polygon, normal, limit)
        if len(polygon) < 3:
            return np.zeros((0, 2))
    return polygon


def _kept(polygon: Array, normal: Array, limit: float) -> Array:
    """A convex polygon cut to n·p <= limit."""
    over = polygon @ normal - limit
    found = []
    for k, (p, d) in enumerate(zip(polygon, over, strict=True)):
        after, e = polygon[(k + 1) % len(polygon)], over[(k + 1) % len(polygon)]
        if d <= 0.0:
            found.append(p)
        if (d < 0.0 < e) or (e < 0.0 < d):
            found.append(p + (after - p) * d / (d - e))
    return np.array(found) if found else np.zeros((0, 2))


def radius_of(outer: Array, z: Array) -> Array:
    """Radius of the outside at each z, 0 beyond its ends. [mm]"""
    found: Array = np.interp(z, outer[:, 0], outer[:, 1], left=0.0, right=0.0)
    return found


def rims(shape: OffAxis, section: Section, faces: Sequence[OffAxis] = ()) -> list[Array]:
    """(n, 3) closed curves in which a hole or slot opens to the outside; `faces`: flats it may be entered through."""
    u, w = shape.contour[:, 0], shape.contour[:, 1]
    if shape.kind == "ring":
        return []
    found = []
    for way in (1.0, -1.0) if math.isinf(shape.end) else (1.0,):
        s = _leaves(shape, section.outer, way)
        for face in faces:
            s = _down_to(shape, face, s, way)
        kept = np.isfinite(s) & (s > shape.end - ON_MM) if way > 0 else np.isfinite(s)
        if kept.sum() > 2:
            points = shape.at(u[kept], w[kept], s[kept])
            found.append(np.vstack([points, points[:1]]) if kept.all() else points)
    return found


def _leaves(shape: OffAxis, outer: Array, way: float) -> Array:
    """(n,) how far up its axis each side line leaves the metal for good, -inf where it never meets it."""
    u, w = shape.contour[:, 0], shape.contour[:, 1]
    far = float(np.ptp(outer[:, 0])) + 2.0 * float(outer[:, 1].max())
    steps = way * np.linspace(far, -far, STEPS)
    foot = shape.at(u, w, np.zeros(len(u)))

    def depth(s: Array) -> Array:
        p = foot[:, None, :] + s[..., None] * shape.toward
        within: Array = radius_of(outer, p[..., 0]) - np.hypot(p[..., 1], p[..., 2])
        return within

    inside = depth(np.broadcast_to(steps, (len(u), STEPS))) > 0.0
    first = inside.argmax(axis=1)
    met = inside.any(axis=1)
    low, high = steps[first], steps[np.maximum(first - 1, 0)]
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        within = depth(middle[:, None])[:, 0] > 0.0
        low, high = np.where(within, middle, low), np.where(within, high, middle)
    return np.where(met, low, -way * np.inf)


def _down_to(shape: OffAxis, face: OffAxis, s: Array, way: float) -> Array:
    """Where a flat face has been cut, the hole opens in it."""
    slope = float(face.toward @ shape.toward) * way
    if slope < 0.1:
        return s
    foot = shape.at(shape.contour[:, 0], shape.contour[:, 1], np.zeros(len(s)))
    there = way * (face.end - (foot - face.origin) @ face.toward) / slope
    u = (foot + there[:, None] * shape.toward - face.origin) @ face.along
    on = (u > face.contour[:, 0].min()) & (u < face.contour[:, 0].max())
    return np.where(on, np.minimum(s, there) if way > 0 else np.maximum(s, there), s)


def face_edge(shape: OffAxis, section: Section) -> Array:
    """(n, 3) the closed edge of a flat face: where it meets the outside, its neighbours and its ends; or (0, 3)."""
    low, high = shape.contour[:, 0].min(), shape.contour[:, 0].max()
    u = np.linspace(low + 2 * ON_MM, high - 2 * ON_MM, CURVE)  # a shoulder it ends at is not its own
    middle = shape.at(u, np.zeros(CURVE), np.full(CURVE, shape.end))
    radius = radius_of(section.outer, np.clip(middle[:, 0], *_inside(section.outer)))
    half = np.sqrt(np.maximum(radius**2 - np.hypot(middle[:, 1], middle[:, 2]) ** 2, 0.0))
    half = np.minimum(half, shape.contour[:, 1].max())
    on = (half > 0.0) & (middle[:, 0] > section.outer[0, 0] - ON_MM) & (middle[:, 0] < section.outer[-1, 0] + ON_MM)
    if not on.any():
        return np.zeros((0, 3))
    u, half, end = u[on], half[on], np.full(int(on.sum()), shape.end)
    near, far = shape.at(u, half, end), shape.at(u[::-1], -half[::-1], end)
    return np.vstack([near, far, near[:1]])


def _inside(outer: Array) -> tuple[float, float]:
    return float(outer[0, 0]) + ON_MM, float(outer[-1, 0]) - ON_MM


def seen_profile(section: Section, faces: Sequence[OffAxis], side: float) -> Array:
    """(n, 2) the outline above (side 1) or below (-1) the axis once flat faces are cut, z never decreasing. [mm]"""
    outer = section.outer
    if not faces:
        return outer
    rows = np.vstack([outer, *(_extra(outer, face) for face in faces)])
    rows = rows[np.argsort(rows[:, 0], kind="stable")]
    angles = np.linspace(-math.pi / 2.0, math.pi / 2.0, ANGLES)
    dx, dy = side * np.cos(angles), np.sin(angles)
    reach = np.broadcast_to(rows[:, 1][:, None], (len(rows), ANGLES)).copy()
    for face in faces:
        n, o = face.toward, face.origin
        with np.errstate(divide="ignore", invalid="ignore"):
            t = (face.end - n[0] * (rows[:, 0] - o[0]))[:, None] / (n[1] * dx + n[2] * dy)[None, :]
        meets = np.isfinite(t) & (n[1] * dx + n[2] * dy > 1e-9)[None, :]
        t = np.where(meets, np.maximum(t, 0.0), np.inf)
        finite = np.where(np.isfinite(t), t, 0.0)
        u = face.along[0] * (rows[:, 0] - o[0])[:, None] + finite * (face.along[1] * dx + face.along[2] * dy)
        low, high = face.contour[:, 0].min(), face.contour[:, 0].max()
        on = (u > low + ON_MM / 2) & (u < high - ON_MM / 2)
        reach = np.where(meets & on, np.minimum(reach, t), reach)
    seen = (reach * np.cos(angles)).max(axis=1)
    return np.column_stack([rows[:, 0], seen])


def _extra(outer: Array, face: OffAxis) -> Array:
    """Places at which a flat face is looked at besides the outline's own corners."""
    low, high = (float(face.origin[0]) + s * (abs(float(face.along[0])) * float(np.abs(face.contour[:, 0]).max())
                 + abs(float(face.toward[0] * face.end))) for s in (-1, 1))  # fmt: skip
    ends = face.origin[0] + face.along[0] * face.contour[:, 0]
    z = np.concatenate([np.linspace(low, high, CURVE), *((e - ON_MM, e + ON_MM) for e in ends)])
    z = z[(z > outer[0, 0]) & (z < outer[-1, 0])]
    z = z[np.abs(z[:, None] - outer[:, 0]).min(axis=1) > ON_MM / 2]
    return np.column_stack([z, radius_of(outer, z)])


def axis_ends(shape: OffAxis, section: Section, past: float) -> Iterator[Array]:
    """(2, 3) its centre line, `past` the metal and the bottom."""
    far = float(np.ptp(section.outer[:, 0])) + float(section.outer[:, 1].max())
    steps = np.linspace(-far, far, 4 * STEPS)
    p = shape.origin + np.outer(steps, shape.toward)
    inside = steps[radius_of(section.outer, p[:, 0]) > np.hypot(p[:, 1], p[:, 2])]
    if len(inside):
        low = max(float(inside.min()), shape.end - shape.point) - past
        yield shape.origin + np.outer([low, float(inside.max()) + past], shape.toward)
