"""A job with sizes as made in place of the drawing's.

A measured size that is a dimension of the drawing takes its place. One that follows from others takes the place of one
of those, and they all give way by the same share of their tolerance, as little as it can be (a linear programme): those
of the same part first, as far as their limits, then those of its mates and assemblies, then beyond.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.records import Drawing, SolvedDimension
from handwheel.drawing.redrawn import Key, asked, changed, drawn_of, exactly, given_of, half_room, loosened, shifted
from handwheel.drawing.simplex import maximise
from handwheel.drawing.transfer import Array, blocks
from handwheel.job.records import AsMade, Job

EXACT_ROOM = 1e-4
SLIGHT, FAR, BEYOND = 1e-4, 30.0, 1e4
"""What is paid for a tolerance unit of one move, of the mates' share, and beyond limits; 1 for the part's own share."""
NIL = 1e-9
NEAR, STEPS = 1e-7, 8


@dataclass(frozen=True, slots=True)
class Swapped:
    """The job with the measured sizes in it; which dimensions gave way, to which measured ones that are not drawn; which
    measured sizes disagree with the others, by how much. `base`: with the drawn ones alone put in; `moves`: how far, to first
    order, each dimension gives way."""

    job: Job
    gave_way: frozenset[Key]
    worked_out: frozenset[Key]
    disagree: tuple[tuple[AsMade, float], ...]
    base: Job
    moves: Mapping[Key, float]


def swapped(job: Job, drawing: Drawing, measured: Sequence[AsMade]) -> Swapped:
    """The job with the measured sizes in place of the drawing's.

    Parameters
        job: parts that are tied together, `drawing` the same sized.
        measured: one a part and phrase.
    """
    drawn = drawn_of(job)
    answers = asked(loosened(job, drawing), {k: d.phrase for k, d in drawn.items()})
    free = {k for k, a in answers.items() if abs(dict(a.shares).get(k, 0.0)) > NIL}  # the others repeat what these say
    made = {(m.part, m.dimension.phrase.text): m for m in measured}
    direct = {k: m for k, m in made.items() if k in free}
    follow = {k: m for k, m in made.items() if k not in free}
    first = changed(job, lambda k, d: exactly(d, direct[k].dimension.value.number.value) if k in direct else
                    d if k in free else None)  # fmt: skip
    repeats = {k: d for k, d in drawn.items() if k not in free and k not in made}
    if not follow and not repeats:
        return Swapped(first, frozenset(), frozenset(), (), first, {})
    wanted = {k: m.dimension.phrase for k, m in follow.items()} | {k: d.phrase for k, d in repeats.items()}
    now = asked(loosened(first, drawing), wanted)
    rows = [k for k in wanted if k in now]
    says = [k for k in rows if k in follow]
    columns = [k for k in drawn if k in free and k not in direct]
    S = np.array([[dict(now[k].shares).get(c, 0.0) for c in columns] for k in rows]).reshape(len(rows), len(columns))
    aims = [float(follow[k].dimension.value.number.value) if k in follow else answers[k].value for k in rows]
    off = np.array(aims) - np.array([now[k].value for k in rows])
    given, parts = given_of(drawing), {m.part for m in measured}
    room = np.array([max(half_room(given[c]), EXACT_ROOM) for c in columns])
    near = np.array([c[0] in parts for c in columns], dtype=bool)
    pivots = _pivots(S[: len(says)] * room * np.where(near, FAR, 1.0))
    kept = sorted(pivots)
    disagree = tuple(
        (follow[k], left) for i, k in enumerate(says)
        if i not in pivots and abs(left := _left_over(S, off, kept, i)) > _typing(follow[k]) / 2 + NIL
    )  # fmt: skip
    every = [*columns, *(k for k in rows if k in repeats)]
    moves = _least_change(*_with_repeats(S, off, kept, len(says)), [given[c].tolerance for c in every], parts, every)
    return _put_in(first, follow, [says[i] for i in kept], [columns[pivots[i]] for i in kept],
                   dict(zip(every, moves.tolist(), strict=True)), given, disagree)  # fmt: skip


def _put_in(
    job: Job,
    follow: Mapping[Key, AsMade],
    kept: Sequence[Key],
    out: Sequence[Key],
    moves: Mapping[Key, float],
    given: Mapping[Key, SolvedDimension],
    disagree: tuple[tuple[AsMade, float], ...],
) -> Swapped:
    """The measured sizes that follow from others put in for those that go out, the rest moved."""
    step = {k: x for k, x in moves.items() if abs(x) > NIL and k not in out}
    second = changed(_moved_by(job, step, given), lambda k, d: None if k in out else d)
    exact = [(k[0], exactly(follow[k].dimension, follow[k].dimension.value.number.value)) for k in kept]
    parts = tuple(
        replace(p, dimensions=(*p.dimensions, *(d for name, d in exact if name == p.name))) for p in second.parts
    )
    return Swapped(replace(second, parts=parts), frozenset(out) | frozenset(step), frozenset(kept), disagree, job, moves)


def nearest(swap: Swapped, drawing: Drawing, measured: Sequence[AsMade]) -> Swapped | None:
    """The same with every dimension kept and moved until the measured sizes come out; None where they do not.

    For sizes that give two shapes once a drawn dimension is out: the one near the drawing is the copy's.
    """
    given, total = given_of(drawing), {k: x for k, x in swap.moves.items() if abs(x) > NIL}
    made = {(m.part, m.dimension.phrase.text): m for m in measured}
    aims = {k: float(made[k].dimension.value.number.value) for k in swap.worked_out}
    keys = [k for k in total if k in drawn_of(swap.base)]
    for _ in range(STEPS):
        job = _moved_by(swap.base, total, given)
        now = asked(loosened(job, drawing), {k: made[k].dimension.phrase for k in aims})
        if len(now) < len(aims) or not keys:
            return None
        off = np.array([aims[k] - now[k].value for k in aims])
        if float(np.abs(off).max()) < NEAR:
            return replace(swap, job=job, gave_way=frozenset(total))
        room = np.array([max(half_room(given[k]), EXACT_ROOM) for k in keys])
        S = np.array([[dict(now[a].shares).get(k, 0.0) for k in keys] for a in aims]) * room
        moves = np.linalg.lstsq(S, off, rcond=None)[0] * room
        total = total | {k: total[k] + float(x) for k, x in zip(keys, moves, strict=True)}
    return None


def _moved_by(job: Job, moves: Mapping[Key, float], given: Mapping[Key, SolvedDimension]) -> Job:
    return changed(job, lambda k, d: shifted(d, moves[k], given[k].tolerance) if k in moves else d)


def _typing(made: AsMade) -> float:
    return float(made.dimension.value.number.place)


def _with_repeats(S: Array, off: Array, kept: Sequence[int], count: int) -> tuple[Array, Array]:
    """The rows of the measured sizes kept, and those of repeats (from row `count`), which may give way themselves."""
    more = S.shape[0] - count
    use = [*kept, *range(count, S.shape[0])]
    own = np.vstack([np.zeros((len(kept), more)), -np.eye(more)])
    return np.hstack([S[use], own]), off[use]


def _pivots(worth: Array) -> dict[int, int]:
    """For each row the column that gives way, the greatest left in it; rows that say nothing new have none."""
    left, found = worth.copy(), {}
    for i in range(left.shape[0]):
        if not left.shape[1]:
            break
        j = int(np.argmax(np.abs(left[i])))
        if abs(left[i, j]) <= NIL * max(1e-3, float(np.abs(worth).max())):
            continue
        found[i] = j
        for k in range(i + 1, left.shape[0]):
            left[k] -= left[i] * (left[k, j] / left[i, j])
    return found


def _left_over(S: Array, off: Array, kept: list[int], i: int) -> float:
    """What a row that follows from the kept ones still is off when they are met."""
    if not kept:
        return float(off[i])
    parts = np.linalg.lstsq(S[kept].T, S[i], rcond=None)[0]
    return float(off[i] - parts @ off[kept])


def _least_change(
    S: Array, off: Array, limits: Sequence[tuple[float, float]], parts: set[str], keys: Sequence[Key]
) -> Array:
    """The moves x with S·x = off: each the same share of its tolerance, and that as small as it can be.

    Dimensions of the measured `parts` move first, as far as their limits; then those of mates and assemblies; beyond
    limits only what is left.
    """
    room = np.array([max((high - low) / 2.0, EXACT_ROOM) for low, high in limits])
    near = np.array([k[0] in parts for k in keys], dtype=bool)
    up = np.array([max(high, 0.0) for _, high in limits]) / room
    down = np.array([max(-low, 0.0) for low, _ in limits]) / room
    moves = np.zeros(room.size)
    for rows, columns in blocks(S):
        part = S[np.ix_(rows, columns)] * room[columns]
        found = _block_change(part, off[rows], up[columns], down[columns], near[columns])
        moves[columns] = found * room[columns]
    return moves


def _block_change(S: Array, off: Array, up: Array, down: Array, near: NDArray[np.bool_]) -> Array:
    """In tolerance units. Unknowns: moves up, moves down, share of the near, share of the far, beyond all limits."""
    n = up.size
    first, second, beyond = near.astype(float), (~near).astype(float), np.ones(n)
    above = np.hstack([np.eye(n), np.zeros((n, n)), -np.column_stack([first * up, second * up, beyond])])
    below = np.hstack([np.zeros((n, n)), np.eye(n), -np.column_stack([first * down, second * down, beyond])])
    whole = np.zeros((2, 2 * n + 3))
    whole[0, 2 * n] = whole[1, 2 * n + 1] = 1.0
    cost = np.concatenate([SLIGHT * np.ones(2 * n), [1.0, FAR, BEYOND]])
    equal = np.hstack([S, -S, np.zeros((len(off), 3))])
    found = maximise(-cost, np.vstack([above, below, whole]), np.concatenate([np.zeros(2 * n), np.ones(2)]), equal, off)
    return np.zeros(n) if found is None else np.asarray(found[:n] - found[n : 2 * n])
