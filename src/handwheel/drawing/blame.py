"""Which dimensions make a shape that cannot be, by how much each misses, and what would do."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from handwheel.drawing.group import Given, Group
from handwheel.drawing.junctions import Equation
from handwheel.drawing.movements import sensitivities
from handwheel.drawing.rulings import Broken
from handwheel.drawing.settle import Settled, active_equations, measured_off
from handwheel.drawing.solve import attempt
from handwheel.drawing.trial import Baseline, baseline, clusters, impossible, stuck_keys, tried, with_size

STEPS = (1.02, 1.5, 4.0)
"""How far past where the first derivative says it would do a size is tried, in parts of the way there."""
TIMES = (1.02, 0.98, 1.1, 0.9, 1.3, 0.7, 2.0, 0.5, 4.0, 0.25)
"""What a size is multiplied by in search of one that has a shape."""
HALVINGS = 13
MOST = 40


@dataclass
class Blamed:
    """A dimension that makes it so: with its number beyond `bound` (on the side of `way`) there is a shape.

    `exact`: where other sizes leave it only one number.
    """

    given: Given
    bound: float
    way: int
    exact: float | None = None


@dataclass
class Impossible:
    """What cannot be, and the dimensions of which each, changed alone, would make it possible.

    `said`: what the shape itself asks that cannot be met; `stuck` the keys of that.
    """

    what: list[Broken]
    features: tuple[str, ...]
    part: str
    members: list[Blamed] = field(default_factory=list)
    said: tuple[str, ...] = ()
    stuck: frozenset[tuple[str, str, tuple[str, ...]]] = frozenset()


def stuck_fault(settled: Settled) -> Impossible:
    """Why surfaces cannot meet: every dimension whose size alone could let all of them, else the fewest of them."""
    group = settled.group
    gone = {r.given.index for r in settled.repeats}
    clash = _Clash(group, active_equations(group, gone), settled.stuck)
    made = _clash_fault(settled, clash)
    if not made.members:
        clash.reduce()
        made = _clash_fault(settled, clash)
    return made


def _clash_fault(settled: Settled, clash: _Clash) -> Impossible:
    group, least = settled.group, clash.core()
    features = tuple(dict.fromkeys(f for e in least for f in e.features if f))
    if not features:
        features = tuple(dict.fromkeys(e.source.phrase.text for e in least if e.source is not None))
    part = next((e.part for e in least if e.part), next(iter(group.shapes)))
    said = tuple(dict.fromkeys(e.what for e in least if e.what))
    made = Impossible([], features, part, said=said, stuck=stuck_keys(least))
    gone = {r.given.index for r in settled.repeats}
    near = sorted((g for g in group.givens if g.index not in gone), key=lambda g: not concerns(g, features, part))
    for given in near[:MOST]:
        bound = clash.bound(given)
        if bound is None:
            continue
        found = tried(group, {given.index: with_size(given, bound)})
        still = {f for b in impossible(found) for f in b.features}
        if not still & set(features):
            made.members.append(Blamed(given, bound, 1 if bound > given.nominal else -1))
    made.members.sort(key=lambda b: b.given.index)
    return made


class _Clash:
    """Equations that no shape satisfies, the others holding; and what sizes would let one."""

    def __init__(self, group: Group, equations: Sequence[Equation], stuck: Sequence[Equation]) -> None:
        self.group = group
        names = {_name(e) for e in stuck}
        tied = [e for e in equations if _name(e) in names]
        self.least, self.equations = list(tied), list(equations)

    def reduce(self) -> None:
        """Keep the fewest of them that no shape satisfies."""
        for one in list(self.least):
            rest = [e for e in self.least if e is not one]
            kept = [e for e in self.equations if e is not one]
            if rest and not self._is_met(kept, rest):
                self.least, self.equations = rest, kept

    def core(self) -> list[Equation]:
        """Those of them that are not met even alone; all of them where each is."""
        alone = []
        for one in self.least:
            kept = [e for e in self.equations if e is one or e not in self.least]
            if not self._is_met(kept, [one]):
                alone.append(one)
        return alone or self.least

    def _is_met(self, equations: Sequence[Equation], wanted: Sequence[Equation]) -> bool:
        found = attempt(self.group, list(equations))
        names = {_name(e) for e in wanted}
        return bool(found.shapes) or (bool(found.stuck) and not any(_name(e) in names for e in found.stuck))

    def _would_do(self, given: Given, size: float) -> bool:
        typed, given.nominal = given.nominal, size
        try:
            return self._is_met(self.equations, self.least)
        finally:
            given.nominal = typed

    def bound(self, given: Given) -> float | None:
        """The number nearest to what is typed with which they are met; None where there is none."""
        without = [e for e in self.equations if e.param != given.index]
        if not self._is_met(without, self.least):
            return None
        found = attempt(self.group, without)
        start = [given.nominal + measured_off(self.group, given, v) for v in found.shapes[:3]]
        guesses = [*filter(math.isfinite, start), *(given.nominal * t for t in TIMES)]
        return bounded(lambda size: self._would_do(given, size), given.nominal, guesses)


def _name(equation: Equation) -> tuple[str, str, tuple[str, ...], int]:
    """What tells an equation from others when they are made again."""
    return equation.part, equation.what, equation.features, equation.param


def bounded(would_do: Callable[[float], bool], typed: float, guesses: Sequence[float]) -> float | None:
    """The number nearest to what is typed that would do, found by halving from the first guess that does."""
    good = next((g for g in guesses if (g > 0.0 or typed <= 0.0) and would_do(g)), None)
    if good is None:
        return None
    bad = typed
    for _ in range(HALVINGS):
        middle = (good + bad) / 2.0
        if would_do(middle):
            good = middle
        else:
            bad = middle
    return good


def concerns(given: Given, features: Sequence[str], part: str) -> bool:
    """Whether the dimension speaks of one of the features."""
    phrase = given.dimension.phrase
    named = {phrase.feature, *(p.feature for p in (phrase.start, phrase.end, phrase.at) if p is not None)}
    return given.part == part and bool(named & set(features))


def broken_faults(settled: Settled) -> list[Impossible]:
    """Why the shape found cannot be: one for each set of rulings broken that share their causes."""
    broken = impossible(settled)
    if not broken:
        return []
    reach = [_reaching(settled, b) for b in broken]
    order = range(len(broken))
    found: list[Impossible] = []
    for cluster in clusters(list(order), lambda i: {g.index for g in reach[i]}):
        one = _blame(settled, [broken[i] for i in cluster], [reach[i] for i in cluster])
        if one.members or len(cluster) == 1:
            found.append(one)
        else:
            found += [_blame(settled, [broken[i]], [reach[i]]) for i in cluster]
    return found


def _reaching(settled: Settled, one: Broken) -> list[Given]:
    """The given sizes on which what is broken rests."""
    group, v = settled.group, settled.v
    assert v is not None
    gone = {r.given.index for r in settled.repeats}
    kept = [g for g in group.givens if g.index not in gone]
    if not one.margins:
        return [g for g in kept if concerns(g, one.features, one.part)]
    rates = _rates(settled, one, kept)
    most = float(np.abs(rates).max(initial=0.0))
    return [g for g, column in zip(kept, rates.T, strict=True) if np.abs(column).max() > 1e-7 * max(most, 1e-12)]


def _rates(settled: Settled, one: Broken, kept: Sequence[Given]) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    """(margins, givens) how every margin changes with every given number."""
    assert settled.v is not None
    places = [g.index for g in kept]
    rows = [sensitivities(settled.group, settled.equations, settled.v, m, places) for m in one.margins]
    return np.array(rows)


def _blame(settled: Settled, broken: Sequence[Broken], reach: Sequence[Sequence[Given]]) -> Impossible:
    """Of the dimensions they rest on, those of which a change alone mends them all and breaks nothing."""
    features = tuple(dict.fromkeys(f for b in broken for f in b.features))
    made = Impossible(list(broken), features, broken[0].part)
    need = frozenset(b.key for b in broken)
    base = baseline(settled, need)
    shared = {g.index: g for given in reach for g in given}
    for given in list(shared.values())[:MOST]:
        blamed = _bounded(settled, given, list(_guesses(settled, broken, given)), base)
        if blamed is not None:
            made.members.append(blamed)
    made.members.sort(key=lambda b: b.given.index)
    return made


def _guesses(settled: Settled, broken: Sequence[Broken], given: Given) -> Iterator[float]:
    """Numbers for the given size at which, to first order, nothing would be broken."""
    assert settled.v is not None
    wanted: list[float] = []
    for one in broken:
        for margin, rate in zip(one.margins, _rates(settled, one, [given])[:, 0], strict=True) if one.margins else ():
            if abs(rate) > 1e-12:
                wanted.append(-float(margin(settled.v)) / float(rate))
    for step in STEPS:
        yield from (given.nominal + w * step for w in sorted(wanted, key=abs, reverse=True))
    if not wanted:
        yield from (given.nominal * t for t in TIMES)


def _bounded(
    settled: Settled, given: Given, guesses: Sequence[float], base: Baseline
) -> Blamed | None:
    """The number nearest to what is typed with which nothing is wrong; None where there is none."""
    group, typed = settled.group, given.nominal

    def would_do(size: float) -> bool:
        return base.is_restored(tried(group, {given.index: with_size(given, size)}))

    for guess in guesses[:2]:  # where the first derivative is exact, it needs no search
        near = (guess - typed) / STEPS[0]
        if typed + near > 0.0 and would_do(typed + near * 1.0001) and not would_do(typed + near * 0.9999):
            return Blamed(given, typed + near, 1 if near > 0 else -1)
    good = bounded(would_do, typed, guesses)
    return None if good is None else Blamed(given, good, 1 if good > typed else -1)
