"""Answers for a person, within 80 columns: the size, its limits, and what lies behind them."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from fractions import Fraction

from handwheel.cli.units import value_text
from handwheel.drawing.records import Answer
from handwheel.job.records import Measure, Unit
from handwheel.readings.words import INCH_MM, PLACES, in_unit, other

WIDTH = 80
MOST = 6
"""Contributors listed; the rest are summed up in a line."""
WORTH = 0.5
"""Percent of the spread that is worth a line."""
LABEL = 13
NOT_TO_CUT_TO = "Limits that result are what the drawing allows, not limits to cut to."


def answer_lines(answers: Iterable[Answer], units: Unit) -> list[str]:
    """Every answer in a block of its own, a blank line between."""
    lines: list[str] = []
    for answer in answers:
        lines += [*_block(answer, units), ""]
    return [*lines, NOT_TO_CUT_TO] if lines else []


def _block(answer: Answer, units: Unit) -> list[str]:
    of = f" of {answer.part}" if answer.part else ""
    side = f", on the {answer.side} of the step" if answer.side else ""
    lines = textwrap.wrap(f"{answer.ask}{of}{side}", WIDTH, subsequent_indent="  ")
    lines += _sizes(answer, units, "  ")
    if answer.present is not None:
        lines.append(_row("now", _both(answer.measure, (answer.present,), units), "  "))
    for detail in answer.details:
        lines += [f"  {detail.ask}", *_sizes(detail, units, "    ", is_short=answer.measure is Measure.AREA)]
    for note in answer.notes:
        lines += textwrap.wrap(note, WIDTH, initial_indent="  note: ", subsequent_indent="        ")
    return lines


def _sizes(answer: Answer, units: Unit, indent: str, *, is_short: bool = False) -> list[str]:
    """The size as typed, worst case, statistical, and the contributors, the most first."""
    measure = answer.measure
    lines = [_row("nominal", _both(measure, (answer.value,), units), indent)]
    if answer.low == answer.high:
        return [*lines, _row("limits", "no tolerance known for what it rests on", indent)] if not is_short else lines
    lines.append(_row("worst case", _both(measure, (answer.low, answer.high), units), indent))
    if is_short:
        return lines
    if answer.statistical_low is not None and answer.statistical_high is not None:
        spread = (answer.statistical_low, answer.statistical_high)
        lines.append(_row("statistical", _both(measure, spread, units), indent))
    label = "spread from"
    told = [one for one in answer.contributors[:MOST] if one.percent >= WORTH]
    for one in told:
        of = f" of {one.part}" if one.part and one.part != answer.part else ""
        share = f"{value_text(measure, one.share, units)}, {one.percent:.0f} %"
        text = f"{one.phrase}{of}"
        room = WIDTH - len(indent) - LABEL - len(share) - 2
        lines.append(_row(label, f"{textwrap.shorten(text, room, placeholder='…').ljust(min(room, 38))}  {share}", indent))
        label = ""
    rest = answer.contributors[len(told) :]
    if rest:
        lines.append(_row("", f"and {len(rest)} more, {sum(one.percent for one in rest):.1f} % together", indent))
    return lines


def _row(label: str, text: str, indent: str) -> str:
    return f"{indent}{label.ljust(LABEL)}{text}".rstrip()


def _both(measure: Measure, values: tuple[float, ...], units: Unit) -> str:
    """One or two values in the job's unit, and in the other where there is one."""
    first = _range(measure, values, units)
    if measure in (Measure.ANGLE, Measure.RATIO):
        return first
    return f"{first.ljust(26)}  {_range(measure, values, other(units))}"


def _range(measure: Measure, values: tuple[float, ...], units: Unit) -> str:
    """`0.0000 to 0.0009 in`: the unit once."""
    texts = [value_text(measure, value, units) for value in values]
    if measure not in (Measure.ANGLE, Measure.RATIO):
        texts[:-1] = [text.rpartition(" ")[0] for text in texts[:-1]]
    return " to ".join(texts)


def fraction_text(length_mm: float) -> str:
    """The nearest 64th of an inch: `3/4`, `1 5/8`, or with what it is off, `41/64 - 0.0031`."""
    inches = length_mm / INCH_MM
    nearest = Fraction(round(inches * 64), 64)
    off = inches - float(nearest)
    whole, rest = divmod(nearest, 1)
    text = " ".join(str(piece) for piece in (whole, rest) if piece) or "0"
    if abs(off) < 0.5 * 10.0 ** -PLACES[Unit.INCH]:
        return text
    return f"{text} {'-' if off < 0 else '+'} {abs(in_unit(off * INCH_MM, Unit.INCH)):.4f}"
