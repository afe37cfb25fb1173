"""Questions as read: a phrase, a sum of phrases, one size so that another comes out, a section, a whole body."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from handwheel.base.faults import Span
from handwheel.job.records import ZERO, Measure, Number, Phrase, Point


class Whole(StrEnum):
    """What can be asked of a whole part; the value is the question's own word."""

    VOLUME = "volume"
    MASS = "mass"
    SURFACE = "surface area"


@dataclass(frozen=True, slots=True)
class Sum:
    """Phrases added and taken away, and a value added: `socket diameter of knob - tenon diameter of lever + 0.001`.

    `terms` are (+1 or -1, phrase), all of one measure; `constant` is in mm, degrees or diameter per length.
    """

    text: str
    span: Span
    terms: tuple[tuple[int, Phrase], ...]
    constant: Fraction = ZERO

    @property
    def measure(self) -> Measure:
        """What sort of quantity it is."""
        return self.terms[0][1].size.measure


@dataclass(frozen=True, slots=True)
class SoThat:
    """`CHANGE so that AIM is WANTED`: the value of one size for which another comes out as wanted."""

    text: str
    span: Span
    change: Phrase
    aim: Sum
    wanted: Number


@dataclass(frozen=True, slots=True)
class SectionAt:
    """`section at POINT`: the metal's diameters and area at a station. `part` is "" where none is named."""

    text: str
    span: Span
    at: Point
    part: str = ""


@dataclass(frozen=True, slots=True)
class Body:
    """`volume`, `mass` or `surface area` of a part."""

    text: str
    span: Span
    what: Whole
    part: str = ""


@dataclass(frozen=True, slots=True)
class SlopeLength:
    """`slope length of FEATURE`: how long a straight surface is, measured along itself."""

    text: str
    span: Span
    feature: str
    part: str = ""


Asked = Phrase | Sum | SoThat | SectionAt | Body | SlopeLength
"""Any question."""


def phrases_of(asked: Asked) -> tuple[Phrase, ...]:
    """The phrases of which a question is made."""
    if isinstance(asked, Phrase):
        return (asked,)
    if isinstance(asked, Sum):
        return tuple(phrase for _, phrase in asked.terms)
    return (asked.change, *phrases_of(asked.aim)) if isinstance(asked, SoThat) else ()


def part_names(asked: Asked) -> tuple[str, ...]:
    """What each part of the question names as its part, "" where it names none."""
    if isinstance(asked, SectionAt | Body | SlopeLength):
        return (asked.part,)
    return tuple(name for phrase in phrases_of(asked) for name in _names(phrase))


def _names(phrase: Phrase) -> tuple[str, ...]:
    points = [point for point in (phrase.start, phrase.end) if point is not None]
    return tuple(point.part or phrase.part for point in points) or (phrase.part,)


def with_part(asked: Asked, part: str) -> Asked:
    """The question with that part put in wherever it names none."""
    if isinstance(asked, SectionAt | Body | SlopeLength):
        return replace(asked, part=asked.part or part)
    return _each(asked, lambda phrase: _of(phrase, part))


def _each(asked: Phrase | Sum | SoThat, change: Callable[[Phrase], Phrase]) -> Asked:
    if isinstance(asked, Phrase):
        return change(asked)
    if isinstance(asked, Sum):
        return replace(asked, terms=tuple((sign, change(phrase)) for sign, phrase in asked.terms))
    terms = tuple((sign, change(phrase)) for sign, phrase in asked.aim.terms)
    return replace(asked, change=change(asked.change), aim=replace(asked.aim, terms=terms))


def _of(phrase: Phrase, part: str) -> Phrase:
    if not any(point is not None and point.part for point in (phrase.start, phrase.end)):
        return replace(phrase, part=phrase.part or part)
    start, end = (
        point and replace(point, part=point.part or phrase.part or part) for point in (phrase.start, phrase.end)
    )
    return replace(phrase, start=start, end=end)


def said_of(phrase: Phrase, part: str) -> str:
    """The phrase as said from outside its part: with `of PART` where it does not say so itself."""
    return phrase.text if " of " in phrase.text or not part else f"{phrase.text} of {part}"
