"""The residuals of a few equations over the few free numbers that are left to them, for many starts at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.ad import Dual, Scalar
from handwheel.drawing.eliminate import Reduced, Row
from handwheel.drawing.group import Group
from handwheel.drawing.junctions import Equation

Array = NDArray[np.float64]


@dataclass
class Positive:
    """Sums of numbers that must be above zero: lengths and radii. `by_place`: which of them a place has a say in."""

    rows: list[Row]
    by_place: dict[int, list[int]]


def positive_sums(group: Group) -> Positive:
    """The lengths and radii of the group that must be above zero."""
    rows: list[Row] = []
    for shape in group.shapes.values():
        for link in shape.outside:
            rows.append({link.zr: 1.0, link.zl: -1.0})
            rows += [{place: 1.0} for place in {link.rl, link.rr, link.big} if place]
        for hole in shape.inside:
            rows.append({hole.bottom: float(hole.way), hole.mouth: -float(hole.way)})
            rows += [{place: 1.0} for place in {hole.rm, hole.rb}]
    made = Positive(rows, {})
    for i, row in enumerate(rows):
        for place in row:
            made.by_place.setdefault(place, []).append(i)
    return made


class Residual:
    """Residuals as a function of the free numbers at `places`, the other numbers standing as they are in v.

    Every other start is kept where lengths and radii are positive, the rest roam.
    """

    def __init__(
        self, equations: list[Equation], places: list[int], reduced: Reduced, v: Sequence[float], positive: Positive
    ) -> None:
        self.equations, self.places, self.v = equations, places, v
        self.moving = reduced.moved_by(places)
        self.by = np.zeros((len(self.moving), len(places)))
        for j, p in enumerate(places):
            self.by[:, j] = [reduced.share(i, p) for i in self.moving]
        here = np.array([v[p] for p in places])
        self.at = np.array([v[i] for i in self.moving])[:, None] - (self.by @ here)[:, None]
        self.gradients = [{j: d for j, d in enumerate(row) if d} for row in self.by.tolist()]
        self.still: list[Scalar] = list(v)
        self._bound(positive)

    def _bound(self, positive: Positive) -> None:
        row_of = {place: k for k, place in enumerate(self.moving)}
        floor, reach = [], []
        for i in dict.fromkeys(i for place in self.moving for i in positive.by_place.get(place, ())):
            row = positive.rows[i]
            moves = sum((c * self.by[row_of[p]] for p, c in row.items() if p in row_of), np.zeros(len(self.places)))
            if np.abs(moves).max(initial=0.0) > 0:
                reach.append(moves)
                floor.append(sum(c * (self.at[row_of[p], 0] if p in row_of else self.v[p]) for p, c in row.items()))
        self.floor, self.reach = np.array(floor), np.array(reach).reshape(len(reach), len(self.places))

    def __call__(self, y: Array) -> tuple[Array, Array]:
        """Residuals (K, m) and Jacobians (K, m, p) at the points y (p, K)."""
        v = self.still.copy()
        for i, gradient, a in zip(self.moving, self.gradients, self.at + self.by @ y, strict=True):
            v[i] = Dual(a, gradient)
        k, m, p = y.shape[1], len(self.equations), y.shape[0]
        f, jac = np.zeros((k, m)), np.zeros((k, m, p))
        for i, equation in enumerate(self.equations):
            try:
                found = equation.fn(v)
            except ZeroDivisionError:  # nothing to be found from here: the starts are given up
                f[:, i], jac[:, i] = np.nan, np.nan
                continue
            if type(found) is Dual:
                f[:, i] = found.a
                for j, d in found.g.items():
                    jac[:, i, j] = d
            else:
                f[:, i] = found
        return f, jac

    def print_of(self, starts: Array) -> bytes:
        """What two of them have in common only if they are the same, to be solved from the same starts."""
        p = len(self.places)
        f, jac = self(np.outer(np.arange(1.0, p + 1.0), (0.37, 4.1, 11.3)) + (2.9, 0.43, 7.7))
        return b"".join(a.tobytes() for a in (np.array(jac.shape), f, jac, self.floor, self.reach, starts))

    def allowed(self, y: Array) -> NDArray[np.bool_]:
        """Which points may be gone to."""
        least = (self.floor[:, None] + self.reach @ y).min(axis=0, initial=1.0)
        return np.asarray((least > 0.0) | (np.arange(y.shape[1]) % 2 == 1))

    def full(self, point: Array) -> list[float]:
        """v with the numbers that move, at a point (p,)."""
        made = list(self.v)
        for i, a in zip(self.moving, (self.at[:, 0] + self.by @ point).tolist(), strict=True):
            made[i] = a
        return made
