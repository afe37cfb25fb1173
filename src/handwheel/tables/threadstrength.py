"""How far a screw must go in so that it breaks before its thread strips; as a range, never one figure.

The shear areas are those of the basic form by geometry; the range is the hole's percentage and a factor for what the
threads are worth by hand.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from handwheel.tables.threads import UNIFIED, Thread

SHEAR_SHARE = 0.58
"""Shear strength by tensile strength (von Mises, 1/√3)."""
HAND_CUT = 1.5
"""How much longer where threads are cut by hand, a little loose and bell-mouthed: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Engagement:
    """How far in a screw wants to go. [mm] low: threads at their basic sizes; high: cut by hand. Loads in N.

    breaks_n: tension at which the screw itself parts. strips: `nut` or `screw`, which goes first.
    """

    low_mm: float
    high_mm: float
    breaks_n: float
    strips: str


def stress_area_mm2(thread: Thread) -> float:
    """Of the screw. [mm2] Source: ISO 898-1, over the mean of its effective and root diameters; a unified one by ASME B1.1, over
    the major less 0.9743 of the pitch."""
    if thread.series in UNIFIED:
        return math.pi / 4.0 * (thread.major_mm - 0.9743 * thread.pitch_mm) ** 2
    return math.pi / 4.0 * ((thread.pitch_diameter_mm + thread.minor_external_mm) / 2.0) ** 2


def shear_areas_mm2(thread: Thread, hole_mm: float, screw_major_mm: float,
                    effective_mm: tuple[float, float] | None = None) -> tuple[float, float]:
    """Area in shear for each mm of engagement, of the nut's thread and of the screw's.

    Parameters
        thread: the thread.
        hole_mm: the nut's minor diameter as made. [mm]
        screw_major_mm: the screw's major diameter as made. [mm]
        effective_mm: effective diameters of nut and screw; None: the basic one. [mm]
    Returns
        (nut, screw) [mm2 for each mm]: the cylinder at the screw's crests through the nut's thread, that at the nut's
        crests through the screw's.
    Source
        Geometry: at diameter D the thread is P/2 + (d2 - D)·tan α wide in the nut's sense, its opposite in the screw's. With
        the limits of the sizes put in it is the formula of FED-STD-H28 and ASME B1.1.
    """
    of_nut, of_screw = effective_mm or (thread.pitch_diameter_mm, thread.pitch_diameter_mm)
    slope, half = math.tan(math.radians(thread.angle_deg / 2.0)), thread.pitch_mm / 2.0
    nut = half + (screw_major_mm - of_nut) * slope
    screw = half + (of_screw - hole_mm) * slope
    per_mm = math.pi / thread.pitch_mm
    return per_mm * screw_major_mm * min(nut, thread.pitch_mm), per_mm * hole_mm * max(screw, 0.0)


def engagement(
    thread: Thread, screw_mpa: float, nut_mpa: float, hole_mm: float, screw_major_mm: float,
    effective_mm: tuple[float, float] | None = None,
) -> Engagement | None:
    """The engagement at which the screw parts as soon as a thread strips.

    Parameters
        thread: the thread.
        screw_mpa, nut_mpa: tensile strengths of the two metals. [N/mm2]
        hole_mm, screw_major_mm: as made; effective_mm: of nut and screw, None: the basic one. [mm]
    Returns
        The range; None where the hole leaves no thread.
    """
    nut, screw = shear_areas_mm2(thread, hole_mm, screw_major_mm, effective_mm)
    if nut <= 0.0 or screw <= 0.0 or hole_mm >= screw_major_mm:
        return None
    breaks = stress_area_mm2(thread) * screw_mpa
    by_nut, by_screw = breaks / (nut * SHEAR_SHARE * nut_mpa), breaks / (screw * SHEAR_SHARE * screw_mpa)
    least = max(by_nut, by_screw)
    return Engagement(least, HAND_CUT * least, breaks, "nut" if by_nut >= by_screw else "screw")
