"""What the pictures of set-ups are drawn with: a tool's point, an indicator, jaws, an arrow, a size between two points.

The picture's axis is y = 0, the headstock at the left, y down. [mm]
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from handwheel.sheets.callouts import SIZE_PT
from handwheel.sheets.primitives import Circle, Item, Line, LineType, Point, Polyline, Text, arrowhead

BIT_MM, DIAL_MM, RING_MM = 6.0, 2.4, 2.1
CHORDS = 48


def words(x: float, y: float, text: str, anchor: str = "start", bold: bool = False) -> Text:
    """A word on the picture, in the size of its dimensions."""
    return Text(x, y, text, SIZE_PT, bold, anchor)


def ring(x: float, y: float, letter: str, told: str = "", is_before: bool = False) -> list[Item]:
    """A letter in a ring, and its figure behind it, or before it."""
    items: list[Item] = [Circle(x, y, RING_MM, LineType.THIN), words(x, y + 1.05, letter, "middle", True)]
    if told:
        items.append(words(x + (-RING_MM - 0.9 if is_before else RING_MM + 0.9), y + 1.05, told, "end" if is_before else "start"))
    return items


def noted(at: Point, letter_at: Point, letter: str, told: str = "", is_before: bool = False) -> list[Item]:
    """A letter in a ring with a leader to a point."""
    far = max(math.dist(at, letter_at), 1e-6)
    dx, dy = (at[0] - letter_at[0]) / far, (at[1] - letter_at[1]) / far
    begin = (letter_at[0] + RING_MM * dx, letter_at[1] + RING_MM * dy)
    return [Line(*begin, *at), arrowhead(*at, dx, dy, 1.8), *ring(*letter_at, letter, told, is_before)]


def between(x0: float, x1: float, y: float, edges: tuple[float, float], letter: str, told: str = "") -> list[Item]:
    """A length along the axis under the picture, its letter under its line; `edges`: y where its extension lines begin."""
    items: list[Item] = [Line(x, edge + 1.0, x, y + 1.0) for x, edge in zip((x0, x1), edges, strict=True)]
    if abs(x1 - x0) > 6.0:
        items += arrow((x0, y), (x1, y), both=True)
    else:
        low, high = sorted((x0, x1))
        items += [*arrow((low - 4.0, y), (low, y)), *arrow((high + 4.0, y), (high, y))]
    return [*items, *ring((x0 + x1) / 2 - (6.0 if told else 0.0), y + RING_MM + 1.2, letter, told)]


def toward(at: Point, way: Point, far: float, beside: float = 0.0) -> Point:
    """A point so far along a unit direction, and beside it. [mm]"""
    return at[0] + way[0] * far - way[1] * beside, at[1] + way[1] * far + way[0] * beside


def bit(at: Point, way: Point) -> Polyline:
    """A pointed tool whose tip stands at a point; `way`: from the tip along its shank, of length 1."""
    shape = ((0.0, 0.0), (2.2, 1.1), (BIT_MM, 1.1), (BIT_MM, -1.1), (2.2, -1.1))
    return Polyline(tuple(toward(at, way, far, beside) for far, beside in shape), LineType.THIN, True)


def indicator(at: Point, way: Point) -> list[Item]:
    """An indicator that bears on a point; `way`: from the point toward its dial, of length 1."""
    middle = toward(at, way, 4.0 + DIAL_MM)
    hand = toward(middle, (0.6, -0.8), DIAL_MM - 0.6)
    return [Line(*at, *toward(at, way, 4.0), LineType.EDGE), Circle(*middle, DIAL_MM, LineType.EDGE), Line(*middle, *hand)]


def arrow(start: Point, end: Point, both: bool = False) -> list[Item]:
    """A thin line with a head at its end, or at both."""
    far = max(math.dist(start, end), 1e-6)
    dx, dy = (end[0] - start[0]) / far, (end[1] - start[1]) / far
    size = min(2.2, 0.45 * far)
    heads = [arrowhead(*end, dx, dy, size)] + ([arrowhead(*start, -dx, -dy, size)] if both else [])
    return [Line(*start, *end), *heads]


def jaws(x: float, radius: float, deep: float = 5.0) -> list[Item]:
    """The ends of two jaws whose front stands at x, on work of that radius."""
    items: list[Item] = []
    for sign in (-1.0, 1.0):
        shape = ((x - deep, radius), (x, radius), (x, radius + 1.8), (x - 1.8, radius + 3.4), (x - deep, radius + 3.4))
        items.append(Polyline(tuple((a, sign * b) for a, b in shape), LineType.THIN))
    return items


def cross(x: float, y: float, half: float = 1.6) -> list[Item]:
    """A centre's mark."""
    return [Line(x - half, y, x + half, y), Line(x, y - half, x, y + half)]


def arc(x: float, y: float, radius: float, low_deg: float, high_deg: float, kind: LineType = LineType.PHANTOM) -> Polyline:
    """An arc about (x, y), its angles from the tailstock upward. [deg]"""
    count = max(2, round(CHORDS * abs(high_deg - low_deg) / 180.0))
    turns = [math.radians(low_deg + (high_deg - low_deg) * k / count) for k in range(count + 1)]
    return Polyline(tuple((x + radius * math.cos(t), y - radius * math.sin(t)) for t in turns), kind)


def both_halves(run: Sequence[Point], kind: LineType = LineType.OUTLINE) -> list[Item]:
    """A run of points above the axis and the same below it."""
    return [Polyline(tuple(run), kind), Polyline(tuple((x, -y) for x, y in run), kind)]


def shoulders(run: Sequence[Point]) -> list[Item]:
    """The edges across the axis where a run of (x, y), y upward negative, steps."""
    return [
        Line(a[0], -least, a[0], least, LineType.EDGE)
        for a, b in zip(run, run[1:], strict=False)
        if abs(a[0] - b[0]) < 1e-6 and (least := min(abs(a[1]), abs(b[1]))) > 1e-6
    ]


def axis(x0: float, x1: float) -> Line:
    """The lathe's axis."""
    return Line(x0, 0.0, x1, 0.0, LineType.CENTRE)


def spun(points: Iterable[Point], angle_deg: float, about: Point) -> tuple[Point, ...]:
    """Points turned about one of them, anticlockwise on the paper. [deg]"""
    c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    x0, y0 = about
    return tuple((x0 + (x - x0) * c + (y - y0) * s, y0 - (x - x0) * s + (y - y0) * c) for x, y in points)
