"""Checks on the metal itself: nothing cut into the part, nothing grown, nothing forgotten, nothing cut in the grip."""

from __future__ import annotations

import math

import numpy as np

from handwheel.stages.case import Case, Finding
from handwheel.stages.compare import INSIDE_MM, SAME_MM, excess, sticks_out
from handwheel.stages.envelope import Floats, aligned, clip
from handwheel.stages.metal import ends
from handwheel.stages.records import Polyline, Section, Truncate

ROUND_MM = 0.01
"""What a gripped diameter may vary by along the grip, on the radius, and still be called a cylinder. [mm]"""

MANDRELS = ("mandrel", "stub mandrel")
"""Kinds of holding that grip the bore."""


def into_the_part(case: Case) -> Finding:
    """Whether the cut goes into the finished part, outside, inside or past an end."""
    amount, where = sticks_out(case.finished, case.after)
    if amount <= INSIDE_MM:
        return Finding()
    context = case.context
    if sticks_out(case.finished, case.before)[0] >= amount - INSIDE_MM:
        fault = f"the metal is {context.length(amount)} short of the finished part at {context.station(where)} already"
        return Finding(fault, "take larger or longer stock, or look at the operation before")
    fault = f"the {case.cutter.name} cuts {context.length(amount)} into the finished part at {context.station(where)}"
    return Finding(fault, "stop the cut short of there, use a tool of another shape or hand, or cut from the other end")


def never_grows(case: Case) -> Finding:
    """Whether there is metal after the cut where there was none before."""
    amount, where = sticks_out(case.after, case.before)
    if amount <= INSIDE_MM:
        return Finding()
    context = case.context
    return Finding(f"{context.length(amount)} of metal more than before at {context.station(where)}",
                   "the operation before leaves less than this one starts from: put them in another order")


def nothing_left(case: Case) -> Finding | None:
    """Whether after the last operation metal is left that nothing is said of."""
    context = case.context
    if not context.is_last:
        return None
    worst = (0.0, 0.0, 0.0)
    start = -math.inf
    for begin, end in sorted((r[0], r[1]) for r in context.left_over) + [(math.inf, math.inf)]:
        worst = max(worst, _excess_between(case.after, case.finished, start, begin))
        start = max(start, end)
    amount, where, radius = worst
    if amount <= SAME_MM:
        return Finding()
    fault = (f"{context.length(amount)} of metal is left on the radius at {context.station(where)}, "
             f"{context.length(radius)} from the axis")
    return Finding(fault, "another cut there, or say on the sheet that it is left")


def cut_in_grip(case: Case) -> Finding | None:
    """Whether metal is cut within the gripped length."""
    holding, context = case.holding, case.context
    start, end = holding.from_mm, holding.to_mm
    if not context.revolves or end - start <= 0.0:
        return None
    if isinstance(case.cut, Truncate):
        left, right = ends(case.before)
        planes = [plane for plane in (case.cut.left, case.cut.right)
                  if start + INSIDE_MM < plane < end - INSIDE_MM and left < plane < right]
        if not planes:
            return Finding()
        return Finding(f"the work is cut through within the grip, at {context.station(planes[0])}", _MOVE_GRIP)
    outside = _removed(case.before.outer, case.after.outer, start, end)
    inside = _removed(case.after.inner, case.before.inner, start, end)
    on_mandrel = holding.kind in MANDRELS
    amount, where = inside if on_mandrel else outside
    if not on_mandrel and not context.may_bore_in_grip:
        amount, where = max(inside, outside)
    if amount <= INSIDE_MM:
        return Finding()
    return Finding(f"{context.length(amount)} is cut within the gripped length at {context.station(where)}", _MOVE_GRIP)


def something_to_grip(case: Case) -> Finding | None:
    """Whether the gripped length is long enough and a true cylinder; in a ball collet, whether it passes the centre."""
    holding, context = case.holding, case.context
    if not context.revolves:
        return None
    start, end = holding.from_mm, holding.to_mm
    left, right = ends(case.before)
    if end - start <= 0.0:
        return Finding("nothing is gripped", "leave a chucking piece")
    if start < left - INSIDE_MM or end > right + INSIDE_MM:
        return Finding(f"the grip runs past the end of the metal, {context.station(left if start < left else right)}",
                       "longer stock, or grip elsewhere")
    profile = case.before.inner if holding.kind in MANDRELS else case.before.outer
    gripped = clip(profile, start, end)[:, 1]
    least, greatest = float(gripped.min()), float(gripped.max())
    if holding.kind == "ball collet":
        inner = clip(profile, start + INSIDE_MM, end - INSIDE_MM)[:, 1]
        if len(inner) and max(gripped[0], gripped[-1]) < float(inner.max()) - INSIDE_MM:
            return Finding()
        return Finding("the collet does not reach past the ball's centre", "a collet with a lip past the centre")
    if greatest - least > ROUND_MM:
        return Finding(f"what is gripped is not one diameter: from ∅ {context.length(2 * least)} "
                       f"to ∅ {context.length(2 * greatest)}", "grip a cylinder, or leave a chucking piece")
    for begin, finish, what in context.not_to_grip:
        if min(end, finish) - max(start, begin) > INSIDE_MM:
            return Finding(f"the grip is on {what}", "grip beside it, in a split bush, or before it is cut")
    wanted = max(context.least_grip_mm, context.least_grip_share * 2.0 * greatest)
    if end - start < wanted - INSIDE_MM:
        return Finding(f"only {context.length(end - start)} is gripped, {context.length(wanted)} wanted",
                       "leave a chucking piece, or grip deeper")
    return Finding()


_MOVE_GRIP = "grip farther from the cut, or leave the work longer"


def _removed(greater: Polyline, lesser: Polyline, start: float, end: float) -> tuple[float, float]:
    """Greatest amount by which one profile has come above another between two stations, and where."""
    a, b = clip(greater, start, end), clip(lesser, start, end)
    if not len(a):
        return 0.0, start
    if not len(b):
        return float(a[:, 1].max()), float(a[int(np.argmax(a[:, 1])), 0])
    both = aligned(a, b)
    gone0, gone1 = _difference(both.a0, both.b0), _difference(both.a1, both.b1)
    amounts = np.concatenate([gone0, gone1])
    wide = np.tile(both.z1 - both.z0 > INSIDE_MM, 2)
    best = int(np.argmax(np.where(wide, amounts, 0.0)))
    return (float(amounts[best]) if wide[best] else 0.0), float(np.concatenate([both.z0, both.z1])[best])


def _difference(a: Floats, b: Floats) -> Floats:
    """a less b; where b does not reach all of a, where a does not, nothing."""
    difference: Floats = np.where(np.isfinite(a), a, 0.0) - np.where(np.isfinite(b) & np.isfinite(a), b, 0.0)
    return difference


def _excess_between(stage: Section, finished: Section, start: float, end: float) -> tuple[float, float, float]:
    """excess() between two stations."""
    left, right = ends(stage)
    left, right = max(left, start), min(right, end)
    if right - left <= SAME_MM:
        return 0.0, 0.0, 0.0
    piece = Section(clip(stage.outer, left, right), clip(stage.inner, left, right))
    done_left, done_right = ends(finished)
    if min(right, done_right) - max(left, done_left) <= SAME_MM:
        tallest = int(np.argmax(piece.outer[:, 1]))
        return float(piece.outer[tallest, 1]), float(piece.outer[tallest, 0]), float(piece.outer[tallest, 1])
    return excess(piece, Section(clip(finished.outer, left, right), clip(finished.inner, left, right)))
