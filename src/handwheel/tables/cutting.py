"""Cutting force and stiffness by the kind of material that a drawing's words name: ranges, never one number."""

from __future__ import annotations

from dataclasses import dataclass

from handwheel.tables.load import table
from handwheel.tables.materialwords import kind_of

RADIAL_SHARE = (0.25, 1.0)
"""The part of the cutting force that pushes work and tool apart: less with a sharp corner square to the cut, as much as
the whole with a round nose in a light cut. A quarter is a printed rule of thumb for turning (Isakov, Calculated forces when
turning, 2013, found, which calls it rough); the rest is common practice, no source."""


@dataclass(frozen=True, slots=True)
class Cutting:
    """A kind of material. kc11: specific force of a chip 1 mm by 1 mm [N/mm²]; m: its exponent; e_gpa: elastic modulus."""

    kind: str
    kc11: float
    m: float
    e_gpa: float

    def force_n(self, depth_mm: float, feed_mm: float) -> float:
        """Main cutting force of a turning cut, edge square to the feed: kc11·depth·feed^(1-m) (Kienzle). [N]"""
        return float(self.kc11 * depth_mm * feed_mm ** (1.0 - self.m))

    def push_n(self, depth_mm: float, feed_mm: float) -> tuple[float, float]:
        """Least and greatest force that pushes work and tool apart. [N]"""
        force = self.force_n(depth_mm, feed_mm)
        return RADIAL_SHARE[0] * force, RADIAL_SHARE[1] * force


def cutting_of(material: str) -> Cutting | None:
    """The kind by a drawing's words; None where it is not known. Source: tables/data/cutting.json."""
    whole = table("cutting")
    kind = kind_of(material, whole["words"])
    if not kind:
        return None
    row = whole["kinds"][kind]
    return Cutting(kind, row["kc11"], row["m"], row["e"])
