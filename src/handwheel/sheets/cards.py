"""The front page and one card a part: what is made, from what, in which order, and the drawing with all its sizes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handwheel.drawing.records import Drawing, SolvedDimension, SolvedPart
from handwheel.job.records import Unit
from handwheel.plan.names import line_text
from handwheel.plan.records import PartPlan, Plan, Tight
from handwheel.sheets.cardpic import card_pictures, small_picture
from handwheel.sheets.checkspage import put_found
from handwheel.sheets.fonts import text_width_mm
from handwheel.sheets.moving import Picture, moved
from handwheel.sheets.numbers import both, length, measure_text
from handwheel.sheets.paper import DIM_PT, HEAD_PT, READ_PT, WORK_PT, Composer, beside, text_block, under
from handwheel.sheets.primitives import Box, Item, Line, LineType, Solid, Text
from handwheel.sheets.rows import caution_block
from handwheel.sheets.setups import Run
from handwheel.sheets.whole.pressure import pressure_text, pressure_words

PICTURE_MM = 40.0
DRAWN_MM, CLOSE_MM = 40.0, 22.0
LEGEND_MM, BLOCK_GAP_MM, MOST_LINES = 12.0, 2.0, 24
GAP_MM, BESIDE_MM, SHORT_IS = 8.0, 80.0, 1.5
SECOND_MM, FIGURE_MM = 17.5, 17.0


def stock_text(plan: PartPlan | None, unit: Unit) -> str:
    """The blank in words: what bar, how long."""
    if plan is None or plan.stock.length_mm <= 0:
        return "not settled"
    least = both(plan.stock.length_mm, unit)[0]
    return f"{plan.stock.as_named or plan.stock.form}, sawn {line_text(unit, plan.stock.length_mm)} long ({least} at the least)"


def put_front(paper: Composer, drawing: Drawing, plan: Plan, runs: Sequence[Run]) -> None:
    """The front page."""
    paper.start("Front page")
    paper.put(text_block(drawing.job.name, paper.width, READ_PT, True), 1.0)
    paper.put(text_block(_count_text(drawing, plan), paper.width, WORK_PT), 4.0)
    caution = pressure_text(pressure_words(drawing), [p.name for p in drawing.parts])
    if caution:
        paper.put(caution_block(caution, paper.width), 3.0)
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
    put_found(paper, plan)


def _count_text(drawing: Drawing, plan: Plan) -> str:
    pieces = sum(p.quantity for p in drawing.parts)
    parts = f"{len(drawing.parts)} part" + ("s" if len(drawing.parts) != 1 else "")
    many = "" if pieces == 1 else "s"
    return f"{parts}, {pieces} piece{many}, {plan.order_said or 'no set-ups'}. Dimensions: {drawing.state}."


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


def put_cards(
    paper: Composer, drawing: Drawing, plans: Mapping[str, PartPlan], is_close: bool = False
) -> None:
    """A card a part, under the one before where there is room; short ones two abreast, after the others.

    What the box round a size means stands once a page.
    """
    parts, unit, words = drawing.parts, drawing.job.units, pressure_words(drawing)
    height = CLOSE_MM if is_close else DRAWN_MM
    half = (paper.width - GAP_MM) / 2
    long = [p for p in parts if p.length > SHORT_IS * _greatest_mm(p)]
    short = [p for p in parts if p not in long]
    made = {p.name: _card_blocks(p, plans.get(p.name), unit, half, height, words) for p in short}
    tall = [p for p in short if _height(made[p.name]) > paper.whole - LEGEND_MM]
    for part in [*long, *tall]:
        _put(paper, [part], _card_blocks(part, plans.get(part.name), unit, paper.width, height, words), unit)
    short = [p for p in short if p not in tall]
    for k in range(0, len(short), 2):
        pair = short[k : k + 2]
        cards = [under(made[p.name], BLOCK_GAP_MM) for p in pair]
        _put(paper, pair, [beside([(j * (half + GAP_MM), card) for j, card in enumerate(cards)])], unit)


def _height(blocks: Sequence[Picture]) -> float:
    return under(blocks, BLOCK_GAP_MM).height


def _greatest_mm(part: SolvedPart) -> float:
    """The greatest diameter. [mm]"""
    return 2 * max(feature.greatest_radius for feature in part.outside)


def _put(paper: Composer, parts: Sequence[SolvedPart], blocks: Sequence[Picture], unit: Unit) -> None:
    """A card kept whole; block by block only where it is taller than a page."""
    names = "; ".join(f"Part: {part.name}" for part in parts)
    if "Part: " not in paper.subject or _height(blocks) + 6.0 > paper.room():
        paper.begin(names, _height(blocks) + LEGEND_MM + 6.0)
        paper.put(_legend(unit, paper.width), 3.0)
    else:
        paper.put(Picture((Line(0, 0.8, paper.width, 0.8, LineType.HEAVY),), paper.width, 1.6), 2.0)
        paper.also(names)
    for block in blocks:
        paper.put(block, BLOCK_GAP_MM)
    paper.y += 0.5


def _card_blocks(
    part: SolvedPart, plan: PartPlan | None, unit: Unit, width: float, height: float, words: Mapping[str, str]
) -> list[Picture]:
    """Name and facts, the drawing, and the sizes worked out."""
    facts = [f"{part.quantity} off", part.material or "material not said", f"blank: {stock_text(plan, unit)}", part.note]
    lines = [text_block(part.name, width, READ_PT, True), text_block("  ·  ".join(filter(None, facts)), width, WORK_PT)]
    caution = pressure_text(words, [part.name])
    if caution:
        lines.append(caution_block(caution, width))
    if plan and plan.refused:
        lines.append(caution_block(f"Cannot be made here: {plan.refused} {plan.would_do}", width))
    lines += [text_block(tight_text(tight, unit), width, DIM_PT) for tight in (plan.tight if plan else ())]
    pictures, rest = card_pictures(part, plan, unit, width, height)
    told = list(pictures[0].listed)
    told += [f"{d.phrase}: {d.typed or measure_text(d.value, d.measure, unit)}" for d in rest]
    below = [text_block(text, width, DIM_PT) for text in told]
    drawn = [_amid(picture, width) for picture in pictures]
    return [under(lines, 0.4), *drawn, under(below, 1.0), *_worked_out(part, unit, width, int(width // BESIDE_MM))]


def _amid(picture: Picture, width: float) -> Picture:
    shift = (width - picture.width) / 2
    return Picture(tuple(moved(i, shift, 0.0) for i in picture.items), width, picture.height)


def tight_text(tight: Tight, unit: Unit) -> str:
    """A drawing dimension that its working ones share too thinly, and what would do."""
    got, held = (f"± {length(mm, unit)}" for mm in (tight.half_mm, tight.held_mm))
    through = " and ".join(tight.through) if len(tight.through) < 3 else f"{len(tight.through)} working sizes"
    what = f"Tight: {tight.dimension}, made through {through}: {got} is left for one of them, this workshop holds {held}."
    if tight.datum:
        return f"{what} Lengths measured from {tight.datum} get {tight.datum_share:.1f} times what it holds; or fit and measure."
    return f"{what} Fit and measure."


def _legend(unit: Unit, width: float) -> Picture:
    """What the box and its mark, and the line types, mean."""
    name = "inches" if unit is Unit.INCH else "millimetres"
    sign = (Box(0.0, 0.2, 4.4, 3.9, LineType.THIN), Solid(((1.2, 3.0), (3.2, 3.0), (2.2, 1.2))))
    text = f"worked out by handwheel; the rest as given, in {name} where no unit is said. Dashes with two dots: the blank."
    words = text_block(text, width - 6.0, DIM_PT)
    return Picture((*sign, *(moved(i, 6.0, 0.4) for i in words.items)), width, words.height + 0.6)


def _worked_out(part: SolvedPart, unit: Unit, width: float, across: int) -> list[Picture]:
    """The sizes worked out, in columns: phrase, the job's unit, the other lighter; no more lines together than MOST."""
    sizes = [d for d in part.dimensions if not d.given]
    wide = width / across
    found: list[Picture] = []
    for first in range(0, len(sizes), MOST_LINES * across):
        some = sizes[first : first + MOST_LINES * across]
        tall = -(-len(some) // across)
        columns = [some[k * tall : (k + 1) * tall] for k in range(across)]
        body = beside([(k * wide, under([_size_line(size, unit, wide - 3.0) for size in column], 0.1))
                       for k, column in enumerate(columns)])  # fmt: skip
        head = [] if found else [text_block("Worked out", width, WORK_PT, True)]
        found.append(under([*head, body], 0.4))
    return found


def _size_line(size: SolvedDimension, unit: Unit, width: float) -> Picture:
    figure = measure_text(size.value, size.measure, unit)
    second = both(size.value, unit)[1] if size.measure.value == "length" else ""
    right = width - max(SECOND_MM, text_width_mm(second, DIM_PT) + 1.5)
    phrase = text_block(size.phrase, right - FIGURE_MM, DIM_PT)
    items: list[Item] = [*phrase.items, Text(right, 2.9, figure, DIM_PT, True, "end")]
    if second:
        items.append(Text(width, 2.9, second, DIM_PT, False, "end", True))
    return Picture(tuple(items), width, max(phrase.height, 3.8))
