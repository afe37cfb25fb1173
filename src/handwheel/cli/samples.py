"""`handwheel size JOB --samples N`: how sizes scatter over many copies made at random within their limits."""

from __future__ import annotations

from collections.abc import Sequence
from math import isnan

from handwheel.base.faults import Fault
from handwheel.cli.load import is_good, load_job, read_asked, size_with
from handwheel.cli.table import columns
from handwheel.cli.units import value_text
from handwheel.cli.wrong import DONE, WRONG, InputWrong, fault_at, tell
from handwheel.drawing.sampling import Scatter, Spread, scatters
from handwheel.job.records import Measure, Phrase, Unit

MOST = 1_000_000
HEAD = ("size", "mean", "deviation", "0.135 %", "99.865 %", "beyond its limits")


def samples(path: str, part: str | None, asks: Sequence[str], count: int, spread: str) -> int:
    """Prints a line for every question and every size that is drawn only to be checked; returns the exit status."""
    if not 2 <= count <= MOST:
        raise InputWrong([fault_at("command-line", "--samples", f"{count} copies", f"ask for 2 to {MOST}")])
    job = load_job(path)
    drawing, _ = size_with(job, [], part)
    if not is_good(drawing):
        tell(drawing.faults)
        return WRONG
    asked = read_asked(job, asks, part)
    unread: list[Fault] = list(asked.faults)
    phrases = [phrase for _, phrase in asked.questions if isinstance(phrase, Phrase)]
    for ask in dict.fromkeys(ask for ask, phrase in asked.questions if not isinstance(phrase, Phrase)):
        unread.append(fault_at("command-line", "--ask", f"'{ask}' is not one size", "ask for one size at a time"))
    found = scatters(job, phrases, count, spread=Spread(spread))
    if found:
        print("\n".join(columns([HEAD, *(_cells(one, job.units) for one in found)])))
    elif not unread:
        print("Nothing is drawn in brackets with limits; ask for a size with --ask.")
    how = "cut at the limits, three deviations from the middle" if spread == Spread.NORMAL else "even between the limits"
    print(f"{count} copies at random, {how}.")
    tell(unread)
    return WRONG if unread else DONE


def _cells(one: Scatter, units: Unit) -> tuple[str, ...]:
    name = f"{one.phrase.text} of {one.part}" if one.part and not one.phrase.part else one.phrase.text
    if isnan(one.mean):
        return (name, *("",) * 4, "no copy has a shape")
    measure = one.phrase.size.measure
    values = (one.mean, one.deviation, one.low, one.high)
    beyond = "" if one.outside is None else f"{100.0 * one.outside:.3g} %"
    if one.without_shape:
        beyond += f" ({100.0 * one.without_shape:.3g} % have no shape)"
    if measure is Measure.RATIO:
        return (name, *(f"{value:.6f}" for value in values), beyond)
    return (name, *(value_text(measure, value, units) for value in values), beyond)
