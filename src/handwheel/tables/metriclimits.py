"""Limits of metric threads: ISO 965-1, by its formulae, rounded to the R 40 series in micrometres, with the values it sets
aside from them (tables/data/thread_limits.json)."""

from __future__ import annotations

import math
import re
from bisect import bisect_left
from decimal import ROUND_HALF_EVEN, Decimal
from typing import Any

from handwheel.tables.load import table
from handwheel.tables.threadclass import ThreadLimits
from handwheel.tables.threads import Thread

_R40 = (
    1.0, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2.0, 2.12, 2.24, 2.36, 2.5, 2.65, 2.8, 3.0, 3.15,
    3.35, 3.55, 3.75, 4.0, 4.25, 4.5, 4.75, 5.0, 5.3, 5.6, 6.0, 6.3, 6.7, 7.1, 7.5, 8.0, 8.5, 9.0, 9.5, 10.0,
)  # fmt: skip
"""ISO 3, the series R 40 of one decade."""
_RANGES_MM = (0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45.0, 90.0, 180.0, 355.0)
"""ISO 965-1: the ranges of diameter; a tolerance is reckoned at the geometric mean of a range's ends."""
_PITCHES_MM = (0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.6, 0.7, 0.75, 0.8, 1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0, 3.5, 4.0,
               4.5, 5.0, 5.5, 6.0, 8.0)  # fmt: skip
_STEPS = {
    "Td2": {3: -12, 4: -8, 5: -4, 6: 0, 7: 4, 8: 8, 9: 12},
    "TD2": {4: -3, 5: 1, 6: 5, 7: 9, 8: 13},
    "Td": {4: -8, 6: 0, 8: 8},
    "TD1": {4: -8, 5: -4, 6: 0, 7: 4, 8: 8},
}
"""ISO 965-1: each grade stands so many steps of R 40 from grade 6, its shares 0.5, 0.63, 0.8, 1.25 ... 2.12 in that series: of
the screw's effective diameter for Td2 and TD2, of its own grade 6 for the crests."""
_CLASS = re.compile(r"(?:(\d)([efghGH]))?(\d)([efghGH])$")
RECOMMENDED = {"S": ("5g6g", "5H"), "N": ("6g", "6H"), "L": ("7g6g", "7H")}
"""ISO 965-1: medium quality by length of engagement, of screw and nut."""


def _data() -> dict[str, Any]:
    found: dict[str, Any] = table("thread_limits")["iso965"]
    return found


def rounded_um(value_um: float) -> float:
    """To the nearest of the R 40 series, then to a whole micrometre, a half to the even one (26.5 is 26). [um]"""
    return 0.0 if value_um <= 0.0 else _step_um(_nearest_step(value_um))


def _nearest_step(value_um: float) -> int:
    """Which step of R 40, counted from 1 um, is nearest."""
    decade = math.floor(math.log10(value_um))
    share = value_um / 10.0**decade
    at = bisect_left(_R40, share)
    near = min(range(max(at - 1, 0), min(at, len(_R40) - 1) + 1), key=lambda step: abs(_R40[step] - share))
    return 40 * decade + near


def _step_um(step: int) -> float:
    """That step of R 40, to a whole micrometre. [um]"""
    decade, at = divmod(step, 40)
    return float(Decimal(repr(round(_R40[at] * 10.0**decade, 6))).quantize(Decimal(1), rounding=ROUND_HALF_EVEN))


def metric_tolerance_um(kind: str, diameter_mm: float, pitch_mm: float, grade: int) -> float | None:
    """A metric thread's tolerance.

    Parameters
        kind: `Td2`, `TD2` (effective, of screw and nut), `Td` (major of the screw), `TD1` (minor of the nut).
        diameter_mm, pitch_mm: nominal. [mm]
        grade: 3 to 9, as far as the kind has it.
    Returns
        The tolerance [um]; None outside the standard's ranges, and for a grade it does not give at so fine a pitch.
    Source
        ISO 965-1, formulae of its annex; values of the tables where it sets them aside.
    """
    steps = _STEPS[kind].get(grade)
    at = bisect_left(_RANGES_MM, diameter_mm)
    if steps is None or pitch_mm not in _PITCHES_MM or not 0 < at < len(_RANGES_MM):
        return None
    if pitch_mm < _data()["finest"][kind].get(str(grade), 0.0):
        return None
    if (kind, grade) == ("Td", 8) and (aside := _data()["aside_Td_8"].get(f"{pitch_mm:g}")) is not None:
        return float(aside)
    sixth = _sixth_um(kind, _RANGES_MM[at - 1], _RANGES_MM[at], pitch_mm)
    return _step_um(_nearest_step(sixth) + steps)


def _sixth_um(kind: str, over_mm: float, up_to_mm: float, pitch_mm: float) -> float:
    """Grade 6, from whose rounded value the other grades are reckoned; for a nut's effective diameter the screw's. [um]"""
    data = _data()
    if kind in ("Td2", "TD2"):
        for aside in data["aside_Td2"]:
            if (aside["over_mm"], aside["pitch_mm"]) == (over_mm, pitch_mm):
                return float(aside["um"])
        return rounded_um(90.0 * pitch_mm**0.4 * math.sqrt(over_mm * up_to_mm) ** 0.1)
    aside_um = data["aside"][kind].get(f"{pitch_mm:g}")
    if aside_um is not None:
        return float(aside_um)
    if kind == "Td":
        return rounded_um(180.0 * pitch_mm ** (2 / 3) - 3.15 / math.sqrt(pitch_mm))
    return rounded_um(433.0 * pitch_mm - 190.0 * pitch_mm**1.22 if pitch_mm < 1.0 else 230.0 * pitch_mm**0.7)


def metric_deviation_um(letter: str, pitch_mm: float) -> float | None:
    """How far a position of tolerance stands off the basic profile: es below it for e, f, g, h, EI above for G, H. [um]

    None where the standard has none at that pitch. Source: ISO 965-1, table 1; g and G by 15 + 11 P.
    """
    if letter in ("h", "H"):
        return 0.0
    data, key = _data(), f"{pitch_mm:g}"
    if letter in ("e", "f"):
        printed = data[letter].get(key)
        return None if printed is None else -float(printed)
    if letter not in ("g", "G") or pitch_mm not in _PITCHES_MM:
        return None
    size = float(data["aside"]["G"].get(key) or rounded_um(15.0 + 11.0 * pitch_mm))
    return size if letter == "G" else -size


def engagement_group(thread: Thread, length_mm: float) -> tuple[str, float, float] | None:
    """`S`, `N` or `L` for a length of engagement, and the ends of N. [mm]

    None for a pitch that the standard does not give at that diameter. Source: ISO 965-1, table 2.
    """
    at = bisect_left(_RANGES_MM, thread.major_mm)
    if not 0 < at < len(_RANGES_MM):
        return None
    ends = _data()["length_N"][f"{_RANGES_MM[at]:g}"].get(f"{thread.pitch_mm:g}")
    if ends is None:
        return None
    low, high = float(ends[0]), float(ends[1])
    return ("S" if length_mm <= low else "L" if length_mm > high else "N"), low, high


def usual_metric(thread: Thread, is_nut: bool) -> str:
    """Medium quality, normal engagement: 6g and 6H, to 1.4 mm 6h and 5H (ISO 965-1)."""
    if thread.major_mm <= 1.4:
        return "5H" if is_nut else "6h"
    return "6H" if is_nut else "6g"


def metric_limits(thread: Thread, cls: str) -> ThreadLimits | None:
    """The limits of a class such as `6g`, or `5g6g`: effective diameter first, then the crest's. [mm]

    The screw's root is given by its rounded form; both diameters stand off the basic profile by their own letter.
    """
    found = _CLASS.match(cls)
    if not found:
        return None
    crest_grade, crest_letter = int(found[3]), found[4]
    grade, letter = (int(found[1]), found[2]) if found[1] else (crest_grade, crest_letter)
    is_nut = letter.isupper()
    if is_nut != crest_letter.isupper():
        return None
    kinds = ("TD2", "TD1") if is_nut else ("Td2", "Td")
    off, crest_off = (metric_deviation_um(at, thread.pitch_mm) for at in (letter, crest_letter))
    effective = metric_tolerance_um(kinds[0], thread.major_mm, thread.pitch_mm, grade)
    crest = metric_tolerance_um(kinds[1], thread.major_mm, thread.pitch_mm, crest_grade)
    if off is None or crest_off is None or effective is None or crest is None:
        return None
    pitch = thread.pitch_diameter_mm + off / 1000.0
    if is_nut:
        minor = thread.minor_internal_mm + crest_off / 1000.0
        return ThreadLimits(cls, True, _um(thread.major_mm + off / 1000.0), None, _um(pitch), _um(pitch + effective / 1000.0),
                            _um(minor), _um(minor + crest / 1000.0))  # fmt: skip
    major = thread.major_mm + crest_off / 1000.0
    return ThreadLimits(cls, False, _um(major - crest / 1000.0), _um(major), _um(pitch - effective / 1000.0), _um(pitch), None,
                        _um(thread.minor_external_mm + off / 1000.0))  # fmt: skip


def _um(size_mm: float) -> float:
    """A size as the standard prints it, to the micrometre. [mm]"""
    return round(size_mm, 3)
