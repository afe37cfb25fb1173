"""The ball tool's pictures: the equal-gap test, where the tip touches and starts, where the ball is measured."""

from __future__ import annotations

import math

from handwheel.setups.records import Sketch
from handwheel.sheets.primitives import Item, Line, LineType, Point
from handwheel.sheets.sketches.pen import (
    arc,
    arrow,
    axis,
    between,
    bit,
    both_halves,
    cross,
    jaws,
    noted,
    shoulders,
    words,
)

SHOWN_RADII = 4.5
"""Farther from the ball's centre than so many of its radii the chuck is not drawn."""
GREATEST_SCALE = 4.0


def gap_test(sketch: Sketch, width: float, height: float) -> list[Item]:
    """From the front: a true test piece, the swing axis out, the wider gap above it. Not to scale."""
    x, half, out, end = 12.0, 4.6, 1.4, 20.0
    reach = half + 2.6 + out
    top, low = -reach - out, reach - out
    items: list[Item] = [*both_halves([(3.0, -half), (end, -half), (end, 0.0)]), *jaws(5.0, half), axis(1.0, 23.0)]
    items += cross(x, -out)
    items += [bit((x, top), (0.0, -1.0)), bit((x, low), (0.0, 1.0))]
    items += [arc(x, -out, reach, -75.0, -105.0, LineType.THIN), arc(x, -out, reach, 75.0, 105.0, LineType.THIN)]
    for y, edge, name in ((top, -half, "wider gap"), (low, half, "narrower gap")):
        items += [Line(x + 1.2, y, 24.0, y), Line(end + 1.0, edge, 24.0, edge)]
        way = 3.4 if y > edge else -3.4
        items += [*arrow((22.6, edge - way), (22.6, edge)), *arrow((22.6, y + way), (22.6, y))]
        items.append(words(24.9, (y + edge) / 2 + 1.1, name))
    items += [words(24.9, -2.2, "swing axis"), Line(x + 1.8, -out - 0.1, 24.3, -3.2), words(24.9, 2.6, "lathe's axis")]
    return items


def _shape(sketch: Sketch, low: float, scale: float) -> list[Point]:
    """The metal's half section above the axis from a station on, in the picture. [mm]"""
    kept: list[Point] = []
    for (ua, ra), (ub, rb) in zip(sketch.outline, sketch.outline[1:], strict=False):
        if ub < low:
            continue
        start = (ua, ra) if ua >= low else (low, ra + (rb - ra) * (low - ua) / max(ub - ua, 1e-9))
        kept += [start, (ub, rb)]
    run = list(dict.fromkeys((u * scale, -r * scale) for u, r in kept))
    return [*run, (run[-1][0], 0.0)] if run else []


def touch_and_start(sketch: Sketch, width: float, height: float) -> list[Item]:
    """To scale: the blank before the jaws, the tip on top of it and at its end, and where it starts to swing."""
    s = sketch.sizes
    near = s["stands"] <= SHOWN_RADII * s["radius"]
    back = s["stands"] if near else 2.5 * s["radius"]
    scale = min((width - 19.0) / (back + s["end"]), height / (2.0 * s["farthest"]), GREATEST_SCALE)
    run = _shape(sketch, -back, scale)
    top, end, start = s["top"] * scale, s["end"] * scale, s["farthest"] * scale
    items: list[Item] = [*both_halves(run, LineType.EDGE), *shoulders(run), *cross(0.0, 0.0)]
    items.append(axis(-back * scale - 3.0, end + 8.0))
    neck = _turn(s["neck"], s["radius"])
    items += [arc(0.0, 0.0, s["radius"] * scale, 0.0, neck), arc(0.0, 0.0, start, 0.0, neck, LineType.HIDDEN)]
    items += [bit((0.0, -top), (0.0, -1.0)), bit((end, 0.0), (1.0, 0.0))]
    corner = max(((u, r) for u, r in sketch.outline if u > s["neck"]), key=lambda p: math.hypot(*p), default=(0.0, s["top"]))
    at, beyond = (corner[0] * scale, -corner[1] * scale), -start - 4.0
    items += noted((1.1, -top - 4.4), (6.6, beyond), "a", sketch.words.get("a", ""))
    items += noted((end + 4.0, -1.1), (end + 5.0, -7.0), "b")
    items += noted(at, (min(at[0] - 4.0, -7.0), beyond), "c", sketch.words.get("c", ""), is_before=True)
    if near:
        edge = -run[0][1]
        items += jaws(-back * scale, edge)
        items += between(-back * scale, 0.0, max(start, edge + 3.4) + 2.0, (edge + 2.6, top), "d", sketch.words.get("d", ""))
    return items


def _turn(station: float, radius: float) -> float:
    return math.degrees(math.acos(max(-1.0, min(1.0, station / radius))))


def where_to_measure(sketch: Sketch, width: float, height: float) -> list[Item]:
    """To scale: the ball with its equator, a diameter at each side of the centre, the pole."""
    s, said = sketch.sizes, sketch.words
    radius, back = s["radius"], 1.6 * s["radius"]
    scale = min((width - 20.0) / (back + s["pole"]), 0.8 * height / (2.0 * radius))
    neck, free = _turn(s["neck"], radius), _turn(s["pole"], radius)
    stub = radius * math.sin(math.radians(neck)) * scale
    shank = [(-back * scale, -stub)] if stub > 0.3 and s["neck"] > -back else []
    run = [*shank, *arc(0.0, 0.0, radius * scale, neck, free).points, (s["pole"] * scale, 0.0)]
    tall, end, half = radius * scale, s["pole"] * scale, s["apart"] * scale
    side = math.sqrt(radius * radius - s["apart"] ** 2) * scale
    items: list[Item] = [*both_halves(run), axis(-back * scale - 2.0, end + 4.0), *arrow((0.0, tall), (0.0, -tall), both=True)]
    items += noted((0.0, -tall), (0.0, -tall - 5.4), "e", said["e"])
    shown = [sign for sign in (-1.0, 1.0) if s["neck"] < sign * s["apart"] < s["pole"]]
    for sign in shown:
        items += arrow((sign * half, side), (sign * half, -side), both=True)
        items += noted((sign * half, -side), (sign * (half + 4.0), -tall - 1.2), "f", said["f"] if sign > 0.0 else "")
        items += [Line(sign * half, side + 1.0, sign * half, tall + 3.6)]
    if shown:
        ends = (-half if len(shown) > 1 else 0.0, half)
        y = tall + 2.6
        items += [*arrow((ends[0], y), (0.0, y), both=True), *arrow((0.0, y), (ends[1], y), both=True)]
        items += noted((-half / 2, y), (-half - 5.0, y + 1.0), "g", said["g"], is_before=True)
    items += between(0.0, end, tall + 7.0, (tall - 0.4, 0.0), "h", said["h"])
    return items
