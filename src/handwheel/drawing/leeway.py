"""A settled group made ready for its sizes' limits: how every number moves with the few that bend, and with the limits.

Linear equations are carried by their elimination and hold everywhere. What bends is kept in blocks, so that a size
brings along only the blocks it rests on, however many parts are tied together.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.ad import Dual, Scalar, value_of
from handwheel.drawing.blocks import Block, ordered_blocks
from handwheel.drawing.eliminate import Reduced, Row, eliminate
from handwheel.drawing.junctions import Equation
from handwheel.drawing.settle import Settled

Array = NDArray[np.float64]
TOGETHER = 24
"""So many bending numbers are taken together, whether they are tied or not."""
NET = 1e-11
"""What is left of two places' common way by rounding."""
SINGULAR = 1e-7
"""Rows being of size 1, what is smaller than this has no say."""
TOUCHING = 1e-4
"""How far from one a matrix times its inverse may be where surfaces do more than just touch."""


@dataclass
class Sway:
    """How a size or an equation moves at the sizes as typed.

    By place of v, as its formula has it; by free place; by the rest of each linear equation; by toleranced number.
    """

    value: float
    is_linear: bool
    by_place: Row
    by_free: Row
    by_row: Row
    by_given: Row


@dataclass
class Closure:
    """Bending equations with the free places they settle. `jac` (m, f) has rows divided by `scale`."""

    equations: list[int]
    free: list[int]
    jac: Array
    scale: Array
    inverse: Array


@dataclass
class Leeway:
    """A settled group made ready for its sizes' limits.

    `places`: toleranced numbers in v, with their lower and upper deviations; `sways`: of the bending equations;
    `loop`: equations that only just hold together, if any.
    """

    settled: Settled
    v: list[float]
    places: list[int]
    lower: Array
    upper: Array
    linear: list[Equation] = field(default_factory=list)
    curved: list[Equation] = field(default_factory=list)
    reduced: Reduced = field(default_factory=lambda: Reduced(1))
    by_number: list[Row] = field(default_factory=list)
    sways: list[Sway] = field(default_factory=list)
    blocks: list[Block] = field(default_factory=list)
    before: list[set[int]] = field(default_factory=list)
    loop: list[Equation] = field(default_factory=list)
    closures: dict[tuple[int, ...], Closure] = field(default_factory=dict)
    block_of: dict[int, int] = field(default_factory=dict)
    offsets: frozenset[int] = frozenset()

    @property
    def count(self) -> int:
        """Places of v that are unknowns, the constant included."""
        return self.settled.group.count

    def resting(self, free: Iterable[int]) -> frozenset[int]:
        """The blocks on which free places rest, all of them where there are few."""
        if len(self.block_of) <= TOGETHER:
            return frozenset(range(len(self.blocks)))
        todo = [self.block_of[j] for j in free if j in self.block_of]
        found: set[int] = set(todo)
        while todo:
            for b in self.before[todo.pop()]:
                if b not in found:
                    found.add(b)
                    todo.append(b)
        return frozenset(found)

    def closure(self, blocks: Collection[int]) -> Closure:
        """The equations of some blocks as one system."""
        key = tuple(sorted(blocks))
        if key not in self.closures:
            self.closures[key] = _closure(self, key)
        return self.closures[key]


def make_leeway(settled: Settled) -> Leeway:
    """The linear equations eliminated, the others in blocks, with how all of them move."""
    assert settled.v is not None
    left_out = {r.given.index for r in settled.repeats}
    free = [g for g in settled.group.givens if g.index not in left_out and (g.limits.lower or g.limits.upper)]
    lower, upper = np.array([g.limits.lower for g in free]), np.array([g.limits.upper for g in free])
    way = Leeway(settled, settled.v, [g.index for g in free], lower, upper)
    v = duals(way, way.v)
    rows: list[Row] = []
    bent: list[Scalar] = []
    for equation in settled.equations:
        found = equation.fn(v)
        if type(found) is Dual and not found.lin:
            way.curved.append(equation)
            bent.append(found)
            continue
        slopes = found.g if type(found) is Dual else {}
        way.linear.append(equation)
        rows.append({j: float(d) for j, d in slopes.items() if j < way.count})
        way.by_number.append({j: float(d) for j, d in slopes.items() if j >= way.count})
    way.offsets = frozenset(settled.group.unknowns.places("offset"))
    way.reduced = eliminate(rows, way.count, way.offsets, is_tracked=True)
    way.sways = [sway(way, found) for found in bent]
    way.blocks = ordered_blocks([sorted(s.by_free) for s in way.sways])
    way.block_of = {j: b for b, (_, places) in enumerate(way.blocks) for j in places}
    for b, (equations, _) in enumerate(way.blocks):
        way.before.append({way.block_of[j] for e in equations for j in way.sways[e].by_free} - {b})
    if len(way.block_of) <= TOGETHER:
        way.loop = touching(way, way.closure(range(len(way.blocks))))
    else:
        for b in range(len(way.blocks)):
            way.loop += touching(way, way.closure([b]))
    return way


def sway(way: Leeway, found: Scalar) -> Sway:
    """How what was found from `duals` moves."""
    if type(found) is not Dual:
        return Sway(float(value_of(found)), True, {}, {}, {}, {})
    made = Sway(float(found.a), found.lin, {}, {}, {}, {})
    far = Sway(0.0, True, {}, {}, {}, {})
    for j, d in found.g.items():
        if j < way.count:
            made.by_place[j] = float(d)
            into = far if j in way.offsets else made
            for k, c in way.reduced.row(j).items():
                if k > 0:
                    into.by_free[k] = into.by_free.get(k, 0.0) + d * c
            for k, c in way.reduced.tracks.get(j, {}).items():
                into.by_row[k] = into.by_row.get(k, 0.0) + d * c
        else:
            made.by_given[j] = made.by_given.get(j, 0.0) + float(d)
    # two places in an assembly hang on all that lies before them; most of it is the same for both and falls out
    for to, rows in ((made.by_free, far.by_free), (made.by_row, far.by_row)):
        for k, c in rows.items():
            if abs(c) > NET:
                to[k] = to.get(k, 0.0) + c
    for k, c in made.by_row.items():
        for j, d in way.by_number[k].items():
            made.by_given[j] = made.by_given.get(j, 0.0) + c * d
    return made


def _closure(way: Leeway, blocks: Sequence[int]) -> Closure:
    equations = sorted(e for b in blocks for e in way.blocks[b][0])
    free = sorted(j for b in blocks for j in way.blocks[b][1])
    column = {j: k for k, j in enumerate(free)}
    jac = np.zeros((len(equations), len(free)))
    for i, e in enumerate(equations):
        for j, d in way.sways[e].by_free.items():
            if j in column:
                jac[i, column[j]] = d
    # a row is measured by all that has a say in it: beside that, what is left where surfaces touch is nothing
    most = [max((abs(d) for d in way.sways[e].by_place.values()), default=0.0) for e in equations]
    scale = np.maximum(np.array(most), 1e-12)
    jac /= scale[:, None]
    return Closure(equations, free, jac, scale, _inverse(jac))


def _inverse(matrix: Array) -> Array:
    if matrix.shape[0] == matrix.shape[1]:
        try:
            found = np.linalg.inv(matrix)
            if np.isfinite(found).all() and np.abs(found).max(initial=0.0) < 1e6:
                return np.asarray(found)
        except np.linalg.LinAlgError:
            pass
    top = float(np.linalg.norm(matrix, 2)) if matrix.size else 1.0
    return np.asarray(np.linalg.pinv(matrix, rcond=SINGULAR * max(1.0, 1.0 / max(top, 1e-300))))


def touching(way: Leeway, closure: Closure) -> list[Equation]:
    """Equations whose rows depend on each other at this shape, the linear ones they lean on included."""
    m = len(closure.equations)
    if not m or np.abs(closure.jac @ closure.inverse - np.eye(m)).max() <= TOUCHING:
        return []
    left, values, _ = np.linalg.svd(closure.jac)
    rank = int((values > SINGULAR * float(values.max(initial=1.0))).sum())
    share = np.abs(left[:, rank:]).max(axis=1, initial=0.0)
    tied = [e for e, s in zip(closure.equations, share, strict=True) if s > 1e-6]
    rows = sorted({k for e in tied for k, c in way.sways[e].by_row.items() if abs(c) > 1e-6})
    return [way.curved[e] for e in tied] + [way.linear[k] for k in rows]


def unsettled(way: Leeway, one: Sway) -> float:
    """How much a size is still moved by what no equation hinders, by the free place that moves it most."""
    left = dict(one.by_free)
    closure = way.closure(way.resting(one.by_free))
    slope = np.array([one.by_free.get(j, 0.0) for j in closure.free])
    left.update(zip(closure.free, slope - slope @ closure.inverse @ closure.jac, strict=True))
    return max((abs(c) for c in left.values()), default=0.0)


def duals(way: Leeway, v: Sequence[Scalar]) -> list[Scalar]:
    """The numbers with the gradients of the unknowns and of the toleranced ones among them."""
    made: list[Scalar] = list(v)
    for i in [*range(1, way.count), *way.places]:
        made[i] = Dual(v[i], {i: 1.0})
    return made



