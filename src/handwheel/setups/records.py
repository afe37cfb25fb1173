"""A set-up as it is worked through: its steps in order, one part's figures, then a table of passes."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Step:
    """One step, the same for every part: what it is about in a word or two, and what to do."""

    head: str
    text: str


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of one part's set-up: what it is, and its value in words."""

    head: str
    value: str


@dataclass(frozen=True, slots=True)
class Pass:
    """One pass of a ball tool. [mm]

    radius_mm: the tip's, as the screw's nearest line makes it. exact_mm: as wanted. `reading`: from the zero, in words.
    """

    number: int
    radius_mm: float
    exact_mm: float
    reading: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Procedure:
    """A whole set-up of one feature of one part. `subject`: what is set, the same for every part set so.

    `zero`: from where the passes are counted; "" where there are none.
    """

    subject: str
    steps: tuple[Step, ...]
    figures: tuple[Figure, ...]
    passes: tuple[Pass, ...] = ()
    zero: str = ""
