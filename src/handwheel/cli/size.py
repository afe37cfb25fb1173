"""The command `size`: sizes and questions, nothing planned, so nothing heavy is imported."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from handwheel.base.faults import Fault
from handwheel.cli.answertext import answer_lines
from handwheel.cli.load import is_good, load_job, size_with
from handwheel.cli.table import drawing_lines
from handwheel.cli.wrong import DONE, WRONG, InputWrong, tell
from handwheel.drawing.records import Drawing
from handwheel.job.records import Job
from handwheel.sheets.asmadetext import as_made_lines


def size(path: str, part: str | None, asks: Sequence[str], as_json: bool) -> int:
    """`handwheel size`: prints the sizes, or the contract's JSON; returns the exit status."""
    if as_json:
        return _size_json(path, part, asks)
    job = load_job(path)
    return _show(job, asks, part)


def _show(job: Job, asks: Sequence[str], part: str | None) -> int:
    drawing, unread = size_with(job, asks, part)
    if is_good(drawing):
        print("\n".join([*as_made_lines(drawing.as_made, job.units, part), *drawing_lines(drawing, part)]))
        if drawing.answers:
            print()
    for line in answer_lines(drawing.answers, job.units):
        print(line)
    return _status(drawing, unread)


def _status(drawing: Drawing, unread: Sequence[Fault]) -> int:
    """Tell what is wrong, one line a fault; or, where nothing is, what was noticed."""
    if is_good(drawing):
        tell(drawing.notices)
    tell([*drawing.faults, *unread, *drawing.questions_unanswered])
    return DONE if is_good(drawing) and not unread and not drawing.questions_unanswered else WRONG


def _size_json(path: str, part: str | None, asks: Sequence[str]) -> int:
    from handwheel.sheets.sizejson import size_json, unread_json

    try:
        drawing, unread = size_with(load_job(path), asks, part)
    except InputWrong as wrong:
        sys.stdout.write(unread_json(wrong.faults))
        raise
    sys.stdout.write(size_json(drawing, unread))
    return _status(drawing, unread)
