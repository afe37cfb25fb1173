"""The allowance classes of amateur practice, kept apart from ISO 286; and spigot limits from a hole as measured."""

from __future__ import annotations

import math
from dataclasses import dataclass

from handwheel.tables.iso286 import fit_of
from handwheel.tables.load import table

INCH_MM = 25.4
WHOSE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Spigot:
    """What to turn a spigot to, for a hole as measured. [mm]

    low_mm, high_mm: the gap stays within what is wanted wherever the hole truly lies; `drawn` says whether they also lie
    within the drawing's limits: 'within', 'partly', 'outside', or '' where no drawing's limits were given.
    """

    low_mm: float
    high_mm: float
    drawn: str = ""


def allowance_names() -> tuple[str, ...]:
    """The classes, tightest first."""
    return tuple(table("joints")["allowances_thou"])


def allowance_mm(name: str, diameter_mm: float) -> float | None:
    """Shaft less hole of a class: a constant and so much an inch of diameter; None for a class there is not. [mm]

    Source: tables/data/joints.json, common practice.
    """
    row = table("joints")["allowances_thou"].get(name)
    if row is None:
        return None
    constant, share = row
    return float((constant + share * diameter_mm / INCH_MM) * INCH_MM / 1000.0)


def hole_mm(name: str, spigot_mm: float) -> float | None:
    """The hole that a spigot goes into by a class: the allowance is that of the hole, so hole + allowance = spigot. [mm]"""
    row = table("joints")["allowances_thou"].get(name)
    if row is None:
        return None
    constant, share = row
    return float((spigot_mm - constant * INCH_MM / 1000.0) / (1.0 + share / 1000.0))


def iso_gap_mm(size_mm: float, hole: str, shaft: str) -> tuple[float, float] | None:
    """Least and greatest gap of an ISO fit, negative where it is tight: hole less shaft. None where not tabulated. [mm]"""
    found = fit_of(size_mm, f"{hole}/{shaft}")
    return None if found is None else (found.least_gap_um / 1000.0, found.greatest_gap_um / 1000.0)


def spigot_for(
    hole_mm: float, error_mm: float, gap_mm: tuple[float, float], drawn_mm: tuple[float, float] | None = None
) -> Spigot | None:
    """Limits of a spigot for a hole as measured.

    Parameters
        hole_mm, error_mm: the hole, and how far that may be out, plus or minus. [mm]
        gap_mm: least and greatest gap wanted, hole less spigot; negative where tight. [mm]
        drawn_mm: the drawing's limits of the spigot, if it has any. [mm]
    Returns
        The limits; None where the gauge's error takes up the whole gap, so that no turning would make sure of it.
    """
    low, high = hole_mm - gap_mm[1] + error_mm, hole_mm - gap_mm[0] - error_mm
    if low > high + 1e-12:
        return None
    if drawn_mm is None:
        return Spigot(low, high)
    inside = drawn_mm[0] - 1e-9 <= low and high <= drawn_mm[1] + 1e-9
    apart = high < drawn_mm[0] - 1e-9 or low > drawn_mm[1] + 1e-9
    return Spigot(low, high, "within" if inside else "outside" if apart else "partly")


def hole_for(spigot_mm: float, error_mm: float, gap_mm: tuple[float, float]) -> tuple[float, float] | None:
    """Limits of a hole for a spigot as measured, as `spigot_for` the other way about; None where the error takes up all. [mm]"""
    low, high = spigot_mm + gap_mm[0] + error_mm, spigot_mm + gap_mm[1] - error_mm
    return None if low > high + 1e-12 else (low, high)


def gap_spread_mm(hole_error_mm: float, spigot_error_mm: float) -> tuple[float, float]:
    """How far the gap may be out when both were measured: at worst, and by root of squares (both plus or minus). [mm]"""
    return hole_error_mm + spigot_error_mm, math.hypot(hole_error_mm, spigot_error_mm)
