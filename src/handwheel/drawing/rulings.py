"""The contract's rulings: which way a cone narrows, which root makes a ball, features in order along the axis."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from handwheel.base.tolerance import EQUAL_MM
from handwheel.drawing.ad import value_of
from handwheel.drawing.group import Group
from handwheel.drawing.guess import known_sizes, spread_radius
from handwheel.drawing.junctions import Fn, is_corner, is_flat
from handwheel.drawing.measures import ANGLES
from handwheel.drawing.shape import Across, Cut, Feature, Inside, Outside, Shape
from handwheel.job.records import AcrossKind, InsideKind, OutsideKind, Point, Side, Size, Where

ORDER_MM = 1e-9


@dataclass(frozen=True)
class Broken:
    """A ruling that a shape does not keep: the part, the features and what is wrong.

    `what` holds `{size}` where `size_mm` belongs. `margins`: of these one must be above zero, as functions of v; none
    where it has no one number. `is_dome` where a dome would do.
    """

    part: str
    features: tuple[str, ...]
    what: str
    size_mm: float = 0.0
    is_dome: bool = False
    margins: tuple[Fn, ...] = ()

    @property
    def key(self) -> tuple[str, str]:
        """What is the same for the same ruling at another shape."""
        return self.part, self.what


def _gap(low: int, high: int) -> Fn:
    return lambda v: v[high] - v[low]


def _number(place: int) -> Fn:
    return lambda v: v[place]


def too_small(part: str, name: str, what: str, margin: Fn, v: Sequence[float], factor: float = 1.0) -> Broken:
    """What would come out `margin(v) * factor` mm, which is too small."""
    return Broken(part, (name,), what, float(margin(v)) * factor, margins=(margin,))


def is_transparent(link: Outside) -> bool:
    """Whether a cone beside it looks past it for its smaller neighbour."""
    return link.source.kind is OutsideKind.CHAMFER or is_corner(link)


def neighbour(shape: Shape, link: Outside, side: Side, *, past: bool) -> Outside | None:
    """The next link on that side, past chamfers, fillets and edges if asked; None at the end of the part."""
    step = 1 if side is Side.RIGHT else -1
    i = link.index + step
    while 0 <= i < len(shape.outside):
        found = shape.outside[i]
        if not past or not is_transparent(found):
            return found
        i += step
    return None


def first_narrowing(shape: Shape) -> None:
    """Which way every cone, chamfer, fillet and edge narrows by the sizes written; +1 to the right."""
    rough, sizes = spread_radius(shape, known_sizes(shape)), known_sizes(shape)
    for link in shape.outside:
        name, source = link.source.name, link.source
        if source.kind is not OutsideKind.CONE and not is_transparent(link):
            continue
        if source.narrow is not None:
            shape.narrow[name] = 1 if source.narrow is Side.RIGHT else -1
            continue
        ends = [sizes.get((name, s)) for s in (Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER)]
        if ends[0] is not None and ends[1] is not None and ends[0] != ends[1]:
            shape.narrow[name] = 1 if ends[0] > ends[1] else -1
            continue
        left, right = (neighbour(shape, link, s, past=not is_transparent(link)) for s in (Side.LEFT, Side.RIGHT))
        if left is None or right is None:
            shape.narrow[name] = -1 if left is None and right is not None else 1
        else:
            shape.narrow[name] = 1 if rough[left.source.name] >= rough[right.source.name] else -1
    for hole in shape.inside:
        inward = hole.way
        narrow = hole.source.narrow
        shape.narrow[hole.source.name] = inward if narrow is None else (1 if narrow is Side.RIGHT else -1)


def ruled_narrowing(shape: Shape, link: Outside, v: Sequence[float]) -> int:
    """Which way the ruling has it narrow at this shape; 0 where the ruling does not decide."""
    if link.source.narrow is not None:
        return 1 if link.source.narrow is Side.RIGHT else -1
    past = not is_transparent(link)
    left, right = (neighbour(shape, link, s, past=past) for s in (Side.LEFT, Side.RIGHT))
    if left is None or right is None:
        return 0 if left is right else (-1 if left is None else 1)
    one, two = _near(left, Side.RIGHT, v), _near(right, Side.LEFT, v)
    if abs(one - two) < EQUAL_MM:
        return 0
    return 1 if one > two else -1


def _near(link: Outside, side: Side, v: Sequence[float]) -> float:
    if link.source.kind is OutsideKind.BALL:
        return float(v[link.big])
    return float(link.end(v, side))


def deciding_links(shape: Shape) -> list[Outside]:
    """The links whose narrowing an equation rests on."""
    by_angle = {d.phrase.feature for d in shape.part.dimensions if d.phrase.size in ANGLES and not d.value.auxiliary}
    return [k for k in shape.outside if is_transparent(k) or (not k.is_curve and k.source.name in by_angle)]


def facing(shape: Shape, point: Point, v: Sequence[float]) -> int:
    """Which way the face at a point looks: +1 to the right, -1 to the left, 0 where there is none to tell."""
    if point.where in (Where.LEFT_END, Where.RIGHT_END):
        return -1 if point.where is Where.LEFT_END else 1
    feature = shape.features.get(point.feature)
    if isinstance(feature, Inside):
        return -feature.way
    if not isinstance(feature, Outside) or point.where not in (Where.LEFT, Where.RIGHT):
        return 0
    k = feature.index + (1 if point.where is Where.RIGHT else 0)
    if k == 0 or k == len(shape.outside):
        return -1 if k == 0 else 1
    one, two = shape.outside[k - 1].end(v, Side.RIGHT), shape.outside[k].end(v, Side.LEFT)
    if abs(one - two) < EQUAL_MM:
        return 0
    return 1 if one > two else -1


def parts_to_turn(group: Group, v: Sequence[float]) -> list[tuple[int, str]]:
    """Parts, by assembly, that must lie the other way round for the faces of a seat to look at each other."""
    found = []
    for i, placed in enumerate(group.assemblies):
        first = next(iter(placed.offset), "")
        for seat in placed.source.seats:
            one, two = seat.moving, seat.fixed
            looks = facing(group.shape(one.part), one, v) * placed.direction[one.part]
            meets = facing(group.shape(two.part), two, v) * placed.direction[two.part]
            if looks * meets > 0:
                found.append((i, one.part if one.part != first else two.part))
    return found


def broken_rulings(group: Group, v: Sequence[float]) -> list[Broken]:
    """Every ruling this shape breaks."""
    found: list[Broken] = []
    for shape in group.shapes.values():
        found += _order(shape, v)
        for link in shape.outside:
            if link.source.kind is OutsideKind.BALL:
                found += _ball(shape, link, v)
            elif link.is_curve:
                found += _arc(shape, link, v)
    return found


def _order(shape: Shape, v: Sequence[float]) -> Iterator[Broken]:
    part = shape.part.name
    for link in shape.outside:
        name = link.source.name
        if v[link.zr] - v[link.zl] <= ORDER_MM:
            yield too_small(part, name, f"'{name}' would be {{size}} long", _gap(link.zl, link.zr), v)
        if link.is_curve:
            if v[link.big] <= ORDER_MM:
                yield too_small(part, name, f"'{name}' would have a radius of {{size}}", _number(link.big), v)
        elif min(v[link.rl], v[link.rr]) < -ORDER_MM or max(v[link.rl], v[link.rr]) <= ORDER_MM:
            least = link.rl if v[link.rl] <= v[link.rr] else link.rr
            yield too_small(part, name, f"'{name}' would have a diameter of {{size}}", _number(least), v, 2.0)
    yield from _inside_order(shape, v)
    for name, feature in shape.features.items():
        ends = (feature.zl, feature.zr) if isinstance(feature, Cut | Across) else (None, None)
        if ends[0] is not None and ends[1] is not None and v[ends[1]] - v[ends[0]] <= ORDER_MM:
            yield too_small(part, name, f"'{name}' would be {{size}} long", _gap(ends[0], ends[1]), v)
        for word, place in positive_sizes(feature):
            if v[place] <= ORDER_MM:
                yield too_small(part, name, f"the {word} of '{name}' would be {{size}}", _number(place), v)
        if isinstance(feature, Cut | Across):
            yield from _lies_on(shape, name, feature, v)


def _inside_order(shape: Shape, v: Sequence[float]) -> Iterator[Broken]:
    part = shape.part.name
    for hole in shape.inside:
        name = hole.source.name
        if not -EQUAL_MM < v[hole.bottom] < v[shape.far] + EQUAL_MM:
            # shown as how far past the other end it would come
            past = _gap(0, hole.bottom) if hole.way < 0 else _gap(hole.bottom, shape.far)
            what = f"'{name}' would come out {{size}} beyond the other end"
            yield too_small(part, name, what, past, v, -1.0)
        depth = _gap(hole.mouth, hole.bottom) if hole.way > 0 else _gap(hole.bottom, hole.mouth)
        if depth(v) <= ORDER_MM:
            yield too_small(part, name, f"'{name}' would be {{size}} long", depth, v)
        if hole.rb < 0 or max(v[hole.rb], v[hole.rm]) <= ORDER_MM or min(v[hole.rb], v[hole.rm]) < -ORDER_MM:
            least = hole.rb if v[hole.rb] <= v[hole.rm] else hole.rm
            yield too_small(part, name, f"'{name}' would have a diameter of {{size}}", _number(least), v, 2.0)
        if hole.source.kind is InsideKind.COUNTERSINK and v[hole.rm] <= v[hole.rb]:
            what = f"'{name}' would be {{size}} narrower than what it leads into"
            yield too_small(part, name, what, _gap(hole.rb, hole.rm), v, -2.0)


def positive_sizes(feature: Feature) -> list[tuple[str, int]]:
    """Sizes of a cut or of what lies across that must be above zero, with their places in v."""
    if isinstance(feature, Cut):
        return [("floor", feature.floor)] if feature.floor else []
    if not isinstance(feature, Across):
        return []
    is_slot = feature.source.kind is AcrossKind.SLOT
    return [(word, place) for word, place in feature.sizes.items() if not (is_slot and word == "from axis")]


def _lies_on(shape: Shape, name: str, feature: Cut | Across, v: Sequence[float]) -> Iterator[Broken]:
    """Where it does not lie within its host, or the part."""
    host = shape.features.get(feature.source.host if isinstance(feature, Cut) else feature.source.on)
    low, high = 0, shape.far
    if isinstance(host, Outside):
        low, high = host.zl, host.zr
    elif isinstance(host, Inside):
        low, high = (host.mouth, host.bottom) if host.way > 0 else (host.bottom, host.mouth)
    centre = feature.zc if isinstance(feature, Across) else None
    places = [feature.zl, feature.zr] if isinstance(feature, Cut) else [] if centre is None else [centre]
    for place in places:
        for margin in (_gap(low, place), _gap(place, high)):
            if margin(v) < -EQUAL_MM:
                what = f"'{name}' would lie {{size}} beyond what it is in"
                yield too_small(shape.part.name, name, what, margin, v, -1.0)


def _reach(link: Outside, station: int) -> Fn:
    """By how much an arc reaches past a station, as a difference of squares over its diameter."""
    return lambda v: (v[link.big] * v[link.big] - (v[station] - v[link.zc]) * (v[station] - v[link.zc])) / v[link.big]


def _ball(shape: Shape, link: Outside, v: Sequence[float]) -> Iterator[Broken]:
    source, part, name = link.source, shape.part.name, link.source.name
    centre = v[link.zc]
    for side in Side:
        other = neighbour(shape, link, side, past=False)
        flat = side in source.flat
        if other is None and not flat:
            continue
        sign = 1.0 if side is Side.RIGHT else -1.0
        place = link.zr if side is Side.RIGHT else link.zl
        station = v[place]
        beyond = (station - centre) * sign
        past = _gap(link.zc, place) if side is Side.RIGHT else _gap(place, link.zc)
        if abs(beyond) > v[link.big] + EQUAL_MM:
            what = f"'{name}' would end {{size}} short of its {side}"
            yield Broken(part, (name,), what, abs(beyond) - float(v[link.big]), margins=(_reach(link, place),))
            continue
        pair = None if other is None else ((link, other) if side is Side.RIGHT else (other, link))
        meets = not flat and pair is not None and not is_flat(*pair)
        if source.is_dome and meets:
            if beyond >= 0:
                what = f"the centre of '{name}' would lie {{size}} short of its {side} instead of beyond"
                far = _gap(place, link.zc) if sign > 0 else _gap(link.zc, place)
                yield Broken(part, (name,), what, beyond, margins=(far,))
            continue
        if beyond <= -EQUAL_MM if meets else beyond < ORDER_MM:
            at_end = meets and neighbour(shape, link, side.other, past=False) is None
            where = f"the {side} of '{name}' would lie {{size}} on the wrong side of its centre"
            yield Broken(part, (name,), where, -beyond, at_end and side.other not in source.flat, (past,))
        elif meets and other is not None and not _is_smooth(link, other, side):
            r = float(link.end(v, side))
            leaving = (r * _slope(other, station, r, v) + station - centre) * sign
            if leaving < -EQUAL_MM * 10:
                yield Broken(part, (name, other.source.name), f"'{name}' would be cut by '{other.source.name}' twice")


def _slope(link: Outside, z: float, r: float, v: Sequence[float]) -> float:
    """Slope of the surface at (z, r) on it."""
    if link.is_curve:
        out = r - v[link.rc]
        return -(z - v[link.zc]) / out if abs(out) > ORDER_MM else 0.0
    if link.rl == link.rr:
        return 0.0
    length = v[link.zr] - v[link.zl]
    return (v[link.rr] - v[link.rl]) / length if abs(length) > ORDER_MM else 0.0


def _is_smooth(link: Outside, other: Outside, side: Side) -> bool:
    return side in link.source.tangent or side.other in other.source.tangent or is_corner(other)


def _arc(shape: Shape, link: Outside, v: Sequence[float]) -> Iterator[Broken]:
    part, name = shape.part.name, link.source.name
    for side in Side:
        station = v[link.zr if side is Side.RIGHT else link.zl]
        if abs(station - v[link.zc]) > v[link.big] + EQUAL_MM:
            place = link.zr if side is Side.RIGHT else link.zl
            short = abs(float(station - v[link.zc])) - float(v[link.big])
            what = f"the arc of '{name}' would end {{size}} short of its {side}"
            yield Broken(part, (name,), what, short, margins=(_reach(link, place),))
            continue
        own = float(value_of(link.end(v, side)))
        if own < -EQUAL_MM:
            yield Broken(part, (name,), f"'{name}' would cut {{size}} past the axis", -own)
        other = neighbour(shape, link, side, past=False)
        if other is None or is_corner(other) or side is link.level:
            continue
        pair = (link, other) if side is Side.RIGHT else (other, link)
        if not is_flat(*pair) and abs(own - float(value_of(other.end(v, side.other)))) > 1e-5:
            what = f"'{name}' would meet '{other.source.name}' on its other half"
            yield Broken(part, (name, other.source.name), what)
