"""A set-up as it is worked through: its steps in order, then a table of passes."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Step:
    """One step: what it is about in a word or two, what to do with its figures; `keep`: a value to write down, or ""."""

    head: str
    text: str
    keep: str = ""


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
    """A whole set-up of one feature of one part."""

    title: str
    steps: tuple[Step, ...]
    passes: tuple[Pass, ...] = ()
    zero: str = ""
