"""An axis across the part's own: where it enters the metal, what stands beside it, and the circle the part sweeps about it.

Frame: z along the part, x toward `around` 0°, y a quarter turn on. An axis crosses the part's at z = `centre` and points
where its open end is: (z, x, y) = (sin λ, cos λ·cos φ, cos λ·sin φ), λ the lean to the right, φ about the part's axis.
The part is round about its own axis, so only (z, r) of its outline is needed. Lengths in mm, angles in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handwheel.stages.records import Section

Array = NDArray[np.float64]
ROUND = 48
"""Points on a circle that is looked at."""


@dataclass(frozen=True, slots=True)
class Axis:
    """An axis through (centre, 0). `lean_deg` 0: square to the part's axis. [mm], [deg]"""

    centre: float
    lean_deg: float = 0.0
    around_deg: float = 0.0

    @property
    def direction(self) -> Array:
        """(3,) unit vector z, x, y toward its open end."""
        lean, around = math.radians(self.lean_deg), math.radians(self.around_deg)
        return np.array([math.sin(lean), math.cos(lean) * math.cos(around), math.cos(lean) * math.sin(around)])

    def point(self, along: float) -> Array:
        """(3,) the point that far along it. [mm]"""
        return np.array([self.centre, 0.0, 0.0]) + along * self.direction

    def circle(self, along: float, radius: float) -> Array:
        """(ROUND, 3) points of the circle about it at that place. [mm]"""
        n = self.direction
        beside = np.array([-n[2], 0.0, n[0]]) if abs(n[1]) < 0.9 else np.array([n[1], -n[0], 0.0])
        u = beside / np.linalg.norm(beside)
        w = np.cross(n, u)
        angle = np.linspace(0.0, 2.0 * math.pi, ROUND, endpoint=False)[:, None]
        found: Array = self.point(along) + radius * (np.cos(angle) * u + np.sin(angle) * w)
        return found


def outside_outline(section: Section) -> Array:
    """(n, 2) the outside with both end faces, from the axis to the axis. [mm]"""
    outer = section.outer
    return np.vstack([[outer[0, 0], 0.0], outer, [outer[-1, 0], 0.0]])


def leaves_at(outline: Array, axis: Axis, toward: float = 1.0) -> float:
    """How far from the part's axis the axis leaves that outline, on its open side (1) or the other (-1). [mm]"""
    lean = math.radians(axis.lean_deg)
    dz, dr = toward * math.sin(lean), math.cos(lean)
    a, b = outline[:-1], outline[1:]
    ez, er = b[:, 0] - a[:, 0], b[:, 1] - a[:, 1]
    det = dr * ez - dz * er
    with np.errstate(divide="ignore", invalid="ignore"):
        wz, wr = a[:, 0] - axis.centre, a[:, 1]
        t = (wr * ez - wz * er) / det
        s = (dz * wr - dr * wz) / det
    hit = t[np.isfinite(t) & (s > -1e-9) & (s < 1.0 + 1e-9) & (t > -1e-9)]
    return float(hit.max()) if len(hit) else 0.0


def swept_radius(section: Section, axis: Axis) -> float:
    """Radius of the circle that the whole part sweeps when it turns about the axis. [mm]

    For a ring of radius r at z, with a = (z - centre)·cos λ and b = r·sin λ, the square of the distance from the axis is
    (a - b·c)² + r²·(1 - c²), c the cosine of the place round the ring: greatest at c = -a·b / (r² - b²), kept to ±1.
    """
    lean = math.radians(axis.lean_deg)
    z, r = section.outer[:, 0], section.outer[:, 1]
    a, b = (z - axis.centre) * math.cos(lean), r * math.sin(lean)
    bend = np.maximum(r * r - b * b, 1e-12)
    c = np.clip(-a * b / bend, -1.0, 1.0)
    return float(np.sqrt(((a - b * c) ** 2 + r * r * (1.0 - c * c)).max()))


def reaches_along(section: Section, axis: Axis) -> tuple[float, float]:
    """Least and greatest distance of the part along the axis from where it crosses the part's. [mm]"""
    lean = math.radians(axis.lean_deg)
    middle = (section.outer[:, 0] - axis.centre) * math.sin(lean)
    half = section.outer[:, 1] * math.cos(lean)
    return float((middle - half).min()), float((middle + half).max())


def metal_between(points: Array, section: Section) -> float:
    """Least distance from points in the metal, (n, 3), to the outside; negative where one lies outside. [mm]"""
    outline = outside_outline(section)
    flat = np.column_stack([points[:, 0], np.hypot(points[:, 1], points[:, 2])])
    distance = _to_outline(flat, outline)
    inside = flat[:, 1] < _radius(outline, flat[:, 0])
    return float(np.where(inside, distance, -distance).min())


def to_bore(points: Array, section: Section) -> float:
    """Least distance from points, (n, 3), to a hole on the part's axis; infinite without one, negative within. [mm]"""
    inner = section.inner
    if float(inner[:, 1].max()) < 1e-9:
        return math.inf
    flat = np.column_stack([points[:, 0], np.hypot(points[:, 1], points[:, 2])])
    edge = inner[np.maximum(np.append(inner[1:, 1], 0.0), np.maximum(inner[:, 1], np.append(0.0, inner[:-1, 1]))) > 1e-9]
    distance = _to_outline(flat, edge)
    within = flat[:, 1] < _radius(inner, flat[:, 0]) - 1e-9
    return float(np.where(within, -distance, distance).min())


def between_axes(one: Axis, other: Axis) -> float:
    """Shortest distance between two axes that cross the part's. [mm]"""
    n = np.cross(one.direction, other.direction)
    length = float(np.linalg.norm(n))
    offset = np.array([other.centre - one.centre, 0.0, 0.0])
    if length < 1e-9:
        return float(np.linalg.norm(np.cross(offset, one.direction)))
    return abs(float(offset @ n)) / length


def _radius(outline: Array, z: Array) -> Array:
    """Greatest radius of the outline at each z, 0 beyond its ends. [mm]"""
    found = np.zeros(len(z))
    for (z0, r0), (z1, r1) in _pairs(outline):
        if z1 - z0 > 1e-12:
            on = (z >= z0 - 1e-12) & (z <= z1 + 1e-12)
            found[on] = np.maximum(found[on], r0 + (r1 - r0) * (z[on] - z0) / (z1 - z0))
    return found


def _to_outline(points: Array, outline: Array) -> Array:
    """Distance of points in (z, r) from the outline. (n,) [mm]"""
    best = np.full(len(points), np.inf)
    for start, end in _pairs(outline):
        a, d = np.asarray(start), np.asarray(end) - np.asarray(start)
        length = float(d @ d)
        share = np.clip((points - a) @ d / length, 0.0, 1.0) if length > 0 else np.zeros(len(points))
        best = np.minimum(best, np.linalg.norm(points - a - share[:, None] * d, axis=1))
    return best


def _pairs(outline: Array) -> Iterable[tuple[Array, Array]]:
    return zip(outline[:-1], outline[1:], strict=True)
