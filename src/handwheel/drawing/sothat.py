"""What one size must be so that another comes out as wanted: the drawing sized again with other values of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache

import numpy as np
from numpy.linalg import LinAlgError

from handwheel.drawing.ad import value_of
from handwheel.drawing.group import build_group, tied_groups
from handwheel.drawing.known import Found, Known, NoAnswer, as_answer, find, find_sum, is_loose, part_of
from handwheel.drawing.records import Answer
from handwheel.drawing.settle import settle
from handwheel.drawing.shape import NoSense
from handwheel.drawing.spoken import amount_text
from handwheel.job.phrases import phrase_key
from handwheel.job.questions import SoThat, said_of
from handwheel.job.records import Assembly, DrawnDimension, DrawnValue, Job, Number, Part, Phrase, Point

ENOUGH, STILL_GOOD = 1e-12, 1e-9
"""How near the wanted value is reached, for a unit of it or of a millimetre; and where rounding stops it short."""
TRIES = 40
REACH = np.geomspace(0.02, 50.0, 41)
"""Values tried, times the present one, when the wanted value is not found from there."""
NARROWINGS = 14


@dataclass(frozen=True, slots=True)
class Change:
    """The size sought: its part ("" for an assembly's), its phrase as it stands there, and the dimension if drawn."""

    part: str
    phrase: Phrase
    drawn: DrawnDimension | None


def so_that(known: Known, ask: str, asked: SoThat, part: str) -> Answer:
    """The size sought with its own limits; what it is for, as it then comes out, is its detail.

    Raises NoAnswer where no value does, saying what can be reached, or where the size is not free to be chosen.
    """
    change = _change(known.job, asked.change)
    present = _present(known, asked, change)
    start = present if present is not None else _anywhere(known, asked.change)

    @cache
    def aim(x: float) -> float | None:
        try:
            return _aim(_with(known, change, x, is_quick=True), asked)
        except (ZeroDivisionError, LinAlgError):  # a value at which surfaces come out parallel has no shape
            return None

    wanted = float(asked.wanted.value)
    found = _solve(aim, start, wanted)
    if found is None:
        raise _impossible(known, asked, aim, start, part)
    then = _with(known, change, found)
    sought = _sought(then, asked)
    y = find_sum(then, asked.aim)
    detail = as_answer(y, asked.aim.text, "", asked.aim.measure)
    answer = as_answer(sought, ask, part, asked.change.size.measure)
    note = () if present is not None else ("it is free in the drawing: this value fixes it",)
    return replace(answer, details=(detail,), present=present, notes=(*answer.notes, *note))


def _sought(then: Known, asked: SoThat) -> Found:
    part = part_of(asked.change)
    way = then.way(part)
    return find(then, way, way.settled.group.measured(asked.change, part), part)


def _change(job: Job, phrase: Phrase) -> Change:
    """Where the size stands in the job, if it does."""
    key = phrase_key(phrase)
    for assembly in job.assemblies:
        for drawn in assembly.dimensions:
            if phrase_key(drawn.phrase) == key and not drawn.value.auxiliary:
                return Change("", drawn.phrase, _own(drawn))
    part = part_of(phrase)
    bare = _bare(phrase)
    for drawn in next(p for p in job.parts if p.name == part).dimensions:
        if phrase_key(drawn.phrase) == phrase_key(bare) and not drawn.value.auxiliary:
            return Change(part, drawn.phrase, _own(drawn))
    return Change(part, bare, None)


def _own(drawn: DrawnDimension) -> DrawnDimension:
    if drawn.value.follow is not None:
        text = drawn.phrase.text
        followed = drawn.value.follow.phrase.text
        raise NoAnswer(f"'{text}' follows '{followed}' and has no value of its own", f"ask it of '{followed}'",
                       "", (text,))  # fmt: skip
    return drawn


def _bare(phrase: Phrase) -> Phrase:
    """The phrase as it stands in its own part."""

    def own(point: Point | None) -> Point | None:
        return point and replace(point, part="")

    text = phrase.text.partition(" of ")[0]
    return replace(phrase, part="", text=text, start=own(phrase.start), end=own(phrase.end), at=own(phrase.at))


def _present(known: Known, asked: SoThat, change: Change) -> float | None:
    """The size in the drawing; None where it is free. Raises NoAnswer for one that others fix."""
    try:
        found = _sought(known, asked)
    except NoAnswer:
        if change.drawn is None and known.settled.get(part_of(asked.change)) is not None:
            return None
        raise
    if change.drawn is None:
        text = said_of(asked.change, part_of(asked.change))
        raise NoAnswer(f"'{text}' is worked out, not given", "ask it of one it rests on: " + ", ".join(found.sources[:4]),
                       change.part, (asked.change.text,))  # fmt: skip
    return found.value


def _anywhere(known: Known, phrase: Phrase) -> float:
    """A value of a size that is free, to begin from."""
    part = part_of(phrase)
    settled = known.settled[part]
    if settled.v is None:
        raise known.refusal(part)
    found = float(value_of(settled.group.measured(phrase, part)(settled.v)))
    return found if found > 0.0 else 1.0


def _with(known: Known, change: Change, x: float, *, is_quick: bool = False) -> Known:
    """The tied parts sized again with that value of the size; quick: the first shape that fits."""
    job = _changed(known.job, change, x)
    settled = {}
    for members, placed in tied_groups(job):
        if change.part and all(p.name != change.part for p in members) or not change.part and not any(
            change.phrase in [d.phrase for d in a.dimensions] for a in placed
        ):
            settled.update({p.name: known.settled[p.name] for p in members if p.name in known.settled})
            continue
        one = settle(build_group(job, members, placed), is_quick=is_quick)
        known.prepare(one)
        settled.update({p.name: one for p in members})
    return Known(job, settled, {}, [], known.prepare)


def _changed(job: Job, change: Change, x: float) -> Job:
    measure = change.phrase.size.measure
    number = Number(Fraction(x), measure)
    value = DrawnValue("", change.phrase.span, number)
    made = DrawnDimension(change.phrase, value)
    if change.drawn is not None:
        made = replace(change.drawn, value=replace(change.drawn.value, number=number))

    def put(owner: Part | Assembly) -> tuple[DrawnDimension, ...]:
        if change.drawn is None:
            return (*owner.dimensions, made)
        return tuple(made if d is change.drawn else d for d in owner.dimensions)

    if change.part:
        return replace(
            job, parts=tuple(replace(p, dimensions=put(p)) if p.name == change.part else p for p in job.parts)
        )
    return replace(job, assemblies=tuple(replace(a, dimensions=put(a)) for a in job.assemblies))


def _aim(known: Known, asked: SoThat) -> float | None:
    """What the aim comes to; None where there is no shape."""
    try:
        total = float(asked.aim.constant)
        for sign, phrase in asked.aim.terms:
            part = part_of(phrase)
            way = known.way(part)
            fn = way.settled.group.measured(phrase, part)
            if way.settled.loose and is_loose(way, fn):
                return None
            total += sign * float(value_of(fn(way.v)))
    except (NoAnswer, NoSense, ZeroDivisionError):
        return None
    return total if np.isfinite(total) else None


def _solve(aim: Callable[[float], float | None], start: float, wanted: float) -> float | None:
    """The value nearest to the start by secants, their steps halved where there is no shape; else by halving."""
    near = ENOUGH * max(1.0, abs(wanted))
    x, y = start, aim(start)
    if y is None:
        return _between(aim, start, wanted, near)
    if abs(y - wanted) <= near:
        return x
    other = x * (1.0 + 1e-4)
    z = aim(other)
    for _ in range(TRIES):
        if z is None:
            break
        if abs(z - wanted) <= near or (z == y and abs(z - wanted) <= near * STILL_GOOD / ENOUGH):
            return other
        if z == y:
            break
        step = (wanted - z) * (other - x) / (z - y)
        x, y = other, z
        for _ in range(8):
            other = x + step
            z = aim(other) if other > 0.0 else None
            if z is not None:
                break
            step /= 2.0
    return _between(aim, start, wanted, near)


def _between(aim: Callable[[float], float | None], start: float, wanted: float, near: float) -> float | None:
    """By halving, between two of the values tried that lie to either side."""
    tried = [(x, y) for x in (start * REACH).tolist() if (y := aim(x)) is not None]
    pairs = [
        (one, two) for one, two in zip(tried, tried[1:], strict=False) if (one[1] - wanted) * (two[1] - wanted) <= 0.0
    ]
    for (low, at_low), (high, _) in sorted(pairs, key=lambda pair: abs(pair[0][0] - start)):
        a, b, rises = float(low), float(high), at_low < wanted
        for _ in range(80):
            middle = (a + b) / 2.0
            y = aim(middle)
            if y is None:
                break
            if abs(y - wanted) <= near * STILL_GOOD / ENOUGH:
                return middle
            a, b = (middle, b) if (y < wanted) == rises else (a, middle)
    return None


def _impossible(
    known: Known, asked: SoThat, aim: Callable[[float], float | None], start: float, part: str
) -> NoAnswer:
    """What the aim can reach as the size goes either way from the present one, as far as there is a shape."""
    text = said_of(asked.change, part_of(asked.change))
    phrases = (asked.change.text, *(phrase.text for _, phrase in asked.aim.terms))
    here, beside = aim(start), aim(start * (1.0 + 1e-4))
    if here is not None and beside is not None and abs(here - beside) <= 1e-9:
        sources = ", ".join(find_sum(known, asked.aim).sources[:4])
        do = f"ask it of a size it rests on: {sources}" if sources else "ask it of another size"
        return NoAnswer(f"'{asked.aim.text}' does not move with '{text}'", do, part, phrases)
    wanted_y = float(asked.wanted.value)
    ends = [pair for way in (-1, 1) for pair in _walk(aim, start, way, wanted_y)]
    if not ends:
        return NoAnswer(f"no other value of '{text}' fits the drawing", "leave another size out first", part, phrases)
    least, most = min(ends, key=lambda pair: pair[1]), max(ends, key=lambda pair: pair[1])
    units, aimed, sized = known.job.units, asked.aim.measure, asked.change.size.measure
    wanted, low, high = (amount_text(y, aimed, units) for y in (wanted_y, least[1], most[1]))
    at_low, at_high = (amount_text(x, sized, units) for x in (least[0], most[0]))
    what = (
        f"'{asked.aim.text}' cannot be {wanted}: it can reach {low} (with '{text}' at {at_low}) to {high} (at {at_high})"
    )
    return NoAnswer(what, "ask for a value between, or of another size", part, phrases)


def _walk(aim: Callable[[float], float | None], start: float, way: int, wanted: float) -> list[tuple[float, float]]:
    """The size and the aim from the start on, to the last that has a shape, nearly.

    Where the aim leaps over what is wanted the shape has become another, and the walk ends there.
    """
    found: list[tuple[float, float]] = []
    steps = REACH[REACH >= 1.0] if way > 0 else REACH[REACH <= 1.0][::-1]
    lost: float | None = None
    for x in (start * float(step) for step in steps):
        y = aim(x)
        if y is None:
            lost = x
            break
        if found and (found[-1][1] - wanted) * (y - wanted) <= 0.0:
            break
        found.append((x, y))
    for _ in range(NARROWINGS if lost is not None and found else 0):
        middle = (found[-1][0] + lost) / 2.0 if lost is not None else start
        y = aim(middle)
        if y is None:
            lost = middle
        else:
            found.append((middle, y))
    return found
