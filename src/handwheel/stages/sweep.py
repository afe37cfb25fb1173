"""What a cutter sweeps: the lower edge of the region a convex outline passes over along a path.

A convex outline moved along a straight sweeps their Minkowski sum, whose lower edge is the outline's own lower edge
with the straight put in among its pieces by slope. The edge of a whole path is the envelope of its straights'.
"""

from __future__ import annotations

import math

import numpy as np

from handwheel.stages.arcs import arc_points
from handwheel.stages.envelope import MERGE_MM, lower, mirrored_r, polyline
from handwheel.stages.records import Polyline, Swing


def lower_chain(outline: Polyline) -> Polyline:
    """Lower edge of the convex hull of an outline, left to right; (1, 2) for a tool without width. [mm]"""
    chain: list[tuple[float, float]] = []
    for z, r in sorted((float(z), float(r)) for z, r in outline):
        if chain and z - chain[-1][0] <= MERGE_MM:
            continue
        while len(chain) > 1 and _turns_down(chain[-2], chain[-1], (z, r)):
            chain.pop()
        chain.append((z, r))
    return polyline(chain)


def swept_edge(outline: Polyline, path: Polyline) -> Polyline:
    """Lower edge of what a convex outline sweeps as its setting point follows a path. (n, 2) [mm]

    Empty (0, 2) when tool and path together have no width.
    """
    if not len(outline) or not len(path):
        return np.empty((0, 2))
    chain = lower_chain(outline)
    edges = [_straight(chain, path[i], path[i + 1]) for i in range(len(path) - 1)] or [chain + path[0]]
    edges = [edge for edge in edges if edge[-1, 0] - edge[0, 0] > MERGE_MM]
    if not edges:
        return np.empty((0, 2))
    while len(edges) > 1:
        paired = [lower(edges[i], edges[i + 1]) for i in range(0, len(edges) - 1, 2)]
        edges = paired + edges[2 * len(paired):]
    return edges[0]


def swept_bore_edge(outline: Polyline, path: Polyline) -> Polyline:
    """Upper edge of what a boring tool sweeps; its outline's r runs from the setting point toward the axis. [mm]"""
    return mirrored_r(swept_edge(outline, mirrored_r(path)))


def swung_edge(swing: Swing) -> Polyline:
    """The arc a ball tool's tip swings, left to right. (n, 2) [mm]"""
    low, high = sorted((swing.from_deg, swing.to_deg))
    points = arc_points(swing.centre, 0.0, swing.radius, math.radians(high), math.radians(low))
    points[:, 1] = np.maximum(points[:, 1], 0.0)
    return points


def _straight(chain: Polyline, start: Polyline, end: Polyline) -> Polyline:
    """Lower edge of the outline's chain moved straight from start to end."""
    if start[0] > end[0]:
        start, end = end, start
    across = end[0] - start[0]
    if across <= MERGE_MM:
        return chain + (start if start[1] < end[1] else end)
    slope = (end[1] - start[1]) / across
    steps = np.diff(chain, axis=0)
    split = int(np.count_nonzero(steps[:, 1] < slope * steps[:, 0])) + 1
    return np.concatenate([chain[:split] + start, chain[split - 1:] + end])


def _turns_down(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> bool:
    """Whether b lies on or above the straight from a to c."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) <= 0.0
