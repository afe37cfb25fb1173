"""Sizing: a `Job` to a `Drawing`. Every size solved, its limits with it, and what is wrong in the drawing's words."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.base.faults import Fault, Notice, in_file_order
from handwheel.drawing.group import build_group, no_sense_fault, tied_groups
from handwheel.drawing.leeway import Leeway, make_leeway
from handwheel.drawing.records import Answer, Drawing, SolvedAssembly, SolvedPart, State
from handwheel.drawing.report import answer, solved_parts
from handwheel.drawing.settle import Settled, settle
from handwheel.drawing.shape import NoSense
from handwheel.drawing.state import judge, worst
from handwheel.drawing.tolerances import Limits, written_limits
from handwheel.job.records import AsMade, Job, Phrase

UNSOLVED = (State.CONTRADICTORY, State.UNDER_DIMENSIONED, State.AMBIGUOUS)


def size_job(job: Job, questions: Sequence[tuple[str, Phrase]] = ()) -> Drawing:
    """Solve every size of the job.

    Parameters
        job: as read.
        questions: each as typed and as read; a phrase without a part is asked of the job's only part.
    Returns
        The drawing; parts that have no one shape are left out of `parts` and have a fault.
    """
    parts: dict[str, SolvedPart] = {}
    assemblies: list[SolvedAssembly] = []
    faults: list[Fault] = []
    notices: list[Notice] = list(job.notices)
    states: dict[str, State] = {}
    ways: dict[str, Leeway] = {}
    for members, placed in tied_groups(job):
        group = build_group(job, members, placed)
        settled = settle(group)
        found, said = judge(settled)
        faults += [r for r in said if isinstance(r, Fault)]
        notices += [r for r in said if isinstance(r, Notice)]
        states.update(found)
        if settled.v is None or settled.loose or any(s in UNSOLVED for s in found.values()):
            continue
        faults += look_up_classes(settled)
        way = make_leeway(settled)
        made, together, lost = solved_parts(way, found)
        parts.update((p.name, p) for p in made)
        assemblies += together
        notices += [_lost(p) for p in made if p.name in lost]
        ways.update(dict.fromkeys(found, way))
    notices += [_not_used(made) for made in job.as_made]
    ordered = tuple(parts[p.name] for p in job.parts if p.name in parts)
    answers, unanswered = _answers(job, questions, ways)
    return Drawing(
        job=job,
        state=worst(list(states.values())),
        parts=ordered,
        assemblies=tuple(assemblies),
        faults=in_file_order(faults),
        notices=tuple(dict.fromkeys(notices)),
        answers=tuple(answers),
        questions_unanswered=tuple(unanswered),
    )


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


def _not_used(made: AsMade) -> Notice:
    phrase = made.dimension.phrase
    what = f"the size as made of '{made.part}' {made.copy} is read, but what is left is not worked out again from it yet"
    return Notice("as-made-not-used", phrase.span, what, "work from the drawing's sizes", made.part, (phrase.text,))


def _lost(part: SolvedPart) -> Notice:
    what = f"'{part.name}' has no shape at some ends of its limits; low and high go as far as there is one"
    return Notice("limits-without-shape", part.span, what, "narrow the limits near what barely meets", part.name)


def _answers(
    job: Job, questions: Sequence[tuple[str, Phrase]], ways: dict[str, Leeway]
) -> tuple[list[Answer], list[Fault]]:
    answers: list[Answer] = []
    unanswered: list[Fault] = []
    for ask, phrase in questions:
        points = [p for p in (phrase.start, phrase.end) if p is not None]
        named = phrase.part or next((p.part for p in points if p.part), "")
        only = job.parts[0].name if len(job.parts) == 1 else ""
        way = ways.get(named or only)
        if way is None:
            what = f"'{ask}' cannot be answered: " + (
                f"'{named or only}' is not fully dimensioned" if named or only else "it names no part"
            )
            do = "mend its dimensions" if named or only else "say 'of' and the part"
            unanswered.append(Fault("no-answer", phrase.span, what, do, named or only, (phrase.text,)))
            continue
        try:
            answers.append(answer(way, ask, phrase if named else _of(phrase, only)))
        except (NoSense, ZeroDivisionError) as wrong:
            error = wrong if isinstance(wrong, NoSense) else NoSense(f"'{ask}' has no answer here", "ask another size")
            unanswered.append(no_sense_fault(error, phrase, named or only))
    return answers, unanswered


def _of(phrase: Phrase, part: str) -> Phrase:
    from dataclasses import replace

    return replace(phrase, part=part)
