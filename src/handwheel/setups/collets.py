"""A split collet that holds a ball: its mouth, how far it must spring to let the ball in, and how far a shank may tilt.

The seat is the ball's own radius R; the mouth lies `lip` past the centre, at a latitude g with sin g = lip / R.
"""

from __future__ import annotations

import math

HALVINGS = 60


def mouth_radius_mm(radius_mm: float, lip_mm: float) -> float:
    """Radius of the mouth, R cos g. ValueError for a lip that is not between the centre and the pole. [mm]"""
    if not 0.0 <= lip_mm < radius_mm:
        raise ValueError(f"a mouth {lip_mm:g} mm past the centre does not hold a ball of radius {radius_mm:g} mm")
    return math.sqrt(radius_mm * radius_mm - lip_mm * lip_mm)


def opening_mm(radius_mm: float, lip_mm: float, slots: int) -> float:
    """How far each of the segments must move out to let the ball in. [mm]

    With few slots the segments' corners come first: each lies at half a segment's angle from the way it moves, so
        sqrt(R^2 - (m sin(pi / n))^2) - m cos(pi / n),   m the mouth's radius;
    with very many it is R - m.

    Raises
        ValueError: fewer than two slots do not open.
    """
    if slots < 2:
        raise ValueError(f"{slots} slots do not let a collet open; saw two at least")
    mouth, half = mouth_radius_mm(radius_mm, lip_mm), math.pi / slots
    return math.sqrt(radius_mm**2 - (mouth * math.sin(half)) ** 2) - mouth * math.cos(half)


def most_tilt_deg(shank_radius_mm: float, mouth_radius_mm: float, edge_mm: float) -> float:
    """How far a shank may lean in the mouth without a slot: r / cos t + m tan t <= mouth. [deg]

    Parameters
        shank_radius_mm: of the shank. [mm]
        mouth_radius_mm: of the mouth. [mm]
        edge_mm: the mouth's outer edge from the ball's centre. [mm]
    Raises
        ValueError: the shank does not go through the mouth at all.
    """
    if shank_radius_mm > mouth_radius_mm:
        raise ValueError(f"a shank of radius {shank_radius_mm:g} mm does not pass a mouth of {mouth_radius_mm:g} mm")
    low, high = 0.0, math.pi / 2 - 1e-9
    for _ in range(HALVINGS):
        tilt = (low + high) / 2
        if shank_radius_mm / math.cos(tilt) + edge_mm * math.tan(tilt) <= mouth_radius_mm:
            low = tilt
        else:
            high = tilt
    return math.degrees(low)
