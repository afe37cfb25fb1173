"""Measurements of large jobs, of an edit and of many copies, each beside what one would do without them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial
from pathlib import Path

import jobs
import numpy as np
import sizing
from scipy.optimize import least_squares

from handwheel.drawing.again import Sized, size_again
from handwheel.drawing.group import build_group, tied_groups
from handwheel.drawing.leeway import Leeway, make_leeway
from handwheel.drawing.sampling import sample_sizes
from handwheel.drawing.settle import settle
from handwheel.job.records import Job

Row = Callable[[str, float, str], None]
Timed = Callable[[Callable[[], object], int], float]
COPIES = 100_000


def large(row: Row, timed: Timed, times: int) -> None:
    """Jobs of more and more parts, untied and tied."""
    for name, make, counts in (
        ("levers of 6 dimensions", jobs.levers, (50, 500)),
        ("shafts of 40 dimensions", jobs.shafts, (50, 500)),
        ("links tied into one stack", jobs.stack, (50, 100, 200)),
    ):
        before, first = 0.0, 0
        for count in counts:
            text = make(count).encode()
            row(f"reading {count} {name}", timed(partial(sizing.read, text), times), "")
            taken = timed(partial(sizing.size, sizing.read(text)), times)
            beside = f"{taken / before:.1f} times as long for {count // first} times the parts" if before else ""
            row(f"sizing {count} {name}", taken, beside)
            before, first = before or taken, first or count


def edited(job: Job, k: int) -> Job:
    """The last dimension of the k-th part made 0.1 greater."""
    part = job.parts[k]
    last = part.dimensions[-1]
    number = replace(last.value.number, value=last.value.number.value + Fraction(1, 10))
    changed = replace(last, value=replace(last.value, number=number))
    part = replace(part, dimensions=(*part.dimensions[:-1], changed))
    return replace(job, parts=(*job.parts[:k], part, *job.parts[k + 1 :]))


def edit(row: Row, timed: Timed, times: int) -> None:
    """One dimension changed in a job of 500 parts."""
    for name, make in (("levers of 6 dimensions", jobs.levers), ("shafts of 40 dimensions", jobs.shafts)):
        job = sizing.read(make(500).encode())
        sized: Sized = size_again(None, job)
        other = edited(job, 250)
        taken = timed(partial(size_again, sized, other), times)
        alone = replace(other, parts=(other.parts[250],))
        row(f"500 {name}, one edited", taken, "")
        least = timed(partial(sizing.size, alone), times)
        row("that part alone, sized from nothing", least, f"{taken / least:.1f} times that for the edit")


def ways(path: Path) -> list[tuple[sizing.System, Leeway]]:
    """The example's groups, sized and ready for their limits."""
    job = sizing.read(path.read_bytes())
    made = []
    for parts, assemblies in tied_groups(job):
        group = build_group(job, parts, assemblies)
        made.append((sizing.System(group), make_leeway(settle(group))))
    return made


def copies(row: Row, timed: Timed, path: Path) -> None:
    """All sizes of many copies of an example's parts."""
    made = ways(path)
    together = timed(lambda: [_all(way, COPIES) for _, way in made], 1)
    row(f"{COPIES} copies, all unknowns, together", together, "")
    for name, one, many in (
        ("the same followed one copy at a time", lambda: [_all(way, 1) for _, way in made], 30),
        ("one copy at a time, sized from nothing", lambda: [settle(way.settled.group) for _, way in made], 10),
        ("one copy at a time, least_squares from the sizes as typed", lambda: _least(made), 10),
    ):
        each = timed(one, many)
        row(name + ", a copy", each, f"{each * COPIES / together:,.0f} times as long for {COPIES} copies")


def _all(way: Leeway, count: int) -> object:
    fns = [lambda v, i=i: v[i] for i in range(1, way.count)]  # type: ignore[misc]
    return sample_sizes(way, fns, count)


def _least(made: Sequence[tuple[sizing.System, Leeway]]) -> object:
    found = []
    for system, way in made:
        start = np.array(way.v[1 : way.count]) * 1.001
        found.append(least_squares(system.residual, start, jac=system.jacobian, method="lm", xtol=1e-10))
    return found
