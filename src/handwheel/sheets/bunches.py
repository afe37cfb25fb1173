"""Set-ups that follow each other and differ only in what is set, such as an angle: one page, a column a set-up."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.plan.records import SetUp
from handwheel.sheets.columns import LABEL_MM, Columns
from handwheel.sheets.families import MOST_SIDE_BY_SIDE, Readings, acts_of, in_common
from handwheel.sheets.moving import Picture
from handwheel.sheets.paper import DIM_PT, WORK_PT, beside, text_block, under
from handwheel.sheets.setups import Run
from handwheel.sheets.titles import own_setting

Bunch = tuple[Run, ...]


def bunches(runs: Sequence[Run], readings: Readings, can_be_read: set[tuple[str, int]]) -> tuple[Bunch, ...]:
    """The runs in their order, those of one part each that are set and done alike together, at most three."""
    found: list[list[Run]] = []
    for run in runs:
        last = found[-1] if found else []
        alike = bool(last) and _kind(last[-1], readings, can_be_read) == _kind(run, readings, can_be_read) is not None
        if alike and len(last) < MOST_SIDE_BY_SIDE:
            last.append(run)
        else:
            found.append([run])
    return tuple(tuple(bunch) for bunch in found)


def _kind(run: Run, readings: Readings, can_be_read: set[tuple[str, int]]) -> object:
    """What must be the same; None for a set-up of several parts, or seen before."""
    if len(run.groups) != 1 or run.again:
        return None
    layers = tuple((s.layer, s.keep) for s in run.settings)
    return layers, acts_of(run.groups[0], run, readings, can_be_read)


def as_one(bunch: Bunch) -> Run:
    """The bunch as a run of its own, for the blocks below its opening."""
    settings = tuple(dict.fromkeys(s for run in bunch for s in run.settings))
    serves = tuple(name for run in bunch for name in run.set_up.serves)
    title = in_common([run.set_up.title for run in bunch]) or bunch[0].set_up.title
    key = " · ".join(run.set_up.key for run in bunch)
    return Run(SetUp(key, title, settings, serves), tuple(g for run in bunch for g in run.groups))


def settings_columns(bunch: Bunch, width: float) -> Picture:
    """The layers of several set-ups: said once where they are the same, else in the columns."""
    columns = Columns(width, len(bunch))
    rows = [text_block("", width)]
    for k, settings in enumerate(zip(*(run.settings for run in bunch), strict=True)):
        first = settings[0]
        if not any(s.text for s in settings):
            continue
        undone = in_common([s.disturbed_by for s in settings])
        label = under([
            beside([(0.0, text_block(str(k + 1), 5.0, WORK_PT, True)),
                    (5.0, text_block(first.layer, LABEL_MM - 5.0, WORK_PT, True))]),
            text_block(f"undone by {undone}" if undone else "", LABEL_MM, DIM_PT, False, True),
        ])
        if all(s.text == first.text and not s.keep for s in settings):
            words = text_block(first.text, width - columns.x(0), WORK_PT)
            rows.append(Columns(width, 1).row(label, [words]))
        else:
            rows.append(columns.row(label, [own_setting(s, columns.cell, not undone) for s in settings]))
    return under(rows)
