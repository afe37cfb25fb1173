"""The inspection report: every drawn size with its limits, how it is measured, and an empty box a copy."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.drawing.records import Drawing
from handwheel.job.records import Measure, Unit
from handwheel.plan.records import Plan
from handwheel.readings.words import trimmed
from handwheel.sheets.moving import Picture, moved
from handwheel.sheets.numbers import limits, measure_text
from handwheel.sheets.paper import DIM_PT, FRAME_PT, WORK_PT, Composer, text_block
from handwheel.sheets.primitives import Box, Item, Line, LineType, Text
from handwheel.sheets.rows import caution_block
from handwheel.sheets.whole.measuring import Line as Sized
from handwheel.sheets.whole.measuring import assembly_lines, part_lines
from handwheel.sheets.whole.pressure import pressure_text, pressure_words
from handwheel.workshop.records import Workshop

PHRASE_MM, LIMITS_MM, GAUGE_MM = 42.0, 34.0, 40.0
BOX_MM, TALL_MM = 13.5, 6.4
MUCH = 10.0
"""A gauge whose error goes into half the limits more often is fine enough: no ratio is printed. Common practice, no source."""
OPENING = (
    "Each drawn size, as made. Limits are the drawing's; where none are given the size is exact or has its own rule. "
    "What follows from others is not measured itself. (1:4): half the limits are four times the gauge's error."
)


def put_report(paper: Composer, drawing: Drawing, plan: Plan, shop: Workshop) -> None:
    """A table a part, then one an assembly."""
    plans = {p.part: p for p in plan.parts}
    blocks = [(p.name, p.quantity, part_lines(p, plans.get(p.name), shop)) for p in drawing.parts]
    blocks += list(assembly_lines(drawing, plan, shop))
    blocks = [b for b in blocks if b[2]]
    if not blocks:
        return
    unit = drawing.job.units
    paper.begin("Inspection report", 60.0)
    paper.heading("Inspection report", 30.0)
    paper.put(text_block(OPENING, paper.width, DIM_PT), 2.0)
    caution = pressure_text(pressure_words(drawing), [p.name for p in drawing.parts])
    if caution:
        paper.put(caution_block(caution, paper.width), 2.0)
    for name, copies, lines in blocks:
        _put_block(paper, name, copies, lines, unit)


def _put_block(paper: Composer, name: str, copies: int, lines: Sequence[Sized], unit: Unit) -> None:
    across = max(1, int((paper.width - PHRASE_MM - LIMITS_MM - GAUGE_MM) // BOX_MM))
    head = _head(name, copies, copies if copies <= across and any(line.is_direct for line in lines) else 0, paper.width)
    rows = [_row(line, copies, across, unit, paper.width) for line in lines]
    if head.height + rows[0].height > paper.room():
        paper.start(paper.subject)
    paper.running = None
    paper.put(head, 0.6)
    paper.running = head
    for row in rows:
        paper.put(row, 0.0)
    paper.running = None
    paper.y += 3.0


def _head(name: str, copies: int, across: int, width: float) -> Picture:
    """The part's name, what the columns are, and the copies' numbers over their boxes where they all stand there."""
    title = text_block(f"{name}, {copies} off", PHRASE_MM + LIMITS_MM, WORK_PT, True)
    items: list[Item] = [*title.items]
    for label, x in (("limits, or as drawn", PHRASE_MM), ("measured with", PHRASE_MM + LIMITS_MM)):
        items.append(Text(x, title.height + 3.4, label, DIM_PT, True))
    for k in range(across):
        left = width - (across - k) * BOX_MM
        items.append(Text(left + BOX_MM / 2, title.height + 3.4, str(k + 1), DIM_PT, True, "middle"))
    tall = title.height + 5.0
    items.append(Line(0.0, tall, width, tall, LineType.RULE))
    return Picture(tuple(items), width, tall)


def _row(line: Sized, copies: int, across: int, unit: Unit, width: float) -> Picture:
    phrase = text_block(line.phrase, PHRASE_MM - 2.0, DIM_PT)
    drawn = text_block(limits_said(line, unit), LIMITS_MM - 2.0, DIM_PT, line.is_direct)
    how = text_block(how_said(line), GAUGE_MM - 2.0 if line.is_direct else width - PHRASE_MM - LIMITS_MM, DIM_PT)
    items: list[Item] = [*phrase.items, *(moved(i, PHRASE_MM, 0.0) for i in drawn.items),
                         *(moved(i, PHRASE_MM + LIMITS_MM, 0.0) for i in how.items)]  # fmt: skip
    tall = max(phrase.height, drawn.height, how.height)
    if line.is_direct and copies <= across:
        items += _boxes(copies, across, width, False)
        tall = max(tall, TALL_MM + 0.6)
    elif line.is_direct:
        across = int(width // BOX_MM)
        items += [moved(i, 0.0, tall + 0.6) for i in _boxes(copies, across, width, True)]
        tall += 0.6 + -(-copies // across) * (TALL_MM + 0.6)
    items.append(Line(0.0, tall + 0.5, width, tall + 0.5, LineType.RULE))
    return Picture(tuple(moved(i, 0.0, 0.5) for i in items), width, tall + 1.2)


def _boxes(copies: int, across: int, width: float, is_numbered: bool) -> list[Item]:
    """A box a copy, with its number inside where no head says it."""
    items: list[Item] = []
    left = width - min(across, copies) * BOX_MM if not is_numbered else 0.0
    for k in range(copies):
        x, y = left + k % across * BOX_MM, (k // across) * (TALL_MM + 0.6)
        items.append(Box(x + 0.4, y, BOX_MM - 0.8, TALL_MM, LineType.THIN, 0.4))
        if is_numbered:
            items.append(Text(x + 1.2, y + 3.2, str(k + 1), FRAME_PT, False, "start", True))
    return items


def limits_said(line: Sized, unit: Unit) -> str:
    """The limits; of what has none, what is drawn."""
    if line.low is None or line.high is None:
        return line.drawn or measure_text(line.value, line.measure, unit)
    if line.measure is Measure.LENGTH:
        sign = "Ø " if line.phrase.endswith("diameter") else ""
        return f"{sign}{limits(line.low, line.high, unit)}"
    if line.measure is Measure.ANGLE:
        return f"{trimmed(line.low, 3)}° to {trimmed(line.high, 3)}°"
    return f"{measure_text(line.high, line.measure, unit)} to {measure_text(line.low, line.measure, unit).removeprefix('taper ')}"


def how_said(line: Sized) -> str:
    """The gauge; or what it follows from."""
    if line.is_direct:
        told = "" if line.ratio is None or line.ratio > MUCH else f" (1:{trimmed(line.ratio, 1)})"
        return f"{line.gauge}{told}" if line.gauge else "no gauge here reaches it: its mate"
    if line.follows:
        return f"not directly: follows from {', '.join(line.follows)}"
    return "not directly: by the set-up that made it"

