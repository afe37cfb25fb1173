"""The equations of a job as plain functions, and the ways of solving them that are measured side by side."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from handwheel.drawing.ad import Dual, value_of
from handwheel.drawing.group import Group, build_group, tied_groups
from handwheel.drawing.guess import first_guess
from handwheel.drawing.junctions import Equation
from handwheel.drawing.records import Drawing
from handwheel.drawing.settle import settle
from handwheel.drawing.size import size_job
from handwheel.drawing.solve import attempt
from handwheel.drawing.starts import STARTS
from handwheel.job.read import read_job
from handwheel.job.records import Job

Array = NDArray[np.float64]
TOLERANCE = 1e-12
SOLVED = 1e-8
"""Greatest residual of a shape. [mm or mm²]"""
SAME = 1e-5
"""Shapes nearer than this are one. [mm]"""


def read(text: bytes) -> Job:
    """The job, or an error with its faults: a benchmark of a faulty job measures nothing."""
    job, faults = read_job(text, "benchmark.yaml")
    if job is None or faults:
        raise ValueError("\n".join(fault.line() for fault in faults))
    return job


def size(job: Job) -> Drawing:
    """The job sized; an error unless it came out."""
    drawing = size_job(job)
    if drawing.faults:
        raise ValueError("\n".join(fault.line() for fault in drawing.faults))
    return drawing


@dataclass
class System:
    """A group's equations over its unknowns, shape by shape as the drawing gives them, nothing eliminated."""

    group: Group

    @cached_property
    def given(self) -> list[Equation]:
        """The equations with what they come from."""
        return self.group.equations()

    @cached_property
    def equations(self) -> list[Callable[[list[object]], object]]:
        return [equation.fn for equation in self.given]

    @cached_property
    def start(self) -> Array:
        x = [0.0] * self.group.count
        for shape in self.group.shapes.values():
            first_guess(shape, x, None)
        return np.array(x[1:])

    @cached_property
    def starts(self) -> list[Array]:
        """The start and thirteen scattered ones; where every equation is linear the one is enough."""
        dice = random.Random(self.size)
        found = [self.start]
        for _ in range(0 if attempt(self.group, self.given).is_linear else STARTS - 1):
            x = [0.0, *self.start.tolist()]
            for shape in self.group.shapes.values():
                first_guess(shape, x, dice)
            found.append(np.array(x[1:]))
        return found

    @property
    def size(self) -> int:
        return self.group.count - 1

    def residual(self, x: Array) -> Array:
        """The equations' misses at x (n,)."""
        v = [0.0, *x.tolist(), *self.group.numbers()]
        return np.array([value_of(fn(v)) for fn in self.equations])

    def jacobian(self, x: Array) -> Array:
        """The exact derivatives at x, (m, n)."""
        n = len(x)
        v = [0.0, *(Dual(value, {i: 1.0}) for i, value in enumerate(x.tolist())), *self.group.numbers()]
        jac = np.zeros((len(self.equations), n))
        for i, fn in enumerate(self.equations):
            found = fn(v)
            if isinstance(found, Dual):
                for j, slope in found.g.items():
                    jac[i, j] = slope
        return jac


def systems(path: Path) -> list[System]:
    """One system for each group of tied parts, with the rulings (which way a cone narrows) already made."""
    job = read(path.read_bytes())
    groups = [build_group(job, parts, assemblies) for parts, assemblies in tied_groups(job)]
    for group in groups:
        settle(group)
    return [System(group) for group in groups]


def ours(system: System) -> Array:
    """What sizing does, from the one start only: linear equations eliminated, then steps over what is left."""
    found = attempt(system.group, system.given, starts=1)
    return np.array(found.best[1 : system.group.count])


def scipy_way(method: str, is_exact: bool) -> Callable[..., Array]:
    """least_squares by that method, with exact derivatives or differences."""

    def solve(system: System, start: Array | None = None) -> Array:
        slopes = system.jacobian if is_exact else "2-point"
        found = least_squares(
            system.residual,
            system.start if start is None else start,
            jac=slopes,
            method=method,
            xtol=TOLERANCE,
            ftol=TOLERANCE,
            gtol=TOLERANCE,
        )
        return np.asarray(found.x)

    return solve


METHODS: dict[str, Callable[[System], Array]] = {
    "handwheel, linear equations first": ours,
    "least_squares trf, differences": scipy_way("trf", False),
    "least_squares lm, differences": scipy_way("lm", False),
    "least_squares trf, exact derivatives": scipy_way("trf", True),
    "least_squares lm, exact derivatives": scipy_way("lm", True),
}


def ours_every(system: System) -> list[Array]:
    """The shapes that sizing's own search finds from all the starts, taken together."""
    extra = [[0.0, *start.tolist()] for start in system.starts[1:]]
    found = attempt(system.group, system.given, extra)
    return [np.array(v[1 : system.group.count]) for v in found.shapes]


def scipy_every(method: str, is_exact: bool) -> Callable[[System], list[Array]]:
    """The different shapes that least_squares finds from the same starts, one after another."""
    solve = scipy_way(method, is_exact)

    def every(system: System) -> list[Array]:
        found: list[Array] = []
        for start in system.starts:
            x = solve(system, start)
            if np.abs(system.residual(x)).max() < SOLVED and not any(np.abs(x - y).max() < SAME for y in found):
                found.append(x)
        return found

    return every


EVERY: dict[str, Callable[[System], list[Array]]] = {
    "handwheel, all starts together": ours_every,
    "least_squares lm, differences, start after start": scipy_every("lm", False),
    "least_squares lm, exact derivatives, start after start": scipy_every("lm", True),
}

