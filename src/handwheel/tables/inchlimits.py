"""Limits of inch threads: ASME B1.1 (unified), BS 84 (Whitworth form), and of BA (BS 93) and pipe threads (ISO 228-1).

By the standards' own formulae, rounded as they round: inches to the fourth decimal.
"""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from handwheel.tables.load import table
from handwheel.tables.threadclass import ThreadLimits
from handwheel.tables.threads import UNIFIED, Thread

INCH_MM = 25.4
_ASME = {"1A": 1.5, "2A": 1.0, "3A": 0.75, "1B": 1.95, "2B": 1.3, "3B": 0.975}
"""ASME B1.1: each class's share of class 2A's tolerance of the effective diameter."""
_BY_DIAMETER = ("UNC", "UNF")
_CONSTANT_BY_DIAMETER = (4, 6, 8)
"""ASME B1.1: series whose tolerances are reckoned for an engagement of one diameter; the others for nine pitches."""
_THREE_PLACES_IN = 0.138
"""From No. 6 up a nut's least minor diameter is rounded to the third decimal."""
_WHITWORTH = ("BSW", "BSF", "ME", "brass")


def unified_limits(thread: Thread, cls: str) -> ThreadLimits | None:
    """1A to 3A, 1B to 3B; 1A and 1B for UNC and UNF of 1/4 in and more only. [mm] The screw's root is that of the rounded form.

    Source: ASME B1.1, formulae of its section on limits.
    """
    d, p = thread.major_mm / INCH_MM, thread.pitch_mm / INCH_MM
    if thread.series not in UNIFIED or cls not in _ASME:
        return None
    if cls[0] == "1" and (thread.series not in _BY_DIAMETER or d < 0.25 - 1e-9):
        return None
    two_a = round(0.0015 * d ** (1 / 3) + 0.0015 * math.sqrt(_engaged_in(thread, d, p)) + 0.015 * p ** (2 / 3), 6)
    effective = _in(_ASME[cls] * two_a)
    basic, tall = _in(thread.pitch_diameter_mm / INCH_MM), 3.0**0.5 / 2.0 * p
    if cls.endswith("A"):
        allowance = 0.0 if cls == "3A" else _in(0.3 * two_a)
        crest = _in((0.09 if cls == "1A" else 0.06) * p ** (2 / 3))
        top = _in(d) - allowance
        return _inches(cls, False, top - crest, top, basic - allowance - effective, basic - allowance, None,
                       d - allowance - 11.0 / 8.0 * tall)  # fmt: skip
    minor, width, is_number = d - 1.25 * tall, _minor_width(d, p, cls), d < _THREE_PLACES_IN - 1e-9
    most = _in(minor) + _in(width) if is_number or cls == "3B" else _in(minor + width, "0.001")
    return _inches(cls, True, _in(d), None, basic, basic + effective, minor if is_number else _in(minor, "0.001"), most)


def _engaged_in(thread: Thread, d: float, p: float) -> float:
    by_diameter = thread.series in _BY_DIAMETER or thread.series == "UN" and round(1.0 / p) in _CONSTANT_BY_DIAMETER
    return d if by_diameter else 9.0 * p


def _minor_width(d: float, p: float, cls: str) -> float:
    """Tolerance of the nut's minor diameter. [in]"""
    small: float = 0.05 * p ** (2 / 3) + 0.03 * p / d - 0.002
    if cls == "3B":
        least = 0.12 * p if p > 1 / 13 + 1e-9 else 0.23 * p - 1.5 * p * p
        return float(min(max(small, least), 0.394 * p))
    by_pitch = 0.15 * p if p > 1 / 4 + 1e-9 else 0.25 * p - 0.4 * p * p
    return min(max(small, by_pitch), 0.394 * p) if d < 0.25 else by_pitch


def whitworth_limits(thread: Thread, cls: str) -> ThreadLimits | None:
    """`close`, `medium`, `free` of a screw, `close`, `medium`, `normal` of a nut (`close nut`, `medium nut` where it is to be
    told), for an engagement of one diameter. [mm]

    BSW and BSF; the constant-pitch series have no limits of their own: these are the same formulae for their sizes.
    Source: BS 84, annex B.
    """
    if thread.series not in _WHITWORTH:
        return None
    data, name = table("thread_limits")["bs84"], cls.removesuffix(" nut")
    is_nut = cls.endswith(" nut") or cls == "normal"
    share = data["nut" if is_nut else "screw"].get(name)
    if share is None:
        return None
    d, p = thread.major_mm / INCH_MM, thread.pitch_mm / INCH_MM
    whole = _whitworth_in(data, d, p)
    depth = (thread.major_mm - thread.pitch_diameter_mm) / INCH_MM
    basic, minor = _in(_in(d) - _in(depth)), _in(d - 2.0 * depth)
    if is_nut:
        constant = next(float(add) for least, add in data["minor_constant"] if 1.0 / p >= least - 1e-9)
        return _inches(name, True, d, None, basic, basic + _in(share * whole), minor, minor + _in(data["minor"] * p + constant))
    off = _in(_allowance_in(data, thread, name, d, p))
    top = _in(d) - off
    return _inches(name, False, top - _in(share * whole + data["major"] * math.sqrt(p)), top, basic - off - _in(share * whole),
                   basic - off, None, minor - off)  # fmt: skip


def _whitworth_in(data: dict[str, Any], d: float, p: float) -> float:
    """BS 84's T for an engagement of one diameter. [in]"""
    of_diameter, of_length, of_pitch = data["T"]
    return float(of_diameter * d ** (1 / 3) + of_length * math.sqrt(d) + of_pitch * math.sqrt(p))


def _allowance_in(data: dict[str, Any], thread: Thread, cls: str, d: float, p: float) -> float:
    """What medium and free screws up to 3/4 in stand below basic; under 1/4 in as at 1/4 in of that series. [in]"""
    if cls == "close" or d > data["allowance_to"] + 1e-9:
        return 0.0
    if d < data["allowance_least"] - 1e-9 and thread.series in ("BSW", "BSF"):
        d, p = data["allowance_least"], 1.0 / (20.0 if thread.series == "BSW" else 26.0)
    return float(data["allowance"] * _whitworth_in(data, d, p))


def ba_limits(thread: Thread, cls: str) -> ThreadLimits | None:
    """`close` (screws, 0 to 10 BA), `normal`; `normal nut`. 0 to 16 BA. [mm] Source: BS 93, annex B."""
    number = int(thread.designation.split()[0]) if thread.series == "BA" else 99
    if number > 16 or cls not in ("close", "normal", "normal nut") or (cls == "close" and number > 10):
        return None
    data, p = table("thread_limits")["bs93"], thread.pitch_mm
    basic, minor = thread.pitch_diameter_mm, thread.minor_internal_mm
    if cls == "normal nut":
        factor, constant = data["effective"]["nut"]
        return ThreadLimits("normal", True, thread.major_mm, None, _um(basic), _um(basic + factor * p + constant), _um(minor),
                            _um(minor + data["minor_nut"] * p))  # fmt: skip
    off = data["allowance"] if cls == "normal" and number <= 10 else 0.0
    factor, constant = data["effective"][cls]
    width = data["major"]["normal_from_11" if number > 10 else cls] * p
    top, pitch = thread.major_mm - off, basic - off
    return ThreadLimits(cls, False, _um(top - width), _um(top), _um(pitch - factor * p - constant), _um(pitch), None,
                        _um(minor - off))  # fmt: skip


def pipe_limits(thread: Thread, cls: str) -> ThreadLimits | None:
    """`G A`, `G B` of a screw, `G` of a nut. [mm] Source: ISO 228-1, table 1."""
    data, tpi = table("thread_limits")["iso228"], round(INCH_MM / thread.pitch_mm)
    row = data.get("11_above" if tpi == 11 and thread.major_mm > data["above_mm"] else str(tpi))
    if thread.series != "BSP" or row is None or cls not in ("G", "G A", "G B"):
        return None
    effective, major, minor = row
    pitch, root = _um(thread.pitch_diameter_mm), _um(thread.minor_internal_mm)
    if cls == "G":
        return ThreadLimits(cls, True, thread.major_mm, None, pitch, _um(pitch + effective), root, _um(root + minor))
    wide = effective if cls == "G A" else 2.0 * effective
    return ThreadLimits(cls, False, _um(thread.major_mm - major), thread.major_mm, _um(pitch - wide), pitch, None, root)


def _inches(cls: str, is_nut: bool, *sizes: float | None) -> ThreadLimits:
    mm = [None if size is None else _in(size) * INCH_MM for size in sizes]
    low, high = mm[2], mm[3]
    assert low is not None
    assert high is not None
    return ThreadLimits(cls, is_nut, mm[0], mm[1], low, high, mm[4], mm[5])


def _um(size_mm: float) -> float:
    return round(size_mm, 3)


def _in(inches: float, places: str = "0.0001") -> float:
    """To the fourth decimal, or the third. [in]"""
    return float(Decimal(repr(round(inches, 9))).quantize(Decimal(places), rounding=ROUND_HALF_UP))
