"""The parts of an assembly at their places: each part's half-section in the assembly's own frame."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from handwheel.drawing.records import Drawing, SolvedAssembly, SolvedPart
from handwheel.job.records import Point
from handwheel.sheets.places import station
from handwheel.stages.finished import finished_section
from handwheel.stages.records import Section

SAME_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Placed:
    """A part at its place: `section` in the assembly's frame, z = left_end + direction x the part's own. [mm]"""

    part: SolvedPart
    section: Section
    left_end: float
    direction: int

    def z(self, own: float) -> float:
        """A station of the part in the assembly's frame. [mm]"""
        return self.left_end + self.direction * own

    @property
    def low(self) -> float:
        """Where it begins. [mm]"""
        return float(self.section.outer[0, 0])

    @property
    def high(self) -> float:
        """Where it ends. [mm]"""
        return float(self.section.outer[-1, 0])


def placed_section(section: Section, left_end: float, direction: int) -> Section:
    """A half-section moved to its place, turned end for end where direction is -1. [mm]"""

    def put(profile: np.typing.NDArray[np.float64]) -> np.typing.NDArray[np.float64]:
        rows = np.column_stack([left_end + direction * profile[:, 0], profile[:, 1]])
        return rows if direction > 0 else rows[::-1]

    return Section(put(section.outer), put(section.inner))


def placed_parts(assembly: SolvedAssembly, drawing: Drawing) -> tuple[Placed, ...]:
    """Its parts, what lies inside another before what it lies in."""
    found = []
    for name, left_end in assembly.left_end.items():
        part, direction = drawing.part(name), assembly.direction[name]
        section = placed_section(finished_section(part), left_end, direction)
        found.append(Placed(part, section, left_end, direction))
    return tuple(sorted(found, key=lambda p: -sum(_lies_in(p, other) for other in found if other is not p)))


def overlap_mm(one: Placed, other: Placed) -> float:
    """How deep the metal of two parts would lie in each other, on the radius; 0 where they are clear. [mm]"""
    low, high = max(one.low, other.low), min(one.high, other.high)
    if high - low < SAME_MM:
        return 0.0
    z = np.linspace(low, high, 401)[1:-1]
    a, b = ((np.interp(z, p.section.inner[:, 0], p.section.inner[:, 1]),
             np.interp(z, p.section.outer[:, 0], p.section.outer[:, 1])) for p in (one, other))  # fmt: skip
    return float(np.max(np.minimum(a[1], b[1]) - np.maximum(a[0], b[0]), initial=0.0))


def _lies_in(one: Placed, other: Placed) -> bool:
    """Whether some of `one` is inside the hole of `other`."""
    low, high = max(one.low, other.low), min(one.high, other.high)
    if high - low < SAME_MM:
        return False
    z = np.linspace(low, high, 201)[1:-1]
    inner = np.interp(z, other.section.inner[:, 0], other.section.inner[:, 1])
    outer = np.interp(z, one.section.outer[:, 0], one.section.outer[:, 1])
    return bool(np.any((inner > SAME_MM) & (outer <= 1.2 * inner)))


def point_station(parts: tuple[Placed, ...], point: Point, default_part: str) -> float | None:
    """Where a point of a part lies in the assembly; None where its words alone do not tell. [mm]"""
    name = point.part or default_part
    placed = next((p for p in parts if p.part.name == name), None)
    if placed is None or point.meets:
        return None
    own = station(placed.part, f"{point.feature} {point.where}" if point.feature else str(point.where))
    return None if own is None else placed.z(own + float(point.offset_mm))
