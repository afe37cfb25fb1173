"""Cards of the things to make: a small half section with its sizes, three abreast."""

from __future__ import annotations

import math

from handwheel.drawing.records import Drawing
from handwheel.job.records import Unit
from handwheel.plan.records import Plan
from handwheel.readings.words import figure
from handwheel.sheets.callouts import Callout, Placer, Span, place_callouts, place_spans
from handwheel.sheets.moving import Picture, as_picture, box_of, moved
from handwheel.sheets.numbers import both
from handwheel.sheets.paper import DIM_PT, WORK_PT, Composer, beside, text_block, under
from handwheel.sheets.primitives import Text
from handwheel.sheets.view import View, body, centre_line, hatch_spacing, radius_at
from handwheel.sheets.whole.tomake import Tackle, tackle_of
from handwheel.workshop.records import Workshop

ABREAST, GAP_MM, TALL_MM, GREATEST_SCALE = 3, 5.0, 17.0, 2.0


def put_to_make(paper: Composer, drawing: Drawing, plan: Plan, shop: Workshop) -> None:
    """A card each; nothing where nothing is to be made."""
    found = tackle_of(plan, drawing, shop)
    if not found:
        return
    width = (paper.width - (ABREAST - 1) * GAP_MM) / ABREAST
    cards = [tackle_card(one, drawing.job.units, width) for one in found]
    rows = [beside([(j * (width + GAP_MM), c) for j, c in enumerate(cards[k : k + ABREAST])])
            for k in range(0, len(cards), ABREAST)]  # fmt: skip
    paper.begin("To make", rows[0].height + 12.0)
    paper.heading("To make", rows[0].height)
    for row in rows:
        paper.put(row, 4.0)


def tackle_card(one: Tackle, unit: Unit, width: float) -> Picture:
    """Name, whom it serves, the drawing, and the sizes in words. [mm]"""
    picture = _picture(one, unit, width)
    shift = (width - picture.width) / 2
    shown = Picture(tuple(moved(i, shift, 0.0) for i in picture.items), width, picture.height)
    head = under([text_block(one.name, width, WORK_PT, True), text_block(f"for {', '.join(one.serves)}", width, DIM_PT)])
    sizes = [_size_line(size.name, size.value_mm, size.is_diameter, unit, width) for size in one.sizes]
    notes = [text_block(f"{note[0].upper()}{note[1:]}.", width, DIM_PT) for note in one.notes]
    return under([head, shown, under(sizes), under(notes)], 1.0)


def _size_line(name: str, mm: float, is_diameter: bool, unit: Unit, width: float) -> Picture:
    first, second = both(mm, unit)
    sign = "Ø " if is_diameter else ""
    words = text_block(name, width - 34.0, DIM_PT)
    right = (Text(width - 16.0, 2.9, f"{sign}{first}", DIM_PT, True, "end"), Text(width, 2.9, second, DIM_PT, False, "end", True))
    return Picture((*words.items, *right), width, max(words.height, 3.8))


def _picture(one: Tackle, unit: Unit, width: float) -> Picture:
    section = one.section
    low, high = float(section.outer[0, 0]), float(section.outer[-1, 0])
    radius = float(section.outer[:, 1].max())
    view = View(low, high, min((width - 24.0) / (high - low), TALL_MM / (2 * radius), GREATEST_SCALE))
    items = [*body(section, view, True, hatch_spacing(view, section)), centre_line(view, 2.0)]
    _, top, _, bottom = box_of(items)
    placer = Placer((view.width - width) / 2, (view.width + width) / 2, top, bottom)
    placed = [s for s in one.sizes if not math.isnan(s.at[0])]
    spans, callouts = [], []
    for size in placed:
        if size.is_diameter:
            callouts.append(Callout(f"Ø {figure(size.value_mm, unit)}", *view.point(*size.at)))
            continue
        reach = [radius_at(section.outer, z) * view.scale for z in size.at]
        spans.append(Span(figure(size.value_mm, unit), view.x(size.at[0]), view.x(size.at[1]), *reach))
    place_spans(placer, spans)
    place_callouts(placer, callouts)
    return as_picture([*items, *placer.items], placer.balloons)
