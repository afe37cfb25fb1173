"""From a path to a sized job: the file, its questions, the drawing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from handwheel.base.faults import Fault
from handwheel.cli.files import read_input
from handwheel.cli.wrong import InputWrong, fault_at
from handwheel.drawing.asmade import with_as_made
from handwheel.drawing.records import Drawing, Question, State
from handwheel.drawing.size import size_job
from handwheel.job.inches import has_inches
from handwheel.job.questions import part_names, with_part
from handwheel.job.read import read_job, read_question
from handwheel.job.records import Job

GOOD = (State.FULLY_DIMENSIONED, State.OVER_DIMENSIONED)
LEAST_ROOM_MM = Fraction(50)
"""A watchmaker's lathe has more; for sizes below it no workshop needs to be read."""


def load_job(path: str) -> Job:
    """The job in that file. Raises InputWrong with every fault of reading."""
    job, faults = read_job(read_input(path), path)
    if job is None or faults:
        raise InputWrong(faults)
    return with_doubts(job)


def with_doubts(job: Job) -> Job:
    """The job with notices of sizes that its lathe makes doubtful; without them where the workshop cannot be read.

    A workshop that cannot be read is a fault only where something is to be made in it.
    """
    if not has_inches(job, LEAST_ROOM_MM):
        return job
    from handwheel.cli.make import load_workshop
    from handwheel.workshop.beyond import beyond_the_lathe

    try:
        workshop = load_workshop(job)
    except InputWrong:
        return job
    return replace(job, notices=(*job.notices, *beyond_the_lathe(job, workshop.lathe)))


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
        found = [(name, one) for name, one in read if not isinstance(one, Fault)]
        if not found:
            faults.extend([fault for _, fault in read if isinstance(fault, Fault)][:1])
            continue
        said = part_names(found[0][1])
        if part is None and len(names) > 1 and any(said) and not all(said):
            faults.append(fault_at("part-missing", "--ask", f"'{ask}' says of one point only of which part it is",
                                   "add 'of PART' to the other, or choose with --part"))  # fmt: skip
        elif all(said):
            own.add(ask)
            questions.append((ask, found[0][1]))
        else:
            questions.extend((ask, with_part(one, name)) for name, one in found)
    return Asked(tuple(questions), frozenset(own), tuple(faults))


def size_with(job: Job, asks: Sequence[str], part: str | None) -> tuple[Drawing, tuple[Fault, ...]]:
    """The job sized and asked, and the faults of questions that could not be read.

    An answer's part is left out where the question named its own.
    """
    asked = read_asked(job, asks, part)
    drawing = with_as_made(size_job(job, asked.questions))
    answers = tuple(replace(a, part="") if a.ask in asked.own else a for a in drawing.answers)
    return replace(drawing, answers=answers), asked.faults


def is_good(drawing: Drawing) -> bool:
    """Whether the job can be worked from: fully dimensioned, or with repeats that agree."""
    return drawing.state in GOOD and not drawing.faults
