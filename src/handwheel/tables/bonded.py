"""Joints held by a compound: strength as a range by kind of compound, metal, gap and hand; clocking what screws home."""

from __future__ import annotations

import math
from dataclasses import dataclass

from handwheel.tables.load import table
from handwheel.tables.metals import Metal
from handwheel.tables.threads import Thread

BY_HAND = (1.0 / 3.0, 0.5)
"""What a joint degreased and put together by hand is worth of the kind's figure: common practice, no source."""
AT_GREATEST_GAP = 0.4
"""What is left of the strength at the widest gap the kind is for, falling evenly from its best: common practice."""
THREAD_FRICTION = (0.1, 0.2)
"""In a screw's thread, oiled to dry: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Compound:
    """A kind of compound. Shear strength between steel parts [N/mm2]; gaps on the diameter [mm]."""

    kind: str
    low_mpa: float
    high_mpa: float
    least_gap_mm: float
    best_gap_mm: tuple[float, float]
    greatest_gap_mm: float


@dataclass(frozen=True, slots=True)
class Bond:
    """What a bonded joint may hold, each alone, least and greatest: along the axis [N], in torque [N·m]; shear [N/mm2]."""

    shear_mpa: tuple[float, float]
    axial_n: tuple[float, float]
    torque_nm: tuple[float, float]


def compounds() -> tuple[Compound, ...]:
    """The kinds, that for the least gap first. Source: tables/data/joints.json, common practice."""
    rows = table("joints")["compounds"].items()
    return tuple(Compound(kind, row["low_mpa"], row["high_mpa"], row["least_gap_mm"], tuple(row["best_gap_mm"]),
                          row["greatest_gap_mm"]) for kind, row in rows)  # fmt: skip


def compound_for(gap_mm: float) -> Compound | None:
    """The first kind whose gaps take that one in; None where it is too tight or too wide for any. [mm]"""
    return next((c for c in compounds() if c.least_gap_mm <= gap_mm <= c.greatest_gap_mm), None)


def gap_share(compound: Compound, gap_mm: float) -> float | None:
    """What is left of the strength at a gap; None outside the gaps the kind is for."""
    if not compound.least_gap_mm - 1e-12 <= gap_mm <= compound.greatest_gap_mm + 1e-12:
        return None
    best = compound.best_gap_mm[1]
    if gap_mm <= best:
        return 1.0
    return 1.0 - (1.0 - AT_GREATEST_GAP) * (gap_mm - best) / (compound.greatest_gap_mm - best)


def bond(compound: Compound, diameter_mm: float, length_mm: float, gap_mm: float, metals: tuple[Metal | None, Metal | None]
         ) -> Bond | None:
    """What a spigot bonded into a hole may hold.

    Parameters
        compound: the kind.
        diameter_mm, length_mm: of the joint. [mm]
        gap_mm: on the diameter. [mm]
        metals: of the two parts; None where not known: then as the weakest metal at least, as steel at most.
    Returns
        The range, derated for hand work; None where the gap is not one the kind is for.
    Source
        τ·π·d·l along the axis, half that times d in torque (domain relations of pin and collar, ISO 10123).
    """
    share = gap_share(compound, gap_mm)
    if share is None:
        return None
    worst = min(row[0] for row in table("joints")["metal_share"].values())
    low = min(worst if m is None else m.bond_share[0] for m in metals)
    high = min(1.0 if m is None else m.bond_share[1] for m in metals)
    shear = compound.low_mpa * low * share * BY_HAND[0], compound.high_mpa * high * share * BY_HAND[1]
    area = math.pi * diameter_mm * length_mm
    axial = shear[0] * area, shear[1] * area
    arm = diameter_mm / 2000.0
    return Bond(shear, axial, (axial[0] * arm, axial[1] * arm))


def used(joint: Bond, axial_n: float, torque_nm: float, has_shoulder: bool) -> tuple[float, float]:
    """How much of a joint a load uses, at the joint's greatest and least strength: √((F/F0)² + (T/T0)²); 1 is all of it.

    A shoulder takes what pushes onto it (has_shoulder and axial_n toward it): then only the torque is the compound's.
    """
    push = 0.0 if has_shoulder else axial_n
    best, worst = (math.hypot(push / joint.axial_n[k], torque_nm / joint.torque_nm[k]) for k in (1, 0))
    return best, worst


def screw_thrust_n(thread: Thread, torque_nm: float) -> tuple[float, float]:
    """Least and greatest thrust of a screw turned with that torque, nothing lost under its head. [N]

    A screw tightened through a bonded joint loads it with both.
    """
    found = [1000.0 * torque_nm / (thread.pitch_mm / (2.0 * math.pi) + friction * thread.pitch_diameter_mm
             / (2.0 * math.cos(math.radians(thread.angle_deg / 2.0)))) for friction in THREAD_FRICTION]  # fmt: skip
    return min(found), max(found)


def face_off_mm(pitch_mm: float, further_deg: float) -> float:
    """What to face off a lever's seat so that it comes tight that much further round, 0 to 360 degrees. [mm]"""
    return pitch_mm * (further_deg % 360.0) / 360.0


def clocked_error_deg(pitch_mm: float, faced_error_mm: float, judged_error_deg: float) -> tuple[float, float]:
    """How far out of place it may come tight: at worst, and by root of squares, from the facing and the angle judged. [deg]"""
    by_facing = 360.0 * faced_error_mm / pitch_mm
    return by_facing + judged_error_deg, math.hypot(by_facing, judged_error_deg)
