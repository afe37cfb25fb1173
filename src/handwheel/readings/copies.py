"""Readings for copies with sizes as made: the parts planned again with those sizes, and what differs from the drawing's.

Where the copy's route has the same operations, only the readings and tools that differ are given; sizes that the measured
ones alone fix are made already and left out. Where it has others, nothing is given and it is said.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from handwheel.drawing.asmaderecords import AsMadeOutcome
from handwheel.drawing.records import Drawing, State
from handwheel.drawing.redrawn import asked, loosened
from handwheel.drawing.size import size_job
from handwheel.job.ask import read_question
from handwheel.job.records import Phrase
from handwheel.plan.records import Operation, PartPlan, Plan, Sum
from handwheel.plan.route import plan_job
from handwheel.plan.working import station_of, station_phrase
from handwheel.readings.of import readings_of, workable
from handwheel.readings.records import Reading
from handwheel.workshop.records import Workshop

Readings = Mapping[tuple[str, int], tuple[Reading, ...]]
SAME_MM = 5e-4
STILL = 1e-6
GOOD = (State.FULLY_DIMENSIONED, State.OVER_DIMENSIONED)


@dataclass(frozen=True, slots=True)
class CopyReading:
    """A reading that is another on this copy: the operation's kind, the reading now, and the drawing's."""

    kind: str
    now: Reading
    was: Reading


@dataclass(frozen=True, slots=True)
class CopyTool:
    """Another tool on this copy, in an operation."""

    operation: int
    kind: str
    now: str
    was: str


@dataclass(frozen=True, slots=True)
class CopySum:
    """A sum with another figure in it on this copy."""

    operation: int
    kind: str
    now: Sum
    was: Sum


@dataclass(frozen=True, slots=True)
class CopyReadings:
    """What changes at the wheels for one part of a set of copies; `cannot`: why no readings are given, else ""."""

    part: str
    readings: tuple[CopyReading, ...]
    tools: tuple[CopyTool, ...] = ()
    cannot: str = ""
    sums: tuple[CopySum, ...] = ()


def copy_readings(
    drawing: Drawing, plan: Plan, readings: Readings, workshop: Workshop
) -> tuple[tuple[CopyReadings, ...], ...]:
    """For each set of copies in `drawing.as_made`, its parts' readings that differ."""
    return tuple(_of_set(outcome, drawing, plan, readings, workshop) for outcome in drawing.as_made)


def _of_set(
    outcome: AsMadeOutcome, drawing: Drawing, plan: Plan, readings: Readings, workshop: Workshop
) -> tuple[CopyReadings, ...]:
    sized = size_job(outcome.job)
    names = [part for part, _ in outcome.copies]
    if outcome.cannot or sized.state not in GOOD or sized.faults:
        return ()
    again = plan_job(sized, workshop)
    now = readings_of(again, workshop)
    before, after = ({p.part: p for p in each.parts} for each in (plan, again))
    return tuple(
        _of_part(before[name], after[name], readings, now, _made(outcome, drawing, after[name]))
        for name in names
        if name in before and name in after
    )


def _made(outcome: AsMadeOutcome, drawing: Drawing, part: PartPlan) -> set[str]:
    """Of the sizes that the route makes those that are made: nothing that is left to make moves them."""
    phrases: dict[tuple[str, str], Phrase] = {}
    for operation in workable(part):
        for move in operation.moves:
            text = _finished(move.makes.phrase, operation) if move.makes else ""
            read = read_question(text, outcome.job, part.part) if text else None
            if isinstance(read, Phrase):
                phrases[part.part, text] = read
    done = {(m.size.part, m.size.phrase) for m in outcome.measured}
    answers = asked(loosened(outcome.job, drawing), phrases)
    return {k[1] for k, a in answers.items() if not any(abs(s) > STILL for key, s in a.shares if key not in done)}


def _finished(phrase: str, operation: Operation) -> str:
    """What a length of the route means in the finished part; other sizes mean themselves."""
    station = station_of(phrase, operation.holding.toward_tailstock)
    return phrase if station is None else station_phrase(*station).text


def _of_part(before: PartPlan, after: PartPlan, readings: Readings, now: Readings, made: set[str]) -> CopyReadings:
    old, new = list(workable(before)), list(workable(after))
    if after.refused or len(new) < len(after.stages):
        return CopyReadings(after.part, (), cannot=f"cannot be made so here: {after.refused or 'an operation is refused'}")
    if [_acts(o) for o in old] != [_acts(o) for o in new]:
        return CopyReadings(after.part, (), cannot="its route has other operations than the drawing's: set and measure")
    found, tools, sums = [], [], []
    for was, operation in zip(old, new, strict=True):
        key = (after.part, operation.number)
        if was.cutter.name != operation.cutter.name:
            tools.append(CopyTool(operation.number, operation.kind, operation.cutter.name, was.cutter.name))
        for drawn, reading in zip(readings.get(key, ()), now[key], strict=False):
            is_made = reading.makes is not None and _finished(reading.makes.phrase, operation) in made
            if _differs(drawn, reading) and not is_made:
                found.append(CopyReading(operation.kind, reading, drawn))
        by_words = {(s.measured, s.result): s for s in operation.sums}  # a size that is made may have none
        for drawn_sum in was.sums:
            asked_sum = by_words.get((drawn_sum.measured, drawn_sum.result))
            if asked_sum is not None and _is_other(drawn_sum, asked_sum):
                sums.append(CopySum(operation.number, operation.kind, asked_sum, drawn_sum))
    return CopyReadings(after.part, tuple(found), tuple(tools), sums=tuple(sums))


def _acts(operation: Operation) -> tuple[int, str, int]:
    return operation.number, operation.kind, len(operation.moves)


def _is_other(was: Sum, now: Sum) -> bool:
    limits = zip(was.limits_mm or (), now.limits_mm or (), strict=False)
    return abs(was.wanted_mm - now.wanted_mm) > SAME_MM or any(abs(a - b) > SAME_MM for a, b in limits)


def _differs(was: Reading, now: Reading) -> bool:
    if (was.wheel, was.way, was.zero) != (now.wheel, now.way, now.zero) or abs(was.exact_mm - now.exact_mm) > SAME_MM:
        return True
    pairs = [(m.working_low_mm, m.working_high_mm) if m else (None, None) for m in (was.makes, now.makes)]
    return any((a is None) != (b is None) or abs((a or 0.0) - (b or 0.0)) > SAME_MM for a, b in zip(*pairs, strict=True))
