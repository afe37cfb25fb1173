"""The sheets of a job: front page, a card a part, a page a set-up, as HTML, PDF and one SVG a stage. No I/O."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from handwheel.drawing.records import Drawing
from handwheel.job.records import Unit
from handwheel.plan.records import PartPlan, Plan, Stage
from handwheel.readings.copies import CopyReadings
from handwheel.readings.of import workable
from handwheel.readings.records import Reading
from handwheel.sheets.asmadepage import put_as_made
from handwheel.sheets.bunches import bunches
from handwheel.sheets.cards import put_cards, put_front
from handwheel.sheets.checkspage import put_checked
from handwheel.sheets.copyrows import apart, void_text
from handwheel.sheets.habits import put_habits
from handwheel.sheets.html import index_html
from handwheel.sheets.moving import moved
from handwheel.sheets.paper import Composer, SheetMeta
from handwheel.sheets.pdf import pages_pdf
from handwheel.sheets.primitives import Page
from handwheel.sheets.setuppage import put_set_up, set_up_blocks
from handwheel.sheets.setups import Run, can_be_read, runs
from handwheel.sheets.shop import Shop
from handwheel.sheets.stagepic import with_half_section
from handwheel.sheets.svg import items_svg
from handwheel.sheets.whole.pressure import pressure_words
from handwheel.sheets.whole.put import put_whole
from handwheel.workshop.records import Workshop

MANY_STEPS = 30
STAGE_WIDTH_MM = 176.0
STAGE_MARGIN_MM = 3.0

Readings = Mapping[tuple[str, int], tuple[Reading, ...]]
Copies = Sequence[Sequence[CopyReadings]]
"""Readings that change on copies with sizes as made, in the order of `drawing.as_made`."""

__all__ = ["SheetMeta", "make_pages", "make_sheets"]


def make_sheets(
    drawing: Drawing, plan: Plan, readings: Readings, workshop: Workshop, meta: SheetMeta, copies: Copies = ()
) -> dict[str, bytes]:
    """File names to bytes: `index.html`, `sheets.pdf` and one `PART-NUMBER-KIND.svg` a stage.

    `readings` by part and operation number; `copies`: those that change on copies with sizes
    as made. A part that is refused is shown with the reason and no readings from there.
    """
    pages = make_pages(drawing, plan, readings, workshop, meta, copies)
    shop = Shop(readings, workshop, drawing.job.units, can_be_read(plan), pressure_words(drawing),
                apart(drawing.as_made, copies), void_text(drawing.as_made))
    files = {
        "index.html": index_html(drawing.job.name, pages, runs(plan), shop, meta).encode("utf-8"),
        "sheets.pdf": pages_pdf(pages, drawing.job.name),
    }
    for part in plan.parts:
        for stage in drawn_stages(part):
            files[stage_name(part, stage)] = stage_svg(stage, drawing.job.units).encode("utf-8")
    return files


def make_pages(
    drawing: Drawing, plan: Plan, readings: Readings, workshop: Workshop, meta: SheetMeta, copies: Copies = ()
) -> list[Page]:
    """All pages laid out; a long job has closer drawings on the cards, and set-ups that share pages."""
    paper = _composed(drawing, plan, readings, workshop, meta, copies)
    put_as_made(paper, drawing, copies)
    put_checked(paper, plan)
    put_habits(paper, workshop, drawing.job.units)
    return paper.finished()


def _composed(
    drawing: Drawing, plan: Plan, readings: Readings, workshop: Workshop, meta: SheetMeta, copies: Copies
) -> Composer:
    is_close = len(plan.order) > MANY_STEPS
    paper = Composer(drawing.job.name, meta, workshop.is_example)
    unit: Unit = drawing.job.units
    in_order: tuple[Run, ...] = runs(plan)
    put_front(paper, drawing, plan, in_order)
    put_whole(paper, drawing, plan, in_order, workshop)
    plans = {p.part: p for p in plan.parts}
    put_cards(paper, drawing, plans, is_close)
    shop = Shop(readings, workshop, unit, can_be_read(plan), pressure_words(drawing),
                apart(drawing.as_made, copies), void_text(drawing.as_made))
    alike = bunches(in_order, readings, shop.can_be_read) if is_close else [(run,) for run in in_order]
    number = 0
    explained: dict[str, str] = {}
    for bunch in alike:
        first, number = number + 1, number + len(bunch)
        which = f"set-up {first}" if len(bunch) == 1 else f"set-ups {first} to {number}"
        blocks = set_up_blocks(bunch, f"{which} of {len(in_order)}", shop, paper.width, explained)
        put_set_up(paper, blocks, first == 1, is_close)
    return paper


def drawn_stages(part: PartPlan) -> Iterator[Stage]:
    """The stages that can be done."""
    numbers = {operation.number for operation in workable(part)}
    return (stage for stage in part.stages if stage.operation.number in numbers)


def stage_name(part: PartPlan, stage: Stage) -> str:
    """The file name of a stage's drawing: part, number and kind in plain letters."""
    text = f"{part.part} {stage.operation.number} {stage.operation.kind}".lower()
    return re.sub(r"[^a-z0-9]+", "-", text).strip("-") + ".svg"


def stage_svg(stage: Stage, unit: Unit) -> str:
    """One stage's drawing on its own."""
    picture = with_half_section(stage, unit, STAGE_WIDTH_MM, says_ends=True)
    margin = STAGE_MARGIN_MM
    items = [moved(item, margin, margin) for item in picture.items]
    operation = stage.operation
    title = f"{operation.part}, operation {operation.number}, {operation.kind}"
    return items_svg(items, picture.width + 2 * margin, picture.height + 2 * margin, title)
