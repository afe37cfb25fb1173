"""A set-up as it is worked through: its steps in order, one part's figures, then a table of passes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


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
class Sketch:
    """A picture beside a step, by what it is drawn from.

    name: which picture. step: the head of its step. sizes: by their names. [mm], [deg] outline: the metal's half section,
    (u, r) from the place it is about, u toward the tailstock. [mm] keys: its letters, and the head of the figure that each
    stands for. words: what is written by a letter, or says how it is drawn. is_own: drawn for each part to its own scale.
    """

    name: str
    step: str
    sizes: Mapping[str, float] = field(default_factory=dict)
    outline: tuple[tuple[float, float], ...] = ()
    keys: Mapping[str, str] = field(default_factory=dict)
    words: Mapping[str, str] = field(default_factory=dict)
    is_own: bool = False


@dataclass(frozen=True, slots=True)
class Procedure:
    """A whole set-up of one feature of one part. `subject`: what is set, the same for every part set so.

    `zero`: from where the passes are counted; "" where there are none. `sketches`: pictures of its steps.
    """

    subject: str
    steps: tuple[Step, ...]
    figures: tuple[Figure, ...]
    passes: tuple[Pass, ...] = ()
    zero: str = ""
    sketches: tuple[Sketch, ...] = ()
