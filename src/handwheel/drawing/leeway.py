"""A settled group made ready for its sizes' limits: its Jacobian, and how every unknown moves with every limit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.ad import Dual, Scalar, value_of
from handwheel.drawing.barely import touching
from handwheel.drawing.junctions import Equation
from handwheel.drawing.settle import Settled

Array = NDArray[np.float64]


@dataclass
class Leeway:
    """A settled group made ready for its sizes' limits.

    `left`, `jac` and `par` are the residuals, their derivatives by the unknowns and by the toleranced numbers at the
    sizes as typed, rows divided by `scale`; `loop`: equations that only just hold together, if any.
    """

    settled: Settled
    v: list[float]
    places: list[int] = field(default_factory=list)
    lower: Array = field(default_factory=lambda: np.zeros(0))
    upper: Array = field(default_factory=lambda: np.zeros(0))
    inverse: Array = field(default_factory=lambda: np.zeros((0, 0)))
    moves: Array = field(default_factory=lambda: np.zeros((0, 0)))
    is_linear: NDArray[np.bool_] = field(default_factory=lambda: np.zeros(0, dtype=np.bool_))
    scale: Array = field(default_factory=lambda: np.zeros(0))
    left: Array = field(default_factory=lambda: np.zeros(0))
    jac: Array = field(default_factory=lambda: np.zeros((0, 0)))
    par: Array = field(default_factory=lambda: np.zeros((0, 0)))
    loop: list[Equation] = field(default_factory=list)

    @cached_property
    def curved(self) -> list[tuple[int, Equation]]:
        """The equations that are not linear, with their rows; the others' derivatives are the same everywhere."""
        return [(i, e) for i, e in enumerate(self.settled.equations) if not self.is_linear[i]]

    @property
    def count(self) -> int:
        """Places of v that are unknowns, the constant included."""
        return self.settled.group.count


def make_leeway(settled: Settled) -> Leeway:
    """Jacobian, its inverse, and how every unknown moves with every toleranced size."""
    assert settled.v is not None
    left_out = {r.given.index for r in settled.repeats}
    free = [g for g in settled.group.givens if g.index not in left_out and (g.limits.lower or g.limits.upper)]
    way = Leeway(settled, settled.v, [g.index for g in free])
    way.lower = np.array([g.limits.lower for g in free])
    way.upper = np.array([g.limits.upper for g in free])
    count, m = way.count, len(settled.equations)
    jac, par = np.zeros((m, count)), np.zeros((m, len(free)))
    way.is_linear = np.ones(m, dtype=bool)
    left = np.zeros(m)
    v = duals(way, way.v)
    column = {p: i for i, p in enumerate(way.places)}
    for i, equation in enumerate(settled.equations):
        found = equation.fn(v)
        left[i] = value_of(found)
        if type(found) is Dual:
            way.is_linear[i] = found.lin
            for j, d in found.g.items():
                if j < count:
                    jac[i, j] = d
                else:
                    par[i, column[j]] = d
    way.scale = np.maximum(np.abs(jac).max(axis=1, initial=0.0), 1e-12)
    scaled = jac[:, 1:] / way.scale[:, None]
    way.left, way.jac, way.par = left / way.scale, scaled, par / way.scale[:, None]
    way.inverse = _inverse(scaled) if m else np.zeros((count - 1, 0))
    if m and np.abs(scaled @ way.inverse - np.eye(m)).max() > 1e-4:
        way.loop = touching(settled.equations, scaled)
    way.moves = -way.inverse @ way.par
    return way


def _inverse(matrix: Array) -> Array:
    if matrix.shape[0] == matrix.shape[1]:
        try:
            found = np.linalg.inv(matrix)
            if np.isfinite(found).all() and np.abs(found).max() < 1e6:
                return np.asarray(found)
        except np.linalg.LinAlgError:
            pass
    return np.asarray(np.linalg.pinv(matrix, rcond=1e-7))


def duals(way: Leeway, v: Sequence[Scalar]) -> list[Scalar]:
    """The numbers with the gradients of the unknowns and of the toleranced ones among them."""
    made: list[Scalar] = list(v)
    for i in [*range(1, way.count), *way.places]:
        made[i] = Dual(v[i], {i: 1.0})
    return made
