"""Corner at a seat: what the tool leaves in it, or the fillet drawn there, against the mouth of the hole that goes over it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from handwheel.drawing.records import Drawing, SolvedPart
from handwheel.job.records import OutsideKind, Point, Side, Where
from handwheel.plan.athand import tool_of
from handwheel.plan.names import said
from handwheel.plan.records import PartPlan, Stage
from handwheel.stages.check_tool import corners_made, rides_on_corner
from handwheel.stages.finished import finished_section
from handwheel.stages.records import CheckResult, Polyline
from handwheel.workshop.records import Workshop

CHECK = "corner at a seat"
NEAR_MM = 1e-6


def seat_checks(plans: Sequence[PartPlan], drawing: Drawing, shop: Workshop) -> tuple[CheckResult, ...]:
    """One line for every shoulder that a hole's mouth is pushed up to; it warns, for either part may be changed."""
    by_part = {p.part: p for p in plans}
    found: list[CheckResult] = []
    for assembly in drawing.job.assemblies:
        for seat in assembly.seats:
            for shaft, hole in ((seat.fixed, seat.moving), (seat.moving, seat.fixed)):
                found += _at_seat(shaft, hole, by_part, drawing, shop)
    return tuple(found)


def _at_seat(shaft: Point, hole: Point, plans: Mapping[str, PartPlan], drawing: Drawing, shop: Workshop) -> Iterator[CheckResult]:
    if shaft.part not in plans or hole.part not in plans or shaft.where not in (Where.LEFT, Where.RIGHT):
        return
    part, mate = drawing.part(shaft.part), drawing.part(hole.part)
    corner, mouth = _corner(part, shaft), _mouth(mate, hole)
    if corner is None or mouth is None or float(mouth[0, 1]) <= NEAR_MM:
        return
    z, radius, fillet = corner
    stage = _made_in(plans[part.name], z)
    tool = tool_of(stage.operation, shop) if stage else None
    number = stage.operation.number if stage else 0
    if fillet == 0.0 and tool is None:
        yield CheckResult(CHECK, f"not known what is left in the corner that {mate.name} is pushed up to", part.name, number,
                          f"see that the chamfer in {mate.name} is larger", is_warning=True)  # fmt: skip
        return
    left = max(fillet, tool.nose_radius_mm if tool else 0.0)
    stands = rides_on_corner(left, radius, mouth)
    if stands == 0.0:
        yield CheckResult(CHECK, "no fault", part.name, number)
        return
    units = shop.units
    yield CheckResult(CHECK, f"R {said(units, left)} in the corner stands {said(units, stands)} into the mouth of {mate.name}, "
                      "which does not come home", part.name, number,
                      f"a chamfer of {said(units, left)} or more in {mate.name}, a sharper tool, or an undercut in the corner",
                      is_warning=True)  # fmt: skip


def _corner(part: SolvedPart, seat: Point) -> tuple[float, float, float] | None:
    """z of the shoulder's corner, radius of what stands out of it, and the fillet drawn there, 0 for none. [mm]"""
    names = [f.name for f in part.outside]
    if seat.feature not in names:
        return None
    is_right = seat.where is Where.RIGHT
    way, at = (1, names.index(seat.feature)) if is_right else (-1, names.index(seat.feature))
    beyond = [part.outside[k] for k in (at + way, at + 2 * way) if 0 <= k < len(names)]
    fillet = 0.0
    if beyond and beyond[0].source.kind is OutsideKind.FILLET:
        fillet = beyond[0].arc_radius or 0.0
        beyond = beyond[1:]
    if not beyond:
        return None
    shoulder = part.outside[at]
    z, high = (shoulder.right, shoulder.right_radius) if is_right else (shoulder.left, shoulder.left_radius)
    low = beyond[0].left_radius if is_right else beyond[0].right_radius
    return (z, low, fillet) if low < high - NEAR_MM and low > NEAR_MM else None


def _mouth(part: SolvedPart, seat: Point) -> Polyline | None:
    """The hole at that end of the part: depth from the end's face and radius; None where the seat is not at an end. [mm]"""
    place = _station(part, seat)
    inner = finished_section(part).inner
    if place is not None and abs(place) <= NEAR_MM:
        return inner
    if place is not None and abs(place - part.length) <= NEAR_MM:
        return np.column_stack([part.length - inner[::-1, 0], inner[::-1, 1]])
    return None


def _station(part: SolvedPart, seat: Point) -> float | None:
    if seat.where is Where.LEFT_END:
        return 0.0
    if seat.where is Where.RIGHT_END:
        return part.length
    feature = next((f for f in part.outside if f.name == seat.feature), None)
    if feature is not None and seat.where in (Where.LEFT, Where.RIGHT):
        return feature.left if seat.where is Where.LEFT else feature.right
    holes = {Side.LEFT: part.inside_left, Side.RIGHT: part.inside_right}
    hole = next((h for side in holes.values() for h in side if h.name == seat.feature), None)
    if hole is None or seat.where not in (Where.LEFT, Where.RIGHT):
        return None
    low, high = sorted((hole.mouth, hole.bottom))
    return low if seat.where is Where.LEFT else high


def _made_in(plan: PartPlan, z: float) -> Stage | None:
    """The stage that cuts the corner at z."""
    for stage in plan.stages:
        if any(abs(place - z) <= 1e-3 for place in corners_made(stage.before, stage.after, plan.finished)):
            return stage
    return None
