"""The metal that features across the axis take from the turned part, by numerical integration with its error.

At each station a ray from the axis at every angle meets each feature in one stretch of radius; the stretches
together, as far as they lie in the metal, are what is taken away.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import pi, radians, tan

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.ad import value_of
from handwheel.drawing.profile import Slice, slices
from handwheel.drawing.shape import Across, Outside, Shape
from handwheel.job.records import AcrossKind, OutsideKind, Side

Array = NDArray[np.float64]
Stretch = Callable[[Array, Array], tuple[Array, Array]]
"""From stations (n, 1) and angles (m,), the least and greatest radius taken away there, as far as the second is more."""

FINE, COARSE = (1440, 32), (240, 12)
"""Rays round the axis, stations in each stretch of it."""
POINT_DEG = 118.0


@dataclass(frozen=True, slots=True)
class Taken:
    """One feature between two stations, and what is known in closed form beside it: its drill points. [mm3]"""

    z0: float
    z1: float
    stretch: Stretch
    points: float = 0.0


def across_names(shape: Shape) -> str:
    """The features across the axis, in the drawing's order."""
    return ", ".join(f"'{name}'" for name, f in shape.features.items() if isinstance(f, Across))


def removed_volume(shape: Shape, v: Sequence[float], *, is_fine: bool = True) -> tuple[float, float, str]:
    """What the features across take away [mm3], its error [mm3], and the names of those that are not worked out."""
    taken: list[Taken] = []
    left_out = []
    for name, feature in shape.features.items():
        if isinstance(feature, Across):
            found = _taken(shape, feature, v)
            taken += found
            left_out += [] if found else [f"'{name}'"]
    if not taken:
        return 0.0, 0.0, ", ".join(left_out)
    metal = slices(shape, v)
    points = sum(t.points for t in taken)
    coarse = _integrate(metal, taken, COARSE) + points
    if not is_fine:
        return coarse, 0.0, ", ".join(left_out)
    half = _integrate(metal, taken, (FINE[0] // 2, FINE[1] // 2)) + points
    fine = _integrate(metal, taken, FINE) + points
    return fine, abs(fine - half), ", ".join(left_out)


def _integrate(metal: Sequence[Slice], taken: Sequence[Taken], fineness: tuple[int, int]) -> float:
    rays, nodes = fineness
    angles: Array = np.asarray((np.arange(rays) + 0.5) * (2.0 * pi / rays), dtype=np.float64)
    x, weights = np.polynomial.legendre.leggauss(nodes)
    turn = (x + 1.0) * pi / 2.0
    edges = sorted({s for m in metal for s in (m.a, m.b)} | {s for t in taken for s in (t.z0, t.z1)})
    total = 0.0
    for a, b in zip(edges, edges[1:], strict=False):
        middle, half = (a + b) / 2.0, (b - a) / 2.0
        here = next((m for m in metal if m.a <= middle <= m.b), None)
        active = [t for t in taken if t.z0 <= middle <= t.z1]
        if here is None or not active or half <= 0.0:
            continue
        # the cosine crowds the stations at the ends, where a hole's width begins like a square root
        z = middle - half * np.cos(turn)
        rings = np.array([here.ring(float(one)) for one in z])
        areas = _areas(z[:, None], angles, rings[:, :1], rings[:, 1:], active)
        total += float(areas @ (weights * np.sin(turn))) * pi / 2.0 * half
    return total


def _areas(z: Array, angles: Array, inner: Array, outer: Array, active: Sequence[Taken]) -> Array:
    """The area taken from the section at each station."""
    pairs = [t.stretch(z, angles) for t in active]
    shape = (len(active), len(z), len(angles))
    low = np.clip(np.array([np.broadcast_to(p[0], shape[1:]) for p in pairs]), inner, outer)
    high = np.clip(np.array([np.broadcast_to(p[1], shape[1:]) for p in pairs]), inner, outer)
    if len(active) > 1:
        order = np.argsort(low, axis=0)
        low, high = np.take_along_axis(low, order, axis=0), np.take_along_axis(high, order, axis=0)
    reach = np.broadcast_to(inner, shape[1:])
    total = np.zeros(shape[1:])
    for a, b in zip(low, high, strict=True):
        start = np.maximum(a, reach)
        total += np.where(b > start, b * b - start * start, 0.0) / 2.0
        reach = np.maximum(reach, b)
    found: Array = total.sum(axis=1) * 2.0 * pi / len(angles)
    return found


def _taken(shape: Shape, across: Across, v: Sequence[float]) -> list[Taken]:
    """What one feature takes away; nothing where it is of a sort that is not worked out."""
    source = across.source
    if source.leaning_deg or source.square_to:
        return []
    if source.kind is AcrossKind.HOLES:
        return _ring(shape, across, v) if source.face is not None else []
    if source.face is not None:
        return []
    around = float(source.around_deg)
    if source.kind is AcrossKind.HOLE:
        return _hole(shape, across, v, around)
    if across.zl is None or across.zr is None:
        return []
    z0, z1 = v[across.zl], v[across.zr]
    has_floor = "from axis" in across.sizes
    floor = v[across.sizes["from axis"]] if has_floor else 0.0  # a slot without one goes to the axis, or right through
    count = {AcrossKind.SQUARE: 4, AcrossKind.HEXAGON: 6}.get(source.kind, source.count)
    ways = [radians(around + 360.0 * k / count) for k in range(count)]
    if source.is_through and not has_floor:
        ways += [way + pi for way in ways]
    if source.kind is AcrossKind.SLOT:
        half = v[across.sizes["width"]] / 2.0
        return [Taken(z0, z1, _band(way, floor, lambda z: np.full(z.shape, half))) for way in ways]
    return [Taken(z0, z1, _band(way, floor, None)) for way in ways]


def _band(way: float, floor: float, half: Callable[[Array], Array] | None) -> Stretch:
    """Beyond a floor facing `way`, and within half a width to either side of it where there is one."""

    def stretch(z: Array, angles: Array) -> tuple[Array, Array]:
        along, aside = np.cos(angles - way), np.abs(np.sin(angles - way))
        with np.errstate(divide="ignore", invalid="ignore"):
            low = np.where(along > 0.0, floor / along, np.inf)
            high = np.full(angles.shape, np.inf) if half is None else half(z) / aside
        return np.maximum(low, 0.0), high

    return stretch


def _hole(shape: Shape, across: Across, v: Sequence[float], around: float) -> list[Taken]:
    source = across.source
    if across.zc is None:
        return []
    centre, radius = v[across.zc], v[across.sizes["radius"]]

    def half(z: Array) -> Array:
        return np.sqrt(np.maximum(radius * radius - (z - centre) ** 2, 0.0))

    z0, z1 = centre - radius, centre + radius
    ways = [radians(around), radians(around + 180.0)]
    if source.is_through:
        return [Taken(z0, z1, _band(way, 0.0, half)) for way in ways]
    if source.into:
        return [Taken(z0, z1, _band(ways[0], 0.0, half))]
    host = shape.features.get(source.on)
    if not isinstance(host, Outside) or not source.is_flat_bottomed and shape.inside:
        return []
    top = v[host.big] if host.source.kind is OutsideKind.BALL else float(value_of(host.at(v, centre)))
    floor = top - v[across.sizes["depth"]]
    if floor < 0.0:
        return []
    point = 0.0 if source.is_flat_bottomed else _point(radius)
    return [Taken(z0, z1, _band(ways[0], floor, half), point)]


def _point(radius: float) -> float:
    return pi * radius**3 / (3.0 * tan(radians(POINT_DEG / 2.0)))


def _ring(shape: Shape, across: Across, v: Sequence[float]) -> list[Taken]:
    """Holes along the axis on a pitch circle of a face."""
    source = across.source
    far, radius, circle = v[shape.far], v[across.sizes["radius"]], v[across.sizes["pitch circle radius"]]
    z0, z1 = 0.0, far
    if not source.is_through:
        if source.into:
            return []
        depth = v[across.sizes["depth"]]
        z0, z1 = (0.0, depth) if source.face is Side.LEFT else (far - depth, far)
    point = 0.0 if source.is_through or source.is_flat_bottomed else _point(radius)
    found = []
    for k in range(source.count):
        way = radians(float(source.first_at_deg) + 360.0 * k / source.count)
        found.append(Taken(z0, z1, _disc(way, circle, radius), point))
    return found


def _disc(way: float, circle: float, radius: float) -> Stretch:
    def stretch(z: Array, angles: Array) -> tuple[Array, Array]:
        along = circle * np.cos(angles - way)
        inner = radius * radius - (circle * np.sin(angles - way)) ** 2
        reach = np.sqrt(np.maximum(inner, 0.0))
        is_met = (inner > 0.0) & (along + reach > 0.0)
        return np.where(is_met, np.maximum(along - reach, 0.0), 0.0), np.where(is_met, along + reach, -1.0)

    return stretch
