"""Limits of ISO 286-1 tolerance classes, sizes up to 500 mm.

Fundamental deviations of shafts and the IT grades are tabulated; holes follow from them by the standard's
rules: A to H mirror the shaft, K, M and N up to IT8 and P to ZC up to IT7 mirror it and add delta.
"""

from __future__ import annotations

import re

from handwheel.tables.load import table

_CLASS = re.compile(r"([A-Za-z]{1,2})(\d{1,2})$")
_EXCEPT_M6 = (250.0, 315.0, -9.0)


def tolerance_um(size_mm: float, grade: int) -> float | None:
    """IT grade's width of tolerance [um]; None outside 0 < size <= 500 mm or IT1 to IT16.

    Source: ISO 286-1:2010, table 1 (IT14 to IT16 not for sizes up to 1 mm).
    """
    data = table("iso286")
    row: list[float] | None = data["it_um"].get(str(grade))
    place = _place(size_mm, data["it_up_to_mm"])
    if row is None or place is None or (grade >= 14 and size_mm <= 1.0):
        return None
    return float(row[place])


def deviations_um(size_mm: float, cls: str) -> tuple[float, float] | None:
    """Lower and upper deviation of a tolerance class.

    Parameters
        size_mm: nominal size, 0 < size <= 500. [mm]
        cls: such as `h7` (shaft) or `H7` (hole); j only in 5, 6, 7 and J in 6, 7, 8.
    Returns
        (lower, upper) [um]; None where the standard, or the table here, gives none.
    Source
        ISO 286-1:2010, tables 1 to 5 and clause 4.3.2.5 (delta rule); js and JS are not rounded.
    """
    found = _CLASS.match(cls.strip())
    if not found:
        return None
    letters, grade = found[1], int(found[2])
    width = tolerance_um(size_mm, grade)
    if width is None:
        return None
    if letters in ("js", "JS"):
        return -width / 2, width / 2
    if letters in ("j", "J"):
        return _j(size_mm, letters, grade, width)
    if letters.islower():
        return _shaft(size_mm, letters, grade, width)
    if letters.isupper():
        return _hole(size_mm, letters.lower(), grade, width)
    return None


def _place(size_mm: float, up_to_mm: list[float]) -> int | None:
    """Which range a size falls in: over the one before, up to and including its own."""
    if size_mm <= 0:
        return None
    return next((i for i, top in enumerate(up_to_mm) if size_mm <= top), None)


def _tabulated(size_mm: float, letters: str, side: str) -> float | None:
    data = table("iso286")
    row: list[float | None] | None = data[side].get(letters)
    place = _place(size_mm, data["deviation_up_to_mm"])
    if row is None or place is None or (letters in ("a", "b") and size_mm <= 1.0):
        return None
    value = row[place]
    return None if value is None else float(value)


def _j(size_mm: float, letters: str, grade: int, width: float) -> tuple[float, float] | None:
    """j and J, which lie unevenly about zero and follow no formula."""
    data = table("iso286")
    row: list[float] | None = data["shaft_j_lower_um" if letters == "j" else "hole_J_upper_um"].get(str(grade))
    place = _place(size_mm, data["it_up_to_mm"])
    if row is None or place is None:
        return None
    end = float(row[place])
    return (end, end + width) if letters == "j" else (end - width, end)


def _shaft(size_mm: float, letters: str, grade: int, width: float) -> tuple[float, float] | None:
    below = _tabulated(size_mm, letters, "shaft_upper_below_zero_um")
    if below is not None:
        return -below - width, -below + 0.0
    lower = _tabulated(size_mm, letters, "shaft_lower_um")
    if lower is None:
        return None
    if letters == "k" and not 4 <= grade <= 7:
        lower = 0.0
    return lower, lower + width


def _hole(size_mm: float, letters: str, grade: int, width: float) -> tuple[float, float] | None:
    above = _tabulated(size_mm, letters, "shaft_upper_below_zero_um")
    if above is not None:
        return above, above + width
    lower = _tabulated(size_mm, letters, "shaft_lower_um")
    if lower is None:
        return None
    upper = _hole_upper(size_mm, letters, grade, lower)
    return None if upper is None else (upper - width, upper)


def _hole_upper(size_mm: float, letters: str, grade: int, shaft_lower: float) -> float | None:
    """Upper deviation ES of a K to ZC hole from the shaft's lower deviation ei."""
    if letters in ("k", "m", "n"):
        if grade > 8:
            return _coarse_upper(size_mm, letters, shaft_lower)
        if letters == "m" and grade == 6 and _EXCEPT_M6[0] < size_mm <= _EXCEPT_M6[1]:
            return _EXCEPT_M6[2]
    elif grade > 7:
        return -shaft_lower
    delta = _delta(size_mm, grade)
    return None if delta is None else -shaft_lower + delta


def _coarse_upper(size_mm: float, letters: str, shaft_lower: float) -> float | None:
    """K, M and N holes coarser than IT8: no K above 3 mm, N ends at zero above 3 mm and is not used up to 1 mm."""
    if letters == "k":
        return 0.0 if size_mm <= 3.0 else None
    if letters == "n":
        if size_mm <= 1.0:
            return None
        return -shaft_lower if size_mm <= 3.0 else 0.0
    return -shaft_lower


def _delta(size_mm: float, grade: int) -> float | None:
    """ITn less the next finer grade; zero up to 3 mm; not given finer than IT3."""
    if size_mm <= 3.0:
        return 0.0
    if grade < 3:
        return None
    this, finer = tolerance_um(size_mm, grade), tolerance_um(size_mm, grade - 1)
    return None if this is None or finer is None else this - finer
