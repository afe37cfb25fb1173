"""From what was measured on a taper to what to move, as an angle, an arc, an indicator's difference and a set-over.

theta = atan((D1 - D2) / 2l), l along the axis; linear propagation of the gauges' errors, each plus or minus taken as
the half-width of an even spread (standard uncertainty a / sqrt(3); JCGM 100:2008, 4.3.7 and 5.1.2).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from handwheel.setups.overrollers import angle_by_two_balls_deg
from handwheel.setups.tapers import along_bar_mm, half_angle_deg, on_side_mm


@dataclass(frozen=True, slots=True)
class Correction:
    """What to change. Steeper > 0. `is_deg`: the angle as turned; None where only a direction is known.

    change_deg: wanted less turned. uncertainty_deg: its standard uncertainty, None where no gauge error was given.
    """

    wanted_deg: float
    is_deg: float
    change_deg: float
    uncertainty_deg: float | None

    def arc_mm(self, radius_mm: float) -> float:
        """The same as an arc at that radius from the slide's pivot. [mm]"""
        return radius_mm * math.radians(self.change_deg)

    def on_side_mm(self, carriage_mm: float) -> float:
        """By how much the reading on the slide's side changes over that travel of the carriage. [mm]"""
        return on_side_mm(self.wanted_deg, carriage_mm) - on_side_mm(self.is_deg, carriage_mm)

    def along_bar_mm(self, slide_mm: float) -> float:
        """By how much the reading along a true bar changes over that travel of the slide. [mm]"""
        return along_bar_mm(self.wanted_deg, slide_mm) - along_bar_mm(self.is_deg, slide_mm)

    def set_over_mm(self, between_centres_mm: float) -> float:
        """By how much a tailstock's set-over changes. [mm]"""
        return between_centres_mm * (
            math.sin(math.radians(self.wanted_deg)) - math.sin(math.radians(self.is_deg)))

    @property
    def is_told(self) -> bool:
        """Whether the change is more than twice its uncertainty: else the measurement does not show it."""
        return self.uncertainty_deg is None or abs(self.change_deg) > 2.0 * self.uncertainty_deg


def correct_by_two_diameters(
    wanted_deg: float, large_mm: float, small_mm: float, apart_mm: float,
    gauge_error_mm: float | None = None, apart_error_mm: float | None = None,
) -> Correction:  # fmt: skip
    """The correction from two diameters measured `apart_mm` from each other along the axis.

    Parameters
        wanted_deg: the half angle wanted. [deg]
        large_mm, small_mm: measured at the greater and the smaller end of the wanted taper. [mm]
        apart_mm: between the two along the axis, > 0. [mm]
        gauge_error_mm: plus or minus on each diameter, None where not known. [mm]
        apart_error_mm: plus or minus on the length, None where it is not counted. [mm]
    Raises
        ValueError: the two places are not apart.
    """
    is_deg = half_angle_deg(large_mm, small_mm, apart_mm)
    spread = None
    if gauge_error_mm is not None:
        scale = math.cos(math.radians(is_deg)) ** 2 / (2.0 * apart_mm) / math.sqrt(3.0)
        along = (apart_error_mm or 0.0) * (large_mm - small_mm) / apart_mm
        spread = math.degrees(scale * math.sqrt(2.0 * gauge_error_mm**2 + along**2))
    return Correction(wanted_deg, is_deg, wanted_deg - is_deg, spread)


@dataclass(frozen=True, slots=True)
class Hollow:
    """How much the middle of a side lies below the line through its ends, on the radius, its standard uncertainty, and the
    tool's distance from centre height that would make it so. [mm]

    height_mm: None where nothing hollow shows. least_height_mm: the least that these gauges would show.
    """

    mm: float
    uncertainty_mm: float
    height_mm: float | None
    least_height_mm: float

    @property
    def is_told(self) -> bool:
        """Whether it is more than twice its uncertainty."""
        return self.mm > 2.0 * self.uncertainty_mm


def hollow_by_three_diameters(
    large_mm: float, middle_mm: float, small_mm: float, gauge_error_mm: float
) -> Hollow:
    """Whether a side is hollow, from three diameters at equal distances, and how far off height the tool would be for it.

    The side is r² = x² + y², x straight along the axis. With half the difference of the end diameters s and the middle
    radius r, hollow ~ y² s² / 8 r³. Above or below cannot be told.
    Parameters
        large_mm, middle_mm, small_mm: measured. [mm]
        gauge_error_mm: plus or minus on each. [mm]
    """
    hollow = (large_mm + small_mm - 2.0 * middle_mm) / 4.0
    spread = gauge_error_mm / math.sqrt(3.0) * math.sqrt(1.0 + 1.0 + 4.0) / 4.0
    slope, radius = (large_mm - small_mm) / 2.0, middle_mm / 2.0
    per = math.sqrt(8.0 * radius**3) / abs(slope) if slope else math.inf
    height = per * math.sqrt(hollow) if hollow > 2.0 * spread else None
    return Hollow(hollow, spread, height, per * math.sqrt(2.0 * spread))


def correct_by_two_balls(
    wanted_deg: float, balls_mm: tuple[float, float], proud_mm: float, depth_mm: float, gauge_error_mm: float | None = None
) -> Correction:
    """The correction of a taper bore from two balls laid in it.

    Parameters
        wanted_deg: the half angle wanted. [deg]
        balls_mm: diameters of the large and the small ball, taken as exact. [mm]
        proud_mm: top of the large ball above the mouth's face; below zero: under it. [mm]
        depth_mm: from the face down to the top of the small ball. [mm]
        gauge_error_mm: plus or minus on each of those two, None where not known. [mm]
    """
    is_deg = angle_by_two_balls_deg(*balls_mm, proud_mm, depth_mm)
    spread = None
    if gauge_error_mm is not None:
        centres = (balls_mm[0] - balls_mm[1]) / 2.0 / math.sin(math.radians(is_deg))
        spread = math.degrees(math.tan(math.radians(is_deg)) / centres * gauge_error_mm * math.sqrt(2.0 / 3.0))
    return Correction(wanted_deg, is_deg, wanted_deg - is_deg, spread)


def correct_by_blue(
    wanted_deg: float, bears_at_large_end: bool, is_inside: bool, gap_mm: float, over_mm: float,
    gauge_error_mm: float | None = None,
) -> Correction:  # fmt: skip
    """The correction from blue that shows at one end, with the gap at the other.

    Parameters
        wanted_deg: the half angle of the gauge. [deg]
        bears_at_large_end: the blue shows at the large end.
        is_inside: the work is the bore; else it is the plug.
        gap_mm: between work and gauge on the diameter at the other end: twice a feeler on one side, or the shake. [mm]
        over_mm: length of the seat. [mm]
        gauge_error_mm: plus or minus on the gap, None where not known. [mm]
    """
    sign = 1.0 if bears_at_large_end != is_inside else -1.0
    wanted = math.tan(math.radians(wanted_deg))
    is_deg = math.degrees(math.atan(wanted + sign * gap_mm / (2.0 * over_mm)))
    spread = None
    if gauge_error_mm is not None:
        spread = math.degrees(math.cos(math.radians(is_deg)) ** 2 * gauge_error_mm / math.sqrt(3.0) / (2.0 * over_mm))
    return Correction(wanted_deg, is_deg, wanted_deg - is_deg, spread)
