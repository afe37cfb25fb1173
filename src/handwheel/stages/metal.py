"""Metal as half a section, and what a cut leaves of it. Exact for straight-sided profiles."""

from __future__ import annotations

import math

import numpy as np

from handwheel.base.tolerance import EQUAL_MM
from handwheel.stages.envelope import MERGE_MM, Aligned, aligned, clip, lower, polyline, simplify, upper
from handwheel.stages.records import Bore, Cut, Cutter, NoCut, Polyline, Section, Sweep, Swing, Truncate
from handwheel.stages.sweep import swept_bore_edge, swept_edge, swung_edge

_POLE_DEG = 1e-6


def round_bar(diameter_mm: float, left_mm: float, right_mm: float) -> Section:
    """Solid bar between two stations. [mm]"""
    return tube(diameter_mm, 0.0, left_mm, right_mm)


def tube(outside_mm: float, bore_mm: float, left_mm: float, right_mm: float) -> Section:
    """Tube by its outside diameter and bore, between two stations. [mm]

    Raises ValueError when there is no metal between them.
    """
    if not (right_mm > left_mm and outside_mm > bore_mm >= 0.0):
        raise ValueError(f"no metal: outside {outside_mm}, bore {bore_mm}, from {left_mm} to {right_mm} mm")
    return Section(_level(outside_mm / 2, left_mm, right_mm), _level(bore_mm / 2, left_mm, right_mm))


def apply(section: Section, cut: Cut, cutter: Cutter) -> Section:
    """The metal left after a cut. [mm]

    An outside Sweep takes everything outward of the cutter, an inside one everything toward the axis; for an inside
    Sweep the cutter's outline has r from the setting point toward the axis. A Swing that starts or ends at a pole
    takes what stands beyond that pole too. Cut right through, the heavier piece is what is left.
    Raises ValueError when nothing is left.
    """
    match cut:
        case NoCut():
            return section
        case Truncate(left, right):
            return _truncated(section, left, right)
        case Bore(profile):
            return _bored(section, profile)
        case Sweep(path, inside):
            if inside:
                return _bored(section, swept_bore_edge(cutter.outline, path))
            return _turned(section, swept_edge(cutter.outline, path))
        case Swing():
            return _swung(section, cut)


def volume_mm3(section: Section) -> float:
    """Volume of the whole body of revolution: the sum of its frustums. [mm3]"""
    return _turned_volume(section.outer) - _turned_volume(section.inner)


def outline(section: Section) -> list[list[float]]:
    """Half section as a closed polygon of [z, r], the first point repeated at the end, clockwise. [mm]

    It starts at the left end where the metal is nearest the axis, goes up, along the outside, down and back.
    """
    points = np.concatenate([section.inner[:1], section.outer, section.inner[::-1]])
    moved = np.abs(np.diff(points, axis=0)).max(axis=1) > MERGE_MM
    kept = points[np.concatenate([[True], moved])]
    return [[float(z), float(r)] for z, r in kept]


def ends(section: Section) -> tuple[float, float]:
    """Stations of the left and right end of the metal. [mm]"""
    return float(section.outer[0, 0]), float(section.outer[-1, 0])


def _level(radius: float, left: float, right: float) -> Polyline:
    return polyline([[left, radius], [right, radius]])


def _turned_volume(poly: Polyline) -> float:
    r0, r1 = poly[:-1, 1], poly[1:, 1]
    return float(np.sum(np.diff(poly[:, 0]) * (r0 * r0 + r0 * r1 + r1 * r1))) * math.pi / 3.0


def _truncated(section: Section, left: float, right: float) -> Section:
    outer, inner = clip(section.outer, left, right), clip(section.inner, left, right)
    return _what_is_left(outer, inner)


def _turned(section: Section, edge: Polyline) -> Section:
    edge = clip(edge, *ends(section))
    if not len(edge):
        return section
    outer = lower(section.outer, edge)
    if (outer[:, 1] < 0.0).any():
        outer = upper(outer, _level(0.0, *ends(section)))
    return _what_is_left(outer, section.inner)


def _bored(section: Section, profile: Polyline) -> Section:
    profile = clip(profile, *ends(section))
    if not len(profile):
        return section
    return _what_is_left(section.outer, upper(section.inner, profile))


def _swung(section: Section, swing: Swing) -> Section:
    low, high = sorted((swing.from_deg, swing.to_deg))
    left, right = ends(section)
    if low <= _POLE_DEG:
        right = min(right, swing.centre + swing.radius)
    if high >= 180.0 - _POLE_DEG:
        left = max(left, swing.centre - swing.radius)
    return _turned(_truncated(section, left, right), swung_edge(swing))


def _what_is_left(outer: Polyline, inner: Polyline) -> Section:
    """The section between outer and inner: ends without metal trimmed, and of several pieces the heaviest."""
    if len(outer) < 2:
        raise ValueError("the cut leaves no metal")
    both = aligned(outer, inner)
    wall0, wall1 = both.a0 - both.b0, both.a1 - both.b1
    metal = np.maximum(wall0, wall1) > EQUAL_MM
    joined = metal[1:] & metal[:-1] & (np.minimum(wall1[:-1], wall0[1:]) > EQUAL_MM)
    if metal.all() and joined.all():
        return Section(simplify(outer), simplify(inner))
    pieces = np.split(np.arange(len(metal)), np.flatnonzero(~joined) + 1)
    pieces = [piece for piece in pieces if metal[piece[0]]]
    if not pieces:
        raise ValueError("the cut leaves no metal")
    heaviest = max(pieces, key=lambda piece: _weight(both, piece))
    left, right = float(both.z0[heaviest[0]]), float(both.z1[heaviest[-1]])
    return Section(clip(outer, left, right), clip(inner, left, right))


def _weight(both: Aligned, piece: np.typing.NDArray[np.intp]) -> float:
    """Volume of a run of intervals, but for a factor."""
    a0, a1, b0, b1 = both.a0[piece], both.a1[piece], both.b0[piece], both.b1[piece]
    rings = (a0 * a0 + a0 * a1 + a1 * a1) - (b0 * b0 + b0 * b1 + b1 * b1)
    return float(np.sum((both.z1[piece] - both.z0[piece]) * rings))
