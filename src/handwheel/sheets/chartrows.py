"""A step-off chart as a table in columns: both wheels line by line, the diameter each leaves, and boxes."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.job.records import Unit
from handwheel.readings.records import ChartReading, ChartRow
from handwheel.readings.words import figure, length_text, mixed
from handwheel.sheets.fonts import text_width_mm
from handwheel.sheets.moving import Picture
from handwheel.sheets.paper import DIM_PT, WORK_PT, text_block, under
from handwheel.sheets.primitives import Item, Line, LineType, Text, TickBox

NUMBER_MM, ALONG_MM, IN_MM, LEAVES_MM = 6.0, 20.0, 19.0, 14.0
TICK_MM, TICK_STEP_MM = 3.4, 4.4
MOST_TICKS = 3
"""With more copies the boxes of the whole reading have to do."""
STEP_MM = 4.9
HEAD_MM = 4.4
GAP_MM = 4.0


def chart_block(chart: ChartReading, copies: Sequence[int], unit: Unit, width: float, name: str) -> Picture:
    """The chart with what it starts from and what it leaves. [mm]"""
    opening = [text_block(text, width, WORK_PT if k == 0 else DIM_PT, k == 0) for k, text in enumerate(chart_words(chart, unit))]
    if not chart.rows:
        return under(opening, 0.4)
    ticks = copies if len(copies) <= MOST_TICKS else ()
    column = NUMBER_MM + ALONG_MM + IN_MM + LEAVES_MM + len(ticks) * TICK_STEP_MM + GAP_MM
    across = max(1, int((width + GAP_MM) // column))
    tall = -(-len(chart.rows) // across)
    items: list[Item] = []
    for start in range(0, len(chart.rows), tall):
        x = (start // tall) * column
        items += _head(chart, x)
        for k, row in enumerate(chart.rows[start : start + tall]):
            items += _row(row, chart, ticks, unit, (x, HEAD_MM + k * STEP_MM), name)
        if start:
            items.append(Line(x - GAP_MM / 2, 0.0, x - GAP_MM / 2, HEAD_MM + tall * STEP_MM, LineType.RULE))
    body = Picture((*items, Line(0.0, HEAD_MM, width, HEAD_MM, LineType.EDGE)), width, HEAD_MM + tall * STEP_MM + 1.0)
    return under([*opening, body], 0.4)


def chart_words(chart: ChartReading, unit: Unit) -> tuple[str, ...]:
    """What the chart is of, where its zeros are, what its steps leave."""
    title = f"Step-off chart: {chart.feature}"
    if chart.cannot:
        return title, f"{chart.cannot[:1].upper()}{chart.cannot[1:]}."
    how = "top slide at 0°, carriage locked at the touch" if chart.along_wheel == "top slide" else chart.along_wheel
    return (
        title,
        f"Along: {how}, toward the headstock from zero {chart.zero_along}. In: cross slide, from zero "
        f"{chart.zero_in}. {chart.note[:1].upper()}{chart.note[1:]}.",
        "In this order; each line clears all that lies beyond it toward the smaller diameter. None goes past the curve; "
        f"the steps stand up to {length_text(chart.left_mm, unit)} above "
        "it: blue them and file to the bottom of the steps, no farther.",
    )


def dial_words(turns: int, divisions: float, unit: str) -> str:
    """Turns and divisions of one wheel, short: `2 t 35`."""
    if unit == "turn":
        return f"{mixed(turns + divisions)} t"
    return f"{turns} t {mixed(divisions)}" if turns else mixed(divisions)


def _head(chart: ChartReading, x: float) -> list[Item]:
    wheel = "top slide" if chart.along_wheel == "top slide" else chart.along_wheel
    names = ((NUMBER_MM, wheel), (NUMBER_MM + ALONG_MM, "cross"), (NUMBER_MM + ALONG_MM + IN_MM, "leaves Ø"))
    return [Text(x + at, 3.2, text, DIM_PT, False, "start", True) for at, text in names]


def _row(
    row: ChartRow, chart: ChartReading, copies: Sequence[int], unit: Unit, at: tuple[float, float], name: str
) -> list[Item]:
    x, y = at
    along, inward = dial_words(*row.along, chart.along_unit), dial_words(*row.in_, chart.in_unit)
    items: list[Item] = [Text(x, y + 3.7, f"{row.number}.", DIM_PT, False, "start", True)]
    for text, left in ((along, NUMBER_MM), (inward, NUMBER_MM + ALONG_MM)):
        size = WORK_PT if text_width_mm(text, WORK_PT, True) <= ALONG_MM - 0.6 else DIM_PT
        items.append(Text(x + left, y + 3.7, text, size, True))
    items.append(Text(x + NUMBER_MM + ALONG_MM + IN_MM, y + 3.7, figure(row.leaves_mm, unit), DIM_PT))
    first = x + NUMBER_MM + ALONG_MM + IN_MM + LEAVES_MM
    items += [TickBox(first + k * TICK_STEP_MM, y + 0.8, TICK_MM, f"{name} line {row.number} copy {copy}")
              for k, copy in enumerate(copies)]  # fmt: skip
    return items
