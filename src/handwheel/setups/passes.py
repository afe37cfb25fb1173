"""The passes of a ball tool from the first touch of the blank to size, as readings of its own screw.

The metal's reach from the ball's centre says where the tip starts and which pass first cleans the whole ball. The
reach is looked up on the outline of the metal before the swing, at stations between the neck and the free end; the
wall of the relief at the neck is left out, for it stands at its finished place already.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from handwheel.readings.dial import ball_wheel, dial, unit_of
from handwheel.readings.words import turns_text
from handwheel.setups.records import Pass
from handwheel.workshop.records import BallTool, Workshop

SAMPLES = 200
EDGE_MM = 1e-4
MEASURE_MM = 0.2
"""Left on the diameter when the ball is stopped at and measured: common practice, no source. [mm]"""
LAST_PASSES = 2
MOST_PASSES = 60


@dataclass(frozen=True, slots=True)
class Blank:
    """A ball's blank about the ball's centre. [mm]

    farthest_mm: of its metal from the centre, which is where the tip starts. cleans_mm: the tip's radius from which
    the whole ball is cut. top_mm: its radius over the centre. end_mm: its free end from the centre.
    """

    farthest_mm: float
    cleans_mm: float
    top_mm: float
    end_mm: float


def blank_of(
    outline: Sequence[tuple[float, float]], radius_mm: float, neck_mm: float, end_mm: float, far_mm: float = math.inf
) -> Blank:
    """The blank's reach from the ball's centre.

    Parameters
        outline: (u, r) of the metal's surface before the swing, u from the centre toward the free end. [mm]
        radius_mm: the ball's. [mm]
        neck_mm: u where the swing ends, toward the headstock. [mm]
        end_mm: u of the finished ball's free end: its radius, or a flat. [mm]
        far_mm: u where the swing begins, of a ball between two necks; metal beyond is not swung over. [mm]
    """
    farthest, cleans, top, end = radius_mm, math.inf, 0.0, max(u for u, _ in outline)
    is_flat = end_mm < radius_mm - EDGE_MM
    last = end_mm - EDGE_MM if is_flat else math.inf
    for (ua, ra), (ub, rb) in zip(outline, outline[1:], strict=False):
        length = math.hypot(ub - ua, rb - ra)
        if length < 1e-9:
            continue
        foot = max(0.0, min(1.0, -(ua * (ub - ua) + ra * (rb - ra)) / length**2))
        shares = [k / SAMPLES for k in range(SAMPLES + 1)] + [foot]
        for share in shares:
            u, r = ua + share * (ub - ua), ra + share * (rb - ra)
            if not neck_mm - EDGE_MM <= u <= far_mm + EDGE_MM:
                continue
            farthest = max(farthest, math.hypot(u, r))
            if neck_mm + EDGE_MM < u < last:
                cleans = min(cleans, math.hypot(u, r))
        if min(ua, ub) - 1e-9 <= 0.0 <= max(ua, ub) + 1e-9:
            top = max(top, ra if abs(ub - ua) < 1e-9 else ra - ua * (rb - ra) / (ub - ua))
    return Blank(farthest, max(radius_mm, cleans if math.isfinite(cleans) else radius_mm), top, end)


def pass_radii_mm(blank: Blank, radius_mm: float, step_mm: float) -> tuple[float, ...]:
    """Radii of the tip, pass by pass: equal cuts to where the ball is measured, then the last ones, equal and light."""
    stop = radius_mm + MEASURE_MM / 2.0
    first = max(blank.farthest_mm, stop)
    count = max(0, math.ceil((first - stop) / step_mm - 1e-9))
    rough = [first - (first - stop) * (k + 1) / count for k in range(count)]
    begin = min(first, stop)
    last = [begin - (begin - radius_mm) * (k + 1) / LAST_PASSES for k in range(LAST_PASSES)]
    return (*rough, *last)


def ranges_for(radii: Sequence[float], tool: BallTool) -> tuple[int | None, ...]:
    """Which range of the head each pass is made in, kept as long as it reaches; None where none does."""
    found: list[int | None] = []
    for k, radius in enumerate(radii):
        now = found[-1] if found else None
        if now is not None and _holds(tool, now, radius):
            found.append(now)
            continue
        reach = [(sum(_holds(tool, i, r) for r in radii[k:]), -i) for i in range(len(tool.ranges_mm))
                 if _holds(tool, i, radius)]  # fmt: skip
        found.append(-max(reach)[1] if reach else None)
    return tuple(found)


def _holds(tool: BallTool, number: int, radius: float) -> bool:
    low, high = tool.ranges_mm[number]
    return low - 1e-9 <= radius <= high + 1e-9


def passes(blank: Blank, radius_mm: float, shop: Workshop, tool: BallTool) -> tuple[Pass, ...]:
    """The passes with the screw's readings, counted from the touch on top of the blank, or from a change of range."""
    radii = pass_radii_mm(blank, radius_mm, shop.habit("greatest cut") / 2.0)[:MOST_PASSES]
    ranges = ranges_for(radii, tool)
    zero, found, is_clean, before = blank.top_mm, [], False, None
    for k, (exact, here) in enumerate(zip(radii, ranges, strict=True)):
        notes = []
        if here is None:
            notes.append("beyond the head's ranges: turn more of the corner off first")
        elif before is not None and here != before:
            zero = found[-1].radius_mm
            notes.append("head to its other range; touch the tip on the last cut, that is the new zero")
        before = here if here is not None else before
        made, words = _reading(zero, exact, tool)
        if not is_clean and made <= blank.cleans_mm + 1e-9:
            is_clean = True
            notes.append("the first that cleans the whole ball")
        if k == len(radii) - LAST_PASSES - 1 or (k == 0 and len(radii) == LAST_PASSES):
            notes.append("stop and measure")
        if k == len(radii) - 1:
            notes.append("creep: the last of it in the smallest parts the screw shows")
        found.append(Pass(k + 1, made, exact, words, "; ".join(notes)))
    return tuple(found)


def _reading(zero_mm: float, radius_mm: float, tool: BallTool) -> tuple[float, str]:
    """The tip's radius that the nearest line makes, and the reading from zero."""
    wheel = ball_wheel(tool)
    is_out = radius_mm > zero_mm
    turns, divisions, moves = dial(abs(zero_mm - radius_mm), wheel)
    words = turns_text(turns, divisions, unit_of(wheel))
    return zero_mm + moves if is_out else zero_mm - moves, f"{'out' if is_out else 'in'} {words}"
