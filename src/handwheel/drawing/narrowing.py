"""Which cones, chamfers, fillets and edges narrow otherwise than the ruling has it, and which sizes decide that."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from handwheel.drawing.group import Group
from handwheel.drawing.guess import DIAMETERS
from handwheel.drawing.rulings import deciding_links, ruled_narrowing
from handwheel.drawing.shape import Outside, Shape
from handwheel.job.records import OutsideKind, Size

ENDS = (Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER)


def is_given(beside: Outside, sizes: Collection[tuple[str, Size]]) -> bool:
    """Whether how large it is, beside a cone, is written."""
    if beside.source.kind is OutsideKind.BALL:
        return (beside.source.name, Size.DIAMETER) in sizes
    told = ENDS if beside.is_curve else DIAMETERS  # how far an arc bends says nothing of how large it is
    return any((beside.source.name, size) in sizes for size in told)


def narrowed_wrong(group: Group, v: Sequence[float]) -> list[tuple[Shape, Outside, int]]:
    """Links that narrow otherwise than the ruling has it at this shape, and which way it would; 0 for neither."""
    found = []
    for shape in group.shapes.values():
        for link in deciding_links(shape):
            ruled = ruled_narrowing(shape, link, v)
            if ruled != shape.narrow[link.source.name] and not ends_differ(shape.part.name, link.source.name, group):
                found.append((shape, link, ruled))
    return found


def ends_differ(part: str, feature: str, group: Group) -> bool:
    """Whether both end diameters are given, which settle the narrowing whatever stands beside."""
    sizes = {
        g.dimension.phrase.size
        for g in group.givens
        if g.part == part and g.dimension.phrase.feature == feature and g.dimension.value.follow is None
    }
    return {Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER} <= sizes
