"""Which way a taper is turned, by its length and angle and what the workshop has; and what a route by each of them says."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from shapely.geometry import box
from shapely.ops import unary_union

from handwheel.job.records import Unit
from handwheel.plan.records import Operation, PartPlan
from handwheel.plan.taperways import AWAY, TOWARD, chosen, ruled_out, side_of, taper_ways
from handwheel.readings.charts import chart_reading
from handwheel.stages.metal import outline
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import TaperAttachment, Workshop

from .test_route_rules import planned

METRIC = built_in_workshop(Unit.MM)  # top slide 60 mm, swings to 60°; tailstock sets over 8
OWNED = TaperAttachment(8.0, 250.0, "mm in 100 mm", 0.5, 0.05, "cross slide")
DRIFT = """handwheel: 1
job: Drift
units: mm
parts:
  drift:
    material: free-cutting mild steel
    outside: [{cylinder: head}, {cone: nose, narrow: right}]
    dimensions:
      head diameter: 22
      head length: 20
      nose left diameter: 20 ± 0.05
      nose right diameter: %s
      nose length: %s
"""
SOCKET = """handwheel: 1
job: Socket
units: mm
parts:
  socket:
    material: free-cutting mild steel
    outside: [{cylinder: body}]
    inside:
      from right: [{bore: seat, cone: yes}, {hole: way, through: yes}]
    dimensions:
      body diameter: 35
      overall length: %s
      seat right diameter: 20 ± 0.05
      seat taper: 1:20
      seat depth: %s
      way diameter: 10
"""


def lathe(**changes: object) -> Workshop:
    return replace(METRIC, lathe=replace(METRIC.lathe, **changes))


def without(slide: str) -> Workshop:
    return lathe(wheels={name: wheel for name, wheel in METRIC.lathe.wheels.items() if name != slide})


def names(angle: float, length: float, shop: Workshop = METRIC, between: float | None = None) -> list[tuple[str, bool | None]]:
    return [(way.name, way.fits) for way in taper_ways(angle, length, shop, between, is_inside=False)]


def only(text: str, shop: Workshop) -> PartPlan:
    return planned(text, shop).parts[0]


def tapering(plan: PartPlan) -> Operation:
    return next(s.operation for s in plan.stages if {"nose", "seat"} & set(s.operation.features) and s.operation.kind in
                ("taper", "bore", "curve"))  # fmt: skip


def test_by_length() -> None:
    """59.9 mm of slope goes in 60 of travel, 60.1 does not; the slope is the length over the cosine."""
    angle = 20.0
    for slope, fits in ((59.9, True), (60.1, False)):
        assert names(angle, slope * math.cos(math.radians(angle)))[0] == ("top slide", fits)


def test_by_angle_and_by_what_there_is() -> None:
    assert names(61.0, 10.0)[0] == ("top slide", False)
    assert names(2.0, 10.0, without("top slide"))[0] == ("top slide", False)
    owned = lathe(attachment=OWNED)
    assert names(7.9, 100.0, owned)[1] == ("taper attachment", True)
    assert names(8.1, 100.0, owned)[1] == ("taper attachment", False)
    assert names(7.0, 249.0, owned)[1] == ("taper attachment", True)
    assert names(1.432, 249.0, owned)[1] == ("taper attachment", False)  # 0.05 of play takes 2 mm more: 251
    assert names(2.0, 100.0, METRIC, 200.0)[1] == ("tailstock set-over", True)  # 200 sin 2° = 6.98
    assert names(2.5, 100.0, METRIC, 200.0)[1] == ("tailstock set-over", False)  # 8.72
    assert names(2.0, 100.0, METRIC)[1] == ("tailstock set-over", False)
    assert [way.name for way in taper_ways(2.0, 100.0, METRIC, None, is_inside=True)] == ["top slide"]


def test_what_is_not_known_is_neither_yes_nor_no() -> None:
    for shop in (lathe(attachment=replace(OWNED, length_mm=None)), lathe(attachment=replace(OWNED, greatest_angle_deg=None))):
        way = taper_ways(2.0, 100.0, shop, None, is_inside=False)[1]
        assert way.fits is None
        assert "not known: try it by hand first" in way.why
    top = replace(METRIC.lathe.wheels["top slide"], travel_mm=None)
    assert names(2.0, 100.0, lathe(wheels={**METRIC.lathe.wheels, "top slide": top}))[0] == ("top slide", None)


def test_the_ways_that_do_not_do_are_told_up_to_the_one_taken() -> None:
    ways = taper_ways(4.0, 100.0, lathe(attachment=OWNED), 150.0, is_inside=False)
    taken = chosen(ways)
    assert taken is not None
    assert taken.name == "taper attachment"
    assert ruled_out(ways).startswith("top slide: its slope of 100.244 mm is longer than the top slide's travel of 60.000 mm")
    assert ruled_out(taper_ways(4.0, 20.0, METRIC, None, is_inside=False)) == ""


def test_a_long_taper_goes_by_the_attachment_where_one_is_owned() -> None:
    operation = tapering(only(DRIFT % (13, 70), lathe(attachment=OWNED)))
    assert operation.kind == "taper"
    setting = next(s for s in operation.settings if s.layer == "taper attachment")
    assert setting.value == pytest.approx(math.degrees(math.atan(3.5 / 70)))
    assert "10.000 mm in 100 mm on its scale: 20.00 lines of 0.5" in setting.text  # 7 on 70 is 10 in 100
    assert TOWARD in setting.text
    along = next(m for m in operation.moves if m.wheel == "carriage")
    assert along.exact_mm == pytest.approx(70.0)
    assert "start 1.000 mm or more beyond it" in along.note  # 0.05 / 0.05
    assert "Not by the top slide: its slope of 70.087 mm" in operation.why.text
    assert "run by hand" in operation.caution


def test_an_attachment_that_frees_the_cross_slide_is_cut_in_by_the_top_slide() -> None:
    operation = tapering(only(DRIFT % (13, 70), lathe(attachment=replace(OWNED, cut_by="top slide"))))
    assert [m.wheel for m in operation.moves] == ["top slide", "carriage"]
    assert any(s.layer == "top slide" and "square across the bed" in s.text for s in operation.settings)


def test_a_long_bore_goes_by_the_attachment_and_is_refused_without() -> None:
    operation = tapering(only(SOCKET % (75, 68), lathe(attachment=OWNED)))
    assert operation.kind == "bore"
    assert AWAY in next(s for s in operation.settings if s.layer == "taper attachment").text
    plan = only(SOCKET % (75, 68), METRIC)
    assert "seat cannot be bored so: top slide: its slope of 68.021 mm" in plan.refused
    assert not plan.stages


def test_a_bore_is_come_out_to_at_its_mouth_and_led_along_its_slope() -> None:
    """Ø 20 at the mouth, 1 in 20, 38 deep: a slope of hypot(38, 0.95)."""
    operation = tapering(only(SOCKET % (45, 38), METRIC))
    cross, top = operation.moves
    assert (cross.wheel, cross.way, top.wheel) == ("cross slide", "out", "top slide")
    assert cross.makes is not None
    assert (cross.makes.phrase, cross.makes.value_mm) == ("seat right diameter", pytest.approx(20.0, abs=0.06))
    assert top.exact_mm == pytest.approx(math.hypot(38.0, 0.95))


def test_without_any_slide_that_leads_it_a_taper_goes_by_steps() -> None:
    for shop in (METRIC, without("top slide")):
        operation = tapering(only(DRIFT % (4, 70), shop))
        assert operation.kind == "curve"
        assert operation.chart is not None
        assert "by steps and the file. No slide does: top slide: " in operation.why.text


@pytest.mark.parametrize("narrow", ["right", "left"])
def test_the_steps_of_a_cone_leave_what_is_said_and_never_cut_it(narrow: str) -> None:
    """The lines dialled, cut with a polygon library: each a block from the corner's place to beyond the small end."""
    text = DRIFT % (4, 70) if narrow == "right" else (DRIFT % (4, 70)).replace("narrow: right", "narrow: left").replace(
        "[{cylinder: head}, {cone: nose, narrow: left}]", "[{cone: nose, narrow: left}, {cylinder: head}]").replace(
        "nose left", "nose LEFT").replace("nose right", "nose left").replace("nose LEFT", "nose right")  # fmt: skip
    shop = without("top slide")
    plan = only(text, shop)
    operation = tapering(plan)
    chart = operation.chart
    found = chart_reading(operation, shop)
    assert chart is not None
    assert found is not None
    assert len(found.rows) > 10
    toward = 1.0 if operation.holding.toward_tailstock == "right" else -1.0
    places = [(operation.datum_mm - toward * (row.along_mm - chart.touch_mm), chart.start_mm - row.in_mm) for row in found.rows]
    end = operation.datum_mm - toward * (chart.end_along_mm - chart.touch_mm)
    blocks = unary_union([box(min(z, end), r, max(z, end), 60.0) for z, r in places])
    part = shapely.Polygon(outline(plan.finished))
    large = 20.0 if narrow == "right" else 70.0
    assert places[0] == pytest.approx((large, 10.0), abs=0.06)  # the first line is at the large end itself
    assert part.intersection(blocks).area < 1e-6
    slope = math.atan2(8.0, 70.0)
    left = [(r_next - r) for (_, r), (_, r_next) in zip(places[1:], places, strict=False)]
    assert max(left) * math.cos(slope) <= found.left_mm * 1.05 + 0.02
    assert found.left_mm < 0.25
    worst = 0.0
    for z in np.linspace(min(end, places[0][0]) + 0.01, max(end, places[0][0]) - 0.01, 400):
        cut = min((r for place, r in places if (z - place) * (end - place) >= 0.0), default=math.inf)
        true = 10.0 - 8.0 * abs(z - places[0][0]) / 70.0
        if math.isfinite(cut):
            worst = max(worst, (cut - true) * math.cos(slope))
    assert worst <= found.left_mm + 0.02


def test_which_way_it_is_swung_by_the_tool_s_path_seen_from_above() -> None:
    """Toward the headstock the point of a tool on the operator's side is at x = r, on the far side of a bore at x = -r."""
    for grows in (True, False):
        radius = (9.0, 10.0) if grows else (10.0, 9.0)  # at the tailstock end, at the headstock end
        for is_far in (False, True):
            x = [-r for r in radius] if is_far else list(radius)
            assert side_of(grows=grows, is_far=is_far) == (TOWARD if x[1] > x[0] else AWAY)
