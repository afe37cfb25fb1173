"""A turned part by closed forms alone: stations, radii and junctions as explicit functions of free numbers.

Nothing of handwheel is used here. Every function takes complex arrays: a step along the imaginary axis gives the exact
derivative, so a part's sizes and their slopes come from the same lines.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np

Array = np.ndarray[Any, np.dtype[np.complex128]]
STRAIGHT = ("cylinder", "cone", "chamfer")
BULGE = {"ball": 1, "round": 1, "edge": 1, "hollow": -1, "fillet": -1}
STEP = 1e-30


def root(x: Array) -> Array:
    """Square root, nan where the real part is below zero."""
    with np.errstate(invalid="ignore"):
        return np.asarray(np.where(x.real < 0, np.nan, np.sqrt(x)))


@dataclass
class Link:
    """A link of the chain. `numbers`: word to place of a free number. `smooth`: a corner's tangent side, +1 right."""

    kind: str
    name: str
    numbers: dict[str, int] = field(default_factory=dict)
    smooth: int = 0
    narrow: str = ""


@dataclass
class Hole:
    """A hole on the axis, entered from the left (way +1) or the right."""

    kind: str
    name: str
    way: int
    numbers: dict[str, int] = field(default_factory=dict)
    drilled: bool = False
    through: bool = False


@dataclass
class Groove:
    """A groove cut into a cylinder."""

    name: str
    host: int
    numbers: dict[str, int] = field(default_factory=dict)


@dataclass
class Part:
    """Links, joins (one more than links), holes, grooves, values of the free numbers, the root each join takes.

    A join is one of: end, pole, flat, shoulder, flush, meet, tangent.
    """

    links: list[Link] = field(default_factory=list)
    joins: list[str] = field(default_factory=list)
    holes: list[Hole] = field(default_factory=list)
    grooves: list[Groove] = field(default_factory=list)
    values: list[float] = field(default_factory=list)
    stations: dict[int, int] = field(default_factory=dict)
    branch: dict[int, int] = field(default_factory=dict)

    def number(self, value: float) -> int:
        """A new free number; its place."""
        self.values.append(value)
        return len(self.values) - 1


class Made:
    """A part made from its free numbers x, (n, ...) complex: every station and radius by its closed form, on demand."""

    def __init__(self, part: Part, x: Array, branch: dict[int, int] | None = None) -> None:
        self.part = part
        self.x = x
        self.branch = part.branch if branch is None else branch
        self.cache: dict[tuple[str, int], Array] = {}

    def _get(self, word: str, i: int, work: Any) -> Array:
        key = (word, i)
        if key not in self.cache:
            self.cache[key] = work(i)
        return self.cache[key]

    def _own(self, i: int, word: str) -> Array:
        return np.asarray(self.x[self.part.links[i].numbers[word]])

    # -- circles ----------------------------------------------------------------------------------------------------

    def circle(self, i: int) -> tuple[Array, Array, Array]:
        """Centre z, centre r and radius of a curved link."""
        found = [self._get(f"circle{k}", i, lambda i, k=k: self._circle(i)[k]) for k in range(3)]
        return found[0], found[1], found[2]

    def _circle(self, i: int) -> tuple[Array, Array, Array]:
        link = self.part.links[i]
        if link.kind in ("fillet", "edge"):
            return self._corner(link, i)
        for side in (-1, 1):
            k, j = (i, i - 1) if side < 0 else (i + 1, i + 1)
            if self.part.joins[k] != "tangent":
                continue
            if self.part.links[j].kind in STRAIGHT:
                return self._touching(link, i, k, j)
            if side < 0:  # the right one of two curves takes what is left between the centres
                z1, r1, big = self.circle(j)
                z2, r2 = self._own(i, "zc"), self._own(i, "rc") if link.kind != "ball" else 0 * z1
                return z2, r2, root((z2 - z1) ** 2 + (r2 - r1) ** 2) - big
        centre = self._own(i, "zc")
        out = 0 * centre if link.kind == "ball" else self._own(i, "rc")
        return centre, out, self._own(i, "R")

    def _corner(self, link: Link, i: int) -> tuple[Array, Array, Array]:
        big = self._own(i, "R")
        beside = self.end(i - 1, 1) if link.smooth < 0 else self.end(i + 1, -1)
        centre = self.station(i if link.smooth < 0 else i + 1)
        return centre, beside + big * (1 if link.kind == "fillet" else -1), big

    def _touching(self, link: Link, i: int, k: int, j: int) -> tuple[Array, Array, Array]:
        """A circle that touches the straight link j at station k: its centre lies on the normal there."""
        z, r, slope = self.station(k), self.end(j, 1 if j < i else -1), self.slope(j)
        long = root(1 + slope * slope)
        if link.kind == "ball":
            return z + r * slope, 0 * r, r * long
        big = self._own(i, "R")
        away = -BULGE[link.kind]
        return z - away * big * slope / long, r + away * big / long, big

    # -- stations and radii -----------------------------------------------------------------------------------------

    def station(self, k: int) -> Array:
        """Station of join k, in the free numbers' own frame."""
        return self._get("z", k, self._station)

    def _station(self, k: int) -> Array:
        part = self.part
        if k in part.stations:
            return np.asarray(self.x[part.stations[k]])
        join = part.joins[k]
        if join == "pole":
            z, _, big = self.circle(0 if k == 0 else k - 1)
            return z - big if k == 0 else z + big
        one, two = part.links[k - 1], part.links[k]
        for i, link in ((k - 1, one), (k, two)):
            if link.kind in ("fillet", "edge"):  # the smooth end lies R from the face
                big = self._own(i, "R")
                return self.station(i + 1) - big if link.smooth < 0 else self.station(i) + big
        if one.kind in STRAIGHT or two.kind in STRAIGHT:
            i, j, side = (k, k - 1, -1) if one.kind in STRAIGHT else (k - 1, k, 1)
            z, out, big = self.circle(i)
            r = self.end(j, -side)
            return z + self.branch.get(k, side) * root(big * big - (r - out) ** 2)
        z1, r1, big1 = self.circle(k - 1)
        z2, r2, big2 = self.circle(k)
        square = (z2 - z1) ** 2 + (r2 - r1) ** 2
        if join == "tangent":
            return z1 + big1 * (z2 - z1) / root(square)
        along = (square + big1 * big1 - big2 * big2) / 2 / square
        if one.kind == two.kind == "ball":
            return z1 + along * (z2 - z1)
        beside = root(big1 * big1 / square - along * along)
        return z1 + along * (z2 - z1) + self.branch.get(k, 1) * beside * (r2 - r1)

    def end(self, i: int, side: int) -> Array:
        """Surface radius of link i at its left (-1) or right (+1)."""
        return self._get(f"end{side}", i, lambda i: self._end(i, side))

    def _end(self, i: int, side: int) -> Array:
        link, k = self.part.links[i], i if side < 0 else i + 1
        if link.kind == "cylinder":
            return self._own(i, "r")
        if link.kind in STRAIGHT:
            word = "rl" if side < 0 else "rr"
            return self._own(i, word) if word in link.numbers else self.end(i + side, -side)
        if self.part.joins[k] == "pole":
            return 0 * self.circle(i)[0]
        if link.kind in ("fillet", "edge") and link.smooth != side:
            return self.circle(i)[1]
        return self.radius_at(i, self.station(k))

    def slope(self, i: int) -> Array:
        """Slope of a straight link, radius per length."""
        if self.part.links[i].kind == "cylinder":
            return 0 * self.end(i, 1)
        return (self.end(i, 1) - self.end(i, -1)) / (self.station(i + 1) - self.station(i))

    def radius_at(self, i: int, z: Array) -> Array:
        """Surface radius of link i carried on to z."""
        link = self.part.links[i]
        if link.kind in BULGE:
            centre, out, big = self.circle(i)
            return out + BULGE[link.kind] * root(big * big - (z - centre) ** 2)
        return self.end(i, -1) + self.slope(i) * (z - self.station(i)) if link.kind != "cylinder" else self.end(i, 1)

    # -- inside -----------------------------------------------------------------------------------------------------

    def hole_number(self, i: int, word: str) -> Array:
        """A hole's own free number."""
        return np.asarray(self.x[self.part.holes[i].numbers[word]])

    def following(self, i: int) -> int | None:
        """The next hole entered the same way."""
        way = self.part.holes[i].way
        return next((j for j in range(i + 1, len(self.part.holes)) if self.part.holes[j].way == way), None)

    def mouth(self, i: int) -> Array:
        """Where a hole begins."""
        hole = self.part.holes[i]
        before = [j for j in range(i) if self.part.holes[j].way == hole.way]
        if before:
            return self.bottom(before[-1])
        return self.station(0 if hole.way > 0 else len(self.part.links))

    def bottom(self, i: int) -> Array:
        """Where a hole's full diameter ends."""
        hole = self.part.holes[i]
        if not hole.through:
            return self.hole_number(i, "bottom")
        others = [j for j, h in enumerate(self.part.holes) if h.way != hole.way]
        if others:
            return self.bottom(others[-1])
        return self.station(len(self.part.links) if hole.way > 0 else 0)

    def hole_radii(self, i: int) -> tuple[Array, Array]:
        """Radius at mouth and at bottom."""
        hole = self.part.holes[i]
        if hole.kind == "countersink":
            following = self.following(i)
            assert following is not None
            return self.hole_number(i, "rm"), self.hole_radii(following)[0]
        if "rm" in hole.numbers:
            return self.hole_number(i, "rm"), self.hole_number(i, "rb")
        return self.hole_number(i, "r"), self.hole_number(i, "r")

    def tip(self, i: int) -> Array:
        """The drill point's tip, 118 deg included."""
        return self.bottom(i) + self.part.holes[i].way * self.hole_radii(i)[1] / np.tan(np.radians(59.0))


def stepped(part: Part, values: Any = None) -> Array:
    """The free numbers with an imaginary step in each direction: (n, n), the second axis the derivative's."""
    base = np.asarray(part.values if values is None else values, dtype=float)
    return np.asarray(base[:, None] + 1j * STEP * np.eye(len(base)))


def plain(part: Part, values: Any = None) -> Array:
    """The free numbers alone, (n, 1)."""
    base = np.asarray(part.values if values is None else values, dtype=float)
    return np.asarray(base[:, None].astype(complex))


def is_right(part: Part, made: Made, margin: float = 0.0) -> bool:
    """Whether it is a part by the contract's rulings: in order, balls met on their own side, arcs on their own half."""
    with np.errstate(all="ignore"):
        return all(bool(np.all(c)) for c in _conditions(part, made, margin))


def _conditions(part: Part, made: Made, margin: float) -> Any:
    for i, link in enumerate(part.links):
        left, right = made.station(i).real, made.station(i + 1).real
        yield right - left > margin
        ends = made.end(i, -1).real, made.end(i, 1).real
        for side, r in zip((-1, 1), ends, strict=True):
            k, j = (i, i - 1) if side < 0 else (i + 1, i + 1)
            z = left if side < 0 else right
            if part.joins[k] != "pole":
                yield r > margin / 2
            if link.kind not in BULGE:
                continue
            centre, out, big = (a.real for a in made.circle(i))
            yield big > margin
            yield np.abs(z - centre) <= big + 1e-9
            if link.kind in ("fillet", "edge"):
                continue
            yield (r - out) * BULGE[link.kind] > (-1e-9 if part.joins[k] == "pole" else margin / 5)
            if link.kind != "ball" and part.joins[k] != "tangent":
                yield big - np.abs(r - out) > margin / 50
            if link.kind == "ball" and part.joins[k] != "pole":
                yield (z - centre) * side >= (-1e-6 if part.joins[k] in ("meet", "tangent") else 1e-9) + margin / 5
            if link.kind == "ball" and part.joins[k] == "meet":
                slope = made.slope(j).real if part.links[j].kind in STRAIGHT else _arc_slope(made, j, z, r)
                yield (r * slope + z - centre) * side >= -1e-6 + margin / 5
            if part.joins[k] in ("meet", "tangent") and part.links[j].kind in BULGE:
                other = made.end(j, -side).real
                yield np.abs(other - r) < 1e-6
    for i, hole in enumerate(part.holes):
        mouth, bottom = made.mouth(i).real, made.bottom(i).real
        rm, rb = (r.real for r in made.hole_radii(i))
        yield (bottom - mouth) * hole.way > margin
        yield (bottom > made.station(0).real - 1e-7) & (bottom < made.station(len(part.links)).real + 1e-7)
        yield np.minimum(rm, rb) > margin / 2
        if hole.kind == "countersink":
            yield rm > rb + margin / 5
        yield from _walls(made, mouth, bottom, rm, rb, margin)
    for groove in part.grooves:
        left, right, floor = (made.x[groove.numbers[w]].real for w in ("zl", "zr", "floor"))
        yield right - left > margin
        yield (left >= made.station(groove.host).real - 1e-7) & (right <= made.station(groove.host + 1).real + 1e-7)
        yield floor > margin / 2
    for i, link in enumerate(part.links):
        if link.kind == "chamfer":
            yield (made.end(i, -1) - made.end(i, 1)).real * (1 if link.narrow == "right" else -1) > margin / 10


def _walls(made: Made, mouth: Any, bottom: Any, rm: Any, rb: Any, margin: float) -> Any:
    """Whether the outside stays outside a hole, at links' ends and hollows' middles."""
    low, high, wide = np.minimum(mouth, bottom), np.maximum(mouth, bottom), np.maximum(rm, rb)
    for i, link in enumerate(made.part.links):
        left, right = made.station(i).real, made.station(i + 1).real
        near, far = np.maximum(left, low), np.minimum(right, high)
        for z in (near, far):
            yield (near >= far) | (np.nan_to_num(made.radius_at(i, z).real, nan=0.0) > wide + margin / 5)
        if link.kind == "hollow":
            centre, out, big = (a.real for a in made.circle(i))
            yield (near >= centre) | (far <= centre) | (out - big > wide + margin / 5)


def _arc_slope(made: Made, j: int, z: Any, r: Any) -> Any:
    centre, out, _ = (a.real for a in made.circle(j))
    return -(z - centre) / (r - out)
