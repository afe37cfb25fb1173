"""Linear equations eliminated row by row, keeping account of which rows a dependent one is made of.

Rows are sparse and come in order of trust; one that adds nothing is reported as a loop: the rows it is a sum of, and
by how much they fail to close. What is kept is fully reduced, so work and memory go with the numbers that are tied.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field

Row = dict[int, float]
"""Coefficient by place; the constant under `CONST`."""
CONST = -1
RANK = 1e-9
"""A row whose rest is smaller than this, rows being of size 1, is dependent."""
FAVOUR = 16.0
"""How much smaller a coefficient may be for its place to be worked out first."""
NOTHING = 1e-12
"""A coefficient smaller than this, rows being of size 1, is rounding."""


@dataclass
class Loop:
    """Rows that depend on each other: sum of weight_i times row_i is zero; `misclosure` that sum of constants."""

    weights: dict[int, float]
    misclosure: float


@dataclass
class Reduced:
    """Every pivot as a sum over free places, numbers at `count` and above, and the constant.

    `felt`: by free place, the pivots that move with it. `tracks`: where asked, how a pivot moves with each row's rest.
    """

    count: int
    table: dict[int, Row] = field(default_factory=dict)
    felt: dict[int, set[int]] = field(default_factory=lambda: defaultdict(set))
    tracks: dict[int, Row] = field(default_factory=dict)
    loops: list[Loop] = field(default_factory=list)

    @property
    def free(self) -> list[int]:
        """The places that no row settles, in order."""
        return [j for j in range(1, self.count) if j not in self.table]

    def moved_by(self, free: Sequence[int]) -> list[int]:
        """The places that move with any of these free ones, themselves included, in order."""
        found = set(free)
        for f in free:
            found |= self.felt.get(f, set())
        return sorted(found)

    def share(self, place: int, free: int) -> float:
        """How a place moves with a free one."""
        return 1.0 if place == free else self.table.get(place, {}).get(free, 0.0)

    def row(self, place: int) -> Row:
        """The place as a sum over free places, numbers and the constant."""
        return self.table.get(place, {place: 1.0})

    def filled(self, v: Sequence[float]) -> list[float]:
        """v with every pivot worked out from the free places and numbers in it."""
        made = list(v)
        for place, row in self.table.items():
            made[place] = sum(c * (1.0 if j == CONST else v[j]) for j, c in row.items())
        return made


def eliminate(
    rows: Sequence[Row], count: int, last: Collection[int] = (), *, is_tracked: bool = False
) -> Reduced:
    """Reduce `row · x + constant = 0` over the places 1 to count - 1; others in a row are numbers, never pivots.

    `last`: places that are to be worked out from the others rather than the others from them.
    """
    return extend(Reduced(count), [], rows, last, is_tracked=is_tracked)


def extend(
    made: Reduced, before: Sequence[Row], rows: Sequence[Row], last: Collection[int] = (), *, is_tracked: bool = False
) -> Reduced:
    """The same with more rows after those `before`, of which `made` was made (and is used up)."""
    found = _extend(made, rows, len(before), last, is_tracked=is_tracked)
    if is_tracked or not found.loops:
        return found
    # the account of what a dependent row is made of is kept only when there is one
    return _extend(Reduced(made.count), [*before, *rows], 0, last, is_tracked=True)


def _extend(made: Reduced, rows: Sequence[Row], first: int, last: Collection[int], *, is_tracked: bool) -> Reduced:
    count, table, felt, tracks = made.count, made.table, made.felt, made.tracks
    for i, row in enumerate(rows, first):
        size = max((abs(c) for j, c in row.items() if 0 < j < count), default=0.0) or 1.0
        work: Row = {}
        track: Row = {i: 1.0 / size} if is_tracked else {}
        for j, c in row.items():
            if j in table:
                _add(work, table[j], c / size)
                if is_tracked:
                    _add(track, tracks[j], c / size)
            else:
                work[j] = work.get(j, 0.0) + c / size
        pivot = _pivot(work, count, last)
        if not pivot:
            made.loops.append(Loop({k: w for k, w in track.items() if abs(w) > RANK}, work.get(CONST, 0.0)))
            if not is_tracked:
                return made
            continue
        scale = -1.0 / work.pop(pivot)
        solved = {j: c * scale for j, c in work.items() if j == CONST or abs(c * scale) > NOTHING}
        rest = {k: w * scale for k, w in track.items()}
        for other in felt.pop(pivot, ()):
            share = table[other].pop(pivot)
            _add(table[other], solved, share)
            if is_tracked:
                _add(tracks[other], rest, share)
            for j in solved:
                if 0 < j < count:
                    if abs(table[other][j]) > NOTHING:
                        felt[j].add(other)
                    else:
                        del table[other][j]
                        felt[j].discard(other)
        table[pivot] = solved
        if is_tracked:
            tracks[pivot] = rest
        for j in solved:
            if 0 < j < count:
                felt[j].add(pivot)
    _tidy(made)
    return made


def _pivot(work: Row, count: int, last: Collection[int]) -> int:
    """The place with the greatest coefficient, one of the last ones if any will do; 0 when there is none."""
    pivot, head = 0, RANK
    for j, c in work.items():
        if 0 < j < count:
            size = abs(c) * (FAVOUR if j in last else 1.0)
            if size > head or (size == head and j < pivot):
                pivot, head = j, size
    return pivot


def _add(into: Row, row: Row, factor: float) -> None:
    for j, c in row.items():
        into[j] = into.get(j, 0.0) + factor * c


def _tidy(made: Reduced) -> None:
    """Leave out what is only rounding, and places with no say."""
    for row in made.table.values():
        for j in [j for j, c in row.items() if j != CONST and abs(c) <= NOTHING]:
            del row[j]
    made.felt.clear()
    for place, row in made.table.items():
        for j in row:
            if 0 < j < made.count:
                made.felt[j].add(place)
