"""Screw threads by designation: sizes and pitches from the tables, basic diameters from the form's relations.

Basic form only (no allowance, no tolerance class). The ISO and unified root of a screw is the rounded one.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Any

from handwheel.tables.drills import INCH_MM, drill_diameter_mm
from handwheel.tables.load import table
from handwheel.tables.threadclass import taken_apart

UNIFIED = ("UNC", "UNF", "UNEF", "UN", "UNS")
_BETWEEN = r"\s*x\s*"
_NUMBER = r"(\d+(?:\.\d+)?|\.\d+)"
_FRACTION = r"(\d+\s+\d+/\d+|\d+-\d+/\d+|\d+/\d+|\d+(?:\.\d+)?|\.\d+)"
_IN = r"\s*(?:in|\")?"


@dataclass(frozen=True, slots=True)
class Thread:
    """A thread's basic sizes, mm and degrees.

    angle_deg: included. minor_internal_mm: basic minor of the nut. minor_external_mm: root of the screw.
    tapping_drill_mm: from the series' table; None where the table has none. designation: without its class. classes: as
    written, `6g`, `2A`; none where none is. length: `S`, `N` or `L` where it is written.
    """

    designation: str
    series: str
    major_mm: float
    pitch_mm: float
    minor_internal_mm: float
    minor_external_mm: float
    pitch_diameter_mm: float
    angle_deg: float
    is_left_hand: bool
    tapping_drill_mm: float | None
    classes: tuple[str, ...] = ()
    length: str = ""


def find_thread(designation: str) -> Thread | None:
    """The thread of a designation.

    Parameters
        designation: `M6`, `M8 x 1`, `1/4-20 UNC`, `No. 8-32 UNC` or `8-32 UNC`, `2 BA`, `1/4 BSW`, `1/4 BSF`,
            `1/4 BSP` (or `G1/4`), `1/4 x 40 ME`, `1/4 x 26 brass`, `0.800 in x 36 tpi 55 deg`; any with its class as the
            standards write it (`M6-6g`, `1/4-20 UNC-3A`, `1/4 BSW close`, `G1/4 B`) and with ` LH`.
    Returns
        The thread with its basic sizes; None for what the tables do not hold.
    Source
        ISO 261 and 724, ASME B1.1, BS 84, ISO 228-1, BS 93; constant-pitch 55 deg threads of model engineering.
    """
    text = " ".join(designation.replace("\N{MULTIPLICATION SIGN}", " x ").split())
    written = taken_apart(text)
    for read in _READERS:
        if found := read(written.plain):
            name = f"{written.plain} LH" if written.is_left_hand else written.plain
            return replace(found, designation=name, is_left_hand=written.is_left_hand, classes=written.classes,
                           length=written.length)  # fmt: skip
    return None


def plain_designation(designation: str) -> str:
    """A designation without its class: what a tap or die is called. As it is where the tables do not hold it."""
    thread = find_thread(designation)
    return designation if thread is None else thread.designation


def is_same_thread(one: str, other: str) -> bool:
    """Whether two designations are of one thread, whatever their spelling and class: what a tap or die is known by."""
    first, second = find_thread(one), find_thread(other)
    if first is None or second is None:
        return one == other
    return (first.major_mm, first.pitch_mm, first.angle_deg, first.is_left_hand) == (
        second.major_mm, second.pitch_mm, second.angle_deg, second.is_left_hand)  # fmt: skip


def known_designations() -> tuple[str, ...]:
    """The designations of the threads in the tables, each in its usual spelling: what a misspelt one may have meant."""
    data = table("threads")
    inches = sorted({size for series in ("UNC", "UNF", "BSW", "BSF") for size in data[series] if "/" in size})
    found = [f"M{size}" for size in data["metric_coarse"]]
    found += [f"{size}-{row[0]} {series}" for series in ("UNC", "UNF", "UNEF") for size, row in data[series].items()]
    found += [f"{size} {series}" for series in ("BSW", "BSF", "BSP") for size in data[series]]
    found += [f"{number} BA" for number in data["BA_tapping_drill"]]
    for series in ("ME", "brass"):
        found += [f"{size} x {tpi} {series}" for size in inches for tpi in data[f"{series}_threads_per_inch"]]
    return tuple(found)


def _metric(text: str) -> Thread | None:
    """`M6`, `M8 x 1`: coarse from the table; fine only for diameters and pitches of ISO 261."""
    found = re.match(rf"M\s*{_NUMBER}(?:{_BETWEEN}{_NUMBER})?(?:\s*mm)?$", text)
    if not found:
        return None
    data = table("threads")
    diameter = float(found[1])
    coarse = data["metric_coarse"].get(f"{diameter:g}")
    if coarse and (found[2] is None or float(found[2]) == float(coarse[0])):
        return _sixty("ISO metric coarse", diameter, float(coarse[0]), _drill(coarse[1]))
    if found[2] is None:
        return None
    pitch = float(found[2])
    too_coarse = float(coarse[0]) < pitch if coarse else pitch > diameter / 3.0
    if diameter not in data["metric_fine_diameters_mm"] or pitch not in data["metric_fine_pitches_mm"] or too_coarse:
        return None
    # ISO 2306 prints one decimal: diameter less pitch, with 0.75 taken as 0.8 and 1.25 as 1.2.
    taken = {0.75: 0.8, 1.25: 1.2}.get(pitch, pitch)
    return _sixty("ISO metric fine", diameter, pitch, round(diameter - taken, 2))


def _unified(text: str) -> Thread | None:
    """`1/4-20 UNC`, `No. 8-32 UNC`, `8-32 UNC`, `#8-32 UNC`: the pitch must be the series' own."""
    found = re.match(rf"(?:(?:No\.?\s*|#)(\d+)|{_FRACTION}){_IN}\s*-\s*{_NUMBER}\s*(?:tpi\s*)?(UNC|UNF|UNEF|UN|UNS)$", text)
    if not found:
        return None
    series, tpi = found[4], float(found[3])
    keys = [f"No. {found[1]}"] if found[1] else [_plain(found[2]), f"No. {found[2]}"]
    if series in ("UN", "UNS"):
        size = next((_major_mm(key) for key in keys if _is_listed(key)), None)
        return None if size is None else _constant_unified(series, size, tpi)
    rows = table("threads")[series]
    for key in keys:
        row = rows.get(key)
        if row and float(row[0]) == tpi:
            return _sixty(series, float(_major_mm(key)), float(INCH_MM) / tpi, _drill(row[1]))
    return None


def _is_listed(key: str) -> bool:
    """Sizes of ASME B1.1: numbers 0 to 12, sixteenths of an inch up to 6 in."""
    if key.startswith("No."):
        return key[3:].strip().isdigit() and int(key[3:]) <= 12
    size = _major_mm(key) / INCH_MM
    return 0 < size <= 6 and size * 16 == int(size * 16)


def _constant_unified(series: str, size_mm: Fraction, tpi: float) -> Thread | None:
    """`1 1/2-8 UN` where that constant-pitch series has the size; `1/2-18 UNS`: any pitch that leaves a core. [mm]"""
    if series == "UN":
        ends = table("threads")["UN"].get(f"{tpi:g}")
        if ends is None or not _major_mm(ends[0]) <= size_mm <= _major_mm(ends[1]):
            return None
    elif not 4.0 <= tpi <= 80.0:
        return None
    made = _sixty(series, float(size_mm), float(INCH_MM) / tpi, None)
    return made if made.minor_external_mm > 0.0 else None


def _british(text: str) -> Thread | None:
    """`1/4 BSW`, `1/4 BSF`, `1/4-20 BSW`."""
    found = re.match(rf"{_FRACTION}{_IN}\s*(?:[-x]\s*{_NUMBER}\s*)?(BSW|BSF)$", text)
    row = table("threads")[found[3]].get(_plain(found[1])) if found else None
    if not found or not row or (found[2] and float(found[2]) != float(row[0])):
        return None
    major = float(_major_mm(_plain(found[1])))
    return _fifty_five(found[3], major, float(INCH_MM) / float(row[0]), _drill(row[1]))


def _pipe(text: str) -> Thread | None:
    """`1/4 BSP` or `G1/4`: the name is of the pipe's bore; the major diameter is tabulated."""
    found = re.match(rf"(?:{_FRACTION}{_IN}\s*BSP|G\s*{_FRACTION})$", text)
    row = table("threads")["BSP"].get(_plain(found[1] or found[2])) if found else None
    return _fifty_five("BSP", float(row[1]), float(INCH_MM) / float(row[0]), _drill(row[2])) if row else None


def _ba(text: str) -> Thread | None:
    """`2 BA`: pitch 0.9 to the power n, diameter 6 times pitch to the power 1.2, and the depth of 0.6 of the pitch to the next
    0.005 mm, rounded as BS 93 rounds them; 17 to 25, which it has not, by the same rule."""
    found = re.match(r"(\d{1,2})\s*BA$", text)
    if not found or str(int(found[1])) not in table("threads")["BA_tapping_drill"]:
        return None
    number = int(found[1])
    exact = Decimal("0.9") ** number
    pitch = exact.quantize(Decimal("0.01") if number < 22 else Decimal("0.001"), rounding=ROUND_HALF_UP)
    diameter = 6 * exact ** Decimal("1.2")
    places = Decimal("0.1") if diameter >= 1 else Decimal("0.01")
    major = diameter.quantize(places, rounding=ROUND_HALF_UP)
    depth = Decimal("0.6") * pitch
    if number <= 16:
        depth = (depth / Decimal("0.005")).quantize(Decimal(1), rounding=ROUND_HALF_UP) * Decimal("0.005")
    drill = _drill(table("threads")["BA_tapping_drill"][str(number)])
    minor = float(major - 2 * depth)
    return Thread(
        text, "BA", float(major), float(pitch), minor, minor, float(major - depth), 47.5, False, drill
    )


def _constant_pitch(text: str) -> Thread | None:
    """`1/4 x 40 ME`, `1/4 x 26 brass`: 55 degrees, one pitch for many diameters."""
    found = re.match(rf"{_FRACTION}{_IN}\s*[x-]\s*(\d+)\s*(?:tpi\s*)?(ME|brass)$", text)
    if not found or found[2] not in table("threads")[f"{found[3]}_threads_per_inch"]:
        return None
    return _by_form(float(_major_mm(_plain(found[1]))), float(INCH_MM) / float(found[2]), "55", found[3])


def _special(text: str) -> Thread | None:
    """`0.800 in x 36 tpi 55 deg`, `20 mm x 1.5 mm 60 deg`."""
    found = re.match(
        rf"{_FRACTION}\s*(in|\"|mm){_BETWEEN}{_NUMBER}\s*(tpi|mm)\s*(?:x\s*)?(60|55|47\.5)\s*deg$", text
    )
    if not found or float(found[3]) == 0.0:
        return None
    size = _major_mm(_plain(found[1]))
    major = float(size / INCH_MM if found[2] == "mm" else size)
    pitch = float(found[3]) if found[4] == "mm" else float(INCH_MM) / float(found[3])
    return _by_form(major, pitch, found[5], "special")


def _by_form(major_mm: float, pitch_mm: float, angle: str, series: str) -> Thread | None:
    """None where the thread would leave no core."""
    if angle == "60":
        made = _sixty(series, major_mm, pitch_mm, None)
    elif angle == "55":
        made = _fifty_five(series, major_mm, pitch_mm, None)
    else:
        depth = 0.6 * pitch_mm
        minor = major_mm - 2 * depth
        made = Thread("", series, major_mm, pitch_mm, minor, minor, major_mm - depth, 47.5, False, None)
    return made if made.minor_external_mm > 0.0 else None


def _sixty(series: str, major_mm: float, pitch_mm: float, drill_mm: float | None) -> Thread:
    """ISO 68-1: H = 0.866025 P; D1 = D - 5/4 H, d2 = D - 3/4 H, d3 = D - 17/12 H."""
    height = 3.0**0.5 / 2.0 * pitch_mm
    return Thread(
        "", series, major_mm, pitch_mm, major_mm - 1.25 * height, major_mm - 17.0 / 12.0 * height,
        major_mm - 0.75 * height, 60.0, False, drill_mm,
    )  # fmt: skip


def _fifty_five(series: str, major_mm: float, pitch_mm: float, drill_mm: float | None) -> Thread:
    """BS 84: depth 0.640327 P (H = 0.960491 P, a sixth rounded off at crest and root)."""
    depth = 0.640327 * pitch_mm
    minor = major_mm - 2.0 * depth
    return Thread("", series, major_mm, pitch_mm, minor, minor, major_mm - depth, 55.0, False, drill_mm)


def _drill(name: str | None) -> float | None:
    size = drill_diameter_mm(name) if name else None
    return None if size is None else float(size)


def _plain(size: str) -> str:
    """`1-1/8` as `1 1/8`, single blanks."""
    return " ".join(size.replace("-", " ").split())


def _major_mm(size: str) -> Fraction:
    """`1 1/8`, `0.800`, `No. 8` (0.060 in and 0.013 in for each number), inches, to mm."""
    if size.startswith("No."):
        return (Fraction("0.060") + Fraction("0.013") * int(size[3:])) * INCH_MM
    total: Any = sum((Fraction(word) for word in size.split() if not word.endswith("/0")), Fraction(0))
    return Fraction(total) * INCH_MM


_READERS: tuple[Callable[[str], Thread | None], ...] = (
    _metric, _unified, _british, _pipe, _ba, _constant_pitch, _special,
)  # fmt: skip
