"""Standard tapers by name: Morse, Brown & Sharpe and Jarno numbers, R8, metric, 7 in 24, pins, the general series.

Inches as in the tables, turned to millimetres here. Several lengths of a Brown & Sharpe number are about: its small end
is the size they share, so its length is left out.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from handwheel.tables.drills import INCH_MM
from handwheel.tables.load import table

_KINDS = r"(morse|brown\s*(?:&|and)\s*sharpe|jarno)"
_NUMBER = r"(?:no\.?|number)?\s*(\d{1,2}(?:[ -]1/2)?)"
_NAME = re.compile(rf"{_NUMBER}\s*{_KINDS}$", re.IGNORECASE)
_TURNED = re.compile(rf"{_KINDS}\s*{_NUMBER}$", re.IGNORECASE)
_STEEP = re.compile(r"(?:7/24|7 in 24|7:24)\s*(?:no\.?|number)?\s*(\d\d)$|(?:no\.?|number)?\s*(\d\d)\s*(?:7/24|7 in 24|7:24)$",
                    re.IGNORECASE)  # fmt: skip
_METRIC = re.compile(r"metric\s*(\d{1,3})$", re.IGNORECASE)
_PIN = re.compile(r"(?:iso 2339|taper pin)\s*(?:(\d{1,2}(?:\.\d)?)\s*(?:mm)?|(?:no\.?|number)\s*(\d{1,2}(?:/0)?)|(\d/0))$",
                  re.IGNORECASE)  # fmt: skip
_SERIES = re.compile(r"(?:iso 1119\s*)?(1:\d{1,3})$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class StandardTaper:
    """A standard taper. `taper`: diameter per length. Sizes None where the table holds none. [mm]

    large_mm: diameter at the gauge line, where the socket begins (of a pin, at its large end); small_mm: at the small end,
    length_mm from it. `source`: the standard, where its name does not say it.
    """

    name: str
    taper: float
    large_mm: float | None = None
    small_mm: float | None = None
    length_mm: float | None = None
    source: str = ""

    @property
    def half_angle_deg(self) -> float:
        """Angle of its side to the axis. [deg]"""
        return math.degrees(math.atan(self.taper / 2.0))


def find_taper(name: str) -> StandardTaper | None:
    """The standard taper of that name, None for one that the table does not hold.

    Parameters
        name: `No. 2 Morse`, `Morse 2`, `No. 7 Brown & Sharpe`, `Jarno 8`, `R8`, `metric 80`, `7/24 No. 40`, `taper pin 6 mm`,
            `taper pin No. 4`, `1:10`.
    """
    plain = re.sub(r"\s+taper$", "", " ".join(name.split()), flags=re.IGNORECASE)
    if plain.upper() == "R8":
        half = math.radians(float(table("tapers")["r8_included_deg"]) / 2.0)
        return StandardTaper("R8", 2.0 * math.tan(half))
    found, turned = _NAME.match(plain), _TURNED.match(plain)
    if found is None and turned is None:
        return _of_a_series(plain)
    number, kind = (found[1], found[2]) if found else (turned[2], turned[1]) if turned else ("", "")
    if kind.lower() == "jarno":
        return _jarno(int(number)) if number.isdigit() else None
    family = "Morse" if kind.lower() == "morse" else "Brown & Sharpe"
    size = str(int(number)) if number.isdigit() else number.replace(" ", "-")
    return _tabled(f"No. {size} {family}")


def _of_a_series(plain: str) -> StandardTaper | None:
    """Metric and 7 in 24 tapers, pins, and the general series."""
    whole = table("tapers")
    if found := _METRIC.match(plain):
        row = whole["metric"]
        size = int(found[1])
        is_held = size in row["sizes"]
        return StandardTaper(f"metric {size}", _ratio(row), float(size), source="ISO 296") if is_held else None
    if found := _STEEP.match(plain):
        row, number = whole["seven_in_24"], found[1] or found[2]
        line = row["gauge_line_mm"].get(number)
        return None if line is None else StandardTaper(f"7/24 No. {number}", _ratio(row), float(line), source="ISO 297")
    if found := _PIN.match(plain):
        return _pin(found[1], found[2] or found[3])
    if found := _SERIES.match(plain):
        for series, ratios in whole["iso1119"].items():
            if found[1] in ratios:
                return StandardTaper(found[1], 1.0 / float(found[1][2:]), source=f"ISO 1119, {series}")
    return None


def _pin(size: str | None, number: str | None) -> StandardTaper | None:
    """A taper pin: by its small end in mm, or by its number in inches."""
    whole = table("tapers")
    if number is not None:
        large = whole["pins_inch"]["large_end"].get(number)
        if large is None:
            return None
        in_mm = float(Fraction(large) * INCH_MM)
        return StandardTaper(f"taper pin No. {number}", _ratio(whole["pins_inch"]), in_mm, source="ASME B18.8.2")
    if size is None or size not in whole["pins_mm"]["small_end"]:
        return None
    return StandardTaper(f"taper pin {size} mm", _ratio(whole["pins_mm"]), small_mm=float(size), source="ISO 2339")


def _ratio(row: Mapping[str, str]) -> float:
    return float(Fraction(row["taper"]))


def taper_names() -> tuple[str, ...]:
    """The names that `find_taper` knows, long series by their first and last."""
    whole = table("tapers")
    rule, ends = whole["jarno"], (0, -1)
    series = [
        *(f"metric {whole['metric']['sizes'][k]}" for k in ends),
        *(f"7/24 No. {number}" for number in whole["seven_in_24"]["gauge_line_mm"]),
        *(f"taper pin {whole['pins_mm']['small_end'][k]} mm" for k in ends),
        *(f"taper pin No. {list(whole['pins_inch']['large_end'])[k]}" for k in ends),
        *(ratio for ratios in whole["iso1119"].values() for ratio in ratios),
    ]
    return (*whole["tapers"], f"No. {rule['least']} Jarno", f"No. {rule['greatest']} Jarno", "R8", *series)


def _tabled(name: str) -> StandardTaper | None:
    row = table("tapers")["tapers"].get(name)
    if row is None:
        return None
    large, small, length = (None if size is None else float(Fraction(size) * INCH_MM) for size in row[1:])
    return StandardTaper(name, float(Fraction(row[0]) / 12), large, small, length)


def _jarno(number: int) -> StandardTaper | None:
    """By its rule: large end n/8, small end n/10, length n/2 inch."""
    rule = table("tapers")["jarno"]
    if not rule["least"] <= number <= rule["greatest"]:
        return None
    large, small, length = (float(number * Fraction(rule[key]) * INCH_MM) for key in ("large", "small", "length"))
    return StandardTaper(f"No. {number} Jarno", float(Fraction(rule["taper"]) / 12), large, small, length)
