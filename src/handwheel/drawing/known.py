"""What is known of a job's parts when a question comes, and a size with its limits from it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from math import sqrt

from handwheel.base.faults import Fault
from handwheel.drawing.ad import Scalar, value_of
from handwheel.drawing.amid import slopes_amid
from handwheel.drawing.group import Given
from handwheel.drawing.junctions import Fn
from handwheel.drawing.leeway import Leeway, make_leeway, unsettled
from handwheel.drawing.limits import Extent, extents, sways_of
from handwheel.drawing.records import Answer, Contribution
from handwheel.drawing.report import sources_of
from handwheel.drawing.settle import Settled
from handwheel.drawing.shape import Outside, Shape
from handwheel.drawing.straight import fold, straight
from handwheel.job.questions import Sum
from handwheel.job.records import ZERO, Job, Measure, Phrase, Size, Where

MOVES = 1e-6
"""A size that a loose movement changes by less than this, for a unit of its own greatest slope, is fixed."""


MEET_MM = 1e-6
TIE = 9
"""Shares alike to this many decimals stay in the order of the question."""


class NoAnswer(Exception):
    """Why a question has no answer, and what to do, the part concerned and its phrases."""

    def __init__(self, what: str, do: str, part: str = "", phrases: tuple[str, ...] = ()) -> None:
        super().__init__(what)
        self.what, self.do, self.part, self.phrases = what, do, part, phrases


def _as_they_are(_settled: Settled) -> object:
    return None


@dataclass
class Known:
    """The job; `settled` of every part that came to a shape, `ways` of those whose limits are ready; `faults` found.

    `prepare` gives a part sized again the limits that wait for its sizes.
    """

    job: Job
    settled: dict[str, Settled]
    ways: dict[str, Leeway]
    faults: list[Fault] = field(default_factory=list)
    prepare: Callable[[Settled], object] = _as_they_are

    def way(self, part: str) -> Leeway:
        """The part's sizes ready for their limits. Raises NoAnswer where it has no shape to measure."""
        if part in self.ways:
            return self.ways[part]
        settled = self.settled.get(part)
        if settled is None or settled.v is None or not all(r.agrees for r in settled.repeats):
            raise self.refusal(part)
        if settled.undecided or settled.others or settled.group.faults or settled.broken and not settled.loose:
            raise self.refusal(part)
        way = make_leeway(settled)
        self.ways.update(dict.fromkeys(settled.group.shapes, way))
        return way

    def refusal(self, part: str) -> NoAnswer:
        """Why nothing can be said of that part, in the words of its faults."""
        own = [f for f in self.faults if f.part == part] or self.faults
        if not own:
            return NoAnswer(f"'{part}' is not fully dimensioned", "mend its dimensions", part)
        return NoAnswer(own[0].what, own[0].do, part, own[0].phrases)


@dataclass
class Found:
    """A size with its limits, and how it moves with each toleranced given size: as typed, and amid the limits."""

    value: float
    low: float
    high: float
    mid: float
    shares: list[tuple[Given, float, float]] = field(default_factory=list)
    sources: tuple[str, ...] = ()
    is_reached: bool = True
    is_partial: bool = False

    def __add__(self, other: Found) -> Found:
        """Of parts that nothing ties together: every limit of the one with every limit of the other."""
        return Found(
            self.value + other.value,
            self.low + other.low,
            self.high + other.high,
            self.mid + other.mid,
            self.shares + other.shares,
            tuple(dict.fromkeys(self.sources + other.sources)),
            self.is_reached and other.is_reached,
            self.is_partial or other.is_partial,
        )


def find(known: Known, way: Leeway, fn: Fn, part: str, *, is_distance: bool = False) -> Found:
    """A size of the tied parts of `way`. Raises NoAnswer where what is still loose moves it."""
    group = way.settled.group
    if way.settled.loose and is_loose(way, fn):
        raise known.refusal(part)
    extent: Extent = extents(way, [fn])[0]
    if way.settled.loose and way.settled.broken and not _is_straight(way, fn, extent):
        raise known.refusal(part)
    if is_distance:
        fold(extent)
    by_index = {g.index: g for g in group.givens}
    amid = slopes_amid(way, fn) or extent.shares
    shares = [(by_index[i], share, amid.get(i, share)) for i, share in extent.shares.items()]
    sources = sources_of(group, extent, part)
    return Found(
        extent.value, extent.low, extent.high, extent.mid, shares, sources, extent.is_reached, bool(way.settled.loose)
    )


def _is_straight(way: Leeway, fn: Fn, extent: Extent) -> bool:
    """Whether a size rests on straight sums alone, so that it is the same in whatever shape what is loose takes."""
    bent = {id(e) for e in way.curved}
    return sways_of(way, [fn])[0].is_linear and not any(id(e) in bent for e in extent.rests_on)


def is_loose(way: Leeway, fn: Fn) -> bool:
    """Whether a movement that no dimension hinders changes the size."""
    (one,) = sways_of(way, [fn])
    return unsettled(way, one) > MOVES * max(1.0, max((abs(d) for d in one.by_place.values()), default=0.0))


def find_sum(known: Known, asked: Sum) -> Found:
    """A sum of phrases; those of tied parts move together, others each by itself."""
    by_way: dict[int, tuple[Leeway, str, list[tuple[int, Fn]]]] = {}
    for sign, phrase in asked.terms:
        part = part_of(phrase)
        way = known.way(part)
        by_way.setdefault(id(way), (way, part, []))[2].append((sign, straight(way.settled.group, phrase, part, way.v)))
        _check_meetings(way, phrase, part)
    parts = {part_of(phrase) for _, phrase in asked.terms}
    total: Found | None = None
    is_distance = len(asked.terms) == 1 and asked.terms[0][0] > 0 and asked.terms[0][1].size is Size.DISTANCE
    for way, part, terms in by_way.values():
        found = find(known, way, _combined(terms), part if len(parts) == 1 else "", is_distance=is_distance)
        total = found if total is None else total + found
    assert total is not None
    amount = float(asked.constant)
    return Found(
        total.value + amount, total.low + amount, total.high + amount, total.mid + amount,
        total.shares, total.sources, total.is_reached, total.is_partial,
    )  # fmt: skip


def _check_meetings(way: Leeway, phrase: Phrase, part: str) -> None:
    """Raise NoAnswer for a point where two features, carried on, do not meet."""
    for point in (phrase.start, phrase.end, phrase.at):
        if point is None or point.where is not Where.MEETS:
            continue
        shape = way.settled.group.shape(point.part or phrase.part or part)
        z = shape.z(replace(point, offset_mm=ZERO), way.v)
        names = (point.feature, point.meets)
        one, two = (float(value_of(shape.surface_radius(name, z, way.v))) for name in names)
        if not abs(one - two) <= MEET_MM or any(_is_beyond(shape, name, z, way.v) for name in names):
            what = f"'{point.feature}' and '{point.meets}', carried on, do not meet"
            raise NoAnswer(what, "ask to where each of them ends", shape.part.name, (phrase.text,))


def _is_beyond(shape: Shape, name: str, z: Scalar, v: Sequence[float]) -> bool:
    """Whether an arc, carried on to the whole circle, does not reach that station."""
    link = shape.find(name)
    return isinstance(link, Outside) and link.is_curve and abs(float(z) - v[link.zc]) > v[link.big] + MEET_MM


def _combined(terms: Sequence[tuple[int, Fn]]) -> Fn:
    if len(terms) == 1 and terms[0][0] > 0:
        return terms[0][1]
    return lambda v: sum((fn(v) * sign for sign, fn in terms), 0.0)


def part_of(phrase: Phrase) -> str:
    """The first part that a phrase speaks of."""
    points = [p for p in (phrase.start, phrase.end) if p is not None]
    return next((p.part for p in points if p.part), phrase.part)


def as_answer(found: Found, ask: str, part: str, measure: Measure, notes: tuple[str, ...] = ()) -> Answer:
    """The size as an answer: worst case, statistical, and who contributes what."""
    widths = [(g, amid, g.limits.upper - g.limits.lower) for g, _, amid in found.shares]
    spread = sqrt(sum((share * width / 2.0) ** 2 for _, share, width in widths))
    whole = sum(abs(share) * width for _, share, width in widths)
    contributors = [
        Contribution(g.part, g.text, abs(share) * width, 100.0 * abs(share) * width / whole)
        for g, share, width in widths
        if abs(share) * width > 0.0
    ]
    contributors.sort(key=lambda c: -round(c.share, TIE))
    said = list(notes)
    if found.is_partial:
        said.append("its part lacks dimensions, but this size does not hang on what is loose")
    if not found.is_reached:
        said.append("there is no shape at some ends of the limits; low and high go as far as there is one")
    return Answer(
        ask,
        part,
        measure,
        found.value,
        found.low,
        found.high,
        found.sources,
        tuple(((g.part, g.text), share) for g, share, _ in found.shares),
        min(max(found.mid - spread, found.low), found.high),
        max(min(found.mid + spread, found.high), found.low),
        tuple(contributors),
        tuple(said),
    )
