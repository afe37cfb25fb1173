"""Least and greatest of questions drawn at random, against every combination of the limits and against samples."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import numpy as np

from handwheel.drawing.records import Answer, State
from tests.drawing.generated.check import Verdict, _always, _said
from tests.drawing.generated.choose import Drawn, job_text, written
from tests.drawing.generated.many import asked_many, corners, samples, solved_many
from tests.drawing.generated.phrases import Phrase
from tests.drawing.generated.shape import Part
from tests.drawing.jobs import sized

MOST = 6
SAMPLES = 300
CURVED = 0.0
"""Share of the range by which a corner chosen by slopes may miss."""


def limits_held(one: Drawn, random: Random) -> Verdict | None:
    """Low and high of four questions are the least and greatest over the corners, and no sample lies outside."""
    made, part = one.made, one.part
    can = [i for i, p in enumerate(one.chosen) if not _always(one, p)]
    toleranced = sorted(random.sample(can, min(MOST, len(can))))
    value = np.array([round(p.value(made), 9) for p in one.chosen])
    low, high, lines = value.copy(), value.copy(), []
    for i, phrase in enumerate(one.chosen):
        text = written(value[i], phrase.unit, places=9 if phrase.unit != "ratio" else 15)
        if i in toleranced and phrase.unit == "mm":
            up, down = round(random.uniform(0, 0.08), 3), round(random.uniform(0.001, 0.08), 3)
            low[i], high[i] = value[i] - down, value[i] + up
            text += f" +{up:.3f} -{down:.3f}"
        elif i in toleranced and phrase.unit == "deg":
            low[i], high[i] = value[i] - 0.05, value[i] + 0.05
            text += " ± 0.05 deg"
        else:
            text += "" if phrase.unit != "mm" or _always(one, phrase) else " ± 0"
        lines.append((phrase, text))
    asks = random.sample(one.spare, min(4, len(one.spare)))
    if not asks:
        return None
    text = job_text(part, lines)
    drawing = sized(text, *[a.text for a in asks])
    if drawing.state is State.AMBIGUOUS:
        return None  # whether it is, `given_back` looks into
    if drawing.state is not State.FULLY_DIMENSIONED or drawing.questions_unanswered:
        return Verdict("limits: no answer", False, text, _said(drawing) + str(drawing.questions_unanswered))
    ends = solved_many(part, one.chosen, corners(low, high, toleranced))
    between = solved_many(part, one.chosen, samples(low, high, SAMPLES, random))
    if not np.isfinite(ends).all() or not np.isfinite(between).all():
        return None  # at some corner there is no such part
    for ask, answer in zip(asks, drawing.answers, strict=True):
        verdict = _one_answer(ask, answer, (value_at(part, ask, ends), value_at(part, ask, between)), ask.value(made))
        if verdict is not None:
            return replace(verdict, text=text)
    return Verdict("limits: held", True)


def value_at(part: Part, ask: Phrase, x: np.ndarray) -> np.ndarray:
    """The question's value at each column of free numbers, written positive."""
    found = asked_many(part, ask, x)
    return np.where(found < 0, -found, found) if " to " in ask.text and ask.unit == "mm" else found


def _one_answer(ask: Phrase, answer: Answer, over: tuple[np.ndarray, np.ndarray], true: float) -> Verdict | None:
    """What is wrong with an answer, if anything."""
    ends, between = over
    near = 1e-6 * max(1.0, abs(true))
    if abs(answer.value - true) > near:
        return Verdict("limits: another part", False, note=f"{ask.text}: {answer.value}, known {true}")
    least, most = min(ends.min(), between.min()), max(ends.max(), between.max())
    if most - least > abs(true):
        return None  # where it is all but infinite, or changes its side
    said = f"{ask.text}: {answer.low} .. {answer.high}; corners {ends.min()} .. {ends.max()}; all {least} .. {most}"
    slack = near + CURVED * (most - least)
    if answer.low > least + slack or answer.high < most - slack:
        return Verdict("limits: not wide enough", False, note=said)
    if answer.low < ends.min() - near - CURVED * (most - least) or answer.high > ends.max() + slack:
        return Verdict("limits: wider than every corner", False, note=said)
    return None
