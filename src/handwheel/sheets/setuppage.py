"""The page of a set-up: what to set and what undoes it, then part by part its drawing and its readings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from handwheel.job.records import Unit
from handwheel.plan.records import Operation
from handwheel.readings.dial import wheel_of
from handwheel.readings.records import Reading
from handwheel.readings.strip import make_strip
from handwheel.sheets.fonts import text_width_mm
from handwheel.sheets.moving import Picture, moved
from handwheel.sheets.paper import DIM_PT, HEAD_PT, WORK_PT, Composer, beside, text_block, under
from handwheel.sheets.primitives import Band, Box, Item, Line, LineType, Reversed, Text
from handwheel.sheets.rows import BOX_MM, caution_block, copies_block, reading_row, row_head, sum_block
from handwheel.sheets.setups import Group, Run
from handwheel.sheets.stagepic import stage_picture
from handwheel.workshop.records import Workshop

KEY_PT = 34.0
KEEP_MM = 24.0
Readings = Mapping[tuple[str, int], tuple[Reading, ...]]


@dataclass(frozen=True, slots=True)
class Shop:
    """What a set-up's page is made with."""

    readings: Readings
    workshop: Workshop
    unit: Unit
    can_be_read: set[tuple[str, int]]


def copies_text(copies: tuple[int, ...]) -> str:
    """'copy 1', 'copies 1 to 3', 'copies 1, 3'."""
    if len(copies) == 1:
        return f"copy {copies[0]}"
    if copies == tuple(range(copies[0], copies[-1] + 1)):
        return f"copies {copies[0]} to {copies[-1]}"
    return "copies " + ", ".join(map(str, copies))


def put_set_up(paper: Composer, run: Run, place: str, shop: Shop, share: bool = False) -> None:
    """Everything of one set-up; on a page of its own, or under the one before it where `share` and it fits."""
    subject = f"Set-up {run.set_up.key}  ·  " + ", ".join(dict.fromkeys(g.part for g in run.groups))
    opening = _opening(run, place, paper.width)
    groups = [_group_blocks(group, run, shop, paper.width) for group in run.groups]
    whole = opening.height + sum(b.height + 2.5 for blocks in groups for b in blocks)
    if not (share and paper.pages and whole + 8.0 <= paper.room()):
        paper.start(subject)
    else:
        paper.put(Picture((Line(0, 1.0, paper.width, 1.0, LineType.HEAVY),), paper.width, 2.0), 4.0)
        paper.subject = f"{paper.subject}; {subject}"
        paper.pages[-1] = (paper.subject, paper.pages[-1][1])
    paper.put(opening, 3.0)
    for blocks in groups:
        for k, block in enumerate(blocks):
            _put_joined(paper, block, blocks[k + 1] if k + 1 < len(blocks) else None, k == 0)


def _put_joined(paper: Composer, block: Picture, after: Picture | None, joined: bool) -> None:
    """A part's drawing is not left at the foot of a page without its first readings."""
    if joined and after is not None and block.height + 2.0 + after.height > paper.room():
        needed = block.height + after.height
        if needed < paper.floor - 40.0:
            paper.put(under([block, after], 2.0), 2.5)
            return
    if not joined or after is None or block.height + after.height <= paper.room():
        paper.put(block, 2.0)
        return
    paper.put(block, 2.0)


def _opening(run: Run, place: str, width: float) -> Picture:
    key = run.set_up.key
    wide = max(24.0, text_width_mm(key, KEY_PT, True) + 8.0)
    badge = Picture(
        (Band(0, 0, wide, 17.0), Reversed(Text(wide / 2, 12.9, key, KEY_PT, True, "middle"))), wide, 17.0)
    again = " (the same setting again)" if run.again else ""
    title = under([
        text_block(f"{run.set_up.title or 'Set-up'}{again}", width - wide - 6.0, HEAD_PT, True),
        text_block(place, width - wide - 6.0, WORK_PT),
    ], 0.6)
    head = beside([(0.0, badge), (wide + 5.0, title)])
    return under([head, _settings(run, width)], 2.5)


def _settings(run: Run, width: float) -> Picture:
    rows: list[Picture] = []
    for k, setting in enumerate(run.settings):
        undone = f"undone by: {setting.disturbed_by}" if setting.disturbed_by else ""
        has_box = bool(setting.keep)
        text_wide = width - 34.0 - (KEEP_MM + 34.0 if has_box else 0.0)
        words = under([
            text_block(setting.text, text_wide, WORK_PT),
            text_block(undone, text_wide, DIM_PT, False, True),
        ])
        cells = [
            (0.0, text_block(str(k + 1), 6.0, WORK_PT, True)),
            (6.0, text_block(setting.layer, 25.0, WORK_PT, True)),
            (33.0, words),
        ]
        row = beside(cells)
        items: list[Item] = list(row.items)
        height = row.height
        if has_box:
            x = width - KEEP_MM
            label = text_block(f"keep: {setting.keep}", 32.0, DIM_PT)
            items += [moved(i, x - 33.0, 0.0) for i in label.items]
            items.append(Box(x, 0.3, KEEP_MM, BOX_MM, LineType.EDGE))
            height = max(height, label.height, BOX_MM + 1.0)
        items.append(Line(0.0, height + 0.8, width, height + 0.8, LineType.RULE))
        rows.append(Picture(tuple(items), width, height + 1.4))
    return under(rows, 0.4)


def _group_blocks(group: Group, run: Run, shop: Shop, width: float) -> list[Picture]:
    """A part's blocks in this set-up: its bar and drawing, then each operation."""
    name = text_block(f"{group.part}", width * 0.6, HEAD_PT, True)
    copies = Text(width, name.height * 0.78, copies_text(group.copies), WORK_PT, True, "end")
    bar = Picture((Band(0, -0.4, width, name.height + 0.8, False), *(moved(i, 2.0, 0.0) for i in name.items),
                   moved(copies, -2.0, 0.0)), width, name.height + 1.0)
    readable = [s for s in group.stages if (group.part, s.operation.number) in shop.can_be_read]
    blocks: list[Picture] = []
    if readable:
        picture = stage_picture(readable, shop.unit, width)
        shift = max(0.0, (width - picture.width) / 2)
        centred = Picture(tuple(moved(i, shift, 0.0) for i in picture.items), width, picture.height)
        held = _held_text(readable[0].operation)
        listed = [text_block(f"{k + 1}: {text}", width, DIM_PT) for k, text in enumerate(picture.balloons)]
        blocks.append(under([bar, text_block(held, width, DIM_PT), centred, *listed], 2.0))
    else:
        blocks.append(bar)
    for stage in group.stages:
        blocks += _operation_blocks(stage.operation, group, shop, width)
    return blocks


def _held_text(operation: Operation) -> str:
    holding = operation.holding
    if not holding.device:
        return f"{holding.toward_tailstock} end of the part toward the tailstock, to the right of the drawing"
    surface = "on the blank" if holding.surface in ("stock", "") else f"on the {holding.surface}"
    return (
        f"Held in the {holding.device} {surface}; the part's {holding.toward_tailstock} end is toward the tailstock, "
        "to the right of the drawing. The small circle is the datum; stippled metal comes off."
    )


def _title(operation: Operation, width: float) -> Picture:
    number = text_block(str(operation.number), 12.0, HEAD_PT, True)
    tool = operation.cutter.name
    to_get = "" if operation.cutter.owned or not tool else " (to get)"
    what = "  ·  ".join(filter(None, (operation.kind, f"{tool}{to_get}" if tool else "", operation.speed_text)))
    words = under([
        text_block(what, width - 13.0, WORK_PT, True),
        text_block(f"{operation.why.text}", width - 13.0, DIM_PT, False, True),
    ])
    return beside([(0.0, number), (13.0, words)])


def _operation_blocks(operation: Operation, group: Group, shop: Shop, width: float) -> list[Picture]:
    key = (group.part, operation.number)
    title = _title(operation, width)
    if operation.refused:
        return [under([title, caution_block(f"Not possible here: {operation.refused}", width)], 1.0)]
    if key not in shop.can_be_read:
        return [under([title, text_block("No readings: an operation before this one cannot be done.", width)], 1.0)]
    head = [title]
    if operation.caution:
        head.append(caution_block(operation.caution, width))
    if operation.note:
        head.append(text_block(operation.note, width, DIM_PT))
    name = f"{group.part} {operation.number}"
    rows = [
        reading_row(reading, group.copies, shop.unit, width, f"{name} act {k + 1}")
        for k, reading in enumerate(shop.readings.get(key, ()))
    ]
    for asked in operation.sums:
        strip = make_strip(asked, wheel_of(shop.workshop, asked.wheel), shop.workshop.units)
        rows.append(sum_block(asked, strip, group.copies, shop.unit, width))
    if not rows:
        rows = [copies_block(group.copies, name, False, width)]
        return [under([*head, *rows], 1.2)]
    if shop.readings.get(key):
        head.append(row_head(width))
    return [under([*head, rows[0]], 1.2), *rows[1:]]
