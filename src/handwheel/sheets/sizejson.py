"""What `size --json` prints, contract section 2, and how figures stand in JSON.

Every length is in millimetres and says so in its key. Figures are rounded to a millionth of a micrometre, only so
that the same job gives the same text; nothing is rounded to what can be measured. Imports nothing of the plan.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence

from handwheel.base.faults import Fault, Remark
from handwheel.drawing.records import Answer, Drawing
from handwheel.job.records import Measure
from handwheel.sheets.answerjson import answer_json
from handwheel.sheets.asmadejson import as_made_json
from handwheel.sheets.jsonfigures import VALUE_KEY, Json, figure


def size_json(drawing: Drawing, more_faults: Iterable[Fault] = ()) -> str:
    """What `size --json` prints for a sized job; `more_faults` are those of questions that could not be read."""
    faults = (*drawing.faults, *more_faults, *drawing.questions_unanswered)
    made = as_made_json(drawing.as_made)
    return _size_text(drawing.job.name, str(drawing.state), faults, drawing.notices, drawing.answers, made)


def unread_json(faults: Iterable[Fault]) -> str:
    """What `size --json` prints for a file that could not be read: no state, since nothing was sized."""
    return _size_text("", None, faults, (), ())


def _size_text(
    job: str,
    state: str | None,
    faults: Iterable[Remark],
    notices: Iterable[Remark],
    answers: Iterable[Answer],
    as_made: Sequence[Json] = (),
) -> str:
    whole: dict[str, object] = {
        "job": job,
        "state": state,
        "faults": [_remark(fault) for fault in faults],
        "notices": [_remark(notice) for notice in notices],
        "answers": [answer_json(answer) for answer in answers],
    }
    return text(whole | ({"as_made": as_made} if as_made else {}))


def text(whole: Json) -> str:
    """The JSON text: ASCII, ending in a line feed."""
    return json.dumps(whole, indent=1, allow_nan=False) + "\n"


def _remark(remark: Remark) -> Json:
    return {"part": remark.part, "phrases": list(remark.phrases), "what": remark.what, "do": remark.do}


def sizes(measure: Measure, value: float, low: float, high: float) -> dict[str, object]:
    """value, low and high under the keys that say what they are measured in."""
    unit = VALUE_KEY[measure]
    return {f"value_{unit}": figure(value), f"low_{unit}": figure(low), f"high_{unit}": figure(high)}
