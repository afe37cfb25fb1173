"""The order of set-ups with the least making of them: an exact search over how far every part's route has come.

Each part's route is a chain of runs, a run being what is done in one set-up. A visit to a set-up takes the next run of
every part that stands before it. To leave one out never helps: a part that is farther on can follow whatever a part
that is less far on does, and only fewer parts are then waited for. So a state is how far each chain has come, and A* over
states finds the least sum of weights. Two bounds from below, the greater counts: every set-up as often as the part that
still wants it most often; and the least for any two chains alone. When the search is stopped, the plain order is kept
and the bound reached is told.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

Weight = Callable[[str], int]
State = tuple[int, ...]
MOST_STATES = 20000
PAIRED = 24
"""Chains of which pairs are looked at: more would take longer than they save."""


@dataclass(frozen=True, slots=True)
class Run:
    """Consecutive operations of one part in one set-up. `after`: parts to be finished before it."""

    part: str
    key: str
    numbers: tuple[int, ...] = ()
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Found:
    """Visits in order, each a set-up and the runs made in it; the sum of their weights, and the least there can be."""

    visits: tuple[tuple[str, tuple[Run, ...]], ...]
    cost: int
    least: int

    @property
    def is_least(self) -> bool:
        """Whether no order makes set-ups for less."""
        return self.cost <= self.least


def least_order(routes: Mapping[str, Sequence[Run]], weight: Weight, most_states: int = MOST_STATES) -> Found:
    """The visits with the least sum of weights.

    Parameters
        routes: each part's runs in order; neighbours differ in their set-up.
        weight: what it costs to make a set-up once.
        most_states: states looked at before the plain order is kept.
    """
    chains = _Chains(routes, weight)
    plain = chains.plainly()
    keys, least = chains.search(plain, most_states)
    return Found(chains.visits(keys), sum(weight(k) for k in keys), least)


class _Chains:
    """Chains that differ, each standing for the parts that share it."""

    def __init__(self, routes: Mapping[str, Sequence[Run]], weight: Weight) -> None:
        self.weight = weight
        self.parts: dict[tuple[tuple[str, tuple[str, ...]], ...], list[str]] = {}
        for part, runs in routes.items():
            self.parts.setdefault(tuple((r.key, r.after) for r in runs), []).append(part)
        self.routes = routes
        self.keys = [tuple(key for key, _ in chain) for chain in self.parts]
        of = {part: i for i, members in enumerate(self.parts.values()) for part in members}
        self.after = [[tuple(of[p] for p in after if p in of and of[p] != i) for _, after in chain]
                      for i, chain in enumerate(self.parts)]  # fmt: skip
        self.end = tuple(len(keys) for keys in self.keys)
        self.left = [[_counts(keys[i:]) for i in range(len(keys) + 1)] for keys in self.keys]
        ways = range(min(len(self.keys), PAIRED))
        self.pairs = {(i, j): _both(self.keys[i], self.keys[j], weight) for i, j in combinations(ways, 2)}

    def waiting(self, state: State) -> dict[str, list[int]]:
        """Set-ups that a chain stands before, with those chains; all of them where each waits for another."""
        open_ = [i for i, at in enumerate(state) if at < self.end[i]]
        ready = [i for i in open_ if all(state[p] == self.end[p] for p in self.after[i][state[i]])] or open_
        found: dict[str, list[int]] = {}
        for i in ready:
            found.setdefault(self.keys[i][state[i]], []).append(i)
        return found

    def visit(self, state: State, key: str) -> State:
        """As it stands after the set-up, with what becomes ready in it."""
        at, moved = list(state), set[int]()
        while True:
            ready = [i for i in self.waiting(tuple(at)).get(key, []) if i not in moved]
            if not ready:
                return tuple(at)
            for i in ready:
                at[i] += 1
            moved.update(ready)

    def bound(self, state: State) -> int:
        """What is still to be made, at least."""
        most: dict[str, int] = {}
        for i, at in enumerate(state):
            for key, count in self.left[i][at].items():
                most[key] = max(most.get(key, 0), count)
        singly = sum(self.weight(key) * count for key, count in most.items())
        return max([singly, *(table[state[i]][state[j]] for (i, j), table in self.pairs.items())])

    def plainly(self) -> tuple[str, ...]:
        """Greedy: the set-up that no other chain still has farther on, then the one that serves most."""
        state, keys = (0,) * len(self.end), list[str]()
        while state != self.end:
            ways = self.waiting(state)
            last = {key: self._farther(state, key, chains) for key, chains in ways.items()}
            key = min(ways, key=lambda k: (last[k], -len(ways[k]), self.weight(k), k))
            state = self.visit(state, key)
            keys.append(key)
        return tuple(keys)

    def _farther(self, state: State, key: str, chains: Iterable[int]) -> int:
        beside = set(chains)
        return sum(1 for i, at in enumerate(state) if i not in beside and key in self.left[i][at])

    def search(self, plain: tuple[str, ...], most_states: int) -> tuple[tuple[str, ...], int]:
        """The least order, or the plain one, with the bound from below."""
        start: State = (0,) * len(self.end)
        known = sum(self.weight(k) for k in plain)
        spent: dict[State, int] = {start: 0}
        came: dict[State, tuple[State, str]] = {}
        count, done = 0, set[State]()
        heap: list[tuple[int, int, int, State]] = [(self.bound(start), 0, 0, start)]
        while heap:
            least, _, _, state = heapq.heappop(heap)
            if least >= known:
                return plain, known
            if state == self.end:
                return self._back(came, state), least
            if state in done:
                continue
            done.add(state)
            if len(done) > most_states:
                return plain, least
            for key in sorted(self.waiting(state), key=lambda k: (self.weight(k), k)):
                after = self.visit(state, key)
                cost = spent[state] + self.weight(key)
                if cost < spent.get(after, known + 1):
                    spent[after], came[after] = cost, (state, key)
                    count += 1
                    heapq.heappush(heap, (cost + self.bound(after), -sum(after), count, after))
        return plain, known

    @staticmethod
    def _back(came: Mapping[State, tuple[State, str]], state: State) -> tuple[str, ...]:
        keys: list[str] = []
        while state in came:
            state, key = came[state]
            keys.append(key)
        return tuple(reversed(keys))

    def visits(self, keys: Sequence[str]) -> tuple[tuple[str, tuple[Run, ...]], ...]:
        """The runs made at each visit, in the order of the parts, those that wait for others last."""
        state: State = (0,) * len(self.end)
        members = list(self.parts.values())
        found = []
        for key in keys:
            after = self.visit(state, key)
            chains = {i for i in range(len(state)) if after[i] > state[i]}
            first = {part for i in chains for part in members[i] if not self.after[i][state[i]]}
            runs = {part: self.routes[part][state[i]] for i in chains for part in members[i]}
            order = sorted((p for p in self.routes if p in runs), key=lambda p: p not in first)
            found.append((key, tuple(runs[p] for p in order)))
            state = after
        return tuple(found)


def _counts(keys: Iterable[str]) -> dict[str, int]:
    found: dict[str, int] = {}
    for key in keys:
        found[key] = found.get(key, 0) + 1
    return found


def _both(one: Sequence[str], other: Sequence[str], weight: Weight) -> list[list[int]]:
    """What two chains alone want at least, from every place of the one and the other."""
    table = [[0] * (len(other) + 1) for _ in range(len(one) + 1)]
    for i in range(len(one), -1, -1):
        for j in range(len(other), -1, -1):
            ways = []
            if i < len(one) and j < len(other) and one[i] == other[j]:
                ways.append(weight(one[i]) + table[i + 1][j + 1])
            if i < len(one):
                ways.append(weight(one[i]) + table[i + 1][j])
            if j < len(other):
                ways.append(weight(other[j]) + table[i][j + 1])
            table[i][j] = min(ways, default=0)
    return table
