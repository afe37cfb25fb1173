"""Some sizes with the bending equations they rest on, ready to be worked out with the given numbers moved.

Nothing is searched here: from the sizes as typed the shape follows the numbers by Newton's steps.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.ad import Dual, Scalar, value_of
from handwheel.drawing.eliminate import Row
from handwheel.drawing.junctions import Equation, Fn
from handwheel.drawing.leeway import Closure, Leeway, Sway

Array = NDArray[np.float64]
STEPS = 25


@dataclass
class Bench:
    """Sizes, equations and what they need of v.

    `numbers`: the toleranced numbers with a say, with their deviations; `support`: the unknowns looked at, which move
    with the free ones by `by_free` (n, f) and with the numbers by `by_given` (n, P). Of the sizes: values (S,),
    derivatives by the free numbers `size_free` (S, f) and by the given `size_given` (S, P). `par` (m, P).
    """

    v: list[float]
    equations: list[Equation]
    closure: Closure
    sizes: list[Fn]
    is_linear: list[bool]
    numbers: list[int]
    lower: Array
    upper: Array
    support: list[int]
    by_free: Array
    by_given: Array
    values: Array
    size_free: Array
    size_given: Array
    par: Array
    moves: Array

    def vector(self, shift: Array, moved: Array) -> list[Scalar]:
        """v with the free numbers shifted by (f, K) or (f,) and the given ones moved by (P, K) or (P,)."""
        v: list[Scalar] = list(self.v)
        change = self.by_free @ shift + self.by_given @ moved
        for i, delta in zip(self.support, change, strict=True):
            v[i] = v[i] + delta
        for p, delta in zip(self.numbers, moved, strict=True):
            v[p] = v[p] + delta
        return v

    def duals(self, v: list[Scalar]) -> list[Scalar]:
        """v with the gradients of what is looked at."""
        made = list(v)
        for i in [*self.support, *self.numbers]:
            made[i] = Dual(v[i], {i: 1.0})
        return made

    def follow(self, moved: Array) -> tuple[Array, NDArray[np.bool_]]:
        """Shifts of the free numbers (f, K) with the given ones moved by (P, K), and which have come to a shape."""
        shift = self.moves @ moved
        step = np.zeros(moved.shape[1])
        for _ in range(STEPS if len(self.equations) else 0):
            f = self.residuals(self.vector(shift, moved), moved.shape[1])
            f[~np.isfinite(f)] = 1e9
            change = self.closure.inverse @ f
            step = np.abs(change).max(axis=0, initial=0.0)
            shift = np.where(step < 1e3, shift - change, shift)
            if bool((step < 1e-11).all()):
                break
        return shift, step < 1e-9

    def residuals(self, v: list[Scalar], count: int) -> Array:
        """(m, K), rows divided by their scale."""
        f = np.empty((len(self.equations), count))
        with np.errstate(all="ignore"):
            for i, equation in enumerate(self.equations):
                f[i] = value_of(equation.fn(v)) / self.closure.scale[i]
        return f

    def slopes(self, found: Scalar, count: int) -> tuple[Array, Array]:
        """Derivatives by the free numbers (K, f) and by the given ones (K, P) of what came of `duals`."""
        by_free, by_given = np.zeros((count, self.by_free.shape[1])), np.zeros((count, len(self.numbers)))
        if type(found) is Dual:
            row = {i: k for k, i in enumerate(self.support)}
            column = {p: k for k, p in enumerate(self.numbers)}
            for j, d in found.g.items():
                if j in row:
                    by_free += np.multiply.outer(np.broadcast_to(d, (count,)), self.by_free[row[j]])
                    by_given += np.multiply.outer(np.broadcast_to(d, (count,)), self.by_given[row[j]])
                else:
                    by_given[:, column[j]] += d
        return by_free, by_given

    def jacobian(self, v: list[Scalar], count: int) -> tuple[Array, Array, Array]:
        """Residuals (m, K), Jacobians (K, m, f) and by the given numbers (K, m, P) at `duals`, rows scaled."""
        m = len(self.equations)
        f = np.empty((m, count))
        jac, par = np.empty((count, m, self.by_free.shape[1])), np.empty((count, m, len(self.numbers)))
        for i, equation in enumerate(self.equations):
            found = equation.fn(v)
            f[i] = value_of(found)
            jac[:, i], par[:, i] = self.slopes(found, count)
        f, jac, par = (a / self.closure.scale[:, None] for a in (f, jac, par))
        return f, jac, par


def make_bench(way: Leeway, blocks: Collection[int], sizes: Sequence[Fn], sways: Sequence[Sway]) -> Bench:
    """The sizes with the bending equations of some blocks, on which they rest."""
    closure = way.closure(blocks)
    bent = [way.sways[e] for e in closure.equations]
    column = {j: k for k, j in enumerate(closure.free)}
    support = sorted({i for s in [*bent, *sways] for i in s.by_place})
    by_given = [_by_given(way, i) for i in support]
    own = [row for i, row in zip(support, by_given, strict=True) if i not in way.offsets]
    felt = {p for row in [*own, *(s.by_given for s in [*bent, *sways])] for p in row}
    numbers = [p for p in way.places if p in felt]
    place = {p: k for k, p in enumerate(way.places)}
    ends = [place[p] for p in numbers]
    par = _table([s.by_given for s in bent], numbers) / closure.scale[:, None]
    return Bench(
        v=way.v,
        equations=[way.curved[e] for e in closure.equations],
        closure=closure,
        sizes=list(sizes),
        is_linear=[s.is_linear for s in sways],
        numbers=numbers,
        lower=way.lower[ends],
        upper=way.upper[ends],
        support=support,
        by_free=_table([{j: c for j, c in way.reduced.row(i).items() if j in column} for i in support], closure.free),
        by_given=_table(by_given, numbers),
        values=np.array([s.value for s in sways]),
        size_free=_table([s.by_free for s in sways], closure.free),
        size_given=_table([s.by_given for s in sways], numbers),
        par=par,
        moves=-closure.inverse @ par,
    )


def _by_given(way: Leeway, place: int) -> Row:
    """How a place moves with the toleranced numbers while the free places stand still."""
    made: Row = {}
    for k, c in way.reduced.tracks.get(place, {}).items():
        for p, d in way.by_number[k].items():
            made[p] = made.get(p, 0.0) + c * d
    return made


def _table(rows: Sequence[Row], columns: Sequence[int]) -> Array:
    place = {j: k for k, j in enumerate(columns)}
    made = np.zeros((len(rows), len(columns)))
    for i, row in enumerate(rows):
        for j, c in row.items():
            if j in place:
                made[i, place[j]] = c
    return made
