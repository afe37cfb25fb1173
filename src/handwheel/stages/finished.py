"""The finished part as half a section, from its solved drawing. Cross work and threads' forms are not in it."""

from __future__ import annotations

import numpy as np

from handwheel.drawing.records import SolvedHole, SolvedPart
from handwheel.job.records import CutInKind
from handwheel.stages.arcs import flatten
from handwheel.stages.envelope import clip, lower, polyline, upper
from handwheel.stages.records import Polyline, Section

__all__ = ["finished_section", "flatten", "hole_profile"]


def finished_section(part: SolvedPart) -> Section:
    """Half the section of the finished part, z 0 to its length; arcs within CHORD_MM; shoulders are steps. [mm]"""
    outer = flatten(piece for feature in part.outside for piece in feature.surface)
    inner = polyline([[0.0, 0.0], [part.length, 0.0]])
    for cut in part.cut_in:
        if cut.source.kind is CutInKind.GROOVE and not cut.source.is_inside:
            outer = lower(outer, polyline([[cut.left, cut.floor_radius], [cut.right, cut.floor_radius]]))
    for hole in part.inside_left + part.inside_right:
        inner = upper(inner, clip(hole_profile(hole), 0.0, part.length))
    for cut in part.cut_in:
        if cut.source.kind is CutInKind.GROOVE and cut.source.is_inside:
            inner = upper(inner, polyline([[cut.left, cut.floor_radius], [cut.right, cut.floor_radius]]))
    return Section(outer, inner)


def hole_profile(hole: SolvedHole) -> Polyline:
    """A hole's own section left to right, drill point and all; mouth and flat bottom are open ends. (n, 2) [mm]"""
    points = [(hole.mouth, hole.mouth_radius), (hole.bottom, hole.bottom_radius), (hole.tip, 0.0)]
    if abs(hole.tip - hole.bottom) <= 1e-9:
        points.pop()
    profile = polyline(points)
    return np.ascontiguousarray(profile if hole.mouth <= hole.bottom else profile[::-1])
