"""Step-off charts against an independent polygon library: the steps really cut, the curve never cut, the cusps as said."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely
from bench_for_readings import a_workshop, cross, operation
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, box
from shapely.ops import unary_union

from handwheel.job.records import Unit
from handwheel.plan.chart import round_cusp_mm, round_step_rad, square_cusp_mm, square_lines, square_places
from handwheel.plan.records import Chart, Place
from handwheel.readings.charts import chart_reading
from handwheel.readings.records import ChartReading
from handwheel.workshop.records import Handwheel, Workshop

FAR = 200.0
CARRIAGE = Handwheel("carriage", 20.0, 200, "travel", 0.5, "", travel_mm=500.0)
TOP = Handwheel("top slide", 2.54, 100, "travel", 0.5, "", travel_mm=60.0)


def disc(radius: float, x: float = 0.0, y: float = 0.0) -> shapely.Polygon:
    return Point(x, y).buffer(radius, quad_segs=4096)


def square_cut(places: list[tuple[float, float]]) -> shapely.Geometry:
    """All that a corner clears, standing at (x, r): to the right of x, above r."""
    return unary_union([box(x, r, FAR, FAR) for x, r in places])


def greatest_above(metal: shapely.Geometry, radius: float) -> float:
    """Farthest of what is left from the centre, beyond the arc."""
    return max(math.hypot(x, y) for x, y in shapely.get_coordinates(metal).tolist()) - radius


@settings(max_examples=60, deadline=None)
@given(st.floats(3.0, 40.0), st.integers(3, 40), st.floats(0.0, 0.6), st.floats(0.7, 0.999))
def test_square_steps_on_a_ball_leave_equal_cusps(radius: float, lines: int, share0: float, share1: float) -> None:
    x0, x1 = share0 * radius, share1 * radius
    xs = square_places(x0, x1, lines)
    assert (xs[0], xs[-1]) == (pytest.approx(x0), pytest.approx(x1))
    places = [(x, math.sqrt(radius**2 - x**2)) for x in xs[:-1]]
    left = box(x0, 0.0, x1, places[0][1] + 1.0).difference(square_cut(places))
    sector = disc(radius).intersection(box(x0, 0.0, x1, FAR))
    assert sector.difference(left).area < 1e-5 * radius**2  # the curve is not cut
    said = square_cusp_mm(radius, x0, x1, lines, False)
    assert greatest_above(left, radius) == pytest.approx(said, abs=1e-9)
    cusps = [math.hypot(b, math.sqrt(radius**2 - a**2)) - radius for a, b in zip(xs, xs[1:], strict=False)]
    assert cusps == pytest.approx([said] * lines, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(st.floats(3.0, 40.0), st.integers(3, 40), st.floats(0.2, 0.95))
def test_square_steps_in_a_hollow_leave_equal_cusps(radius: float, lines: int, share: float) -> None:
    """A hollow's flank falling toward its bottom: centre above, the metal below."""
    xs = square_places(-share * radius, 0.0, lines)
    cusps = [radius - math.hypot(b, math.sqrt(radius**2 - a**2)) for a, b in zip(xs, xs[1:], strict=False)]
    assert cusps == pytest.approx([square_cusp_mm(radius, -share * radius, 0.0, lines, True)] * lines, abs=1e-9)


@given(st.floats(3.0, 40.0), st.floats(0.02, 0.5), st.booleans())
def test_the_lines_are_the_fewest_that_leave_no_more(radius: float, cusp: float, is_hollow: bool) -> None:
    lines = square_lines(radius, 0.0, 0.9 * radius, cusp, is_hollow)
    assert square_cusp_mm(radius, 0.0, 0.9 * radius, lines, is_hollow) <= cusp + 1e-9
    if lines > 1:
        assert square_cusp_mm(radius, 0.0, 0.9 * radius, lines - 1, is_hollow) > cusp - 1e-9


@settings(max_examples=40, deadline=None)
@given(st.floats(5.0, 40.0), st.floats(0.2, 3.0), st.floats(0.005, 0.1), st.booleans())
def test_round_nose_s_cusp_against_cut_discs(radius: float, nose: float, cusp: float, is_hollow: bool) -> None:
    step = round_step_rad(radius, nose, cusp, is_hollow)
    assert round_cusp_mm(radius, nose, step, is_hollow) == pytest.approx(cusp, abs=1e-9)
    centres = radius - nose if is_hollow else radius + nose
    noses = [disc(nose, centres * math.sin(k * step), centres * math.cos(k * step)) for k in (-0.5, 0.5)]
    ray = shapely.LineString([(0.0, 0.0), (0.0, radius + 2 * nose)])
    cut = ray.intersection(unary_union(noses))
    ends = [y for _, y in shapely.get_coordinates(cut).tolist()]
    stands = radius - max(ends) if is_hollow else min(ends) - radius
    assert stands == pytest.approx(cusp, abs=2e-6 * radius)


def test_a_nose_too_large_for_a_hollow_is_refused() -> None:
    with pytest.raises(ValueError, match="take a smaller one"):
        round_step_rad(2.0, 2.5, 0.1, True)


def workshop(carriage: Handwheel | None = CARRIAGE, top: Handwheel | None = TOP, lines: Handwheel | None = None) -> Workshop:
    wheels = {"carriage": carriage, "top slide": top, "cross slide": lines or cross(2.0, 100, 0.5)}
    return a_workshop(Unit.MM, {name: wheel for name, wheel in wheels.items() if wheel is not None})


def ball(radius: float, lines: int, falls: bool = True, start: float | None = None, along0: float = 15.0) -> Chart:
    """A flank of a ball whose centre is `along0` from the end: toward the tailstock, or (falls False) the headstock."""
    sense = -1.0 if falls else 1.0
    xs = square_places(0.0, 0.95 * radius, lines)
    places = tuple(Place(along0 + sense * x, math.sqrt(radius**2 - x**2)) for x in xs[:-1])
    return Chart("grip", places, along0, 0.0, radius, False, falls, 0.0, "touched on the end", "touched on the work, Ø",
                 start or radius + 1.0, square_cusp_mm(radius, 0.0, 0.95 * radius, lines, False),
                 along0 + sense * 0.95 * radius)  # fmt: skip


def dialled(chart: Chart, shop: Workshop) -> ChartReading:
    found = chart_reading(replace(operation(10), chart=chart), shop)
    assert found is not None
    return found


@settings(max_examples=60, deadline=None)
@given(st.floats(4.0, 14.0), st.integers(4, 40), st.booleans(), st.floats(0.2, 3.0),
       st.sampled_from([(2.0, 100, 0.5), (1.016, 50, 1.0), (1.0, 40, 1.0), (2.54, 100, 0.5)]),
       st.sampled_from([None, TOP, Handwheel("top slide", 1.5, 60, "travel", 1.0, "")]))  # fmt: skip
def test_lines_as_dialled_never_cut_the_ball_and_leave_what_is_said(
    radius: float, lines: int, falls: bool, over: float, screw: tuple[float, int, float], top: Handwheel | None
) -> None:
    chart = ball(radius, lines, falls, radius + over)
    wheel = cross(*screw)
    found = dialled(chart, workshop(top=top, lines=wheel))
    along_wheel = CARRIAGE if found.along_wheel == "carriage" else top
    assert along_wheel is not None
    places = []
    for row in found.rows:
        turns, divisions = row.along
        travel = turns * along_wheel.lead_mm + divisions * along_wheel.lead_mm / along_wheel.divisions
        inward = row.in_[0] * wheel.lead_mm + row.in_[1] * wheel.lead_mm / wheel.divisions
        x = (chart.centre_along_mm - travel) * (1.0 if falls else -1.0)
        places.append((x, chart.start_mm - inward))
        assert row.leaves_mm == pytest.approx(2.0 * (chart.start_mm - inward), abs=1e-9)
    for x, r in places:
        assert math.hypot(max(0.0, x), r) >= radius - 1e-6  # its corner is not within the ball
    end = 0.95 * radius
    left = box(max(0.0, places[0][0]), 0.0, end, places[0][1]).difference(square_cut(places))
    assert greatest_above(left, radius) <= found.left_mm + 1e-6
    assert found.left_mm >= chart.cusp_mm - 1e-9


def test_without_lines_there_is_no_chart_but_what_to_do() -> None:
    rack = Handwheel("carriage", 21.99, 1, "travel", 0.25, "")
    found = dialled(ball(8.0, 10), workshop(carriage=rack, top=None))
    assert found.rows == ()
    assert "template" in found.cannot


def test_the_top_slide_where_the_carriage_is_coarse() -> None:
    assert dialled(ball(8.0, 40), workshop()).along_wheel == "top slide"
    fine = replace(CARRIAGE, lead_mm=2.0)
    assert dialled(ball(8.0, 10), workshop(carriage=fine)).along_wheel == "carriage"
