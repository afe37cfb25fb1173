"""Which features can still move, and which single dimensions would fix them."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from handwheel.base.faults import Span
from handwheel.drawing.ad import Dual
from handwheel.drawing.group import Group
from handwheel.drawing.shape import Across, Cut, Inside, NoSense, Outside, Shape
from handwheel.job.records import OutsideKind, Phrase, Point, Side, Size, Where

Array = NDArray[np.float64]
MOVES = 1e-6
SAME = {
    Size.DIAMETER: (Size.RADIUS,),
    Size.INCLUDED_ANGLE: (Size.ANGLE_TO_AXIS, Size.TAPER),
    Size.WIDTH: (Size.LENGTH,),
}
"""Sizes that need no saying where another that means the same is given."""


def simple(feature: str, size: Size, span: Span, part: str = "") -> Phrase:
    """The phrase `feature size`."""
    text = f"{feature} {size.value}".strip()
    return Phrase(size, text, span, feature, part=part)


def distance(start: Point, end: Point, span: Span) -> Phrase:
    """The phrase `start to end`."""
    return Phrase(Size.DISTANCE, f"{point_text(start)} to {point_text(end)}", span, start=start, end=end)


def point_text(point: Point) -> str:
    """A point in the drawing's words."""
    return f"{point.feature} {point.where.value}".strip()


def usual_sizes(shape: Shape) -> Iterator[Phrase]:
    """The sizes one would look for on a part: overall length, every feature's diameters, lengths, places."""
    span = shape.part.span
    yield simple("", Size.OVERALL_LENGTH, span)
    given = {(d.phrase.feature, d.phrase.size) for d in shape.part.dimensions if not d.value.auxiliary}
    for name, feature in shape.features.items():
        for size in _sizes_of(feature):
            if not any((name, other) in given for other in SAME.get(size, ())):
                yield simple(name, size, span)
    left = Point(Where.LEFT_END)
    for link in shape.outside:
        if link.is_curve and link.source.kind is not OutsideKind.FILLET:
            yield distance(left, Point(Where.CENTRE, link.source.name), span)
        if link.index < len(shape.outside) - 1:
            yield distance(left, Point(Where.RIGHT, link.source.name), span)
    for name, feature in shape.features.items():
        if isinstance(feature, Inside):
            yield distance(left, Point(Where.BOTTOM, name), span)
        elif isinstance(feature, Cut) and feature.floor:
            yield distance(left, Point(Where.LEFT, name), span)
        elif isinstance(feature, Across) and feature.zc is not None:
            yield distance(left, Point(Where.CENTRE, name), span)


def _sizes_of(feature: object) -> tuple[Size, ...]:
    if isinstance(feature, Outside):
        if feature.is_curve:
            ends = ((Side.LEFT, Size.LEFT_DIAMETER), (Side.RIGHT, Size.RIGHT_DIAMETER))
            return (Size.DIAMETER, *(size for side, size in ends if side not in feature.poles), Size.LENGTH)
        if feature.rl == feature.rr:
            return (Size.DIAMETER, Size.LENGTH)
        return (Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER, Size.LENGTH, Size.INCLUDED_ANGLE)
    if isinstance(feature, Inside):
        if feature.rm != feature.rb:
            return (Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER, Size.DEPTH, Size.LENGTH)
        return (Size.DIAMETER, Size.DEPTH, Size.LENGTH)
    if isinstance(feature, Cut):
        return (Size.DIAMETER, Size.WIDTH, Size.DEPTH) if feature.floor else (Size.LENGTH,)
    if isinstance(feature, Across):
        if "radius" in feature.sizes:
            return (Size.DIAMETER, Size.DEPTH, Size.PITCH_CIRCLE)
        return (Size.FROM_AXIS, Size.WIDTH, Size.LENGTH)
    return ()


def loose_features(group: Group, shape: Shape, loose: Array, v: list[float]) -> list[str]:
    """Features of the part whose size or place can still change; the fewest that say it, in drawing order."""
    moved = np.abs(loose).max(axis=0)
    moving = {i for i in np.flatnonzero(moved > MOVES) if group.unknowns.names[i][0] == shape.part.name}
    if not moving:
        return []
    sized = [name for name, f in shape.features.items() if _changes(group, shape, name, f, loose, v)]
    if sized:
        return sized
    return [group.unknowns.names[i][2] or "length" for i in sorted(moving)][:1]


def _changes(group: Group, shape: Shape, name: str, feature: object, loose: Array, v: list[float]) -> bool:
    phrases = [simple(name, size, shape.part.span) for size in _sizes_of(feature)]
    if isinstance(feature, Across) and feature.zc is not None:
        phrases.append(distance(Point(Where.LEFT_END), Point(Where.CENTRE, name), shape.part.span))
    if isinstance(feature, Cut) and feature.floor:
        phrases.append(distance(Point(Where.LEFT_END), Point(Where.LEFT, name), shape.part.span))
    return any(_moves(group, shape, phrase, loose, v) is not None for phrase in phrases)


def _moves(group: Group, shape: Shape, phrase: Phrase, loose: Array, v: list[float]) -> Array | None:
    """How the phrase's size changes with each loose movement; None when it does not, or cannot be measured."""
    try:
        fn = group.measured(phrase, shape.part.name)
        with np.errstate(all="ignore"):
            found = fn([0.0, *(Dual(v[i], {i: 1.0}) for i in range(1, group.count)), *v[group.count :]])
    except (NoSense, ZeroDivisionError):
        return None
    if type(found) is not Dual:
        return None
    row = np.zeros(group.count)
    for j, d in found.g.items():
        row[j] = d
    change = loose @ row
    if not np.isfinite(change).all() or np.abs(change).max() < MOVES * max(1.0, float(np.abs(row).max())):
        return None
    return np.asarray(change)


def suggestions(group: Group, shape: Shape, loose: Array, v: list[float]) -> list[str]:
    """Single dimensions, not given yet, that would each fix something loose."""
    given = {g.text for g in group.givens if g.part == shape.part.name}
    found = []
    for phrase in usual_sizes(shape):
        if phrase.text not in given and _moves(group, shape, phrase, loose, v) is not None:
            found.append(phrase.text)
    return found
