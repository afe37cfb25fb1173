"""Drill sizes by name: number and letter drills of ASME B94.11M, and fractions of an inch or millimetres.

Diameters are exact: the standard's inches, four decimals, times 25.4.
"""

from __future__ import annotations

import re
from fractions import Fraction

from handwheel.tables.load import table

INCH_MM = Fraction(254, 10)
_NUMBER = re.compile(r"(?:no\.?|number)\s*(\d{1,2})$", re.IGNORECASE)
_LETTER = re.compile(r"letter\s+([a-z])$", re.IGNORECASE)
_SIZE = re.compile(r"(?:(\d+)\s+)?(\d+)/(\d+)\s*(in|\")$|(\d+(?:\.\d+)?)\s*(mm|in|\")$", re.IGNORECASE)


def drill_diameter_mm(name: str) -> Fraction | None:
    """Diameter of a drill by its name.

    Parameters
        name: `No. 7`, `letter F`; also `27/64 in`, `1 7/64 in`, `5.1 mm`; the word drill may follow.
    Returns
        Exact diameter [mm]; None for a name that the table does not hold.
    Source
        ASME B94.11M, numbers 1 to 97 and letters A to Z.
    """
    plain = re.sub(r"\s+drill$", "", " ".join(name.split()), flags=re.IGNORECASE)
    data = table("drills")
    if found := _NUMBER.match(plain):
        return _inches(data["number"].get(str(int(found[1]))))
    if found := _LETTER.match(plain):
        return _inches(data["letter"].get(found[1].upper()))
    return _plain_size_mm(plain)


def _inches(decimal: str | None) -> Fraction | None:
    return None if decimal is None else Fraction(decimal) * INCH_MM


def _plain_size_mm(text: str) -> Fraction | None:
    found = _SIZE.match(text)
    if not found:
        return None
    if found[3]:
        if int(found[3]) == 0:
            return None
        return (Fraction(found[1] or 0) + Fraction(int(found[2]), int(found[3]))) * INCH_MM
    return Fraction(found[5]) * (1 if found[6].lower() == "mm" else INCH_MM)
