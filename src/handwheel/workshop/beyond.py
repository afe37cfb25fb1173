"""Sizes that the lathe has no room for, though it would for as many millimetres: a unit slip, most likely."""

from __future__ import annotations

from handwheel.base.faults import Notice
from handwheel.job.inches import is_in_inches
from handwheel.job.numbers import INCH_MM
from handwheel.job.records import DrawnDimension, Job, OutsideKind, Part, Point, Size, Where
from handwheel.workshop.records import Lathe

_ACROSS = {
    Size.DIAMETER: 1.0,
    Size.LEFT_DIAMETER: 1.0,
    Size.RIGHT_DIAMETER: 1.0,
    Size.PITCH_CIRCLE: 1.0,
    Size.ACROSS_FLATS: 1.0,
    Size.RADIUS: 2.0,
    Size.FROM_AXIS: 2.0,
}
_ALONG = (Size.OVERALL_LENGTH, Size.LENGTH, Size.WIDTH, Size.DEPTH, Size.DISTANCE)
_ARCS = (OutsideKind.HOLLOW, OutsideKind.ROUND, OutsideKind.FILLET)


def beyond_the_lathe(job: Job, lathe: Lathe) -> tuple[Notice, ...]:
    """A notice for each size written in inches that the lathe has no room for and, read as millimetres, it has.

    Parameters
        job: as read; sizes tied to another, auxiliary ones and those of an assembly are left alone.
        lathe: a diameter is held against twice its centre height, a length against what goes between its centres.
    """
    found = []
    for part in job.parts:
        free = _free(part)
        for dimension in part.dimensions:
            room = _room(dimension, free, lathe)
            value = dimension.value
            if room is None or value.auxiliary or not is_in_inches(value, job.units):
                continue
            times, limit_mm, what = room
            size_mm = float(value.number.value) * times
            if size_mm > limit_mm >= size_mm / float(INCH_MM):
                found.append(_notice(part, dimension, limit_mm, what))
    return tuple(found)


def _notice(part: Part, dimension: DrawnDimension, limit_mm: float, what: str) -> Notice:
    inches = float(dimension.value.number.value / INCH_MM)
    told = (
        f"'{dimension.phrase.text}' is {inches:.6g} in, more than the {limit_mm / float(INCH_MM):.4g} in "
        f"({limit_mm:.4g} mm) {what}"
    )
    return Notice("beyond-the-lathe", dimension.value.span, told, "did you mean mm?", part.name, (dimension.phrase.text,))


def _room(dimension: DrawnDimension, free: frozenset[str], lathe: Lathe) -> tuple[float, float, str] | None:
    """How often the size counts, the room there is for it in mm and its name; None for what no room limits."""
    phrase = dimension.phrase
    points = [point for point in (phrase.start, phrase.end) if point is not None]
    if phrase.feature in free or any(_is_off_the_part(point, free) for point in points):
        return None
    if phrase.size in _ACROSS:
        return _ACROSS[phrase.size], 2.0 * lathe.centre_height_mm, "that swing over the bed"
    if phrase.size in _ALONG:
        return 1.0, lathe.between_centres_mm, "that go between the centres"
    return None


def _free(part: Part) -> frozenset[str]:
    """Features whose centre may lie off the part, and whose diameter may be larger than any part of it."""
    return frozenset(f.name for f in part.outside if f.kind in _ARCS or f.is_dome)


def _is_off_the_part(point: Point, free: frozenset[str]) -> bool:
    return point.where in (Where.APEX, Where.MEETS) or (point.where is Where.CENTRE and point.feature in free)

