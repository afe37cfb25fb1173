"""Items moved about the page, and the box they take up."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from handwheel.sheets.collide import extent
from handwheel.sheets.primitives import (
    Band,
    Blank,
    Box,
    Circle,
    Dots,
    Hatch,
    Item,
    Line,
    Point,
    Polyline,
    Reversed,
    Solid,
    Text,
    TickBox,
)

LONG_RULE_MM = 20.0


@dataclass(frozen=True, slots=True)
class Picture:
    """Items with their top left corner at (0, 0), the room they take, the balloons' texts, and what found no place
    at all. [mm]"""

    items: tuple[Item, ...]
    width: float
    height: float
    balloons: tuple[str, ...] = ()
    untold: tuple[str, ...] = ()

    @property
    def listed(self) -> tuple[str, ...]:
        """The lines that belong under it: what each balloon's number stands for, then what is not on it."""
        return (*(f"{k + 1}: {text}" for k, text in enumerate(self.balloons)), *self.untold)


def _points(points: tuple[Point, ...], dx: float, dy: float) -> tuple[Point, ...]:
    return tuple((x + dx, y + dy) for x, y in points)


def moved(item: Item, dx: float, dy: float) -> Item:
    """The item moved by (dx, dy). [mm]"""
    if isinstance(item, Text):
        return Text(item.x + dx, item.y + dy, item.text, item.size_pt, item.bold, item.anchor, item.light)
    if isinstance(item, Line):
        return Line(item.x0 + dx, item.y0 + dy, item.x1 + dx, item.y1 + dy, item.kind)
    if isinstance(item, Polyline):
        return Polyline(_points(item.points, dx, dy), item.kind, item.closed)
    if isinstance(item, Reversed):
        text = moved(item.text, dx, dy)
        assert isinstance(text, Text)
        return Reversed(text)
    if isinstance(item, Hatch):
        return Hatch(tuple((a + dx, b + dy, c + dx, d + dy) for a, b, c, d in item.lines))
    if isinstance(item, (Blank, Solid, Dots)):
        return type(item)(_points(item.points, dx, dy))
    assert isinstance(item, (Box, Circle, TickBox, Band))
    return replace(item, x=item.x + dx, y=item.y + dy)


def box_of(items: Iterable[Item]) -> tuple[float, float, float, float]:
    """The box round all the items: x0, y0, x1, y1; zeros when there are none. [mm]"""
    boxes = [box for box in map(extent, items) if box is not None]
    if not boxes:
        return 0.0, 0.0, 0.0, 0.0
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


def as_picture(items: Iterable[Item], balloons: Iterable[str] = (), untold: Iterable[str] = ()) -> Picture:
    """The items moved so that their box begins at (0, 0)."""
    kept = tuple(items)
    x0, y0, x1, y1 = box_of(kept)
    return Picture(tuple(moved(i, -x0, -y0) for i in kept), x1 - x0, y1 - y0, tuple(balloons), tuple(untold))


def split(picture: Picture, most: float) -> tuple[Picture, Picture] | None:
    """A picture cut across into one no taller than `most` and the rest, between items; None where every cut goes
    through one. Long upright rules are cut in two. [mm]"""
    rules = [i for i in picture.items if isinstance(i, Line) and i.x0 == i.x1 and abs(i.y1 - i.y0) > LONG_RULE_MM]
    others = [i for i in picture.items if i not in rules]
    boxes = sorted((box[1], box[3], k) for k, box in ((k, extent(i)) for k, i in enumerate(others)) if box)
    at, below = 0.0, 0.0
    for top, bottom, _ in boxes:
        if top > below + 1e-9 and below <= most and top > 0.0:
            at = below
        below = max(below, bottom)
    if at <= 1e-6:
        return None
    upper = {k for top, _, k in boxes if top < at}
    next_top = min((top for top, _, k in boxes if k not in upper), default=at)
    first = [i for k, i in enumerate(others) if k in upper]
    rest = [i for k, i in enumerate(others) if k not in upper]
    for rule in rules:
        low, high = sorted((rule.y0, rule.y1))
        if low < at:
            first.append(Line(rule.x0, low, rule.x1, min(high, at), rule.kind))
        if high > next_top:
            rest.append(Line(rule.x0, max(low, next_top), rule.x1, high, rule.kind))
    moved_up = tuple(moved(i, 0.0, -next_top) for i in rest)
    return Picture(tuple(first), picture.width, at + 0.4), Picture(moved_up, picture.width, picture.height - next_top)
