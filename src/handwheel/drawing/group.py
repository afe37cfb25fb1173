"""Parts that are tied together, as one list of unknowns, equations and given numbers.

Ties are `same as`, seats and the dimensions of assemblies. Parts without a tie make groups of their own.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from handwheel.base.faults import Fault, Notice
from handwheel.drawing.ad import Scalar, size_of
from handwheel.drawing.build import build_shape
from handwheel.drawing.junctions import Equation, Fn, shape_equations
from handwheel.drawing.measures import equation, measure, multiplied_out
from handwheel.drawing.shape import Across, Cut, NoSense, Outside, Shape, Unknowns, Vector
from handwheel.drawing.tolerances import Limits, general_limits, written_limits
from handwheel.job.records import (
    Assembly,
    DrawnDimension,
    GeneralTolerance,
    Job,
    OutsideKind,
    Part,
    Phrase,
    Point,
    Side,
    Size,
    Where,
)

Roots: TypeAlias = tuple[list[NDArray[np.float64]], NDArray[np.float64], bool]
"""The different solutions of a few equations; a point, the first or the nearest to one; whether there are no more."""


@dataclass
class Placed:
    """An assembly: where each part's left end stands in v (0 for the first), and which way round it is."""

    source: Assembly
    offset: dict[str, int]
    direction: dict[str, int]


@dataclass
class Given:
    """A dimension with its number's place in v, its limits, and the part it stands in ('' in an assembly)."""

    dimension: DrawnDimension
    part: str
    index: int
    nominal: float
    limits: Limits
    way: int = 1
    is_way_sure: bool = True

    @property
    def place(self) -> float:
        """One unit of the last decimal typed, 0 when exact."""
        return float(self.dimension.value.number.place)

    @property
    def text(self) -> str:
        """The phrase in plain spelling."""
        return self.dimension.phrase.text


@dataclass
class Group:
    """Tied parts. `solved`: roots found in this drawing and in trials with some of it changed, where they are kept."""

    job: Job
    shapes: dict[str, Shape]
    assemblies: list[Placed]
    unknowns: Unknowns
    givens: list[Given] = field(default_factory=list)
    auxiliary: list[Given] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    notices: list[Notice] = field(default_factory=list)
    solved: dict[bytes, Roots] | None = None

    @property
    def count(self) -> int:
        """How many places of v are unknowns, the constant included."""
        return len(self.unknowns.names)

    @cached_property
    def anywhere(self) -> list[float]:
        """Numbers for the unknowns, no two alike nor evenly spaced, to see whether a point can be worked out at all."""
        return [0.1 + 0.01 * i * i for i in range(self.count)]

    def numbers(self) -> list[float]:
        """The given numbers as typed, in the order of their places."""
        return [g.nominal for g in self.givens]

    def z_of(self, point: Point, default: str, placed: Placed | None) -> Fn:
        """Station of a point in its part, or in the assembly."""
        name = point.part or default
        shape = self.shape(name)
        if placed is None:
            return lambda v: shape.z(point, v)
        if name not in placed.offset:
            raise NoSense(f"'{name}' is not in assembly '{placed.source.name}'", "seat it on another part")
        off = placed.offset[name]
        return lambda v: v[off] + placed.direction[name] * shape.z(point, v)

    def shape(self, name: str) -> Shape:
        """The shape of a part in the group."""
        if name not in self.shapes:
            raise NoSense(f"there is no part '{name}' to measure here", "name a part of the job after 'of'")
        return self.shapes[name]

    def parts_of(self, phrase: Phrase, default: str) -> tuple[str, ...]:
        """The parts a phrase speaks of."""
        own = phrase.part or default
        points = [p for p in (phrase.start, phrase.end) if p is not None]
        return tuple(dict.fromkeys(p.part or own for p in points)) or (own,)

    def across_parts(self, phrase: Phrase, default: str) -> Placed | None:
        """The assembly in which a phrase between two parts is measured; None for a phrase within one part."""
        parts = self.parts_of(phrase, default)
        if len(parts) < 2:
            return None
        for placed in self.assemblies:
            if all(p in placed.offset for p in parts):
                return placed
        raise NoSense(f"'{phrase.text}' is between parts that no assembly puts together", "seat one on the other")

    def measured(self, phrase: Phrase, default: str) -> Fn:
        """What a phrase measures."""
        placed = self.across_parts(phrase, default)
        if placed is None:
            return measure(self.shape(self.parts_of(phrase, default)[0]), phrase)
        distance = self._signed(phrase, default, placed)
        return lambda v: size_of(distance(v))

    def _signed(self, phrase: Phrase, default: str, placed: Placed) -> Fn:
        assert phrase.start is not None
        assert phrase.end is not None
        own = phrase.part or default
        start, end = self.z_of(phrase.start, own, placed), self.z_of(phrase.end, own, placed)
        return lambda v: end(v) - start(v)

    def equations(self) -> list[Equation]:
        """Shape equations first, then one per given dimension, in drawing order. Sees to the rulings now chosen."""
        found: list[Equation] = []
        for shape in self.shapes.values():
            found += shape_equations(shape)
        for placed in self.assemblies:
            found += self._seats(placed)
        for given in self.givens:
            found.append(self._given(given))
        return found

    def _given(self, given: Given) -> Equation:
        phrase = given.dimension.phrase
        value = self._value(given)
        placed = self.across_parts(phrase, given.part)
        features = (phrase.feature,) if phrase.feature else ()
        plain: Fn | None = None
        if placed is not None:
            distance = self._signed(phrase, given.part, placed)
            fn: Fn = lambda v: distance(v) * given.way - value(v)  # noqa: E731 - a closure like its neighbours
        else:
            shape = self.shape(self.parts_of(phrase, given.part)[0])
            fn = equation(shape, phrase, value, given.way)
            plain = multiplied_out(shape, phrase, value)
        return Equation(fn, given.part, features, given.dimension, given.index, given.place, plain=plain)

    def _value(self, given: Given) -> Fn:
        index, follow = given.index, given.dimension.value.follow
        if follow is None:
            return lambda v: v[index]
        other = self.measured(follow.phrase, given.part)
        factor = float(follow.factor)
        return lambda v: other(v) * factor + v[index]

    def _seats(self, placed: Placed) -> list[Equation]:
        made = []
        for seat in placed.source.seats:
            one, two = self.z_of(seat.moving, "", placed), self.z_of(seat.fixed, "", placed)
            fn = _gap(one, two)
            made.append(Equation(fn, "", (seat.moving.feature, seat.fixed.feature), what="seat"))
        return made


def _gap(one: Fn, two: Fn) -> Fn:
    def gap(v: Vector) -> Scalar:
        return one(v) - two(v)

    return gap


def spoken_of_in(part: Part) -> list[str]:
    """The parts that a part's dimensions speak of."""
    return list(dict.fromkeys(name for dimension in part.dimensions for name in _spoken_of(dimension)))


def tied_groups(
    job: Job, spoken: Callable[[Part], Sequence[str]] = spoken_of_in
) -> list[tuple[list[Part], list[Assembly]]]:
    """The job's parts in groups that are tied together, in drawing order."""
    leader = {p.name: p.name for p in job.parts}

    def find(name: str) -> str:
        while leader[name] != name:
            leader[name] = leader[leader[name]]
            name = leader[name]
        return name

    def join(names: Sequence[str]) -> None:
        known = [n for n in names if n in leader]
        for other in known[1:]:
            leader[find(other)] = find(known[0])

    for part in job.parts:
        join([part.name, *spoken(part)])
    for assembly in job.assemblies:
        join(assembly_parts(assembly))
    found: dict[str, tuple[list[Part], list[Assembly]]] = {}
    for part in job.parts:
        found.setdefault(find(part.name), ([], []))[0].append(part)
    for assembly in job.assemblies:
        names = [n for n in assembly_parts(assembly) if n in leader]
        if names:
            found[find(names[0])][1].append(assembly)
    return list(found.values())


def _spoken_of(dimension: DrawnDimension) -> list[str]:
    phrases = [dimension.phrase]
    if dimension.value.follow is not None:
        phrases.append(dimension.value.follow.phrase)
    names = []
    for phrase in phrases:
        names.append(phrase.part)
        names += [p.part for p in (phrase.start, phrase.end, phrase.at) if p is not None]
    return [n for n in names if n]


def assembly_parts(assembly: Assembly) -> list[str]:
    """The parts an assembly speaks of, in order."""
    names = [p.part for seat in assembly.seats for p in (seat.fixed, seat.moving)]
    for dimension in assembly.dimensions:
        names += _spoken_of(dimension)
    return list(dict.fromkeys(n for n in names if n))


def build_group(job: Job, parts: list[Part], assemblies: list[Assembly]) -> Group:
    """The group's unknowns and given numbers; faults and notices inside it."""
    unknowns = Unknowns()
    shapes = {}
    for part in parts:
        phrases = [d.phrase for d in part.dimensions if not d.value.auxiliary]
        shapes[part.name] = build_shape(part, unknowns, phrases)
    placed = []
    for assembly in assemblies:
        names = [n for n in assembly_parts(assembly) if n in shapes]
        offset = {n: unknowns.add("", "offset", n) if i else 0 for i, n in enumerate(names)}
        placed.append(Placed(assembly, offset, dict.fromkeys(names, 1)))
    group = Group(job, shapes, placed, unknowns)
    for part in parts:
        for dimension in part.dimensions:
            _add(group, dimension, part.name, part.general_tolerance or job.general_tolerance)
    for assembly in assemblies:
        for dimension in assembly.dimensions:
            _add(group, dimension, "", job.general_tolerance)
    for i, given in enumerate(group.givens):
        given.index = group.count + i
    return group


def _add(group: Group, dimension: DrawnDimension, part: str, general: GeneralTolerance) -> None:
    phrase, value = dimension.phrase, dimension.value
    try:
        group.measured(phrase, part)
        if value.follow is not None:
            group.measured(value.follow.phrase, part)
        for point in (phrase.start, phrase.end, phrase.at):
            _check_point(group, point, phrase, part)
    except NoSense as wrong:
        group.faults.append(no_sense_fault(wrong, phrase, part))
        return
    limits = _limits(group, dimension, part, general)
    way, sure = _way(group, phrase, part)
    given = Given(dimension, part, 0, float(value.number.value), limits, way, sure)
    (group.auxiliary if value.auxiliary else group.givens).append(given)


def _check_point(group: Group, point: Point | None, phrase: Phrase, part: str) -> None:
    """Raise NoSense for a point that its feature does not have."""
    if point is not None:
        shape = group.shape(point.part or phrase.part or part)
        shape.z(point, group.anywhere)


def no_sense_fault(wrong: NoSense, phrase: Phrase, part: str) -> Fault:
    """The fault for a phrase that has no sense."""
    what, do = (wrong.args + ("say it otherwise",))[:2]
    return Fault("no-such-size", phrase.span, str(what), str(do), part, (phrase.text,))


def _limits(group: Group, dimension: DrawnDimension, part: str, general: GeneralTolerance) -> Limits:
    if dimension.value.tolerance is not None:
        if dimension.value.follow is not None and dimension.value.tolerance.iso286:
            return Limits(source=dimension.value.tolerance.iso286)  # looked up when the size is known
        found: Limits | Fault | Notice = written_limits(dimension, abs(float(dimension.value.number.value)))
    else:
        shape = group.shapes.get(part)
        feature = shape.features.get(dimension.phrase.feature) if shape else None
        found = general_limits(dimension, general, feature, part)
    if isinstance(found, Fault):
        group.faults.append(found)
        return Limits()
    if isinstance(found, Notice):
        if not dimension.value.auxiliary:
            group.notices.append(found)
        return Limits()
    return found


def _way(group: Group, phrase: Phrase, part: str) -> tuple[int, bool]:
    """The direction of a distance by the order of the outside chain, and whether that order settles it."""
    if phrase.size is not Size.DISTANCE or phrase.start is None or phrase.end is None:
        return 1, True
    if len(group.parts_of(phrase, part)) > 1:
        return 1, False
    shape = group.shape(group.parts_of(phrase, part)[0])
    one, two = _order(shape, phrase.start), _order(shape, phrase.end)
    if one is None or two is None or one == two or (one % 1 and two % 1 and int(one) == int(two)):
        return 1, False
    moved = bool(phrase.start.offset_mm or phrase.end.offset_mm)
    moved |= any(_may_lie_beyond(shape, point) for point in (phrase.start, phrase.end))
    return (1 if one < two else -1), not moved


def _may_lie_beyond(shape: Shape, point: Point) -> bool:
    """Whether a point is an arc's centre that may lie outside its feature, as a dome's does."""
    link = shape.features.get(point.feature)
    if point.where is not Where.CENTRE or not isinstance(link, Outside) or not link.is_curve:
        return False
    return link.source.kind is not OutsideKind.BALL or link.index in (0, len(shape.outside) - 1)


def _order(shape: Shape, point: Point) -> float | None:
    if point.where is Where.LEFT_END:
        return -0.25
    if point.where is Where.RIGHT_END:
        return len(shape.outside) + 0.25
    for link in shape.outside:
        if link.source.name == point.feature:
            if point.where in (Where.LEFT, Where.RIGHT):
                return link.index + (1.0 if point.where is Where.RIGHT else 0.0)
            if point.where in (Where.CENTRE, Where.MIDDLE):
                return link.index + 0.5
    feature = shape.features.get(point.feature)
    if isinstance(feature, Cut | Across):
        host = shape.features.get(feature.source.host if isinstance(feature, Cut) else feature.source.on)
        return host.index + 0.45 if isinstance(host, Outside) else None
    for hole in shape.inside:
        if hole.source.name == point.feature and point.where is Where.MOUTH and hole.mouth == hole.end:
            return -0.25 if hole.source.entered is Side.LEFT else len(shape.outside) + 0.25
    return None
