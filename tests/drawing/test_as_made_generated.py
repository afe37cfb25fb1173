"""Chains drawn at random with sums measured at random, against scipy's linear programme for the least even share."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linprog

from handwheel.drawing.asmade import with_as_made
from tests.drawing.jobs import sized


@pytest.mark.parametrize("seed", range(60))
def test_measured_sums_of_a_chain(seed: int) -> None:
    dice = np.random.default_rng(seed)
    n = int(dice.integers(3, 7))
    lengths = dice.integers(5, 30, n).astype(float)
    half = dice.choice([0.02, 0.05, 0.1, 0.2], n)
    names = [f"s{k}" for k in range(n)]
    text = "handwheel: 1\njob: chain\nunits: mm\nparts:\n  bar:\n    outside:\n"
    text += "".join(f"      - cylinder: {name}\n" for name in names) + "    dimensions:\n"
    text += "".join(f"      {name} diameter: {10 + 2 * k}\n" for k, name in enumerate(names))
    text += "".join(f"      {name} length: {x:g} ± {t:g}\n" for name, x, t in zip(names, lengths, half, strict=True))
    # one or two runs of neighbours measured over, each at least two long, off by up to one and a half times what is allowed
    runs = []
    for _ in range(int(dice.integers(1, 3))):
        a = int(dice.integers(0, n - 1))
        b = int(dice.integers(a + 2, n + 1))
        if (a, b) not in runs:
            runs.append((a, b))
    rows = np.array([[float(a <= k < b) for k in range(n)] for a, b in runs])
    off = np.round(rows @ (half * dice.uniform(-1.5, 1.5, n)), 4)
    sizes = rows @ lengths + off
    made = ", ".join(f"{names[a]} left to {names[b - 1]} right: {x:.4f}" for (a, b), x in zip(runs, sizes, strict=True))
    (found,) = with_as_made(sized(text + f"as made:\n  bar: {{{made}}}\n")).as_made
    assert not found.cannot
    assert found.unused == ()
    now = lengths.copy()
    for moved in found.moved:
        if moved.size.phrase in {f"{name} length" for name in names}:
            now[names.index(moved.size.phrase.split()[0])] = moved.size.value
    assert rows @ now == pytest.approx(sizes, abs=1e-7)  # the measured sizes come out as they were measured
    # runs that share a length are settled together; for those the greatest share used is the least possible
    blocks = [[0, 1]] if len(runs) == 2 and (rows[0] * rows[1]).any() else [[k] for k in range(len(runs))]
    for block in blocks:
        used = rows[block].any(axis=0)
        best = linprog(  # moves in tolerance units, then the share, least
            np.r_[np.zeros(n), 1.0],
            A_ub=np.block([[np.eye(n), -np.ones((n, 1))], [-np.eye(n), -np.ones((n, 1))]]),
            b_ub=np.zeros(2 * n),
            A_eq=np.hstack([rows[block] * half, np.zeros((len(block), 1))]),
            b_eq=off[block],
            bounds=[(None, None)] * n + [(0, None)],
        )
        assert best.status == 0
        share = float(np.max(np.abs(now - lengths)[used] / half[used]))
        assert share == pytest.approx(best.x[-1], abs=1e-3 if len(block) > 1 else 1e-7)
        out = {o.size.phrase for o in found.out if o.is_drawn}
        assert bool(out & {f"{names[k]} length" for k in np.flatnonzero(used)}) == (best.x[-1] > 1 + 1e-6)
