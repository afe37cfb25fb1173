"""The sheet of sizes as made: for every set of copies what was measured, what to work to now, and the ways on."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.drawing.asmaderecords import AsMadeOutcome
from handwheel.drawing.records import Drawing
from handwheel.job.records import Unit
from handwheel.readings.copies import CopyReading, CopyReadings
from handwheel.readings.records import Reading
from handwheel.readings.words import figure, turns_text
from handwheel.sheets.asmadetext import told
from handwheel.sheets.copyrows import void_text
from handwheel.sheets.moving import Picture
from handwheel.sheets.numbers import length, limits
from handwheel.sheets.paper import DIM_PT, WORK_PT, Composer, table, text_block
from handwheel.sheets.rows import caution_block, taken_word

COLUMNS = (0.34, 0.14, 0.14, 0.38)
WHEELS = (0.26, 0.19, 0.19, 0.36)
ROUTE = (
    "The set-up pages give these copies rows of their own, with the copy's name in reverse, where a reading is another than "
    "the drawing's. Where a part has none, set and measure. Another size measured is written with "
    "handwheel change JOB --made \"PART COPY\" \"PHRASE: VALUE\"; then make the sheets again."
)


def put_as_made(paper: Composer, drawing: Drawing, copies: Sequence[Sequence[CopyReadings]]) -> None:
    """The page, where the job has sizes as made; nothing else. `copies`: readings that change, a set each."""
    if not drawing.as_made:
        return
    paper.start("As made")
    paper.put(caution_block(void_text(drawing.as_made), paper.width), 1.6)
    paper.put(text_block(ROUTE, paper.width, DIM_PT), 3.0)
    changed = copies or [()] * len(drawing.as_made)
    for outcome, readings in zip(drawing.as_made, changed, strict=True):
        _put_set(paper, outcome, readings, drawing.job.units)


def _put_set(paper: Composer, outcome: AsMadeOutcome, changed: Sequence[CopyReadings], unit: Unit) -> None:
    words = told(outcome, unit)
    paper.heading(words.title, 24.0)
    _put_rows(paper, "measured", words.measured)
    _put_rows(paper, "work to now", words.moved)
    for text, ways in words.out:
        paper.put(caution_block(text, paper.width), 1.0)
        for way in ways:
            paper.put(text_block(way, paper.width - 8.0, DIM_PT), 0.8, 8.0)
    rows: list[tuple[str, ...]] = [("at the wheels", "now", "in place of", "makes")]
    rows += [(f"{p.part} {t.operation}, {t.kind}: tool", t.now, t.was, "") for p in changed for t in p.tools]
    rows += [_reading_row(one, unit) for part in changed for one in part.readings]
    rows += [(f"{p.part} {s.operation}, {s.kind}: {s.now.measured} {taken_word(s.now)}",
              *(figure(abs(x.wanted_mm), unit) for x in (s.now, s.was)), s.now.result)
             for p in changed for s in p.sums]  # fmt: skip
    if len(rows) > 1:
        _put_rows(paper, "at the wheels", tuple(rows), WHEELS)
    remarks = [f"{part.part}: {part.cannot}." for part in changed if part.cannot]
    for remark in [*remarks, *words.remarks]:
        paper.put(text_block(remark, paper.width, DIM_PT), 1.0)
    paper.put(Picture((), paper.width, 2.0), 2.0)


def _reading_row(one: CopyReading, unit: Unit) -> tuple[str, ...]:
    now = one.now
    makes = ""
    if now.makes is not None:
        sign = "Ø " if now.makes.is_diameter else ""
        makes = f"{now.makes.phrase} {sign}{length(now.makes.value_mm, unit)}"
        if now.makes.working_low_mm is not None and now.makes.working_high_mm is not None:
            makes += f", cut {limits(now.makes.working_low_mm, now.makes.working_high_mm, unit)}"
    return (f"{now.part} {now.operation}, {one.kind}: {now.wheel} {now.way}", figures(now), figures(one.was), makes)


def figures(reading: Reading) -> str:
    """The turns and divisions, or that it is measured."""
    return turns_text(reading.turns, reading.divisions, reading.unit) if reading.is_dialled else "measured"


def _put_rows(
    paper: Composer, title: str, rows: tuple[tuple[str, ...], ...], shares: Sequence[float] = COLUMNS
) -> None:
    """A row at a time, so that a long table goes on overleaf."""
    if not rows:
        return
    widths = [paper.width * share for share in shares]
    head = table([(title, *rows[0][1:])], widths, True, DIM_PT)
    first = table([rows[1]], widths, False, DIM_PT)
    if head.height + first.height + 2.0 > paper.room():
        paper.start(paper.subject)
    paper.put(head, 0.4)
    for row in rows[1:]:
        paper.put(table([row], widths, False, DIM_PT), 0.4)
    paper.put(text_block("", paper.width, WORK_PT), 1.6)
