"""The title of an operation, once for all the parts it is done on alike, and the rows of what is set for it."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.plan.records import Operation, Setting
from handwheel.sheets.families import factored, in_common
from handwheel.sheets.fonts import text_width_mm, wrapped
from handwheel.sheets.moving import Picture, moved
from handwheel.sheets.paper import DIM_PT, WORK_PT, beside, line_mm, text_block, under
from handwheel.sheets.primitives import Box, Item, Line, LineType, Text
from handwheel.sheets.rows import BOX_MM, caution_block

KEEP_MM = 24.0
NUMBER_MM = 10.5
TITLE_MM = 70.0
LAYER_MM = 30.0
LEAST_WORDS = 2
SETTINGS_GAP_MM = 5.0


def _tool(operation: Operation) -> str:
    name = operation.cutter.name
    return f"{name}{'' if operation.cutter.owned else ' (to get)'}" if name else ""


def tools_apart(operations: Sequence[Operation]) -> list[str]:
    """The tools by part, where they differ; else none."""
    tools = [_tool(operation) for operation in operations]
    return tools if len(set(tools)) > 1 else ["" for _ in tools]


def _what(operations: Sequence[Operation]) -> str:
    """Kind, tool and speed."""
    first = operations[0]
    tool = "" if any(tools_apart(operations)) else _tool(first)
    speed = in_common([o.speed_text for o in operations])
    return "  ·  ".join(filter(None, (first.kind, tool, first.speed_text if speed is None else speed)))


def _numbers(operations: Sequence[Operation]) -> Picture:
    numbers = [str(o.number) for o in operations]
    text = numbers[0] if len(set(numbers)) == 1 else " / ".join(numbers)
    width = max(NUMBER_MM, text_width_mm(text, WORK_PT + 2.0, True) + 3.0)
    return text_block(text, width, WORK_PT + 2.0, True)


def reasons(operations: Sequence[Operation]) -> tuple[str, list[str], list[str]]:
    """What is said once for all the parts; the reasons and the notes by part where they are too different for that."""
    why = in_common([o.why.text for o in operations])
    note = operations[0].note if len({o.note for o in operations}) == 1 else None
    once = "; ".join(filter(None, (why, note)))
    return once, [] if why is not None else [o.why.text for o in operations], (
        [] if note is not None else [o.note for o in operations])


def _cautions(operations: Sequence[Operation]) -> str:
    said = [o.caution for o in operations]
    return in_common(said) or " ".join(dict.fromkeys(filter(None, said)))


def stacked_title(operation: Operation, width: float) -> Picture:
    """Number, kind, tool and speed, the reason and the caution one under another, for beside a drawing."""
    words = under([
        text_block(_what([operation]), width - NUMBER_MM, WORK_PT, True),
        text_block(operation.why.text, width - NUMBER_MM, DIM_PT, False, True),
        text_block(operation.note, width - NUMBER_MM, DIM_PT),
    ])
    told = beside([(0.0, _numbers([operation])), (NUMBER_MM, words)])
    return under([told, *([caution_block(operation.caution, width)] if operation.caution else [])], 1.0)


def title(operations: Sequence[Operation], width: float) -> Picture:
    """Number, kind, tool and speed with the caution beside, the reason under them."""
    what, caution = _what(operations), _cautions(operations)
    number = _numbers(operations)
    indent = number.width
    once, _, _ = reasons(operations)
    if not caution:
        words = under([
            text_block(what, width - indent, WORK_PT, True), text_block(once, width - indent, DIM_PT, False, True)])
        return beside([(0.0, number), (indent, words)])
    name_mm = min(max(TITLE_MM, text_width_mm(what, WORK_PT, True) + 5.0), 0.44 * width)
    named = text_block(what, name_mm - 3.0, WORK_PT, True)
    warned = caution_block(caution, width - name_mm - indent)
    is_short = text_width_mm(once, DIM_PT) < 2 * (name_mm - 8.0)
    if is_short:
        named = under([named, text_block(once, name_mm - 3.0, DIM_PT, False, True)])
    head = beside([(0.0, number), (indent, named), (indent + name_mm, warned)])
    below = [] if is_short else [_indented(text_block(once, width - indent, DIM_PT, False, True), indent)]
    return under([head, *below], 0.2)


def _indented(picture: Picture, indent: float) -> Picture:
    return beside([(indent, picture)])


def setting_row(number: str, setting: Setting, width: float) -> Picture:
    """One layer: what to set, what undoes it, and a box for a dial value to be kept."""
    undone = f"undone by {setting.disturbed_by}" if setting.disturbed_by else ""
    wide = 92.0 if not setting.keep else 62.0
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


def own_setting(setting: Setting, width: float, says_undone: bool = True) -> Picture:
    """What is set for one operation alone, in its column; with a box for a value to be kept."""
    says_undone = says_undone and bool(setting.disturbed_by) and not setting.keep
    undone = f" (undone by {setting.disturbed_by})" if says_undone else ""
    words = text_block(f"{setting.text}{undone}", width, DIM_PT)
    if not setting.keep:
        return words
    label = text_block(f"keep {setting.keep}", width - KEEP_MM - 2.0, DIM_PT, True)
    box = Picture((Box(0.0, 0.3, KEEP_MM, BOX_MM, LineType.EDGE),), KEEP_MM, BOX_MM + 0.6)
    return under([words, beside([(0.0, label), (width - KEEP_MM, box)])], 0.3)


def settings_block(settings: Sequence[Setting], width: float) -> Picture:
    """The layers of a set-up in their order, down two columns: what to set, what undoes it, a box for a value kept."""
    half = (width - SETTINGS_GAP_MM) / 2
    shown = [setting for setting in settings if setting.text]
    named = 7.0 + max((text_width_mm(setting.layer, WORK_PT, True) for setting in shown), default=0.0)
    cells = [_layer(str(k + 1), setting, half, min(named, LAYER_MM)) for k, setting in enumerate(shown)]
    heights = [cell.height for cell in cells]
    splits = range(len(cells) + 1)
    at = min(splits, key=lambda k: (max(sum(heights[:k]), sum(heights[k:])), -k))
    return beside([(0.0, under(cells[:at])), (half + SETTINGS_GAP_MM, under(cells[at:]))])


def _with_after(text: str, after: str, width: float) -> Picture:
    """A text, and lighter after it what undoes it, begun on its last line where that has room. [mm]"""
    words = text_block(text, width, WORK_PT)
    lines = wrapped(text, width, WORK_PT)
    used = text_width_mm(lines[-1], WORK_PT) + 3.0 if lines else 0.0
    told = after.split()
    fits = 0
    while fits < len(told) and text_width_mm(" ".join(told[: fits + 1]), DIM_PT) <= width - used:
        fits += 1
    if fits < LEAST_WORDS:
        return under([words, text_block(after, width, DIM_PT, False, True)])
    y = words.height - line_mm(WORK_PT) * 0.22
    first = Text(used, y, " ".join(told[:fits]), DIM_PT, False, "start", True)
    begun = Picture((*words.items, first), width, words.height)
    return under([begun, text_block(" ".join(told[fits:]), width, DIM_PT, False, True)])


def _layer(number: str, setting: Setting, width: float, x: float) -> Picture:
    """One layer in its column: the words, then what undoes it lighter, the rule under it."""
    undone = f"undone by {setting.disturbed_by}" if setting.disturbed_by else ""
    words = _with_after(factored(setting.text), undone, width - x)
    cells = [
        (0.0, text_block(number, 5.0, WORK_PT, True)),
        (5.0, text_block(setting.layer, x - 5.5, WORK_PT, True)),
        (x, words),
    ]
    row = beside(cells)
    items: list[Item] = list(row.items)
    height = row.height
    if setting.keep:
        label = text_block(f"keep {setting.keep}", width - x - KEEP_MM - 2.0, DIM_PT, True)
        items += [moved(i, x, height + 0.6) for i in label.items]
        items.append(Box(width - KEEP_MM, height + 0.6, KEEP_MM, BOX_MM, LineType.EDGE))
        height += max(label.height, BOX_MM) + 1.0
    items.append(Line(0.0, height + 0.6, width, height + 0.6, LineType.RULE))
    return Picture(tuple(items), width, height + 1.0)
