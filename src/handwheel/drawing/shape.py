"""The numbers a part's shape is made of, and where its points and surfaces lie in terms of them.

A vector v holds every number of a group of parts; v[0] is always the constant 0 (a part's own left end, a ball's
centre radius). The functions here take v as floats, arrays or `Dual`s alike and know nothing of dimensions.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from handwheel.drawing.ad import Scalar, root, tan_deg, value_of
from handwheel.job.records import (
    AcrossFeature,
    CutIn,
    InsideFeature,
    InsideKind,
    OutsideFeature,
    OutsideKind,
    Part,
    Point,
    Side,
    Where,
)

Vector = Sequence[Scalar]
CONES = (OutsideKind.CONE, OutsideKind.CHAMFER)


class NoSense(ValueError):
    """A phrase that this kind of feature has no sense for; the message says so and the second argument what to do."""


@dataclass
class Unknowns:
    """The list of numbers being sought; index 0 is the constant 0. Kinds as in `Coordinate`, and a few more."""

    names: list[tuple[str, str, str, int]] = field(default_factory=lambda: [("", "constant", "", 0)])

    def add(self, part: str, kind: str, feature: str = "", index: int = 0) -> int:
        """A new unknown; its place in v."""
        self.names.append((part, kind, feature, index))
        return len(self.names) - 1

    def places(self, kind: str) -> list[int]:
        """The places of that kind."""
        return [i for i, name in enumerate(self.names) if name[1] == kind]


@dataclass
class Outside:
    """A link and where its numbers stand in v. `bulge` is +1 for a ball or round, -1 for a hollow or fillet.

    `poles`: the sides on which a ball closes; `level`: the side on which a corner ends level with its centre.
    """

    source: OutsideFeature
    index: int
    zl: int
    zr: int
    rl: int = 0
    rr: int = 0
    zc: int = 0
    rc: int = 0
    big: int = 0
    bulge: int = 0
    poles: frozenset[Side] = frozenset()
    level: Side | None = None

    @property
    def is_curve(self) -> bool:
        """Whether it is an arc."""
        return self.bulge != 0

    @property
    def has_centre(self) -> bool:
        """Whether its centre is its own rather than its middle."""
        return self.bulge != 0 and self.source.kind is not OutsideKind.FILLET

    def end(self, v: Vector, side: Side) -> Scalar:
        """Surface radius at that end."""
        if side in self.poles:
            return v[0]
        if side is self.level:
            return v[self.rc]
        if self.bulge:
            return self.at(v, v[self.zl if side is Side.LEFT else self.zr])
        return v[self.rl if side is Side.LEFT else self.rr]

    def at(self, v: Vector, z: Scalar) -> Scalar:
        """Surface radius at z, the feature carried on where it does not reach."""
        if self.bulge:
            gap = z - v[self.zc]
            return v[self.rc] + self.bulge * root(v[self.big] * v[self.big] - gap * gap)
        if self.rl == self.rr:
            return v[self.rl]
        return v[self.rl] + (v[self.rr] - v[self.rl]) * (z - v[self.zl]) / (v[self.zr] - v[self.zl])


@dataclass
class Inside:
    """A hole on the axis. `mouth` and `bottom` stand in v; `way` is +1 when entered from the left."""

    source: InsideFeature
    mouth: int
    bottom: int
    rm: int
    rb: int
    end: int
    way: int

    def tip(self, v: Vector) -> Scalar:
        """Station of the drill point's tip; the bottom where there is no point."""
        if self.source.is_flat_bottomed or self.source.is_through or not is_drilled(self.source):
            return v[self.bottom]
        return v[self.bottom] + self.way * v[self.rb] * (1.0 / tan_deg(float(self.source.point_deg) / 2.0))


@dataclass
class Cut:
    """A groove, knurl or thread cut into a feature; `floor` is 0 for a knurl or thread."""

    source: CutIn
    zl: int
    zr: int
    floor: int


@dataclass
class Across:
    """A feature across the axis: its centre (None on a face) and its sizes by word."""

    source: AcrossFeature
    zc: int | None
    sizes: dict[str, int]
    zl: int | None = None
    zr: int | None = None


Feature = Outside | Inside | Cut | Across


def is_drilled(hole: InsideFeature) -> bool:
    """Whether the hole ends in a drill point."""
    return hole.kind is InsideKind.HOLE and not hole.is_flat_bottomed


@dataclass
class Shape:
    """A part's features by name and its stations; `is_multiplied`: which form of some equations to use."""

    part: Part
    stations: list[int]
    outside: list[Outside]
    inside: list[Inside]
    features: dict[str, Feature]
    narrow: dict[str, int]
    meeting: dict[int, int] = field(default_factory=dict)
    is_multiplied: bool = False

    @property
    def far(self) -> int:
        """Place of the right end's station in v."""
        return self.stations[-1]

    def find(self, name: str) -> Feature:
        """The feature of that name."""
        try:
            return self.features[name]
        except KeyError:
            raise NoSense(f"'{self.part.name}' has no feature '{name}'", "name one of its features") from None

    def z(self, point: Point, v: Vector) -> Scalar:
        """Station of a point."""
        base = self._base(point, v)
        return base + float(point.offset_mm) if point.offset_mm else base

    def _base(self, point: Point, v: Vector) -> Scalar:
        if point.where is Where.LEFT_END:
            return v[0]
        if point.where is Where.RIGHT_END:
            return v[self.far]
        feature = self.find(point.feature)
        if point.where is Where.MEETS:
            return self._meeting(feature, self.find(point.meets), v)
        if isinstance(feature, Inside):
            return _inside_point(feature, point, v)
        if isinstance(feature, Outside) and point.where is Where.APEX:
            return _apex(feature, v)
        if isinstance(feature, Outside) and point.where is Where.CENTRE and feature.has_centre:
            return v[feature.zc]
        if isinstance(feature, Across):
            if feature.zc is not None and point.where is Where.CENTRE:
                return v[feature.zc]
            if feature.zl is not None:
                return _ends_point(feature, point, v)
            if feature.zc is not None and point.where is Where.MIDDLE:
                return v[feature.zc]
            what = f"'{point.feature} {point.where}' is not a point on the axis"
            raise NoSense(what, f"use '{point.feature} centre'")
        return _ends_point(feature, point, v)

    def _meeting(self, one: Feature, two: Feature, v: Vector) -> Scalar:
        if not isinstance(one, Outside | Inside) or not isinstance(two, Outside | Inside):
            raise NoSense("'meets' is between two surfaces of the outside or inside", "name two of them")
        if isinstance(two, Outside) and two.is_curve:
            if isinstance(one, Outside) and one.is_curve:
                return _curves_meeting(one, two, v)
            one, two = two, one
        t2, a2 = _line(two, v)
        if not isinstance(one, Outside) or not one.is_curve:
            t1, a1 = _line(one, v)
            return (a2 - a1) / (t1 - t2)
        # (z - zc)^2 + (a + t z - rc)^2 = R^2, the root on that side of the centre where the neighbour lies
        p = a2 + t2 * v[one.zc] - v[one.rc]
        is_right = two.index > one.index if isinstance(two, Outside) else two.way < 0
        q = 1.0 + t2 * t2
        inner = root(v[one.big] * v[one.big] * q - p * p)
        return v[one.zc] + ((1.0 if is_right else -1.0) * inner - t2 * p) / q

    def surface_radius(self, name: str, z: Scalar, v: Vector) -> Scalar:
        """Radius of the named outside or inside feature at z."""
        feature = self.find(name)
        if isinstance(feature, Outside):
            return feature.at(v, z)
        if isinstance(feature, Inside):
            return v[feature.rb] if feature.rb == feature.rm else v[feature.rm] + (v[feature.rb] - v[feature.rm]) * (
                z - v[feature.mouth]
            ) / (v[feature.bottom] - v[feature.mouth])
        raise NoSense(f"'{name}' is no surface to cut into", "name a feature of the outside or inside")


def _line(feature: Outside | Inside, v: Vector) -> tuple[Scalar, Scalar]:
    """Slope and intercept of a straight feature."""
    if isinstance(feature, Outside):
        z0, z1, r0, r1 = feature.zl, feature.zr, feature.rl, feature.rr
    else:
        z0, z1, r0, r1 = feature.mouth, feature.bottom, feature.rm, feature.rb
    if r0 == r1:
        return 0.0, v[r0]
    t = (v[r1] - v[r0]) / (v[z1] - v[z0])
    return t, v[r0] - t * v[z0]


def _curves_meeting(one: Outside, two: Outside, v: Vector) -> Scalar:
    """Station where two arcs carried on meet: of the two places, that on both surfaces, the nearer to both features."""
    along, out = v[two.zc] - v[one.zc], v[two.rc] - v[one.rc]
    apart = along * along + out * out
    share = (apart + v[one.big] * v[one.big] - v[two.big] * v[two.big]) / (2.0 * apart)
    foot = v[one.zc] + share * along
    if one.rc == two.rc:
        return foot
    beside = root(v[one.big] * v[one.big] / apart - share * share)
    offset = beside * out
    first, second = (one, two) if one.index < two.index else (two, one)
    between = (v[first.zr] + v[second.zl]) * 0.5
    level = v[one.rc] + share * out
    merits = []
    for side in (1.0, -1.0):
        z, r = value_of(foot + side * offset), value_of(level - side * beside * along)
        off = sum((value_of(link.at(v, z)) - r) ** 2 for link in (one, two))
        merits.append(off + 1e-6 * np.abs(z - value_of(between)))
    nearer: Scalar = np.where(merits[0] <= merits[1], 1.0, -1.0)
    return foot + offset * (nearer if nearer.ndim else float(nearer))


def _apex(feature: Outside, v: Vector) -> Scalar:
    if feature.source.kind not in CONES:
        raise NoSense(f"'{feature.source.name}' has no apex", "only a cone has one")
    span = v[feature.zr] - v[feature.zl]
    return v[feature.zl] + v[feature.rl] * span / (v[feature.rl] - v[feature.rr])


def _inside_point(hole: Inside, point: Point, v: Vector) -> Scalar:
    if point.where is Where.MOUTH or point.where is (Where.LEFT if hole.way > 0 else Where.RIGHT):
        return v[hole.mouth]
    if point.where in (Where.BOTTOM, Where.LEFT, Where.RIGHT):
        return v[hole.bottom]
    if point.where is Where.POINT:
        return hole.tip(v)
    if point.where in (Where.CENTRE, Where.MIDDLE):
        return (v[hole.mouth] + v[hole.bottom]) * 0.5
    span = v[hole.bottom] - v[hole.mouth]
    if point.where is Where.APEX and hole.rm != hole.rb:
        return v[hole.mouth] + v[hole.rm] * span / (v[hole.rm] - v[hole.rb])
    what = f"'{hole.source.name} {point.where}' has no sense here"
    raise NoSense(what, "use its mouth, bottom, point, left or right")


def _ends_point(feature: Outside | Cut | Across, point: Point, v: Vector) -> Scalar:
    left, right = v[feature.zl or 0], v[feature.zr or 0]
    if point.where is Where.LEFT:
        return left
    if point.where is Where.RIGHT:
        return right
    if point.where in (Where.CENTRE, Where.MIDDLE):
        return (left + right) * 0.5
    raise NoSense(f"'{point.feature} {point.where}' has no sense here", "use its left, right, centre or middle")
