"""Acts done alike on several parts: what the hand does at the left, then a column a part with its own figures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest

from handwheel.job.records import Unit
from handwheel.plan.records import Sum
from handwheel.readings.records import Reading
from handwheel.sheets.cutrows import cuts_blocks
from handwheel.sheets.families import Family, beginning, in_common, said_by_all
from handwheel.sheets.fonts import text_width_mm
from handwheel.sheets.moving import Picture, moved
from handwheel.sheets.numbers import limits
from handwheel.sheets.paper import DIM_PT, WORK_PT, beside, text_block, under
from handwheel.sheets.primitives import Band, Item, Line, LineType, Text
from handwheel.sheets.rows import (
    CELL_MM,
    TICK_CELL_MM,
    column_sums,
    column_sums_label,
    copies_block,
    figures_block,
    figures_mm,
    makes_block,
    row_note,
    sense_of,
    sums_rows,
    taken_word,
    way_arrow,
)

LABEL_MM = 37.0
GAP_MM = 3.0
ARROW_MM = 9.0
ACROSS_MM = 50.0
MOST_ACROSS = 2


@dataclass(frozen=True, slots=True)
class Columns:
    """Where the columns stand on a block of that width. [mm]"""

    width: float
    count: int

    @property
    def cell(self) -> float:
        """Width of one column. [mm]"""
        return (self.width - LABEL_MM) / self.count - GAP_MM

    def x(self, k: int) -> float:
        """Left edge of a column. [mm]"""
        return LABEL_MM + GAP_MM + k * (self.cell + GAP_MM)

    def row(self, label: Picture, cells: Sequence[Picture], is_ruled: bool = True) -> Picture:
        """A label and the cells beside it, thin lines between the columns and under the row."""
        whole = beside([(0.0, label), *((self.x(k), cell) for k, cell in enumerate(cells))])
        height = whole.height + 1.4
        items: list[Item] = [moved(i, 0.0, 0.4) for i in whole.items]
        for k in range(self.count):
            x = self.x(k) - GAP_MM / 2
            items.append(Line(x, 0.0, x, height, LineType.RULE))
        if is_ruled:
            items.append(Line(0.0, height, self.width, height, LineType.RULE))
        return Picture(tuple(items), self.width, height)


def names_bar(family: Family, copies: Sequence[str], columns: Columns) -> Picture:
    """The parts' names over their columns, each with its copies."""
    cells = []
    for k, (group, ticket) in enumerate(zip(family, copies, strict=True)):
        wide = text_width_mm(ticket, DIM_PT, True)
        fits = text_width_mm(group.part, WORK_PT + 1.0, True) + wide + 2.0 <= columns.cell
        name = text_block(group.part, columns.cell, WORK_PT + 1.0, True)
        if fits:
            cell = beside([(0.0, name), (columns.cell - wide, moved_down(text_block(ticket, wide + 1.0, DIM_PT, True), 0.8))])
        else:
            cell = under([name, text_block(ticket, columns.cell, DIM_PT, True)])
        cells.append((columns.x(k), cell))
    words = beside(cells)
    return Picture((Band(0, 0, columns.width, words.height + 0.8, False), *(moved(i, 0.0, 0.2) for i in words.items)),
                   columns.width, words.height + 0.8)


def moved_down(picture: Picture, dy: float) -> Picture:
    """The picture with room above it. [mm]"""
    return Picture(tuple(moved(i, 0.0, dy) for i in picture.items), picture.width, picture.height + dy)


def act_row(
    family: Family, readings: Sequence[Reading], unit: Unit, columns: Columns, names: Sequence[str]
) -> Picture:
    """One act: wheel, way and zero at the left, and in each part's column its figures, what they make and its boxes.

    What the parts' notes have in common stands at the left or in the columns, whichever makes the row less tall.
    """
    notes = [row_note(reading) for reading in readings]
    shared, rests = said_by_all(notes)
    in_cells = _act_row(family, readings, unit, columns, names, "", notes)
    if not shared:
        return in_cells
    at_left = _act_row(family, readings, unit, columns, names, shared[:1].upper() + shared[1:], rests)
    return at_left if at_left.height < in_cells.height else in_cells


def _act_row(
    family: Family, readings: Sequence[Reading], unit: Unit, columns: Columns, names: Sequence[str],
    shared: str, notes: Sequence[str],
) -> Picture:
    zeros, rests = beginning([r.zero for r in readings])
    is_beside = all(
        reading.is_dialled and figures_mm(reading) + _boxes_mm(reading, group.copies) <= columns.cell
        for reading, group in zip(readings, family, strict=True)
    )
    cells = [
        _act_cell(reading, group.copies, unit, columns.cell, name, (rest, note), is_beside)
        for reading, group, name, rest, note in zip(readings, family, names, rests, notes, strict=True)
    ]
    return columns.row(_act_label(readings[0], zeros, shared), cells)


def _act_label(first: Reading, zero: str, shared: str) -> Picture:
    """Wheel, arrow, way, which way the crank turns and the zero. [mm]"""
    if not first.is_dialled:
        return under([text_block(first.wheel, LABEL_MM, WORK_PT, True), text_block(shared, LABEL_MM, DIM_PT)])
    words = under([
        text_block(first.wheel, LABEL_MM - ARROW_MM, WORK_PT, True),
        text_block(first.way, LABEL_MM, DIM_PT, True),
        text_block("; ".join(filter(None, (sense_of(first), zero))), LABEL_MM, DIM_PT),
        text_block(shared, LABEL_MM, DIM_PT),
    ], 0.2)
    return Picture((*words.items, *way_arrow(first.way, LABEL_MM - ARROW_MM, 3.9)), LABEL_MM, words.height)


def _boxes_mm(reading: Reading, copies: Sequence[int]) -> float:
    has_limits = reading.makes is not None and reading.makes.working_low_mm is not None
    return len(copies) * (CELL_MM if has_limits else TICK_CELL_MM)


def _act_cell(
    reading: Reading, copies: Sequence[int], unit: Unit, width: float, name: str, told_apart: tuple[str, str], is_beside: bool
) -> Picture:
    """A part's figures, what they make and its boxes: beside the figures, or where there is no room, below. [mm]"""
    boxes_mm = min(_boxes_mm(reading, copies), width)
    has_limits = reading.makes is not None and reading.makes.working_low_mm is not None
    boxes = copies_block(copies, name, has_limits, boxes_mm)
    room = width - boxes_mm - 0.5 if is_beside else width
    said = text_block(reading.text, room, DIM_PT)
    figures = figures_block(reading, room) if reading.is_dialled else said
    zero, note = told_apart
    zero = f"from {zero}" if zero else ""
    fits = text_width_mm(zero, DIM_PT) <= room
    told = text_block(zero, room if fits else width, DIM_PT)
    makes = makes_block(reading.makes, unit, width, note) if reading.makes else text_block(note, width, DIM_PT)
    if is_beside:
        under_it, below = ([figures, told], [makes]) if fits else ([figures], [told, makes])
        return under([beside([(0.0, under(under_it)), (width - boxes_mm, boxes)]), *below], 0.2)
    return under([figures, told, makes, moved_down(boxes, 0.6)], 0.2)


def cuts_rows(
    family: Family, readings: Sequence[Reading], unit: Unit, columns: Columns, names: Sequence[str]
) -> list[Picture]:
    """The cut lists of an act, each part's in its column, in blocks that are not broken."""
    lists = [cuts_blocks(reading, group.copies, unit, columns.cell, name)
             for reading, group, name in zip(readings, family, names, strict=True)]  # fmt: skip
    empty = Picture((), columns.cell, 0.0)
    return [columns.row(Picture((), LABEL_MM, 0.0), blocks) for blocks in zip_longest(*lists, fillvalue=empty)]


def sum_row(
    family: Family, sums: Sequence[Sum], unit: Unit, columns: Columns, says_limits: bool = True
) -> Picture:
    """A sum to fill in, a written column a copy, for each part; the limits unless the row above says them."""
    first = sums[0]
    measured = in_common([asked.measured for asked in sums])
    results = in_common([asked.result for asked in sums])
    result = f"{results or 'as told'}, on the {first.wheel}" if first.wheel else results or "as told"
    said = []
    for asked in sums:
        words = [] if measured else [asked.measured]
        words += [] if results else [f"= {asked.result}"]
        if says_limits and asked.limits_mm is not None:
            words.append(f"to be {limits(*asked.limits_mm, unit)}")
        said.append(text_block("; ".join(words), columns.cell, DIM_PT))
    if columns.cell >= ACROSS_MM and max(len(group.copies) for group in family) <= MOST_ACROSS:
        cells = [
            under([words, sums_rows(asked, group.copies, unit, columns.cell)])
            for words, asked, group in zip(said, sums, family, strict=True)
        ]
        return columns.row(text_block(f"{measured or 'measured'} {taken_word(first)} = {result}", LABEL_MM, DIM_PT, True), cells)
    tall = max(picture.height for picture in said)
    cells = [
        beside([(0.0, words), (0.0, moved_down(column_sums(asked, group.copies, unit, columns.cell), tall))])
        for words, asked, group in zip(said, sums, family, strict=True)
    ]
    return columns.row(moved_down(column_sums_label(measured or "measured", taken_word(first), result, LABEL_MM), tall), cells)


def text_row(texts: Sequence[str], columns: Columns, label: str = "", is_light: bool = False) -> Picture:
    """A text a column."""
    cells = [text_block(text, columns.cell, DIM_PT, False, is_light) for text in texts]
    if not any(cell.height for cell in cells):
        return Picture((), 0.0, 0.0)
    return columns.row(text_block(label, LABEL_MM, DIM_PT, True), cells, False)


def ticks_row(family: Family, columns: Columns, names: Sequence[str]) -> Picture:
    """Boxes alone, for an operation without readings."""
    cells = [copies_block(group.copies, name, False, columns.cell) for group, name in zip(family, names, strict=True)]
    return columns.row(Picture((Text(0.0, 3.9, "done", DIM_PT),), LABEL_MM, 5.0), cells)
