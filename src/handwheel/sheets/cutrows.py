"""A cut list under its reading: small cells in the order of the cuts, each with its line, the diameter left and boxes."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.job.records import Unit
from handwheel.readings.cutlists import AFTER
from handwheel.readings.records import CutRow, Reading
from handwheel.readings.words import figure, mixed
from handwheel.sheets.fonts import text_width_mm
from handwheel.sheets.moving import Picture, moved
from handwheel.sheets.paper import DIM_PT, WORK_PT, text_block, under
from handwheel.sheets.primitives import Item, Line, LineType, Text, TickBox

CELL_MM = 34.0
TALL_MM = 8.9
TICK_MM = 3.4
TICK_STEP_MM = 4.4
MOST_TICKS = 3
"""With more copies the boxes of the whole reading have to do."""
NUMBER_MM = 5.0
BLOCK_MM = 62.0
"""A block of cells is no taller, so that it finds room on a page."""
FLAT_MM, FLAT_TALL_MM, LEAVES_MM = 52.0, 5.0, 18.0
"""A cell alone in its row has line and diameter beside each other where it is so wide."""
SHORT = {"rough": "", "measure": "measure", "last": "last", "spring": "again"}


def cuts_blocks(reading: Reading, copies: Sequence[int], unit: Unit, width: float, name: str) -> list[Picture]:
    """The cuts of a reading in blocks that are not broken; none where it is one cut. [mm]

    A cell: the number, the line to go to from the reading's zero, the diameter that leaves and what to do then, and a box
    a copy.
    """
    if not reading.cuts:
        return []
    shown = copies if len(copies) <= MOST_TICKS else ()
    least = CELL_MM + (max(1, len(shown)) - 1) * TICK_STEP_MM
    across = max(1, int((width + 0.01) // least))
    is_flat = across == 1 and width >= FLAT_MM
    most = across * int(BLOCK_MM / (FLAT_TALL_MM if is_flat else TALL_MM))
    name = name.replace(" act ", " list ")
    title = text_block(f"cuts, from the same zero. {reading.cuts_note}", width, DIM_PT, False, True)
    blocks = [
        _cells(reading.cuts[k : k + most], shown, unit, (width, across, is_flat), name)
        for k in range(0, len(reading.cuts), most)
    ]
    return [under([title, blocks[0]], 0.2), *blocks[1:]]


def _cells(
    rows: Sequence[CutRow], copies: Sequence[int], unit: Unit, room: tuple[float, int, bool], name: str
) -> Picture:
    width, across, is_flat = room
    wide, step = width / across, FLAT_TALL_MM if is_flat else TALL_MM
    items: list[Item] = []
    for k, row in enumerate(rows):
        x, y = (k % across) * wide, (k // across) * step
        items += [moved(item, x, y) for item in _cell(row, copies, unit, (wide - 2.0, is_flat), f"{name} cut {row.number}")]
        if k % across:
            items.append(Line(x - 1.2, y + 0.4, x - 1.2, y + step - 0.6, LineType.RULE))
    return Picture(tuple(items), width, step * -(-len(rows) // across))


def line_words(row: CutRow) -> str:
    """The line to go to: `1 t 37 1/2`, or turns alone."""
    if row.unit == "turn":
        return f"{mixed(row.turns + row.divisions)} t"
    return f"{row.turns} t {mixed(row.divisions)}" if row.turns else mixed(row.divisions)


def cell_words(row: CutRow, unit: Unit) -> str:
    """What the cut leaves, and what to do after it."""
    after = SHORT[row.kind]
    return f"Ø {figure(row.leaves_mm, unit)}" + (f", {after}" if after else "")


def spoken(row: CutRow) -> str:
    """What to do after a cut, in full."""
    return AFTER[row.kind]


def _cell(row: CutRow, copies: Sequence[int], unit: Unit, room: tuple[float, bool], name: str) -> list[Item]:
    width, is_flat = room
    line, is_bold = line_words(row), row.kind in ("measure", "last")
    at = (NUMBER_MM + LEAVES_MM, 3.8) if is_flat else (NUMBER_MM, 7.6)
    items: list[Item] = [
        Text(0.0, 3.6, f"{row.number}.", DIM_PT, False, "start", True),
        Text(NUMBER_MM, 3.8, line, WORK_PT, True),
        Text(*at, cell_words(row, unit), DIM_PT, is_bold),
    ]
    x = width - len(copies) * TICK_STEP_MM
    if not is_flat:
        x = max(x, NUMBER_MM + text_width_mm(line, WORK_PT, True) + 1.0)
    items += [TickBox(x + k * TICK_STEP_MM, 0.7, TICK_MM, f"{name} copy {copy}") for k, copy in enumerate(copies)]
    return items
