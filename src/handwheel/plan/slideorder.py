"""Among running orders with the same set-ups, one that swings the top slide, or a taper attachment, less often.

`plan/sequence.py` finds the fewest set-ups; a slide's angle outlasts a change of holding, so which of the orders with those
set-ups is taken still matters. Stretches of visits are moved while that saves a swing and keeps what has to come first. Not
exact: it ends where no one move saves any.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from handwheel.plan.oneslide import ANGLES
from handwheel.plan.records import Operation
from handwheel.plan.sequence import Run

Visit = tuple[str, tuple[Run, ...]]
Wants = tuple[str, ...]
MOST_VISITS = 60
"""With more visits none is moved: it would take longer than it saves."""
LONGEST = 4
"""Visits that are moved together at the most."""


def fewest_swings(visits: Sequence[Visit], operations: Mapping[tuple[str, int], Operation]) -> tuple[Visit, ...]:
    """The same visits, moved about where that saves swinging a slide.

    Parameters
        visits: as the search found them.
        operations: by part and number.
    """
    order = list(visits)
    wants = {id(visit): _wants(visit, operations) for visit in order}
    wanted = [want for visit in order for want in wants[id(visit)]]
    if len(order) > MOST_VISITS or len(wanted) == len(set(wanted)):
        return tuple(order)
    best = _swings(order, wants)
    while True:
        moved = next((new for new in _moves(order) if _swings(new, wants) < best and _keeps(new)), None)
        if moved is None:
            return tuple(order)
        order, best = moved, _swings(moved, wants)


def _wants(visit: Visit, operations: Mapping[tuple[str, int], Operation]) -> Wants:
    """What each operation of a visit wants of the slide, one after another."""
    found: list[str] = []
    for run in visit[1]:
        for number in run.numbers:
            operation = operations[run.part, number]
            for setting in operation.settings:
                if setting.layer in ANGLES:
                    want = f"{setting.layer} {setting.value or 0.0:.3f} {setting.side}"
                    found += [] if found[-1:] == [want] else [want]
    return tuple(found)


def _swings(order: Sequence[Visit], wants: Mapping[int, Wants]) -> int:
    """How often a slide is set otherwise than it stands, each kind counted by itself."""
    every = [want for visit in order for want in wants[id(visit)]]
    kinds = [[want for want in every if want.startswith(layer)] for layer in ANGLES]
    return sum(one != other for kind in kinds for one, other in pairwise(kind))


def _moves(order: Sequence[Visit]) -> list[list[Visit]]:
    """Every order in which a stretch of visits stands elsewhere."""
    found = []
    for length in range(1, LONGEST + 1):
        for start in range(len(order) - length + 1):
            stretch, rest = order[start : start + length], [*order[:start], *order[start + length :]]
            found += [[*rest[:to], *stretch, *rest[to:]] for to in range(len(rest) + 1) if to != start]
    return found


def _keeps(order: Sequence[Visit]) -> bool:
    """Whether each part's own order is kept, and what waits for others comes after them."""
    left: dict[str, int] = {}
    for _, runs in order:
        for run in runs:
            left[run.part] = left.get(run.part, 0) + 1
    at: dict[str, int] = {}
    done: set[tuple[str, int]] = set()
    for _, runs in order:
        for run in runs:
            if run.numbers and run.numbers[0] < at.get(run.part, 0):
                return False
            if any(left.get(part, 0) > 0 for part in run.after) or any(size not in done for size in run.after_sizes):
                return False
            at[run.part] = max(run.numbers, default=0)
            left[run.part] -= 1
            done.update((run.part, number) for number in run.numbers)
    return True
