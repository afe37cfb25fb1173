"""Density by the kind of material that a drawing's words name."""

from __future__ import annotations

from dataclasses import dataclass

from handwheel.tables.load import table
from handwheel.tables.materialwords import kind_of


@dataclass(frozen=True, slots=True)
class Density:
    """A kind of material with the least and the greatest density that the source gives for it. [g/mm3]"""

    kind: str
    low: float
    high: float


def density_of(material: str) -> Density | None:
    """The density of a material in a drawing's words, such as `free-cutting mild steel`.

    Parameters
        material: as written; its longest known words count, so `stainless steel` is not `steel`.
    Returns
        Density; None where no known word is in it, or words of two kinds.
    Source
        tables/data/densities.json.
    """
    whole = table("densities")
    kind = kind_of(material, whole["words"])
    if not kind:
        return None
    row = whole["kinds"][kind]
    return Density(kind, row["low"] * 1e-6, row["high"] * 1e-6)


def known_kinds() -> tuple[str, ...]:
    """The kinds of material whose density is known."""
    return tuple(table("densities")["kinds"])
