"""One section against another: what sticks out, what is left to come off, whether they are the same."""

from __future__ import annotations

import numpy as np

from handwheel.base.tolerance import CHORD_MM, EQUAL_MM
from handwheel.stages.envelope import Aligned, Floats, aligned
from handwheel.stages.metal import ends
from handwheel.stages.records import Section

SAME_MM = 0.002
"""Two sections nearer than this all over are the same section. [mm]"""

INSIDE_MM = 2.0 * CHORD_MM + EQUAL_MM
"""What two chords for one arc may differ by: below this nothing is called a cut into the part. [mm]"""


def is_inside(small: Section, big: Section, tolerance_mm: float = INSIDE_MM) -> float:
    """Greatest amount by which `small` sticks out of `big`; 0.0 when it lies within, to tolerance_mm. [mm]

    On the radius, but past an end along the axis. A strip narrower than tolerance_mm along the axis is a step drawn
    twice, not metal.
    """
    amount = sticks_out(small, big, tolerance_mm)[0]
    return amount if amount > tolerance_mm else 0.0


def sticks_out(small: Section, big: Section, tolerance_mm: float = INSIDE_MM) -> tuple[float, float]:
    """Greatest amount by which `small` sticks out of `big`, and its station z. [mm]"""
    left, right = ends(small)
    big_left, big_right = ends(big)
    found = [(big_left - left, left), (right - big_right, right)]
    outside, inside = aligned(small.outer, big.outer), aligned(small.inner, big.inner)
    with np.errstate(invalid="ignore"):  # where neither profile reaches: infinity less infinity, passed over
        found.append(_greatest(outside, outside.a0 - outside.b0, outside.a1 - outside.b1, tolerance_mm))
        found.append(_greatest(inside, inside.b0 - inside.a0, inside.b1 - inside.a1, tolerance_mm))
    amount, where = max(found)
    return (amount, where) if amount > 0.0 else (0.0, where)


def excess(stage: Section, finished: Section) -> tuple[float, float, float]:
    """Greatest thickness of metal still to come off, on the radius, and where: (amount, z, r). [mm]

    Beyond an end of the finished part all the metal counts, from the axis out; strips narrower than 0.002 mm do not.
    """
    return max(_excess_outside(stage, finished), _excess_inside(stage, finished))


def same(a: Section, b: Section) -> bool:
    """Whether two sections are the same within 0.002 mm, on the radius and at the ends; steps may be off by as much.

    The area between them must also be small for their length, so that many small strips do not hide in the first test.
    """
    if max(is_inside(a, b, SAME_MM), is_inside(b, a, SAME_MM)) > 0.0:
        return False
    left, right = ends(a)
    between = _area_between(aligned(a.outer, b.outer)) + _area_between(aligned(a.inner, b.inner))
    tallest = max(float(a.outer[:, 1].max()), float(b.outer[:, 1].max()))
    return between <= SAME_MM * (2.0 * (right - left) + 4.0 * tallest)


def _greatest(both: Aligned, d0: Floats, d1: Floats, tolerance: float) -> tuple[float, float]:
    """The greatest finite difference over intervals wide enough to count, and its station."""
    counts = (both.z1 - both.z0 > tolerance) & np.isfinite(d0) & np.isfinite(d1)
    if not counts.any():
        return 0.0, float(both.z0[0])
    ends_at = np.concatenate([d0[counts], d1[counts]])
    best = int(np.argmax(ends_at))
    return float(ends_at[best]), float(np.concatenate([both.z0[counts], both.z1[counts]])[best])


def _excess_outside(stage: Section, finished: Section) -> tuple[float, float, float]:
    both = aligned(stage.outer, finished.outer)
    counts = (both.z1 - both.z0 > SAME_MM) & np.isfinite(both.a0)
    wanted0 = np.where(np.isfinite(both.b0), both.b0, 0.0)
    wanted1 = np.where(np.isfinite(both.b1), both.b1, 0.0)
    return _worst(both, counts, both.a0 - wanted0, both.a1 - wanted1, both.a0, both.a1)


def _excess_inside(stage: Section, finished: Section) -> tuple[float, float, float]:
    both = aligned(stage.inner, finished.inner)
    counts = (both.z1 - both.z0 > SAME_MM) & np.isfinite(both.a0) & np.isfinite(both.b0)
    return _worst(both, counts, both.b0 - both.a0, both.b1 - both.a1, both.a0, both.a1)


def _worst(both: Aligned, counts: np.typing.NDArray[np.bool_], d0: Floats, d1: Floats,
           r0: Floats, r1: Floats) -> tuple[float, float, float]:
    if not counts.any():
        return 0.0, float(both.z0[0]), 0.0
    amounts = np.concatenate([d0[counts], d1[counts]])
    best = int(np.argmax(amounts))
    z = np.concatenate([both.z0[counts], both.z1[counts]])[best]
    r = np.concatenate([r0[counts], r1[counts]])[best]
    return max(float(amounts[best]), 0.0), float(z), float(r)


def _area_between(both: Aligned) -> float:
    """Area between two polylines where both reach; each interval is a trapezium, for they cross only at its ends."""
    reach = np.isfinite(both.a0) & np.isfinite(both.b0)
    tall = np.abs(both.a0[reach] - both.b0[reach]) + np.abs(both.a1[reach] - both.b1[reach])
    return float(np.sum(tall * (both.z1[reach] - both.z0[reach]))) / 2.0
