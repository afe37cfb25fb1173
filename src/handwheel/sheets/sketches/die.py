"""The die's pictures: in its holder before the end of the blank, and what is faced off to come tight further round."""

from __future__ import annotations

import math

from handwheel.setups.records import Sketch
from handwheel.sheets.primitives import Circle, Item, LineType, Point, Polyline
from handwheel.sheets.sketches.pen import arc, arrow, axis, both_halves, noted, shoulders, words

SHOWN_RADII = 8.0
DIE_PITCHES = 7.0
"""How thick the die is drawn."""
GREATEST_SCALE = 4.0


def die_in_its_holder(sketch: Sketch, width: float, height: float) -> list[Item]:
    """To scale: the end of the blank with its lead and what stands behind the thread; die and holder lightly."""
    s = sketch.sizes
    low = max(sketch.outline[0][0], -SHOWN_RADII * s["blank"] / 2.0)
    long, wide = DIE_PITCHES * s["pitch"], 2.2 * s["major"]
    scale = min((width - 10.0) / (1.8 * long - low), 0.8 * height / wide, GREATEST_SCALE)
    shown = [(u * scale, -r * scale) for u, r in sketch.outline if u >= low - 1e-9]
    before = [r for u, r in sketch.outline if u < low - 1e-9]
    run = [*([(low * scale, -before[-1] * scale)] if before else []), *shown, (shown[-1][0], 0.0)]
    half, root, face = wide / 2.0 * scale, s["root"] / 2.0 * scale, 1.0
    back, pitch = face + long * scale, s["pitch"] * scale
    end = back + 0.8 * long * scale
    items: list[Item] = [*both_halves(run), *shoulders(run), axis(low * scale - 2.0, end + 3.0)]
    mouth = s["blank"] / 2.0 * scale + 0.6 * pitch
    cheek: list[Point] = [(face, -half), (back, -half), (back, -root), (face + 2.0 * pitch, -root), (face, -mouth), (face, -half)]
    rim = half + 1.6
    cup: list[Point] = [(face, -half), (face, -rim), (back + 1.6, -rim), (back + 1.6, -0.45 * half), (end, -0.45 * half)]
    items += [*both_halves(cheek, LineType.EDGE), *both_halves(cup, LineType.THIN)]
    lift = max(half, *(abs(y) for _, y in run)) + 5.0
    whole = s["blank"] * scale
    items += noted((-0.9 * whole, -whole / 2.0), (-1.2 * whole, -lift), "a", sketch.words["a"])
    items += noted((-0.2 * pitch, -root - 0.1 * pitch), (3.0, lift), "b", sketch.words["b"])
    hollow = _undercut(sketch, low)
    if hollow is not None and "c" in sketch.keys:
        at, floor = hollow
        items += noted((at * scale, floor * scale), (at * scale - 1.0, lift), "c")
    return items


def _undercut(sketch: Sketch, low: float) -> tuple[float, float] | None:
    """The middle of the undercut behind the thread, and its radius; None where there is none. [mm]"""
    points = [p for p in sketch.outline if p[0] >= low - 1e-9]
    least = sketch.sizes["blank"] / 2.0 - 1e-3
    found = [
        ((ua + ub) / 2.0, ra)
        for (ua, ra), (ub, rb) in zip(points, points[1:], strict=False)
        if ub - ua > 1e-6 and abs(ra - rb) < 1e-6 and ra < least and ub < -0.5 * sketch.sizes["blank"]
    ]
    return found[-1] if found else None


def clocking(sketch: Sketch, width: float, height: float) -> list[Item]:
    """From the screw's head: the arm where it comes tight, where it belongs, and what is faced off the seat for that."""
    radius, reach = 3.0, 12.0
    items: list[Item] = [Circle(0.0, 0.0, radius, LineType.OUTLINE), Circle(0.0, 0.0, 1.2, LineType.EDGE)]
    items.append(Polyline(((-1.2, -radius + 0.3), (-0.9, -reach), (0.9, -reach), (1.2, -radius + 0.3)), LineType.OUTLINE))
    items.append(Polyline(((radius - 0.3, -1.2), (reach, -0.9), (reach, 0.9), (radius - 0.3, 1.2)), LineType.PHANTOM))
    turn = arc(0.0, 0.0, 7.6, 80.0, 16.0, LineType.THIN)
    last = (7.6 * math.cos(math.radians(9.0)), -7.6 * math.sin(math.radians(9.0)))
    items += [turn, *arrow(turn.points[-1], last)]
    to_go = f"{sketch.words['to go']} to go"
    items += [words(2.2, -10.4, "tight here"), words(7.4, -5.4, to_go), words(13.0, 1.1, "belongs here")]
    return [*items, *noted((0.0, radius), (3.6, 8.0), "d", sketch.words["d"])]
