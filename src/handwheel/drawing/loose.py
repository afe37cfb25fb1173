"""Which features can still move and how, and which single dimensions would fix them, each of them tried."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from handwheel.base.faults import Fault
from handwheel.base.tolerance import EQUAL_MM
from handwheel.drawing.group import Group
from handwheel.drawing.measures import signed_distance
from handwheel.drawing.movements import Array, gradient, null_space
from handwheel.drawing.settle import Settled
from handwheel.drawing.shape import Across, Cut, Inside, NoSense, Shape
from handwheel.drawing.spoken import listed
from handwheel.drawing.suggest import distance, has_own_place, offered_sizes, simple, sizes_of
from handwheel.drawing.trial import AnyFeature, clusters, dimension_of, tried
from handwheel.job.records import DrawnDimension, Measure, Phrase, Size, Where

MOVES = 1e-6
OFFERED = 4
TRIED = 12
HOW = {Size.INCLUDED_ANGLE: "angle", Size.LEFT_DIAMETER: "left diameter", Size.RIGHT_DIAMETER: "right diameter"}
SHAKES = ((1.0, 0.0), (1.03, 0.5), (0.9, 0.0))
"""What a size is changed by, as factor and mm, where a dimension at the size it has now does not go."""


@dataclass(frozen=True)
class Loose:
    """A feature that can still change, and how: size words, or 'place'."""

    name: str
    how: tuple[str, ...]


def loose_faults(settled: Settled) -> Iterator[Fault]:
    """One fault for every part, and every part of an assembly, with something loose."""
    group, v = settled.group, settled.v or settled.near
    rows = null_space(group, settled.equations, v)
    if not len(rows):
        return
    for part, shape in group.shapes.items():
        moving = _loose_features(group, shape, rows, v)
        if moving:
            yield _fault(settled, shape, rows, moving)
            continue
        for placed in group.assemblies:
            place = placed.offset.get(part, 0)
            own = all(not _loose_features(group, group.shapes[p], rows, v) for p in placed.offset)
            if place and own and np.abs(rows[:, place]).max() > MOVES:
                what = f"nothing says where '{part}' sits in '{placed.source.name}'"
                do = "give a seat or a dimension"
                yield Fault("too-few-dimensions", placed.source.span, what, do, part)


def _fault(settled: Settled, shape: Shape, rows: Array, moving: Sequence[Loose]) -> Fault:
    group = settled.group
    mine = [i for i, (part, *_) in enumerate(group.unknowns.names) if part == shape.part.name]
    short = int(np.linalg.matrix_rank(rows[:, mine], tol=MOVES))
    names = ", ".join(f"'{m.name}' ({', '.join(m.how)})" for m in moving)
    what = f"too few dimensions ({short} short): still loose is {names}" if short > 1 else (
        f"one dimension is missing: still loose is {names}")
    touched = [i for i in range(len(rows)) if np.abs(rows[i, mine]).max() > MOVES]
    sets = clusters(touched, lambda i: set(np.flatnonzero(np.abs(rows[i]) > MOVES).tolist()))
    offers = [_offer(settled, shape, rows, cluster, moving) for cluster in sets]
    if not all(offers):
        offers = [text] if (text := _offer(settled, shape, rows, touched, moving)) else []
    do = f"give {', and '.join(offers)}" if offers else "give one of its sizes"
    moved = np.abs(rows[touched]).max(axis=0)
    tied = {part for (part, *_), m in zip(group.unknowns.names, moved, strict=True) if m > MOVES and part in group.shapes}
    others = [p for p in group.shapes if p in tied and p != shape.part.name]
    do += f"; a size of {listed(others)}, tied to it, may do as well" if others else ""
    return Fault("too-few-dimensions", shape.part.span, what, do, shape.part.name, tuple(m.name for m in moving))


def _loose_features(group: Group, shape: Shape, rows: Array, v: Sequence[float]) -> list[Loose]:
    """Features of the part whose size or place can still change; the fewest that say it, in drawing order."""
    moved = np.abs(rows).max(axis=0)
    names = group.unknowns.names
    moving = [i for i in np.flatnonzero(moved > MOVES) if names[i][0] == shape.part.name]
    if not moving:
        return []
    found = []
    for name, feature in shape.features.items():
        how = dict.fromkeys(_how(group, shape, name, feature, rows, v))
        if how:
            found.append(Loose(name, tuple(how)))
    return found or [Loose(names[i][2] or "length", ("place",)) for i in moving[:1]]


def _how(group: Group, shape: Shape, name: str, feature: object, rows: Array, v: Sequence[float]) -> Iterator[str]:
    span = shape.part.span
    sizes = sizes_of(feature)
    floor = [_change(group, shape, simple(name, s, span), rows, v) for s in (Size.DIAMETER, Size.DEPTH) if s in sizes]
    if isinstance(feature, Cut) and feature.floor and any(c is None for c in floor):
        sizes = (Size.WIDTH,)  # its floor keeps its place, or is carried along by the surface
    for size in sizes:
        if size is Size.DEPTH and isinstance(feature, Inside) and Size.LENGTH in sizes:
            continue  # how deep it goes from the end is its own length and what stands before it
        if _change(group, shape, simple(name, size, span), rows, v) is not None:
            yield HOW.get(size, size.value)
    place = None
    if isinstance(feature, Across) and feature.zc is not None:
        place = feature.zc
    elif isinstance(feature, Cut) and has_own_place(shape, feature):
        place = feature.zl
    if place is not None and all(np.abs(rows[:, place] - rows[:, s]).max() > MOVES for s in (0, *shape.stations)):
        yield "place"


def _change(group: Group, shape: Shape, phrase: Phrase, rows: Array, v: Sequence[float]) -> Array | None:
    """How the phrase's size changes with each loose movement; None when it does not, or cannot be measured."""
    try:
        row, _ = gradient(group, group.measured(phrase, shape.part.name), v)
    except (NoSense, ZeroDivisionError):
        return None
    change = rows @ row
    if not np.isfinite(change).all() or np.abs(change).max() < MOVES * max(1.0, float(np.abs(row).max())):
        return None
    return np.asarray(change)


def _offer(settled: Settled, shape: Shape, rows: Array, mine: Sequence[int], moving: Sequence[Loose]) -> str:
    """Dimensions that leave nothing of the movements `mine` and touch no other: any one, or as many as are missing."""
    group, v = settled.group, settled.v or settled.near
    given = {g.text for g in group.givens if g.part == shape.part.name}
    names = {m.name for m in moving}
    usual = sorted(offered_sizes(shape), key=lambda p: _rank(shape, p, names))
    others = [i for i in range(len(rows)) if i not in mine]
    able = []
    for phrase in (_as_it_lies(group, shape, p, v) for p in usual):
        change = None if phrase.text in given else _change(group, shape, phrase, rows, v)
        if change is not None and np.abs(change[others]).max(initial=0.0) <= MOVES:
            able.append((phrase, change[list(mine)]))
    if len(mine) == 1:
        found = [f"'{p.text}'" for p, _ in able[:TRIED] if _does_fix(settled, shape, [p])][:OFFERED]
        return " or ".join([*found, *_words(settled, shape, names)])
    chosen = _independent(able, len(mine))
    if len(chosen) < len(mine) and len(group.shapes) == 1:
        return ""
    return listed([p.text for p in chosen]) if chosen and _does_fix(settled, shape, chosen) else ""


def _independent(able: Sequence[tuple[Phrase, Array]], count: int) -> list[Phrase]:
    """The first of the phrases of which none moves only as others do."""
    chosen: list[Phrase] = []
    table = np.zeros((0, count))
    for phrase, change in able:
        grown = np.vstack([table, change / np.abs(change).max()])
        if np.linalg.matrix_rank(grown, tol=1e-6) > len(table):
            table, chosen = grown, [*chosen, phrase]
    return chosen


def has_completion(settled: Settled) -> bool:
    """Whether with some sizes for what is loose nothing is wrong."""
    group, v = settled.group, settled.v or settled.near
    rows = null_space(group, settled.equations, v)
    able = [
        (phrase, change, shape)
        for shape in group.shapes.values()
        for phrase in sorted(offered_sizes(shape), key=lambda p: _rank(shape, p, set(shape.features)))
        if (change := _change(group, shape, phrase, rows, v)) is not None
    ]
    chosen = {id(p) for p in _independent([(p, c) for p, c, _ in able], len(rows))}
    wanted = [(p, shape) for p, _, shape in able if id(p) in chosen]
    sizes = [_size(group, shape, p, v) for p, shape in wanted]
    for factor in (1.0, 0.4, 2.0, 5.0):
        more: dict[str, list[DrawnDimension]] = {}
        for (phrase, shape), size in zip(wanted, sizes, strict=True):
            more.setdefault(shape.part.name, []).append(dimension_of(phrase, max(size, 1.0) * factor))
        found = tried(group, {}, more, is_quick=False)
        if found.v is not None and not found.broken and all(r.agrees for r in found.repeats):
            return True
    return False


def _size(group: Group, shape: Shape, phrase: Phrase, v: Sequence[float]) -> float:
    """What the phrase measures at the shape; 1 where it has no size there."""
    try:
        size = abs(float(group.measured(phrase, shape.part.name)(v)))
    except ZeroDivisionError:
        return 1.0
    return size if math.isfinite(size) else 1.0


def _words(settled: Settled, shape: Shape, names: set[str]) -> Iterator[str]:
    """Words that, written at a loose feature, would do as well."""
    for name in names:
        feature = shape.features.get(name)
        if isinstance(feature, Across) and "depth" in feature.sizes:
            sources: AnyFeature = replace(feature.source, is_through=True)
        elif isinstance(feature, Inside) and not feature.source.is_through:
            sources = replace(feature.source, is_through=True)
        else:
            continue
        found = tried(settled.group, {}, features={(shape.part.name, name): sources})
        if found.v is not None and not found.broken and found.loose == settled.loose - 1:
            yield f"'through: yes' at '{name}'"


def _rank(shape: Shape, phrase: Phrase, loose: set[str]) -> int:
    """The lower, the likelier that a drawing carries it; last what is where a ball or arc meets its neighbour."""
    if phrase.size is Size.OVERALL_LENGTH:
        return 1
    if phrase.size is Size.DISTANCE:
        is_centre = phrase.end is not None and phrase.end.where is Where.CENTRE
        return 1 if is_centre and phrase.end is not None and phrase.end.feature in loose else 3
    is_curve = getattr(shape.features[phrase.feature], "is_curve", False)
    if is_curve and phrase.size in (Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER, Size.LENGTH):
        return 5
    if phrase.feature not in loose:
        return 4
    return 2 if phrase.size.measure is not Measure.LENGTH else 0


def _as_it_lies(group: Group, shape: Shape, phrase: Phrase, v: Sequence[float]) -> Phrase:
    """A distance with its left point first."""
    if phrase.size is not Size.DISTANCE or phrase.start is None or phrase.end is None:
        return phrase
    try:
        is_reversed = float(signed_distance(shape, phrase, v)) < -EQUAL_MM
    except ZeroDivisionError:
        return phrase
    return distance(phrase.end, phrase.start, phrase.span) if is_reversed else phrase


def _does_fix(settled: Settled, shape: Shape, phrases: Sequence[Phrase]) -> bool:
    """Whether giving them all leaves so many fewer movements."""
    group, v = settled.group, settled.v or settled.near
    sizes = [_size(group, shape, p, v) for p in phrases]
    for factor, more in SHAKES:
        added = [dimension_of(p, s * factor + more) for p, s in zip(phrases, sizes, strict=True)]
        found = tried(group, {}, {shape.part.name: added})
        if found.v is not None and found.loose == settled.loose - len(phrases):
            return True
    return False

