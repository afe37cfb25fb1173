"""What a thread wants by die and by tap: blank, lead, undercut; drill, percentage of thread by convention, depth.

Figures marked 'common practice' have no source to cite; the rest is the form's own geometry.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from handwheel.tables.threads import Thread

START_PERCENT, TRADE_PERCENT = 65.0, 75.0
"""Of the screw's depth: where one starts for small holes and tough metal, and what the trade drills: common practice."""
LEAST_PERCENT = 50.0
"""Below this the screw's strength falls off faster than the torque is eased: common practice, no source."""
UNDERCUT_PITCHES = 1.5
"""Width of an undercut by the pitch: common practice, no source."""
DIE_LEAD_PITCHES = 1.0
"""What a die turned about leaves short of a shoulder: common practice, no source."""
LEAD_PITCHES = {"taper": 8.0, "second": 4.0, "bottoming": 1.5}
"""Threads of a tap's lead, by how far it is ground off: common practice; the tap at hand is the authority."""
CHIP_PITCHES = 2.0
"""Room below the tap's point for what it cuts: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Percent:
    """A drilled hole's thread as a share of the full depth under each convention: never one figure without its name. [%]

    nut_depth: of the nut's basic depth (100 at the basic minor). screw_depth: of the screw's basic depth, to its root.
    sharp_v: of the sharp triangle's height. flat_root: of three quarters of that, the depth with flats of an eighth of the
    pitch at crest and root, by which drill tables of unified threads count; None where the angle is not 60 degrees.
    """

    nut_depth: float
    screw_depth: float
    sharp_v: float
    flat_root: float | None


@dataclass(frozen=True, slots=True)
class DrillChoice:
    """A drill for a thread: its name and size [mm], the thread it leaves; `is_within` the nut's limits, None: not known."""

    name: str
    diameter_mm: float
    percent: Percent
    is_within: bool | None


@dataclass(frozen=True, slots=True)
class BlindTap:
    """Depths from the mouth of a blind tapped hole. [mm]

    full_thread_mm: wanted. tap_to_mm: where the tap's point comes. drill_to_mm: the drill's full diameter.
    point_to_mm: the drill's point.
    """

    full_thread_mm: float
    tap_to_mm: float
    drill_to_mm: float
    point_to_mm: float


def sharp_height_mm(thread: Thread) -> float:
    """Height of the thread's sharp triangle. [mm]"""
    return thread.pitch_mm / 2.0 / math.tan(math.radians(thread.angle_deg / 2.0))


def percent_of_thread(thread: Thread, hole_mm: float) -> Percent:
    """What a hole leaves of the thread.

    Parameters
        thread: the thread.
        hole_mm: the hole's diameter as made. [mm]
    Returns
        The share under each convention [%]; above 100 where the hole is under the basic minor.
    """
    left = thread.major_mm - hole_mm
    flat = 100.0 * left / (1.5 * sharp_height_mm(thread)) if thread.angle_deg == 60.0 else None
    return Percent(
        100.0 * left / (thread.major_mm - thread.minor_internal_mm),
        100.0 * left / (thread.major_mm - thread.minor_external_mm),
        100.0 * left / (2.0 * sharp_height_mm(thread)),
        flat,
    )


def hole_for_percent_mm(thread: Thread, screw_depth_percent: float) -> float:
    """The hole that leaves that share of the screw's depth. [mm]"""
    return thread.major_mm - screw_depth_percent / 100.0 * (thread.major_mm - thread.minor_external_mm)


def drill_choices(
    thread: Thread, drills: Sequence[tuple[str, float]], limits_mm: tuple[float, float] | None,
    greatest_percent: float = 100.0, least_percent: float = LEAST_PERCENT,
) -> tuple[DrillChoice, ...]:
    """Of the drills, those that leave a thread worth having, the fullest thread first.

    Parameters
        thread: the thread.
        drills: name and diameter of each. [mm]
        limits_mm: of the nut's minor diameter; None where not known. [mm]
        greatest_percent, least_percent: of the nut's depth. A drill at the basic minor counts as 100. [%]
    """
    found = []
    for name, size in drills:
        percent = percent_of_thread(thread, size)
        if not least_percent <= percent.nut_depth <= greatest_percent + 0.5:
            continue
        within = None if limits_mm is None else limits_mm[0] - 5e-4 <= size <= limits_mm[1] + 5e-4
        found.append(DrillChoice(name, size, percent, within))
    return tuple(sorted(found, key=lambda choice: (choice.diameter_mm, choice.name)))


def die_lead_mm(thread: Thread) -> float:
    """Leg of the 45 degree chamfer that a die starts on: the depth of the thread, down to its root. [mm]"""
    return (thread.major_mm - thread.minor_external_mm) / 2.0


def undercut_mm(thread: Thread) -> tuple[float, float]:
    """Width and diameter of the groove that lets a screw come home: 1 1/2 pitches, just under the root. [mm]"""
    return UNDERCUT_PITCHES * thread.pitch_mm, thread.minor_external_mm


def blind_tap(thread: Thread, full_thread_mm: float, lead_pitches: float, point_deg: float) -> BlindTap:
    """The depths a blind tapped hole needs.

    Parameters
        thread: the thread.
        full_thread_mm: depth of full thread. [mm]
        lead_pitches: threads in the tap's lead.
        point_deg: the drill's included point angle. [deg]
    """
    tap_to = full_thread_mm + lead_pitches * thread.pitch_mm
    drill_to = tap_to + CHIP_PITCHES * thread.pitch_mm
    point = thread.minor_internal_mm / 2.0 / math.tan(math.radians(point_deg / 2.0))
    return BlindTap(full_thread_mm, tap_to, drill_to, drill_to + point)


def full_thread_in_mm(thread: Thread, drilled_mm: float, lead_pitches: float) -> float:
    """What is left for full thread in a hole already drilled to that full-diameter depth, no room kept for chips. [mm]"""
    return max(0.0, drilled_mm - lead_pitches * thread.pitch_mm)
