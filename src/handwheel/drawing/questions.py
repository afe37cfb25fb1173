"""Questions answered: each by what it is; one that has no answer says why and leaves the others answered."""

from __future__ import annotations

from collections.abc import Sequence

from numpy.linalg import LinAlgError

from handwheel.base.faults import Fault
from handwheel.drawing.body import body
from handwheel.drawing.group import no_sense_fault
from handwheel.drawing.known import Known, NoAnswer, as_answer, find_sum
from handwheel.drawing.records import Answer, Question
from handwheel.drawing.section import section
from handwheel.drawing.shape import NoSense
from handwheel.drawing.slope import slope_length
from handwheel.drawing.sothat import so_that
from handwheel.job.questions import Asked, Body, SectionAt, SlopeLength, SoThat, Sum, part_names, phrases_of, with_part
from handwheel.job.records import Phrase


def answer_all(known: Known, questions: Sequence[Question]) -> tuple[list[Answer], list[Fault]]:
    """The answers, and a fault for each question that has none.

    A question that names no part is asked of the job's only part.
    """
    answers: list[Answer] = []
    unanswered: list[Fault] = []
    only = known.job.parts[0].name if len(known.job.parts) == 1 else ""
    for ask, asked in questions:
        phrases = tuple(phrase.text for phrase in phrases_of(asked)) or (ask,)
        try:
            answers += answer(known, ask, with_part(asked, only))
        except NoAnswer as wrong:
            what = wrong.what if ask in wrong.what else f"'{ask}' has no answer: {wrong.what}"
            unanswered.append(Fault("no-answer", asked.span, what, wrong.do, wrong.part, wrong.phrases or phrases))
        except (NoSense, ZeroDivisionError, LinAlgError) as wrong:
            unanswered.append(_no_sense(wrong, ask, asked, only))
    return answers, unanswered


def _no_sense(wrong: NoSense | ZeroDivisionError | LinAlgError, ask: str, asked: Asked, only: str) -> Fault:
    error = wrong if isinstance(wrong, NoSense) else NoSense(f"'{ask}' has no answer here", "ask another size")
    named = next((name for name in part_names(asked) if name), only)
    phrases = phrases_of(asked)
    if phrases:
        return no_sense_fault(error, phrases[0], named)
    what, do = (*error.args, "say it otherwise")[:2]
    return Fault("no-such-size", asked.span, str(what), str(do), named, (ask,))


def answer(known: Known, ask: str, asked: Asked) -> list[Answer]:
    """The answers to one question, more than one only for a section at a step. Raises NoAnswer or NoSense."""
    names = tuple(dict.fromkeys(part_names(asked)))
    if "" in names:
        raise NoAnswer("it does not say of which part", "say 'of' and the part")
    part = names[0] if len(names) == 1 else ""
    if isinstance(asked, Body):
        return [body(known, asked)]
    if isinstance(asked, SlopeLength):
        return [slope_length(known, asked)]
    if isinstance(asked, SectionAt):
        return section(known, asked)
    if isinstance(asked, SoThat):
        return [so_that(known, ask, asked, part)]
    total = as_sum(asked)
    return [as_answer(find_sum(known, total), ask, part, total.measure)]


def as_sum(asked: Phrase | Sum) -> Sum:
    """A phrase as a sum of one."""
    return asked if isinstance(asked, Sum) else Sum(asked.text, asked.span, ((1, asked),))
