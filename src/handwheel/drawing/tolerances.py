"""The tolerance of a given size: written, by ISO 286 class, or general."""

from __future__ import annotations

from dataclasses import dataclass

from handwheel.base.faults import Fault, Notice
from handwheel.drawing.shape import Feature, Outside
from handwheel.job.records import DrawnDimension, GeneralTolerance, OutsideKind, Size
from handwheel.tables.iso286 import deviations_um
from handwheel.tables.iso2768 import deviation_mm

GENERAL = frozenset(set(Size) - {Size.INCLUDED_ANGLE, Size.ANGLE_TO_AXIS, Size.TAPER})
"""Sizes the general tolerance is for."""


@dataclass(frozen=True)
class Limits:
    """Signed deviations in the measure's unit, and where they come from ('' when exact)."""

    lower: float = 0.0
    upper: float = 0.0
    source: str = ""


def written_limits(dimension: DrawnDimension, size_mm: float) -> Limits | Fault:
    """The tolerance written with a dimension; a class is looked up for the size."""
    tolerance = dimension.value.tolerance
    if tolerance is None:
        return Limits()
    if not tolerance.iso286:
        return Limits(float(tolerance.lower), float(tolerance.upper), "written")
    found = deviations_um(size_mm, tolerance.iso286)
    if found is None:
        return Fault(
            "class-not-in-table",
            tolerance.span or dimension.span,
            f"'{tolerance.iso286}' at {size_mm:.4g} mm is not in the tables of ISO 286",
            "write the limits themselves, such as '+0.02 +0.01'",
            phrases=(dimension.phrase.text,),
        )
    return Limits(found[0] / 1000.0, found[1] / 1000.0, tolerance.iso286)


def general_limits(
    dimension: DrawnDimension, general: GeneralTolerance, feature: Feature | None, part: str
) -> Limits | Notice:
    """The general tolerance for a size that has none written; a notice where the table has none for it."""
    phrase = dimension.phrase
    if phrase.size not in GENERAL or dimension.value.follow is not None:
        return Limits()
    if general.plus_minus_mm is not None:
        t = float(general.plus_minus_mm)
        return Limits(-t, t, f"general ± {t:g} mm")
    size = abs(float(dimension.value.number.value))
    found = deviation_mm(size, general.iso2768, "edge" if _is_edge(feature, phrase.size) else "linear")
    if found is None:
        return Notice(
            "no-general-tolerance",
            dimension.span,
            f"no tolerance is known for '{phrase.text}': ISO 2768-1 {general.iso2768} has no row for {size:g} mm",
            "write a tolerance with it if it matters",
            part,
            (phrase.text,),
        )
    return Limits(-found, found, f"ISO 2768-1 {general.iso2768}")


def _is_edge(feature: Feature | None, size: Size) -> bool:
    if not isinstance(feature, Outside):
        return False
    kind = feature.source.kind
    if kind is OutsideKind.CHAMFER:
        return size is Size.LENGTH
    return kind is OutsideKind.FILLET or (kind is OutsideKind.ROUND and feature.source.is_edge)
