"""A screw's effective diameter over three wires laid in its thread, the lead left out or reckoned with."""

from __future__ import annotations

import math


def best_wire_mm(pitch_mm: float, angle_deg: float) -> float:
    """The wire that touches the flanks at the effective diameter, where an error of angle tells least. [mm]"""
    return pitch_mm / 2.0 / math.cos(math.radians(angle_deg / 2.0))


def over_wires_mm(effective_mm: float, pitch_mm: float, angle_deg: float, wire_mm: float, *, with_lead: bool = False
                  ) -> float | None:
    """Size over three equal wires.

    Parameters
        effective_mm, pitch_mm, angle_deg: of the thread, one start, included angle.
        wire_mm: diameter of the wires. [mm]
        with_lead: add (w/2)·tan²λ·cos α·cot α, by which wires in a thread that climbs lie higher.
    Returns
        The size [mm]; None where the wires would drop to the root or stand on the crests' edges: nearer than half of
        best, or farther than twice.
    Source
        d2 + w·(1 + 1/sin α) - (P/2)·cot α, α half the angle (ISO 1502, ASME B1.2).
    """
    best = best_wire_mm(pitch_mm, angle_deg)
    if not 0.5 * best <= wire_mm <= 2.0 * best:
        return None
    half = math.radians(angle_deg / 2.0)
    size = effective_mm + wire_mm * (1.0 + 1.0 / math.sin(half)) - pitch_mm / 2.0 / math.tan(half)
    if with_lead:
        climb = pitch_mm / (math.pi * effective_mm)
        size += wire_mm / 2.0 * climb**2 * math.cos(half) / math.tan(half)
    return size
