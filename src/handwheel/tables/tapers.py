"""Standard tapers by name: Morse, Brown & Sharpe and Jarno numbers, and R8.

Inches as in the tables, turned to millimetres here. Several lengths of a Brown & Sharpe number are about: its small end
is the size they share, so its length is left out.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from handwheel.tables.drills import INCH_MM
from handwheel.tables.load import table

_NAME = re.compile(r"(?:no\.?|number)?\s*(\d{1,2})\s*(morse|brown\s*(?:&|and)\s*sharpe|jarno)$", re.IGNORECASE)
_TURNED = re.compile(r"(morse|brown\s*(?:&|and)\s*sharpe|jarno)\s*(?:no\.?|number)?\s*(\d{1,2})$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class StandardTaper:
    """A standard taper. `taper`: diameter per length. Sizes None where the table holds none. [mm]

    large_mm: diameter at the gauge line, where the socket begins; small_mm: at the small end, length_mm from it.
    """

    name: str
    taper: float
    large_mm: float | None = None
    small_mm: float | None = None
    length_mm: float | None = None

    @property
    def half_angle_deg(self) -> float:
        """Angle of its side to the axis. [deg]"""
        return math.degrees(math.atan(self.taper / 2.0))


def find_taper(name: str) -> StandardTaper | None:
    """The standard taper of that name, None for one that the table does not hold.

    Parameters
        name: `No. 2 Morse`, `Morse 2`, `No. 7 Brown & Sharpe`, `Jarno 8`, `R8`.
    """
    plain = re.sub(r"\s+taper$", "", " ".join(name.split()), flags=re.IGNORECASE)
    if plain.upper() == "R8":
        half = math.radians(float(table("tapers")["r8_included_deg"]) / 2.0)
        return StandardTaper("R8", 2.0 * math.tan(half))
    found, turned = _NAME.match(plain), _TURNED.match(plain)
    if found is None and turned is None:
        return None
    number, kind = (found[1], found[2]) if found else (turned[2], turned[1]) if turned else ("", "")
    if kind.lower() == "jarno":
        return _jarno(int(number))
    family = "Morse" if kind.lower() == "morse" else "Brown & Sharpe"
    return _tabled(f"No. {int(number)} {family}")


def taper_names() -> tuple[str, ...]:
    """The names that `find_taper` knows, Jarno's by its first and last."""
    rule = table("tapers")["jarno"]
    return (*table("tapers")["tapers"], f"No. {rule['least']} Jarno", f"No. {rule['greatest']} Jarno", "R8")


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
