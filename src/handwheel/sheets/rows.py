"""One act of the hand as a row, sums with boxes to fill in and their strip: what is read with oily hands."""

from __future__ import annotations

import re
from collections.abc import Sequence

from handwheel.job.records import Unit
from handwheel.plan.records import Makes, Sum
from handwheel.readings.records import Reading, Strip
from handwheel.readings.words import counted, figure, mixed
from handwheel.sheets.fonts import text_width_mm
from handwheel.sheets.moving import Picture, moved
from handwheel.sheets.numbers import both, length, limits
from handwheel.sheets.paper import DIM_PT, READ_PT, WORK_PT, beside, line_mm, text_block, under
from handwheel.sheets.primitives import Box, Item, Line, LineType, Solid, Text, TickBox, arrowhead

WHEEL_MM, WAY_MM, FIGURES_MM, MAKES_MM = 31.5, 27.5, 39.0, 38.5
DIAL_MM = WHEEL_MM + WAY_MM + FIGURES_MM
CELL_MM = 12.3
TICK_CELL_MM = 9.2
MOST_TICKS = 4
BOX_MM = 7.0
MADE_MM = 6.2
TICK_MM = 4.6
SUM_BOX_MM = 12.8
COLUMN_MM = 14.0
COLUMN_TALL_MM = 23.2
STRIP_COLUMNS = 4
SHORT_NOTE_MM = 13.0
"""A note that would be taller than this under its figures goes the whole width of the page instead. [mm]"""
_OTHER_UNIT = re.compile(r" \([0-9.]+ (?:mm|in)\)")
"""A length's other unit in brackets, left out of a row's note, where one unit is enough."""
TO_THE_LEFT = ("toward the headstock",)
TO_THE_RIGHT = ("toward the tailstock",)


def way_arrow(way: str, x: float, y: float) -> list[Item]:
    """A drawn arrow for a way: up for in, down for out, left for the headstock, right for the tailstock."""
    reach = 7.5
    if way in TO_THE_LEFT or way in TO_THE_RIGHT:
        sense = -1.0 if way in TO_THE_LEFT else 1.0
        tip, tail = (x + reach, x) if sense > 0 else (x, x + reach)
        return [Line(tail, y, tip - sense * 3.0, y, LineType.HEAVY), arrowhead(tip, y, sense, 0.0, 3.6, 0.36)]
    if way in ("in", "out"):
        sense = -1.0 if way == "in" else 1.0
        middle, half = x + 3.6, reach / 2
        shaft = Line(middle, y - sense * half, middle, y + sense * (half - 3.0), LineType.HEAVY)
        return [shaft, arrowhead(middle, y + sense * half, 0.0, sense, 3.6, 0.36)]
    return []


def figures_mm(reading: Reading) -> float:
    """Width of the figures on one line. [mm]"""
    return sum(text_width_mm(t, size, bold) + (0.9 if bold else 1.8) for t, size, bold in figure_runs(reading))


def figure_runs(reading: Reading) -> list[tuple[str, float, bool]]:
    """The large figures with their small words, in the order they are dialled."""
    unit = reading.unit
    if unit == "turn":
        return [(mixed(reading.turns + reading.divisions), READ_PT, True),
                (counted(reading.turns + reading.divisions, "turn").split(" ")[-1], WORK_PT, False)]
    runs: list[tuple[str, float, bool]] = []
    if reading.turns:
        runs += [(str(reading.turns), READ_PT, True), ("turn" if reading.turns == 1 else "turns", WORK_PT, False)]
    word = "flat" if unit == "flat" else "div"
    plural = word if unit != "flat" or reading.divisions == 1 else "flats"
    runs += [(mixed(reading.divisions), READ_PT, True), (plural, WORK_PT, False)]
    return runs


def figures_block(reading: Reading, width: float) -> Picture:
    """Whole turns and the final line, large; on two lines where one is too narrow. [mm]"""
    items: list[Item] = []
    x, y, lines = 0.0, 5.6, 1
    for k, (text, size, bold) in enumerate(figure_runs(reading)):
        wide = text_width_mm(text, size, bold)
        ahead = wide + (6.0 if bold else 0.0)
        if k and bold and x + ahead > width:
            x, y, lines = 0.0, y + 7.2, lines + 1
        items.append(Text(x, y, text, size, bold))
        x += wide + (0.9 if bold else 1.8)
    return Picture(tuple(items), width, 7.2 * lines)


def sense_of(reading: Reading) -> str:
    """Which way the crank turns, where the reading says so."""
    for word in ("anticlockwise", "clockwise"):
        if word in reading.text:
            return word
    return ""


def row_note(reading: Reading) -> str:
    """A reading's note in one unit, in few words."""
    return _OTHER_UNIT.sub("", reading.note).replace("The nearest line ", "Nearest line ")


def makes_block(makes: Makes, unit: Unit, width: float, note: str = "", with_gauge: bool = True) -> Picture:
    """What the act makes: the size first, what it is and any note, its working limits, the gauge and its setting. [mm]"""
    first, second = both(makes.value_mm, unit)
    sign = "Ø " if makes.is_diameter else ""
    size = f"{sign}{first}" if makes.is_diameter else f"length {first}"
    taken = text_width_mm(size, WORK_PT, True) + 1.6
    beside_it = text_width_mm(second, DIM_PT) + taken <= width
    head = text_block(size, width, WORK_PT, True)
    parts = [beside([(0.0, head), (taken, text_block(second, width, DIM_PT, False, True))]) if beside_it else head]
    named = makes.phrase if beside_it else f"{makes.phrase} ({second})"
    parts.append(text_block(f"{named}; {note[0].lower()}{note[1:]}" if note else named, width, DIM_PT))
    if makes.working_low_mm is not None and makes.working_high_mm is not None:
        between = limits(makes.working_low_mm, makes.working_high_mm, unit)
        parts.append(text_block(f"cut {between}", width, DIM_PT))
    if with_gauge:
        parts.append(text_block(gauge_text(makes, unit), width, DIM_PT))
    return under(parts)


def gauge_text(makes: Makes, unit: Unit) -> str:
    """The gauge and what to set it to."""
    return f"set the {makes.gauge} to {length(makes.value_mm, unit)}" if makes.gauge else ""


def copies_block(copies: Sequence[int], name: str, with_box: bool, width: float) -> Picture:
    """A tick box for each copy, and under it, where there are limits, a box for the size as made. [mm]"""
    is_long = max(copies, default=0) >= 100
    cell = CELL_MM if with_box else TICK_CELL_MM + (2.4 if is_long else 0.0)
    gap = 1.2 if max(copies, default=0) < 10 else 0.4
    across = max(1, int((width + 0.01) // cell))
    tall = (TICK_MM + MADE_MM + 1.2) if with_box else TICK_MM + 1.2
    items: list[Item] = []
    for k, copy in enumerate(copies):
        x, y = (k % across) * cell, (k // across) * tall
        items.append(TickBox(x, y + 0.2, TICK_MM, f"{name} copy {copy}"))
        items.append(Text(x + TICK_MM + gap, y + 3.7, str(copy), DIM_PT, True))
        if with_box:
            items.append(Box(x, y + TICK_MM + 0.8, CELL_MM - 1.2, MADE_MM, LineType.THIN))
    return Picture(tuple(items), width, tall * -(-len(copies) // across))


def row_head(width: float) -> Picture:
    """What the columns of the readings are."""
    x = 0.0
    items: list[Item] = []
    for text, wide in (("wheel and its zero", WHEEL_MM), ("way", WAY_MM), ("turn to", FIGURES_MM), ("makes", MAKES_MM)):
        items.append(Text(x, 3.2, text, DIM_PT, False, "start", True))
        x += wide
    items.append(Text(width, 3.2, "done; as made", DIM_PT, False, "end", True))
    return Picture((*items, Line(0, 4.4, width, 4.4, LineType.EDGE)), width, 4.8)


def _way(reading: Reading) -> Picture:
    """The arrow, the word and which way the crank turns."""
    words = under([
        text_block(reading.way, WAY_MM - 8.4, DIM_PT, True),
        text_block(sense_of(reading), WAY_MM - 8.4, DIM_PT),
    ])
    return beside([(0.0, Picture(tuple(way_arrow(reading.way, 0.0, 4.4)), 7.8, 8.6)), (8.2, words)])


def reading_row(reading: Reading, copies: Sequence[int], unit: Unit, width: float, name: str) -> Picture:
    """Wheel and zero, way and figures, what it makes and any note, boxes. [mm]"""
    has_limits = reading.makes is not None and reading.makes.working_low_mm is not None
    most = max(1, int((width - DIAL_MM - MAKES_MM) // CELL_MM))
    boxes_mm = min(len(copies), most) * CELL_MM if has_limits else min(len(copies), MOST_TICKS) * TICK_CELL_MM
    makes_mm = width - DIAL_MM - boxes_mm - 1.5
    wheel = under([
        text_block(reading.wheel, WHEEL_MM - 3.0, WORK_PT, True),
        text_block(reading.zero, WHEEL_MM - 3.0, DIM_PT),
    ])
    note = row_note(reading)
    own = "" if has_limits else note
    said = text_block(own, makes_mm, DIM_PT)
    makes = [makes_block(reading.makes, unit, makes_mm, own, not has_limits) if reading.makes else said]
    if reading.is_dialled:
        dial = [beside([(0.0, _way(reading)), (WAY_MM, figures_block(reading, FIGURES_MM - 0.8))])]
    else:
        dial = [text_block(reading.text, WAY_MM + FIGURES_MM - 3.0, DIM_PT)]
    below = Picture((), 0.0, 0.0)
    if has_limits:
        gauge = gauge_text(reading.makes, unit) if reading.makes else ""
        told = f"{note.rstrip('.')}; {gauge}" if note and gauge else note or gauge
        beneath = text_block(told[:1].upper() + told[1:], WAY_MM + FIGURES_MM - 2.0, DIM_PT)
        if beneath.height > SHORT_NOTE_MM:
            below, beneath = text_block(told[:1].upper() + told[1:], width, DIM_PT), Picture((), 0.0, 0.0)
        dial.append(beneath)
    cells = [(0.0, wheel), (WHEEL_MM, under(dial, 0.4)), (DIAL_MM, under(makes))]
    cells.append((width - boxes_mm, copies_block(copies, name, has_limits, boxes_mm)))
    whole = under([beside(cells), below], 0.4)
    rule = Line(0.0, whole.height + 0.9, width, whole.height + 0.9, LineType.RULE)
    return Picture((*(moved(i, 0.0, 0.3) for i in whole.items), rule), width, whole.height + 1.3)


def caution_sign(x: float, y: float) -> list[Item]:
    """A filled warning triangle, base on y. [mm]"""
    return [Solid(((x, y), (x + 4.4, y), (x + 2.2, y - 3.9)))]


def caution_block(text: str, width: float) -> Picture:
    """One caution with its sign. [mm]"""
    words = text_block(text, width - 7.0, DIM_PT, True)
    return Picture((*caution_sign(0.0, 3.9), *(moved(i, 6.0, 0.0) for i in words.items)), width, max(words.height, 4.4))


def taken_away(asked: Sum, unit: Unit) -> str:
    """`− 0.1873 =`; `+ 0.018 =` where the amount is added."""
    return f"{'+' if asked.wanted_mm < 0.0 else '−'} {figure(abs(asked.wanted_mm), unit)} ="


def taken_word(asked: Sum) -> str:
    """What is taken away, without its figure: `− wanted`, `− the size above`, `+`."""
    if asked.carried:
        return "− size above"
    return "+" if asked.wanted_mm < 0.0 else "− wanted" if asked.wheel else "−"


def sum_said(asked: Sum, unit: Unit) -> str:
    """The sum in words."""
    amount = "" if asked.carried else f" {length(abs(asked.wanted_mm), unit)}"
    said = f"{asked.measured} {taken_word(asked)}{amount} = {asked.result}"
    if asked.wheel:
        said += f", on the {asked.wheel}"
    return said if asked.limits_mm is None else f"{said}; to be {limits(*asked.limits_mm, unit)}"


def sums_rows(asked: Sum, copies: Sequence[int], unit: Unit, width: float) -> Picture:
    """The sum drawn as a sum, once a copy, as many beside each other as there is room for. [mm]"""
    wanted = taken_away(asked, unit)
    middle = text_width_mm(wanted, WORK_PT) + 2.4
    if asked.carried:
        middle = text_width_mm("−", WORK_PT) + text_width_mm("=", WORK_PT) + SUM_BOX_MM + 4.8
    wide = 4.4 + 2 * SUM_BOX_MM + middle
    gap = 5.0
    across = max(1, int((width + gap + 0.01) // (wide + gap)))
    items: list[Item] = []
    for k, copy in enumerate(copies):
        x, y = (k % across) * (wide + gap), (k // across) * 8.2
        items.append(Text(x + 3.2, y + 5.0, str(copy), WORK_PT, True, "end"))
        items.append(Box(x + 4.4, y + 0.2, SUM_BOX_MM, BOX_MM, LineType.EDGE))
        if asked.carried:
            box = x + 5.6 + SUM_BOX_MM + text_width_mm("−", WORK_PT) + 1.2
            items.append(Text(x + 5.6 + SUM_BOX_MM, y + 5.0, "−", WORK_PT))
            items.append(Box(box, y + 0.2, SUM_BOX_MM, BOX_MM, LineType.EDGE))
            items.append(Text(box + SUM_BOX_MM + 1.2, y + 5.0, "=", WORK_PT))
        else:
            items.append(Text(x + 5.6 + SUM_BOX_MM, y + 5.0, wanted, WORK_PT))
        items.append(Box(x + 4.4 + SUM_BOX_MM + middle, y + 0.2, SUM_BOX_MM, BOX_MM, LineType.EDGE))
    return Picture(tuple(items), width, 8.2 * -(-len(copies) // across))


def column_sums(asked: Sum, copies: Sequence[int], unit: Unit, width: float) -> Picture:
    """The sum in written columns, one a copy: its number, measured, wanted, and the box for the result. [mm]"""
    wanted = "as above" if asked.carried else figure(abs(asked.wanted_mm), unit)
    across = max(1, int((width + 0.01) // COLUMN_MM))
    items: list[Item] = []
    for k, copy in enumerate(copies):
        x, y = (k % across) * COLUMN_MM, (k // across) * COLUMN_TALL_MM
        middle = x + SUM_BOX_MM / 2
        items.append(Text(middle, y + 3.2, str(copy), DIM_PT, True, "middle"))
        items.append(Box(x, y + 4.2, SUM_BOX_MM, BOX_MM, LineType.EDGE))
        items.append(Text(middle, y + 14.9, wanted, DIM_PT, False, "middle"))
        items.append(Box(x, y + 16.1, SUM_BOX_MM, BOX_MM, LineType.EDGE))
    return Picture(tuple(items), width, COLUMN_TALL_MM * -(-len(copies) // across))


def column_sums_label(measured: str, middle: str, result: str, width: float) -> Picture:
    """What stands in the rows of the written columns. [mm]"""
    last = text_block(f"= {result}", width, DIM_PT, True)
    low = 16.1 + max(0.0, (BOX_MM - last.height) / 2)
    first = text_block(measured, width, DIM_PT, True)
    high = max(0.0, 4.2 + (BOX_MM - first.height) / 2)
    items = [*(moved(i, 0.0, high) for i in first.items), Text(0.0, 14.9, middle, DIM_PT)]
    items += [moved(i, 0.0, low) for i in last.items]
    return Picture(tuple(items), width, max(COLUMN_TALL_MM, low + last.height))


def sum_block(asked: Sum, copies: Sequence[int], unit: Unit, width: float) -> Picture:
    """What the sum is of, and the sum once a copy. [mm]"""
    return under([text_block(sum_said(asked, unit), width, WORK_PT), sums_rows(asked, copies, unit, width)], 0.6)


def strip_title(strip: Strip) -> str:
    """What a strip is for."""
    side = "off each side" if strip.per_side else "off the measured size"
    return f"What to take {side}, on the {strip.wheel}; add the rows up:"


def strip_block(strip: Strip | None, width: float) -> Picture:
    """Amounts and what each is on the wheel, in four columns between two rules. [mm]"""
    if strip is None or not strip.rows:
        return Picture((), 0.0, 0.0)
    title = text_block(strip_title(strip), width, DIM_PT, True)
    columns, step = STRIP_COLUMNS, line_mm(DIM_PT) + 0.3
    tall = -(-len(strip.rows) // columns)
    wide = width / columns
    items: list[Item] = []
    for k, row in enumerate(strip.rows):
        x, y = (k // tall) * wide, (k % tall) * step
        items.append(Text(x, y + 3.0, row.amount_text, DIM_PT, True))
        items.append(Text(x + 15.5, y + 3.0, _shortened(row.wheel_text), DIM_PT))
    body = Picture((*items, Line(0.0, tall * step + 0.6, width, tall * step + 0.6, LineType.EDGE)), width, tall * step + 1.0)
    return under([title, body], 0.4)


def _shortened(wheel_text: str) -> str:
    """'1 turn and 50 divisions' as on the rows: '1 turn 50 div'."""
    return wheel_text.replace(" and ", " ").replace("divisions", "div").replace("division", "div")
