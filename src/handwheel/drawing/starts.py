"""Where the search for the free numbers starts: guesses brought onto the linear equations, some scattered again."""

from __future__ import annotations

import random

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.eliminate import Reduced
from handwheel.drawing.group import Group
from handwheel.drawing.guess import first_guess, rough_sizes

Array = NDArray[np.float64]
STARTS = 14


def scattered(group: Group, reduced: Reduced, places: list[list[float]], seed: int, many: int) -> dict[int, Array]:
    """Free numbers at each start, by place: guesses moved the least distance onto the linear equations."""
    dice = random.Random(group.count + 1000 * seed)
    columns = [places[0], *places] if many > 1 else [places[0]]
    known = [(shape, rough_sizes(shape)) for shape in group.shapes.values()] if many > 1 else []
    for _ in range(0 if len(places) > 1 else many - 1):
        other = list(places[0])
        for shape, rough in known:
            first_guess(shape, other, dice, rough)
        columns.append(other)
    guesses = np.array(columns, dtype=float).T
    numbers = group.numbers()
    still = reduced.filled([0.0] * group.count + numbers)
    order = reduced.free
    free = np.empty((len(order), guesses.shape[1]))
    row_of = {p: k for k, p in enumerate(order)}
    for together in _moving_together(group, reduced):
        moving = reduced.moved_by(together)
        by = np.array([[reduced.share(i, p) for p in together] for i in moving])
        gap = guesses[moving] - np.array([still[i] for i in moving])[:, None]
        free[[row_of[p] for p in together]] = np.linalg.lstsq(by, gap, rcond=None)[0]
    # the linear equations draw the guesses together; the later ones are scattered again among the free numbers
    shake = np.random.default_rng(seed).uniform(-1.0, 1.0, free.shape)
    shake[:, : len(places) + 1 + STARTS // 3] = 0.0
    free += shake * (0.6 * np.abs(free) + 0.1 * np.abs(free).max(initial=0.0))
    return dict(zip(order, free, strict=True))


def _moving_together(group: Group, reduced: Reduced) -> list[list[int]]:
    """The free numbers in sets of which no number of a part feels two."""
    leader = {p: p for p in reduced.free}

    def find(p: int) -> int:
        while leader[p] != p:
            leader[p] = leader[leader[p]]
            p = leader[p]
        return p

    offsets = set(group.unknowns.places("offset"))
    for place, row in reduced.table.items():
        if place in offsets:
            continue
        mine = [j for j in row if j in leader]
        for other in mine[1:]:
            leader[find(other)] = find(mine[0])
    found: dict[int, list[int]] = {}
    for p in leader:
        found.setdefault(find(p), []).append(p)
    return list(found.values())
