"""Where a shape that holds together leaves no metal: a hole as wide as its part, a groove that cuts nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handwheel.base.tolerance import EQUAL_MM
from handwheel.drawing.ad import Scalar
from handwheel.drawing.group import Group
from handwheel.drawing.junctions import Fn
from handwheel.drawing.rulings import Broken, too_small
from handwheel.drawing.shape import Across, Cut, Inside, Outside, Shape, Vector
from handwheel.job.records import AcrossKind, OutsideKind, Side


def walls(group: Group, v: Sequence[float]) -> list[Broken]:
    """Every place of a fully known shape where what is cut leaves nothing, or cuts nothing."""
    found: list[Broken] = []
    for shape in group.shapes.values():
        found += _bores(shape, v)
        found += _fillets(shape, v)
        for feature in shape.features.values():
            if isinstance(feature, Cut) and feature.floor:
                found += _groove(shape, feature, v)
            elif isinstance(feature, Across):
                found += _across(shape, feature, v)
    return found


def _bores(shape: Shape, v: Sequence[float]) -> Iterator[Broken]:
    """A hole as wide as what it lies in, at the first such link on its way in."""
    for hole in shape.inside:
        low, high = (hole.mouth, hole.bottom) if hole.way > 0 else (hole.bottom, hole.mouth)
        for link in shape.outside if hole.way > 0 else shape.outside[::-1]:
            near = low if v[low] > v[link.zl] else link.zl
            far = high if v[high] < v[link.zr] else link.zr
            if v[far] - v[near] <= EQUAL_MM:
                continue
            places = [near, far]
            if link.bulge < 0 and v[near] < v[link.zc] < v[far]:
                places.append(link.zc)
            found = sorted((float(wall(v)), i, wall) for i, wall in enumerate(_wall(shape, hole, link, p) for p in places))
            if found[0][0] > -EQUAL_MM and found[-1][0] > EQUAL_MM:
                continue
            name, least = hole.source.name, found[0][2]
            # it would also do if the hole ended before the link began
            apart = _overlap(link.zr, low) if hole.way < 0 else _overlap(high, link.zl)
            what = f"'{name}' would be {{size}} wider than '{link.source.name}' around it"
            yield Broken(shape.part.name, (name,), what, -2.0 * found[0][0], margins=(least, apart))
            break


def _fillets(shape: Shape, v: Sequence[float]) -> Iterator[Broken]:
    """A fillet that stands out above the face it ends on."""
    for link in shape.outside:
        if link.source.kind is not OutsideKind.FILLET or link.level is None:
            continue
        beside = link.index + (1 if link.level is Side.RIGHT else -1)
        if not 0 <= beside < len(shape.outside):
            continue
        height = _above(shape.outside[beside], link.level.other, link.rc)
        if height(v) < -EQUAL_MM:
            other, name = shape.outside[beside].source.name, link.source.name
            what = f"'{name}' would stand {{size}} above the face of '{other}'"
            yield too_small(shape.part.name, name, what, height, v, -1.0)


def _above(link: Outside, side: Side, radius: int) -> Fn:
    return lambda v: link.end(v, side) - v[radius]


def _overlap(end: int, start: int) -> Fn:
    return lambda v: v[start] - v[end]


def _wall(shape: Shape, hole: Inside, link: Outside, place: int) -> Fn:
    """Metal between the hole and the surface at a station."""
    name = hole.source.name
    if link.source.kind is OutsideKind.BALL:  # where it opens through the ball's side is not told here
        return lambda v: v[link.big] - shape.surface_radius(name, v[place], v)
    return lambda v: link.at(v, v[place]) - shape.surface_radius(name, v[place], v)


def _groove(shape: Shape, groove: Cut, v: Sequence[float]) -> Iterator[Broken]:
    sign = -1.0 if groove.source.is_inside else 1.0
    host, name = groove.source.host, groove.source.name

    def depth(v: Vector) -> Scalar:
        middle = (v[groove.zl] + v[groove.zr]) * 0.5
        return (shape.surface_radius(host, middle, v) - v[groove.floor]) * sign

    if depth(v) <= EQUAL_MM:
        yield too_small(shape.part.name, name, f"'{name}' would be {{size}} deep", depth, v)


def _across(shape: Shape, across: Across, v: Sequence[float]) -> Iterator[Broken]:
    host, centre, name = shape.features.get(across.source.on), across.zc, across.source.name
    if not isinstance(host, Outside) or centre is None:
        return
    is_ball = host.source.kind is OutsideKind.BALL

    def surface(v: Vector) -> Scalar:
        return v[host.big] if is_ball else host.at(v, v[centre])

    word = "radius" if across.source.kind is AcrossKind.HOLE else "from axis"
    if word not in across.sizes or across.source.kind is AcrossKind.SLOT:
        return
    place = across.sizes[word]
    what = "wider than" if word == "radius" else "outside"
    factor = -2.0 if word == "radius" else -1.0
    if surface(v) - v[place] <= EQUAL_MM and across.source.kind not in (AcrossKind.SQUARE, AcrossKind.HEXAGON):
        text = f"'{name}' would be {{size}} {what} '{host.source.name}'"
        yield too_small(shape.part.name, name, text, lambda v: surface(v) - v[place], v, factor)
