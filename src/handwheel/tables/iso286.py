"""Limits of ISO 286-1 tolerance classes, sizes up to 3150 mm.

Fundamental deviations of shafts and the IT grades are tabulated; holes follow from them by the standard's
rules: A to H mirror the shaft, K, M and N up to IT8 and P to ZC up to IT7 mirror it and, from 3 to 500 mm, add delta.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from handwheel.tables.load import table

_CLASS = re.compile(r"([A-Za-z]{1,2})(01|\d|1\d)$")
_EXCEPT_M6 = (250.0, 315.0, -9.0)
_DELTA_MM = (3.0, 500.0)
"""Sizes for which delta is added: over the first, up to the second."""


@dataclass(frozen=True, slots=True)
class Fit:
    """Hole and shaft of one nominal size. [um] Deviations as (lower, upper); gaps hole less shaft, negative where tight."""

    hole_um: tuple[float, float]
    shaft_um: tuple[float, float]

    @property
    def least_gap_um(self) -> float:
        """Least clearance; below zero the greatest interference. [um]"""
        return self.hole_um[0] - self.shaft_um[1]

    @property
    def greatest_gap_um(self) -> float:
        """Greatest clearance; below zero the least interference. [um]"""
        return self.hole_um[1] - self.shaft_um[0]

    @property
    def kind(self) -> str:
        """`clearance`, `interference` or `transition`, as the standard names them."""
        if self.least_gap_um >= 0.0:
            return "clearance"
        return "interference" if self.greatest_gap_um <= 0.0 else "transition"


def fit_of(size_mm: float, fit: str) -> Fit | None:
    """A fit such as `H7/g6`, hole first; None where it is not of that form or a class is not tabulated at that size. [mm]"""
    hole, _, shaft = fit.partition("/")
    if not (hole[:1].isupper() and shaft[:1].islower()):
        return None
    inside, outside = deviations_um(size_mm, hole), deviations_um(size_mm, shaft)
    return None if inside is None or outside is None else Fit(inside, outside)


def tolerance_um(size_mm: float, grade: int | str) -> float | None:
    """IT grade's width of tolerance [um]; None outside 0 < size <= 3150 mm (IT01 and IT0: 500 mm) or IT01 to IT18.

    Source: ISO 286-1:2010, table 1 (IT14 to IT18 not for sizes up to 1 mm); IT01 and IT0, written "01" and 0,
    ISO 286-1:1988, annex A.
    """
    data = table("iso286")
    row: list[float] | None = data["it_um"].get(str(grade))
    place = _place(size_mm, data["it_up_to_mm"])
    if row is None or place is None or place >= len(row) or (int(grade) >= 14 and size_mm <= 1.0):
        return None
    return float(row[place])


def deviations_um(size_mm: float, cls: str) -> tuple[float, float] | None:
    """Lower and upper deviation of a tolerance class.

    Parameters
        size_mm: nominal size, 0 < size <= 3150; above 500 only d to h, js, k, m, n, p to u, and their holes. [mm]
        cls: such as `h7` (shaft) or `H7` (hole); j only in 5 to 8 and J in 6 to 8.
    Returns
        (lower, upper) [um]; None where the standard, or the table here, gives none.
    Source
        ISO 286-1:2010, tables 1 to 5 and clause 4.3.2.5 (delta rule); js and JS are not rounded.
    """
    found = _CLASS.match(cls.strip())
    if not found:
        return None
    letters, grade = found[1], int(found[2])
    width = tolerance_um(size_mm, found[2])
    if width is None:
        return None
    if found[2] == "01":
        grade = -1
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
    if row is None or place is None or place >= len(row) or (letters in ("a", "b") and size_mm <= 1.0):
        return None
    value = row[place]
    return None if value is None else float(value)


def _j(size_mm: float, letters: str, grade: int, width: float) -> tuple[float, float] | None:
    """j and J, which lie unevenly about zero and follow no formula."""
    data = table("iso286")
    row: list[float] | None = data["shaft_j_lower_um" if letters == "j" else "hole_J_upper_um"].get(str(grade))
    place = _place(size_mm, data["it_up_to_mm"])
    if row is None or place is None or place >= len(row):
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
    """K, M and N holes coarser than IT8: no K above 3 mm, N ends at zero from 3 to 500 mm and is not used up to 1 mm."""
    if letters == "k":
        return 0.0 if size_mm <= 3.0 else None
    if letters == "n":
        if size_mm <= 1.0:
            return None
        return 0.0 if _has_delta(size_mm) else -shaft_lower
    return -shaft_lower


def _has_delta(size_mm: float) -> bool:
    return _DELTA_MM[0] < size_mm <= _DELTA_MM[1]


def _delta(size_mm: float, grade: int) -> float | None:
    """ITn less the next finer grade; zero up to 3 and above 500 mm; not given finer than IT3."""
    if not _has_delta(size_mm):
        return 0.0
    if grade < 3:
        return None
    this, finer = tolerance_um(size_mm, grade), tolerance_um(size_mm, grade - 1)
    return None if this is None or finer is None else this - finer
