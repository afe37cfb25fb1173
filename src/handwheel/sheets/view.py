"""A half-section of metal in the picture's own millimetres: clipped, turned the way it is held, outlined and shaded."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from handwheel.sheets.primitives import Item, Line, LineType, Point, Polyline
from handwheel.sheets.shading import hatch, stipple
from handwheel.stages.records import Polyline as Profile
from handwheel.stages.records import Section

CORNER_DEG = 9.0


@dataclass(frozen=True, slots=True)
class View:
    """How z of a part becomes x of the picture, whose axis is y = 0. `mirrored`: the part's left end to the right."""

    z_low: float
    z_high: float
    scale: float
    mirrored: bool = False

    def x(self, z: float) -> float:
        """x of a station. [mm]"""
        return ((self.z_high - z) if self.mirrored else (z - self.z_low)) * self.scale

    def point(self, z: float, r: float) -> Point:
        """The point above the axis. [mm]"""
        return self.x(z), -r * self.scale

    @property
    def width(self) -> float:
        """Width of the picture. [mm]"""
        return (self.z_high - self.z_low) * self.scale


def clipped(profile: Profile, low: float, high: float) -> Profile:
    """The profile between two stations, cut square there. (n, 2), empty when none of it lies between. [mm]"""
    z, r = profile[:, 0], profile[:, 1]
    if z[-1] <= low or z[0] >= high:
        return np.zeros((0, 2))
    inside = profile[(z >= low) & (z <= high)]
    ends = []
    for at in (low, high):
        if z[0] < at < z[-1] and not (len(inside) and np.any(np.isclose(inside[:, 0], at))):
            ends.append((at, np.array([[at, float(np.interp(at, z, r))]])))
    for at, row in ends:
        inside = np.vstack([row, inside]) if at == low else np.vstack([inside, row])
    return inside


def radius_at(profile: Profile, z: float) -> float:
    """The greatest radius of a profile at a station; 0 beyond its ends. [mm]"""
    zs, rs = profile[:, 0], profile[:, 1]
    if z < zs[0] - 1e-9 or z > zs[-1] + 1e-9:
        return 0.0
    at = np.abs(zs - z) < 1e-9
    through = float(np.interp(z, zs, rs))
    return max(through, float(rs[at].max())) if at.any() else through


def least_radius_at(profile: Profile, z: float) -> float:
    """The least radius of a profile at a station: the lower side of a shoulder. [mm]"""
    return min(_radii_at(profile, z))


def corners(profile: Profile) -> list[tuple[float, float]]:
    """The profile's corners (z, r): where it turns by more than chords of an arc do, and its ends. [mm]"""
    steps = np.diff(profile, axis=0)
    keep = np.hypot(steps[:, 0], steps[:, 1]) > 1e-9
    points = np.vstack([profile[:1], profile[1:][keep]])
    found = [(float(points[0][0]), float(points[0][1]))]
    for before, here, after in zip(points, points[1:], points[2:], strict=False):
        turn = math.atan2(*(after - here)[::-1]) - math.atan2(*(here - before)[::-1])
        turn = (turn + math.pi) % (2 * math.pi) - math.pi
        if abs(math.degrees(turn)) > CORNER_DEG:
            found.append((float(here[0]), float(here[1])))
    found.append((float(points[-1][0]), float(points[-1][1])))
    return found


def half_loop(section: Section, view: View) -> list[Point]:
    """The half-section above the axis as a closed loop in the picture; [] when nothing shows."""
    outer = clipped(section.outer, view.z_low, view.z_high)
    inner = clipped(section.inner, view.z_low, view.z_high)
    if len(outer) < 2:
        return []
    loop = [view.point(float(z), float(r)) for z, r in outer]
    return loop + [view.point(float(z), float(r)) for z, r in inner[::-1]]


def mirrored_down(points: list[Point]) -> list[Point]:
    """The same points below the axis."""
    return [(x, -y) for x, y in points]


def outer_run(section: Section, view: View) -> list[Point]:
    """The outline from the axis at one end round to the axis at the other, above the axis."""
    outer = clipped(section.outer, view.z_low, view.z_high)
    if len(outer) < 2:
        return []
    run = [view.point(float(z), float(r)) for z, r in outer]
    return [(run[0][0], 0.0), *run, (run[-1][0], 0.0)]


def has_hole(section: Section) -> bool:
    """Whether anything is hollow."""
    return bool(np.any(section.inner[:, 1] > 1e-6))


def edges_across(section: Section, view: View, both_halves: bool) -> list[Item]:
    """The lines where the surface turns a corner, seen from the side; below the axis only, or right across."""
    items: list[Item] = []
    for z, _ in corners(section.outer)[1:-1]:
        if view.z_low < z < view.z_high:
            reach = min(float(r) for r in _radii_at(section.outer, z)) * view.scale
            items.append(Line(view.x(z), -reach if both_halves else 0.0, view.x(z), reach, LineType.EDGE))
    return items


def _radii_at(profile: Profile, z: float) -> list[float]:
    here = profile[np.abs(profile[:, 0] - z) < 1e-6][:, 1]
    return [float(r) for r in here] or [radius_at(profile, z)]


def body(section: Section, view: View, in_section: bool, spacing_mm: float = 2.2) -> list[Item]:
    """The metal: outline, edges, and above the axis a hatched half-section where asked for."""
    run = outer_run(section, view)
    if not run:
        return []
    items: list[Item] = []
    if in_section:
        items.append(hatch([half_loop(section, view)], spacing_mm))
        inner = clipped(section.inner, view.z_low, view.z_high)
        if has_hole(section):
            items.append(Polyline(tuple(view.point(float(z), float(r)) for z, r in inner), LineType.OUTLINE))
    items += edges_across(section, view, not in_section)
    items.append(Polyline((*run, *mirrored_down(run)[::-1]), LineType.OUTLINE, True))
    return items


def to_come_off(before: Section, after: Section, view: View, spacing_mm: float = 1.5) -> list[Item]:
    """Metal that goes: thin outline all round, sparse stipple in both halves."""
    old, new = half_loop(before, view), half_loop(after, view)
    if not old:
        return []
    run = outer_run(before, view)
    items: list[Item] = [Polyline((*run, *mirrored_down(run)[::-1]), LineType.THIN, True)]
    items.append(stipple([old], [new] if new else [], spacing_mm))
    items.append(stipple([mirrored_down(old)], [mirrored_down(new)] if new else [], spacing_mm))
    return items


def centre_line(view: View, past_mm: float = 4.0) -> Line:
    """The axis."""
    return Line(-past_mm, 0.0, view.width + past_mm, 0.0, LineType.CENTRE)


def hatch_spacing(view: View, section: Section) -> float:
    """Hatching wider apart on a larger face. [mm]"""
    height = float(section.outer[:, 1].max()) * view.scale
    return min(3.0, max(1.5, height / 5.0))

