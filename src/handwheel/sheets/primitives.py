"""What a sheet is drawn with: a dozen primitives in millimetres, x to the right and y down from the page's corner.

Back ends only draw these; nothing here knows of parts, plans or wheels.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

Point = tuple[float, float]


class LineType(StrEnum):
    """Line types by their use in ISO 128."""

    OUTLINE = "outline"
    EDGE = "edge"
    THIN = "thin"
    HIDDEN = "hidden"
    CENTRE = "centre"
    PHANTOM = "phantom"
    RULE = "rule"
    HEAVY = "heavy"


WIDTH_MM = {
    LineType.OUTLINE: 0.5,
    LineType.EDGE: 0.35,
    LineType.THIN: 0.25,
    LineType.HIDDEN: 0.25,
    LineType.CENTRE: 0.25,
    LineType.PHANTOM: 0.25,
    LineType.RULE: 0.25,
    LineType.HEAVY: 0.7,
}

DASHES_MM = {
    LineType.HIDDEN: (2.0, 1.0),
    LineType.CENTRE: (6.0, 1.2, 0.6, 1.2),
    LineType.PHANTOM: (6.0, 1.0, 0.6, 1.0, 0.6, 1.0),
}


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text on its baseline. anchor: 'start', 'middle' or 'end'. `light`: grey of 65 %."""

    x: float
    y: float
    text: str
    size_pt: float
    bold: bool = False
    anchor: str = "start"
    light: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    x0: float
    y0: float
    x1: float
    y1: float
    kind: LineType = LineType.THIN


@dataclass(frozen=True, slots=True)
class Polyline:
    """An open or closed run of straight lines."""

    points: tuple[Point, ...]
    kind: LineType = LineType.OUTLINE
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Blank:
    """A closed shape of the paper's own colour, to cover what lies under it."""

    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Solid:
    """A closed shape filled with ink: arrowheads, signs."""

    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Hatch:
    """Thin lines already clipped: each is (x0, y0, x1, y1)."""

    lines: tuple[tuple[float, float, float, float], ...]


@dataclass(frozen=True, slots=True)
class Dots:
    """A stipple: small dots at the given points."""

    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle."""

    x: float
    y: float
    radius: float
    kind: LineType = LineType.THIN


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle: a frame, or a box to write in."""

    x: float
    y: float
    width: float
    height: float
    kind: LineType = LineType.EDGE
    radius: float = 0.0


@dataclass(frozen=True, slots=True)
class TickBox:
    """A square to tick; `name` tells it from every other on the sheets."""

    x: float
    y: float
    size: float
    name: str


@dataclass(frozen=True, slots=True)
class Band:
    """A filled bar behind reversed or plain text. `dark`: ink, else a light tone of it."""

    x: float
    y: float
    width: float
    height: float
    dark: bool = True


@dataclass(frozen=True, slots=True)
class Reversed:
    """Text in the paper's colour on a dark band."""

    text: Text


Item = Text | Line | Polyline | Blank | Solid | Hatch | Dots | Circle | Box | TickBox | Band | Reversed


@dataclass(frozen=True, slots=True)
class Page:
    """A page laid out. `subject` is what its frame says it is about; `frame` is (x, y, width, height). [mm]"""

    width: float
    height: float
    subject: str
    frame: tuple[float, float, float, float]
    items: tuple[Item, ...]


def arrowhead(x: float, y: float, dx: float, dy: float, length: float = 2.6, spread: float = 0.18) -> Solid:
    """A closed filled arrowhead with its tip at (x, y) pointing along the unit direction (dx, dy);
    `spread`: half its width over its length. [mm]
    """
    half = length * spread
    bx, by = x - dx * length, y - dy * length
    return Solid(((x, y), (bx - dy * half, by + dx * half), (bx + dy * half, by - dx * half)))
