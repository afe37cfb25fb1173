"""The sizes one would look for on a drawing of a part, as phrases."""

from __future__ import annotations

from collections.abc import Iterator

from handwheel.base.faults import Span
from handwheel.drawing.shape import Across, Cut, Inside, Outside, Shape
from handwheel.job.records import OutsideKind, Phrase, Point, Side, Size, Where

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
        for size in sizes_of(feature):
            same = SAME.get(size, ()) if size is not Size.WIDTH or isinstance(feature, Cut) else ()
            if not any((name, other) in given for other in same):
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
        elif isinstance(feature, Cut) and has_own_place(shape, feature):
            yield distance(left, Point(Where.LEFT, name), span)
        elif isinstance(feature, Across) and feature.zc is not None:
            yield distance(left, Point(Where.CENTRE, name), span)


def has_own_place(shape: Shape, cut: Cut) -> bool:
    """Whether its ends are its own rather than those of what it is cut into."""
    return cut.zl not in shape.stations and not any(cut.zl in (h.mouth, h.bottom) for h in shape.inside)


def offered_sizes(shape: Shape) -> Iterator[Phrase]:
    """The same as a drawing would give them: a hollow, round or fillet by its radius."""
    for phrase in usual_sizes(shape):
        link = shape.features.get(phrase.feature)
        is_arc = isinstance(link, Outside) and link.is_curve and link.source.kind is not OutsideKind.BALL
        is_radius = is_arc and phrase.size is Size.DIAMETER
        yield simple(phrase.feature, Size.RADIUS, phrase.span) if is_radius else phrase


def sizes_of(feature: object) -> tuple[Size, ...]:
    """The sizes a feature has of its own, the usual first."""
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
