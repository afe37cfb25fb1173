"""The equations a part's shape brings with it: surfaces that meet, flush and tangent junctions, poles, holes.

A tangent junction has its own closed equations (the normal of the one surface passes through the other's centre),
never two intersections made equal. Which of two signs holds where the sizes decide (a fillet's smaller neighbour, a
cone's narrowing) is taken from `Shape.narrow`, so that a ruling can be tried and the equations made again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from handwheel.drawing.ad import Scalar
from handwheel.drawing.shape import Across, Inside, Outside, Shape, Vector
from handwheel.job.records import AcrossKind, DrawnDimension, InsideKind, OutsideKind, Side, Size

Fn = Callable[[Vector], Scalar]


@dataclass(eq=False)
class Equation:
    """Something that must be zero. `source` is the dimension it comes from, None for what the shape brings along.

    `param` is where the dimension's number stands in v (0 when there is none); `place_mm` is one unit of the last
    decimal typed, in the measure's unit, 0 when exact. `plain`: the same multiplied out, where it is a fraction.
    """

    fn: Fn
    part: str
    features: tuple[str, ...]
    source: DrawnDimension | None = None
    param: int = 0
    place: float = 0.0
    what: str = ""
    plain: Fn | None = None


def is_flat(left: Outside, right: Outside) -> bool:
    """Whether the junction between the two is a shoulder because one is cut flat there."""
    return Side.RIGHT in left.source.flat or Side.LEFT in right.source.flat


def shape_equations(shape: Shape) -> list[Equation]:
    """Every equation that does not come from a dimension."""
    found = list(_poles(shape))
    for left, right in zip(shape.outside, shape.outside[1:], strict=False):
        found += _junction(shape, left, right)
    for link in shape.outside:
        found += _corner(shape, link)
        if link.source.thread is not None and link.rl == link.rr and not link.is_curve:
            found += _thread(shape, link.source.name, link.source.thread.designation, link.rl, inside=False)
    for i, hole in enumerate(shape.inside):
        found += _hole(shape, hole, i)
    for feature in shape.features.values():
        if isinstance(feature, Across):
            found += _across(shape, feature)
    return found


def _equation(shape: Shape, fn: Fn, what: str, *features: str) -> Equation:
    return Equation(fn, shape.part.name, features, what=what)


def _poles(shape: Shape) -> Iterator[Equation]:
    first, last = shape.outside[0], shape.outside[-1]
    for link, side, sign in ((first, Side.LEFT, -1.0), (last, Side.RIGHT, 1.0)):
        if link.source.kind is not OutsideKind.BALL or side in link.source.flat:
            continue
        end = link.zl if side is Side.LEFT else link.zr

        def pole(v: Vector, link: Outside = link, end: int = end, sign: float = sign) -> Scalar:
            return v[link.zc] + sign * v[link.big] - v[end]

        yield _equation(shape, pole, "pole", link.source.name)


def is_corner(link: Outside) -> bool:
    """Whether the link is a fillet or rounded edge, which brings its own equations on both sides."""
    return link.source.kind is OutsideKind.FILLET or (link.source.kind is OutsideKind.ROUND and link.source.is_edge)


def _junction(shape: Shape, left: Outside, right: Outside) -> list[Equation]:
    if is_corner(left) or is_corner(right):
        return []
    one, two = left.source, right.source
    if Side.RIGHT in one.flush or Side.LEFT in two.flush:
        return [_flush(shape, left, right)]
    if Side.RIGHT in one.tangent or Side.LEFT in two.tangent:
        return tangent(shape, left, right)
    if is_flat(left, right) or not (left.is_curve or right.is_curve):
        return []
    return _meet(shape, left, right)


def _flush(shape: Shape, left: Outside, right: Outside) -> Equation:
    def flush(v: Vector) -> Scalar:
        return left.end(v, Side.RIGHT) - right.end(v, Side.LEFT)

    return _equation(shape, flush, "flush", left.source.name, right.source.name)


def _meet(shape: Shape, left: Outside, right: Outside) -> list[Equation]:
    names = (left.source.name, right.source.name)
    station = left.zr
    if left.is_curve and right.is_curve:
        return [_equation(shape, f, "meet", *names) for f in _curves_meet(shape, left, right)]
    curve, other, side = (left, right, Side.LEFT) if left.is_curve else (right, left, Side.RIGHT)

    def meet(v: Vector) -> Scalar:
        along = v[station] - v[curve.zc]
        out = other.end(v, side) - v[curve.rc]
        return along * along + out * out - v[curve.big] * v[curve.big]

    return [_equation(shape, meet, "meet", *names)]


def _curves_meet(shape: Shape, left: Outside, right: Outside) -> list[Fn]:
    """The circle in which two arcs meet; two balls need no radius there, their squares are level."""
    station = left.zr

    def squares(v: Vector) -> Scalar:
        one, two = v[station] - v[left.zc], v[station] - v[right.zc]
        return v[left.big] * v[left.big] - one * one - (v[right.big] * v[right.big] - two * two)

    if left.rc == right.rc:
        return [squares]
    radius = shape.meeting[left.index]

    def on(link: Outside) -> Fn:
        def on_arc(v: Vector) -> Scalar:
            along, out = v[station] - v[link.zc], v[radius] - v[link.rc]
            return along * along + out * out - v[link.big] * v[link.big]

        return on_arc

    return [on(left), on(right)]


def tangent(shape: Shape, left: Outside, right: Outside) -> list[Equation]:
    """The closed equations of a smooth junction between the two."""
    station = left.zr
    if left.is_curve and right.is_curve:
        return _tangent_curves(shape, left, right, station)
    curve, other, side = (left, right, Side.LEFT) if left.is_curve else (right, left, Side.RIGHT)
    names = (left.source.name, right.source.name)
    if other.rl == other.rr:
        def on_centre(v: Vector) -> Scalar:
            return v[station] - v[curve.zc]

        def touching(v: Vector) -> Scalar:
            return v[curve.rc] + curve.bulge * v[curve.big] - v[other.rl]

        return [_equation(shape, on_centre, "tangent", *names), _equation(shape, touching, "tangent", *names)]

    # The junction lies at centre + R·(-dr, dz)/|(dz, dr)| times the bulge: square to the cone. As two equations:
    def square(v: Vector) -> Scalar:
        along, out = v[other.zr] - v[other.zl], v[other.rr] - v[other.rl]
        return (v[station] - v[curve.zc]) * along + (other.end(v, side) - v[curve.rc]) * out

    def on_arc(v: Vector) -> Scalar:
        along, out = v[station] - v[curve.zc], other.end(v, side) - v[curve.rc]
        return along * along + out * out - v[curve.big] * v[curve.big]

    return [_equation(shape, square, "tangent", *names), _equation(shape, on_arc, "tangent", *names)]


def _tangent_curves(shape: Shape, left: Outside, right: Outside, station: int) -> list[Equation]:
    names = (left.source.name, right.source.name)
    sign = float(left.bulge * right.bulge)

    def apart(v: Vector) -> Scalar:
        along, out = v[right.zc] - v[left.zc], v[right.rc] - v[left.rc]
        reach = v[left.big] - sign * v[right.big]
        return along * along + out * out - reach * reach

    def collinear(v: Vector) -> Scalar:
        reach = v[left.big] - sign * v[right.big]
        return (v[station] - v[left.zc]) * reach - v[left.big] * (v[right.zc] - v[left.zc])

    return [_equation(shape, apart, "tangent", *names), _equation(shape, collinear, "tangent", *names)]


def _said_flush(shape: Shape, i: int) -> bool:
    """Whether links i and i+1 are said to be flush by either."""
    if not 0 <= i < len(shape.outside) - 1:
        return False
    return Side.RIGHT in shape.outside[i].source.flush or Side.LEFT in shape.outside[i + 1].source.flush


def _corner(shape: Shape, link: Outside) -> list[Equation]:
    """What a chamfer, fillet or rounded edge brings: `Shape.narrow` says which way it narrows (+1 to the right)."""
    i, name = link.index, link.source.name
    larger_right = shape.narrow.get(name, 1) < 0

    def beside(right: bool) -> Outside | None:
        j = i + 1 if right else i - 1
        return shape.outside[j] if 0 <= j < len(shape.outside) else None

    if link.source.kind is OutsideKind.CHAMFER:
        larger = beside(larger_right)
        if larger is None or larger.is_curve or _said_flush(shape, i if larger_right else i - 1):
            return []
        return [_flush(shape, *((link, larger) if larger_right else (larger, link)))]
    if not is_corner(link):
        return []
    left, right = beside(False), beside(True)
    is_fillet = link.source.kind is OutsideKind.FILLET
    if not is_fillet and left is not None and right is not None and _runs_on(left, right):
        return tangent(shape, left, link) + tangent(shape, link, right)
    smooth_right = larger_right is not is_fillet
    neighbour = beside(smooth_right)
    made: list[Equation] = []
    if neighbour is not None:
        made += tangent(shape, *((link, neighbour) if smooth_right else (neighbour, link)))
    station, sign = (link.zl, -1.0) if smooth_right else (link.zr, 1.0)
    link.level = Side.LEFT if smooth_right else Side.RIGHT

    # square to the face: the centre lies R short of it, so that the arc ends level with the centre
    def face(v: Vector) -> Scalar:
        return v[link.zc] + sign * v[link.big] - v[station]

    return [*made, _equation(shape, face, "corner", name)]


def _runs_on(left: Outside, right: Outside) -> bool:
    """Whether a rounded edge joins two surfaces without a face: there is a cone or curve among them."""
    return not (left.rl == left.rr and right.rl == right.rr)


def _thread(shape: Shape, name: str, designation: str, radius: int, *, inside: bool) -> list[Equation]:
    from handwheel.tables.threads import find_thread

    for dimension in shape.part.dimensions:
        phrase = dimension.phrase
        if phrase.feature == name and phrase.size in (Size.DIAMETER, Size.RADIUS) and not dimension.value.auxiliary:
            return []
    thread = find_thread(designation)
    if thread is None:
        return []
    diameter = thread.minor_internal_mm if inside else thread.major_mm
    if diameter is None:
        return []
    known = float(diameter)

    def made(v: Vector) -> Scalar:
        return 2.0 * v[radius] - known

    return [_equation(shape, made, f"thread {designation}", name)]


def _hole(shape: Shape, hole: Inside, i: int) -> Iterator[Equation]:
    source, name = hole.source, hole.source.name
    if source.is_through:
        others = [h for h in shape.inside if h.way != hole.way]
        target = others[-1].bottom if others else (shape.far if hole.way > 0 else 0)

        def through(v: Vector) -> Scalar:
            return v[hole.bottom] - v[target]

        yield _equation(shape, through, "through", name)
    if source.thread is not None and hole.rm == hole.rb:
        yield from _thread(shape, name, source.thread.designation, hole.rb, inside=True)
    following = next((h for h in shape.inside[i + 1 :] if h.way == hole.way), None)
    if source.kind is InsideKind.COUNTERSINK:
        leads = following.rm if following is not None else _through_to(shape, hole)

        def meets(v: Vector) -> Scalar:
            return v[hole.rb] - v[leads]

        yield _equation(shape, meets, "countersink", name)
        return
    before = next((h for h in reversed(shape.inside[:i]) if h.way == hole.way), None)
    for side in source.flush:
        at_mouth = (side is Side.LEFT) is (hole.way > 0)
        if at_mouth and before is not None:
            yield _level(shape, hole.rm, before.rb, name)
        elif not at_mouth and following is not None:
            yield _level(shape, hole.rb, following.rm, name)


def _through_to(shape: Shape, last: Inside) -> int:
    """The radius of the through hole that comes out at the bottom of this side's last hole; the axis where none does."""
    met = [h for h in shape.inside if h.way != last.way]
    return met[-1].rb if met and met[-1].source.is_through else 0


def _level(shape: Shape, one: int, two: int, name: str) -> Equation:
    def flush(v: Vector) -> Scalar:
        return v[one] - v[two]

    return _equation(shape, flush, "flush", name)


def _across(shape: Shape, across: Across) -> Iterator[Equation]:
    source, name, zc = across.source, across.source.name, across.zc
    if source.thread is not None and "radius" in across.sizes:
        yield from _thread(shape, name, source.thread.designation, across.sizes["radius"], inside=True)
    if zc is None:
        return
    own_extent = across.zl is not None and across.zr is not None and source.kind is not AcrossKind.HOLE
    host = shape.features.get(source.on)
    place: Fn | None = None
    if source.at is not None:
        at = source.at

        def through_point(v: Vector) -> Scalar:
            return v[zc] - shape.z(at, v)

        place = through_point
    elif source.square_to and isinstance(shape.features.get(source.square_to), Across):
        other = shape.features[source.square_to]
        assert isinstance(other, Across)
        if other.zc is not None:
            target = other.zc

            def with_other(v: Vector) -> Scalar:
                return v[zc] - v[target]

            place = with_other
    elif isinstance(host, Outside) and host.source.kind is OutsideKind.BALL and not _owns(across, host):
        ball = host.zc

        def on_ball(v: Vector) -> Scalar:
            return v[zc] - v[ball]

        place = on_ball
    if place is not None:
        yield _equation(shape, place, "centre", name)
    if own_extent and (place is None or _owns(across, host)):
        low, high = across.zl or 0, across.zr or 0

        def middle(v: Vector) -> Scalar:
            return v[zc] - (v[low] + v[high]) * 0.5

        yield _equation(shape, middle, "centre", name)


def _owns(across: Across, host: object) -> bool:
    """Whether the feature has ends of its own rather than its host's."""
    return across.zl is not None and not (isinstance(host, Outside) and across.zl == host.zl and across.zr == host.zr)

