"""Arcs as chords: one absolute grid of angles about the centre, so that the same arc always gets the same points.

A ball as drawn and the same ball as swung by a tool must come out as one polygon; both are drawn here.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from handwheel.base.tolerance import CHORD_MM
from handwheel.drawing.records import Arc, Piece
from handwheel.stages.envelope import polyline, simplify
from handwheel.stages.records import Polyline

_NEAR_RAD = 1e-7
"""A grid angle this near an end of the arc is the end."""


def chords_per_turn(radius_mm: float) -> int:
    """How many chords, a multiple of four, keep a whole circle within CHORD_MM of its polygon."""
    if radius_mm <= CHORD_MM:
        return 8
    half_step = math.acos(1.0 - CHORD_MM / radius_mm)
    return max(8, 4 * math.ceil(math.pi / half_step / 4.0 - 1e-9))


def arc_points(centre_z: float, centre_r: float, radius_mm: float, from_rad: float, to_rad: float) -> Polyline:
    """Points of an arc from the greater angle (left) to the lesser (right), ends and grid. (n, 2) [mm]

    Angles from the axis' right-hand direction, anticlockwise; from_rad >= to_rad.
    """
    step = 2.0 * math.pi / chords_per_turn(radius_mm)
    first = math.floor((from_rad - _NEAR_RAD) / step)
    last = math.ceil((to_rad + _NEAR_RAD) / step)
    angles = np.concatenate([[from_rad], np.arange(first, last - 1, -1) * step, [to_rad]])
    return np.column_stack([centre_z + radius_mm * np.cos(angles), centre_r + radius_mm * np.sin(angles)])


def flatten(pieces: Iterable[Piece]) -> Polyline:
    """Lines and arcs, left to right, as a polyline; arcs within CHORD_MM; a gap in r becomes a step. (n, 2) [mm]"""
    drawn = [_arc(piece) if isinstance(piece, Arc) else polyline([[piece.z0, piece.r0], [piece.z1, piece.r1]])
             for piece in pieces]
    if not drawn:
        return np.empty((0, 2))
    points = np.concatenate(drawn)
    points[:, 0] = np.maximum.accumulate(points[:, 0])
    return simplify(points)


def _arc(arc: Arc) -> Polyline:
    half_turn = 1.0 if arc.bulges else -1.0
    start = math.atan2(max(half_turn * (arc.r0 - arc.rc), 0.0), arc.z0 - arc.zc)
    end = math.atan2(max(half_turn * (arc.r1 - arc.rc), 0.0), arc.z1 - arc.zc)
    points = arc_points(arc.zc, 0.0, arc.radius, max(start, end), end)
    points[:, 1] = arc.rc + half_turn * points[:, 1]
    points[0], points[-1] = (arc.z0, arc.r0), (arc.z1, arc.r1)
    return points
