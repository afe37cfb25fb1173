"""The working dimensions of a part: what is set and measured in its set-ups, as a dimensioning of its own.

They are the makes of the route, put as phrases about the finished part, and what else fixes the shape (angles set on the
top slide). Solving the part from them gives how every drawing dimension moves with every working dimension.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from handwheel.base.faults import Span
from handwheel.drawing.records import SolvedPart
from handwheel.job.records import (
    CutInKind,
    DrawnDimension,
    DrawnValue,
    InsideKind,
    Number,
    OutsideKind,
    Phrase,
    Point,
    Side,
    Size,
    Tolerance,
    Where,
)
from handwheel.plan.records import PartPlan

NOWHERE = Span("working dimensions", 1, 1)
FINE = Fraction(1, 1_000_000)
CURVED = (OutsideKind.BALL, OutsideKind.HOLLOW, OutsideKind.ROUND, OutsideKind.FILLET)
_STATION = re.compile(r"^(left end|right end|faced end of the blank) to (\S+) (left|right)$")


@dataclass(frozen=True, slots=True)
class Working:
    """A working dimension: its phrase, value [mm or deg], and what the workshop holds of it by habit's name.

    `share` is the part of its tolerance that may be printed: a half where it is touched off an end of the blank
    that itself is cut again later.
    """

    phrase: Phrase
    value: float
    capability: str
    share: float = 1.0

    def drawn(self, tolerance: Fraction) -> DrawnDimension:
        """As a given dimension with a symmetrical tolerance."""
        number = Number(Fraction(self.value), self.phrase.size.measure)
        spread = Tolerance(-tolerance, tolerance)
        return DrawnDimension(self.phrase, DrawnValue(self.phrase.text, NOWHERE, number, tolerance=spread))


def working_of(part: SolvedPart, plan: PartPlan) -> tuple[Working, ...]:
    """The working dimensions of a part, those of the route first; more than enough: repeats fall out when solved."""
    found: dict[str, Working] = {}
    for item in [*_from_route(part, plan), *_from_shape(part)]:
        found.setdefault(item.phrase.text, item)
    return tuple(found.values())


def size_phrase(feature: str, size: Size) -> Phrase:
    """`FEATURE size`."""
    return Phrase(size, f"{feature} {size.value}", NOWHERE, feature)


def station_phrase(end: Where, feature: str, side: Where) -> Phrase:
    """`left end to FEATURE side`, or `FEATURE side to right end`."""
    place, limit = Point(side, feature), Point(end)
    if end is Where.LEFT_END:
        return Phrase(Size.DISTANCE, f"left end to {feature} {side.value}", NOWHERE, start=limit, end=place)
    return Phrase(Size.DISTANCE, f"{feature} {side.value} to right end", NOWHERE, start=place, end=limit)


def _from_route(part: SolvedPart, plan: PartPlan) -> Iterator[Working]:
    for stage in plan.stages:
        toward = stage.operation.holding.toward_tailstock
        for move in stage.operation.moves:
            match = _STATION.match(move.makes.phrase) if move.makes else None
            if match:
                yield from _station(part, match.group(1), match.group(2), match.group(3), toward)


def station_of(phrase: str, toward: str) -> tuple[Where, str, Where] | None:
    """What end, feature and side a length of the route means in the finished part; None when it is not such a length."""
    match = _STATION.match(phrase)
    if match is None:
        return None
    touched = match.group(1)
    end = touched if touched != "faced end of the blank" else f"{toward} end"
    return Where(end), match.group(2), Where(match.group(3))


def _station(part: SolvedPart, touched: str, name: str, side: str, toward: str) -> Iterator[Working]:
    feature = next((f for f in part.outside if f.name == name), None)
    if feature is None or _is_met(part, name, side):
        return
    end = Where(touched if touched != "faced end of the blank" else f"{toward} end")
    z = feature.left if side == "left" else feature.right
    value = z if end is Where.LEFT_END else part.length - z
    if value > 1e-6:
        share = 1.0 if touched != "faced end of the blank" else 0.5
        yield Working(station_phrase(end, name, Where(side)), value, "capability length", share)


def _is_met(part: SolvedPart, name: str, side: str) -> bool:
    """Whether the junction on that side is where a curve meets its neighbour, which nobody measures."""
    names = [f.name for f in part.outside]
    at = names.index(name)
    other = at - 1 if side == "left" else at + 1
    pair = [(part.outside[at], Side(side))]
    if 0 <= other < len(names):
        pair.append((part.outside[other], Side(side).other))
    return any(f.source.kind in CURVED and s not in f.source.flat for f, s in pair)


def _from_shape(part: SolvedPart) -> Iterator[Working]:
    yield Working(Phrase(Size.OVERALL_LENGTH, "overall length", NOWHERE), part.length, "capability length")
    for feature in part.outside:
        kind, name = feature.source.kind, feature.name
        if kind is OutsideKind.CYLINDER:
            yield Working(size_phrase(name, Size.DIAMETER), 2 * feature.left_radius, "capability diameter")
        elif kind in CURVED:
            yield Working(size_phrase(name, Size.DIAMETER), 2 * (feature.arc_radius or 0.0), "capability ball")
    for feature in part.outside:
        for side in ("left", "right"):
            yield from _station(part, "right end", feature.name, side, "right")
        if feature.source.kind in (OutsideKind.CONE, OutsideKind.CHAMFER):
            yield from _cone(part, feature.name, feature.left_radius, feature.right_radius, feature.half_angle_deg)
    for feature in part.outside:
        if feature.source.kind in (OutsideKind.HOLLOW, OutsideKind.ROUND) and feature.centre is not None:
            phrase = Phrase(
                Size.DISTANCE,
                f"left end to {feature.name} centre",
                NOWHERE,
                start=Point(Where.LEFT_END),
                end=Point(Where.CENTRE, feature.name),
            )
            if feature.centre > 1e-6:
                yield Working(phrase, feature.centre, "capability length")
    for cut in part.cut_in:
        value = cut.left if cut.left > 1e-6 else cut.right
        side = Where.LEFT if cut.left > 1e-6 else Where.RIGHT
        yield Working(station_phrase(Where.LEFT_END, cut.name, side), value, "capability length")
        if cut.source.kind is CutInKind.GROOVE:
            yield Working(size_phrase(cut.name, Size.WIDTH), cut.right - cut.left, "capability length")
            yield Working(size_phrase(cut.name, Size.DIAMETER), 2 * cut.floor_radius, "capability diameter")
        else:
            yield Working(size_phrase(cut.name, Size.LENGTH), cut.right - cut.left, "capability length")
    yield from _holes(part)


def _cone(part: SolvedPart, name: str, left: float, right: float, angle: float) -> Iterator[Working]:
    ends = [(Size.RIGHT_DIAMETER, right, "right"), (Size.LEFT_DIAMETER, left, "left")]
    ends.sort(key=lambda e: _is_met(part, name, e[2]))
    size, radius, _ = ends[0]
    yield Working(size_phrase(name, size), 2 * radius, "capability diameter")
    yield Working(size_phrase(name, Size.ANGLE_TO_AXIS), angle, "capability angle")
    size, radius, _ = ends[1]
    yield Working(size_phrase(name, size), 2 * radius, "capability diameter")


def _holes(part: SolvedPart) -> Iterator[Working]:
    for holes, far in ((part.inside_left, 0.0), (part.inside_right, part.length)):
        for hole in holes:
            if hole.source.is_cone:
                left, right = hole.mouth_radius, hole.bottom_radius
                if hole.mouth > hole.bottom:
                    left, right = right, left
                yield Working(size_phrase(hole.name, Size.LEFT_DIAMETER), 2 * left, "capability diameter")
                yield Working(size_phrase(hole.name, Size.RIGHT_DIAMETER), 2 * right, "capability diameter")
            elif hole.source.kind is InsideKind.COUNTERSINK:
                slope = abs(hole.mouth_radius - hole.bottom_radius) / abs(hole.mouth - hole.bottom)
                angle = 2.0 * math.degrees(math.atan(slope))
                yield Working(size_phrase(hole.name, Size.DIAMETER), 2 * hole.mouth_radius, "capability diameter")
                yield Working(size_phrase(hole.name, Size.INCLUDED_ANGLE), angle, "capability angle")
            else:
                yield Working(size_phrase(hole.name, Size.DIAMETER), 2 * hole.bottom_radius, "capability diameter")
            if not hole.source.is_through:
                yield Working(size_phrase(hole.name, Size.DEPTH), abs(hole.bottom - far), "capability length")
