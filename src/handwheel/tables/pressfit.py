"""Parts pressed or shrunk together: Lamé's thick cylinders, ends free; what they hold, and the heat to slip them on."""

from __future__ import annotations

import math
from dataclasses import dataclass

from handwheel.tables.metals import Metal

FRICTION = (0.07, 0.2)
"""Of metal on metal pressed home, oiled to dry: common practice, no source."""


@dataclass(frozen=True, slots=True)
class PressFit:
    """An interference fit. Stresses [N/mm2] at the hub's bore and the shaft's bore (None where it is solid), tension
    positive; changes of diameter [mm] of the hub's outside (it grows) and the shaft's bore (it closes, None if solid)."""

    pressure_mpa: float
    hub_hoop_mpa: float
    shaft_bore_hoop_mpa: float | None
    hub_grows_mm: float
    bore_closes_mm: float | None

    @property
    def hub_shear_pair_mpa(self) -> float:
        """Pull round the hub's bore and pressure across it, added: what yields it by the greatest shear stress (Tresca)."""
        return self.hub_hoop_mpa + self.pressure_mpa


def press_fit(
    diameter_mm: float, hub_od_mm: float, shaft_bore_mm: float, interference_mm: float, hub: Metal, shaft: Metal
) -> PressFit | None:
    """The stresses of an interference fit.

    Parameters
        diameter_mm: of the joint. hub_od_mm: outside the hub. shaft_bore_mm: through the shaft or bush, 0 where solid.
        interference_mm: shaft less hole, on the diameter. [mm]
    Returns
        The fit as it is while both stay elastic; None where there is no wall or no interference.
    Source
        Lamé's solution for thick cylinders, ends free (any textbook of strength of materials).
    """
    d, outside, bore = diameter_mm, hub_od_mm, shaft_bore_mm
    if interference_mm <= 0.0 or not 0.0 <= bore < d < outside:
        return None
    pressure = interference_mm / d / _give(d, outside, bore, hub, shaft)
    closes = 2.0 * pressure * d * d / (d * d - bore * bore)
    return PressFit(
        pressure,
        pressure * (outside**2 + d * d) / (outside**2 - d * d),
        -closes if bore > 0.0 else None,
        2.0 * pressure * d * d / (outside**2 - d * d) * outside / hub.e_mpa,
        closes * bore / shaft.e_mpa if bore > 0.0 else None,
    )


def interference_for_mm(
    pressure_mpa: float, diameter_mm: float, hub_od_mm: float, shaft_bore_mm: float, hub: Metal, shaft: Metal
) -> float:
    """The interference on the diameter that makes that pressure. [mm]"""
    return pressure_mpa * diameter_mm * _give(diameter_mm, hub_od_mm, shaft_bore_mm, hub, shaft)


def _give(d: float, outside: float, bore: float, hub: Metal, shaft: Metal) -> float:
    """Strain at the joint for each N/mm2, hub's and shaft's together."""
    out = ((outside**2 + d * d) / (outside**2 - d * d) + hub.poisson) / hub.e_mpa
    return out + ((d * d + bore * bore) / (d * d - bore * bore) - shaft.poisson) / shaft.e_mpa


def holds(pressure_mpa: float, diameter_mm: float, length_mm: float, friction: float) -> tuple[float, float]:
    """What a press fit holds along the axis [N], which is also the force to press the last of it home, and in torque [N·m]."""
    force = friction * pressure_mpa * math.pi * diameter_mm * length_mm
    return force, force * diameter_mm / 2000.0


def rise_to_slip_on_k(diameter_mm: float, interference_mm: float, clearance_mm: float, expansion_per_k: float,
                      mate_shrinks_mm: float = 0.0) -> float:  # fmt: skip
    """How much hotter a hub must be (or colder, a shaft) than when both were measured, to slip together with that clearance.

    mate_shrinks_mm: what the mate gives on the diameter by being cooled (or a hub by being heated). [mm], [K]
    """
    return max(0.0, interference_mm + clearance_mm - mate_shrinks_mm) / (expansion_per_k * diameter_mm)


def growth_mm(length_mm: float, rise_k: float, expansion_per_k: float) -> float:
    """What a size grows by when it is that much warmer. [mm]"""
    return length_mm * rise_k * expansion_per_k
