"""What stated set-up errors make of a ball or a taper, in words: the cut surface worked out, then measured."""

from __future__ import annotations

import math

from handwheel.job.records import Unit
from handwheel.readings.words import length_text
from handwheel.setups.form import HALF, BallSetting, cut_radius_mm, measures_of, pole_of
from handwheel.setups.tapers import Taper, end_off_mm

SAMPLES = 400
FROM_NECK = -HALF
"""The form is looked at from here, in radii from the centre, to the pole: a neck hides the rest."""


def form_error_mm(setting: BallSetting, wanted_mm: float) -> tuple[float, float]:
    """Least and greatest distance of the cut surface from the wanted sphere, outward > 0, from 45° behind the equator
    to where the ball comes off at its pole. [mm]"""
    low, high = FROM_NECK * wanted_mm, pole_of(setting)[0]
    off = []
    for k in range(SAMPLES + 1):
        z = low + (high - low) * (k / SAMPLES)
        radius = cut_radius_mm(setting, z)
        if radius is not None:
            off.append(math.hypot(radius, z) - wanted_mm)
    return min(off), max(off)


def ball_out_words(setting: BallSetting, wanted_mm: float, units: Unit) -> tuple[str, ...]:
    """What a ball tool that stands so cuts, measured as a ball is.

    Parameters
        setting: where the tool stands, its radius as it is meant to be.
        wanted_mm: the ball's radius. [mm]
        units: of the words.
    """
    true, got = measures_of(BallSetting(wanted_mm, way=setting.way), wanted_mm), measures_of(setting, wanted_mm)
    low, high = form_error_mm(setting, wanted_mm)
    rows = (("equator", true.equator_mm, got.equator_mm), ("headstock side", true.near_mm, got.near_mm),
            ("free side", true.far_mm, got.far_mm), ("pole", true.pole_mm, got.pole_mm), ("pip", 0.0, got.pip_mm))  # fmt: skip
    lines = [f"{name}: {_off(got_mm - true_mm, units)}, {length_text(got_mm, units)}"
             for name, true_mm, got_mm in rows if true_mm is not None and got_mm is not None]  # fmt: skip
    return (*lines, f"surface, on the radius: from {_off(low, units)} to {_off(high, units)}")


def taper_out_words(
    taper: Taper, angle_deg: float, height_mm: float, units: Unit, play_mm: float = 0.0
) -> tuple[str, ...]:
    """What a taper whose large end is brought to size comes to, the slide out by an angle and the tool off height.

    Parameters
        taper: as drawn.
        angle_deg: too steep > 0. [deg]
        height_mm: tool above or below centre height. [mm]
        units: of the words.
        play_mm: of a taper attachment, not taken up before the cut begins at the small end: its bar moves on alone by play /
            tan of carriage before the tool follows. [mm]
    """
    slope = math.tan(math.radians(taper.half_angle_deg + angle_deg))
    lost = min(play_mm, taper.length_mm * slope)
    small = taper.large_mm - 2.0 * (taper.length_mm * slope - lost)
    over, hollow = end_off_mm(taper.large_mm, small, height_mm)
    return (
        f"small end: {_off(small + over - taper.small_mm, units)}, {length_text(small + over, units)}",
        f"side hollow by {length_text(hollow, units)} in its middle",
        *((f"parallel from the small end for {length_text(lost / slope, units)}",) if lost > 0.0 else ()),
    )


def _off(off_mm: float, units: Unit) -> str:
    if abs(off_mm) < 5e-5:
        return "right"
    return f"{length_text(abs(off_mm), units)} {'over' if off_mm > 0.0 else 'under'}"
