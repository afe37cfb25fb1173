"""The page of a set-up: what to set and what undoes it, then part by part its drawing and its readings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from handwheel.job.records import Unit
from handwheel.plan.records import Operation, Setting, Stage
from handwheel.readings.dial import wheel_of
from handwheel.readings.records import Reading
from handwheel.readings.strip import make_strip
from handwheel.sheets.fonts import text_width_mm
from handwheel.sheets.moving import Picture, moved
from handwheel.sheets.paper import DIM_PT, HEAD_PT, READ_PT, WORK_PT, Composer, beside, text_block, under
from handwheel.sheets.primitives import Band, Box, Item, Line, LineType, Reversed, Text
from handwheel.sheets.rows import BOX_MM, caution_block, copies_block, reading_row, row_head, sum_block
from handwheel.sheets.setups import Group, Run
from handwheel.sheets.stagepic import stage_picture
from handwheel.workshop.records import Workshop

KEY_PT = 34.0
KEEP_MM = 24.0
DRAWN_MM = 22.0
CLOSE_MM = 15.0
GUTTER_MM = 6.0
NARROW_MM = 120.0
NUMBER_MM = 10.5
LONGEST_JOINED_MM = 190.0
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


@dataclass(frozen=True, slots=True)
class SetUpBlocks:
    """A set-up laid out in blocks that are not broken: its opening, then those of each part."""

    subject: str
    opening: Picture
    running: Picture
    groups: tuple[tuple[Picture, ...], ...]


def set_up_blocks(run: Run, place: str, shop: Shop, width: float, is_close: bool) -> SetUpBlocks:
    """The blocks of a set-up; `is_close`: drawings no larger than they need be."""
    parts = ", ".join(dict.fromkeys(g.part for g in run.groups))
    opening = _opening(run, place, width)
    has_readings = any(shop.readings.get((g.part, s.operation.number)) for g in run.groups for s in g.stages)
    if has_readings or len(run.groups) == 1:
        groups = [_group_blocks(g, run, shop, width, is_close, k == 0) for k, g in enumerate(run.groups)]
    else:
        half = (width - GUTTER_MM) / 2
        halves = [under(_group_blocks(group, run, shop, half, is_close), 1.5) for group in run.groups]
        groups = [
            [beside([(k * (half + GUTTER_MM), picture) for k, picture in enumerate(halves[start : start + 2])])]
            for start in range(0, len(halves), 2)
        ]
    return SetUpBlocks(f"Set-up {run.set_up.key}  ·  {parts}", opening, _running(run, width), tuple(map(_joined, groups)))


def _joined(blocks: list[Picture]) -> tuple[Picture, ...]:
    """A part's drawing joined to its first operation, so that neither is left alone at the foot of a page."""
    if len(blocks) > 1 and blocks[0].height + blocks[1].height < LONGEST_JOINED_MM:
        return (under(blocks[:2], 1.5), *blocks[2:])
    return tuple(blocks)


def put_set_up(paper: Composer, blocks: SetUpBlocks, share: bool = False) -> None:
    """A set-up on a page of its own, or with `share` under the one before where its beginning fits."""
    begins = blocks.opening.height + (blocks.groups[0][0].height if blocks.groups else 0.0) + 9.0
    if share and paper.pages and begins <= paper.room():
        paper.put(Picture((Line(0, 0.8, paper.width, 0.8, LineType.HEAVY),), paper.width, 1.6), 3.0)
        paper.also(blocks.subject)
    else:
        paper.start(blocks.subject)
    paper.put(blocks.opening, 2.5)
    paper.running = blocks.running
    for group in blocks.groups:
        for block in group:
            paper.put(block, 1.4)


def _running(run: Run, width: float) -> Picture:
    """The head of a set-up's further pages."""
    wide = text_width_mm(run.set_up.key, READ_PT, True) + 6.0
    words = text_block(f"{run.set_up.title}, continued", width - wide - 4.0, WORK_PT, True)
    badge = (Band(0, 0, wide, 7.6), Reversed(Text(wide / 2, 5.8, run.set_up.key, READ_PT, True, "middle")))
    return Picture((*badge, *(moved(i, wide + 4.0, 1.6) for i in words.items)), width, 7.6)


def _opening(run: Run, place: str, width: float) -> Picture:
    key = run.set_up.key
    wide = max(24.0, text_width_mm(key, KEY_PT, True) + 8.0)
    badge = Picture(
        (Band(0, 0, wide, 15.0), Reversed(Text(wide / 2, 11.7, key, KEY_PT, True, "middle"))), wide, 15.0)
    again = " (the same setting again)" if run.again else ""
    title = under([
        text_block(f"{run.set_up.title or 'Set-up'}{again}", width - wide - 6.0, HEAD_PT, True),
        text_block(f"{place}  ·  headstock at the left  ·  circle: datum  ·  stippled: comes off", width - wide - 6.0, WORK_PT),
    ], 0.6)
    head = beside([(0.0, badge), (wide + 5.0, title)])
    return under([head, _settings(run, width)], 1.6)


def _settings(run: Run, width: float) -> Picture:
    rows = [_setting(str(k + 1), setting, width) for k, setting in enumerate(run.settings)]
    return under(rows, 0.2)


def _setting(number: str, setting: Setting, width: float) -> Picture:
    """One layer: what to set, what undoes it, and a box for a dial value to be kept."""
    undone = f"undone by {setting.disturbed_by}" if setting.disturbed_by else ""
    wide = 100.0 if not setting.keep else 62.0
    cells = [
        (0.0, text_block(number, 6.5, WORK_PT, True)),
        (7.0, text_block(setting.layer, 22.0, WORK_PT, True)),
        (30.0, text_block(setting.text, wide, WORK_PT)),
        (32.0 + wide, text_block(undone, width - wide - 32.0 if not setting.keep else 28.0, DIM_PT, False, True)),
    ]
    row = beside(cells)
    items: list[Item] = list(row.items)
    height = row.height
    if setting.keep:
        x = width - KEEP_MM
        label = text_block(f"keep {setting.keep}", width - KEEP_MM - 2.0 - (62.5 + wide), DIM_PT, True)
        items += [moved(i, 62.5 + wide, 0.0) for i in label.items]
        items.append(Box(x, 0.3, KEEP_MM, BOX_MM, LineType.EDGE))
        height = max(height, label.height, BOX_MM + 0.6)
    items.append(Line(0.0, height + 0.7, width, height + 0.7, LineType.RULE))
    return Picture(tuple(items), width, height + 1.0)


def _group_blocks(
    group: Group, run: Run, shop: Shop, width: float, is_close: bool, is_first: bool = True
) -> list[Picture]:
    """A part's blocks in this set-up: its bar, drawing and column heads, then each operation."""
    copies = copies_text(group.copies)
    spare = width - 6.0 - text_width_mm(copies, WORK_PT, True)
    name = text_block(group.part, spare, WORK_PT + 2.0, True)
    taken = text_width_mm(group.part, WORK_PT + 2.0, True) + 6.0
    held = text_block(_held_text(group.stages[0].operation), spare - taken - 3.0, DIM_PT)
    height = max(name.height, held.height) + 0.8
    ticket = Text(width - 2.0, name.height * 0.78, copies, WORK_PT, True, "end")
    items: list[Item] = [Band(0, -0.4, width, height, False), *(moved(i, 2.0, 0.0) for i in name.items), ticket]
    bar = Picture((*items, *(moved(i, taken, 0.9) for i in held.items)), width, height)
    readable = [s for s in group.stages if (group.part, s.operation.number) in shop.can_be_read]
    has_readings = any(shop.readings.get((group.part, s.operation.number)) for s in readable)
    columns = [row_head(width)] if has_readings and is_first else []
    first = group.stages[0].operation
    if readable and _shows_a_cut(readable):
        if is_close and readable[0] is group.stages[0]:
            room = width * 0.56
            drawn = _drawn(readable, shop.unit, room, CLOSE_MM)
            pair = beside([(0.0, drawn), (room + 3.0, _title(first, width - room - 3.0, True))])
            head = under([bar, pair, *_own_settings(first, run, width), *columns], 1.2)
            blocks = [head, *_rows_of(first, group, shop, width)]
            return blocks + [b for s in group.stages[1:] for b in _operation_blocks(s.operation, group, run, shop, width)]
        columns = [_drawn(readable, shop.unit, width, DRAWN_MM), *columns]
    blocks = [under([bar, *columns], 1.2)]
    return blocks + [b for s in group.stages for b in _operation_blocks(s.operation, group, run, shop, width)]


def _drawn(stages: Sequence[Stage], unit: Unit, width: float, height: float) -> Picture:
    """The stage drawing in the middle of its room, and under it what found no place on it."""
    picture = stage_picture(stages, unit, width, height)
    shift = max(0.0, (width - picture.width) / 2)
    centred = Picture(tuple(moved(i, shift, 0.0) for i in picture.items), width, picture.height)
    listed = [text_block(f"{k + 1}: {text}", width, DIM_PT) for k, text in enumerate(picture.balloons)]
    return under([centred, *listed], 0.8)


def _shows_a_cut(stages: Sequence[Stage]) -> bool:
    first, last = stages[0].before, stages[-1].after
    return not (np.array_equal(first.outer, last.outer) and np.array_equal(first.inner, last.inner))


def _held_text(operation: Operation) -> str:
    holding = operation.holding
    end = f"{holding.toward_tailstock} end to the tailstock."
    if not holding.device:
        return end[0].upper() + end[1:]
    surface = "by the blank" if holding.surface in ("stock", "") else f"by the {holding.surface}"
    grip = "" if holding.to_mm <= holding.from_mm else f" {surface}"
    return f"In the {holding.device}{grip}, {end}"


def _title(operation: Operation, width: float, stacked: bool = False) -> Picture:
    """Number, kind, tool and speed; the reason after them; the caution with its sign beside, or below if `stacked`."""
    tool = operation.cutter.name
    to_get = "" if operation.cutter.owned or not tool else " (to get)"
    what = "  ·  ".join(filter(None, (operation.kind, f"{tool}{to_get}" if tool else "", operation.speed_text)))
    number = text_block(str(operation.number), NUMBER_MM, WORK_PT + 2.0, True)
    if stacked:
        words = under([
            text_block(what, width - NUMBER_MM, WORK_PT, True),
            text_block(operation.why.text, width - NUMBER_MM, DIM_PT, False, True),
            text_block(operation.note, width - NUMBER_MM, DIM_PT),
        ])
        told = beside([(0.0, number), (NUMBER_MM, words)])
        return under([told, *([caution_block(operation.caution, width)] if operation.caution else [])], 1.0)
    name_mm = max(70.0, text_width_mm(what, WORK_PT, True) + 5.0) if operation.caution else width - NUMBER_MM
    reason = f"{operation.why.text}. {operation.note}" if operation.note else operation.why.text
    is_short = text_width_mm(reason, DIM_PT) < name_mm - 4.0
    named = [text_block(what, name_mm - 3.0, WORK_PT, True)]
    if is_short:
        named.append(text_block(reason, name_mm - 3.0, DIM_PT, False, True))
    cells = [(0.0, number), (NUMBER_MM, under(named))]
    if operation.caution and name_mm < 0.6 * width:
        cells.append((NUMBER_MM + name_mm, caution_block(operation.caution, width - name_mm - NUMBER_MM)))
        below = []
    else:
        below = [_indented(caution_block(operation.caution, width - NUMBER_MM))] if operation.caution else []
    if not is_short:
        below.append(_indented(text_block(reason, width - NUMBER_MM, DIM_PT, False, True)))
    return under([beside(cells), *below], 0.3)


def _indented(picture: Picture) -> Picture:
    return beside([(NUMBER_MM, picture)])


def _own_settings(operation: Operation, run: Run, width: float) -> list[Picture]:
    """What is set for this operation alone."""
    found = []
    for setting in run.own(operation):
        undone = f" (undone by {setting.disturbed_by})" if setting.disturbed_by and not setting.keep else ""
        if setting.keep and width >= NARROW_MM:
            found.append(_setting("set", setting, width))
        else:
            found.append(text_block(f"Set {setting.layer}: {setting.text}{undone}", width, WORK_PT))
    return found


def _operation_blocks(operation: Operation, group: Group, run: Run, shop: Shop, width: float) -> list[Picture]:
    """An operation's title and own settings joined to its first row, then its other rows."""
    rows = _rows_of(operation, group, shop, width)
    title = _title(operation, width, width < NARROW_MM)
    return [under([title, *_own_settings(operation, run, width), rows[0]], 1.0), *rows[1:]]


def _rows_of(operation: Operation, group: Group, shop: Shop, width: float) -> list[Picture]:
    """The readings, sums or plain tick boxes of an operation, or why there are none."""
    key = (group.part, operation.number)
    if operation.refused:
        return [caution_block(f"Not possible here: {operation.refused}", width)]
    if key not in shop.can_be_read:
        return [text_block("No readings: an operation before this one cannot be done.", width)]
    name = f"{group.part} {operation.number}"
    rows = [
        reading_row(reading, group.copies, shop.unit, width, f"{name} act {k + 1}")
        for k, reading in enumerate(shop.readings.get(key, ()))
    ]
    for asked in operation.sums:
        strip = make_strip(asked, wheel_of(shop.workshop, asked.wheel), shop.workshop.units)
        rows.append(sum_block(asked, strip, group.copies, shop.unit, width))
    return rows or [copies_block(group.copies, name, False, width)]
