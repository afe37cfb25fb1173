"""A step-off chart dialled: each line's two travels from their zeros, rounded so that no line cuts into the curve.

In, the line at or before the exact one. Along, where the curve falls toward the tailstock the line at or before, where it
rises the line at or beyond: both leave metal. How much stands above the curve is worked out again from the lines dialled.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from handwheel.plan.records import Chart, Operation
from handwheel.readings.dial import dial_past, dial_short, unit_of
from handwheel.readings.records import ChartReading, ChartRow
from handwheel.workshop.records import Handwheel, Workshop

SHARE = 0.5
"""Of the cusp, that a step along may come to before the other slide is taken."""


def chart_reading(operation: Operation, workshop: Workshop) -> ChartReading | None:
    """The operation's chart on this workshop's wheels; None where it has none."""
    chart = operation.chart
    if chart is None:
        return None
    wheels = workshop.lathe.wheels
    cross, along = wheels.get("cross slide"), _along(chart, workshop)
    if cross is None or along is None or cross.divisions <= 1 or along.divisions <= 1:
        return ChartReading(chart.feature, "", "", "", chart.zero_along, chart.zero_in, (), chart.cusp_mm, chart.note,
                            "no wheels with lines for both ways: a template and a file, or a form tool")  # fmt: skip
    along, cross = _plain(along, chart.cusp_mm), _plain(cross, chart.cusp_mm)
    rows: list[ChartRow] = []
    for place in chart.places:
        t, d, moved = (dial_short if chart.falls else dial_past)(place.along_mm, along)
        ct, cd, inward = dial_short(chart.start_mm - place.radius_mm, cross)
        if inward <= 0.0 or rows and inward <= rows[-1].in_mm + 1e-9:
            continue
        rows.append(ChartRow(len(rows) + 1, (t, d), (ct, cd), moved, inward, 2.0 * (chart.start_mm - inward)))
    stands = left_mm(chart, [(row.along_mm, chart.start_mm - row.in_mm) for row in rows])
    return ChartReading(chart.feature, along.slide, unit_of(along), unit_of(cross), chart.zero_along, chart.zero_in,
                        tuple(rows), stands, chart.note)  # fmt: skip


def _plain(wheel: Handwheel, cusp_mm: float) -> Handwheel:
    """The wheel read by whole divisions where those are fine beside the cusp. [mm]"""
    is_fine = wheel.lead_mm / wheel.divisions <= SHARE * cusp_mm
    return replace(wheel, smallest_part=max(1.0, wheel.smallest_part)) if is_fine else wheel


def left_mm(chart: Chart, places: Sequence[tuple[float, float]]) -> float:
    """Most metal above the curve after tools have stood at these places (along from zero, radius). [mm]

    Square nose: each corner left between two lines. Round nose: where two neighbouring noses cross.
    """
    if not places:
        return chart.cusp_mm
    centre = (chart.centre_along_mm, chart.centre_radius_mm)
    found: list[float] = []
    if chart.nose_mm > 0.0:
        noses = [(along, radius + chart.nose_mm) for along, radius in places]
        for a, b in zip(noses, noses[1:], strict=False):
            found.append(_above(chart, centre, _crossing(a, b, chart.nose_mm)))
        return max(found, default=chart.cusp_mm)
    ends = [along for along, _ in places[1:]] + [chart.end_along_mm]
    for (_, radius), end in zip(places, ends, strict=True):
        found.append(_above(chart, centre, (end, radius)))
    return max(found)


def _above(chart: Chart, centre: tuple[float, float], point: tuple[float, float]) -> float:
    if chart.side_deg is not None:  # a straight side, falling from the point away from the headstock or toward it
        sense, angle = (-1.0 if chart.falls else 1.0), math.radians(chart.side_deg)
        return (point[1] - centre[1]) * math.cos(angle) + sense * (point[0] - centre[0]) * math.sin(angle)
    away = math.hypot(point[0] - centre[0], point[1] - centre[1])
    return chart.arc_mm - away if chart.is_hollow else away - chart.arc_mm


def _crossing(a: tuple[float, float], b: tuple[float, float], nose: float) -> tuple[float, float]:
    """Where two noses cross below their centres; midway where they do not reach each other."""
    middle = ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)
    half = math.hypot(b[0] - a[0], b[1] - a[1]) / 2.0
    if half <= 0.0 or half >= nose:
        return middle
    rise = math.sqrt(nose**2 - half**2)
    along, across = (b[0] - a[0]) / (2.0 * half), (b[1] - a[1]) / (2.0 * half)
    one, other = (middle[0] + across * rise, middle[1] - along * rise), (middle[0] - across * rise, middle[1] + along * rise)
    return one if one[1] < other[1] else other


def _along(chart: Chart, workshop: Workshop) -> Handwheel | None:
    """The carriage where its steps are fine beside the cusp; else the top slide where it reaches; else the carriage."""
    carriage, top = (workshop.lathe.wheels.get(name) for name in ("carriage", "top slide"))
    if carriage is not None and carriage.divisions > 1 and carriage.step_mm <= SHARE * chart.cusp_mm:
        return carriage
    farthest = max((p.along_mm for p in chart.places), default=0.0)
    if top is not None and top.divisions > 1 and (top.travel_mm is None or farthest <= top.travel_mm):
        return top
    return carriage
