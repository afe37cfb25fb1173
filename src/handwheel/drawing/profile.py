"""The half-section of a part as edges over z, and its exact volume and surface by Pappus.

Threads and knurls are taken as plain, and what is cut across the axis is not here (see `crosscut`). Floats in,
floats out: `numeric` makes a size of it whose limits can be asked for like any other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import asin, hypot, pi, sqrt

import numpy as np

from handwheel.drawing.ad import Dual, Scalar, value_of
from handwheel.drawing.junctions import Fn
from handwheel.drawing.shape import Cut, Inside, Outside, Shape, Vector

CLOSE_MM = 1e-9
STEP = 1e-5
"""Central differences: a hundredth of a micrometre, or that much of a degree."""


@dataclass(frozen=True, slots=True)
class Edge:
    """A line or an arc over z, a function of z. [mm]

    A line goes from (z0, r0) to (z1, r1). An arc has `big` > 0, its radius, its centre at (zc, rc), and `bulge` +1
    away from the axis, -1 toward it.
    """

    name: str
    z0: float
    z1: float
    r0: float = 0.0
    r1: float = 0.0
    zc: float = 0.0
    rc: float = 0.0
    big: float = 0.0
    bulge: float = 0.0

    def at(self, z: float) -> float:
        """Radius at z."""
        if self.big:
            return self.rc + self.bulge * sqrt(max(self.big**2 - (z - self.zc) ** 2, 0.0))
        if self.z1 == self.z0:
            return self.r0
        return self.r0 + (self.r1 - self.r0) * (z - self.z0) / (self.z1 - self.z0)

    def squares(self, a: float, b: float) -> float:
        """The integral of the squared radius from a to b: the volume over pi."""
        if not self.big:
            ra, rb = self.at(a), self.at(b)
            return (b - a) * (ra * ra + ra * rb + rb * rb) / 3.0
        u, w = a - self.zc, b - self.zc
        straight = (self.rc**2 + self.big**2) * (w - u) - (w**3 - u**3) / 3.0
        return straight + 2.0 * self.rc * self.bulge * (self._under(w) - self._under(u))

    def lateral(self, a: float, b: float) -> float:
        """The surface swept from a to b."""
        if not self.big:
            ra, rb = self.at(a), self.at(b)
            return pi * (ra + rb) * hypot(b - a, rb - ra)
        turn = self._angle(b - self.zc) - self._angle(a - self.zc)
        return 2.0 * pi * self.big * (self.rc * turn + self.bulge * (b - a))

    def _angle(self, u: float) -> float:
        return asin(min(1.0, max(-1.0, u / self.big)))

    def _under(self, u: float) -> float:
        """The integral of sqrt(big^2 - u^2)."""
        return 0.5 * (u * sqrt(max(self.big**2 - u * u, 0.0)) + self.big**2 * self._angle(u))


@dataclass(frozen=True, slots=True)
class Slice:
    """Between two stations the metal reaches from one edge (or the axis) to another, no edges crossing."""

    a: float
    b: float
    outer: Edge
    inner: Edge | None

    def ring(self, z: float) -> tuple[float, float]:
        """Inner and outer radius at z."""
        return (self.inner.at(z) if self.inner else 0.0), self.outer.at(z)


def outer_edges(shape: Shape, v: Sequence[float]) -> tuple[list[Edge], list[Edge]]:
    """The outside chain, and the floors of the grooves cut into it."""
    chain = []
    for link in shape.outside:
        z0, z1 = v[link.zl], v[link.zr]
        name = link.source.name
        if link.is_curve:
            chain.append(Edge(name, z0, z1, zc=v[link.zc], rc=v[link.rc], big=v[link.big], bulge=float(link.bulge)))
        else:
            chain.append(Edge(name, z0, z1, v[link.rl], v[link.rr]))
    return chain, _floors(shape, v, is_inside=False)


def _floors(shape: Shape, v: Sequence[float], *, is_inside: bool) -> list[Edge]:
    cuts = [f for f in shape.features.values() if isinstance(f, Cut) and f.floor and f.source.is_inside == is_inside]
    return [Edge(c.source.name, v[c.zl], v[c.zr], v[c.floor], v[c.floor]) for c in cuts]


def inner_edges(shape: Shape, v: Sequence[float]) -> list[Edge]:
    """Every hole on the axis, its drill point, and the floors of the grooves cut into them."""
    found = []
    for hole in shape.inside:
        tip = float(value_of(hole.tip(v)))
        found.append(_over(hole.source.name, v[hole.mouth], v[hole.bottom], v[hole.rm], v[hole.rb]))
        if abs(tip - v[hole.bottom]) > CLOSE_MM:
            found.append(_over(hole.source.name, v[hole.bottom], tip, v[hole.rb], 0.0))
    return found + _floors(shape, v, is_inside=True)


def _over(name: str, z0: float, z1: float, r0: float, r1: float) -> Edge:
    return Edge(name, z0, z1, r0, r1) if z0 <= z1 else Edge(name, z1, z0, r1, r0)


def slices(shape: Shape, v: Sequence[float]) -> list[Slice]:
    """The metal from left to right; where a hole is wider than the outside there is none."""
    chain, floors = outer_edges(shape, v)
    inside = inner_edges(shape, v)
    every = [*chain, *floors, *inside]
    stations = {e.z0 for e in every} | {e.z1 for e in every}
    for i, one in enumerate(every):
        for two in every[i + 1 :]:
            stations.update(_crossings(one, two))
    ordered = sorted(stations)
    found = []
    for a, b in zip(ordered, ordered[1:], strict=False):
        if b - a < CLOSE_MM:
            continue
        middle = (a + b) / 2.0
        outer = min(_covering([*chain, *floors], middle), key=lambda e: e.at(middle), default=None)
        inner = max(_covering(inside, middle), key=lambda e: e.at(middle), default=None)
        if outer is not None and (inner is None or inner.at(middle) < outer.at(middle)):
            found.append(Slice(a, b, outer, inner))
    return found


def _covering(edges: Sequence[Edge], z: float) -> list[Edge]:
    return [e for e in edges if e.z0 <= z <= e.z1]


def _crossings(one: Edge, two: Edge) -> Iterator[float]:
    """Stations where two edges have one radius, where both are."""
    low, high = max(one.z0, two.z0), min(one.z1, two.z1)
    if high - low <= CLOSE_MM:
        return
    if one.big and two.big:
        return  # links of the chain do not lie over one another
    if one.big:
        one, two = two, one
    slope = (one.at(high) - one.at(low)) / (high - low)
    start = one.at(low)
    if not two.big:
        other = (two.at(high) - two.at(low)) / (high - low)
        roots = [low + (two.at(low) - start) / (slope - other)] if slope != other else []
    else:
        p, q = start + slope * (two.zc - low) - two.rc, 1.0 + slope * slope
        inner = two.big**2 * q - p * p
        roots = [two.zc + (s * sqrt(inner) - slope * p) / q for s in (1.0, -1.0)] if inner > 0.0 else []
    yield from (z for z in roots if low < z < high)


def revolved_volume(shape: Shape, v: Sequence[float]) -> float:
    """Volume of the turned part. [mm3]"""
    found = slices(shape, v)
    return pi * sum(s.outer.squares(s.a, s.b) - (s.inner.squares(s.a, s.b) if s.inner else 0.0) for s in found)


def revolved_surface(shape: Shape, v: Sequence[float]) -> float:
    """Surface of the turned part, its holes and faces included. [mm2]"""
    found = slices(shape, v)
    total = sum(s.outer.lateral(s.a, s.b) + (s.inner.lateral(s.a, s.b) if s.inner else 0.0) for s in found)
    rings: dict[float, list[tuple[float, float]]] = {}
    for s in found:
        rings.setdefault(round(s.a, 8), []).append(s.ring(s.a))
        rings.setdefault(round(s.b, 8), []).append(s.ring(s.b))
    for sides in rings.values():
        total += sum(_ring(*side) for side in sides)
        if len(sides) == 2:
            (a, b), (c, d) = sides
            total -= 2.0 * _ring(max(a, c), min(b, d))
    return total


def _ring(inner: float, outer: float) -> float:
    return pi * max(outer * outer - inner * inner, 0.0) if outer > inner else 0.0


def numeric(size: Callable[[list[float]], float], places: Sequence[int]) -> Fn:
    """A size worked out in plain numbers as one that carries its derivatives by `places`, at many corners at once."""

    def at(v: Vector) -> Scalar:
        plain = [value_of(x) for x in v]
        many = max((np.size(x) for x in plain), default=1)
        columns = [[float(np.broadcast_to(x, many)[k]) for x in plain] for k in range(many)]
        is_array = any(np.ndim(x) for x in plain)
        values = np.array([size(column) for column in columns])
        value: Scalar = values if is_array else float(values[0])
        if not any(type(v[i]) is Dual for i in places):
            return value
        gradient: dict[int, Scalar] = {}
        for i in places:
            x = v[i]
            if type(x) is not Dual:
                continue
            slopes = np.array([_slope(size, column, i) for column in columns])
            slope: Scalar = slopes if is_array else float(slopes[0])
            for j, d in x.g.items():
                gradient[j] = gradient.get(j, 0.0) + slope * d
        return Dual(value, gradient, lin=False)

    return at


def _slope(size: Callable[[list[float]], float], column: list[float], i: int) -> float:
    up, down = list(column), list(column)
    up[i] += STEP
    down[i] -= STEP
    return (size(up) - size(down)) / (2.0 * STEP)


def places_of(shape: Shape) -> list[int]:
    """Where in v the numbers of the part's turned shape and holes stand."""
    found: set[int] = set(shape.stations)
    for feature in shape.features.values():
        if isinstance(feature, Outside):
            found |= {feature.zl, feature.zr, feature.rl, feature.rr, feature.zc, feature.rc, feature.big}
        elif isinstance(feature, Inside):
            found |= {feature.mouth, feature.bottom, feature.rm, feature.rb}
        elif isinstance(feature, Cut):
            found |= {feature.zl, feature.zr, feature.floor}
        else:
            found |= {*feature.sizes.values(), feature.zc or 0, feature.zl or 0, feature.zr or 0}
    return sorted(found - {0})
