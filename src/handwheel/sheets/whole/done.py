"""What is done and what is left: a box for every copy of every part in every set-up it comes up in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from handwheel.sheets.moving import Picture, moved
from handwheel.sheets.paper import DIM_PT, WORK_PT, Composer, text_block
from handwheel.sheets.primitives import Item, Line, LineType, Text, TickBox
from handwheel.sheets.setups import Run

NAME_MM, BOX_MM, STEP_MM, LEAST_CELL_MM = 34.0, 4.4, 5.6, 14.0


@dataclass(frozen=True, slots=True)
class Due:
    """A part in a set-up, `place` counted from 1 in the running order, with the copies that go through it."""

    place: int
    key: str
    part: str
    copies: tuple[int, ...]

    def name(self, copy: int) -> str:
        """What its box is known by on every sheet."""
        return f"{self.part} copy {copy} through set-up {self.place} {self.key}"


def due_of(runs: Sequence[Run]) -> tuple[Due, ...]:
    """Everything to be done, set-up by set-up."""
    found = []
    for k, run in enumerate(runs, 1):
        copies: dict[str, set[int]] = {}
        for group in run.groups:
            copies.setdefault(group.part, set()).update(group.copies)
        found += [Due(k, run.set_up.key, part, tuple(sorted(numbers))) for part, numbers in copies.items()]
    return tuple(found)


def put_done(paper: Composer, runs: Sequence[Run]) -> None:
    """Parts down, set-ups across, a box a copy; as many tables as the set-ups want."""
    due = due_of(runs)
    if not due:
        return
    parts = list(dict.fromkeys(d.part for d in due))
    columns = int((paper.width - NAME_MM) // LEAST_CELL_MM)
    tables = [range(first, min(first + columns, len(runs))) for first in range(0, len(runs), columns)]
    paper.begin("Done and left", 50.0)
    paper.heading("Done and left", 30.0)
    for span in tables:
        cell = (paper.width - NAME_MM) / len(span)
        paper.running = None
        paper.put(_head(runs, span, cell, paper.width), 0.6)
        for part in parts:
            row = [next((d for d in due if d.part == part and d.place == k + 1), None) for k in span]
            if any(row):
                paper.put(_row(part, row, cell, paper.width), 0.0)
        paper.y += 3.0


def _head(runs: Sequence[Run], span: Sequence[int], cell: float, width: float) -> Picture:
    items: list[Item] = [Text(NAME_MM + j * cell, 3.6, runs[k].set_up.key, WORK_PT, True) for j, k in enumerate(span)]
    return Picture((*items, Line(0.0, 5.2, width, 5.2, LineType.RULE)), width, 5.4)


def _row(part: str, row: Sequence[Due | None], cell: float, width: float) -> Picture:
    """A part's boxes, each with its copy's number beside it where there are several."""
    name = text_block(part, NAME_MM - 2.0, DIM_PT, True)
    items: list[Item] = [*name.items]
    tall = name.height
    step = STEP_MM + (3.0 if max((c for due in row if due for c in due.copies), default=0) < 10 else 4.8)
    across = max(1, int((cell - 1.0) // step))
    for j, due in enumerate(row):
        for k, copy in enumerate(due.copies if due else ()):
            x, y = NAME_MM + j * cell + (k % across) * step, (k // across) * STEP_MM
            items.append(TickBox(x, y, BOX_MM, due.name(copy) if due else ""))
            items.append(Text(x + BOX_MM + 0.8, y + 3.4, str(copy), DIM_PT))
            tall = max(tall, y + BOX_MM)
    items.append(Line(0.0, tall + 0.7, width, tall + 0.7, LineType.RULE))
    return Picture(tuple(moved(i, 0.0, 0.7) for i in items), width, tall + 1.4)


def done_html(runs: Sequence[Run]) -> str:
    """The same boxes for a narrow screen, with a count of what is done."""
    due = due_of(runs)
    if not due:
        return ""
    rows = []
    for k, run in enumerate(runs, 1):
        mine = [d for d in due if d.place == k]
        ticks = "".join(
            f"<p><b>{escape(d.part)}</b></p><p class=\"ticks\">"
            + "".join(f'<label><input type="checkbox" data-tick="{escape(d.name(c))}"> {c}</label>' for c in d.copies) + "</p>"
            for d in mine)  # fmt: skip
        rows.append(f'<h4><a href="#set-up-{k}">{escape(run.set_up.key)} {escape(run.set_up.title)}</a></h4>{ticks}')
    head = "<summary><h2>Done and left <small data-count></small></h2></summary>"
    return f'<section class="acts" id="done"><details>{head}{"".join(rows)}</details></section>'
