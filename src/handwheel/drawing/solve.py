"""Solving a group: linear equations eliminated, what is left solved in small sets from several starts.

`attempt` finds every shape that the equations allow, whatever the rulings say, or the loop or set that stops it.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.ad import Dual, Scalar, value_of
from handwheel.drawing.eliminate import Loop, Reduced, eliminate
from handwheel.drawing.group import Group
from handwheel.drawing.guess import first_guess, rough_sizes
from handwheel.drawing.junctions import Equation
from handwheel.drawing.levenberg import descend

Array = NDArray[np.float64]
STARTS = 14
ROOT = 1e-8
"""Greatest residual, rows scaled to mm, of a set that is solved."""


@dataclass
class Attempt:
    """What came of it. `shapes`: full vectors v. `loop`: equations that depend on each other, with weights and the
    misclosure. `stuck`: equations of a set that no shape satisfies. `loose`: how many numbers nothing fixes."""

    shapes: list[list[float]] = field(default_factory=list)
    loop: tuple[dict[Equation, float], float] | None = None
    stuck: list[Equation] = field(default_factory=list)
    loose: int = 0
    best: list[float] = field(default_factory=list)
    is_linear: bool = True


def gradient_row(equation: Equation, v: Sequence[object]) -> Dual | float:
    """The residual with its gradient."""
    found = equation.fn(v)
    return found if type(found) is Dual else float(value_of(found))


@dataclass
class _Set:
    """Non-linear equations that share free numbers `places` (columns of y)."""

    equations: list[Equation]
    places: list[int]


def attempt(
    group: Group,
    equations: list[Equation],
    extra: Sequence[list[float]] = (),
    seed: int = 0,
    starts: int = STARTS,
) -> Attempt:
    """Solve the equations at the numbers as typed; `extra` are places to start from instead of scattered guesses."""
    count = group.count
    x = [0.0] * count
    for shape in group.shapes.values():
        first_guess(shape, x, None)
    numbers = group.numbers()
    v = [0.0, *(Dual(x[i], {i: 1.0}) for i in range(1, count)), *numbers]
    linear: list[Equation] = []
    curved: list[tuple[Equation, set[int]]] = []
    rows: list[dict[int, float]] = []
    constants: list[float] = []
    for e in equations:
        found = gradient_row(e, v)
        if not isinstance(found, Dual):
            linear.append(e)
            rows.append({})
            constants.append(found)
        elif found.lin:
            linear.append(e)
            rows.append(found.g)
            constants.append(found.a - sum(d * x[i] for i, d in found.g.items()))
        else:
            curved.append((e, set(found.g)))
    matrix = np.zeros((len(linear), count))
    for i, row in enumerate(rows):
        for j, d in row.items():
            matrix[i, j] = d
    reduced = eliminate(matrix, np.array(constants, dtype=float), count)
    if reduced.loops:
        loop = reduced.loops[0]
        return Attempt(loop=({linear[i]: w for i, w in loop.weights.items()}, loop.misclosure))
    if not curved:
        solution = [float(a) for a in reduced.base]
        if reduced.free:
            y = np.array([x[i] for i in reduced.free])
            solution = [float(a) for a in reduced.base + reduced.spread @ y]
        return Attempt([solution + numbers], loose=len(reduced.free), best=solution + numbers)
    return _curved(group, linear, matrix, np.array(constants), curved, reduced, [x, *extra], seed, starts)


def _curved(
    group: Group,
    linear: list[Equation],
    matrix: Array,
    constants: Array,
    curved: list[tuple[Equation, set[int]]],
    reduced: Reduced,
    places: list[list[float]],
    seed: int,
    many: int,
) -> Attempt:
    rows = positive_rows(group)
    starts = _starts(group, matrix, constants, places, reduced, seed, many)
    sets = _sets(curved, reduced)
    result = Attempt(is_linear=False)
    roots: list[list[Array]] = []
    best = starts[:, 0].copy()
    used: set[int] = set()
    for one in sets:
        used |= set(one.places)
        residual = _Residual(one, reduced, group.numbers(), rows)
        ends, left = (
            descend(residual, starts[one.places], residual.allowed)
            if one.places
            else (np.zeros((0, 1)), np.abs(residual(np.zeros((0, 1)))[0]).max(axis=1))
        )
        good = [ends[:, k] for k in range(ends.shape[1]) if left[k] < ROOT and np.isfinite(ends[:, k]).all()]
        k = int(np.nanargmin(np.where(np.isfinite(left), left, np.inf)))
        point = good[0] if good else ends[:, k]
        best[one.places] = point
        here = residual(point[:, None])
        loop = _set_loop(one, residual, point, here, linear, matrix, solved=bool(good))
        if loop is not None:
            result.loop = loop
            return result
        if not good:
            result.stuck = one.equations
            result.best = _full(reduced, best, group)
            return result
        roots.append(_distinct(good) if len(one.places) == len(one.equations) else good[:1])
        result.loose += len(one.places) - _rank(here[1][0])
    result.loose += len(reduced.free) - len(used)
    result.best = _full(reduced, best, group)
    result.shapes = _combine(sets, roots, best, reduced, group)
    return result


def _starts(
    group: Group,
    matrix: Array,
    constants: Array,
    places: list[list[float]],
    reduced: Reduced,
    seed: int,
    many: int,
) -> Array:
    """Free numbers at each start: guesses moved the least distance onto the linear equations."""
    dice = random.Random(group.count + 1000 * seed)
    columns = [places[0], *places] if many > 1 else [places[0]]
    known = [(shape, rough_sizes(shape)) for shape in group.shapes.values()] if many > 1 else []
    for _ in range(0 if len(places) > 1 else many - 1):
        other = list(places[0])
        for shape, rough in known:
            first_guess(shape, other, dice, rough)
        columns.append(other)
    guesses = np.array(columns, dtype=float).T
    if len(matrix):
        inverse = np.linalg.pinv(matrix)
        guesses -= inverse @ (matrix @ guesses + constants[:, None])
    free = np.asarray(guesses[reduced.free], dtype=np.float64)
    # the linear equations draw the guesses together; the later ones are scattered again among the free numbers
    shake = np.random.default_rng(seed).uniform(-1.0, 1.0, free.shape)
    shake[:, : len(places) + 1 + STARTS // 3] = 0.0
    free += shake * (0.6 * np.abs(free) + 0.1 * np.abs(free).max(initial=0.0))
    return free


def positive_rows(group: Group) -> Array:
    """Rows whose products with the unknowns are the lengths and radii that must be positive."""
    rows: list[dict[int, float]] = []
    for shape in group.shapes.values():
        for link in shape.outside:
            rows.append({link.zr: 1.0, link.zl: -1.0})
            rows += [{place: 1.0} for place in {link.rl, link.rr, link.big} if place]
        for hole in shape.inside:
            rows.append({hole.bottom: float(hole.way), hole.mouth: -float(hole.way)})
            rows += [{place: 1.0} for place in {hole.rm, hole.rb}]
    made = np.zeros((len(rows), group.count))
    for i, row in enumerate(rows):
        for place, factor in row.items():
            made[i, place] = factor
    return made


def _sets(curved: list[tuple[Equation, set[int]]], reduced: Reduced) -> list[_Set]:
    """The non-linear equations in sets that share no free number."""
    sets: list[tuple[list[Equation], set[int]]] = []
    felt = reduced.spread != 0.0
    for equation, places in curved:
        touched = set(np.flatnonzero(felt[list(places)].any(axis=0)).tolist())
        mine: tuple[list[Equation], set[int]] = ([equation], touched)
        apart = []
        for other in sets:
            if other[1] & mine[1]:
                mine = (other[0] + mine[0], other[1] | mine[1])
            else:
                apart.append(other)
        sets = [*apart, mine]
    return [_Set(eqs, sorted(places)) for eqs, places in sets]


class _Residual:
    """The residuals of a set as a function of its free numbers.

    Every other start is kept where lengths and radii are positive, the rest roam.
    """

    def __init__(self, one: _Set, reduced: Reduced, numbers: list[float], positive: Array) -> None:
        self.equations, self.numbers = one.equations, numbers
        self.base, self.spread = reduced.base, reduced.spread[:, one.places]
        # numbers that the set's own free ones move, each with its gradient by them; the others stand still
        seeds = [{j: d for j, d in enumerate(row) if d} for row in self.spread.tolist()]
        self.moving = [(i, g) for i, g in enumerate(seeds) if g]
        places = [i for i, _ in self.moving]
        self.still: list[Scalar] = [*self.base, *numbers]
        self.at, self.by = self.base[places, None], self.spread[places]
        reach = positive @ self.spread
        moved = np.abs(reach).max(axis=1, initial=0.0) > 0
        self.floor, self.reach = (positive @ self.base)[moved], reach[moved]

    def __call__(self, y: Array) -> tuple[Array, Array]:
        v = self.still.copy()
        for (i, gradient), a in zip(self.moving, self.at + self.by @ y, strict=True):
            v[i] = Dual(a, gradient)
        k, m, p = y.shape[1], len(self.equations), y.shape[0]
        f, jac = np.zeros((k, m)), np.zeros((k, m, p))
        for i, equation in enumerate(self.equations):
            found = equation.fn(v)
            if type(found) is Dual:
                f[:, i] = found.a
                for j, d in found.g.items():
                    jac[:, i, j] = d
            else:
                f[:, i] = found
        return f, jac

    def allowed(self, y: Array) -> NDArray[np.bool_]:
        """Which points may be gone to."""
        least = (self.floor[:, None] + self.reach @ y).min(axis=0, initial=1.0)
        return np.asarray((least > 0.0) | (np.arange(y.shape[1]) % 2 == 1))


def _rank(jac: Array) -> int:
    if not jac.size:
        return 0
    size = np.abs(jac).max(axis=1, keepdims=True)
    values = np.linalg.svd(jac / np.where(size > 0, size, 1.0), compute_uv=False)
    return int((values > 1e-7 * max(1e-300, float(values[0]))).sum()) if values[0] > 0 else 0


def _set_loop(
    one: _Set,
    residual: _Residual,
    point: Array,
    here: tuple[Array, Array],
    linear: list[Equation],
    matrix: Array,
    *,
    solved: bool,
) -> tuple[dict[Equation, float], float] | None:
    """The loop in a set with more equations than rank, the linear rows it leans on included."""
    f, jac = (a[0] for a in here)
    m, p = jac.shape
    if m <= p:
        if not solved or _rank(jac) == m:
            return None
        shaken = residual((point * 1.013 + 0.0171 * (1.0 + np.arange(p)))[:, None])[1][0]
        if _rank(shaken) == m:
            return None
    size = np.maximum(np.abs(jac).max(axis=1, initial=0.0), 1e-9)
    order = sorted(range(m), key=lambda i: one.equations[i].source is not None)
    rows = np.hstack([np.zeros((m, 1)), (jac / size[:, None])[order]])
    made = eliminate(rows, (f / size)[order], p + 1)
    if not made.loops:
        return None
    loop: Loop = made.loops[0]
    weights = {one.equations[order[i]]: w / float(size[order[i]]) for i, w in loop.weights.items()}
    x = residual.base + residual.spread @ point
    v = [0.0, *(Dual(float(x[i]), {i: 1.0}) for i in range(1, len(x))), *residual.numbers]
    pull = np.zeros(len(x))
    for equation, w in weights.items():
        found = equation.fn(v)
        if type(found) is Dual:
            for j, d in found.g.items():
                pull[j] += w * d
    if len(linear):
        share = np.linalg.lstsq(matrix.T, -pull, rcond=1e-12)[0]
        for equation, w in zip(linear, share, strict=True):
            if abs(w) > 1e-9 * max(1e-300, float(np.abs(share).max())):
                weights[equation] = float(w)
    return weights, float(loop.misclosure)


def _distinct(points: list[Array]) -> list[Array]:
    found: list[Array] = []
    for p in points:
        if not any(np.abs(p - q).max(initial=0.0) < 1e-5 for q in found):
            found.append(p)
    return found


def _full(reduced: Reduced, y: Array, group: Group) -> list[float]:
    return [float(a) for a in reduced.base + reduced.spread @ y] + group.numbers()


def _combine(
    sets: list[_Set], roots: list[list[Array]], y: Array, reduced: Reduced, group: Group
) -> list[list[float]]:
    """Every combination of the sets' roots, at most some hundreds."""
    made = [y]
    for one, choices in zip(sets, roots, strict=True):
        grown = []
        for base in made:
            for root in choices:
                other = base.copy()
                other[one.places] = root
                grown.append(other)
        made = grown[:256]
    return [_full(reduced, m, group) for m in made]
