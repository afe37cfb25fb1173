"""Which pieces come out of which bar: exact for a handful, else the longest first with the bound said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

BUDGET = 20000
"""Places tried before the search is given up."""
SAME_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Packing:
    """`bars`: for each bar the pieces that come out of it, by their place in the list; `left`: what found no room.
    `is_exact`: nothing less can be left, and no fewer bars do."""

    bars: tuple[tuple[int, ...], ...]
    left: tuple[int, ...]
    is_exact: bool

    @property
    def used(self) -> int:
        """How many bars are begun."""
        return sum(1 for bar in self.bars if bar)


def pack(pieces_mm: Sequence[float], bars_mm: Sequence[float], budget: int = BUDGET) -> Packing:
    """Pieces into bars: the least length left out, then the fewest bars, then the least length of bar begun.

    Parameters
        pieces_mm: each piece with its kerf. [mm]
        bars_mm: what of each bar can be sawn up. [mm]
    Returns
        Packing; by branch and bound, or when the budget is spent the best found, `is_exact` False.
    """
    search = _Search(tuple(pieces_mm), tuple(bars_mm), budget)
    search.longest_first()
    search.go(0, list(bars_mm), 0.0)
    return Packing(search.bars(), search.left(), search.budget > 0)


Cost = tuple[float, int, float]


class _Search:
    """Branch and bound over the pieces, longest first. `best[k]`: the bar of the k-th longest, -1 for left out."""

    def __init__(self, pieces_mm: tuple[float, ...], bars_mm: tuple[float, ...], budget: int) -> None:
        self.bars_mm, self.budget = bars_mm, budget
        self.order = sorted(range(len(pieces_mm)), key=lambda k: -pieces_mm[k])
        self.long = [pieces_mm[k] for k in self.order]
        self.after = [sum(self.long[k:]) for k in range(len(self.long) + 1)]
        self.now = [-1] * len(self.long)
        self.best = list(self.now)
        self.cost: Cost = (float("inf"), 0, 0.0)

    def _cost(self, left: float) -> Cost:
        begun = {bar for bar in self.now if bar >= 0}
        return left, len(begun), sum(self.bars_mm[bar] for bar in begun)

    def longest_first(self) -> None:
        """A first answer: each piece into the shortest bar that still takes it."""
        room, left = list(self.bars_mm), 0.0
        for k, piece in enumerate(self.long):
            fits = [bar for bar in range(len(room)) if room[bar] >= piece - SAME_MM]
            begun = [bar for bar in fits if bar in self.now[:k]]
            at = min(begun or fits, key=lambda bar: room[bar], default=-1)
            self.now[k] = at
            if at < 0:
                left += piece
            else:
                room[at] -= piece
        self.best, self.cost = list(self.now), self._cost(left)
        self.now = [-1] * len(self.long)

    def go(self, k: int, room: list[float], left: float) -> None:
        """Every place for the k-th longest piece that can still better the best."""
        if k == len(self.long):
            cost = self._cost(left)
            if self._is_less(cost):
                self.best, self.cost = list(self.now), cost
            return
        self.budget -= 1
        if self.budget <= 0:
            return
        least = left + max(0.0, self.after[k] - sum(room))
        begun = {bar for bar in self.now[:k] if bar >= 0}
        if not self._is_less((least, len(begun), sum(self.bars_mm[bar] for bar in begun))):
            return
        tried: set[tuple[float, float, bool]] = set()
        for bar in sorted(range(len(room)), key=lambda b: (b not in begun, room[b])):
            kind = (round(room[bar], 6), self.bars_mm[bar], bar in begun)
            if room[bar] < self.long[k] - SAME_MM or kind in tried:
                continue
            tried.add(kind)
            self.now[k] = bar
            room[bar] -= self.long[k]
            self.go(k + 1, room, left)
            room[bar] += self.long[k]
        self.now[k] = -1
        self.go(k + 1, room, left + self.long[k])

    def _is_less(self, cost: Cost) -> bool:
        apart = cost[0] - self.cost[0]
        return apart < -SAME_MM or (abs(apart) <= SAME_MM and cost[1:] < self.cost[1:])

    def bars(self) -> tuple[tuple[int, ...], ...]:
        """The pieces of each bar."""
        return tuple(
            tuple(self.order[k] for k, at in enumerate(self.best) if at == bar) for bar in range(len(self.bars_mm))
        )

    def left(self) -> tuple[int, ...]:
        """The pieces that found no room."""
        return tuple(self.order[k] for k, at in enumerate(self.best) if at < 0)
