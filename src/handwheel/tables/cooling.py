"""How long a warm part takes to come near the room's warmth: one temperature all through, given off in proportion to it."""

from __future__ import annotations

import math

from handwheel.tables.densities import density_of
from handwheel.tables.load import table
from handwheel.tables.metals import metal_of


def cools_s(depth_mm: float, density_kg_m3: float, heat_j_kg_k: float, given_off_w_m2_k: float, times: float) -> float:
    """Until what it is warmer by has fallen to one `times`th: ρ·c·(V/A)/h · ln(times). [s]

    Parameters
        depth_mm: volume over surface, V/A: a quarter of a long bar's diameter. [mm]
    Source
        the lumped body of every textbook of heat transfer (Incropera and DeWitt, 5.1).
    """
    return density_kg_m3 * heat_j_kg_k * depth_mm / 1000.0 / given_off_w_m2_k * math.log(times)


def cools_in_air_s(material: str, depth_mm: float, times: float) -> tuple[float, float] | None:
    """The same in still air for a metal by a drawing's words, least and greatest; None where it is not known. [s]

    Source: tables/data/warmth.json, tables/data/densities.json.
    """
    metal, density, data = metal_of(material), density_of(material), table("warmth")
    heat = data["kinds"].get(metal.kind) if metal is not None else None
    if heat is None or density is None or times <= 1.0:
        return None
    slow, quick = data["still_air"]
    return (cools_s(depth_mm, density.low * 1e6, heat[0], quick, times),
            cools_s(depth_mm, density.high * 1e6, heat[1], slow, times))  # fmt: skip
