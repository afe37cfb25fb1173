"""Solving a group: linear equations eliminated, what is left solved a few at a time from several starts.

`attempt` finds every shape that the equations allow, whatever the rulings say, or the loop or set that stops it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from heapq import heapify, heappop, heappush

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.ad import Dual
from handwheel.drawing.blocks import ordered_blocks
from handwheel.drawing.conics import conic_roots
from handwheel.drawing.eliminate import CONST, Loop, Reduced, Row, eliminate, extend
from handwheel.drawing.group import Group, Roots
from handwheel.drawing.guess import first_guess
from handwheel.drawing.junctions import Equation
from handwheel.drawing.levenberg import descend
from handwheel.drawing.quadratic import quadratic_roots
from handwheel.drawing.residual import Positive, Residual, positive_sums
from handwheel.drawing.rulings import broken_rulings
from handwheel.drawing.starts import STARTS, scattered
from handwheel.drawing.straighten import apart, felt, straightened

Array = NDArray[np.float64]
ROOT = 1e-8
"""Greatest residual, rows scaled to mm, of a set that is solved."""
MANY = 16
"""Shapes beyond which those that break a ruling are not followed further."""
MOST = 256
"""Shapes followed at all."""
FAR = 1e4
"""Times the greatest number given: nothing on a drawing is so far off."""
FEW = 12
"""A set of no more equations than this that cannot be is named whole."""


@dataclass
class Attempt:
    """What came of it. `shapes`: full vectors v. `loop`: equations that depend on each other, with weights and the
    misclosure. `stuck`: equations of a set that no shape satisfies. `loose`: how many numbers nothing fixes.
    `is_every`: whether no other shape can be, all having been found in closed form."""

    shapes: list[list[float]] = field(default_factory=list)
    loop: tuple[dict[Equation, float], float] | None = None
    stuck: list[Equation] = field(default_factory=list)
    loose: int = 0
    best: list[float] = field(default_factory=list)
    is_linear: bool = True
    is_every: bool = True


@dataclass
class _Set:
    """Non-linear equations that settle the free numbers `places`; `inputs`: other free numbers they rest on.

    `whole`: all the equations that are tied to these.
    """

    equations: list[Equation]
    places: list[int]
    inputs: list[int]
    whole: list[Equation]


@dataclass
class _System:
    """A group's equations sorted: linear ones with their rows, and what is left of them."""

    group: Group
    linear: list[Equation]
    rows: list[Row]
    reduced: Reduced
    sets: list[_Set]
    positive: Positive


def attempt(
    group: Group,
    equations: list[Equation],
    extra: Sequence[list[float]] = (),
    seed: int = 0,
    starts: int = STARTS,
    *,
    is_closed: bool = False,
) -> Attempt:
    """Solve the equations at the numbers as typed; `extra` are places to start from instead of scattered guesses.

    `is_closed`: by closed forms alone, with no search; what has none counts as stuck.
    """
    count = group.count
    x = [0.0] * count
    for shape in group.shapes.values():
        first_guess(shape, x, None)
    numbers = group.numbers()
    linear, rows, curved = apart(equations, x, numbers)
    offsets = frozenset(group.unknowns.places("offset"))
    reduced = eliminate(rows, count, offsets)
    while not reduced.loops:
        more, added, curved = straightened(curved, reduced, [*x, *numbers])
        if not more:
            break
        reduced = extend(reduced, rows, added, offsets)
        linear, rows = linear + more, rows + added
    if reduced.loops:
        loop = reduced.loops[0]
        return Attempt(loop=({linear[i]: w for i, w in loop.weights.items()}, loop.misclosure))
    if not curved:
        solution = reduced.filled([*x, *numbers])
        return Attempt([solution], loose=len(reduced.free), best=solution)
    touched = [felt(e, places, reduced, [*x, *numbers]) for e, places in curved]
    sets = _sets([e for e, _ in curved], touched)
    system = _System(group, linear, rows, reduced, sets, positive_sums(group))
    found = scattered(group, reduced, [x, *extra], seed, starts)
    return _curved(system, found, numbers, is_closed=is_closed)


def _curved(system: _System, starts: dict[int, Array], numbers: list[float], *, is_closed: bool) -> Attempt:
    reduced, group = system.reduced, system.group
    first = [0.0] * group.count + numbers
    for place, values in starts.items():
        first[place] = float(values[0])
    branches = [reduced.filled(first)]
    result = Attempt(is_linear=False)
    used: set[int] = set()
    pruner = _Pruner(group, reduced)
    far = FAR * max(map(abs, numbers), default=1.0)
    for one in system.sets:
        used |= set(one.places)
        grown: list[list[float]] = []
        known: dict[tuple[float, ...], list[Array]] = {}
        for branch in branches:
            key = tuple(branch[i] for i in one.inputs)
            if key in known:
                grown += [_moved(reduced, branch, one.places, root) for root in known[key]]
                continue
            residual = Residual(one.equations, one.places, reduced, branch, system.positive)
            if is_closed:
                good, point, is_every = _closed_roots(one, residual, starts) or ([], _first(one, starts), False)
            else:
                good, point, is_every = _looked_up(group.solved, one, residual, starts)
            good = [root for root in good if _is_near(residual, root, far)]
            result.is_every &= is_every
            known[key] = good
            here = residual(point[:, None])
            if branch is branches[0]:
                result.best = residual.full(point)
                loop = _set_loop(system, one, residual, point, here, solved=bool(good))
                if loop is not None:
                    result.loop = loop
                    return result
                result.loose += len(one.places) - _rank(here[1][0]) if good else 0
            grown += [_moved(reduced, branch, one.places, root) for root in good]
        if not grown:
            result.stuck = one.whole if len(one.whole) <= FEW else one.equations
            return result
        branches = pruner.kept(grown, used)
    result.loose += len(reduced.free) - len(used)
    result.shapes = [reduced.filled(branch) for branch in branches]
    result.best = result.shapes[0]
    return result


def _looked_up(
    solved: dict[bytes, Roots] | None, one: _Set, residual: Residual, starts: dict[int, Array]
) -> Roots:
    """The roots of a set; as found before where the same equations were solved from the same starts."""
    if solved is None or not one.places:
        return _roots(one, residual, starts)
    key = residual.print_of(np.array([starts[p] for p in one.places]))
    if key not in solved:
        solved[key] = _roots(one, residual, starts)
    return solved[key]


def _first(one: _Set, starts: dict[int, Array]) -> Array:
    """Where the search for a set's numbers begins."""
    return np.array([starts[p][0] for p in one.places])


def _is_near(residual: Residual, root: Array, far: float) -> bool:
    """Whether nothing that moves lies beyond any size of the drawing: what ran away from its start is no solution."""
    v = residual.full(root)
    return all(abs(v[i]) <= far for i in residual.moving)


def _closed_roots(one: _Set, residual: Residual, starts: dict[int, Array]) -> Roots | None:
    """The same as `_roots` where there is a closed form; None where there is none."""
    if not one.places:
        nothing = np.zeros((0, 1))
        left = np.abs(residual(nothing)[0]).max(axis=1)
        return [nothing[:, 0]] if left[0] < ROOT else [], nothing[:, 0], True
    if len(one.places) == len(one.equations) == 1:
        single = quadratic_roots(residual, starts[one.places[0]][0])
        if single is not None:
            return *single, True
    if len(one.places) == len(one.equations) == 2:
        pair = conic_roots(residual, _first(one, starts))
        if pair is not None:
            return *pair, True
    return None


def _roots(one: _Set, residual: Residual, starts: dict[int, Array]) -> Roots:
    """The different solutions of a set; a point, the first of them or the nearest to one; whether there are no more."""
    closed = _closed_roots(one, residual, starts)
    if closed is not None:
        return closed
    ends, left = descend(residual, np.array([starts[p] for p in one.places]), residual.allowed)
    good = [ends[:, k] for k in range(ends.shape[1]) if left[k] < ROOT and np.isfinite(ends[:, k]).all()]
    if good:
        return _distinct(good) if len(one.places) == len(one.equations) else good[:1], good[0], False
    return [], ends[:, int(np.argmin(np.where(np.isfinite(left), left, np.inf)))], False


def _moved(reduced: Reduced, v: list[float], places: list[int], root: Array) -> list[float]:
    """v with the free numbers at `places` put to others, and all that moves with them."""
    made = list(v)
    for place, value in zip(places, root.tolist(), strict=True):
        change = value - v[place]
        for i in reduced.felt.get(place, ()):
            made[i] += reduced.table[i][place] * change
        made[place] = value
    return made


class _Pruner:
    """Leaves out shapes that break a ruling in a part whose numbers are all settled, where there are too many."""

    def __init__(self, group: Group, reduced: Reduced) -> None:
        self.group = group
        self.needs: dict[str, set[int]] = {name: set() for name in group.shapes}
        for i, (part, *_) in enumerate(group.unknowns.names):
            if part:
                self.needs[part] |= {j for j in reduced.row(i) if 0 < j < group.count}

    def kept(self, branches: list[list[float]], used: set[int]) -> list[list[float]]:
        """The branches to follow; those that keep the rulings where any do."""
        if len(branches) <= MANY:
            return branches
        for part in [part for part, places in self.needs.items() if places <= used]:
            del self.needs[part]
            alone = replace(self.group, shapes={part: self.group.shapes[part]})
            good = [v for v in branches if all(b.is_dome for b in broken_rulings(alone, v))]
            branches = good or branches
        return branches[:MOST]


def _sets(curved: list[Equation], felt: Sequence[set[int]]) -> list[_Set]:
    """The non-linear equations, with the free numbers felt by each, in sets that can be solved one after another."""
    touched = [sorted(places) for places in felt]
    tied: list[tuple[list[int], set[int]]] = []
    for e, places in enumerate(touched):
        mine: tuple[list[int], set[int]] = ([e], set(places))
        apart = []
        for other in tied:
            if other[1] & mine[1]:
                mine = (other[0] + mine[0], other[1] | mine[1])
            else:
                apart.append(other)
        tied = [*apart, mine]
    sets: list[_Set] = []
    for members, _ in tied:
        whole = [curved[e] for e in members]
        for inside, places in ordered_blocks([touched[e] for e in members]):
            own = [members[k] for k in inside]
            inputs = sorted({p for e in own for p in touched[e]} - set(places))
            sets.append(_Set([curved[e] for e in own], places, inputs, whole))
    return _part_by_part(sets) if len(sets) > MANY else sets


def _part_by_part(sets: list[_Set]) -> list[_Set]:
    """The sets in an order that still has each after those it rests on, and settles one part after another."""
    owner = {p: k for k, one in enumerate(sets) for p in one.places}
    before = [{owner[p] for p in one.inputs} for one in sets]
    after: dict[int, list[int]] = {}
    for k, some in enumerate(before):
        for b in some:
            after.setdefault(b, []).append(k)
    ready = [(min(sets[k].places, default=0), k) for k, some in enumerate(before) if not some]
    heapify(ready)
    made: list[_Set] = []
    while ready:
        _, k = heappop(ready)
        made.append(sets[k])
        for other in after.get(k, ()):
            before[other].discard(k)
            if not before[other]:
                heappush(ready, (min(sets[other].places, default=0), other))
    return made


def _rank(jac: Array) -> int:
    if not jac.size:
        return 0
    jac = np.where(np.isfinite(jac), jac, 0.0)
    size = np.abs(jac).max(axis=1, keepdims=True)
    values = np.linalg.svd(jac / np.where(size > 0, size, 1.0), compute_uv=False)
    return int((values > 1e-7 * max(1e-300, float(values[0]))).sum()) if values[0] > 0 else 0


def _set_loop(
    system: _System, one: _Set, residual: Residual, point: Array, here: tuple[Array, Array], *, solved: bool
) -> tuple[dict[Equation, float], float] | None:
    """The loop in a set with more equations than rank, the linear rows it leans on included."""
    f, jac = (a[0] for a in here)
    m, p = jac.shape
    if not (np.isfinite(jac).all() and np.isfinite(f).all()):
        return None
    if m <= p:
        if not solved or _rank(jac) == m:
            return None
        shaken = residual((point * 1.013 + 0.0171 * (1.0 + np.arange(p)))[:, None])[1][0]
        if _rank(shaken) == m:
            return None
    size = np.maximum(np.abs(jac).max(axis=1, initial=0.0), 1e-9)
    order = sorted(range(m), key=lambda i: one.equations[i].source is not None)
    rows: list[Row] = [
        {CONST: float(f[i] / size[i]), **{j + 1: float(d) for j, d in enumerate(jac[i] / size[i]) if d}} for i in order
    ]
    made = eliminate(rows, p + 1)
    if not made.loops:
        return None
    loop: Loop = made.loops[0]
    weights = {one.equations[order[i]]: w / float(size[order[i]]) for i, w in loop.weights.items()}
    pull = _pull(system, residual.full(point), weights)
    most = max((abs(w) for w in pull.values()), default=0.0)
    weights.update({e: w for e, w in pull.items() if abs(w) > 1e-9 * max(1e-300, most)})
    return weights, float(loop.misclosure)


def _pull(system: _System, v: list[float], weights: dict[Equation, float]) -> dict[Equation, float]:
    """How much of each linear equation cancels what the weighted equations ask of the unknowns."""
    count = system.group.count
    moving = [0.0, *(Dual(v[i], {i: 1.0}) for i in range(1, count)), *v[count:]]
    tracks = eliminate(system.rows, count, is_tracked=True).tracks
    share: dict[int, float] = {}
    for equation, w in weights.items():
        found = equation.fn(moving)
        if type(found) is not Dual:
            continue
        for place, d in found.g.items():
            for k, c in tracks.get(place, {}).items():
                share[k] = share.get(k, 0.0) + w * float(d) * c
    return {system.linear[k]: c for k, c in sorted(share.items())}


def _distinct(points: list[Array]) -> list[Array]:
    found: list[Array] = []
    for p in points:
        if not any(np.abs(p - q).max(initial=0.0) < 1e-5 for q in found):
            found.append(p)
    return found
