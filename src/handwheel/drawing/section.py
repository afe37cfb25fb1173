"""The section at a station: outside diameter, hole, wall and area, on both sides of a step."""

from __future__ import annotations

from dataclasses import replace
from math import pi

from handwheel.drawing.ad import Scalar, value_of
from handwheel.drawing.junctions import Fn
from handwheel.drawing.known import Known, NoAnswer, as_answer, find
from handwheel.drawing.profile import Edge, Slice, slices
from handwheel.drawing.records import Answer
from handwheel.drawing.shape import Across, Cut, Inside, Shape, Vector
from handwheel.drawing.spoken import amount_text
from handwheel.job.questions import SectionAt
from handwheel.job.records import Measure, Side

AT_MM = 1e-7
"""A station nearer than this to a step is on it."""


def section(known: Known, asked: SectionAt) -> list[Answer]:
    """One answer, or one for either side of a step, its diameters among the details. Raises NoAnswer off the part."""
    way = known.way(asked.part)
    shape = way.settled.group.shapes[asked.part]
    point = replace(asked.at, part="")

    def station(v: Vector) -> Scalar:
        return shape.z(point, v)

    find(known, way, station, asked.part)  # where it lies must be known
    z = float(value_of(station(way.v)))
    found = slices(shape, way.v)
    left = next((s for s in found if s.a + AT_MM < z <= s.b + AT_MM), None)
    right = next((s for s in found if s.a - AT_MM <= z < s.b - AT_MM), None)
    if left is None and right is None:
        here, far = (amount_text(x, Measure.LENGTH, known.job.units) for x in (z, way.v[shape.far]))
        what = f"'{asked.text}' lies off the metal: it is {here} from the left end"
        raise NoAnswer(what, f"ask where there is metal; the part is {far} long", asked.part)
    one = right or left
    is_step = left is not None and right is not None and max(
        abs(a - b) for a, b in zip(left.ring(z), right.ring(z), strict=True)) > AT_MM
    if left is not None and right is not None and is_step:
        return [_one(known, asked, shape, s, station, side) for s, side in ((left, Side.LEFT), (right, Side.RIGHT))]
    assert one is not None
    return [_one(known, asked, shape, one, station, None)]


def _one(known: Known, asked: SectionAt, shape: Shape, at: Slice, station: Fn, side: Side | None) -> Answer:
    """The section in one slice of the metal."""
    way = known.way(asked.part)
    outer = _radius(shape, at.outer, at, station)
    inner = _radius(shape, at.inner, at, station) if at.inner is not None else None
    area: Fn = lambda v: pi * (outer(v) * outer(v) - (inner(v) * inner(v) if inner else 0.0))  # noqa: E731
    sizes: list[tuple[str, Fn]] = [("outside diameter", lambda v: 2.0 * outer(v))]
    if inner is not None:
        hole = inner
        sizes += [("hole diameter", lambda v: 2.0 * hole(v)), ("wall", lambda v: outer(v) - hole(v))]
    details = tuple(
        as_answer(find(known, way, fn, asked.part), name, "", Measure.LENGTH) for name, fn in sizes
    )
    z = float(value_of(station(way.v)))
    answer = as_answer(find(known, way, area, asked.part), asked.text, asked.part, Measure.AREA,
                       _notes(shape, at, z, way.v))  # fmt: skip
    return replace(answer, details=details, side=str(side) if side else "")


def _radius(shape: Shape, edge: Edge, at: Slice, station: Fn) -> Fn:
    """The radius of an edge's feature at the station."""
    feature = shape.features[edge.name]
    if isinstance(feature, Cut):
        floor = feature.floor
        return lambda v: v[floor] + 0.0
    if isinstance(feature, Inside) and _is_in_point(feature, edge):
        hole = feature

        def in_point(v: Vector) -> Scalar:
            tip = hole.tip(v)
            return v[hole.rb] * (station(v) - tip) / (v[hole.bottom] - tip)

        return in_point
    return lambda v: shape.surface_radius(edge.name, station(v), v)


def _is_in_point(hole: Inside, edge: Edge) -> bool:
    """Whether the edge is the hole's drill point: it ends on the axis."""
    return hole.rm == hole.rb and (edge.r0 == 0.0 or edge.r1 == 0.0)


def _notes(shape: Shape, at: Slice, z: float, v: Vector) -> tuple[str, ...]:
    """What the section leaves out, and what it is plain in place of."""
    said = []
    for name, feature in shape.features.items():
        if isinstance(feature, Across):
            left, right = _reach(feature, v)
            if left is None or right is None or left < z < right:
                said.append(f"without '{name}', cut across")
        elif isinstance(feature, Cut) and not feature.floor and v[feature.zl] < z < v[feature.zr]:
            said.append(f"the {feature.source.kind} '{name}' taken as plain")
    source = getattr(shape.features[at.outer.name], "source", None)
    if getattr(source, "thread", None) is not None and not isinstance(shape.features[at.outer.name], Cut):
        said.append(f"the thread of '{at.outer.name}' taken as plain")
    return tuple(said)


def _reach(feature: Across, v: Vector) -> tuple[float | None, float | None]:
    """The stations between which a feature across lies, as far as its sizes say."""
    if feature.zl is not None and feature.zr is not None:
        return float(v[feature.zl]), float(v[feature.zr])
    if feature.zc is None:
        return None, None
    half = float(v[feature.sizes["radius"]]) if "radius" in feature.sizes else 0.0
    if feature.source.leaning_deg or not half:
        return None, None
    return float(v[feature.zc]) - half, float(v[feature.zc]) + half
