"""General tolerances of ISO 2768-1:1989: linear sizes (table 1) and broken edges (table 2)."""

from __future__ import annotations

from handwheel.tables.load import table

GRADES = ("f", "m", "c", "v")


def deviation_mm(size_mm: float, grade: str, kind: str = "linear") -> float | None:
    """Permissible deviation, plus or minus, of a size without its own tolerance.

    Parameters
        size_mm: nominal size, >= 0.5 (below that the standard gives none). [mm]
        grade: f, m, c or v.
        kind: `linear` (table 1) or `edge` (chamfer heights and external radii, table 2).
    Returns
        Deviation [mm]; None where the standard gives none or the grade is not known.
    Source
        ISO 2768-1:1989, tables 1 and 2.
    """
    if grade not in GRADES or kind not in ("linear", "edge"):
        return None
    rows = table("iso2768")[kind]
    for index, (over, up_to) in enumerate(zip(rows["over_mm"], rows["up_to_mm"], strict=True)):
        is_first_and_equal = index == 0 and size_mm == over
        if (size_mm > over or is_first_and_equal) and (up_to is None or size_mm <= up_to):
            found: float | None = rows[grade][index]
            return found
    return None
