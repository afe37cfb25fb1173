"""Delicate set-ups on their page: what to do with its pictures, told once a set-up, then each part's figures and passes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from handwheel.setups.of import procedure_of
from handwheel.setups.records import Figure, Pass, Procedure, Sketch, Step
from handwheel.sheets.columns import LABEL_MM, Columns
from handwheel.sheets.families import MOST_SIDE_BY_SIDE, Family
from handwheel.sheets.family import FamilyBlocks
from handwheel.sheets.fonts import text_width_mm
from handwheel.sheets.moving import Picture
from handwheel.sheets.paper import DIM_PT, WORK_PT, beside, text_block, under
from handwheel.sheets.primitives import TickBox
from handwheel.sheets.shop import Shop
from handwheel.sheets.sketches.draw import sketch_picture
from handwheel.sheets.sketches.pen import RING_MM, ring

GAP_MM = 5.0
NUMBER_MM = 5.0
STEP_GAP_MM, LOWER_MM = 0.6, 5.0
"""Between steps; by how much the steps beside a picture may be taller than it."""
TICK_MM, TICK_STEP_MM = 3.2, 4.4
TICKS_SHARE = 0.45
PICTURE_MM, PICTURE_TALL_MM = 46.0, 20.0
ONE_COLUMN = 2
"""As many pictures stand one under another; more of them in two columns."""


@dataclass(frozen=True, slots=True)
class Made:
    """The set-up of one part's stage: whose it is, the copies, and the procedure."""

    part: str
    number: int
    features: str
    copies: tuple[int, ...]
    procedure: Procedure


def procedure_blocks(
    family: Family, shop: Shop, width: float, told: dict[str, str], key: str, running: Picture
) -> list[FamilyBlocks]:
    """The set-ups of these parts: the steps, or where they stand already, then row by row their figures.

    told: by subject, the set-up in which the steps stand already, added to. key: this set-up. running: heads a further page.
    width: [mm]
    """
    by_subject: dict[str, list[Made]] = {}
    for group in family:
        for stage in group.stages:
            operation = stage.operation
            if (operation.part, operation.number) not in shop.can_be_read:
                continue
            found = procedure_of(stage, shop.workshop)
            if found is not None:
                features = ", ".join(operation.why.features)
                one = Made(operation.part, operation.number, features, group.copies, found)
                by_subject.setdefault(found.subject, []).append(one)
    blocks: list[FamilyBlocks] = []
    for subject, made in by_subject.items():
        if told.get(subject, key) != key:
            said = f"{subject[:1].upper()}{subject[1:]}: set as told at set-up {told[subject]}, with the same letters"
            blocks.append(FamilyBlocks(running, (text_block(said, width, WORK_PT, True),)))
        elif subject not in told:
            told[subject] = key
            blocks.append(FamilyBlocks(running, tuple(_told(subject, made, width))))
        blocks += [_figures(made[k : k + MOST_SIDE_BY_SIDE], width, running) for k in range(0, len(made), MOST_SIDE_BY_SIDE)]
    return blocks


def _told(subject: str, made: Sequence[Made], width: float) -> list[Picture]:
    """The steps in their order, and beside them the pictures that are alike for all the parts, in blocks not broken."""
    first = made[0].procedure
    head = text_block(f"{subject[:1].upper()}{subject[1:]}: how it is set, in this order", width, WORK_PT, True)
    shown = [_captioned(sketch, first.steps, len(made) == 1) for sketch in first.sketches if not sketch.is_own or len(made) == 1]
    across = 1 if len(shown) <= ONE_COLUMN else 2
    room = width - across * (PICTURE_MM + 3.0)
    steps, done, blocks = numbered(first.steps, room), 0, []
    for k in range(0, len(shown), across):
        row = shown[k : k + across]
        begun, tall = done, max(picture.height for picture in row)
        while done < len(steps) and under(steps[begun : done + 1], STEP_GAP_MM).height <= tall + LOWER_MM:
            done += 1
        beside_it = [(room + 3.0 + i * (PICTURE_MM + 3.0), picture) for i, picture in enumerate(row)]
        blocks.append(beside([(0.0, under(steps[begun:done], STEP_GAP_MM)), *beside_it]))
    half = (width - GAP_MM) / 2
    rest = numbered(first.steps, half)[done:]
    blocks += [two_columns(rest, half)] if rest else []
    return [under([head, *blocks[:1]], 0.8), *blocks[1:]]


def _captioned(sketch: Sketch, steps: Sequence[Step], says_figures: bool) -> Picture:
    """A picture under the number and the head of its step."""
    return under([text_block(_step_of(sketch, steps), PICTURE_MM, DIM_PT, True),
                  sketch_picture(sketch, PICTURE_MM, PICTURE_TALL_MM, says_figures)], 0.8)  # fmt: skip


def _step_of(sketch: Sketch, steps: Sequence[Step]) -> str:
    number = next((k for k, step in enumerate(steps, 1) if step.head == sketch.step), None)
    return f"{number}  {sketch.step}" if number else sketch.step


def numbered(steps: Sequence[Step], width: float) -> list[Picture]:
    """Each step: its number, what it is about, and what to do."""
    return [
        beside([(0.0, text_block(str(k), NUMBER_MM, DIM_PT, True)), (NUMBER_MM, headed(step.head, step.text, width - NUMBER_MM))])
        for k, step in enumerate(steps, 1)
    ]


def headed(head: str, text: str, width: float) -> Picture:
    """A paragraph that begins with its head in bold. [mm]"""
    taken = text_width_mm(head, DIM_PT, True) + 2.2
    told = text.split()
    fits = 0
    while fits < len(told) and text_width_mm(" ".join(told[: fits + 1]), DIM_PT) <= width - taken:
        fits += 1
    first = beside([(0.0, text_block(head, width, DIM_PT, True)), (taken, text_block(" ".join(told[:fits]), width, DIM_PT))])
    return under([first, text_block(" ".join(told[fits:]), width, DIM_PT)])


def _figures(made: Sequence[Made], width: float, running: Picture) -> FamilyBlocks:
    """A column a part: its own pictures, its figures, a row each, and its passes with a box to tick for each copy."""
    columns = Columns(width, len(made))
    names = [text_block(f"{one.part}: {one.features}", columns.cell, DIM_PT, True) for one in made]
    opening = columns.row(text_block("figures to set by", LABEL_MM, DIM_PT, True), names)
    rows: list[Picture] = []
    keys = _keys(made[0].procedure)
    if len(made) == 1:
        rows.append(_pairs(made[0].procedure.figures, keys, width))
    else:
        rows += _own_pictures(made, columns)
        for head in dict.fromkeys(figure.head for one in made for figure in one.procedure.figures):
            values = [next((f.value for f in one.procedure.figures if f.head == head), "") for one in made]
            cells = [text_block(value, columns.cell, DIM_PT) for value in values]
            rows.append(columns.row(_keyed(head, keys.get(head, "")), cells))
    rows[:1] = [under([opening, *rows[:1]])]
    if any(one.procedure.passes for one in made):
        label = text_block(f"passes, counted from: {made[0].procedure.zero}", LABEL_MM, DIM_PT)
        cells = [under([_pass(p, one, columns.cell) for p in one.procedure.passes], 0.3) for one in made]
        rows.append(columns.row(label, cells))
    return FamilyBlocks(under([running, opening], 1.0), tuple(rows), 0.0)


def _own_pictures(made: Sequence[Made], columns: Columns) -> list[Picture]:
    """The pictures that are each part's own, over its figures."""
    found = []
    for sketch in (s for s in made[0].procedure.sketches if s.is_own):
        own = [next((s for s in one.procedure.sketches if s.name == sketch.name), None) for one in made]
        cells = [
            Picture((), columns.cell, 0.0) if s is None else sketch_picture(s, columns.cell, PICTURE_TALL_MM, False) for s in own
        ]
        found.append(columns.row(text_block(_step_of(sketch, made[0].procedure.steps), LABEL_MM, DIM_PT, True), cells))
    return found


def _keys(procedure: Procedure) -> dict[str, str]:
    """The letters of each figure in the pictures, by its head."""
    found: dict[str, str] = {}
    for sketch in procedure.sketches:
        for letter, head in sketch.keys.items():
            found[head] = found.get(head, "") + ("" if letter in found.get(head, "") else letter)
    return found


def _keyed(head: str, letters: str) -> Picture:
    """The name of a figure behind its letters."""
    step = 2 * RING_MM + 0.5
    rings = [item for k, letter in enumerate(letters) for item in ring(RING_MM + k * step, RING_MM, letter)]
    x = len(letters) * step + (0.6 if letters else 0.0)
    words = text_block(head, LABEL_MM - x, DIM_PT)
    return beside([(0.0, Picture(tuple(rings), x, 2 * RING_MM + 0.2 if letters else 0.0)), (x, words)])


def _pairs(figures: Sequence[Figure], keys: dict[str, str], width: float) -> Picture:
    """One part's figures, a head and a value each, down two columns of about one height."""
    half = (width - GAP_MM) / 2
    columns = Columns(half, 1)
    cells = [
        columns.row(_keyed(one.head, keys.get(one.head, "")), [text_block(one.value, columns.cell, DIM_PT)]) for one in figures
    ]
    return two_columns(cells, half, 0.0)


def two_columns(cells: Sequence[Picture], half: float, gap: float = STEP_GAP_MM) -> Picture:
    """Blocks down two columns of about one height, in their order."""
    heights = [cell.height for cell in cells]
    at = min(range(len(cells) + 1), key=lambda k: (max(sum(heights[:k]), sum(heights[k:])), -k))
    return beside([(0.0, under(cells[:at], gap)), (half + GAP_MM, under(cells[at:], gap))])


def pass_name(part: str, number: int, which: int) -> str:
    """What tells a pass's boxes from all others, but for the copy."""
    return f"{part} {number} pass {which}"


def _pass(one: Pass, made: Made, width: float) -> Picture:
    """A pass with a box for each copy at its end."""
    across = max(1, min(len(made.copies), int(TICKS_SHARE * width // TICK_STEP_MM)))
    name = pass_name(made.part, made.number, one.number)
    boxes = tuple(
        TickBox((k % across) * TICK_STEP_MM, 0.3 + (k // across) * TICK_STEP_MM, TICK_MM, f"{name} copy {copy}")
        for k, copy in enumerate(made.copies)
    )
    room = across * TICK_STEP_MM
    ticks = Picture(boxes, room, TICK_MM + 0.4 + ((len(boxes) - 1) // across) * TICK_STEP_MM)
    text = ": ".join(filter(None, (one.reading, one.note)))
    return beside([
        (0.0, text_block(str(one.number), 5.0, DIM_PT, True)),
        (5.0, text_block(text, width - room - 6.0, DIM_PT)),
        (width - room + TICK_STEP_MM - TICK_MM, ticks),
    ])
