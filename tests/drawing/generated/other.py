"""Whether another part keeps the same dimensions and rulings: looked for from many starts, by closed forms alone."""

from __future__ import annotations

from itertools import product
from random import Random
from typing import Any

import numpy as np

from tests.drawing.generated.choose import ruled
from tests.drawing.generated.phrases import Phrase
from tests.drawing.generated.shape import STEP, Made, Part, is_right, plain

TURNS = 60


def solve(part: Part, phrases: list[Phrase], wanted: list[float], start: Any, branch: dict[int, int]) -> Any:
    """Free numbers at which the phrases have the wanted values, by damped steps from `start`; None if not found."""
    x = np.array(start, dtype=float)
    aim = np.array(wanted)
    weight = np.array([10.0 if p.unit == "ratio" else 1.0 for p in phrases])

    def off(at: Any) -> Any:
        made = Made(part, plain(part, at), branch)
        return (np.array([float(np.real(p.fn(made)).flat[0]) for p in phrases]) - aim) * weight

    with np.errstate(all="ignore"):
        now = off(x)
        if not np.all(np.isfinite(now)):
            return None
        for _ in range(TURNS):
            size = float(np.abs(now).max())
            if size < 1e-10:
                break
            n = len(x)
            made = Made(part, np.asarray(x[:, None] + 1j * STEP * np.eye(n)), branch)
            rows = np.array([np.broadcast_to(np.imag(p.fn(made)) / STEP, (n,)) for p in phrases]) * weight[:, None]
            if not np.all(np.isfinite(rows)):
                return None
            step = np.linalg.lstsq(rows, -now, rcond=1e-12)[0]
            share = min(1.0, 40.0 / max(float(np.abs(step).max()), 1e-12))
            for _ in range(12):
                trial = off(x + share * step)
                if np.all(np.isfinite(trial)) and np.linalg.norm(trial) < np.linalg.norm(now) * (1 - 0.01 * share):
                    break
                share /= 2
            else:
                break
            x, now = x + share * step, trial
    return x if float(np.abs(now).max()) < 1e-8 else None


def narrows(part: Part, made: Made, true: Made, angled: set[str]) -> bool:
    """Whether cones given by an angle narrow as the word written says, or by the ruling where none is written."""
    for i, link in enumerate(part.links):
        if link.name not in angled or link.kind != "cone":
            continue
        if ruled(part, true, i):
            if not ruled(part, made, i, near=0.0):
                return False
        elif float(np.real(made.slope(i)).flat[0]) * float(np.real(true.slope(i)).flat[0]) <= 0:
            return False
    return True


def same_part(part: Part, x: Any, branch: dict[int, int], near: float = 1e-5) -> bool:
    """Whether free numbers give the known part."""
    return bool(np.allclose(numbers(part, Made(part, plain(part, x), branch)), numbers(part, known(part)), atol=near))


def known(part: Part) -> Made:
    """The known part."""
    return Made(part, plain(part))


def numbers(part: Part, made: Made) -> Any:
    """Every station and radius of a part, from its left end: what two equal parts share."""
    zero = made.station(0)
    found = [made.station(k) - zero for k in range(1, len(part.joins))]
    for i in range(len(part.links)):
        found += [made.end(i, -1), made.end(i, 1)]
    for i in range(len(part.holes)):
        found += [made.bottom(i) - zero, *made.hole_radii(i)]
    for groove in part.grooves:
        zl, zr, floor = (made.x[groove.numbers[w]] for w in ("zl", "zr", "floor"))
        found += [zl - zero, zr - zero, floor]
    with np.errstate(all="ignore"):
        return np.array([float(np.real(f).flat[0]) for f in found])


def another(part: Part, phrases: list[Phrase], random: Random, starts: int = 120) -> Made | None:
    """A second part with the same dimensions that keeps every ruling; None where none was found."""
    true = known(part)
    return a_part(part, phrases, [p.value(true) for p in phrases], random, starts, is_other=True)


def a_part(
    part: Part,
    phrases: list[Phrase],
    wanted: list[float],
    random: Random,
    starts: int,
    *,
    is_other: bool = False,
    is_any: bool = False,
) -> Made | None:
    """A part by the rulings (by any numbers: `is_any`) with the wanted sizes, other than the known one if asked."""
    true = known(part)
    angled = {p.angled for p in phrases if p.angled}
    joins = sorted(part.branch)
    choices = list(product((-1, 1), repeat=len(joins)))
    base = np.array(part.values)
    for n in range(starts):
        signs = random.choice(choices) if n % 2 else tuple(part.branch[k] for k in joins)
        spread = 10 ** random.uniform(0, 1.6)
        start = base + np.array([random.gauss(0, spread) for _ in base])
        branch = dict(zip(joins, signs, strict=True))
        x = solve(part, phrases, wanted, start, branch)
        if x is None or (is_other and same_part(part, x, branch)):
            continue
        made = Made(part, plain(part, x), branch)
        if is_any or (is_right(part, made) and narrows(part, made, true, angled)):
            return made
    return None
