"""Which sizes and points each kind of feature has a sense for, and what to write instead of the others."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from handwheel.job.records import AcrossFeature, AcrossKind, InsideFeature, OutsideKind, Part, Size, Where

_PLACES = frozenset({Where.LEFT, Where.RIGHT, Where.CENTRE, Where.MIDDLE})
_ENTERED = _PLACES | {Where.MOUTH, Where.BOTTOM}
_ENDS = frozenset({Size.LENGTH, Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER, Size.DIAMETER_AT})
_ANGLES = frozenset({Size.INCLUDED_ANGLE, Size.ANGLE_TO_AXIS})
_CONE = _ENDS | _ANGLES | {Size.TAPER}
_ARC = _ENDS | {Size.RADIUS}
_HOLE = _ENDS | {Size.DIAMETER, Size.RADIUS, Size.DEPTH}


@dataclass(frozen=True, slots=True)
class Sense:
    """What can be said of one feature: its kind's word, sizes, points, and whether two can meet, carried on."""

    word: str
    sizes: frozenset[Size]
    points: frozenset[Where]
    can_meet: bool = True


OUTSIDE: dict[str, Sense] = {
    "cylinder": Sense("cylinder", _ENDS | {Size.DIAMETER, Size.RADIUS}, _PLACES),
    "cone": Sense("cone", _CONE, _PLACES | {Where.APEX}),
    "ball": Sense("ball", _ARC | {Size.DIAMETER}, _PLACES),
    "hollow": Sense("hollow", _ARC | {Size.DIAMETER}, _PLACES),
    "round": Sense("round", _ARC | {Size.DIAMETER}, _PLACES),
    "chamfer": Sense("chamfer", _CONE, _PLACES | {Where.APEX}),
    "fillet": Sense("fillet", _ARC | {Size.DIAMETER}, _PLACES),
}
INSIDE: dict[str, Sense] = {
    "hole": Sense("hole", _HOLE, _ENTERED | {Where.POINT}),
    "counterbore": Sense("counterbore", _HOLE, _ENTERED | {Where.POINT}),
    "bore": Sense("bore", _HOLE, _ENTERED | {Where.POINT}),
    "cone bore": Sense(
        "bore with 'cone: yes'", (_HOLE | _CONE) - {Size.DIAMETER, Size.RADIUS}, _ENTERED | {Where.APEX}
    ),
    "countersink": Sense("countersink", _HOLE | _CONE, _ENTERED | {Where.APEX}),
}
CUT_IN: dict[str, Sense] = {
    "groove": Sense(
        "groove", frozenset({Size.WIDTH, Size.LENGTH, Size.DEPTH, Size.DIAMETER, Size.RADIUS}), _PLACES, False
    ),
    "knurl": Sense("knurl", frozenset({Size.WIDTH, Size.LENGTH, Size.DIAMETER}), _PLACES, False),
    "thread": Sense("thread", frozenset({Size.WIDTH, Size.LENGTH, Size.DEPTH, Size.DIAMETER}), _PLACES, False),
}
ACROSS: dict[str, Sense] = {
    "hole": Sense("hole across", frozenset({Size.DIAMETER, Size.RADIUS, Size.DEPTH, Size.FROM_AXIS}), _PLACES, False),
    "holes": Sense(
        "ring of holes",
        frozenset({Size.DIAMETER, Size.RADIUS, Size.DEPTH, Size.PITCH, Size.PITCH_CIRCLE}),
        _PLACES,
        False,
    ),
    "flat": Sense(
        "flat", frozenset({Size.LENGTH, Size.WIDTH, Size.DEPTH, Size.FROM_AXIS, Size.ACROSS_FLATS}), _PLACES, False
    ),
    "slot": Sense("slot", frozenset({Size.LENGTH, Size.WIDTH, Size.DEPTH, Size.FROM_AXIS}), _PLACES, False),
    "square": Sense("square", frozenset({Size.LENGTH, Size.ACROSS_FLATS, Size.FROM_AXIS}), _PLACES, False),
    "hexagon": Sense("hexagon", frozenset({Size.LENGTH, Size.ACROSS_FLATS, Size.FROM_AXIS}), _PLACES, False),
}

_FLAT = ACROSS["flat"]
FLAT_ON_BALL = Sense("flat", _FLAT.sizes | {Size.DIAMETER, Size.RADIUS}, _FLAT.points, False)
UNKNOWN = Sense("feature", frozenset(Size), frozenset(Where))
"""Of a feature whose kind could not be read, everything is let pass."""

_INSTEAD: dict[Size, tuple[Size, ...]] = {
    Size.DIAMETER: (Size.LEFT_DIAMETER, Size.WIDTH, Size.ACROSS_FLATS),
    Size.RADIUS: (Size.DIAMETER, Size.LEFT_DIAMETER, Size.FROM_AXIS),
    Size.LENGTH: (Size.WIDTH, Size.DEPTH),
    Size.WIDTH: (Size.LENGTH, Size.ACROSS_FLATS, Size.DIAMETER),
    Size.DEPTH: (Size.LENGTH, Size.FROM_AXIS),
    Size.ACROSS_FLATS: (Size.DIAMETER, Size.WIDTH),
    Size.FROM_AXIS: (Size.RADIUS, Size.DIAMETER, Size.DEPTH),
    Size.PITCH: (Size.DIAMETER, Size.LENGTH),
    Size.PITCH_CIRCLE: (Size.DIAMETER, Size.LEFT_DIAMETER),
    Size.INCLUDED_ANGLE: (Size.DIAMETER,),
    Size.ANGLE_TO_AXIS: (Size.DIAMETER,),
    Size.TAPER: (Size.DIAMETER,),
    Size.LEFT_DIAMETER: (Size.DIAMETER, Size.ACROSS_FLATS),
    Size.RIGHT_DIAMETER: (Size.DIAMETER, Size.ACROSS_FLATS),
    Size.DIAMETER_AT: (Size.DIAMETER, Size.ACROSS_FLATS),
}


def size_instead(feature: str, size: Size, sense: Sense) -> str:
    """What to write of that feature instead of a size it has not."""
    for other in _INSTEAD.get(size, ()):
        if other is Size.LEFT_DIAMETER and other in sense.sizes:
            return f"write '{feature} left diameter' or '{feature} right diameter'"
        if other in sense.sizes:
            return f"write '{feature} {other.value}'"
    return f"write one of: {', '.join(sorted(s.value for s in sense.sizes))}"


def point_instead(feature: str, where: Where, sense: Sense) -> str:
    """What to write of that feature instead of a point it has not."""
    if where in (Where.MOUTH, Where.BOTTOM, Where.POINT) and Where.BOTTOM not in sense.points:
        return f"write '{feature} left' or '{feature} right'"
    if where is Where.POINT:
        return f"write '{feature} bottom'"
    if where is Where.APEX:
        return f"write '{feature} left', '{feature} right' or '{feature} centre'"
    return "write one of: " + ", ".join(f"'{feature} {p.value}'" for p in Where if p in sense.points)


def inside_sense(feature: InsideFeature) -> Sense:
    """What can be said of a hole on the axis: a flat or open bottom has no point."""
    sense = INSIDE["cone bore" if feature.is_cone else feature.kind.value]
    if feature.is_flat_bottomed or feature.is_through:
        return Sense(sense.word, sense.sizes, sense.points - {Where.POINT})
    return sense


def senses_of(part: Part) -> dict[str, Sense]:
    """What can be said of each feature of a part, by name."""
    senses = {f.name: OUTSIDE[f.kind.value] for f in part.outside}
    senses |= {f.name: inside_sense(f) for f in (*part.inside_left, *part.inside_right)}
    senses |= {f.name: CUT_IN[f.kind.value] for f in part.cut_in}
    return senses | across_senses(part.across, {f.name for f in part.outside if f.kind is OutsideKind.BALL})


def across_senses(across: Iterable[AcrossFeature], balls: Collection[str]) -> dict[str, Sense]:
    """What can be said of each item across; a flat on a ball is round, so it has a diameter."""
    items = {feature.name: feature for feature in across}
    senses = {}
    for name, feature in items.items():
        on = feature.on or (items[feature.square_to].on if feature.square_to in items else "")
        is_round = feature.kind is AcrossKind.FLAT and on in balls
        senses[name] = FLAT_ON_BALL if is_round else ACROSS[feature.kind.value]
    return senses
