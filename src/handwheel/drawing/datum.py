"""A part worked to other dimensions than the drawn ones: working limits, which drawing dimension is tight, and which
datum would leave most.

From a datum: the lengths along the axis that are drawn are replaced by as many lengths from there. By dimensions named:
each displaces the drawn one with the most tolerance in it. Every other dimension is worked to as drawn. How each drawing
dimension moves with each working one is first order, from the solved shape.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.group import tied_groups
from handwheel.drawing.records import Drawing, SolvedDimension
from handwheel.drawing.redrawn import Key, asked, changed, drawn_of, given_of, half_room, loosened
from handwheel.drawing.transfer import Ends, Shares, drawn_in, share
from handwheel.job.records import (
    DrawnDimension,
    DrawnValue,
    InsideFeature,
    Job,
    Measure,
    Number,
    OutsideFeature,
    OutsideKind,
    Phrase,
    Point,
    Side,
    Size,
    Tolerance,
    Where,
)

Array = NDArray[np.float64]
ALONG = (Size.DISTANCE, Size.LENGTH, Size.DEPTH, Size.OVERALL_LENGTH)
CURVES = (OutsideKind.BALL, OutsideKind.HOLLOW, OutsideKind.ROUND, OutsideKind.FILLET)
NIL = 1e-9
EXACT = (0.0, 0.0)
Capability = Callable[[Phrase], float]
"""What is held of a size, plus or minus, in its own unit."""


@dataclass(frozen=True, slots=True)
class WorkingSize:
    """One working dimension. `half`: its working limits are value ± half; None: nothing drawn limits it.

    `held_by`: the drawing dimension that leaves no more; "" for none. `given`: it is worked to as drawn.
    """

    phrase: str
    measure: Measure
    value: float
    half: float | None
    held_by: str
    given: bool


@dataclass(frozen=True, slots=True)
class Transfer:
    """A part worked to other dimensions.

    `even`: the least share a length gets, 1 being what is held; None where nothing is limited. `tight`: the drawing
    dimensions that set it; `ranking`: each datum of the part with its least share, best first,
    where lengths from a datum were asked for.
    """

    part: str
    sizes: tuple[WorkingSize, ...]
    even: float | None
    tight: tuple[str, ...]
    ranking: tuple[tuple[str, float], ...]


def from_datum(drawing: Drawing, part: str, point: Point, able: Capability) -> Transfer | None:
    """The part's lengths from a datum; None where lengths from there say nothing of it.

    Parameters
        drawing: solved; part: a part of it. point: the datum, a point of the part. able: what is held of each size.
    """
    points = candidates(drawing.job, part)
    table = _table(drawing, part, [p for one in (point, *points) for p in lengths_from(drawing, part, one)])
    found = _from(table, drawing, part, point, able)
    if found is None:
        return None
    stations = {point_text(p): table.values.get(f"left end to {point_text(p)}", 0.0) for p in points}
    ranking: list[tuple[str, float]] = []
    for name, z in stations.items():
        one = _from(table, drawing, part, points[list(stations).index(name)], able, is_quick=True)
        if one is not None and one.even is not None and all(abs(z - stations[n]) > NIL for n, _ in ranking):
            ranking.append((name, one.even))
    return replace(found, ranking=tuple(sorted(ranking, key=lambda r: -r[1])))


def worked_to(drawing: Drawing, part: str, phrases: Sequence[Phrase], able: Capability) -> Transfer | None:
    """The part worked to these dimensions, each displacing a drawn one; None where they do not fix the part.

    Parameters
        phrases: of the part. The others as in `from_datum`.
    """
    table = _table(drawing, part, phrases)
    if any(p.text not in table.rows for p in phrases):
        return None
    given = given_of(drawing)
    room = np.array([half_room(given[k]) if k[0] == part else 0.0 for k in table.columns])
    pairs = _displacing([table.rows[p.text] * room for p in phrases], len(table.columns))
    if len(pairs) < len(phrases):
        return None
    displaced = [j for _, j in pairs]
    return _shared(table, drawing, part, (list(phrases), displaced), able)


def point_text(point: Point) -> str:
    """The point in the drawing's words."""
    return f"{point.feature} {point.where.value}" if point.feature else point.where.value


def candidates(job: Job, part: str) -> list[Point]:
    """The points that lengths can be measured from: the ends, shoulders, ball centres, mouths and bottoms of holes."""
    drawn = next(p for p in job.parts if p.name == part)
    found = [Point(Where.LEFT_END), Point(Where.RIGHT_END)]
    for i, feature in enumerate(drawn.outside):
        if feature.kind is OutsideKind.BALL:
            found.append(Point(Where.CENTRE, feature.name))
        for side, where in ((Side.LEFT, Where.LEFT), (Side.RIGHT, Where.RIGHT)):
            beside = drawn.outside[i - 1 : i] if side is Side.LEFT else drawn.outside[i + 1 : i + 2]
            if not _is_curve(feature, side) and not any(_is_curve(f, side.other) for f in beside):
                found.append(Point(where, feature.name))
    for hole in (*drawn.inside_left, *drawn.inside_right):
        found += _hole_points(hole)
    return found


def _is_curve(feature: OutsideFeature, side: Side) -> bool:
    """Whether it meets what is on that side on a curve, where nothing can be measured."""
    return feature.kind in CURVES and side not in feature.flat


def _hole_points(hole: InsideFeature) -> list[Point]:
    return [Point(Where.MOUTH, hole.name)] + ([] if hole.is_through else [Point(Where.BOTTOM, hole.name)])


def lengths_from(drawing: Drawing, part: str, point: Point) -> list[Phrase]:
    """The lengths from a datum to every other point of the part that is drawn to or is a candidate, drawn ones first."""
    job = drawing.job
    drawn = next(p for p in job.parts if p.name == part)
    ends: dict[str, Point] = {}
    for dimension in drawn.dimensions:
        phrase = dimension.phrase
        for end in (phrase.start, phrase.end):
            if end is not None and phrase.size is Size.DISTANCE and not end.part and not end.offset_mm:
                ends.setdefault(point_text(end) if not end.meets else phrase.text, end)
    for end in candidates(job, part):
        ends.setdefault(point_text(end), end)
    ends.pop(point_text(point), None)
    span = drawn.span
    return [
        Phrase(Size.DISTANCE, f"{point_text(point)} to {point_text(end)}", span, start=point, end=end)
        for end in ends.values()
        if not end.meets
    ]


@dataclass(frozen=True, slots=True)
class _Table:
    """How sizes move with the given dimensions that are free: rows by phrase, columns by key."""

    columns: tuple[Key, ...]
    rows: Mapping[str, Array]
    values: Mapping[str, float]


def _table(drawing: Drawing, part: str, more: Sequence[Phrase]) -> _Table:
    job = loosened(_alone(drawing.job, part), drawing)
    drawn = drawn_of(job)
    answers = asked(job, {k: d.phrase for k, d in drawn.items()} | {(part, p.text): p for p in more})
    columns = tuple(k for k in drawn if k in answers and abs(dict(answers[k].shares).get(k, 0.0)) > NIL)
    rows = {k[1]: np.array([dict(a.shares).get(c, 0.0) for c in columns]) for k, a in answers.items() if k[0] == part}
    return _Table(columns, rows, {k[1]: a.value for k, a in answers.items() if k[0] == part})


def _alone(job: Job, part: str) -> Job:
    """The parts tied with this one, and their assemblies; the others have no say."""
    for members, assemblies in tied_groups(job):
        if any(p.name == part for p in members):
            return replace(job, parts=tuple(members), assemblies=tuple(assemblies), as_made=(), notices=())
    raise KeyError(part)


def _from(
    table: _Table, drawing: Drawing, part: str, point: Point, able: Capability, *, is_quick: bool = False
) -> Transfer | None:
    """The lengths from one datum, the ranking left empty."""
    lengths = [p for p in lengths_from(drawing, part, point) if p.text in table.rows]
    drawn = drawn_of(drawing.job)
    along = [i for i, k in enumerate(table.columns) if k[0] == part and _is_along(drawn[k])]
    pairs = _displacing([table.rows[p.text][along] for p in lengths], len(along))
    if not pairs and along:
        return None
    swap = [lengths[i] for i, _ in pairs], [along[j] for _, j in pairs]
    return _shared(table, drawing, part, swap, able, is_quick=is_quick)


def _is_along(dimension: DrawnDimension) -> bool:
    return dimension.phrase.size in ALONG and dimension.value.follow is None


def _shared(
    table: _Table,
    drawing: Drawing,
    part: str,
    swap: tuple[list[Phrase], list[int]],
    able: Capability,
    *,
    is_quick: bool = False,
) -> Transfer:
    """The shares with these working dimensions in place of those columns; quick: first order, corners not solved."""
    working, displaced = swap
    n, count = len(working), len(table.columns)
    drawn, given = drawn_of(drawing.job), given_of(drawing)
    kept = [i for i in range(count) if i not in displaced]
    W = np.array([table.rows[p.text] for p in working]).reshape(n, count)
    inverse = np.linalg.inv(W[:, displaced]) if displaced else np.zeros((0, 0))
    S = np.zeros((count, count))
    S[np.ix_(displaced, range(n))] = inverse
    S[np.ix_(displaced, range(n, count))] = -inverse @ W[:, kept]
    S[kept, range(n, count)] = 1.0
    keys = [table.columns[i] for i in kept]
    T, off = _drawn_limits(table.columns, given)
    c = np.array([able(p) for p in working] + [able(drawn[k].phrase) for k in keys])
    held = np.array([np.nan] * n + [0.0 if given[k].tolerance == EXACT else np.nan for k in keys])
    T[[i for i in kept if given[table.columns[i]].tolerance == EXACT]] = np.inf
    found = share(S, T, c, off, held)
    factor = 1.0 if is_quick else _within(table, drawing, part, (working, keys), found)
    if factor < 1.0:
        found = replace(found, half=found.half * factor)
    return _told(table, part, (working, keys), found, c, drawing)


def _within(table: _Table, drawing: Drawing, part: str, working: tuple[list[Phrase], list[Key]], found: Shares) -> float:
    """How much of the shares keeps the drawing's limits at every corner, the part solved from its working dimensions."""
    lengths, keys = working
    job, given = _alone(drawing.job, part), given_of(drawing)
    drawn = drawn_of(job)
    rows = {k: drawn[k].phrase for k in table.columns if k[0] in (part, "") and drawn[k].value.follow is None
            and given[k].tolerance != EXACT}  # fmt: skip
    half = np.where(np.isfinite(found.half), found.half, 0.0)
    place = {k: len(lengths) + i for i, k in enumerate(keys)}

    def ends(factor: float) -> list[Ends] | None:
        made = [_worked(p, table.values[p.text] + found.shift[j], half[j] * factor) for j, p in enumerate(lengths)]

        def kept(key: Key, dimension: DrawnDimension) -> DrawnDimension | None:
            if key not in place:
                return None
            j = place[key]
            value = dimension.value
            number = replace(value.number, value=value.number.value + Fraction(float(found.shift[j])))
            return replace(dimension, value=replace(value, number=number, tolerance=_even(half[j] * factor)))

        swapped = changed(job, kept)
        parts = (replace(p, dimensions=(*p.dimensions, *made)) if p.name == part else p for p in swapped.parts)
        answers = asked(replace(swapped, parts=tuple(parts)), rows)
        return [(answers[k].low, answers[k].high) for k in rows] if len(answers) == len(rows) else None

    limits = [given[k].tolerance for k in rows]
    centre = [float(drawn[k].value.number.value) for k in rows]
    return drawn_in(ends, [(c + low, c + high) for c, (low, high) in zip(centre, limits, strict=True)])


def _worked(phrase: Phrase, value: float, half: float) -> DrawnDimension:
    number = Number(Fraction(float(value)), phrase.size.measure)
    return DrawnDimension(phrase, DrawnValue(phrase.text, phrase.span, number, tolerance=_even(half)))


def _even(half: float) -> Tolerance:
    return Tolerance(-Fraction(float(half)), Fraction(float(half)))


def _drawn_limits(columns: Sequence[Key], given: Mapping[Key, SolvedDimension]) -> tuple[Array, Array]:
    """Half-tolerances drawn, and how far the nominals are from the mid-limits."""
    pairs = [given[k].tolerance for k in columns]
    return np.array([(b - a) / 2 for a, b in pairs]), np.array([-(a + b) / 2 for a, b in pairs])


def _displacing(rows: Sequence[Array], count: int) -> list[tuple[int, int]]:
    """The first rows that say something new of `count` columns, each with the column it displaces."""
    found: list[tuple[int, int]] = []
    left = [row.astype(float) for row in rows]
    for i in range(len(left)):
        if len(found) == count or float(np.abs(left[i]).max(initial=0.0)) < 1e-7:
            continue
        j = int(np.argmax(np.abs(left[i])))
        found.append((i, j))
        for k in range(i + 1, len(left)):
            left[k] = left[k] - left[i] * (left[k][j] / left[i][j])
    return found


def _told(
    table: _Table,
    part: str,
    working: tuple[list[Phrase], list[Key]],
    found: Shares,
    c: Array,
    drawing: Drawing,
) -> Transfer:
    lengths, keys = working
    n = len(lengths)
    names = [k[1] if k[0] in (part, "") else f"{k[1]} of {k[0]}" for k in table.columns]
    given = given_of(drawing)
    sizes = []
    for j, phrase in enumerate([*lengths, *(drawn_of(drawing.job)[k].phrase for k in keys)]):
        if j >= n and keys[j - n][0] != part:
            continue
        half = float(found.half[j]) if np.isfinite(found.half[j]) else None
        value = table.values[phrase.text] if j < n else given[keys[j - n]].value
        held = names[found.holder[j]] if found.holder[j] >= 0 else ""
        sizes.append(WorkingSize(phrase.text, phrase.size.measure, value + float(found.shift[j]), half, held, j >= n))
    each = [float(found.half[j] / c[j]) if np.isfinite(found.half[j]) else np.inf for j in range(n)]
    least = min(each, default=np.inf)
    tight = dict.fromkeys(names[found.holder[j]] for j in range(n) if each[j] <= least * (1 + 1e-6) and found.holder[j] >= 0)
    return Transfer(part, tuple(sizes), least if np.isfinite(least) else None, tuple(tight), ())
