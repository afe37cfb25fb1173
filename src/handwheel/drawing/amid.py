"""How a size moves with each toleranced number when all of them stand amid their limits."""

from __future__ import annotations

import numpy as np

from handwheel.drawing.ad import value_of
from handwheel.drawing.bench import make_bench
from handwheel.drawing.junctions import Fn
from handwheel.drawing.leeway import Leeway
from handwheel.drawing.limits import sways_of

PART = 0.01
"""Of half a tolerance: how far each number is moved to either side for the slope."""


def slopes_amid(way: Leeway, fn: Fn) -> dict[int, float] | None:
    """Slopes by the number's place in v; None where there is no shape to take them at."""
    if way.loop:
        return None
    sways = sways_of(way, [fn])
    bench = make_bench(way, way.resting(sways[0].by_free), [fn], sways)
    half, middle = (bench.upper - bench.lower) / 2.0, (bench.upper + bench.lower) / 2.0
    count = len(bench.numbers)
    if not count:
        return {}
    step = np.diag(half * PART)
    moved = middle[:, None] + np.concatenate([step, -step, 2.0 * step, -2.0 * step], axis=1)
    shift, good = bench.follow(moved)
    if not good.all():
        return None
    with np.errstate(all="ignore"):
        found = np.asarray(value_of(fn(bench.vector(shift, moved))), dtype=np.float64)
    if not np.isfinite(found).all():
        return None
    up, down, far_up, far_down = np.broadcast_to(found, 4 * count).reshape(4, count)
    slopes = (8.0 * (up - down) - (far_up - far_down)) / (12.0 * half * PART)  # exact to the fourth power of the step
    return dict(zip(bench.numbers, slopes.tolist(), strict=True))
