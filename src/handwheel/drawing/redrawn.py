"""A job's dimensions by part and phrase: asked for, changed, made exact or loose; pure functions from job to job."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from handwheel.drawing.records import Answer, Drawing, SolvedDimension
from handwheel.drawing.size import size_job
from handwheel.job.ask import read_question
from handwheel.job.records import DrawnDimension, Job, Phrase, Tolerance

Key = tuple[str, str]
"""Part ("" for an assembly) and phrase."""
FINE = Fraction(1, 1_000_000)


def own(phrase: Phrase, part: str) -> Phrase:
    """The phrase as a question about a part."""
    points = [p for p in (phrase.start, phrase.end, phrase.at) if p is not None]
    return phrase if phrase.part or not part or any(p.part for p in points) else replace(phrase, part=part)


def phrase_of(key: Key, job: Job) -> Phrase | None:
    """A size's phrase: a dimension's own, else its text read as a question."""
    drawn = drawn_of(job).get(key)
    if drawn is not None:
        return drawn.phrase
    if key in bracketed(job):
        return bracketed(job)[key]
    found = read_question(key[1], job, key[0] or None)
    return found if isinstance(found, Phrase) else None


def drawn_of(job: Job) -> dict[Key, DrawnDimension]:
    """Every dimension but those in brackets, by part and phrase."""
    found = {(p.name, d.phrase.text): d for p in job.parts for d in p.dimensions if not d.value.auxiliary}
    return found | {("", d.phrase.text): d for a in job.assemblies for d in a.dimensions if not d.value.auxiliary}


def bracketed(job: Job) -> dict[Key, Phrase]:
    """The phrases of the dimensions in brackets, by part and phrase."""
    found = {(p.name, d.phrase.text): d.phrase for p in job.parts for d in p.dimensions if d.value.auxiliary}
    return found | {("", d.phrase.text): d.phrase for a in job.assemblies for d in a.dimensions if d.value.auxiliary}


def changed(job: Job, change: Callable[[Key, DrawnDimension], DrawnDimension | None]) -> Job:
    """The job with every dimension put through `change`; None leaves it out."""

    def through(part: str, dimensions: Sequence[DrawnDimension]) -> tuple[DrawnDimension, ...]:
        found = [d if d.value.auxiliary else change((part, d.phrase.text), d) for d in dimensions]
        return tuple(d for d in found if d is not None)

    return replace(
        job,
        parts=tuple(replace(p, dimensions=through(p.name, p.dimensions)) for p in job.parts),
        assemblies=tuple(replace(a, dimensions=through("", a.dimensions)) for a in job.assemblies),
    )


def exactly(dimension: DrawnDimension, value: Fraction) -> DrawnDimension:
    """The dimension at a value, following nothing, without tolerance."""
    number = replace(dimension.value.number, value=value)
    return replace(
        dimension,
        value=replace(dimension.value, number=number, follow=None, tolerance=Tolerance(Fraction(0), Fraction(0))),
    )


def shifted(dimension: DrawnDimension, by: float, limits: tuple[float, float]) -> DrawnDimension:
    """The dimension moved, its limits staying where they are on the drawing; `limits` are the deviations drawn."""
    step = Fraction(by)
    number = replace(dimension.value.number, value=dimension.value.number.value + step)
    low, high = Fraction(limits[0]) - step, Fraction(limits[1]) - step
    return replace(dimension, value=replace(dimension.value, number=number, tolerance=Tolerance(low, high)))


def loosened(job: Job, drawing: Drawing, more: frozenset[Key] = frozenset()) -> Job:
    """The job with a hair of tolerance on what is exact, and on `more`, so that what moves with it can be told."""
    exact = {k for k, d in given_of(drawing).items() if d.tolerance == (0.0, 0.0)} | more

    def loosen(key: Key, dimension: DrawnDimension) -> DrawnDimension:
        if key not in exact:
            return dimension
        return replace(dimension, value=replace(dimension.value, tolerance=Tolerance(-FINE, FINE)))

    return changed(job, loosen)


def given_of(drawing: Drawing) -> dict[Key, SolvedDimension]:
    """The given dimensions solved, by part and phrase."""
    found = {(p.name, d.phrase): d for p in drawing.parts for d in p.dimensions if d.given}
    return found | {("", d.phrase): d for a in drawing.assemblies for d in a.dimensions if d.given}


def asked(job: Job, phrases: Mapping[Key, Phrase]) -> dict[Key, Answer]:
    """The answers to phrases by part and phrase; those without an answer are left out."""
    keys = {f"{i}": key for i, key in enumerate(phrases)}
    found = size_job(job, [(i, own(phrases[key], key[0])) for i, key in keys.items()])
    return {keys[a.ask]: a for a in found.answers}


def half_room(size: SolvedDimension) -> float:
    """Half the tolerance drawn."""
    return (size.tolerance[1] - size.tolerance[0]) / 2.0
