"""From a path to a sized job: the file, its questions, the drawing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from handwheel.base.faults import Fault
from handwheel.cli.files import read_input
from handwheel.cli.wrong import InputWrong, fault_at
from handwheel.drawing.records import Drawing, Question, State
from handwheel.drawing.size import size_job
from handwheel.job.read import read_job, read_question
from handwheel.job.records import Job, Phrase

GOOD = (State.FULLY_DIMENSIONED, State.OVER_DIMENSIONED)


def load_job(path: str) -> Job:
    """The job in that file. Raises InputWrong with every fault of reading."""
    job, faults = read_job(read_input(path), path)
    if job is None or faults:
        raise InputWrong(faults)
    return job


@dataclass(frozen=True, slots=True)
class Asked:
    """Questions as read, each with its part; those that name it themselves; the faults of those not understood."""

    questions: tuple[Question, ...]
    own: frozenset[str]
    faults: tuple[Fault, ...]


def read_asked(job: Job, asks: Sequence[str], part: str | None) -> Asked:
    """The questions as read. One that names no part is asked of `part`, or of every part of which it makes sense.

    Raises InputWrong for a part that the job does not have.
    """
    names = [each.name for each in job.parts]
    if part is not None and part not in names:
        known = f"the parts are: {', '.join(names)}"
        raise InputWrong([fault_at("part-unknown", job.file, f"there is no part '{part}'", known)])
    questions: list[Question] = []
    own: set[str] = set()
    faults: list[Fault] = []
    for ask in asks:
        read = [(name, read_question(ask, job, name)) for name in ([part] if part is not None else names)]
        found = [(name, phrase) for name, phrase in read if isinstance(phrase, Phrase)]
        if not found:
            faults.extend([fault for _, fault in read if isinstance(fault, Fault)][:1])
        elif part is None and len(names) > 1 and names_half(found[0][1]):
            faults.append(fault_at("part-missing", "--ask", f"'{ask}' says of one point only of which part it is",
                                   "add 'of PART' to the other, or choose with --part"))  # fmt: skip
        elif names_its_part(found[0][1]):
            own.add(ask)
            questions.append((ask, found[0][1]))
        else:
            questions.extend((ask, of_part(phrase, name)) for name, phrase in found)
    return Asked(tuple(questions), frozenset(own), tuple(faults))


def names_its_part(phrase: Phrase) -> bool:
    """Whether the phrase says itself of which part it is: at its end, or at each of its points."""
    points = [point for point in (phrase.start, phrase.end, phrase.at) if point is not None]
    return bool(phrase.part) or bool(points and all(point.part for point in points))


def names_half(phrase: Phrase) -> bool:
    """Whether one of its two points names a part and the other none."""
    points = [point for point in (phrase.start, phrase.end) if point is not None]
    return not phrase.part and any(p.part for p in points) and not all(p.part for p in points)


def of_part(phrase: Phrase, part: str) -> Phrase:
    """The phrase with its part put in where it names none; only at its points where one of them names another."""
    points = (phrase.start, phrase.end)
    if not any(point is not None and point.part for point in points):
        return replace(phrase, part=part)
    start, end = (point and replace(point, part=point.part or part) for point in points)
    return replace(phrase, start=start, end=end)


def size_with(job: Job, asks: Sequence[str], part: str | None) -> tuple[Drawing, tuple[Fault, ...]]:
    """The job sized and asked, and the faults of questions that could not be read.

    An answer's part is left out where the question named its own.
    """
    asked = read_asked(job, asks, part)
    drawing = size_job(job, asked.questions)
    answers = tuple(replace(a, part="") if a.ask in asked.own else a for a in drawing.answers)
    return replace(drawing, answers=answers), asked.faults


def is_good(drawing: Drawing) -> bool:
    """Whether the job can be worked from: fully dimensioned, or with repeats that agree."""
    return drawing.state in GOOD and not drawing.faults
