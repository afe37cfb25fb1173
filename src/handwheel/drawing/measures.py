"""What a dimension phrase measures, and the equation it makes when its size is given.

Equations are written so that a given angle or taper is linear in the shape's numbers, and a diameter at a point or
on an arc polynomial; the direct measures, which may divide or take a root, answer questions.
"""

from __future__ import annotations

import math

from handwheel.drawing.ad import Scalar, atan_deg, root, size_of, tan_deg
from handwheel.drawing.junctions import Fn
from handwheel.drawing.shape import Across, Cut, Inside, NoSense, Outside, Shape, Vector
from handwheel.job.records import AcrossKind, CutInKind, InsideKind, OutsideKind, Phrase, Side, Size

ANGLES = (Size.INCLUDED_ANGLE, Size.ANGLE_TO_AXIS, Size.TAPER)


def measure(shape: Shape, phrase: Phrase) -> Fn:
    """The phrase's size as a function of v: mm, degrees, or diameter per length. NoSense if it has none."""
    size = phrase.size
    if size is Size.OVERALL_LENGTH:
        return lambda v: v[shape.far] - v[0]
    if size is Size.DISTANCE:
        return lambda v: size_of(signed_distance(shape, phrase, v))
    feature = shape.find(phrase.feature)
    if size in ANGLES:
        return _angle(shape, feature, phrase)
    if size is Size.DIAMETER_AT:
        at = phrase.at
        assert at is not None
        return lambda v: 2.0 * shape.surface_radius(phrase.feature, shape.z(at, v), v)
    if isinstance(feature, Outside):
        return _outside(feature, phrase)
    if isinstance(feature, Inside):
        return _inside(feature, phrase)
    if isinstance(feature, Cut):
        return _cut(shape, feature, phrase)
    return _across(shape, feature, phrase)


def signed_distance(shape: Shape, phrase: Phrase, v: Vector) -> Scalar:
    """From the phrase's first point to its second, positive to the right."""
    assert phrase.start is not None
    assert phrase.end is not None
    return shape.z(phrase.end, v) - shape.z(phrase.start, v)


def _no_sense(phrase: Phrase, instead: str) -> NoSense:
    return NoSense(f"'{phrase.text}' has no sense for this kind of feature", f"use {instead}")


def _ends(feature: Outside | Inside) -> tuple[int, int, int, int]:
    """Stations left and right, radii left and right."""
    if isinstance(feature, Outside):
        return feature.zl, feature.zr, feature.rl, feature.rr
    if feature.way > 0:
        return feature.mouth, feature.bottom, feature.rm, feature.rb
    return feature.bottom, feature.mouth, feature.rb, feature.rm


def _angle(shape: Shape, feature: object, phrase: Phrase) -> Fn:
    if not isinstance(feature, Outside | Inside) or _ends(feature)[2] == _ends(feature)[3]:
        raise _no_sense(phrase, f"'{phrase.feature} diameter' or a length")
    zl, zr, rl, rr = _ends(feature)
    size = phrase.size

    def angle(v: Vector) -> Scalar:
        slope = size_of((v[rr] - v[rl]) / (v[zr] - v[zl]))
        if size is Size.TAPER:
            return 2.0 * slope
        return atan_deg(slope) * (2.0 if size is Size.INCLUDED_ANGLE else 1.0)

    return angle


def _outside(feature: Outside, phrase: Phrase) -> Fn:
    size, name = phrase.size, phrase.feature
    if size in (Size.DIAMETER, Size.RADIUS):
        factor = 2.0 if size is Size.DIAMETER else 1.0
        if feature.is_curve:
            return lambda v: factor * v[feature.big]
        if feature.rl == feature.rr:
            return lambda v: factor * v[feature.rl]
        raise _no_sense(phrase, f"'{name} left diameter', '{name} right diameter' or '{name} diameter at ...'")
    if size in (Size.LENGTH, Size.WIDTH):
        return lambda v: v[feature.zr] - v[feature.zl]
    if size in (Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER):
        if feature.is_curve:
            side = Side.LEFT if size is Size.LEFT_DIAMETER else Side.RIGHT
            return lambda v: 2.0 * feature.end(v, side)
        r = feature.rl if size is Size.LEFT_DIAMETER else feature.rr
        return lambda v: 2.0 * v[r]
    raise _no_sense(phrase, f"'{name} length' or '{name} diameter'")


def _inside(feature: Inside, phrase: Phrase) -> Fn:
    size, name = phrase.size, phrase.feature
    if size in (Size.DIAMETER, Size.RADIUS):
        if feature.rm != feature.rb and feature.source.kind is not InsideKind.COUNTERSINK:
            raise _no_sense(phrase, f"'{name} left diameter' or '{name} right diameter'")
        factor = 2.0 if size is Size.DIAMETER else 1.0
        return lambda v: factor * v[feature.rm]
    if size in (Size.LENGTH, Size.WIDTH):
        return lambda v: (v[feature.bottom] - v[feature.mouth]) * feature.way
    if size is Size.DEPTH:
        return lambda v: (v[feature.bottom] - v[feature.end]) * feature.way
    if size in (Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER):
        r = _ends(feature)[2 if size is Size.LEFT_DIAMETER else 3]
        return lambda v: 2.0 * v[r]
    raise _no_sense(phrase, f"'{name} depth' or '{name} diameter'")


def _cut(shape: Shape, feature: Cut, phrase: Phrase) -> Fn:
    size, name, host = phrase.size, phrase.feature, feature.source.host
    if size in (Size.LENGTH, Size.WIDTH):
        return lambda v: v[feature.zr] - v[feature.zl]

    def surface(v: Vector) -> Scalar:
        return shape.surface_radius(host, (v[feature.zl] + v[feature.zr]) * 0.5, v)

    is_groove = feature.source.kind is CutInKind.GROOVE
    if size in (Size.DIAMETER, Size.RADIUS):
        factor = 2.0 if size is Size.DIAMETER else 1.0
        return (lambda v: factor * v[feature.floor]) if is_groove else (lambda v: factor * surface(v))
    if size is Size.DEPTH and is_groove:
        sign = -1.0 if feature.source.is_inside else 1.0
        return lambda v: (surface(v) - v[feature.floor]) * sign
    raise _no_sense(phrase, f"'{name} width' or '{name} diameter'")


def _across(shape: Shape, feature: Across, phrase: Phrase) -> Fn:
    size, sizes, kind, name = phrase.size, feature.sizes, feature.source.kind, phrase.feature
    if size in (Size.DIAMETER, Size.RADIUS) and "radius" in sizes:
        factor = 2.0 if size is Size.DIAMETER else 1.0
        return lambda v: factor * v[sizes["radius"]]
    if size is Size.DEPTH and "depth" in sizes:
        return lambda v: v[sizes["depth"]]
    if size is Size.PITCH_CIRCLE and "pitch circle radius" in sizes:
        return lambda v: 2.0 * v[sizes["pitch circle radius"]]
    if size is Size.PITCH and "pitch circle radius" in sizes and feature.source.count > 1:
        chord = 2.0 * math.sin(math.pi / feature.source.count)
        return lambda v: chord * v[sizes["pitch circle radius"]]
    if size is Size.FROM_AXIS and "from axis" in sizes:
        return lambda v: v[sizes["from axis"]]
    if size is Size.ACROSS_FLATS and "from axis" in sizes and kind is not AcrossKind.SLOT:
        return lambda v: 2.0 * v[sizes["from axis"]]
    if size is Size.WIDTH and "width" in sizes:
        return lambda v: v[sizes["width"]]
    if size is Size.LENGTH and feature.zl is not None and feature.zr is not None:
        zl, zr = feature.zl, feature.zr
        return lambda v: v[zr] - v[zl]
    if "from axis" in sizes:
        found = _flat(shape, feature, phrase)
        if found is not None:
            return found
    raise _no_sense(phrase, f"a size that a {kind} has, such as '{name} {_first_word(feature)}'")


def _first_word(feature: Across) -> str:
    return "diameter" if "radius" in feature.sizes else "from axis"


def _flat(shape: Shape, feature: Across, phrase: Phrase) -> Fn | None:
    """Depth, width or (on a ball) diameter of a flat or of a slot's floor."""
    floor = feature.sizes["from axis"]
    host = shape.features.get(feature.source.on)
    if not isinstance(host, Outside):
        return None
    link = host

    def surface(v: Vector) -> Scalar:
        if link.source.kind is OutsideKind.BALL:
            return v[link.big]
        return link.at(v, v[feature.zc or 0])

    if phrase.size is Size.DEPTH:
        return lambda v: surface(v) - v[floor]
    if phrase.size in (Size.WIDTH, Size.DIAMETER) and feature.source.kind is AcrossKind.FLAT:
        return lambda v: 2.0 * root(surface(v) * surface(v) - v[floor] * v[floor])
    return None


def equation(shape: Shape, phrase: Phrase, given: Fn, way: int = 1) -> Fn:
    """What is zero when the phrase measures `given(v)`. `way` is the sign of a distance's direction."""
    if phrase.size is Size.DISTANCE:
        return lambda v: signed_distance(shape, phrase, v) * way - given(v)
    direct = measure(shape, phrase)  # raises NoSense for what has none
    if phrase.size in ANGLES:
        return _angle_equation(shape, phrase, given)
    feature = shape.features.get(phrase.feature)
    if isinstance(feature, Outside):
        if phrase.size is Size.DIAMETER_AT and phrase.at is not None:
            return _diameter_at(shape, feature, phrase, given)
        if feature.is_curve and phrase.size in (Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER):
            z = feature.zl if phrase.size is Size.LEFT_DIAMETER else feature.zr
            return lambda v: _on_arc(feature, v[z], given(v) * 0.5, v)
    is_chord = isinstance(feature, Across) and "from axis" in feature.sizes and "width" not in feature.sizes
    if isinstance(feature, Across) and is_chord and phrase.size in (Size.WIDTH, Size.DIAMETER):
        return _chord_equation(shape, feature, given)
    return lambda v: direct(v) - given(v)


def _on_arc(feature: Outside, z: Scalar, r: Scalar, v: Vector) -> Scalar:
    along, out = z - v[feature.zc], r - v[feature.rc]
    return along * along + out * out - v[feature.big] * v[feature.big]


def _diameter_at(shape: Shape, feature: Outside, phrase: Phrase, given: Fn) -> Fn:
    at = phrase.at
    assert at is not None
    if feature.is_curve:
        return lambda v: _on_arc(feature, shape.z(at, v), given(v) * 0.5, v)
    if feature.rl == feature.rr:
        return lambda v: 2.0 * v[feature.rl] - given(v)

    # multiplied through by the length it is polynomial, but a cone of no length satisfies it: both forms are tried
    def divided(v: Vector) -> Scalar:
        return feature.at(v, shape.z(at, v)) - given(v) * 0.5

    multiplied = multiplied_out(shape, phrase, given) if shape.is_multiplied else None
    return multiplied or divided


def multiplied_out(shape: Shape, phrase: Phrase, given: Fn) -> Fn | None:
    """A straight feature's diameter at a point as an equation without division, where it has both radii; else None.

    A feature of no length satisfies it too.
    """
    feature, at = shape.features.get(phrase.feature), phrase.at
    if phrase.size is not Size.DIAMETER_AT or at is None or not isinstance(feature, Outside):
        return None
    if feature.is_curve or feature.rl == feature.rr:
        return None
    link, point = feature, at

    def multiplied(v: Vector) -> Scalar:
        left, right = v[link.zl], v[link.zr]
        rise = v[link.rr] - v[link.rl]
        return (given(v) * 0.5 - v[link.rl]) * (right - left) - rise * (shape.z(point, v) - left)

    return multiplied


def _angle_equation(shape: Shape, phrase: Phrase, given: Fn) -> Fn:
    feature = shape.find(phrase.feature)
    assert isinstance(feature, Outside | Inside)
    zl, zr, rl, rr = _ends(feature)
    size, name = phrase.size, phrase.feature

    def sloping(v: Vector) -> Scalar:
        value = given(v)
        half = value if size is Size.ANGLE_TO_AXIS else value * 0.5
        slope = half if size is Size.TAPER else tan_deg(half)
        return v[rr] - v[rl] + shape.narrow[name] * slope * (v[zr] - v[zl])

    return sloping


def _chord_equation(shape: Shape, feature: Across, given: Fn) -> Fn:
    host = shape.features.get(feature.source.on)
    floor = feature.sizes["from axis"]
    assert isinstance(host, Outside)
    link = host

    def chord(v: Vector) -> Scalar:
        reach = v[link.big] if link.source.kind is OutsideKind.BALL else link.at(v, v[feature.zc or 0])
        half = given(v) * 0.5
        return half * half + v[floor] * v[floor] - reach * reach

    return chord
