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
from itertools import combinations, pairwise

Weight = Callable[[str], int]
State = tuple[int, ...]
MOST_LOOKS = 30000
"""Looks at a chain, over all states, before the search is stopped: about a second."""
PAIRED = 24
"""Chains of which pairs are looked at: more would take longer than they save."""


@dataclass(frozen=True, slots=True)
class Run:
    """Consecutive operations of one part in one set-up. `after`: parts to be finished before it. `after_sizes`: part and
    number of the operations that are to be done before it."""

    part: str
    key: str
    numbers: tuple[int, ...] = ()
    after: tuple[str, ...] = ()
    after_sizes: tuple[tuple[str, int], ...] = ()


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


def least_order(routes: Mapping[str, Sequence[Run]], weight: Weight, most_looks: int = MOST_LOOKS) -> Found:
    """The visits with the least sum of weights.

    Parameters
        routes: each part's runs in order; neighbours of one set-up are one visit unless the second has to wait.
        weight: what it costs to make a set-up once.
        most_looks: looks at a chain before the search is stopped and the plain order is kept.
    """
    chains = _Chains(routes, weight)
    plain = chains.plainly()
    keys, least = chains.search(plain, most_looks // max(1, len(chains.keys)))
    return Found(chains.visits(keys), sum(weight(k) for k in keys), least)


class _Chains:
    """Chains that differ, each standing for the parts that share it."""

    def __init__(self, routes: Mapping[str, Sequence[Run]], weight: Weight) -> None:
        self.weight = weight
        self.parts: dict[tuple[tuple[object, ...], ...], list[str]] = {}
        for part, runs in routes.items():
            self.parts.setdefault(tuple((r.key, r.after, r.after_sizes) for r in runs), []).append(part)
        self.routes = routes
        chains = [routes[members[0]] for members in self.parts.values()]
        self.keys = [tuple(run.key for run in runs) for runs in chains]
        self.of = {part: i for i, members in enumerate(self.parts.values()) for part in members}
        self.after = [[self._waits(run, i) for run in runs] for i, runs in enumerate(chains)]
        self.end = tuple(len(keys) for keys in self.keys)
        self.left = [[_counts(_visits(keys[i:])) for i in range(len(keys) + 1)] for keys in self.keys]
        self.group = [[len(_visits(keys)) - len(_visits(keys[i:])) for i in range(len(keys) + 1)] for keys in self.keys]
        ways = range(min(len(self.keys), PAIRED))
        self.pairs = {(i, j): _both(_visits(self.keys[i]), _visits(self.keys[j]), weight) for i, j in combinations(ways, 2)}

    def _waits(self, run: Run, own: int) -> tuple[tuple[int, int], ...]:
        """Chains that a run waits for, each with how many of its runs are to be done."""
        whole = [(self.of[p], len(self.routes[p])) for p in run.after if p in self.of]
        sizes = [(self.of[p], 1 + k) for p, number in run.after_sizes if p in self.of
                 for k, other in enumerate(self.routes[p]) if number in other.numbers]  # fmt: skip
        return tuple((i, count) for i, count in (*whole, *sizes) if i != own)

    def waiting(self, state: State) -> dict[str, list[int]]:
        """Set-ups that a chain stands before, with those chains; all of them where each waits for another."""
        open_ = [i for i, at in enumerate(state) if at < self.end[i]]
        ready = [i for i in open_ if all(state[p] >= n for p, n in self.after[i][state[i]])] or open_
        found: dict[str, list[int]] = {}
        for i in ready:
            found.setdefault(self.keys[i][state[i]], []).append(i)
        return found

    def visit(self, state: State, key: str) -> State:
        """As it stands after the set-up, with what becomes ready in it."""
        return self._rounds(state, key)[-1]

    def _rounds(self, state: State, key: str) -> list[State]:
        """How it stands after each round within a visit: what stands before it, then what that made ready."""
        rounds = [state]
        while ready := self.waiting(rounds[-1]).get(key, []):
            rounds.append(tuple(at + (i in ready) for i, at in enumerate(rounds[-1])))
        return rounds

    def bound(self, state: State) -> int:
        """What is still to be made, at least."""
        most: dict[str, int] = {}
        for i, at in enumerate(state):
            for key, count in self.left[i][at].items():
                most[key] = max(most.get(key, 0), count)
        singly = sum(self.weight(key) * count for key, count in most.items())
        return max([singly, *(table[self.group[i][state[i]]][self.group[j][state[j]]] for (i, j), table in self.pairs.items())])

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
        found = []
        for key in keys:
            rounds = self._rounds(state, key)
            runs = [self.routes[part][before[i]] for before, after in pairwise(rounds)
                    for part, i in ((p, self.of[p]) for p in self.routes) if after[i] > before[i]]  # fmt: skip
            found.append((key, tuple(runs)))
            state = rounds[-1]
        return tuple(found)


def _visits(keys: Sequence[str]) -> tuple[str, ...]:
    """Set-ups that stand next to each other as one: what a chain wants at the least."""
    return tuple(key for k, key in enumerate(keys) if k == 0 or key != keys[k - 1])


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
