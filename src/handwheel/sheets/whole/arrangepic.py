"""The general arrangement: parts drawn together, hollow ones in half section, names in rings, seats by letter."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.drawing.records import SolvedAssembly, SolvedDimension
from handwheel.job.records import Assembly, Unit
from handwheel.sheets.callouts import Callout, Placer, Span, place_callouts, place_spans
from handwheel.sheets.moving import Picture, as_picture, box_of
from handwheel.sheets.numbers import length, measure_text
from handwheel.sheets.primitives import Blank, Hatch, Item, LineType, Point, Polyline
from handwheel.sheets.shading import hatch
from handwheel.sheets.view import (
    View,
    centre_line,
    edges_across,
    half_loop,
    has_hole,
    hatch_spacing,
    mirrored_down,
    outer_run,
    radius_at,
)
from handwheel.sheets.whole.assembled import Placed, placed_parts, point_station
from handwheel.stages.records import Section

GREATEST_SCALE = 4.0
BESIDE_MM = 36.0
LONGEST_TYPED = 17


def letters(count: int) -> list[str]:
    """A, B, ... Z, AA, AB, ..."""
    plain = "ABCDEFGHJKLMNPQRSTUVWXYZ"
    return [plain[k % 24] if k < 24 else plain[k // 24 - 1] + plain[k % 24] for k in range(count)]


def arrangement_picture(
    assembly: SolvedAssembly, drawn: Assembly, placed: tuple[Placed, ...], marks: Sequence[str], unit: Unit,
    width: float, height: float,
) -> tuple[Picture, list[SolvedDimension]]:
    """The parts together, and the dimensions that could not stand on the drawing. `marks`: the seats' letters. [mm]"""
    low, high = min(p.low for p in placed), max(p.high for p in placed)
    radius = max(float(p.section.outer[:, 1].max()) for p in placed)
    scale = min((width - BESIDE_MM) / max(high - low, 1e-6), height / (2 * max(radius, 1e-6)), GREATEST_SCALE)
    view = View(low, high, scale)
    items = [item for k, p in enumerate(placed) for item in _part_items(p.section, view, k % 2 == 1)]
    items.append(centre_line(view, 3.0))
    _, top, _, bottom = box_of(items)
    placer = Placer((view.width - width) / 2, (view.width + width) / 2, top, bottom)
    spans, rest = _spans(assembly, drawn, placed, view, unit)
    overall = Span(length(high - low, unit), view.x(low), view.x(high), 0.0, 0.0, False, True, "")
    place_spans(placer, [*spans, *([] if _is_told(spans, overall) else [overall])])
    place_callouts(placer, [*_names(placed, view), *_seats(drawn, placed, marks, view)])
    return as_picture([*items, *placer.items], placer.balloons, placer.untold), rest


def _is_told(spans: Sequence[Span], overall: Span) -> bool:
    ends = {overall.xa, overall.xb}
    return any({round(s.xa, 3), round(s.xb, 3)} == {round(x, 3) for x in ends} for s in spans)


def _part_items(section: Section, view: View, is_turned: bool) -> list[Item]:
    """A part over what lies in it: seen from outside below the axis, and above too unless it is hollow."""
    run = outer_run(section, view)
    below = mirrored_down(run)
    if not has_hole(section):
        whole = (*run, *below[::-1])
        return [Blank(whole), *edges_across(section, view, True), Polyline(whole, LineType.OUTLINE, True)]
    loop = half_loop(section, view)
    spacing = hatch_spacing(view, section)
    items: list[Item] = [Blank(tuple(loop)), Blank(tuple(below)), _hatched(loop, spacing, is_turned)]
    items += edges_across(section, view, False)
    items.append(Polyline(tuple(below), LineType.OUTLINE))
    return [*items, *_edge_of(section, view)]


def _hatched(loop: list[Point], spacing: float, is_turned: bool) -> Hatch:
    """Hatching, the other way on every second part."""
    if not is_turned:
        return hatch([loop], spacing)
    lines = hatch([[(-x, y) for x, y in loop]], spacing).lines
    return Hatch(tuple((-a, b, -c, d) for a, b, c, d in lines))


def _edge_of(section: Section, view: View) -> list[Item]:
    """The cut half's edge: outside, ends, and the holes' walls; not along the axis where it is solid."""
    outer = [view.point(float(z), float(r)) for z, r in section.outer]
    inner = [view.point(float(z), float(r)) for z, r in section.inner]
    items: list[Item] = [Polyline((inner[0], *outer, inner[-1]), LineType.OUTLINE)]
    wall: list[Point] = []
    for a, b in zip(inner, inner[1:], strict=False):
        if min(a[1], b[1]) < -1e-6:
            wall = wall or [a]
            wall.append(b)
        elif wall:
            items.append(Polyline(tuple(wall), LineType.OUTLINE))
            wall = []
    return [*items, *([Polyline(tuple(wall), LineType.OUTLINE)] if wall else [])]


def _names(placed: Sequence[Placed], view: View) -> list[Callout]:
    """Each part's name, to a place of its surface that no other part covers."""
    found = []
    for one in placed:
        beyond = [p for p in placed if p is not one]
        steps = [one.low + (one.high - one.low) * k / 24 for k in range(1, 24)]
        seen = [z for z in steps if all(radius_at(p.section.outer, z) <= radius_at(one.section.outer, z) for p in beyond)]
        free = sorted(seen or steps)
        z = free[len(free) // 2]
        x, y = view.point(z, radius_at(one.section.outer, z))
        found.append(Callout(one.part.name, x, y, True, False, "", True))
    return found


def _seats(drawn: Assembly, placed: tuple[Placed, ...], marks: Sequence[str], view: View) -> list[Callout]:
    found = []
    for seat, mark in zip(drawn.seats, marks, strict=True):
        z = point_station(placed, seat.moving, "")
        if z is None:
            continue
        radii = [radius_at(p.section.outer, z) for p in placed if p.part.name in (seat.moving.part, seat.fixed.part)]
        x, y = view.point(z, min((r for r in radii if r > 1e-6), default=0.0))
        found.append(Callout(f"seat {mark}", x, y, False, False, ""))
    return found


def _spans(
    assembly: SolvedAssembly, drawn: Assembly, placed: tuple[Placed, ...], view: View, unit: Unit
) -> tuple[list[Span], list[SolvedDimension]]:
    """The dimensions over the parts as spans, and those whose place the words alone do not tell."""
    phrases = {d.phrase.text: d.phrase for d in drawn.dimensions}
    spans: list[Span] = []
    rest: list[SolvedDimension] = []
    for size in assembly.dimensions:
        phrase = phrases.get(size.phrase)
        ends = [None if p is None else point_station(placed, p, phrase.part if phrase else "")
                for p in ((phrase.start, phrase.end) if phrase else (None, None))]  # fmt: skip
        if ends[0] is None or ends[1] is None:
            rest.append(size)
            continue
        reach = [max(radius_at(p.section.outer, z) for p in placed) * view.scale for z in (ends[0], ends[1])]
        typed = size.typed.strip()
        text = typed if typed and len(typed) <= LONGEST_TYPED and typed[0] in "0123456789.(" else ""
        text = text or measure_text(size.value, size.measure, unit)
        named = f"{size.phrase}: {text}"
        spans.append(Span(text, view.x(ends[0]), view.x(ends[1]), reach[0], reach[1], False, not size.given, named))
    return spans, rest


__all__ = ["arrangement_picture", "letters", "placed_parts"]
