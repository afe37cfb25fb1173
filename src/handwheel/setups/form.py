"""The form that a swinging ball tool cuts when its set-up is out: the cut surface, and what is measured on it.

Swing axis parallel to the cross slide at height h above the lathe's axis, the tip at radius rho from it, in a plane e
beside the axis; the swing axis out of square by psi in plan. At swing angle phi (0 at the free end) the tip stands at
    x = e + rho sin(psi) cos(phi),  y = h + rho sin(phi),  z = zc + rho cos(psi) cos(phi)
and turns the work there to the radius hypot(x, y). A station is left at the least radius cut over the swing. Both
ways of swinging pass each station once above and, swung round, once below, so the least is taken in closed form.
The nose of the bit is taken as a point.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

HALF = math.sqrt(0.5)
ROUNDS = 80
NOISE = 1e-12
"""Of the arithmetic, in a cosine: a station at the very pole is still cut."""


class Way(StrEnum):
    """How far the tool is swung: above and below the axis, or from above only, down to level."""

    FULL = "above and below"
    ABOVE = "from above only"


@dataclass(frozen=True, slots=True)
class BallSetting:
    """Where the tool really stands. Lengths in mm; `square_deg` > 0: the free-end tip moves to +x. [deg]

    radius_mm: the tip's from the swing axis. height_mm: swing axis above the lathe's axis. cross_mm: the tip's plane
    beside the axis. centre_mm: the swing axis from where the ball's centre belongs, toward the free end.
    """

    radius_mm: float
    height_mm: float = 0.0
    cross_mm: float = 0.0
    square_deg: float = 0.0
    centre_mm: float = 0.0
    way: Way = Way.FULL


@dataclass(frozen=True, slots=True)
class BallMeasures:
    """What is measured on a ball, None where it was not. [mm]

    equator_mm: greatest diameter. near_mm, far_mm: diameters at 0.7071 of the wanted radius from where the centre
    belongs, on the headstock's side and on the free end's. pole_mm: from where the centre belongs to the pole, the
    pip stoned off (a length over the ball less what lies before the centre). pip_mm: the pip's diameter.
    """

    equator_mm: float | None = None
    near_mm: float | None = None
    far_mm: float | None = None
    pole_mm: float | None = None
    pip_mm: float | None = None


def cut_radius_mm(setting: BallSetting, z_mm: float) -> float | None:
    """Radius left at a station, from where the centre belongs, toward the free end; None beyond the swing. [mm]"""
    along = setting.radius_mm * math.cos(math.radians(setting.square_deg))
    cosine = (z_mm - setting.centre_mm) / along
    if abs(cosine) > 1.0 + NOISE:
        return None
    rise = setting.radius_mm * math.sqrt(max(0.0, 1.0 - cosine * cosine))
    x = setting.cross_mm + setting.radius_mm * math.sin(math.radians(setting.square_deg)) * cosine
    height = setting.height_mm if setting.way is Way.ABOVE else -abs(setting.height_mm)
    return math.hypot(x, height + rise)


def pole_of(setting: BallSetting) -> tuple[float, float]:
    """Station where the ball comes off at its free end, and the radius of the pip left there. [mm]"""
    rho, h = setting.radius_mm, setting.height_mm
    swings_past = setting.way is Way.FULL or h < 0.0
    reach = math.sqrt(max(0.0, rho * rho - h * h)) if swings_past else rho
    beside = setting.cross_mm + reach * math.sin(math.radians(setting.square_deg))
    station = setting.centre_mm + reach * math.cos(math.radians(setting.square_deg))
    return station, abs(beside) if swings_past else math.hypot(beside, h)


def measures_of(setting: BallSetting, wanted_radius_mm: float) -> BallMeasures:
    """What true gauges would read on the ball that this setting cuts. [mm]

    Parameters
        setting: where the tool stands.
        wanted_radius_mm: the drawing's; says where the diameters at 45° are taken. [mm]
    Raises
        ValueError: the tip does not reach the stations at 45°; the radii are too far apart to compare.
    """
    station = HALF * wanted_radius_mm
    near, far = cut_radius_mm(setting, -station), cut_radius_mm(setting, station)
    if near is None or far is None:
        raise ValueError(f"a tip at {setting.radius_mm:g} mm does not cut at {station:g} mm from the centre")
    pole, pip = pole_of(setting)
    return BallMeasures(2.0 * _equator_mm(setting), 2.0 * near, 2.0 * far, pole, 2.0 * pip)


def _equator_mm(setting: BallSetting) -> float:
    """Greatest radius of the cut surface, by golden section about the swing axis. [mm]"""
    golden = (math.sqrt(5.0) - 1.0) / 2.0
    low, high = setting.centre_mm - 0.6 * setting.radius_mm, setting.centre_mm + 0.6 * setting.radius_mm
    for _ in range(ROUNDS):
        step = golden * (high - low)
        left, right = high - step, low + step
        if (cut_radius_mm(setting, left) or 0.0) < (cut_radius_mm(setting, right) or 0.0):
            low = left
        else:
            high = right
    return cut_radius_mm(setting, (low + high) / 2.0) or 0.0
