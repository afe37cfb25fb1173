"""Cards of the things to make: a half section with its sizes by letter, and a column of figures for each of them."""

from __future__ import annotations

import math
from collections.abc import Sequence

from handwheel.drawing.records import Drawing
from handwheel.job.records import Unit
from handwheel.plan.records import Plan
from handwheel.readings.words import figure, inward
from handwheel.sheets.callouts import Callout, Placer, Span, place_callouts, place_spans
from handwheel.sheets.moving import Picture, as_picture, box_of
from handwheel.sheets.paper import DIM_PT, WORK_PT, Composer, beside, table, text_block, under
from handwheel.sheets.primitives import Circle, Item, Line, LineType, Solid, Text
from handwheel.sheets.procedures import numbered, two_columns
from handwheel.sheets.view import View, body, centre_line, hatch_spacing, radius_at
from handwheel.sheets.whole.tomake import Size, Tackle, tackle_of
from handwheel.workshop.records import Workshop

ABREAST, DRAWN_MM, NAME_MM, TALL_MM, GREATEST_SCALE = 5, 44.0, 43.0, 22.0, 2.5
NAMED = {Unit.INCH: "inches", Unit.MM: "millimetres"}
END_MM, STEPS_GAP_MM, HOLDS_MM, CONTACT_MM = 24.0, 5.0, 40.0, 0.1
LETTERS = "abcdefghij"


def put_to_make(paper: Composer, drawing: Drawing, plan: Plan, shop: Workshop) -> None:
    """A card for those of a kind, a column each; nothing where nothing is to be made."""
    found = tackle_of(plan, drawing, shop)
    if not found:
        return
    cards = [_card(bunch, drawing.job.units, paper.width) for bunch in _bunches(found)]
    paper.begin("To make", cards[0][0].height + 12.0)
    paper.heading("To make", cards[0][0].height)
    for drawn, made in cards:
        paper.put(drawn, 1.2)
        paper.put(made, 4.0)


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


def _card(bunch: Sequence[Tackle], unit: Unit, width: float) -> tuple[Picture, Picture]:
    """The drawing with its sizes, and how it is made."""
    first = bunch[0]
    column = (width - DRAWN_MM - 4.0 - NAME_MM) / ABREAST
    rows = [(f"in {NAMED[unit]}, for", *(", ".join(one.serves) for one in bunch))]
    for k, size in enumerate(first.sizes):
        figures = [_figure(s, unit) for s in (o.sizes[k] for o in bunch)]
        rows.append((f"{LETTERS[k]}  {size.name}" if _is_drawn(size) else f"    {size.name}", *figures))
    for k, reading in enumerate(first.readings):
        rows.append((f"    {reading.head}", *(_shortened(one.readings[k].value) for one in bunch)))
    figures_table = table(rows, [NAME_MM, *[column for _ in bunch]], True, DIM_PT)
    notes = text_block("; ".join(first.notes).capitalize() + ".", width, DIM_PT) if first.notes else Picture((), 0.0, 0.0)
    head = text_block(f"{first.name}, {len(bunch)} off" if len(bunch) > 1 else first.name, width, WORK_PT, True)
    pictures = [_picture(first), *([_from_the_mouth(first)] if first.cuts else [])]
    drawn = beside([(0.0, under(pictures, 3.0)), (DRAWN_MM + 4.0, figures_table)])
    half = (width - STEPS_GAP_MM) / 2
    made = two_columns(numbered(first.steps, half), half) if first.steps else Picture((), 0.0, 0.0)
    return under([head, Picture(drawn.items, width, drawn.height), notes], 1.2), made


def _shortened(words: str) -> str:
    """`2 turns 10 div`."""
    return words.replace(" and ", " ").replace("divisions", "div").replace("division", "div")


def _figure(size: Size, unit: Unit) -> str:
    """A size's figure, or its limits."""
    sign = "Ø " if size.is_diameter else ""
    if size.high_mm is None:
        return f"{sign}{figure(size.value_mm, unit)}"
    low, high = inward(size.value_mm, size.high_mm, unit)
    return f"{sign}{low} to {high}"


def _from_the_mouth(one: Tackle) -> Picture:
    """The mouth seen from the tailstock: its cuts, and the mark that stands against jaw 1."""
    body = float(one.section.outer[:, 1].max())
    bore = float(one.section.inner[-1, 1])
    scale = min(GREATEST_SCALE, END_MM / (2.0 * body))
    big, small = body * scale, bore * scale
    items: list[Item] = [Circle(0.0, 0.0, big, LineType.OUTLINE), Circle(0.0, 0.0, small, LineType.EDGE)]
    for k in range(one.cuts):
        turn = math.radians(90.0 + 180.0 / max(one.cuts, 2) + 360.0 * k / max(one.cuts, 1))
        for side in (-0.5, 0.5):
            dx, dy = -side * math.sin(turn), side * math.cos(turn)
            a, b = ((r * math.cos(turn) + dx, -r * math.sin(turn) - dy) for r in (small, big))
            items.append(Line(*a, *b, LineType.EDGE))
    items += [Solid(((0.0, -big + 0.6), (-1.0, -big + 2.4), (1.0, -big + 2.4))), Line(0.0, -big - 1.0, 0.0, -big - 3.6)]
    items.append(Text(0.0, -big - 4.6, "jaw 1", DIM_PT, False, "middle"))
    return as_picture(items)


def _is_drawn(size: Size) -> bool:
    return not math.isnan(size.at[0])


def _picture(one: Tackle) -> Picture:
    section = one.section
    low, high = float(section.outer[0, 0]), float(section.outer[-1, 0])
    radius = float(section.outer[:, 1].max())
    tall = TALL_MM if one.ball is None else HOLDS_MM
    view = View(low, high, min((DRAWN_MM - 16.0) / (high - low), tall / (2 * radius), GREATEST_SCALE))
    items = [*body(section, view, True, hatch_spacing(view, section)), centre_line(view, 2.0)]
    if one.ball is not None:
        items.append(Circle(view.x(one.ball[0]), 0.0, one.ball[1] * view.scale, LineType.PHANTOM))
        corners = [(z, r) for z, r in section.inner if abs(math.hypot(z - one.ball[0], r) - one.ball[1]) < CONTACT_MM]
        items += [Circle(*view.point(float(z), sign * float(r)), 0.7, LineType.EDGE) for z, r in corners for sign in (1.0, -1.0)]
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
