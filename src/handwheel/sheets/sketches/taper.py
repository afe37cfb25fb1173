"""The taper's pictures: the top slide from above with an indicator, the sine bar on its blocks, what is measured and blued."""

from __future__ import annotations

import math

from handwheel.setups.records import Sketch
from handwheel.sheets.primitives import Band, Box, Circle, Item, Line, LineType, Point, Polyline
from handwheel.sheets.sketches.pen import (
    arrow,
    axis,
    between,
    bit,
    both_halves,
    indicator,
    jaws,
    noted,
    ring,
    spun,
    toward,
    words,
)

SHOWN_DEG = 9.0
"""The angle drawn: true ones are too small to be seen."""
MIDDLE = (13.0, 16.5)
LONG, WIDE = 22.0, 5.4
GREATEST_SCALE = 4.0
APART_MM = 36.0
"""On a shorter picture what the blue says at its ends stands in two lines."""


def _sense(sketch: Sketch) -> float:
    """1 where it narrows toward the tailstock, else -1."""
    return 1.0 if sketch.words.get("narrows", "tailstock") == "tailstock" else -1.0


def _swung(sketch: Sketch) -> float:
    """1 where the slide is swung as for a plug that narrows toward the tailstock, else -1: a bore may be cut on its far side."""
    return 1.0 if sketch.words.get("swung", "tailstock") == "tailstock" else -1.0


def _slide(sketch: Sketch) -> tuple[list[Item], Point]:
    """The top slide from above at its angle: its items and the unit direction along it."""
    angle = SHOWN_DEG * _swung(sketch)
    x, y = MIDDLE
    half, deep = LONG / 2, WIDE / 2
    shape = ((x - half, y - deep), (x + half, y - deep), (x + half, y + deep), (x - half, y + deep))
    along = (math.cos(math.radians(angle)), -math.sin(math.radians(angle)))
    end = toward(MIDDLE, along, half)
    items: list[Item] = [Polyline(spun(shape, angle, MIDDLE), LineType.OUTLINE, True), Circle(x, y, 1.4, LineType.EDGE)]
    items += [Line(x - half - 2.0, y, x + half + 3.0, y, LineType.CENTRE), Line(*end, *toward(end, along, 3.0), LineType.CENTRE)]
    return [*items, *ring(x + half + 5.0, y - 1.0 * _swung(sketch), "a", sketch.words["a"])], along


def _cone(sketch: Sketch) -> list[Item]:
    """The work in the jaws, its side at the slide's angle."""
    large = 5.4
    small = large - 22.0 * math.tan(math.radians(SHOWN_DEG))
    first, last = (large, small) if _swung(sketch) > 0.0 else (small, large)
    run = [(0.0, -5.4), (5.0, -5.4), (5.0, -first), (27.0, -last), (27.0, 0.0)]
    return [*both_halves(run), *jaws(3.0, 5.4, 4.0), axis(-3.0, 30.0)]


def on_the_side(sketch: Sketch, width: float, height: float) -> list[Item]:
    """From above: an indicator at rest on the bed bears on the slide's side while the carriage moves."""
    slide, along = _slide(sketch)
    touch = toward(MIDDLE, along, -7.0, WIDE / 2)
    tip = (MIDDLE[0], 5.4 - (MIDDLE[0] - 5.0) * math.tan(math.radians(SHOWN_DEG)))
    items = [*_cone(sketch), *slide, bit(tip, (0.0, 1.0)), *indicator(touch, (0.0, 1.0))]
    dial = touch[1] + 6.4
    items += ring(touch[0] + 6.0, dial, "b", " ".join(filter(None, (sketch.words["b"], "at rest"))))
    y = dial + 4.8
    return [*items, *arrow((0.0, y), (7.0, y), both=True), words(8.4, y + 1.0, f"carriage {sketch.words['far']}")]


def along_a_bar(sketch: Sketch, width: float, height: float) -> list[Item]:
    """From above: an indicator carried by the slide bears on a true bar while the slide moves."""
    slide, along = _slide(sketch)
    items: list[Item] = [*both_halves([(0.0, -3.2), (28.0, -3.2), (28.0, 0.0)]), *jaws(3.0, 3.2, 4.0), axis(-3.0, 31.0), *slide]
    items += [*indicator((13.0, 3.2), (0.0, 1.0)), Line(13.0, 12.0, 13.0, MIDDLE[1] - WIDE / 2, LineType.EDGE)]
    items += [*ring(18.6, 8.6, "c", sketch.words["c"]), words(7.0, -4.6, "true bar")]
    a, b = toward(MIDDLE, along, -11.0, WIDE / 2 + 2.2), toward(MIDDLE, along, 1.0, WIDE / 2 + 2.2)
    y = MIDDLE[1] + WIDE / 2 + 5.0
    return [*items, *arrow(a, b, both=True), words(15.0, y, f"slide {sketch.words['far']}")]


def sine_bar(sketch: Sketch, width: float, height: float) -> list[Item]:
    """From the front: the bar on its rollers, a stack under one, a block under the other where the height asks for it."""
    said = sketch.words
    radius, low = 1.7, 3.6 if sketch.sizes["under"] else 0.0
    left, right = 8.0, 32.0
    high = low + (right - left) * math.tan(math.radians(SHOWN_DEG))
    a, b = (left, -low - radius), (right, -high - radius)
    items: list[Item] = [Line(2.0, 0.0, 38.0, 0.0, LineType.OUTLINE)]
    items += [Circle(*a, radius, LineType.EDGE), Circle(*b, radius, LineType.EDGE), Box(right - 2.4, -high, 4.8, high)]
    items += [Line(right - 2.4, -share * high, right + 2.4, -share * high) for share in (0.35, 0.7)]
    items += [Box(left - 2.4, -low, 4.8, low)] if low else []
    top = a[1] - radius
    bar = ((left - 3.0, top), (right + 3.0, top), (right + 3.0, top - 3.0), (left - 3.0, top - 3.0))
    items.append(Polyline(spun(bar, SHOWN_DEG, a), LineType.OUTLINE, True))
    items += [*ring(left + 8.0, top - 7.4, "a", said["a"], is_before=True)]
    items += ring(right - 7.0, 3.4, "d", said["d"])
    items += [words(left, 4.5, said["under"] or ("block" if low else "plate"), "middle")]
    return items


def _side(sketch: Sketch, width: float, height: float) -> tuple[list[Point], float, float]:
    """The taper to scale: the run above the axis, and x of its large end and of its small one."""
    s = sketch.sizes
    scale = min((width - 12.0) / s["length"], height / s["large"], GREATEST_SCALE)
    large, small, far = s["large"] / 2 * scale, s["small"] / 2 * scale, s["length"] * scale
    if _sense(sketch) > 0.0:
        return [(0.0, -large), (far, -small)], 0.0, far
    return [(0.0, -small), (far, -large)], far, 0.0


def two_diameters(sketch: Sketch, width: float, height: float) -> list[Item]:
    """To scale: a plug with its end diameters and how far they are apart, and where blue shows what."""
    run, at_large, at_small = _side(sketch, width, 0.45 * height)
    far, said = run[-1][0], sketch.words
    items: list[Item] = []
    for x in (0.0, far - 0.16 * far):
        least = min(abs(run[0][1]), abs(run[1][1])) * 0.9
        items.append(Band(x, -least, 0.16 * far, 2 * least, False))
    items += [*both_halves(run), axis(-3.0, far + 3.0)]
    items += [Line(x, y, x, -y, LineType.OUTLINE) for x, y in run]
    lift = max(abs(run[0][1]), abs(run[1][1])) + 4.6
    items += _ends(sketch, run, at_large, at_small, lift)
    items += between(0.0, far, lift - 1.4, (-run[0][1], -run[1][1]), "g", said["g"])
    return [*items, *_blue_words(far, lift + 8.2, at_large, ("steep", "shallow"))]


def _ends(sketch: Sketch, run: list[Point], at_large: float, at_small: float, lift: float) -> list[Item]:
    """The letters of both ends, the large one's higher."""
    items: list[Item] = []
    for x, letter, y in ((at_large, "e", -lift - 5.0), (at_small, "f", -lift)):
        edge = next(b for a, b in run if a == x)
        items += noted((x, edge), (x + (-2.0 if x else 2.0), y), letter, sketch.words[letter], is_before=x > 0.0)
    return items


def _blue_words(far: float, y: float, at_large: float, said: tuple[str, str]) -> list[Item]:
    """What blue at the large end says, and at the small one."""
    left, right = said if at_large == 0.0 else said[::-1]
    if far < APART_MM:
        return [words(-4.0, y, f"blue left: {left}"), words(-4.0, y + 3.9, f"blue right: {right}")]
    return [words(-2.0, y, f"blue: {left}"), words(far + 2.0, y, f"blue: {right}", "end")]


def blue_in_a_bore(sketch: Sketch, width: float, height: float) -> list[Item]:
    """To scale: a tapered bore in section, and what blue at its ends says."""
    run, at_large, at_small = _side(sketch, width, 0.45 * height)
    far, said = run[-1][0], sketch.words
    wall = max(abs(run[0][1]), abs(run[1][1])) + 2.6
    items: list[Item] = [*both_halves([(0.0, run[0][1]), (0.0, -wall), (far, -wall), (far, run[1][1])]), *both_halves(run)]
    items.append(axis(-3.0, far + 3.0))
    items += _ends(sketch, run, at_large, at_small, wall + 4.6)
    items += between(0.0, far, wall + 3.2, (wall, wall), "g", said["g"])
    return [*items, *_blue_words(far, wall + 12.8, at_large, ("shallow", "steep"))]
