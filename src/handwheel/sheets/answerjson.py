"""An answer as it stands in JSON: the contract's keys, then what lies behind the limits and what else was answered."""

from __future__ import annotations

from handwheel.drawing.records import Answer, Contribution
from handwheel.sheets.jsonfigures import VALUE_KEY, Json, figure


def answer_json(answer: Answer) -> Json:
    """One answer. Every figure's key ends in its unit: mm, deg, ratio, mm2, mm3, g."""
    unit = VALUE_KEY[answer.measure]
    made: dict[str, object] = {"ask": answer.ask}
    if answer.part:
        made["part"] = answer.part
    if answer.side:
        made["side"] = answer.side
    for key, value in (("value", answer.value), ("low", answer.low), ("high", answer.high)):
        made[f"{key}_{unit}"] = figure(value)
    for key, more in (("statistical_low", answer.statistical_low), ("statistical_high", answer.statistical_high),
                      ("present", answer.present)):  # fmt: skip
        if more is not None:
            made[f"{key}_{unit}"] = figure(more)
    made["contributors"] = [_contribution(one, unit) for one in answer.contributors]
    if answer.details:
        made["details"] = [answer_json(one) for one in answer.details]
    if answer.notes:
        made["notes"] = list(answer.notes)
    return made


def _contribution(one: Contribution, unit: str) -> Json:
    return {"part": one.part, "phrase": one.phrase, f"share_{unit}": figure(one.share), "percent": figure(one.percent)}
