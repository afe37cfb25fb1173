"""A taper's set-up: the angle from any form, what sets it, which way of turning it fits, and where to begin.

Angles are those of the side to the axis, [deg]; lengths [mm]. An indicator carried by the top slide along a true bar
reads the sine of the angle, one that bears on the slide's side while the carriage moves reads the tangent.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from handwheel.plan.taperways import TaperWay, taper_ways
from handwheel.workshop.records import Workshop


@dataclass(frozen=True, slots=True)
class Taper:
    """A taper to turn: its greater and smaller diameter and the length along the axis between them. [mm]"""

    large_mm: float
    small_mm: float
    length_mm: float
    is_inside: bool = False

    @property
    def half_angle_deg(self) -> float:
        """Angle of the side to the axis. [deg]"""
        return half_angle_deg(self.large_mm, self.small_mm, self.length_mm)

    @property
    def slant_mm(self) -> float:
        """Length of the side. [mm]"""
        return math.hypot(self.length_mm, (self.large_mm - self.small_mm) / 2.0)


def half_angle_deg(large_mm: float, small_mm: float, length_mm: float) -> float:
    """atan((D - d) / 2L). ValueError for a length of nothing. [deg]"""
    if length_mm <= 0.0:
        raise ValueError(f"two diameters {length_mm:g} mm apart make no taper; give the length along the axis")
    return math.degrees(math.atan2(large_mm - small_mm, 2.0 * length_mm))


def half_angle_of_ratio_deg(diameter_per_length: float) -> float:
    """Half angle of a taper given as diameter per length: 1 in 20 is 0.05, t inches per foot t / 12. [deg]"""
    return math.degrees(math.atan(diameter_per_length / 2.0))


def along_bar_mm(half_angle_deg: float, slide_mm: float) -> float:
    """What an indicator carried by the top slide along a true parallel bar reads: travel of the slide times sine. [mm]"""
    return slide_mm * math.sin(math.radians(half_angle_deg))


def on_side_mm(half_angle_deg: float, carriage_mm: float) -> float:
    """What an indicator at rest, bearing on the slide's side, reads: travel of the carriage times tangent. [mm]"""
    return carriage_mm * math.tan(math.radians(half_angle_deg))


def set_over_mm(half_angle_deg: float, between_centres_mm: float) -> float:
    """Set-over of the tailstock: length of the work between centres times the sine. [mm]

    Handbooks print the length times (D - d) / 2L, which is the tangent: larger by one part in two thousand at 1.8°.
    """
    return between_centres_mm * math.sin(math.radians(half_angle_deg))


def seat_travel_mm(diameter_off_mm: float, half_angle_deg: float) -> float:
    """How far a taper goes into its seat for an amount on the diameter: off / (2 tan). [mm]"""
    return diameter_off_mm / (2.0 * math.tan(math.radians(half_angle_deg)))


def runs_out_short_mm(taper: Taper, over_mm: float, steep_by_deg: float, blank_mm: float) -> float:
    """How far before the large end a cut set too steep runs out of the blank. [mm]

    Parameters
        taper: the taper to turn.
        over_mm: what the small end is still above size, on the diameter. [mm]
        steep_by_deg: how much too steep the slide stands. [deg]
        blank_mm: diameter of the blank. [mm]
    Returns
        Length left uncut before the large end; below zero the cut does not run out. [mm]
    """
    slope = math.tan(math.radians(taper.half_angle_deg + steep_by_deg))
    return taper.length_mm - (blank_mm - taper.small_mm - over_mm) / 2.0 / slope


def most_shallow_deg(taper: Taper, over_mm: float) -> float:
    """How much too shallow a cut may be that leaves the small end `over_mm` above size, and still leave metal all along.

    A cut too steep leaves metal wherever it cuts, as long as the small end is above size: so it is begun steep. [deg]
    """
    tangent = (taper.large_mm - taper.small_mm - over_mm) / 2.0 / taper.length_mm
    return taper.half_angle_deg - math.degrees(math.atan(tangent))


def end_off_mm(large_mm: float, small_mm: float, height_mm: float) -> tuple[float, float]:
    """What a tool off centre height makes of a taper whose large end is brought to size.

    The tool's own path is right in its plane; the work is turned to hypot(x, y).
    Returns
        (small end over its size, on the diameter; hollow at the middle, on the radius). [mm]
    """
    big, little = large_mm / 2.0, small_mm / 2.0
    plane = math.sqrt(big * big - height_mm * height_mm)
    slope = big - little
    small = math.hypot(plane - slope, height_mm)
    middle = math.hypot(plane - slope / 2.0, height_mm)
    return 2.0 * (small - little), (big + small) / 2.0 - middle


def methods(taper: Taper, shop: Workshop, between_centres_mm: float | None) -> tuple[TaperWay, ...]:
    """The ways of turning a taper with this workshop, the best first.

    Parameters
        taper: the taper.
        shop: whose slides, attachment and tailstock.
        between_centres_mm: length of the work between centres; None where it is not held so. [mm]
    """
    return taper_ways(taper.half_angle_deg, taper.length_mm, shop, between_centres_mm, is_inside=taper.is_inside)
