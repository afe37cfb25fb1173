"""Tapers measured over rollers and over balls: closed forms of a circle that touches a straight side.

Angles are those of the side to the axis. Lengths in mm.
"""

from __future__ import annotations

import math


def small_end_mm(over_rollers_mm: float, roller_mm: float, half_angle_deg: float) -> float:
    """Diameter at the plate on which a plug stands on its small end, from the size over two rollers on the plate. [mm]

    M = d + w (1 + tan a + 1 / cos a).
    """
    angle = math.radians(half_angle_deg)
    return over_rollers_mm - roller_mm * (1.0 + math.tan(angle) + 1.0 / math.cos(angle))


def over_rollers_mm(small_end_mm: float, roller_mm: float, half_angle_deg: float, raised_mm: float = 0.0) -> float:
    """Size over two rollers beside a plug that stands on its small end, the rollers raised on equal blocks. [mm]"""
    angle = math.radians(half_angle_deg)
    return small_end_mm + roller_mm * (1.0 + math.tan(angle) + 1.0 / math.cos(angle)) + 2.0 * raised_mm * math.tan(angle)


def angle_over_rollers_deg(lower_mm: float, upper_mm: float, raised_mm: float) -> float:
    """Half angle from the size over equal rollers at two heights: tan a = (upper - lower) / 2 H. [deg]

    Raises
        ValueError: the rollers were not raised.
    """
    if raised_mm <= 0.0:
        raise ValueError(f"rollers raised by {raised_mm:g} mm measure no angle; put equal blocks under them")
    return math.degrees(math.atan2(upper_mm - lower_mm, 2.0 * raised_mm))


def angle_by_two_balls_deg(large_mm: float, small_mm: float, proud_mm: float, depth_mm: float) -> float:
    """Half angle of a taper bore from two balls: sin a = (R - r) / distance of their centres. [deg]

    Parameters
        large_mm, small_mm: the balls' diameters. [mm]
        proud_mm: top of the large ball above the mouth's face; below zero: under it. [mm]
        depth_mm: from the face down to the top of the small ball. [mm]
    Raises
        ValueError: the balls would lie in each other.
    """
    apart = depth_mm + small_mm / 2.0 - large_mm / 2.0 + proud_mm
    if apart <= (large_mm - small_mm) / 2.0:
        raise ValueError(f"balls of {large_mm:g} and {small_mm:g} mm cannot lie {apart:g} mm apart in one taper")
    return math.degrees(math.asin((large_mm - small_mm) / 2.0 / apart))


def mouth_by_ball_mm(ball_mm: float, proud_mm: float, half_angle_deg: float) -> float:
    """Diameter at the mouth of a taper bore that narrows inward, from one ball in it. [mm]

    D = 2 (R / cos a + c tan a), c the ball's centre below the face.
    """
    angle = math.radians(half_angle_deg)
    centre = ball_mm / 2.0 - proud_mm
    return 2.0 * (ball_mm / 2.0 / math.cos(angle) + centre * math.tan(angle))
