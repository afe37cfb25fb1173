"""Where text on a page meets other text, a line or the frame: asked in laying out, and of every page by the tests."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from handwheel.sheets.fonts import plain, text_extent_mm, text_width_mm
from handwheel.sheets.primitives import (
    Blank,
    Box,
    Circle,
    Hatch,
    Item,
    Line,
    Page,
    Polyline,
    Reversed,
    Solid,
    Text,
    TickBox,
)

Rect = tuple[float, float, float, float]
"""x0, y0, x1, y1 [mm]"""
Segment = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Collision:
    """A text that meets something. [mm]"""

    text: str
    with_what: str
    x: float
    y: float


def text_rect(item: Text) -> Rect:
    """The box of a text by the font's metrics. [mm]"""
    shown = plain(item.text)
    width = text_width_mm(shown, item.size_pt, item.bold)
    below, above = text_extent_mm(shown, item.size_pt, item.bold)
    left = item.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[item.anchor] * width
    return left, item.y - above, left + width, item.y + below


def rects_meet(a: Rect, b: Rect, gap_mm: float = 0.0) -> bool:
    """Whether two boxes come nearer than the gap."""
    return a[0] < b[2] + gap_mm and b[0] < a[2] + gap_mm and a[1] < b[3] + gap_mm and b[1] < a[3] + gap_mm


def segment_meets(rect: Rect, segment: Segment, gap_mm: float = 0.0) -> bool:
    """Whether a straight line passes through a box (clipped against each side in turn)."""
    x0, y0, x1, y1 = segment
    left, top, right, bottom = rect[0] - gap_mm, rect[1] - gap_mm, rect[2] + gap_mm, rect[3] + gap_mm
    if (y0 < top and y1 < top) or (y0 > bottom and y1 > bottom) or (x0 < left and x1 < left) or (x0 > right < x1):
        return False
    low, high = 0.0, 1.0
    for step, start, least, greatest in ((x1 - x0, x0, left, right), (y1 - y0, y0, top, bottom)):
        if abs(step) < 1e-12:
            if not least < start < greatest:
                return False
            continue
        a, b = sorted(((least - start) / step, (greatest - start) / step))
        low, high = max(low, a), min(high, b)
        if low >= high:
            return False
    return True


def segments_of(item: Item) -> list[Segment]:
    """The straight lines an item is drawn with (a circle as its square's diagonals and an octagon)."""
    if isinstance(item, Line):
        return [(item.x0, item.y0, item.x1, item.y1)]
    if isinstance(item, Hatch):
        return list(item.lines)
    if isinstance(item, (Polyline, Solid)):
        points = item.points
        closed = isinstance(item, Solid) or item.closed
        ends = (*points[1:], points[0]) if closed else points[1:]
        return [(*a, *b) for a, b in zip(points, ends, strict=False)]
    if isinstance(item, (Box, TickBox)):
        width = item.width if isinstance(item, Box) else item.size
        height = item.height if isinstance(item, Box) else item.size
        x, y = item.x, item.y
        corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
        return [(*a, *b) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)]
    if isinstance(item, Circle):
        r, c = item.radius, item.radius * 0.7071
        ring = ((r, 0.0), (c, c), (0.0, r), (-c, c), (-r, 0.0), (-c, -c), (0.0, -r), (c, -c))
        points = tuple((item.x + dx, item.y + dy) for dx, dy in ring)
        return [(*a, *b) for a, b in zip(points, (*points[1:], points[0]), strict=True)]
    return []


def collisions(page: Page) -> list[Collision]:
    """Every text of the page that meets another text, a line, or leaves the frame."""
    texts = [i.text if isinstance(i, Reversed) else i for i in page.items if isinstance(i, (Text, Reversed))]
    rects = [text_rect(t) for t in texts]
    lines = [s for item in page.items if not isinstance(item, (Text, Reversed, Blank)) for s in segments_of(item)]
    x, y, width, height = page.frame
    found = []
    for k, (text, rect) in enumerate(zip(texts, rects, strict=True)):
        if rect[0] < x or rect[1] < y or rect[2] > x + width or rect[3] > y + height:
            found.append(Collision(text.text, "the frame", text.x, text.y))
        for other, box in zip(texts[k + 1 :], rects[k + 1 :], strict=True):
            if rects_meet(rect, box):
                found.append(Collision(text.text, other.text, text.x, text.y))
        found.extend(
            Collision(text.text, f"a line {line}", text.x, text.y) for line in lines if segment_meets(rect, line)
        )
    return found


def rects_of(items: Iterable[Item]) -> list[Rect]:
    """The boxes of all texts among the items."""
    return [text_rect(i.text if isinstance(i, Reversed) else i) for i in items if isinstance(i, (Text, Reversed))]


def extent(item: Item) -> Rect | None:
    """The box an item lies in; None for one without a size. [mm]"""
    if isinstance(item, (Text, Reversed)):
        return text_rect(item.text if isinstance(item, Reversed) else item)
    lines = segments_of(item)
    if not lines:
        return None
    xs = [v for s in lines for v in (s[0], s[2])]
    ys = [v for s in lines for v in (s[1], s[3])]
    return min(xs), min(ys), max(xs), max(ys)
