"""Details at a larger scale: what would be under two millimetres on the drawing, drawn again where it can be read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from handwheel.drawing.records import SolvedPart
from handwheel.job.records import CutInKind, OutsideKind
from handwheel.readings.words import trimmed
from handwheel.sheets.callouts import Callout, Placer, Span, place_callouts, place_spans
from handwheel.sheets.moving import Picture, as_picture, moved
from handwheel.sheets.paper import DIM_PT
from handwheel.sheets.primitives import Circle, Item, Line, LineType, Polyline, Text
from handwheel.sheets.view import View, clipped, least_radius_at, radius_at
from handwheel.stages.records import Section

SMALL_MM = 2.0
"""On the paper; what is narrower is drawn again."""
SHOWN_MM, WIDEST_MM, SIDES_MM = 11.0, 62.0, 56.0
BESIDE_SHARE = 0.8
SCALES = (2.0, 3.0, 4.0, 5.0, 8.0, 10.0, 15.0, 20.0, 30.0, 50.0)
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
_NOTED = (OutsideKind.CHAMFER, OutsideKind.FILLET)
"""Told by a size of their own that needs no room on the drawing."""


@dataclass(frozen=True, slots=True)
class Detail:
    """A stretch of the outside drawn again. `times`: larger than the drawing it belongs to. [mm]"""

    letter: str
    low: float
    high: float
    times: float


def details_of(
    part: SolvedPart, view: View, measured: Sequence[tuple[float, float]], width: float = WIDEST_MM + SIDES_MM
) -> list[Detail]:
    """The stretches to draw again: small features that some dimension is about; near ones together, none with its
    dimensions wider than `width`. [mm]"""
    small = [f for f in part.outside if f.source.kind not in _NOTED and not f.source.is_edge]
    stretches = [(f.left, f.right) for f in small]
    stretches += [(c.left, c.right) for c in part.cut_in if c.source.kind is CutInKind.GROOVE and not c.source.is_inside]
    found: list[tuple[float, float, float]] = []
    for low, high in sorted(stretches):
        is_measured = any(low - 1e-6 <= a and b <= high + 1e-6 for a, b in measured)
        if not 1e-6 < (high - low) * view.scale < SMALL_MM or not is_measured:
            continue
        beside = BESIDE_SHARE * (high - low)
        if found and low - beside < found[-1][1]:
            found[-1] = (found[-1][0], high + beside, min(found[-1][2], high - low))
        else:
            found.append((low - beside, high + beside, high - low))
    widest = min(WIDEST_MM, width - SIDES_MM)
    return [_detail(LETTERS[k], *one, view, widest) for k, one in enumerate(found[: len(LETTERS)])]


def _detail(letter: str, low: float, high: float, least: float, view: View, widest: float) -> Detail:
    wanted = min(SHOWN_MM / (least * view.scale), widest / ((high - low) * view.scale))
    return Detail(letter, low, high, max((s for s in SCALES if s <= wanted), default=SCALES[0]))


def belongs(detail: Detail, view: View, xs: Sequence[float]) -> bool:
    """Whether all of a dimension's places lie in the stretch."""
    return all(view.x(detail.low) - 1e-6 <= x <= view.x(detail.high) + 1e-6 for x in xs)


def mark(detail: Detail, section: Section, view: View) -> tuple[list[Item], Callout]:
    """The ring on the drawing, and its letter."""
    middle = (detail.low + detail.high) / 2
    x, y = view.point(middle, radius_at(section.outer, middle))
    radius = max(2.2, (detail.high - detail.low) / 2 * view.scale)
    return [Circle(x, y, radius, LineType.THIN)], Callout(detail.letter, x, y - radius, True)


def detail_picture(
    detail: Detail, section: Section, view: View, spans: Sequence[Span], callouts: Sequence[Callout], numbered: list[str]
) -> Picture:
    """The stretch's upper edge with its dimensions; `numbered`: the balloons the drawing has already. [mm]"""
    edge = clipped(section.outer, max(detail.low, float(section.outer[0, 0])), min(detail.high, float(section.outer[-1, 0])))
    near = replace(view, z_low=detail.low, z_high=detail.high, scale=view.scale * detail.times)
    deep = max(float(np.ptp(edge[:, 1])), 0.35 * (detail.high - detail.low))
    floor = max(0.0, float(edge[:, 1].min()) - 0.35 * deep)
    points = [near.point(float(z), float(r)) for z, r in edge]
    bottom = -floor * near.scale
    sides = ((points[0][0], bottom), (points[-1][0], bottom))
    items: list[Item] = [Polyline(tuple(points), LineType.OUTLINE)]
    items += [Line(*points[0], *sides[0]), Line(*sides[0], *sides[1]), Line(*sides[1], *points[-1])]
    width = near.width + SIDES_MM
    placer = Placer((near.width - width) / 2, (near.width + width) / 2, min(y for _, y in points), bottom)
    placer.balloons = numbered

    def put(x: float) -> float:
        return (x - view.x(detail.low)) * detail.times

    def surface(x: float) -> float:
        return -least_radius_at(section.outer, detail.low + (x - view.x(detail.low)) / view.scale) * near.scale

    place_spans(placer, [replace(s, xa=put(s.xa), xb=put(s.xb), ya=surface(s.xa), yb=surface(s.xb)) for s in spans])
    place_callouts(placer, [replace(c, x=put(c.x), y=c.y * detail.times) for c in callouts])
    picture = as_picture([*items, *placer.items], (), placer.untold)
    title = Text(0.0, 3.4, f"{detail.letter}, {trimmed(detail.times, 1)} times as large", DIM_PT, True)
    lowered = tuple(moved(i, 0.0, 5.0) for i in picture.items)
    return Picture((title, *lowered), max(picture.width, 36.0), picture.height + 5.0, (), picture.untold)
