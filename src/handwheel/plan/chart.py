"""Step-off charts: where a tool stands, line by line, to cut a curve in steps that all leave the same above it.

Square nose: the corner nearest the greater diameter stands on the arc and what lies beyond it is cut away to that radius;
the corner left between two lines stands above the arc by the cusp. With x the place along from the arc's centre, its
squared distance from the centre is the arc's radius squared and the difference of two neighbouring x squared (less it, in
a hollow): equal cusps are equal steps of x squared. Round nose: its centre goes along the arc set off by the nose's
radius in equal angles; arc's centre, nose's centre and cusp make a triangle whose sides are all known.
"""

from __future__ import annotations

import math

from handwheel.job.records import OutsideKind, Side
from handwheel.plan.bench import Bench
from handwheel.plan.moves import Trace
from handwheel.plan.names import said
from handwheel.plan.records import Chart, Place
from handwheel.plan.view import Link, UPoint

MOST_LINES = 40
LEAST_LINES = 3
ON_ARC_MM = 1e-3
ROUND = "round-nose"


def square_places(from_mm: float, to_mm: float, lines: int) -> tuple[float, ...]:
    """Places along, from the arc's centre, of a square nose's corner: the ends and equal steps of their squares between.

    Parameters
        from_mm, to_mm: along from the arc's centre, both on one side of it. [mm]
        lines: number of steps.
    """
    sign = 1.0 if from_mm + to_mm >= 0.0 else -1.0
    squares = (from_mm**2 + (to_mm**2 - from_mm**2) * k / lines for k in range(lines + 1))
    return tuple(sign * math.sqrt(max(0.0, square)) for square in squares)


def square_cusp_mm(arc_mm: float, from_mm: float, to_mm: float, lines: int, is_hollow: bool) -> float:
    """What those steps leave above the arc. [mm]"""
    step = abs(to_mm**2 - from_mm**2) / lines
    if is_hollow:
        return arc_mm - math.sqrt(max(0.0, arc_mm**2 - step))
    return math.sqrt(arc_mm**2 + step) - arc_mm


def square_lines(arc_mm: float, from_mm: float, to_mm: float, cusp_mm: float, is_hollow: bool) -> int:
    """The fewest steps that leave no more than `cusp_mm`. [mm]"""
    step = arc_mm**2 - max(0.0, arc_mm - cusp_mm) ** 2 if is_hollow else (arc_mm + cusp_mm) ** 2 - arc_mm**2
    return max(1, math.ceil(abs(to_mm**2 - from_mm**2) / step - 1e-9))


def round_step_rad(arc_mm: float, nose_mm: float, cusp_mm: float, is_hollow: bool) -> float:
    """Angle about the arc's centre between two places of a round nose that leave `cusp_mm` between them.

    In a hollow the nose has to be smaller than the arc. [mm], [rad]
    """
    centres = arc_mm - nose_mm if is_hollow else arc_mm + nose_mm
    cusp = arc_mm - cusp_mm if is_hollow else arc_mm + cusp_mm
    if centres <= 0.0 or cusp <= 0.0:
        raise ValueError(f"a nose of {nose_mm} mm does not go into a hollow of {arc_mm} mm; take a smaller one")
    cosine = (centres**2 + cusp**2 - nose_mm**2) / (2.0 * centres * cusp)
    return 2.0 * math.acos(max(-1.0, min(1.0, cosine)))


def round_cusp_mm(arc_mm: float, nose_mm: float, step_rad: float, is_hollow: bool) -> float:
    """What a round nose leaves above the arc between two places that far apart. [mm], [rad]"""
    centres = arc_mm - nose_mm if is_hollow else arc_mm + nose_mm
    along, across = centres * math.cos(step_rad / 2.0), centres * math.sin(step_rad / 2.0)
    rise = math.sqrt(max(0.0, nose_mm**2 - across**2))
    return arc_mm - (along + rise) if is_hollow else along - rise - arc_mm


def chart_of(bench: Bench, link: Link, trace: Trace, start: float) -> Chart | None:
    """The chart of one flank of a curve, or of a cone, as that tool traces it, from the greater diameter on; None of anything
    else."""
    radius, centre, high = link.feature.arc_radius, link.centre, link.feature.centre_radius or 0.0
    if link.kind is OutsideKind.CONE:
        return _cone_chart(bench, link, trace, start)
    if radius is None or centre is None:
        return None
    nose = _nose(bench, trace)
    on_arc = [p for p in trace.path if abs(math.hypot(p[0] - centre, p[1] + nose - high) - radius) < ON_ARC_MM + nose]
    if len(on_arc) < 2:
        return None
    first, last = sorted((on_arc[0], on_arc[-1]), key=lambda p: -p[1])
    is_hollow = (first[1] + last[1]) / 2.0 + nose < high
    falls = last[0] >= first[0]
    if nose:
        points, cusp = _round(radius, nose, bench.shop.habit("chart cusp"), is_hollow, (first, last), (centre, high))
    else:
        points, cusp = _square(radius, bench.shop.habit("chart cusp"), is_hollow, (first, last), (centre, high))
    free, (touch, note) = bench.free_u(), _touch(bench, trace, nose, falls)
    zero = f"touched on the {bench.touched()}"
    places = tuple(Place(free - u + touch, r) for u, r in points if r < start - 1e-6)
    return Chart(link.name, places, free - centre + touch, high, radius, is_hollow, falls, nose, zero,
                 f"touched on the work, Ø {said(bench.shop.units, 2 * start)}", start, cusp, free - last[0] + touch, touch,
                 note)  # fmt: skip


def _cone_chart(bench: Bench, link: Link, trace: Trace, start: float) -> Chart:
    """Equal steps of a corner along a straight side: each leaves step times sin of its angle above it, square to it."""
    ends = ((link.u0, link.r0), (link.u1, link.r1))
    first, last = ends if link.r0 >= link.r1 else ends[::-1]
    angle = math.atan2(first[1] - last[1], abs(last[0] - first[0]))
    falls = last[0] >= first[0]
    side = abs(last[0] - first[0]) * math.sin(angle)
    lines = min(MOST_LINES, max(LEAST_LINES, math.ceil(side / bench.shop.habit("chart cusp") - 1e-9)))
    points = [tuple(a + (b - a) * k / lines for a, b in zip(first, last, strict=True)) for k in range(lines)]
    free, (touch, note) = bench.free_u(), _touch(bench, trace, 0.0, falls)
    left = said(bench.shop.units, bench.shop.habit("last cut"))
    note = f"{note}. Stop the first line {left} of Ø short, measure, and set the cross slide's zero by half of what it is out"
    places = tuple(Place(free - u + touch, r) for u, r in points if r < start - 1e-6)
    return Chart(link.name, places, free - first[0] + touch, first[1], 0.0, False, falls, 0.0,
                 f"touched on the {bench.touched()}", f"touched on the work, Ø {said(bench.shop.units, 2 * start)}", start,
                 side / lines, free - last[0] + touch, touch, note, math.degrees(angle))  # fmt: skip


def _square(
    radius: float, cusp: float, is_hollow: bool, ends: tuple[UPoint, UPoint], centre: UPoint
) -> tuple[list[UPoint], float]:
    """The corner's places but the last, where there is nothing left to cut, and what they leave."""
    low, high = ends[0][0] - centre[0], ends[1][0] - centre[0]
    lines = min(MOST_LINES, max(LEAST_LINES, square_lines(radius, low, high, cusp, is_hollow)))
    sense = -1.0 if is_hollow else 1.0
    along = square_places(low, high, lines)
    points = [(centre[0] + x, centre[1] + sense * math.sqrt(max(0.0, radius**2 - x**2))) for x in along[:-1]]
    return points, square_cusp_mm(radius, low, high, lines, is_hollow)


def _round(
    radius: float, nose: float, cusp: float, is_hollow: bool, ends: tuple[UPoint, UPoint], centre: UPoint
) -> tuple[list[UPoint], float]:
    """The places of a round nose's lowest point, and what they leave."""
    sense = -1.0 if is_hollow else 1.0
    angles = [math.atan2(u - centre[0], sense * (r + nose - centre[1])) for u, r in ends]
    span = abs(angles[1] - angles[0])
    lines = min(MOST_LINES, max(LEAST_LINES, math.ceil(span / round_step_rad(radius, nose, cusp, is_hollow) - 1e-9)))
    out = radius - nose if is_hollow else radius + nose
    turned = [angles[0] + (angles[1] - angles[0]) * k / lines for k in range(lines + 1)]
    points = [(centre[0] + out * math.sin(a), centre[1] + sense * out * math.cos(a) - nose) for a in turned]
    return points, round_cusp_mm(radius, nose, span / lines, is_hollow)


def _nose(bench: Bench, trace: Trace) -> float:
    if trace.cutter.kind != ROUND:
        return 0.0
    return next((t.nose_radius_mm for t in bench.shop.tools if t.name == trace.cutter.name), 0.0)


def _touch(bench: Bench, trace: Trace, nose: float, falls: bool) -> tuple[float, str]:
    """What the side that touches adds along, and what the hand has to know of it. [mm]"""
    units = bench.shop.units
    if nose:
        return nose, f"the end is touched with the nose's side: its radius, {said(units, nose)}, is in the figures"
    if falls and trace.corner == "left":
        return 0.0, "set by the corner nearest the headstock"
    if not falls and trace.cutter.kind == "parting":
        sign = 1.0 if bench.view.toward is Side.RIGHT else -1.0
        width = float(max(sign * trace.cutter.outline[:, 0]) - min(sign * trace.cutter.outline[:, 0]))
        return width, (f"set by the corner nearest the tailstock; the end is touched with the other side: the tool's width, "
                       f"{said(units, width)}, is in the figures")  # fmt: skip
    return 0.0, "set by the corner nearest the tailstock, at zero level with the end"
