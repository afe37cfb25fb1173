"""Limits of a thread's diameters: ISO 965-1 for metric threads, ASME B1.1 for unified ones, ISO 228-1 for pipe threads.

The first two by the standards' own formulae, rounded as they round: metric tolerances in micrometres to the R 40 series, with
the few values the standard sets aside from its formula; unified ones to the fourth decimal of an inch.
"""

from __future__ import annotations

import math
import re
from bisect import bisect_left
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal

from handwheel.tables.threads import Thread

INCH_MM = 25.4
_R40 = (
    1.0, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2.0, 2.12, 2.24, 2.36, 2.5, 2.65, 2.8, 3.0, 3.15,
    3.35, 3.55, 3.75, 4.0, 4.25, 4.5, 4.75, 5.0, 5.3, 5.6, 6.0, 6.3, 6.7, 7.1, 7.5, 8.0, 8.5, 9.0, 9.5, 10.0,
)  # fmt: skip
"""ISO 3, the series R 40 of one decade."""
_RANGES_MM = (0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45.0, 90.0, 180.0, 355.0)
"""ISO 965-1: the ranges of diameter; a tolerance is reckoned at the geometric mean of a range's ends."""
_PITCHES_MM = (0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.6, 0.7, 0.75, 0.8, 1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0, 3.5, 4.0,
               4.5, 5.0, 5.5, 6.0, 8.0)  # fmt: skip
_SHARE = {
    "Td2": {3: 0.5, 4: 0.63, 5: 0.8, 6: 1.0, 7: 1.25, 8: 1.6, 9: 2.0},
    "TD2": {4: 0.85, 5: 1.06, 6: 1.32, 7: 1.7, 8: 2.12},
    "Td": {4: 0.63, 6: 1.0, 8: 1.6},
    "TD1": {4: 0.63, 5: 0.8, 6: 1.0, 7: 1.25, 8: 1.6},
}
"""ISO 965-1: each grade's share of grade 6 of the screw's effective diameter, or of its own grade 6."""
_ASIDE_UM: dict[str, dict[float, float]] = {
    "Td": {4.0: 475.0},
    "TD1": {0.25: 71.0, 0.5: 140.0, 1.0: 236.0, 2.5: 450.0},
    "g": {0.75: 22.0},
}
"""Grade 6, or position g, by pitch, where the tables of ISO 965-1 leave the formula for a smooth progression."""
_ASIDE_TD2_UM = {(2.8, 0.5): 75.0}
"""The same for the screw's effective diameter, by the range's lower end and the pitch."""
_CLASS = re.compile(r"(\d)([efghGH])$")
_ASME = {"1A": 1.5, "2A": 1.0, "3A": 0.75, "1B": 1.95, "2B": 1.3, "3B": 0.975}
"""ASME B1.1: each class's share of class 2A's tolerance of the effective diameter."""

_PIPE_MM = {28: (0.107, 0.214, 0.282), 19: (0.125, 0.25, 0.445), 14: (0.142, 0.284, 0.541), 11: (0.18, 0.36, 0.64)}
"""ISO 228-1, sizes to 2 in, by threads to the inch: tolerance of the effective diameter (nut, screw of class A; class B
twice that), of the screw's major, of the nut's minor. [mm]"""
_PIPE_UP_TO_MM = 60.0


@dataclass(frozen=True, slots=True)
class ThreadLimits:
    """Limits of a screw or a nut. [mm] A screw's root and a nut's major diameter have no second limit: None."""

    cls: str
    is_nut: bool
    major_low_mm: float | None
    major_high_mm: float | None
    effective_low_mm: float
    effective_high_mm: float
    minor_low_mm: float | None
    minor_high_mm: float | None


def usual_class(thread: Thread, is_nut: bool) -> str | None:
    """The class taken where the drawing names none: medium, 6g with 6H, 2A with 2B, G A with G; None for
    other series."""
    if thread.series.startswith("ISO metric"):
        return "6H" if is_nut else "6g"
    if thread.series in ("UNC", "UNF", "UNEF"):
        return "2B" if is_nut else "2A"
    if thread.series == "BSP":
        return "G" if is_nut else "G A"
    return None


def thread_limits(thread: Thread, cls: str) -> ThreadLimits | None:
    """The limits of a thread's diameters.

    Parameters
        thread: a metric or unified thread.
        cls: `6g`, `6H` and the like with one grade for all diameters; `1A` to `3A`, `1B` to `3B`; `G A`, `G B` (screws),
            `G` (nuts).
    Returns
        The limits [mm], length of engagement normal (unified: of one diameter; UNEF 9 pitches); None for a class that
        the thread's series has not, and for series whose tolerances are not held here (BSW, BSF, BA, ME), pipe
        threads above 2 in.
    Source
        ISO 965-1 (metric), ASME B1.1 (unified), ISO 228-1 (pipe threads).
    """
    if thread.series.startswith("ISO metric"):
        return _metric(thread, cls)
    if thread.series in ("UNC", "UNF", "UNEF") and cls in _ASME:
        return _unified(thread, cls)
    if thread.series == "BSP":
        return _pipe(thread, cls)
    return None


def rounded_um(value_um: float) -> float:
    """To the nearest of the R 40 series, then to a whole micrometre, a half to the even one (26.5 is 26). [um]"""
    if value_um <= 0.0:
        return 0.0
    decade = 10.0 ** math.floor(math.log10(value_um))
    at = bisect_left(_R40, value_um / decade)
    near = min(_R40[max(at - 1, 0):at + 1], key=lambda step: abs(step - value_um / decade))
    return float(Decimal(repr(round(near * decade, 6))).quantize(Decimal(1), rounding=ROUND_HALF_EVEN))


def metric_tolerance_um(kind: str, diameter_mm: float, pitch_mm: float, grade: int) -> float | None:
    """A metric thread's tolerance.

    Parameters
        kind: `Td2`, `TD2` (effective, of screw and nut), `Td` (major of the screw), `TD1` (minor of the nut).
        diameter_mm, pitch_mm: nominal. [mm]
        grade: 3 to 9, as far as the kind has it.
    Returns
        The tolerance [um]; None outside the standard's ranges.
    Source
        ISO 965-1, formulae of its annex; values of the tables where it sets them aside.
    """
    share = _SHARE[kind].get(grade)
    at = bisect_left(_RANGES_MM, diameter_mm)
    if share is None or pitch_mm not in _PITCHES_MM or not 0 < at < len(_RANGES_MM):
        return None
    sixth = _sixth_um(kind, _RANGES_MM[at - 1], _RANGES_MM[at], pitch_mm)
    return sixth if share == 1.0 else rounded_um(share * sixth)


def _sixth_um(kind: str, over_mm: float, up_to_mm: float, pitch_mm: float) -> float:
    """Grade 6, from whose rounded value the other grades are reckoned; for a nut's effective diameter the screw's. [um]"""
    if kind in ("Td2", "TD2"):
        aside = _ASIDE_TD2_UM.get((over_mm, pitch_mm))
        return aside or rounded_um(90.0 * pitch_mm**0.4 * math.sqrt(over_mm * up_to_mm) ** 0.1)
    if pitch_mm in _ASIDE_UM[kind]:
        return _ASIDE_UM[kind][pitch_mm]
    if kind == "Td":
        return rounded_um(180.0 * pitch_mm ** (2 / 3) - 3.15 / math.sqrt(pitch_mm))
    return rounded_um(433.0 * pitch_mm - 190.0 * pitch_mm**1.22 if pitch_mm < 1.0 else 230.0 * pitch_mm**0.7)


def metric_deviation_um(letter: str, pitch_mm: float) -> float | None:
    """How far a position of tolerance stands off the basic profile: es below it for e, f, g, h, EI above for G, H. [um]"""
    if letter in ("h", "H"):
        return 0.0
    off = {"e": 50.0, "f": 30.0, "g": 15.0, "G": 15.0}.get(letter)
    if off is None or (letter in ("e", "f") and pitch_mm < 0.5):
        return None
    aside = _ASIDE_UM["g"].get(pitch_mm) if letter in ("g", "G") else None
    size = aside or rounded_um(off + 11.0 * pitch_mm)
    return size if letter == "G" else -size


def _metric(thread: Thread, cls: str) -> ThreadLimits | None:
    found = _CLASS.match(cls)
    if not found:
        return None
    grade, letter = int(found[1]), found[2]
    is_nut, off = letter.isupper(), metric_deviation_um(letter, thread.pitch_mm)
    kinds = ("TD2", "TD1") if is_nut else ("Td2", "Td")
    effective, crest = (metric_tolerance_um(k, thread.major_mm, thread.pitch_mm, grade) for k in kinds)
    if off is None or effective is None or crest is None:
        return None
    shift = off / 1000.0
    major, pitch, minor = thread.major_mm + shift, thread.pitch_diameter_mm + shift, thread.minor_internal_mm + shift
    if is_nut:
        return ThreadLimits(cls, True, _um(major), None, _um(pitch), _um(pitch + effective / 1000.0), _um(minor),
                            _um(minor + crest / 1000.0))  # fmt: skip
    return ThreadLimits(cls, False, _um(major - crest / 1000.0), _um(major), _um(pitch - effective / 1000.0), _um(pitch), None,
                        _um(thread.minor_external_mm + shift))  # fmt: skip


def _um(size_mm: float) -> float:
    """A size as the standard prints it, to the micrometre. [mm]"""
    return round(size_mm, 3)


def _unified(thread: Thread, cls: str) -> ThreadLimits:
    d, p = thread.major_mm / INCH_MM, thread.pitch_mm / INCH_MM
    engaged = 9.0 * p if thread.series == "UNEF" else d
    two_a = round(0.0015 * d ** (1 / 3) + 0.0015 * math.sqrt(engaged) + 0.015 * p ** (2 / 3), 6)
    effective = _in(_ASME[cls] * two_a)
    basic, tall = _in(thread.pitch_diameter_mm / INCH_MM), 3.0**0.5 / 2.0 * p
    if cls.endswith("A"):
        allowance = 0.0 if cls == "3A" else _in(0.3 * two_a)
        crest = _in((0.09 if cls == "1A" else 0.06) * p ** (2 / 3))
        top = _in(d) - allowance
        return _inches(cls, False, top - crest, top, basic - allowance - effective, basic - allowance, None,
                       d - allowance - 17.0 / 12.0 * tall)  # fmt: skip
    minor = d - 1.25 * tall
    return _inches(cls, True, _in(d), None, basic, basic + effective, minor, minor + _minor_width(d, p, cls))


def _minor_width(d: float, p: float, cls: str) -> float:
    """Tolerance of the nut's minor diameter. [in]"""
    small: float = 0.05 * p ** (2 / 3) + 0.03 * p / d - 0.002
    if cls == "3B":
        least = 0.12 * p if p > 1 / 13 + 1e-9 else 0.23 * p - 1.5 * p * p
        return float(min(max(small, least), 0.394 * p))
    by_pitch = 0.15 * p if p > 1 / 4 + 1e-9 else 0.25 * p - 0.4 * p * p
    return min(max(small, by_pitch), 0.394 * p) if d < 0.25 else by_pitch


def _inches(cls: str, is_nut: bool, *sizes: float | None) -> ThreadLimits:
    mm = [None if size is None else _in(size) * INCH_MM for size in sizes]
    low, high = mm[2], mm[3]
    assert low is not None
    assert high is not None
    return ThreadLimits(cls, is_nut, mm[0], mm[1], low, high, mm[4], mm[5])


def _pipe(thread: Thread, cls: str) -> ThreadLimits | None:
    row = _PIPE_MM.get(round(INCH_MM / thread.pitch_mm))
    if row is None or thread.major_mm > _PIPE_UP_TO_MM or cls not in ("G", "G A", "G B"):
        return None
    effective, major, minor = row
    pitch, root = _um(thread.pitch_diameter_mm), _um(thread.minor_internal_mm)
    if cls == "G":
        return ThreadLimits(cls, True, thread.major_mm, None, pitch, _um(pitch + effective), root, _um(root + minor))
    wide = effective if cls == "G A" else 2.0 * effective
    return ThreadLimits(cls, False, _um(thread.major_mm - major), thread.major_mm, _um(pitch - wide), pitch, None, root)


def _in(inches: float) -> float:
    """To the fourth decimal. [in]"""
    return float(Decimal(repr(round(inches, 9))).quantize(Decimal("0.0001"), rounding=ROUND_HALF_UP))
