"""Sizes of many copies made at random within their limits, all copies worked out together.

Each toleranced number is thrown by itself; the shape follows by Newton's steps from the sizes as typed, first with the
derivatives there, then, for the few copies that need it, with their own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.ad import value_of
from handwheel.drawing.bench import Bench, make_bench
from handwheel.drawing.group import Given, Group, build_group, tied_groups
from handwheel.drawing.junctions import Fn
from handwheel.drawing.leeway import Leeway, make_leeway
from handwheel.drawing.limits import sways_of
from handwheel.drawing.residual import positive_sums
from handwheel.drawing.settle import settle
from handwheel.drawing.shape import NoSense
from handwheel.job.records import Job, Phrase

Array = NDArray[np.float64]
LOT = 2_000
"""Copies worked out at once: few enough to stay in the processor's cache."""
CUT = 3.0
"""Standard deviations from the middle to either limit."""
OWN_STEPS = 15


class Spread(StrEnum):
    """How sizes scatter between their limits: normal, the limits three deviations out and cut there; or evenly."""

    NORMAL = "normal"
    EVEN = "even"


@dataclass(frozen=True)
class Samples:
    """`sizes` (S, count), NaN for a copy that has no shape; the share of such copies."""

    sizes: Array
    without_shape: float


@dataclass(frozen=True)
class Scatter:
    """How one size scatters: mean, standard deviation, the quantiles 0.135 % and 99.865 %.

    `limits`: those drawn, where it is a size that is only checked; `outside`: the share of copies beyond them.
    """

    part: str
    phrase: Phrase
    mean: float
    deviation: float
    low: float
    high: float
    limits: tuple[float, float] | None = None
    outside: float | None = None
    without_shape: float = 0.0


def thrown(rng: np.random.Generator, lower: Array, upper: Array, count: int, spread: Spread) -> Array:
    """Deviations (P, count) between the limits (P,)."""
    if spread is Spread.EVEN:
        share = rng.uniform(-1.0, 1.0, (len(lower), count))
    else:
        share = rng.standard_normal((len(lower), count))
        beyond = np.abs(share) > CUT
        while beyond.any():
            share[beyond] = rng.standard_normal(int(beyond.sum()))
            beyond = np.abs(share) > CUT
        share /= CUT
    middle, half = (upper + lower) / 2.0, (upper - lower) / 2.0
    return np.asarray(middle[:, None] + half[:, None] * share, dtype=np.float64)


def sample_sizes(
    way: Leeway, sizes: Sequence[Fn], count: int, seed: int = 0, spread: Spread = Spread.NORMAL
) -> Samples:
    """Sizes of `count` copies.

    Parameters
        way: tied parts ready for their limits; sizes: functions of v, such as `Group.measured` gives.
        seed: the same seed gives the same copies.
    Raises
        ValueError: surfaces only just touch at the sizes as typed, where no shape can be followed.
    """
    if way.loop:
        raise ValueError("surfaces only just touch at the sizes as typed")
    sways = sways_of(way, sizes)
    blocks = set().union(*(way.resting(s.by_free) for s in sways)) if sways else set()
    bench = make_bench(way, blocks, sizes, sways)
    positive = [r for r in positive_sums(way.settled.group).rows if set(r) <= {0, *bench.support}]
    rng = np.random.default_rng(seed)
    made = np.full((len(sizes), count), np.nan)
    lost = 0
    for first in range(0, count, LOT):
        many = min(LOT, count - first)
        moved = thrown(rng, bench.lower, bench.upper, many, spread)
        shift, good = _followed(bench, moved)
        v = bench.vector(shift, moved)
        for row in positive:
            good &= np.broadcast_to(np.asarray(sum(c * v[p] for p, c in row.items())) > 0.0, good.shape)
        with np.errstate(all="ignore"):
            for i, fn in enumerate(sizes):
                made[i, first : first + many] = np.where(good, value_of(fn(v)), np.nan)
        lost += int((~good).sum())
    return Samples(made, lost / count if count else 0.0)


def _followed(bench: Bench, moved: Array) -> tuple[Array, NDArray[np.bool_]]:
    """Shifts (f, K) and which copies have a shape; those that the common derivatives lose go by their own."""
    shift, good = bench.follow(moved)
    left = np.flatnonzero(~good)
    if not len(left):
        return shift, good
    there, step = np.zeros((shift.shape[0], len(left))), np.full(len(left), np.inf)
    with np.errstate(all="ignore"):
        for _ in range(OWN_STEPS):
            f, jac, _ = bench.jacobian(bench.duals(bench.vector(there, moved[:, left])), len(left))
            change = _least(jac, f.T)
            step = np.abs(change).max(axis=1, initial=0.0)
            there = there - change.T
    found = step < 1e-9
    shift[:, left] = np.where(found, there, shift[:, left])
    good[left] = found
    return shift, good


def _least(jac: Array, f: Array) -> Array:
    """(K, f) steps; NaN where a Jacobian has none."""
    usable = np.isfinite(jac).all(axis=(1, 2)) & np.isfinite(f).all(axis=1)
    made = np.full((len(f), jac.shape[2]), np.nan)
    if usable.any():
        made[usable] = np.einsum("kij,kj->ki", np.linalg.pinv(jac[usable]), f[usable])
    return made


def scatters(
    job: Job, questions: Sequence[Phrase], count: int, seed: int = 0, spread: Spread = Spread.NORMAL
) -> list[Scatter]:
    """How each phrase scatters, each naming its part, and each drawn size with limits that is only checked.

    Those are dimensions in brackets and repeats. Parts without a shape of their own are left out.
    """
    found: list[Scatter] = []
    for members, placed in tied_groups(job):
        group = build_group(job, members, placed)
        settled = settle(group)
        if settled.v is None or settled.loose or settled.broken:
            continue
        asked: list[tuple[str, Phrase, Given | None]] = []
        for phrase in questions:
            parts = group.parts_of(phrase, "")
            if all(p in group.shapes for p in parts):
                asked.append((parts[0] if len(parts) == 1 else "", phrase, None))
        checked = [*group.auxiliary, *(r.given for r in settled.repeats)]
        asked += [(g.part, g.dimension.phrase, g) for g in checked if g.limits.source]
        fns = [(ask, _measured(group, ask[1], ask[0])) for ask in asked]
        known = [(ask, fn) for ask, fn in fns if fn is not None]
        way = make_leeway(settled)
        if not known or way.loop:
            continue
        samples = sample_sizes(way, [fn for _, fn in known], count, seed, spread)
        found += [_scatter(ask, row, samples.without_shape) for (ask, _), row in zip(known, samples.sizes, strict=True)]
    return found


def _measured(group: Group, phrase: Phrase, part: str) -> Fn | None:
    try:
        return group.measured(phrase, part)
    except NoSense:
        return None


def _scatter(ask: tuple[str, Phrase, Given | None], row: Array, lost: float) -> Scatter:
    part, phrase, given = ask
    have = row[~np.isnan(row)]
    if not len(have):
        return Scatter(part, phrase, *(float("nan"),) * 4, without_shape=lost)
    low, high = (float(q) for q in np.quantile(have, (0.00135, 0.99865)))
    limits, outside = None, None
    if given is not None:
        limits = (given.nominal + given.limits.lower, given.nominal + given.limits.upper)
        outside = float(((have < limits[0]) | (have > limits[1])).mean())
    return Scatter(part, phrase, float(have.mean()), float(have.std()), low, high, limits, outside, lost)
