"""Curves by steps in a real route: which tool, and the chart's lines cut with an independent polygon library."""

from __future__ import annotations

import pytest
import shapely
from shapely.geometry import Point, box
from shapely.ops import unary_union

from handwheel.job.records import Unit
from handwheel.plan.records import Chart, Operation
from handwheel.readings.charts import chart_reading
from handwheel.stages.metal import outline
from handwheel.workshop.read import built_in_workshop

from .test_route_rules import planned

SHOP = built_in_workshop(Unit.MM)
SPOOL = """
handwheel: 1
job: spool
units: mm
parts:
  spool:
    material: brass
    outside:
      - cylinder: foot
      - hollow: waist
      - cylinder: top
      - {round: edge, size: R 2 mm}
    dimensions:
      foot diameter: 20
      foot length: 6
      waist radius: 14
      waist length: 16
      top diameter: 18
      top left to edge right: 8
"""


def curves() -> list[tuple[Operation, Chart, shapely.Polygon]]:
    (plan,) = planned(SPOOL).parts
    assert not plan.refused
    finished = shapely.Polygon(outline(plan.finished))
    found = [(s.operation, s.operation.chart, finished) for s in plan.stages if s.operation.kind == "curve"]
    return [(operation, chart, part) for operation, chart, part in found if chart is not None]


def followed(operation: Operation, chart: Chart) -> tuple[list[tuple[float, float]], float]:
    """The setting point's places in the part's own z and radius, from the lines dialled; and what is said to be left."""
    found = chart_reading(operation, SHOP)
    assert found is not None
    assert len(found.rows) >= 3
    toward = 1.0 if operation.holding.toward_tailstock == "right" else -1.0
    along, cross = SHOP.lathe.wheels[found.along_wheel], SHOP.lathe.wheels["cross slide"]
    places = []
    for row in found.rows:
        travel = row.along[0] * along.lead_mm + row.along[1] * along.lead_mm / along.divisions
        inward = row.in_[0] * cross.lead_mm + row.in_[1] * cross.lead_mm / cross.divisions
        places.append((operation.datum_mm - toward * (travel - chart.touch_mm), chart.start_mm - inward))
    return places, found.left_mm


def test_a_hollow_goes_by_the_round_nose_and_an_edge_by_the_corner() -> None:
    tools = {(operation.features[0], operation.cutter.kind) for operation, _, _ in curves()}
    assert tools == {("waist", "round-nose"), ("edge", "knife")}


def test_both_flanks_of_a_hollow_have_their_chart() -> None:
    flanks = [chart.falls for operation, chart, _ in curves() if operation.features == ("waist",)]
    assert sorted(flanks) == [False, True]


def test_the_round_nose_s_lines_leave_what_is_said_and_do_not_cut_the_part() -> None:
    for operation, chart, part in curves():
        if not chart.nose_mm:
            continue
        places, left = followed(operation, chart)
        noses = unary_union([Point(z, r + chart.nose_mm).buffer(chart.nose_mm, quad_segs=512) for z, r in places])
        assert part.intersection(noses).area < 0.002
        low, high = min(z for z, _ in places), max(z for z, _ in places)
        pieces = box(low, 0.0, high, 40.0).difference(unary_union([part, noses]))
        slivers = [p for p in getattr(pieces, "geoms", [pieces]) if p.bounds[3] < 39.0 and part.distance(p) < 1e-6]
        assert slivers  # the lines stay a little off the part, so that the slivers hang together along it
        stands = max(part.distance(Point(xy)) for p in slivers for xy in shapely.get_coordinates(p).tolist())
        assert stands == pytest.approx(left, abs=0.01)


def test_the_corner_s_lines_do_not_cut_the_part() -> None:
    for operation, chart, part in curves():
        if chart.nose_mm:
            continue
        places, left = followed(operation, chart)
        for z, r in places:
            assert not part.buffer(-0.002).contains(Point(z, r))
            assert part.distance(Point(z, r)) < 0.1
        assert left <= 2.0 * SHOP.habit("chart cusp")


@pytest.mark.parametrize("kind", ["curve"])
def test_the_chart_starts_at_the_greater_diameter(kind: str) -> None:
    for operation, chart, _ in curves():
        assert operation.kind == kind
        radii = [place.radius_mm for place in chart.places]
        assert radii == sorted(radii, reverse=True)
