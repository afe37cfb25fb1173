"""Parts done alike in a set-up, laid out: their drawings side by side, then act by act a column a part."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from handwheel.job.records import Unit
from handwheel.plan.records import Makes, Operation, Stage, Sum
from handwheel.readings.charts import chart_reading
from handwheel.readings.records import Reading
from handwheel.sheets.acrosspic import is_across
from handwheel.sheets.chartrows import chart_block
from handwheel.sheets.columns import LABEL_MM, Columns, act_row, cuts_rows, names_bar, sum_row, text_row, ticks_row
from handwheel.sheets.copyrows import left_over, operation_rows, reading_rows, sum_rows
from handwheel.sheets.cutrows import cuts_blocks
from handwheel.sheets.families import Family, in_common
from handwheel.sheets.fonts import text_width_mm
from handwheel.sheets.moving import Picture, moved
from handwheel.sheets.paper import DIM_PT, WORK_PT, beside, text_block, under
from handwheel.sheets.primitives import Band, Text
from handwheel.sheets.rows import caution_block, copies_block, reading_row, row_head, sum_block
from handwheel.sheets.setups import Group, Run
from handwheel.sheets.shop import Shop, copies_text
from handwheel.sheets.stagepic import stage_picture
from handwheel.sheets.titles import own_setting, reasons, setting_row, stacked_title, title, tools_apart

ALONE_MM = 17.0
SIDE_BY_SIDE_MM = 14.0
ALONE_SHARE = 0.56
WIDE_MM = 60.0
BEFORE_FAILS = "No readings: an operation before this one cannot be done."


@dataclass(frozen=True, slots=True)
class FamilyBlocks:
    """Blocks that are not broken, the parts' names that head a further page, and the gap under each block. [mm]"""

    names: Picture
    blocks: tuple[Picture, ...]
    gap: float = 0.9


def family_blocks(
    family: Family, run: Run, shop: Shop, width: float, keys: Sequence[str] = ()
) -> FamilyBlocks:
    """The blocks of parts done alike, or of one part alone; `keys`: the set-up of each, where they are not one."""
    return _alone(family[0], run, shop, width) if len(family) == 1 else _side_by_side(family, run, shop, width, keys)


def _readable(group: Group, shop: Shop) -> list[Stage]:
    return [s for s in group.stages if (group.part, s.operation.number) in shop.can_be_read]


def _has_readings(group: Group, shop: Shop) -> bool:
    return any(shop.readings.get((group.part, s.operation.number)) for s in _readable(group, shop))


def _alone(group: Group, run: Run, shop: Shop, width: float) -> FamilyBlocks:
    """A part that nothing else is done like: the drawing with the first operation's title beside it, then rows."""
    bar = _bar(group, width)
    first, readable = group.stages[0], _readable(group, shop)
    columns = [row_head(width)] if _has_readings(group, shop) else []
    if readable and readable[0] is first and shows_a_cut(readable):
        room = width * ALONE_SHARE
        drawn = _drawn(readable, shop.unit, room, ALONE_MM)
        shown = beside([(0.0, drawn), (room + 3.0, stacked_title(first.operation, width - room - 3.0))])
    else:
        shown = title([first.operation], width)
    rows = _rows_alone(first.operation, group, shop, width)
    own = _own_alone(first.operation, run, width)
    blocks = [under([bar, shown, *own, *columns, rows[0]], 1.0), *rows[1:]]
    for stage in group.stages[1:]:
        rows = _rows_alone(stage.operation, group, shop, width)
        head = [title([stage.operation], width), *_own_alone(stage.operation, run, width)]
        blocks += [under([*head, rows[0]], 0.8), *rows[1:]]
    return FamilyBlocks(bar, tuple(blocks))


def _bar(group: Group, width: float) -> Picture:
    """A part's name, how it is held and its copies."""
    copies = copies_text(group.copies)
    spare = width - 6.0 - text_width_mm(copies, WORK_PT, True)
    name = text_block(group.part, spare, WORK_PT + 2.0, True)
    taken = text_width_mm(group.part, WORK_PT + 2.0, True) + 6.0
    held = text_block(held_text(group.stages[0].operation), spare - taken - 3.0, DIM_PT)
    height = max(name.height, held.height + 0.9) + 0.8
    ticket = Text(width - 2.0, name.height * 0.78, copies, WORK_PT, True, "end")
    words = (*(moved(i, 2.0, 0.0) for i in name.items), *(moved(i, taken, 0.9) for i in held.items), ticket)
    return Picture((Band(0, -0.4, width, height, False), *words), width, height)


def _own_alone(operation: Operation, run: Run, width: float) -> list[Picture]:
    """What is set for this operation alone."""
    return [setting_row("set", setting, width) for setting in run.own(operation)]


def _rows_alone(operation: Operation, group: Group, shop: Shop, width: float) -> list[Picture]:
    """The readings, sums or plain tick boxes of an operation, or why there are none."""
    key = (group.part, operation.number)
    if operation.refused:
        return [caution_block(f"Not possible here: {operation.refused}", width)]
    if key not in shop.can_be_read:
        return [text_block(BEFORE_FAILS, width)]
    name = f"{group.part} {operation.number}"
    parts = shop.apart.get(group.part, ())
    rows = operation_rows(operation.number, operation is group.stages[0].operation, group.copies, parts, width)
    for k, reading in enumerate(shop.readings.get(key, ())):
        act = f"{name} act {k + 1}"
        copies = left_over(group.copies, parts, reading, operation.number)
        if copies:
            rows.append(reading_row(reading, copies, shop.unit, width, act))
            rows += cuts_blocks(reading, copies, shop.unit, width, act)
        rows += reading_rows(reading, group.copies, parts, shop.unit, width, act)
    rows += _charts([operation], [group], shop, width)
    for asked in operation.sums:
        copies = left_over(group.copies, parts, asked, operation.number)
        rows += [sum_block(asked, copies, shop.unit, width)] if copies else []
        rows += sum_rows(asked, operation.number, group.copies, parts, shop.unit, width)
    return rows or [copies_block(group.copies, name, False, width)]


def _side_by_side(family: Family, run: Run, shop: Shop, width: float, keys: Sequence[str]) -> FamilyBlocks:
    columns = Columns(width, len(family))
    tickets = [copies_text(g.copies) for g in family]
    if keys:
        tickets = [f"{key}  ·  {ticket}" for key, ticket in zip(keys, tickets, strict=True)]
    bar = names_bar(family, tickets, columns)
    blocks: list[Picture] = []
    for k, stages in enumerate(zip(*(g.stages for g in family), strict=True)):
        operations = [stage.operation for stage in stages]
        rows = _rows(family, operations, shop, columns)
        opening = _drawings(family, bar, shop, columns) if k == 0 else []
        head = [title(operations, width), *_apart(operations, run, columns)]
        if len(opening) > 1:  # the drawings may stay behind on the page before, the names go on with the readings
            blocks.append(under(opening, 0.8))
            opening = []
        blocks += [under([*opening, *head, rows[0]], 0.8), *rows[1:]]
    return FamilyBlocks(bar, tuple(blocks))


def _drawings(family: Family, bar: Picture, shop: Shop, columns: Columns) -> list[Picture]:
    """The parts' names, how they are held, and each part's drawing: over its column, or where those are narrow, larger."""
    stages = [_readable(group, shop) for group in family]
    if not any(shows_a_cut(s) for s in stages) and not any(_has_readings(g, shop) for g in family):
        return [bar]
    held = [held_text(group.stages[0].operation) for group in family]
    once = in_common(held)
    apart = [] if once else [text_row(held, columns)]
    is_wide = columns.cell >= WIDE_MM
    room = columns.cell if is_wide else (columns.width - 2 * len(family)) / len(family)
    drawn = [_drawn(s, shop.unit, room, SIDE_BY_SIDE_MM) if shows_a_cut(s) else Picture((), room, 0.0) for s in stages]
    if is_wide:
        return [bar, *apart, columns.row(text_block(once or "", LABEL_MM, DIM_PT), drawn)]
    captions = [
        under([text_block(group.part, room, WORK_PT + 1.0, True), picture], 0.8)
        for group, picture in zip(family, drawn, strict=True)
    ]
    row = beside([(k * (room + 2.0), caption) for k, caption in enumerate(captions)])
    return [text_block(once or "", columns.width, DIM_PT), row, bar, *apart]


def _apart(operations: Sequence[Operation], run: Run, columns: Columns) -> list[Picture]:
    """What the operations do not have in common: tools, reasons, notes and settings by part."""
    _, whys, notes = reasons(operations)
    rows = [
        text_row(tools_apart(operations), columns, "tool"),
        *([text_row(whys, columns, "", True)] if whys else []),
        *([text_row(notes, columns)] if notes else []),
    ]
    for settings in zip(*(run.own(operation) for operation in operations), strict=True):
        if len(set(settings)) == 1:
            rows.append(setting_row("set", settings[0], columns.width))
        else:
            label = text_block(f"set {settings[0].layer}", LABEL_MM, DIM_PT, True)
            rows.append(columns.row(label, [own_setting(s, columns.cell) for s in settings], False))
    return rows


def _rows(family: Family, operations: Sequence[Operation], shop: Shop, columns: Columns) -> list[Picture]:
    """The acts and sums with a column a part, or plain tick boxes, or why there are none."""
    keys = [(o.part, o.number) for o in operations]
    if operations[0].refused:
        return [columns.row(Picture((), 0.0, 0.0), [
            caution_block(f"Not possible here: {o.refused}", columns.cell) for o in operations])]
    if keys[0] not in shop.can_be_read:
        return [text_block(BEFORE_FAILS, columns.width)]
    names = [f"{part} {number}" for part, number in keys]
    acts = zip(*(shop.readings.get(key, ()) for key in keys), strict=True)
    rows: list[Picture] = []
    for group, operation in zip(family, operations, strict=True):
        is_first = operation is group.stages[0].operation
        rows += operation_rows(operation.number, is_first, group.copies, shop.apart.get(group.part, ()), columns.width)
    for k, readings in enumerate(acts):
        act_names = [f"{name} act {k + 1}" for name in names]
        here = _less(family, readings, operations, shop)
        rows.append(act_row(here, readings, shop.unit, columns, act_names))
        rows += cuts_rows(here, readings, shop.unit, columns, act_names)
        for group, reading, act in zip(family, readings, act_names, strict=True):
            rows += reading_rows(reading, group.copies, shop.apart.get(group.part, ()), shop.unit, columns.width, act)
    rows += _charts(operations, family, shop, columns.width)
    said = {_limits(r.makes) for key in keys for r in shop.readings.get(key, ())}
    for sums in zip(*(o.sums for o in operations), strict=True):
        here = _less(family, sums, operations, shop)
        rows.append(sum_row(here, sums, shop.unit, columns, not all(s.limits_mm in said for s in sums)))
        for group, operation, asked in zip(family, operations, sums, strict=True):
            parts = shop.apart.get(group.part, ())
            rows += sum_rows(asked, operation.number, group.copies, parts, shop.unit, columns.width)
    return rows or [ticks_row(family, columns, names)]


def _less(family: Family, acts: Sequence[Reading | Sum], operations: Sequence[Operation], shop: Shop) -> Family:
    """The parts with the copies that the drawing's own row is still for."""
    return tuple(
        replace(group, copies=left_over(group.copies, shop.apart.get(group.part, ()), act, operation.number))
        for group, act, operation in zip(family, acts, operations, strict=True)
    )


def _charts(operations: Sequence[Operation], groups: Sequence[Group], shop: Shop, width: float) -> list[Picture]:
    """The step-off charts of operations, each across the whole width; a part's name where there are several."""
    found = []
    for operation, group in zip(operations, groups, strict=True):
        chart = chart_reading(operation, shop.workshop)
        if chart is not None:
            whose = f" of {group.part}" if len(groups) > 1 else ""
            told = replace(chart, feature=f"{chart.feature}{whose}")
            found.append(chart_block(told, group.copies, shop.unit, width, f"{group.part} {operation.number} chart"))
    return found


def _limits(makes: Makes | None) -> tuple[float, float] | None:
    if makes is None or makes.working_low_mm is None or makes.working_high_mm is None:
        return None
    return makes.working_low_mm, makes.working_high_mm


def _drawn(stages: Sequence[Stage], unit: Unit, width: float, height: float) -> Picture:
    """The stage drawing in the middle of its room, and under it what found no place on it."""
    picture = stage_picture(stages, unit, width, height)
    shift = max(0.0, (width - picture.width) / 2)
    centred = Picture(tuple(moved(i, shift, 0.0) for i in picture.items), width, picture.height)
    listed = [text_block(text, width, DIM_PT) for text in picture.listed]
    return under([centred, *listed], 0.8)


def shows_a_cut(stages: Sequence[Stage]) -> bool:
    """Whether the section is another after these stages than before, or something is cut across it."""
    if not stages:
        return False
    if is_across(stages):
        return True
    first, last = stages[0].before, stages[-1].after
    return not (np.array_equal(first.outer, last.outer) and np.array_equal(first.inner, last.inner))


def held_text(operation: Operation) -> str:
    """How the work is held and which end is free."""
    holding = operation.holding
    end = f"{holding.toward_tailstock} end to the tailstock."
    if not holding.device:
        return end[0].upper() + end[1:]
    surface = "by the blank" if holding.surface in ("stock", "") else f"by the {holding.surface}"
    grip = "" if holding.to_mm <= holding.from_mm else f" {surface}"
    where = f"In the {holding.device}" if holding.headstock_centre_mm is None else holding.device.capitalize()
    return f"{where}{grip}, {end}"
