"""Two balls and a taper drawn in any five independent dimensions: the lever comes back, or both shapes are told."""

from __future__ import annotations

import random
from collections.abc import Callable
from math import atan, degrees, sqrt

import numpy as np
import pytest

from handwheel.drawing.records import State
from tests.drawing.jobs import part

Five = tuple[float, float, float, float, float]
"""Radii of the left and right ball, distance of their centres, cone's radius at each centre."""


def left_meeting(p: Five) -> float:
    """Station, from the left ball's centre, where the cone leaves the left ball."""
    big, _, apart, r0, r1 = p
    u = (r1 - r0) / apart
    return (-r0 * u + sqrt((r0 * u) ** 2 + (1 + u * u) * (big * big - r0 * r0))) / (1 + u * u)


def right_meeting(p: Five) -> float:
    big, small, apart, r0, r1 = p
    return apart - left_meeting((small, big, apart, r1, r0))


def radius(p: Five, x: float) -> float:
    return p[3] + (p[4] - p[3]) * x / p[2]


PHRASES: dict[str, Callable[[Five], float]] = {
    "b diameter": lambda p: 2 * p[0],
    "k diameter": lambda p: 2 * p[1],
    "b centre to k centre": lambda p: p[2],
    "overall length": lambda p: p[0] + p[2] + p[1],
    "c diameter at b centre": lambda p: 2 * p[3],
    "c diameter at k centre": lambda p: 2 * p[4],
    "c left diameter": lambda p: 2 * radius(p, left_meeting(p)),
    "c right diameter": lambda p: 2 * radius(p, right_meeting(p)),
    "c length": lambda p: right_meeting(p) - left_meeting(p),
    "b length": lambda p: p[0] + left_meeting(p),
    "k length": lambda p: p[1] + p[2] - right_meeting(p),
    "left end to c right": lambda p: p[0] + right_meeting(p),
    "b centre to c right": lambda p: right_meeting(p),
    "c included angle": lambda p: 2 * degrees(atan(abs(p[4] - p[3]) / p[2])),
    "c taper": lambda p: 2 * abs(p[4] - p[3]) / p[2],
}


def five_phrases(p: Five, dice: random.Random) -> list[str]:
    """Five of the phrases that are independent at this lever."""
    rows: list[list[float]] = []
    chosen: list[str] = []
    for name in dice.sample(sorted(PHRASES), len(PHRASES)):
        fn, row = PHRASES[name], []
        for i in range(5):
            step = 1e-5
            up, down = list(p), list(p)
            up[i] += step
            down[i] -= step
            row.append((fn(tuple(up)) - fn(tuple(down))) / (2 * step))  # type: ignore[arg-type]
        length = float(np.linalg.norm(row))
        trial = [*rows, [x / length for x in row]]
        if np.linalg.svd(np.array(trial), compute_uv=False)[-1] > 0.02:
            rows, chosen = trial, [*chosen, name]
        if len(chosen) == 5:
            break
    return chosen


@pytest.mark.parametrize("seed", range(80))
def test_a_known_lever_comes_back(seed: int) -> None:
    dice = random.Random(seed)
    big, small = dice.uniform(8, 14), dice.uniform(4, 7.5)
    p = (big, small, dice.uniform(50, 90), big * dice.uniform(0.4, 0.7), small * dice.uniform(0.4, 0.75))
    if p[3] <= p[4]:
        p = (big, small, p[2], p[4] * 1.2, p[4])
    phrases = five_phrases(p, dice)
    if len(phrases) < 5:
        pytest.skip("no five of the phrases are independent enough here")
    units = {"c included angle": " deg"}
    lines = [f"{name}: {PHRASES[name](p):.15f}{units.get(name, '')}" for name in phrases]
    found = part(["ball: b", "cone: c", "ball: k"], lines)
    if found.state is State.AMBIGUOUS:
        # both are told; one of the two is this lever
        what = found.faults[0].what
        words = what.split("'")[1]
        told = [float(w) for w in what.replace(" mm", "").split() if w.replace(".", "").isdigit()]
        if words in PHRASES or words == "left end to b right":
            true = p[0] + left_meeting(p) if words == "left end to b right" else PHRASES[words](p)
            assert any(value == pytest.approx(true, rel=1e-5) for value in told), (phrases, what, true)
        return
    assert found.state is State.FULLY_DIMENSIONED, (lines, [f.line() for f in found.faults])
    solved = found.part("it")
    assert solved.length == pytest.approx(p[0] + p[1] + p[2], abs=1e-6), lines
    assert solved.feature("c").left == pytest.approx(p[0] + left_meeting(p), abs=1e-6)
    assert solved.feature("c").right == pytest.approx(p[0] + right_meeting(p), abs=1e-6)
    assert solved.feature("c").left_radius == pytest.approx(radius(p, left_meeting(p)), abs=1e-6)
