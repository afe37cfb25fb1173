"""The front page and one card a part: what is made, from what, in which order, and the drawing with all its sizes."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.drawing.records import Drawing, SolvedDimension, SolvedPart
from handwheel.job.records import Unit
from handwheel.plan.records import PartPlan, Plan
from handwheel.sheets.cardpic import card_picture, small_picture
from handwheel.sheets.moving import Picture, moved
from handwheel.sheets.numbers import both, measure_text
from handwheel.sheets.paper import DIM_PT, HEAD_PT, READ_PT, WORK_PT, Composer, beside, text_block, under
from handwheel.sheets.primitives import Box, Item, Line, LineType, Solid, Text
from handwheel.sheets.rows import caution_block
from handwheel.sheets.setups import Run

PICTURE_MM = 40.0
DRAWN_MM, CLOSE_MM = 40.0, 25.0


def stock_text(plan: PartPlan | None, unit: Unit) -> str:
    """The blank in words: what bar, how long."""
    if plan is None or plan.stock.length_mm <= 0:
        return "not settled"
    first, second = both(plan.stock.length_mm, unit)
    return f"{plan.stock.as_named or plan.stock.form}, {first} long ({second})"


def put_front(paper: Composer, drawing: Drawing, plan: Plan, runs: Sequence[Run]) -> None:
    """The front page."""
    paper.start("Front page")
    paper.put(text_block(drawing.job.name, paper.width, READ_PT, True), 1.0)
    paper.put(text_block(_count_text(drawing, plan), paper.width, WORK_PT), 4.0)
    plans = {p.part: p for p in plan.parts}
    half = (paper.width - 4.0) / 2
    cells = [_part_row(part, plans.get(part.name), drawing.job.units, half) for part in drawing.parts]
    for k in range(0, len(cells), 2):
        paper.put(beside([(j * (half + 4.0), cell) for j, cell in enumerate(cells[k : k + 2])]), 3.0)
    paper.heading("Running order", 30.0)
    for row in _strip(runs, paper.width):
        paper.put(row, 2.5)
    if plan.to_get:
        paper.heading("To get")
        paper.put(_listed(plan.to_get, paper.width), 3.0)
    _put_checks(paper, plan)


def _count_text(drawing: Drawing, plan: Plan) -> str:
    pieces = sum(p.quantity for p in drawing.parts)
    parts = f"{len(drawing.parts)} part" + ("s" if len(drawing.parts) != 1 else "")
    many = "" if pieces == 1 else "s"
    return f"{parts}, {pieces} piece{many}, {len(plan.set_ups)} set-ups. Dimensions: {drawing.state}."


def _part_row(part: SolvedPart, plan: PartPlan | None, unit: Unit, width: float) -> Picture:
    small = small_picture(part, plan, PICTURE_MM, 15.0)
    name = under([
        text_block(part.name, width - PICTURE_MM - 4.0, HEAD_PT, True),
        text_block(f"{part.quantity} off, {part.material or 'material not said'}", width - PICTURE_MM - 4.0, DIM_PT),
        text_block(f"blank: {stock_text(plan, unit)}", width - PICTURE_MM - 4.0, DIM_PT),
        text_block(f"Cannot be made here: {plan.refused}" if plan and plan.refused else "",
                   width - PICTURE_MM - 4.0, WORK_PT, True),
    ])
    tall = max(small.height, name.height)
    picture = Picture(
        tuple(moved(i, (PICTURE_MM - small.width) / 2, (tall - small.height) / 2) for i in small.items),
        PICTURE_MM, tall)
    return beside([(0.0, picture), (PICTURE_MM + 4.0, name)])


def _strip(runs: Sequence[Run], width: float) -> list[Picture]:
    """The set-ups in their order as boxes, five in a row."""
    across, gap = 5, 3.0
    wide = (width - gap * (across - 1)) / across
    rows = []
    for start in range(0, len(runs), across):
        cells = [_strip_words(run, wide - 4.0, start + k + 1) for k, run in enumerate(runs[start : start + across])]
        tall = max(c.height for c in cells) + 3.0
        items: list[Item] = []
        for k, cell in enumerate(cells):
            x = k * (wide + gap)
            items.append(Box(x, 0.0, wide, tall, LineType.EDGE, 1.0))
            items += [moved(i, x + 2.0, 1.5) for i in cell.items]
            if start + k + 1 < len(runs) and k + 1 < len(cells):
                items.append(Solid(((x + wide + 0.5, tall / 2 - 1.2), (x + wide + 2.5, tall / 2),
                                    (x + wide + 0.5, tall / 2 + 1.2))))
        rows.append(Picture(tuple(items), width, tall))
    return rows


def _strip_words(run: Run, width: float, number: int) -> Picture:
    key = text_block(run.set_up.key, width, READ_PT, True)
    place = Text(width, key.height * 0.72, str(number), DIM_PT, False, "end", True)
    lines = [text_block(run.set_up.title, width, DIM_PT)]
    for part in dict.fromkeys(g.part for g in run.groups):
        numbers = [s.operation.number for g in run.groups if g.part == part for s in g.stages]
        shown = str(numbers[0]) if len(numbers) == 1 else f"{numbers[0]} to {numbers[-1]}"
        lines.append(text_block(f"{part}: {shown}", width, DIM_PT))
    return under([Picture((*key.items, place), width, key.height), *lines], 0.3)


def _listed(texts: Sequence[str], width: float) -> Picture:
    """A list in two columns, each line with a box to tick it off."""
    half = width / 2
    rows: list[list[Picture]] = [[], []]
    for k, text in enumerate(texts):
        words = text_block(text, half - 10.0, WORK_PT)
        box = Box(0.4, 0.6, 3.4, 3.4, LineType.EDGE, 0.4)
        rows[k % 2].append(Picture((box, *(moved(i, 6.0, 0.0) for i in words.items)), half, max(words.height, 4.6)))
    return beside([(0.0, under(rows[0], 0.8)), (half, under(rows[1], 0.8))])


def _put_checks(paper: Composer, plan: Plan) -> None:
    faults = [c for c in plan.checks if c.is_fault]
    paper.heading("What was checked")
    names = plan.checked or tuple(dict.fromkeys(c.check for c in plan.checks))
    found = "no fault found by these checks" if not faults else f"{len(faults)} found, listed below"
    if names:
        paper.put(text_block(f"{'; '.join(names)}: {found}.", paper.width, DIM_PT), 2.0)
    for check in faults:
        what = f"{check.part} {check.operation}, {check.check}: {check.found}. {check.do}"
        paper.put(caution_block(what, paper.width), 1.5)
    not_checked = "; ".join(plan.not_checked)
    if not_checked:
        paper.put(text_block(f"Not checked: {not_checked}.", paper.width, DIM_PT), 2.0)


def put_card(paper: Composer, part: SolvedPart, plan: PartPlan | None, unit: Unit, is_close: bool = False) -> None:
    """A part's card, under the one before where there is room."""
    blocks = _card_blocks(part, plan, unit, paper.width, CLOSE_MM if is_close else DRAWN_MM)
    if not paper.subject.startswith("Part") or sum(b.height + 2.0 for b in blocks) + 5.0 > paper.room():
        paper.start(f"Part: {part.name}")
    else:
        paper.put(Picture((Line(0, 0.8, paper.width, 0.8, LineType.HEAVY),), paper.width, 1.6), 3.0)
        paper.also(f"Part: {part.name}")
    for block in blocks:
        paper.put(block, 2.0)


def _card_blocks(
    part: SolvedPart, plan: PartPlan | None, unit: Unit, width: float, height: float
) -> list[Picture]:
    name = text_block(part.name, width, READ_PT, True)
    facts = f"{part.quantity} off  ·  {part.material or 'material not said'}  ·  blank: {stock_text(plan, unit)}"
    lines = [name, text_block(facts, width, WORK_PT)]
    if part.note:
        lines.append(text_block(part.note, width, WORK_PT))
    if plan and plan.refused:
        lines.append(caution_block(f"Cannot be made here: {plan.refused} {plan.would_do}", width))
    picture, rest = card_picture(part, plan, unit, width, height)
    shift = (width - picture.width) / 2
    drawn = Picture(tuple(moved(i, shift, 0.0) for i in picture.items), width, picture.height)
    below = [text_block(f"{k + 1}: {text}", width, DIM_PT) for k, text in enumerate(picture.balloons)]
    for size in rest:
        text = f"{size.phrase}: {size.typed or measure_text(size.value, size.measure, unit)}"
        below.append(text_block(text, width, DIM_PT))
    return [under(lines, 0.8), under([drawn, _legend(unit, width), *below], 2.0), _worked_out(part, unit, width)]


def _legend(unit: Unit, width: float) -> Picture:
    """What the box and its mark, and the line types, mean."""
    name = "inches" if unit is Unit.INCH else "millimetres"
    sign = (Box(0.0, 0.2, 4.4, 3.9, LineType.THIN), Solid(((1.2, 3.0), (3.2, 3.0), (2.2, 1.2))))
    text = (
        f"Boxed with this mark: worked out by handwheel; the rest as given, in {name} where no unit is said. "
        "Dashes with two dots: the blank."
    )
    words = text_block(text, width - 6.0, DIM_PT)
    return Picture((*sign, *(moved(i, 6.0, 0.4) for i in words.items)), width, words.height + 0.6)


def _worked_out(part: SolvedPart, unit: Unit, width: float) -> Picture:
    """The sizes worked out, in two columns: phrase, the job's unit, the other lighter."""
    sizes = [d for d in part.dimensions if not d.given]
    if not sizes:
        return Picture((), 0.0, 0.0)
    half = width / 2
    columns: list[list[Picture]] = [[], []]
    for k, size in enumerate(sizes):
        columns[k * 2 // len(sizes)].append(_size_line(size, unit, half - 4.0))
    body = beside([(0.0, under(columns[0], 0.3)), (half, under(columns[1], 0.3))])
    return under([text_block("Worked out", width, WORK_PT, True), body], 1.0)


def _size_line(size: SolvedDimension, unit: Unit, width: float) -> Picture:
    phrase = text_block(size.phrase, width - 44.0, DIM_PT)
    figure = Text(width - 22.0, 2.9, measure_text(size.value, size.measure, unit), DIM_PT, True, "end")
    items: list[Item] = [*phrase.items, figure]
    if size.measure.value == "length":
        items.append(Text(width, 2.9, both(size.value, unit)[1], DIM_PT, False, "end", True))
    return Picture(tuple(items), width, max(phrase.height, 4.0))
