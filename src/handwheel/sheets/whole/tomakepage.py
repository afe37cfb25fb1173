"""Cards of the things to make: a half section with its sizes by letter, and a column of figures for each of them."""

from __future__ import annotations

import math
from collections.abc import Sequence

from handwheel.drawing.records import Drawing
from handwheel.job.records import Unit
from handwheel.plan.records import Plan
from handwheel.readings.words import figure
from handwheel.sheets.callouts import Callout, Placer, Span, place_callouts, place_spans
from handwheel.sheets.moving import Picture, as_picture, box_of
from handwheel.sheets.paper import DIM_PT, WORK_PT, Composer, beside, table, text_block, under
from handwheel.sheets.view import View, body, centre_line, hatch_spacing, radius_at
from handwheel.sheets.whole.tomake import Size, Tackle, tackle_of
from handwheel.workshop.records import Workshop

ABREAST, DRAWN_MM, NAME_MM, TALL_MM, GREATEST_SCALE = 5, 44.0, 43.0, 22.0, 2.5
NAMED = {Unit.INCH: "inches", Unit.MM: "millimetres"}
LETTERS = "abcdefghij"


def put_to_make(paper: Composer, drawing: Drawing, plan: Plan, shop: Workshop) -> None:
    """A card for those of a kind, a column each; nothing where nothing is to be made."""
    found = tackle_of(plan, drawing, shop)
    if not found:
        return
    cards = [_card(bunch, drawing.job.units, paper.width) for bunch in _bunches(found)]
    paper.begin("To make", cards[0].height + 12.0)
    paper.heading("To make", cards[0].height)
    for card in cards:
        paper.put(card, 4.0)


def _bunches(found: Sequence[Tackle]) -> list[list[Tackle]]:
    """Those whose names, notes and kinds of size are alike, no more than a card holds."""
    bunches: list[list[Tackle]] = []
    for one in found:
        key = (one.name, one.notes, [s.name for s in one.sizes])
        for bunch in bunches:
            if (bunch[0].name, bunch[0].notes, [s.name for s in bunch[0].sizes]) == key and len(bunch) < ABREAST:
                bunch.append(one)
                break
        else:
            bunches.append([one])
    return bunches


def _card(bunch: Sequence[Tackle], unit: Unit, width: float) -> Picture:
    first = bunch[0]
    column = (width - DRAWN_MM - 4.0 - NAME_MM) / ABREAST
    rows = [(f"in {NAMED[unit]}, for", *(", ".join(one.serves) for one in bunch))]
    for k, size in enumerate(first.sizes):
        figures = [f"{'Ø ' if s.is_diameter else ''}{figure(s.value_mm, unit)}" for s in (o.sizes[k] for o in bunch)]
        rows.append((f"{LETTERS[k]}  {size.name}" if _is_drawn(size) else f"    {size.name}", *figures))
    figures_table = table(rows, [NAME_MM, *[column for _ in bunch]], True, DIM_PT)
    notes = text_block("; ".join(first.notes).capitalize() + ".", width, DIM_PT)
    head = text_block(f"{first.name}, {len(bunch)} off" if len(bunch) > 1 else first.name, width, WORK_PT, True)
    drawn = beside([(0.0, _picture(first)), (DRAWN_MM + 4.0, figures_table)])
    return under([head, Picture(drawn.items, width, drawn.height), notes], 1.2)


def _is_drawn(size: Size) -> bool:
    return not math.isnan(size.at[0])


def _picture(one: Tackle) -> Picture:
    section = one.section
    low, high = float(section.outer[0, 0]), float(section.outer[-1, 0])
    radius = float(section.outer[:, 1].max())
    view = View(low, high, min((DRAWN_MM - 16.0) / (high - low), TALL_MM / (2 * radius), GREATEST_SCALE))
    items = [*body(section, view, True, hatch_spacing(view, section)), centre_line(view, 2.0)]
    _, top, _, bottom = box_of(items)
    placer = Placer((view.width - DRAWN_MM) / 2, (view.width + DRAWN_MM) / 2, top, bottom)
    spans, callouts = [], []
    for letter, size in zip(LETTERS, one.sizes, strict=False):
        if not _is_drawn(size):
            continue
        a, b = size.at
        if size.is_diameter:
            callouts.append(Callout(letter, *view.point(a, b), True))
        else:
            reach = [radius_at(section.outer, z) * view.scale for z in size.at]
            spans.append(Span(letter, view.x(a), view.x(b), reach[0], reach[1], True))
    place_spans(placer, spans)
    place_callouts(placer, callouts)
    return as_picture([*items, *placer.items])
