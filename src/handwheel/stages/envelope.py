"""Lower and upper envelopes of step-polylines: r as a piecewise-linear function of z with sudden steps.

A polyline is (n, 2), z never decreasing; two points at one z are a step. Where it does not reach it says nothing:
the envelope of two polylines there is the other one. Crossings are worked out, not sampled. Knows nothing of tools.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from handwheel.stages.records import Polyline

MERGE_MM = 1e-9
"""Points nearer than this are one point; it is numerical noise, far below the equality of two lengths. [mm]"""

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Aligned:
    """Two polylines over the same intervals z0..z1; each straight in each, crossing only at interval ends.

    a0, a1, b0, b1: r at the two ends of each interval, limits from inside it; +inf where a polyline does not reach.
    """

    z0: Floats
    z1: Floats
    a0: Floats
    a1: Floats
    b0: Floats
    b1: Floats


def polyline(points: object) -> Polyline:
    """Points [z, r] as a polyline (n, 2). [mm]"""
    return np.asarray(points, dtype=np.float64).reshape(-1, 2)


def lower(a: Polyline, b: Polyline) -> Polyline:
    """Pointwise least of two step-polylines; where only one reaches, that one. (n, 2) [mm]"""
    both = aligned(a, b)
    return _rebuilt(both.z0, both.z1, np.minimum(both.a0, both.b0), np.minimum(both.a1, both.b1))


def upper(a: Polyline, b: Polyline) -> Polyline:
    """Pointwise greatest of two step-polylines; where only one reaches, that one. (n, 2) [mm]"""
    return mirrored_r(lower(mirrored_r(a), mirrored_r(b)))


def mirrored_r(poly: Polyline) -> Polyline:
    """The polyline with r negated. (n, 2) [mm]"""
    flipped = poly.copy()
    flipped[:, 1] *= -1.0
    return flipped


def aligned(a: Polyline, b: Polyline) -> Aligned:
    """The two polylines cut into common intervals, at their points and where they cross. [mm]"""
    pieces_a, pieces_b = _pieces(a), _pieces(b)
    grid = _merged(np.concatenate([a[:, 0], b[:, 0]]))
    both = _on_grid(grid, pieces_a, pieces_b)
    with np.errstate(invalid="ignore"):
        d0, d1 = both.a0 - both.b0, both.a1 - both.b1
        crosses = np.isfinite(d0) & np.isfinite(d1) & (np.sign(d0) * np.sign(d1) < 0)
    if not crosses.any():
        return both
    share = d0[crosses] / (d0[crosses] - d1[crosses])
    at = both.z0[crosses] + share * (both.z1[crosses] - both.z0[crosses])
    return _on_grid(np.sort(np.concatenate([grid, at])), pieces_a, pieces_b)


def clip(poly: Polyline, left_mm: float, right_mm: float) -> Polyline:
    """The polyline between two stations; (0, 2) when it does not reach there. [mm]"""
    z0, z1, r0, r1 = _pieces(poly)
    slope = (r1 - r0) / (z1 - z0)
    new0, new1 = np.maximum(z0, left_mm), np.minimum(z1, right_mm)
    keep = new1 - new0 > MERGE_MM
    start = np.where(new0 > z0, r0 + slope * (new0 - z0), r0)
    end = np.where(new1 < z1, r0 + slope * (new1 - z0), r1)
    return _rebuilt(new0[keep], new1[keep], start[keep], end[keep])


def radius_at(poly: Polyline, z_mm: float, side: Literal["left", "right"]) -> float:
    """r where z is come up to from that side; at an end, the only limit there is; 0 beyond the ends. [mm]"""
    z0, z1, r0, r1 = _pieces(poly)
    if not len(z0) or z_mm < z0[0] - MERGE_MM or z_mm > z1[-1] + MERGE_MM:
        return 0.0
    if side == "left":
        index = int(np.searchsorted(z1, z_mm - MERGE_MM, side="left"))
    else:
        index = int(np.searchsorted(z0, z_mm + MERGE_MM, side="right")) - 1
    index = min(max(index, 0), len(z0) - 1)
    share = min(max((z_mm - z0[index]) / (z1[index] - z0[index]), 0.0), 1.0)
    return float(r0[index] * (1.0 - share) + r1[index] * share)


def radii_at(poly: Polyline, stations: Floats) -> Floats:
    """`radius_at` from the left, of many stations at once. [mm]"""
    z0, z1, r0, r1 = _pieces(poly)
    if not len(z0):
        return np.zeros(len(stations))
    index = np.minimum(np.searchsorted(z1, stations - MERGE_MM, side="left"), len(z0) - 1)
    share = np.clip((stations - z0[index]) / (z1[index] - z0[index]), 0.0, 1.0)
    reached = (stations >= z0[0] - MERGE_MM) & (stations <= z1[-1] + MERGE_MM)
    return np.where(reached, r0[index] * (1.0 - share) + r1[index] * share, 0.0)


def simplify(poly: Polyline) -> Polyline:
    """Without points that repeat the one before or lie on the straight between their neighbours, to 1e-9 mm."""
    if len(poly) < 2:
        return poly
    moved = np.abs(np.diff(poly, axis=0)).max(axis=1) > MERGE_MM
    poly = polyline(poly[np.concatenate([[True], moved])])
    if len(poly) < 3:
        return poly
    here = np.arange(1, len(poly) - 1)
    on_line = _off_line(poly, here - 1, here, here + 1) <= MERGE_MM
    if not on_line.any():
        return poly
    # a long run of points may each lie on its neighbours' line and yet bend: measure against what would be kept
    keep = np.concatenate([[True], ~on_line, [True]])
    kept = np.flatnonzero(keep)
    gone = np.flatnonzero(~keep)
    after = np.searchsorted(kept, gone)
    bends = _off_line(poly, kept[after - 1], gone, kept[after]) > MERGE_MM
    keep[gone[bends]] = True
    return polyline(poly[keep])


def _off_line(poly: Polyline, before: NDArray[np.intp], here: NDArray[np.intp], after: NDArray[np.intp]) -> Floats:
    """Distance of points from the straight between two others. [mm]"""
    chord = poly[after] - poly[before]
    to_point = poly[here] - poly[before]
    length = np.hypot(chord[:, 0], chord[:, 1])
    off = np.abs(chord[:, 0] * to_point[:, 1] - chord[:, 1] * to_point[:, 0])
    apart = np.hypot(to_point[:, 0], to_point[:, 1])
    distance: Floats = np.where(length > MERGE_MM, off / np.maximum(length, MERGE_MM), apart)
    return distance


def _pieces(poly: Polyline) -> tuple[Floats, Floats, Floats, Floats]:
    """Every sloping or level piece: z0, z1, r0, r1; steps are the jumps between them."""
    wide = np.diff(poly[:, 0]) > MERGE_MM
    start, end = poly[:-1][wide], poly[1:][wide]
    return start[:, 0], end[:, 0], start[:, 1], end[:, 1]


def _merged(stations: Floats) -> Floats:
    """Sorted stations, those within numerical noise of the one before dropped."""
    stations = np.sort(stations)
    keep = np.ones(len(stations), dtype=np.bool_)
    keep[1:] = np.diff(stations) > MERGE_MM
    kept: Floats = stations[keep]
    return kept


def _on_grid(grid: Floats, pieces_a: tuple[Floats, ...], pieces_b: tuple[Floats, ...]) -> Aligned:
    z0, z1 = grid[:-1], grid[1:]
    return Aligned(z0, z1, *_values(z0, z1, pieces_a), *_values(z0, z1, pieces_b))


def _values(z0: Floats, z1: Floats, pieces: tuple[Floats, ...]) -> tuple[Floats, Floats]:
    """r at both ends of each interval, from the piece that covers it; +inf where none does."""
    start, end, r0, r1 = pieces
    if not len(start):
        nothing = np.full(len(z0), np.inf)
        return nothing, nothing
    middle = 0.5 * (z0 + z1)
    index = np.maximum(np.searchsorted(start, middle, side="right") - 1, 0)
    reaches = (middle >= start[index]) & (middle <= end[index] + MERGE_MM)
    origin, extent, first, last = start[index], end[index] - start[index], r0[index], r1[index]
    found = []
    for station in (z0, z1):
        share = np.minimum(np.maximum((station - origin) / extent, 0.0), 1.0)
        found.append(np.where(reaches, first * (1.0 - share) + last * share, np.inf))
    return found[0], found[1]


def _rebuilt(z0: Floats, z1: Floats, r0: Floats, r1: Floats) -> Polyline:
    """A polyline from intervals in order; intervals that nothing covers are left out."""
    points = np.empty((2 * len(z0), 2))
    points[0::2, 0], points[1::2, 0], points[0::2, 1], points[1::2, 1] = z0, z1, r0, r1
    return simplify(points[np.isfinite(points[:, 1])])
