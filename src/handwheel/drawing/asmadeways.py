"""Which dimension not made yet could take a size up, what it would have to be, and whether its own limits let it."""

from __future__ import annotations

from collections.abc import Mapping

from handwheel.drawing import asmaderecords as rec
from handwheel.drawing.records import Answer, Drawing
from handwheel.drawing.redrawn import Key, asked, changed, drawn_of, given_of, phrase_of, shifted
from handwheel.job.records import Job, Phrase

MOST = 12
STEPS = 5
NIL = 1e-9
NEAR = 1e-8


def ways_on(
    jobs: tuple[Job, Job, frozenset[Key]], drawing: Drawing, size: rec.Size, wanted: float, now: Mapping[Key, Answer]
) -> tuple[rec.WayOn, ...]:
    """The ways on for one size, those that may first, then the least beyond their limits.

    Parameters
        jobs: with the sizes as made in it, without, and which sizes are measured.
        size: the size out of limits; its low and high are what has to be kept.
        wanted: what it would be best at.
        now: the sizes with those as made, by part and phrase.
    """
    job, before, made = jobs
    key = (size.part, size.phrase)
    phrase = phrase_of(key, before)
    if phrase is None:
        return ()
    shares = dict(now[key].shares)
    drawn = drawn_of(job)
    given = given_of(drawing)
    found = []
    for own, share in sorted(shares.items(), key=lambda e: -abs(e[1]))[:MOST]:
        if own == key or own in made or own not in drawn or own not in given or abs(share) < NIL or own not in now:
            continue
        limits = given[own]
        at = now[own].value
        nominal = at if drawn[own].value.follow is not None else drawn_value(before, own, limits.value)
        low, high = (nominal + t for t in limits.tolerance)
        goals = (size.low, size.high, min(max(wanted, size.low), size.high))
        needed = [_needed(job, own, (key, phrase), limits.tolerance, goal, size.value, share) for goal in dict.fromkeys(goals)]
        solved = [at + n for n in needed if n is not None]
        if not solved:
            continue
        best = at + needed[-1] if needed[-1] is not None else solved[0]
        least, most = min(solved), max(solved)
        value = min(max(best, low), high) if least <= high + NIL and low - NIL <= most else _nearest(least, most, low)
        value = min(max(value, least), most)
        found.append(rec.WayOn(size.phrase, rec.Size(own[0], own[1], limits.measure, value, low, high), at))
    return tuple(sorted(found, key=lambda w: w.size.beyond))


def drawn_value(job: Job, key: Key, otherwise: float) -> float:
    """The dimension's nominal as drawn."""
    dimension = drawn_of(job).get(key)
    return otherwise if dimension is None else float(dimension.value.number.value)


def _nearest(least: float, most: float, low: float) -> float:
    """The end of what is needed that is nearer the limits when the two do not overlap."""
    return most if most < low else least


def _needed(
    job: Job, own: Key, asks: tuple[Key, Phrase], tolerance: tuple[float, float], goal: float, start: float, share: float
) -> float | None:
    """How far the dimension has to move for the size to reach the goal: solved, not estimated. None: it cannot."""
    if abs(goal - start) < NEAR:
        return 0.0
    key, phrase = asks
    move, slope, last_move, last = (goal - start) / share, share, 0.0, start
    for _ in range(STEPS):
        answers = asked(_with(job, own, move, tolerance), {key: phrase})
        if key not in answers:
            return None
        value = answers[key].value
        if abs(value - goal) < NEAR:
            return move
        if abs(move - last_move) > NIL and abs(value - last) > NIL:
            slope = (value - last) / (move - last_move)
        last_move, last = move, value
        move += (goal - value) / slope
    return None


def _with(job: Job, own: Key, by: float, tolerance: tuple[float, float]) -> Job:
    return changed(job, lambda key, d: shifted(d, by, tolerance) if key == own else d)
