"""Sizing: a `Job` to a `Drawing`. Every size solved, its limits with it, and what is wrong in the drawing's words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from handwheel.base.faults import Fault, Notice, in_file_order
from handwheel.drawing.group import build_group, tied_groups
from handwheel.drawing.known import Known
from handwheel.drawing.leeway import Leeway, make_leeway
from handwheel.drawing.questions import answer_all
from handwheel.drawing.records import Drawing, Question, SolvedAssembly, SolvedPart, State
from handwheel.drawing.report import solved_parts
from handwheel.drawing.settle import Settled, settle
from handwheel.drawing.state import judge, worst
from handwheel.drawing.tolerances import Limits, written_limits
from handwheel.job.records import Assembly, Job, Part

UNSOLVED = (State.CONTRADICTORY, State.UNDER_DIMENSIONED, State.AMBIGUOUS)


def size_job(job: Job, questions: Sequence[Question] = ()) -> Drawing:
    """Solve every size of the job.

    Parameters
        job: as read.
        questions: each as typed and as read; a phrase without a part is asked of the job's only part.
    Returns
        The drawing; parts that have no one shape are left out of `parts` and have a fault.
    """
    return gather(job, [size_group(job, members, placed) for members, placed in tied_groups(job)], questions)


@dataclass(frozen=True)
class GroupSizes:
    """What parts that are tied together came to; `settled` and `way` where there is a shape to ask of."""

    states: dict[str, State]
    faults: tuple[Fault, ...]
    notices: tuple[Notice, ...]
    parts: tuple[SolvedPart, ...] = ()
    assemblies: tuple[SolvedAssembly, ...] = ()
    settled: Settled | None = None
    way: Leeway | None = None


@np.errstate(all="ignore")  # what has no end or no number is looked for where it matters, not printed
def size_group(job: Job, members: list[Part], placed: list[Assembly]) -> GroupSizes:
    """Solve every size of parts that are tied together, and of the assemblies they are in."""
    settled = settle(build_group(job, members, placed))
    states, said = judge(settled)
    faults = [r for r in said if isinstance(r, Fault)]
    notices = [r for r in said if isinstance(r, Notice)]
    shaped = None if any(s in (State.CONTRADICTORY, State.AMBIGUOUS) for s in states.values()) else settled
    if settled.v is None or settled.loose or any(s in UNSOLVED for s in states.values()):
        return GroupSizes(states, tuple(faults), tuple(notices), settled=shaped)
    faults += look_up_classes(settled)
    way = make_leeway(settled)
    made, together, lost = solved_parts(way, states)
    notices += [_lost(p) for p in made if p.name in lost]
    return GroupSizes(states, tuple(faults), tuple(notices), tuple(made), tuple(together), shaped, way)


@np.errstate(all="ignore")
def gather(job: Job, groups: Sequence[GroupSizes], questions: Sequence[Question] = ()) -> Drawing:
    """The drawing of all the job's groups, and the answers."""
    states = {name: state for g in groups for name, state in g.states.items()}
    parts = {p.name: p for g in groups for p in g.parts}
    faults = [f for g in groups for f in g.faults]
    shaped = {name: g.settled for g in groups if g.settled is not None for name in g.states}
    ways = {name: g.way for g in groups if g.way is not None for name in g.states}
    answers, unanswered = answer_all(Known(job, shaped, ways, faults, look_up_classes), questions)
    return Drawing(
        job=job,
        state=worst(list(states.values())),
        parts=tuple(parts[p.name] for p in job.parts if p.name in parts),
        assemblies=tuple(a for g in groups for a in g.assemblies),
        faults=in_file_order(faults),
        notices=_in_file_order([*job.notices, *(n for g in groups for n in g.notices)]),
        answers=tuple(answers),
        questions_unanswered=tuple(unanswered),
    )


def _in_file_order(notices: Sequence[Notice]) -> tuple[Notice, ...]:
    """The notices by place, each once."""
    return tuple(sorted(dict.fromkeys(notices), key=lambda n: n.span))


def look_up_classes(settled: Settled) -> list[Fault]:
    """Give sizes that follow another and have an ISO 286 class their limits, now that the size is known."""
    group, v = settled.group, settled.v
    found: list[Fault] = []
    for given in group.givens:
        tolerance = given.dimension.value.tolerance
        if v is None or given.dimension.value.follow is None or tolerance is None or not tolerance.iso286:
            continue
        limits = written_limits(given.dimension, abs(float(group.measured(given.dimension.phrase, given.part)(v))))
        if isinstance(limits, Limits):
            given.limits = limits
        else:
            found.append(limits)
    return found


def _lost(part: SolvedPart) -> Notice:
    what = f"'{part.name}' has no shape at some ends of its limits; low and high go as far as there is one"
    return Notice("limits-without-shape", part.span, what, "narrow the limits near what barely meets", part.name)
