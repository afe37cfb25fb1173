"""What joints need to know of a metal by the drawing's words: stiffness, expansion, strength as a range."""

from __future__ import annotations

from dataclasses import dataclass

from handwheel.tables.load import table
from handwheel.tables.materialwords import kind_of

_AS_STEEL = ("free-cutting steel", "tool steel")


@dataclass(frozen=True, slots=True)
class Metal:
    """A kind of metal. e_mpa: elastic modulus [N/mm2]; tensile_mpa: least and greatest strength of the kind [N/mm2];
    bond_share: what a bonded joint in it is worth, least and greatest, of one in steel."""

    kind: str
    e_mpa: float
    poisson: float
    expansion_per_k: float
    tensile_mpa: tuple[float, float]
    bond_share: tuple[float, float]


def metal_of(material: str) -> Metal | None:
    """The metal by a drawing's words; None where it is not known. Source: tables/data/joints.json."""
    kind = kind_of(material, table("cutting")["words"])
    kind = "steel" if kind in _AS_STEEL else kind
    data = table("joints")
    row = data["metals"].get(kind)
    if row is None:
        return None
    low, high = row["tensile_mpa"]
    least, most = data["metal_share"][kind]
    return Metal(kind, 1000.0 * row["e_gpa"], row["poisson"], row["expansion_per_k"], (low, high), (least, most))
