"""`handwheel ask ball | cone … --out-by`: what a stated error of the set-up makes of it."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from handwheel.base.faults import Span
from handwheel.cli.answertext import WIDTH
from handwheel.cli.measured import is_taper
from handwheel.cli.wrong import InputWrong, fault_at
from handwheel.drawing.records import Drawing
from handwheel.job.records import Measure, Unit
from handwheel.job.wrong import Complaints, did_you_mean, quoted
from handwheel.job.yamltext import Scalar
from handwheel.setups.form import BallSetting, Way
from handwheel.setups.predicted import ball_out_words, taper_out_words
from handwheel.setups.tapers import Taper
from handwheel.workshop.fields import exact

OPTION = "--out-by"
SWUNG = "swung: from above"
WORDS = {
    "ball": {"height": Measure.LENGTH, "cross": Measure.LENGTH, "stop": Measure.LENGTH, "radius": Measure.LENGTH,
             "square": Measure.ANGLE},
    "cone": {"angle": Measure.ANGLE, "tool height": Measure.LENGTH, "play": Measure.LENGTH},
}  # fmt: skip


def out_by_lines(kind: str, drawing: Drawing, said: Sequence[str], unit: Unit) -> list[str]:
    """What the errors said make of the ball or cone. Raises InputWrong with every fault."""
    sizes = {a.ask: a.value for a in drawing.answers}
    kind = "cone" if is_taper(kind, sizes) else kind
    words = WORDS.get(kind)
    if words is None:
        raise InputWrong([fault_at("measured-unknown", OPTION, f"no set-up of a {kind} is known", "ask of a ball or a cone")])
    off = _read([one for one in said if one.strip() != SWUNG], words, unit)
    try:
        if kind == "ball":
            radius = sizes["diameter"] / 2.0
            way = Way.ABOVE if any(one.strip() == SWUNG for one in said) else Way.FULL
            setting = BallSetting(radius + off.get("radius", 0.0), off.get("height", 0.0), off.get("cross", 0.0),
                                  off.get("square", 0.0), off.get("stop", 0.0), way)  # fmt: skip
            found = ball_out_words(setting, radius, unit)
        else:
            left, right = sizes["left diameter"], sizes["right diameter"]
            taper = Taper(max(left, right), min(left, right), sizes["length"])
            found = taper_out_words(taper, off.get("angle", 0.0), off.get("tool height", 0.0), unit, abs(off.get("play", 0.0)))
    except (KeyError, ValueError):
        known = "say all sizes of the ball or cone, and an error that is small beside them"
        raise InputWrong([fault_at("measured-unknown", OPTION, "what that makes cannot be worked out", known)]) from None
    lines = ["", "Out by that, it comes to:"]
    for line in found:
        lines += textwrap.wrap(line, WIDTH, initial_indent="  ", subsequent_indent="    ")
    return lines


def _read(said: Sequence[str], words: dict[str, Measure], unit: Unit) -> dict[str, float]:
    """The errors by name, in mm or degrees; a minus before the value is the other way."""
    complaints, off = Complaints(), {}
    for number, saying in enumerate(said, 1):
        key, _, value = saying.partition(":")
        name, text = key.strip(), value.strip()
        if name not in words or not text:
            complaints.add("measured-unknown", Span(OPTION, number, 1), f"{quoted(saying)} is no error of this set-up",
                           did_you_mean(name, (*words, SWUNG)))  # fmt: skip
            continue
        sign = -1.0 if text.startswith(("-", "\N{MINUS SIGN}")) else 1.0
        plain = text[1:].lstrip() if sign < 0.0 else text
        column = len(saying) - len(plain) + 1
        amount = exact(Scalar(plain, Span(OPTION, number, column)), words[name], unit, complaints)
        off[name] = sign * float(amount.value) if amount is not None else 0.0
    if complaints.found:
        raise InputWrong(complaints.found)
    return off
