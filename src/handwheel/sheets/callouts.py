"""Dimensions put round a picture so that no text meets text or line: lanes below, callouts above, balloons at need.

Everything is tried against what already stands; the first place that is free is taken. The picture's axis is y = 0.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from handwheel.sheets.collide import Rect, Segment, rects_meet, segment_meets, segments_of, text_rect
from handwheel.sheets.fonts import text_width_mm
from handwheel.sheets.primitives import Box, Circle, Item, Line, LineType, Solid, Text, arrowhead

SIZE_PT = 8.5
GAP_MM = 0.55
LANE_MM = 4.9
ROW_MM = 5.0
ROWS = 4
BALLOON_ROWS = 12
OUTSIDE = 2
"""Places for a span's text that are beyond its ends."""
ROUNDS = 3


@dataclass(frozen=True, slots=True)
class Callout:
    """A size told by a leader to a point of the outline. bold: cut to here; boxed: worked out by handwheel; `ringed`: a
    name in a ring, not a size."""

    text: str
    x: float
    y: float
    bold: bool = False
    boxed: bool = False
    table_text: str = ""
    ringed: bool = False


@dataclass(frozen=True, slots=True)
class Span:
    """A length along the axis between xa and xb, with extension lines from ya and yb (picture's y, down).

    `from_datum`: xa is the datum, marked with the small circle of an origin.
    """

    text: str
    xa: float
    xb: float
    ya: float
    yb: float
    bold: bool = False
    boxed: bool = False
    table_text: str = ""
    from_datum: bool = False


@dataclass
class Placer:
    """What stands already, and what was put there. `balloons`: numbered texts that found no place of their own;
    `untold`: those for whose very number there was none."""

    left: float
    right: float
    top: float
    bottom: float
    items: list[Item] = field(default_factory=list)
    rects: list[Rect] = field(default_factory=list)
    lines: list[Segment] = field(default_factory=list)
    leaders: list[Segment] = field(default_factory=list)
    balloons: list[str] = field(default_factory=list)
    untold: list[str] = field(default_factory=list)

    def occupy(self, items: Iterable[Item]) -> None:
        """Items that are already drawn and must be kept clear of."""
        for item in items:
            if isinstance(item, Text):
                self.rects.append(text_rect(item))
            else:
                self.lines.extend(segments_of(item))

    def fits(self, items: list[Item]) -> bool:
        """Whether these could be added: no text near text or line, no line through text, nothing beyond the sides."""
        new_lines = [s for i in items if not isinstance(i, Text) for s in segments_of(i)]
        for item in items:
            if not isinstance(item, Text):
                continue
            rect = text_rect(item)
            if rect[0] < self.left or rect[2] > self.right:
                return False
            if any(rects_meet(rect, r, GAP_MM) for r in self.rects):
                return False
            if any(segment_meets(rect, s, GAP_MM) for s in self.lines):
                return False
            if any(segment_meets(rect, s, 0.05) for s in new_lines):
                return False
        return not any(segment_meets(r, s, GAP_MM) for s in new_lines for r in self.rects)

    def mark(self) -> tuple[int, int, int, int]:
        """How much stands now, to go back to."""
        return len(self.items), len(self.rects), len(self.lines), len(self.leaders)

    def back_to(self, mark: tuple[int, int, int, int]) -> None:
        """Take away what was added since the mark."""
        del self.items[mark[0] :], self.rects[mark[1] :], self.lines[mark[2] :], self.leaders[mark[3] :]

    def add(self, items: list[Item]) -> None:
        """Put items there for good."""
        self.items.extend(items)
        self.occupy(items)


def boxed_text(x: float, y: float, text: str, bold: bool, boxed: bool) -> list[Item]:
    """A dimension's text centred on x; a worked-out one in its box with the small mark."""
    items: list[Item] = [Text(x, y, text, SIZE_PT, bold, "middle")]
    if boxed:
        half = text_width_mm(text, SIZE_PT, bold) / 2 + 0.8
        left, top, height = x - half - 2.2, y - 3.0, 3.9
        items.append(Box(left, top, 2 * half + 2.2, height, LineType.THIN))
        items.append(Solid(((left + 0.5, top + 2.8), (left + 2.0, top + 2.8), (left + 1.25, top + 1.3))))
    return items


def _cross(a: Segment, b: Segment) -> bool:
    def side(s: Segment, x: float, y: float) -> float:
        return (s[2] - s[0]) * (y - s[1]) - (s[3] - s[1]) * (x - s[0])

    return side(a, b[0], b[1]) * side(a, b[2], b[3]) < -1e-9 and side(b, a[0], a[1]) * side(b, a[2], a[3]) < -1e-9


def _leader(tx: float, ty: float, callout: Callout) -> tuple[list[Item], Segment]:
    dx, dy = callout.x - tx, callout.y - ty
    far = max((dx * dx + dy * dy) ** 0.5, 1e-6)
    line = Line(tx, ty, callout.x, callout.y)
    return [line, arrowhead(callout.x, callout.y, dx / far, dy / far, 2.2)], (tx, ty, callout.x, callout.y)


def _label(callout: Callout, tx: float, ty: float, number: int) -> list[Item]:
    if number:
        return [
            Circle(tx, ty - 1.1, 2.5),
            Text(tx, ty, str(number), SIZE_PT, True, "middle"),
        ]
    if callout.ringed:
        half = max(2.4, text_width_mm(callout.text, SIZE_PT, callout.bold) / 2 + 1.4)
        ring = Box(tx - half, ty - 3.3, 2 * half, 4.6, LineType.THIN, 2.3)
        return [ring, Text(tx, ty, callout.text, SIZE_PT, callout.bold, "middle")]
    return boxed_text(tx, ty, callout.text, callout.bold, callout.boxed)


def _try_callout(placer: Placer, callout: Callout, number: int, may_cross: bool = False, rows: int = ROWS) -> bool:
    shifts = sorted((d * 2.0 for d in range(-32, 33)), key=abs)
    places = sorted(((row, shift) for row in range(rows) for shift in shifts), key=lambda p: abs(p[1]) + 9.0 * p[0])
    for row, shift in places:
        tx, ty = callout.x + shift, placer.top - 4.4 - row * ROW_MM
        leader, segment = _leader(tx, ty + 1.6, callout)
        if not may_cross and any(_cross(segment, other) for other in placer.leaders):
            continue
        items = [*_label(callout, tx, ty, number), *leader]
        if placer.fits(items):
            placer.add(items)
            placer.leaders.append(segment)
            return True
    return False


def place_callouts(placer: Placer, callouts: Iterable[Callout]) -> None:
    """Every callout above the picture, left to right, those that found no room first in another round.

    What still has none becomes a balloon with a line in the list; a worked-out size is left to its table.
    """
    order = sorted(callouts, key=lambda c: (c.x, c.text))
    failed: list[Callout] = []
    for turn in range(ROUNDS):
        kept = placer.mark()
        failed = [c for c in order if not _try_callout(placer, c, 0)]
        if all(f.boxed for f in failed) or turn == ROUNDS - 1:
            break
        placer.back_to(kept)
        order = [*failed, *(c for c in order if c not in failed)]
    for callout in failed:
        if callout.boxed or _try_callout(placer, callout, 0, may_cross=True):
            continue
        is_told = _try_callout(placer, callout, len(placer.balloons) + 1, may_cross=True, rows=BALLOON_ROWS)
        (placer.balloons if is_told else placer.untold).append(callout.table_text or callout.text)


def _span_end(span: Span, x: float, y: float, dx: float) -> list[Item]:
    if span.from_datum and x == span.xa:
        return [Circle(x, y, 0.9, LineType.EDGE)]
    return [arrowhead(x, y, dx, 0)]


def _span_items(span: Span, lane_y: float, text_x: float, number: int) -> list[Item]:
    low, high = min(span.xa, span.xb), max(span.xa, span.xb)
    ends = {span.xa: span.ya, span.xb: span.yb}
    items: list[Item] = [Line(x, y + 1.0, x, lane_y + 1.2) for x, y in ends.items()]
    width = text_width_mm(str(number) if number else span.text, SIZE_PT, span.bold) + (3.8 if span.boxed else 0.0)
    left, right = low, high
    sense = 1.0 if high - low >= 7.0 else -1.0
    items += _span_end(span, low, lane_y, -sense) + _span_end(span, high, lane_y, sense)
    if sense < 0:
        left, right = low - 5.0, high + 5.0
    if text_x + width / 2 > right:
        right = text_x + width / 2
    if text_x - width / 2 < left:
        left = text_x - width / 2
    items.append(Line(left, lane_y, right, lane_y))
    if number:
        items += [Circle(text_x, lane_y - 3.3, 2.5), Text(text_x, lane_y - 2.2, str(number), SIZE_PT, True, "middle")]
    else:
        items += boxed_text(text_x, lane_y - 1.7, span.text, span.bold, span.boxed)
    return items


def _text_places(span: Span, number: int, ends: Sequence[float] = ()) -> list[float]:
    """Where the text may stand: inside, amid, away from the `ends` of other spans, whose lines come down there; else
    beyond an end. [mm]"""
    low, high = min(span.xa, span.xb), max(span.xa, span.xb)
    shown = str(number) if number else span.text
    width = text_width_mm(shown, SIZE_PT, span.bold) + (3.8 if span.boxed else 0.0) + 1.6
    middle = (low + high) / 2
    shifts = sorted((k * 1.5 for k in range(-60, 61)), key=abs)
    inside = [middle + d for d in shifts if abs(d) <= (high - low - width) / 2]
    inside.sort(key=lambda x: any(abs(x - end) < width / 2 for end in ends))
    past = (5.0 if high - low < 7.0 else 0.8) + width / 2
    return [*inside, high + past, low - past]


def _line_is_free(placer: Placer, items: list[Item], used: list[Segment]) -> bool:
    """Whether the dimension line (the last Line) keeps clear of the other dimension lines of its lane."""
    own = [i for i in items if isinstance(i, Line)][-1]
    return not any(abs(own.y0 - u[1]) < 0.5 and own.x0 < u[2] - 0.3 and u[0] < own.x1 - 0.3 for u in used)


def _try_span(
    placer: Placer, span: Span, number: int, used: list[Segment], lanes: int, ends: Sequence[float]
) -> bool:
    for lane in range(lanes):
        y = placer.bottom + 5.6 + lane * LANE_MM
        for text_x in _text_places(span, number, ends):
            items = _span_items(span, y, text_x, number)
            if _line_is_free(placer, items, used) and placer.fits(items):
                own = [i for i in items if isinstance(i, Line)][-1]
                used.append((own.x0, own.y0, own.x1, own.y1))
                placer.add(items)
                return True
    return False


def place_spans(placer: Placer, spans: Iterable[Span], lanes: int = 9) -> None:
    """Every span in the nearest free lane below, short ones first, in another round those that found no room first.

    What still has none becomes a balloon with a line in the list; a worked-out size is left to its table.
    """
    short_first = sorted(spans, key=lambda s: (abs(s.xb - s.xa), s.xa))
    ends = sorted({x for s in short_first for x in (s.xa, s.xb)})
    narrow = [s for s in short_first if len(_text_places(s, 0)) <= OUTSIDE]
    wide = [s for s in short_first if s not in narrow]
    orders = [short_first, [*wide, *narrow[::-1]], short_first[::-1]]
    mark, best = placer.mark(), short_first
    least = (len(short_first) + 1, 0)
    failed: list[Span] = []
    used: list[Segment] = []

    def attempt(order: list[Span]) -> None:
        placer.back_to(mark)
        used.clear()
        failed[:] = [span for span in order if not _try_span(placer, span, 0, used, lanes, ends)]

    while orders and least[0]:
        order = orders.pop(0)
        attempt(order)
        left = (sum(not f.boxed for f in failed), len(failed))
        if left < least:
            least, best = left, order
            if len(orders) > 1:  # once more, those that found no room first
                orders.insert(0, [*failed, *(s for s in order if s not in failed)])
    if order is not best:
        attempt(best)
    for span in failed:
        if not span.boxed:
            is_told = _try_span(placer, span, len(placer.balloons) + 1, used, lanes + BALLOON_ROWS, ends)
            (placer.balloons if is_told else placer.untold).append(span.table_text or span.text)
