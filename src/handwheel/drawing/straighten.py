"""The equations that are linear sorted from the others, and which free numbers have a say in those.

Some are linear only in what the linear ones leave free; some feel less of it than they seem to.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from handwheel.drawing.ad import Dual, Scalar, value_of
from handwheel.drawing.eliminate import CONST, Reduced, Row
from handwheel.drawing.junctions import Equation, Fn

ROUNDING = 1e-11
"""A slope with less than this share of what it is a sum of is none."""
SLIGHT = 1e-6
"""A number with less than this share of the greatest say may have come to it by chance."""


def apart(
    equations: Sequence[Equation], x: list[float], numbers: list[float]
) -> tuple[list[Equation], list[Row], list[tuple[Equation, set[int]]]]:
    """The linear equations, their rows, and the others with the places they touch."""
    v = _seeded(x, numbers)
    linear: list[Equation] = []
    rows: list[Row] = []
    curved: list[tuple[Equation, set[int]]] = []
    for e in equations:
        try:
            found = e.fn(v)
        except ZeroDivisionError:  # an apex or meeting of surfaces that are alike in the first guess: look beside it
            found = e.fn(_seeded([a + math.sin(i) for i, a in enumerate(x)], numbers))
        if type(found) is not Dual:
            linear.append(e)
            rows.append({CONST: float(value_of(found))})
        elif found.lin:
            linear.append(e)
            rows.append({**found.g, CONST: found.a - sum(d * x[i] for i, d in found.g.items())})
        else:
            curved.append((e, set(found.g)))
    return linear, rows, curved


def _seeded(x: Sequence[float], numbers: Sequence[float]) -> list[Scalar]:
    return [0.0, *(Dual(x[i], {i: 1.0}) for i in range(1, len(x))), *numbers]


def straightened(
    curved: list[tuple[Equation, set[int]]], reduced: Reduced, guess: list[float]
) -> tuple[list[Equation], list[Row], list[tuple[Equation, set[int]]]]:
    """Equations that are linear in what the linear ones leave free, with their rows; and the others."""
    if not curved:
        return [], [], []
    v = reduced.filled(guess)
    count = reduced.count
    seeded: list[Scalar] = list(v)
    for i in range(1, count):
        slopes = {j: d for j, d in reduced.row(i).items() if 0 < j < count}
        if slopes:
            seeded[i] = Dual(v[i], slopes)
    places = [0.0, *(Dual(v[i], {i: 1.0}) for i in range(1, count)), *v[count:]]
    more: list[Equation] = []
    rows: list[Row] = []
    left: list[tuple[Equation, set[int]]] = []
    for e, touched in curved:
        fn = next((f for f in (e.fn, e.plain) if f is not None and _is_straight(f, seeded)), None)
        if fn is None:
            left.append((e, touched))
            continue
        found = fn(places)
        if not _slopes(found, reduced):  # what is left of them is rounding
            left.append((e, touched))
            continue
        more.append(e)
        rows.append({**found.g, CONST: found.a - sum(d * v[i] for i, d in found.g.items())})
    return more, rows, left


def _is_straight(fn: Fn, seeded: list[Scalar]) -> bool:
    """Whether it is linear, and in every free number it was made of."""
    try:
        found = fn(seeded)
    except ZeroDivisionError:  # as in `apart`: what divides is not straight
        return False
    if type(found) is not Dual or not found.lin:
        return False
    most = max((abs(d) for d in found.g.values()), default=0.0)
    return most > 0.0 and all(abs(d) > SLIGHT * most for d in found.g.values())


def _slopes(found: Scalar, reduced: Reduced) -> set[int]:
    """The free numbers with which it moves by more than rounding."""
    slope: dict[int, float] = {}
    scale: dict[int, float] = {}
    for i, d in found.g.items() if type(found) is Dual else ():
        for j, c in reduced.row(i).items():
            if 0 < j < reduced.count:
                slope[j] = slope.get(j, 0.0) + d * c
                scale[j] = max(scale.get(j, 0.0), abs(d * c))
    return {j for j, d in slope.items() if not abs(d) <= ROUNDING * scale[j]}


def felt(e: Equation, touched: set[int], reduced: Reduced, guess: list[float]) -> set[int]:
    """The free numbers that have a say in an equation; those that fall out of it, wherever it stands, have none."""
    every = {j for i in touched for j in reduced.row(i) if 0 < j < reduced.count}
    found: set[int] = set()
    for turn in range(2):
        shaken = [a * (1.0 + 0.11 * turn * math.sin(i)) + 0.7 * turn * math.cos(i) for i, a in enumerate(guess)]
        v: list[Scalar] = [*reduced.filled([*shaken[: reduced.count], *guess[reduced.count :]])]
        for i in touched:
            v[i] = Dual(v[i], {i: 1.0})
        try:
            found |= _slopes(e.fn(v), reduced)
        except ZeroDivisionError:
            return every
        if len(found) == len(every):
            break
    return found
