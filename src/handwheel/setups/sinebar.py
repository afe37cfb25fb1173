"""A sine bar and the fewest gauge blocks that set it, from the blocks owned: an exact search.

Sizes are whole numbers of 0.00001 mm, in which every block of either unit is exact. For each count from one up the
sums of half the blocks are laid against the sums of the other half, so that the first count with a stack near enough
is the fewest; of those the nearest is taken, and of equally near ones the first in the order of the blocks.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

GRAIN_MM = 1e-5
MOST_BLOCKS = 6


@dataclass(frozen=True, slots=True)
class Stack:
    """Blocks wrung together: their sizes, the largest first, what they make, and what was wanted. [mm]"""

    blocks_mm: tuple[float, ...]
    makes_mm: float
    wanted_mm: float


def sine_bar_stack_mm(angle_deg: float, centres_mm: float) -> float:
    """Height of the stack that sets a sine bar to an angle: centres times the sine.

    Parameters
        angle_deg: angle to set, 0 <= angle_deg <= 60; steeper, a block's error counts more than twice. [deg]
        centres_mm: distance between the rollers' centres, > 0. [mm]
    Raises
        ValueError: the angle is outside that range.
    """
    if not 0.0 <= angle_deg <= 60.0:
        raise ValueError(f"a sine bar is set from 0 to 60°, not {angle_deg:g}°; set the complement from a square")
    return centres_mm * math.sin(math.radians(angle_deg))


def sine_bar_angle_deg(stack_mm: float, centres_mm: float) -> float:
    """The angle that a stack sets. ValueError for a stack longer than the bar. [deg]"""
    if not 0.0 <= stack_mm <= centres_mm:
        raise ValueError(f"a stack of {stack_mm:g} mm does not go under a bar of {centres_mm:g} mm")
    return math.degrees(math.asin(stack_mm / centres_mm))


def fewest_blocks(wanted_mm: float, blocks_mm: Sequence[float], within_mm: float) -> Stack | None:
    """The stack of the fewest blocks, each used once, within so much of the height wanted; None where six do not do.

    Parameters
        wanted_mm: the height, > 0. [mm]
        blocks_mm: the blocks owned. [mm]
        within_mm: how near is near enough, >= 0. [mm]
    """
    sizes = tuple(sorted({round(size / GRAIN_MM) for size in blocks_mm}))
    target, near = wanted_mm / GRAIN_MM, within_mm / GRAIN_MM
    for count in range(1, min(MOST_BLOCKS, len(sizes)) + 1):
        found = _nearest(sizes, target, near + 1e-6, count)
        if found is not None:
            return _stack(sizes, found[1], wanted_mm)
    return None


def block_and_stack(wanted_mm: float, blocks_mm: Sequence[float], within_mm: float) -> tuple[float, Stack] | None:
    """One block under the lower roller and a stack under the other, for a height below the least block; the fewest.

    Returns
        (the block, the stack that stands higher by the height), both of blocks used once; None where six do not do. [mm]
    """
    sizes = tuple(sorted({round(size / GRAIN_MM) for size in blocks_mm}))
    target, near = wanted_mm / GRAIN_MM, within_mm / GRAIN_MM
    for count in range(1, min(MOST_BLOCKS, len(sizes))):
        found = [
            (one[0], k, one[1]) for k, base in enumerate(sizes)
            if (one := _nearest(sizes, target + base, near + 1e-6, count, barred=k)) is not None
        ]  # fmt: skip
        if found:
            _, k, chosen = min(found)
            base_mm = round(sizes[k] * GRAIN_MM, 5)
            return base_mm, _stack(sizes, chosen, wanted_mm + base_mm)
    return None


def _stack(sizes: tuple[int, ...], chosen: tuple[int, ...], wanted_mm: float) -> Stack:
    blocks = tuple(sorted((round(sizes[i] * GRAIN_MM, 5) for i in chosen), reverse=True))
    return Stack(blocks, round(sum(sizes[i] for i in chosen) * GRAIN_MM, 5), wanted_mm)


def finest_step_mm(blocks_mm: Sequence[float]) -> float | None:
    """The least difference between two blocks; None of fewer than two. [mm]"""
    sizes = sorted({round(size / GRAIN_MM) for size in blocks_mm})
    return min((b - a for a, b in zip(sizes, sizes[1:], strict=False)), default=0) * GRAIN_MM or None


@cache
def _sums(sizes: tuple[int, ...], count: int) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """All sums of `count` blocks, the least first, and which blocks each is of."""
    if count == 0:
        return np.zeros(1, dtype=np.int64), np.zeros((1, 0), dtype=np.int64)
    chosen = np.array(list(combinations(range(len(sizes)), count)), dtype=np.int64)
    sums = np.array(sizes, dtype=np.int64)[chosen].sum(axis=1)
    order = np.argsort(sums, kind="stable")
    return sums[order], chosen[order]


def _nearest(
    sizes: tuple[int, ...], target: float, near: float, count: int, barred: int = -1
) -> tuple[float, tuple[int, ...]] | None:
    """The nearest stack of that many blocks, none twice and not the barred one, and how far off; None if not near."""
    few, few_of = _sums(sizes, count // 2)
    many, many_of = _sums(sizes, count - count // 2)
    low = np.searchsorted(many, target - few - near, side="left")
    high = np.searchsorted(many, target - few + near, side="right")
    best: tuple[float, tuple[int, ...]] | None = None
    for k in np.nonzero(high > low)[0]:
        mine = tuple(int(i) for i in few_of[k])
        for j in range(int(low[k]), int(high[k])):
            off = abs(float(few[k] + many[j]) - target)
            if best is not None and off >= best[0] - 1e-9:
                continue
            theirs = tuple(int(i) for i in many_of[j])
            if not set(mine) & set(theirs) and barred not in (*mine, *theirs):
                best = (off, (*mine, *theirs))
    return best
