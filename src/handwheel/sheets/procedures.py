"""Delicate set-ups on their page: what to do, told once a set-up, then each part's figures and passes side by side."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.plan.records import Stage
from handwheel.setups.of import procedure_of
from handwheel.setups.records import Figure, Pass, Procedure, Step
from handwheel.sheets.columns import LABEL_MM, Columns
from handwheel.sheets.families import MOST_SIDE_BY_SIDE, Family
from handwheel.sheets.moving import Picture
from handwheel.sheets.paper import DIM_PT, WORK_PT, beside, text_block, under
from handwheel.sheets.primitives import TickBox
from handwheel.sheets.shop import Shop

GAP_MM = 5.0
HEAD_MM = 22.0
TICK_MM = 3.2


def procedure_blocks(family: Family, shop: Shop, width: float, told: set[str]) -> tuple[Picture, ...]:
    """The blocks of the set-ups of these parts; `told`: subjects whose steps stand in this set-up already, added to."""
    by_subject: dict[str, list[tuple[Stage, Procedure]]] = {}
    for stage in (s for group in family for s in group.stages):
        if (stage.operation.part, stage.operation.number) not in shop.can_be_read:
            continue
        found = procedure_of(stage, shop.workshop)
        if found is not None:
            by_subject.setdefault(found.subject, []).append((stage, found))
    blocks: list[Picture] = []
    for subject, made in by_subject.items():
        if subject not in told:
            told.add(subject)
            blocks.append(_steps(subject, made[0][1].steps, width))
        for k in range(0, len(made), MOST_SIDE_BY_SIDE):
            blocks += _figures(made[k : k + MOST_SIDE_BY_SIDE], width)
    return tuple(blocks)


def _steps(subject: str, steps: Sequence[Step], width: float) -> Picture:
    """The steps in their order, down two columns of about one height."""
    half = (width - GAP_MM) / 2
    cells = [
        beside([
            (0.0, text_block(str(k + 1), 5.0, DIM_PT, True)),
            (5.0, text_block(step.head, HEAD_MM - 1.0, DIM_PT, True)),
            (5.0 + HEAD_MM, text_block(step.text, half - 5.0 - HEAD_MM, DIM_PT)),
        ])
        for k, step in enumerate(steps)
    ]
    head = text_block(f"{subject[:1].upper()}{subject[1:]}: how it is set, in this order", width, WORK_PT, True)
    return under([head, _two(cells, half, 0.6)], 0.8)


def _figures(made: Sequence[tuple[Stage, Procedure]], width: float) -> list[Picture]:
    """A column a part: its figures, a row each, and its passes with boxes to tick."""
    columns = Columns(width, len(made))
    names = [
        text_block(f"{stage.operation.part}: {', '.join(stage.operation.why.features)}", columns.cell, DIM_PT, True)
        for stage, _ in made
    ]
    rows = [columns.row(text_block("figures to set by", LABEL_MM, DIM_PT, True), names)]
    heads = dict.fromkeys(figure.head for _, one in made for figure in one.figures)
    if len(made) == 1:
        rows.append(_pairs(made[0][1].figures, width))
        heads = {}
    for head in heads:
        values = [next((f.value for f in one.figures if f.head == head), "") for _, one in made]
        rows.append(columns.row(
            text_block(head, LABEL_MM, DIM_PT), [text_block(value, columns.cell, DIM_PT) for value in values]))  # fmt: skip
    blocks = [under(rows)]
    if any(one.passes for _, one in made):
        label = text_block(f"passes, counted from: {made[0][1].zero}", LABEL_MM, DIM_PT)
        cells = [
            under([_pass(p, f"{stage.operation.part}-{stage.operation.number}-pass-{p.number}", columns.cell)
                   for p in one.passes], 0.3)
            for stage, one in made
        ]  # fmt: skip
        blocks.append(columns.row(label, cells))
    return blocks


def _pairs(figures: Sequence[Figure], width: float) -> Picture:
    """One part's figures, a head and a value each, down two columns of about one height."""
    half = (width - GAP_MM) / 2
    columns = Columns(half, 1)
    cells = [
        columns.row(text_block(one.head, LABEL_MM, DIM_PT), [text_block(one.value, columns.cell, DIM_PT)]) for one in figures
    ]
    return _two(cells, half, 0.0)


def _two(cells: Sequence[Picture], half: float, gap: float) -> Picture:
    """Blocks down two columns of about one height, in their order."""
    heights = [cell.height for cell in cells]
    at = min(range(len(cells) + 1), key=lambda k: (max(sum(heights[:k]), sum(heights[k:])), -k))
    return beside([(0.0, under(cells[:at], gap)), (half + GAP_MM, under(cells[at:], gap))])


def _pass(one: Pass, name: str, width: float) -> Picture:
    box = Picture((TickBox(0.0, 0.3, TICK_MM, name),), TICK_MM, TICK_MM + 0.4)
    text = ": ".join(filter(None, (one.reading, one.note)))
    return beside([
        (0.0, box),
        (TICK_MM + 1.5, text_block(str(one.number), 5.0, DIM_PT, True)),
        (TICK_MM + 6.5, text_block(text, width - TICK_MM - 6.5, DIM_PT)),
    ])
