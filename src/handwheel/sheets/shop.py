"""What a set-up's page is made with, and how copies are told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from handwheel.job.records import Unit
from handwheel.readings.records import Reading
from handwheel.sheets.copyrows import Apartness
from handwheel.workshop.records import Workshop

Readings = Mapping[tuple[str, int], tuple[Reading, ...]]


@dataclass(frozen=True, slots=True)
class Shop:
    """The readings by part and operation number, the workshop, the job's unit and what can be done."""

    readings: Readings
    workshop: Workshop
    unit: Unit
    can_be_read: set[tuple[str, int]]
    pressure: Mapping[str, str] = field(default_factory=dict)
    """Parts that may hold pressure, with the word that says so."""
    apart: Apartness = field(default_factory=dict)
    """What copies with sizes as made have otherwise."""
    void: str = ""
    """Which sizes as made the sheets know of."""


def copies_text(copies: tuple[int, ...]) -> str:
    """'copy 1', 'copies 1 to 3', 'copies 1, 3'."""
    if len(copies) == 1:
        return f"copy {copies[0]}"
    if copies == tuple(range(copies[0], copies[-1] + 1)):
        return f"copies {copies[0]} to {copies[-1]}"
    return "copies " + ", ".join(map(str, copies))
