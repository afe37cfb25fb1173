"""Hatching and stipple clipped to polygons, as plain lines and dots that no back end can lose."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from handwheel.sheets.primitives import Dots, Hatch, Point

Loop = Sequence[Point]
_ROOT_HALF = math.sqrt(0.5)


def _edges(loops: Sequence[Loop]) -> NDArray[np.float64]:
    """All edges of the loops, (n, 4). [mm]"""
    rows = []
    for loop in loops:
        points = np.asarray(loop, dtype=float)
        if len(points) >= 3:
            rows.append(np.hstack([points, np.roll(points, -1, axis=0)]))
    return np.vstack(rows) if rows else np.zeros((0, 4))


def hatch(loops: Sequence[Loop], spacing_mm: float, but_not: Sequence[Loop] = ()) -> Hatch:
    """45 degree lines inside the loops (even-odd) and outside each of `but_not`, lined up over the whole page. [mm]"""
    edges = _edges(loops)
    if not len(edges):
        return Hatch(())
    holes = [_turned(_edges([loop])) for loop in but_not]
    # Turned by 45 degrees: v is constant along a hatch line, u runs along it.
    turned = _turned(edges)
    low, high = turned[:, (1, 3)].min(), turned[:, (1, 3)].max()
    lines = []
    for k in range(math.ceil(low / spacing_mm), math.floor(high / spacing_mm) + 1):
        v = k * spacing_mm + 1e-7
        stretches = _stretches(turned, v)
        for hole in holes:
            stretches = _without(stretches, _stretches(hole, v))
        for a, b in stretches:
            if b - a > 0.15:
                lines.append(
                    ((a + v) * _ROOT_HALF, (v - a) * _ROOT_HALF, (b + v) * _ROOT_HALF, (v - b) * _ROOT_HALF)
                )
    return Hatch(tuple((float(p), float(q), float(r), float(s)) for p, q, r, s in lines))


def _turned(edges: NDArray[np.float64]) -> NDArray[np.float64]:
    """The edges turned by 45 degrees: u0, v0, u1, v1. (n, 4)"""
    x0, y0, x1, y1 = edges.T
    return np.column_stack([x0 - y0, x0 + y0, x1 - y1, x1 + y1]) * _ROOT_HALF


def _stretches(turned: NDArray[np.float64], v: float) -> list[tuple[float, float]]:
    """Where the line at v lies inside."""
    u0, v0, u1, v1 = turned.T
    met = (v0 > v) != (v1 > v)
    us = np.sort(u0[met] + (v - v0[met]) / (v1[met] - v0[met]) * (u1[met] - u0[met]))
    return [(float(a), float(b)) for a, b in zip(us[::2], us[1::2], strict=False)]


def _without(some: list[tuple[float, float]], taken: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Stretches less what is taken from them."""
    for low, high in taken:
        some = [(a, b) for p, q in some for a, b in ((p, min(q, low)), (max(p, high), q)) if b > a]
    return some


def _crossings(edges: NDArray[np.float64], y: float) -> NDArray[np.float64]:
    """Where a level line meets the edges, in order: inside lies between the first and second, and so on. [mm]"""
    x0, y0, x1, y1 = edges.T
    met = (y0 > y) != (y1 > y)
    return np.sort(x0[met] + (y - y0[met]) / (y1[met] - y0[met]) * (x1[met] - x0[met]))


def stipple(within: Sequence[Loop], but_not: Sequence[Loop], spacing_mm: float) -> Dots:
    """Staggered dots inside `within` and outside `but_not`. [mm]"""
    edges = _edges(within)
    if not len(edges):
        return Dots(())
    left, right = edges[:, (0, 2)].min(), edges[:, (0, 2)].max()
    top, bottom = edges[:, (1, 3)].min(), edges[:, (1, 3)].max()
    kept: list[Point] = []
    holes = _edges(but_not)
    for k in range(math.ceil(top / spacing_mm), math.floor(bottom / spacing_mm) + 1):
        y, shift = k * spacing_mm, 0.5 * (k % 2)
        first, last = math.ceil(left / spacing_mm - shift), math.floor(right / spacing_mm - shift)
        xs = (np.arange(first, last + 1) + shift) * spacing_mm
        inside = np.searchsorted(_crossings(edges, y), xs) % 2 == 1
        outside = np.searchsorted(_crossings(holes, y), xs) % 2 == 0
        kept += [(float(x), y) for x in xs[inside & outside]]
    return Dots(tuple(kept))
