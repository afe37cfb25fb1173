"""The two built in: whole, of home size, self-consistent by plain arithmetic, and read by the common reader."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import Polygon

from handwheel.job.records import Unit
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.stores import known_habits

BOTH = pytest.mark.parametrize("units", list(Unit))


@BOTH
def test_it_is_an_example_of_home_size(units: Unit) -> None:
    shop = built_in_workshop(units)
    assert shop.is_example
    assert shop.units is units
    assert 80 <= shop.lathe.centre_height_mm <= 95
    assert 470 <= shop.lathe.between_centres_mm <= 520
    assert set(shop.lathe.wheels) == {"cross slide", "top slide", "carriage", "tailstock"}
    assert {c.kind for c in shop.chucks} == {"three-jaw", "four-jaw", "collet", "ball collet", "drill chuck"}
    assert set(shop.centres) == {"fixed", "running"}


@BOTH
def test_unknown_is_none(units: Unit) -> None:
    shop = built_in_workshop(units)
    assert next(c for c in shop.chucks if c.kind == "three-jaw").greatest_rpm is None
    assert shop.lathe.wheels["tailstock"].crank_room_mm is None
    assert next(b for b in shop.bars if b.material == "cast iron").tolerance_mm is None


@BOTH
def test_every_outline_is_a_convex_polygon_standing_on_its_setting_point(units: Unit) -> None:
    for tool in built_in_workshop(units).tools:
        shape = Polygon(tool.outline_mm)
        assert shape.is_valid, tool.name
        assert shape.convex_hull.area == pytest.approx(shape.area, rel=1e-4), tool.name
        assert shape.area > 5, tool.name
        assert shape.distance(Polygon([(-1e-9, -1e-9), (1e-9, -1e-9), (0, 1e-9)])) < 1e-6, tool.name
        assert shape.bounds[1] == pytest.approx(0, abs=1e-9), tool.name


@BOTH
def test_knife_tools_are_as_they_are_described(units: Unit) -> None:
    tools = {t.kind: t for t in built_in_workshop(units).tools}
    right, left = Polygon(tools["knife"].outline_mm), Polygon(tools["left-hand knife"].outline_mm)
    mirrored = Polygon([(-z, r) for z, r in tools["knife"].outline_mm])
    assert left.symmetric_difference(mirrored).area < 1e-9
    assert right.bounds[0] == 0.0  # the leading edge stands square, at the headstock side
    trailing = max((p for p in tools["knife"].outline_mm if p[0] > 0), key=lambda p: -p[1])
    assert math.degrees(math.atan2(trailing[1], trailing[0])) == pytest.approx(30, abs=0.2)
    assert min(t.reach_mm or 0 for t in built_in_workshop(units).tools if t.kind == "parting") >= 14


def test_inch_wheels_by_hand() -> None:
    shop = built_in_workshop(Unit.INCH)
    cross = shop.lathe.wheels["cross slide"]
    assert cross.lead_mm / cross.divisions == pytest.approx(0.0254)
    assert shop.lathe.wheels["carriage"].lead_mm == pytest.approx(0.650 * 25.4)
    ball = shop.ball_tool
    assert ball is not None
    assert ball.screw_lead_mm * 40 == pytest.approx(25.4)
    assert ball.screw_lead_mm / ball.divisions == pytest.approx(0.0254)


def test_metric_wheels_by_hand() -> None:
    shop = built_in_workshop(Unit.MM)
    cross = shop.lathe.wheels["cross slide"]
    assert cross.lead_mm / cross.divisions == pytest.approx(0.02)
    ball = shop.ball_tool
    assert ball is not None
    assert ball.screw_lead_mm / ball.divisions == pytest.approx(0.025)


@BOTH
def test_every_habit_is_there_by_common_practice(units: Unit) -> None:
    shop = built_in_workshop(units)
    assert set(shop.habits) == set(known_habits())
    assert len(shop.habits) == 32
    assert {h.whose for h in shop.habits.values()} == {"common practice, no source"}


def test_trade_facts() -> None:
    """Common practice: 20 thou over at the end, 40 on the diameter; relief 1/4 in for a 3/16 in bit."""
    shop = built_in_workshop(Unit.INCH)
    assert shop.habit("ball end allowance") == pytest.approx(0.020 * 25.4)
    assert shop.habit("ball diameter allowance") == pytest.approx(0.040 * 25.4)
    assert shop.habit("relief width factor") * 3 / 16 == pytest.approx(1 / 4, abs=1e-4)


def test_tools_by_size_are_what_they_are_called() -> None:
    named = {(t.kind, t.designation): t for t in built_in_workshop(Unit.INCH).round_tools}
    assert named["drill", "No. 7"].diameter_mm == pytest.approx(0.201 * 25.4)
    assert named["drill", "letter F"].diameter_mm == pytest.approx(0.257 * 25.4)
    assert named["drill", "27/64 in"].diameter_mm == pytest.approx(27 / 64 * 25.4)
    assert named["drill", "4.2 mm"].diameter_mm == pytest.approx(4.2)
    assert named["reamer", "5/32 in"].diameter_mm == pytest.approx(5 / 32 * 25.4)
    assert named["die", "M6"].lead_mm == pytest.approx(2.0)
    assert named["tap", "2 BA"].diameter_mm == pytest.approx(4.7)
    names = [(t.kind, t.designation) for units in Unit for t in built_in_workshop(units).round_tools]
    assert len([n for n in names if n == ("drill", "8 mm")]) == 1


@BOTH
def test_no_tool_by_size_twice(units: Unit) -> None:
    names = [(t.kind, t.designation) for t in built_in_workshop(units).round_tools]
    assert len(names) == len(set(names))


@BOTH
def test_materials_have_a_speed_and_its_source(units: Unit) -> None:
    materials = {m.name: m for m in built_in_workshop(units).materials}
    assert len(materials) == 8
    steel = materials["free-cutting mild steel"]
    assert steel.surface_speed_m_min == pytest.approx(30, abs=0.5)  # 100 ft/min is 30.48 m/min
    assert all(m.source for m in materials.values())
