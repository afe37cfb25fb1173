"""Primitives to SVG. One text serves the screen and the PDF: no markers, no patterns, the font named outright."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from handwheel.sheets.fonts import FAMILY, MM_PER_PT, plain
from handwheel.sheets.primitives import (
    DASHES_MM,
    WIDTH_MM,
    Band,
    Blank,
    Box,
    Circle,
    Dots,
    Hatch,
    Item,
    Line,
    LineType,
    Page,
    Point,
    Polyline,
    Reversed,
    Solid,
    Text,
    TickBox,
)


def _n(value: float) -> str:
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _path(points: Iterable[Point], closed: bool) -> str:
    steps = "L".join(f"{_n(x)} {_n(y)}" for x, y in points)
    return f"M{steps}{'Z' if closed else ''}"


def _stroke(kind: LineType) -> str:
    dashes = DASHES_MM.get(kind)
    dash = f' stroke-dasharray="{" ".join(_n(d) for d in dashes)}"' if dashes else ""
    return f'class="s" fill="none" stroke="#000" stroke-width="{_n(WIDTH_MM[kind])}"{dash}'


def _text(item: Text, ink: str, mark: str) -> str:
    anchor = f' text-anchor="{item.anchor}"' if item.anchor != "start" else ""
    weight = ' font-weight="700"' if item.bold else ""
    return (
        f'<text class="{mark}" x="{_n(item.x)}" y="{_n(item.y)}" font-size="{_n(item.size_pt * MM_PER_PT)}"'
        f'{weight}{anchor} fill="{ink}">{escape(plain(item.text), quote=False)}</text>'
    )


def _filled(item: Blank | Solid | Band) -> str:
    if isinstance(item, Band):
        mark, ink = ("f", "#000") if item.dark else ("b", "#ececec")
        box = f'x="{_n(item.x)}" y="{_n(item.y)}" width="{_n(item.width)}" height="{_n(item.height)}"'
        return f'<rect class="{mark}" {box} fill="{ink}"/>'
    mark, ink = ("w", "#fff") if isinstance(item, Blank) else ("f", "#000")
    return f'<path class="{mark}" d="{_path(item.points, True)}" fill="{ink}"/>'


def _fine(item: Hatch | Dots) -> str:
    if isinstance(item, Hatch):
        steps = "".join(f"M{_n(a)} {_n(b)}L{_n(c)} {_n(d)}" for a, b, c, d in item.lines)
        return f'<path class="s" d="{steps}" fill="none" stroke="#000" stroke-width="0.25"/>' if steps else ""
    steps = "".join(f"M{_n(x)} {_n(y)}h.01" for x, y in item.points)
    cap = 'stroke-width="0.42" stroke-linecap="round"'
    return f'<path class="s" d="{steps}" fill="none" stroke="#000" {cap}/>' if steps else ""


def _box(item: Box | TickBox) -> str:
    if isinstance(item, TickBox):
        side = _n(item.size)
        return (
            f'<rect class="s tick" data-tick="{escape(item.name)}" x="{_n(item.x)}" y="{_n(item.y)}" width="{side}"'
            f' height="{side}" rx="0.6" fill="#fff" stroke="#000" stroke-width="0.35"/>'
        )
    size = f'x="{_n(item.x)}" y="{_n(item.y)}" width="{_n(item.width)}" height="{_n(item.height)}"'
    return f'<rect {size} rx="{_n(item.radius)}" {_stroke(item.kind)}/>'


def item_svg(item: Item) -> str:
    """One primitive as SVG text."""
    if isinstance(item, Text):
        return _text(item, "#595959" if item.light else "#000", "g" if item.light else "f")
    if isinstance(item, Reversed):
        return _text(item.text, "#fff", "w")
    if isinstance(item, Line):
        return f'<path d="{_path(((item.x0, item.y0), (item.x1, item.y1)), False)}" {_stroke(item.kind)}/>'
    if isinstance(item, Polyline):
        return f'<path d="{_path(item.points, item.closed)}" stroke-linejoin="round" {_stroke(item.kind)}/>'
    if isinstance(item, Circle):
        return f'<circle cx="{_n(item.x)}" cy="{_n(item.y)}" r="{_n(item.radius)}" {_stroke(item.kind)}/>'
    if isinstance(item, (Box, TickBox)):
        return _box(item)
    if isinstance(item, (Hatch, Dots)):
        return _fine(item)
    return _filled(item)


def items_svg(
    items: Iterable[Item], width: float, height: float, title: str, inline: bool = False,
    window: tuple[float, float, float, float] | None = None,
) -> str:
    """A whole SVG of that size in millimetres; `inline`: without a fixed size, as wide as there is room, and of the
    `window` (x, y, width, height) alone where one is given.
    """
    size = "" if inline else f' width="{_n(width)}mm" height="{_n(height)}mm"'
    paper = "" if inline else f'<rect width="{_n(width)}" height="{_n(height)}" fill="#fff"/>'
    seen = " ".join(_n(v) for v in window or (0.0, 0.0, width, height))
    body = "\n".join(text for text in map(item_svg, items) if text)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg"{size} viewBox="{seen}" role="group"'
        f' aria-label="{escape(plain(title))}">{paper}<g font-family="{FAMILY}" font-kerning="none" '
        f"style=\"font-variant-ligatures:none;font-kerning:none\">\n{body}\n</g></svg>"
    )


def page_svg(page: Page, inline: bool = False) -> str:
    """A page as SVG; `inline`: for a screen, without the paper's margins."""
    x, y, width, height = page.frame
    window = (x - 1.0, y - 1.0, width + 2.0, height + 2.0) if inline else None
    return items_svg(page.items, page.width, page.height, page.subject, inline, window)
