"""A settled group as records: parts with their features, dimensions and limits; assemblies; answers."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan, degrees

from handwheel.drawing.group import Given, Group, Placed
from handwheel.drawing.junctions import Fn
from handwheel.drawing.leeway import Leeway
from handwheel.drawing.limits import Extent, extents
from handwheel.drawing.records import (
    Arc,
    Coordinate,
    Line,
    Piece,
    SolvedAcross,
    SolvedAssembly,
    SolvedCut,
    SolvedDimension,
    SolvedFeature,
    SolvedHole,
    SolvedPart,
    State,
)
from handwheel.drawing.shape import Across, Cut, Inside, NoSense, Outside, Shape
from handwheel.drawing.straight import fold, is_backward, straight
from handwheel.drawing.suggest import distance, usual_sizes
from handwheel.job.records import OutsideKind, Phrase, Side, Size


def sources_of(group: Group, extent: Extent, part: str) -> tuple[str, ...]:
    """The given phrases a size rests on, those of other parts with `of PART`."""
    found: dict[int, str] = {}
    for equation in extent.rests_on:
        if equation.source is None:
            continue
        text = equation.source.phrase.text
        if equation.part and equation.part != part:
            text += f" of {equation.part}"
        found[equation.param] = text
    return tuple(found[i] for i in sorted(found))


def solved_parts(way: Leeway, states: dict[str, State]) -> tuple[list[SolvedPart], list[SolvedAssembly], set[str]]:
    """Every part and assembly of the group, and the parts that have no shape at some combination of limits."""
    group = way.settled.group
    asked: list[tuple[str, Phrase, Given | None]] = []
    sizes: list[Fn] = []
    for part, shape in group.shapes.items():
        for phrase, given in _phrases(group, part, shape, way.v):
            asked.append((part, phrase, given))
            sizes.append(straight(group, phrase, part, way.v))
    for given in group.givens:
        if not given.part:
            asked.append(("", given.dimension.phrase, given))
            sizes.append(straight(group, given.dimension.phrase, "", way.v))
    spans = extents(way, sizes)
    for (_, phrase, _), span in zip(asked, spans, strict=True):
        if phrase.size is Size.DISTANCE:
            fold(span)
    left_out = {r.given.index for r in way.settled.repeats}
    places = {part: _places(group, shape) for part, shape in group.shapes.items()}
    seen: set[tuple[object, ...]] = set()
    dimensions: dict[str, list[SolvedDimension]] = {part: [] for part in [*group.shapes, ""]}
    lost: set[str] = set()
    for (part, phrase, given), extent in zip(asked, spans, strict=True):
        if not extent.is_reached:
            lost.add(part)
        where = places.get(part, [])
        if _is_seen(seen, part, given, extent):
            continue
        dimensions[part].append(_dimension(group, part, phrase, given, extent, where, left_out))
    parts = [
        _part(group, shape, way.v, dimensions[part], places[part], states[part]) for part, shape in group.shapes.items()
    ]
    return parts, [_assembly(group, p, way.v, dimensions[""]) for p in group.assemblies], lost


def _phrases(group: Group, part: str, shape: Shape, v: Sequence[float]) -> list[tuple[Phrase, Given | None]]:
    found: list[tuple[Phrase, Given | None]] = []
    texts = set()
    for given in group.givens:
        if given.part == part:
            texts.add(given.text)
            found.append((given.dimension.phrase, given))
    for phrase in usual_sizes(shape):
        if phrase.text in texts or (phrase.size is Size.PITCH_CIRCLE):
            continue
        try:
            group.measured(phrase, part)(v)
        except (NoSense, ZeroDivisionError):
            continue
        if is_backward(group, phrase, part, v) and phrase.start is not None and phrase.end is not None:
            phrase = distance(phrase.end, phrase.start, phrase.span)
        found.append((phrase, None))
    return found


def _is_seen(seen: set[tuple[object, ...]], part: str, given: Given | None, extent: Extent) -> bool:
    """Whether a size worked out is one that the part has already, under another phrase."""
    key = (part, round(extent.value, 9), tuple(sorted((i, round(d, 9)) for i, d in extent.slope.items())))
    is_known = given is None and key in seen
    seen.add(key)
    return is_known


def _dimension(
    group: Group,
    part: str,
    phrase: Phrase,
    given: Given | None,
    extent: Extent,
    places: list[int],
    left_out: set[int],
) -> SolvedDimension:
    low, high, mid = extent.low, extent.high, extent.mid
    if given is not None and given.dimension.value.follow is None and given.index not in left_out:
        low, high = given.nominal + given.limits.lower, given.nominal + given.limits.upper
        mid = (low + high) / 2.0
    return SolvedDimension(
        part=part,
        phrase=phrase.text,
        measure=phrase.size.measure,
        value=extent.value,
        low=low,
        high=high,
        given=given is not None,
        span=given.dimension.span if given else None,
        typed=given.dimension.value.text if given else "",
        mid=mid,
        tolerance=(given.limits.lower, given.limits.upper) if given else (0.0, 0.0),
        tolerance_from=given.limits.source if given else "",
        gradient=tuple(extent.slope.get(i, 0.0) for i in places),
        sources=sources_of(group, extent, part),
    )


def _places(group: Group, shape: Shape) -> list[int]:
    """The part's places in v, its left end (the constant 0) first."""
    return [0, *(i for i, n in enumerate(group.unknowns.names) if n[0] == shape.part.name)]


def _coordinates(group: Group, places: list[int], v: Sequence[float]) -> tuple[Coordinate, ...]:
    made = [Coordinate("station", "", 0, 0.0)]
    for i in places[1:]:
        _, kind, feature, index = group.unknowns.names[i]
        made.append(Coordinate(kind, feature, index, v[i]))
    return tuple(made)


def _part(
    group: Group,
    shape: Shape,
    v: Sequence[float],
    dimensions: list[SolvedDimension],
    places: list[int],
    state: State,
) -> SolvedPart:
    part = shape.part
    holes = [(h.way, _solved_hole(h, v)) for h in shape.inside]
    return SolvedPart(
        name=part.name,
        span=part.span,
        quantity=part.quantity,
        material=part.material,
        stock=part.stock,
        note=part.note,
        length=v[shape.far],
        outside=tuple(_solved_feature(k, v) for k in shape.outside),
        inside_left=tuple(h for w, h in holes if w > 0),
        inside_right=tuple(h for w, h in holes if w < 0),
        across=tuple(_solved_across(shape, f, v) for f in shape.features.values() if isinstance(f, Across)),
        dimensions=tuple(dimensions),
        coordinates=_coordinates(group, places, v),
        state=state,
        cut_in=tuple(_solved_cut(shape, f, v) for f in shape.features.values() if isinstance(f, Cut)),
    )


def _solved_feature(link: Outside, v: Sequence[float]) -> SolvedFeature:
    left, right = v[link.zl], v[link.zr]
    rl, rr = float(link.end(v, Side.LEFT)), float(link.end(v, Side.RIGHT))
    piece: Piece
    if not link.is_curve:


        slope = (rr - rl) / (right - left)
        piece = Line(left, rl, right, rr)
        return SolvedFeature(
            link.source, left, right, rl, rr, (piece,),
            half_angle_deg=degrees(atan(abs(slope))),
            thread=link.source.thread.designation if link.source.thread else "",
        )
    zc, rc, big = v[link.zc], v[link.rc], v[link.big]
    if link.source.kind is OutsideKind.BALL:
        rl, rr = (0.0 if abs(abs(z - zc) - big) < 1e-7 else r for z, r in ((left, rl), (right, rr)))
    piece = Arc(left, rl, right, rr, zc, rc, big, link.bulge > 0)
    return SolvedFeature(link.source, left, right, rl, rr, (piece,), zc, rc, big)


def _solved_hole(hole: Inside, v: Sequence[float]) -> SolvedHole:
    thread = hole.source.thread.designation if hole.source.thread else ""
    return SolvedHole(
        hole.source, v[hole.mouth], v[hole.bottom], float(hole.tip(v)), v[hole.rm], v[hole.rb], thread
    )


def _solved_cut(shape: Shape, cut: Cut, v: Sequence[float]) -> SolvedCut:
    left, right = v[cut.zl], v[cut.zr]
    surface = float(shape.surface_radius(cut.source.host, (left + right) / 2.0, v))
    thread = cut.source.thread.designation if cut.source.thread else ""
    return SolvedCut(cut.source, left, right, v[cut.floor] if cut.floor else surface, thread)


def _solved_across(shape: Shape, across: Across, v: Sequence[float]) -> SolvedAcross:
    sizes: dict[str, float] = {}
    for word, place in across.sizes.items():
        if word == "radius":
            sizes["diameter"] = 2.0 * v[place]
        elif word == "pitch circle radius":
            sizes["pitch circle diameter"] = 2.0 * v[place]
        else:
            sizes[word] = v[place]
            if word == "from axis":
                sizes["across flats"] = 2.0 * v[place]
    if across.zl is not None and across.zr is not None:
        sizes["left"], sizes["right"] = v[across.zl], v[across.zr]
        sizes["length"] = v[across.zr] - v[across.zl]
    centre = 0.0 if across.zc is None else v[across.zc]
    if across.source.face is Side.RIGHT:
        centre = v[shape.far]
    return SolvedAcross(across.source, centre, sizes)


def _assembly(group: Group, placed: Placed, v: Sequence[float], dimensions: list[SolvedDimension]) -> SolvedAssembly:
    own = {d.phrase.text for d in placed.source.dimensions}
    left_end = {name: v[i] for name, i in placed.offset.items()}
    return SolvedAssembly(
        placed.source.name, left_end, dict(placed.direction), tuple(d for d in dimensions if d.phrase in own)
    )
