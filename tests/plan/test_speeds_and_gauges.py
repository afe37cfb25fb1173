"""Speeds and gauges: a worked figure, and each unknown planted."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handwheel.job.records import Unit
from handwheel.plan.gauging import gauge_for, ratio_of
from handwheel.plan.records import Makes
from handwheel.plan.speeds import speed_text
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import Gauge, Material, Workshop

from .test_route_rules import PIN, planned

SHOP = built_in_workshop(Unit.MM)


def shop_with(limit: float | None, material: str, speed: float | None) -> Workshop:
    chucks = tuple(replace(c, greatest_rpm=limit) for c in SHOP.chucks)
    lathe = replace(SHOP.lathe, speeds_rpm=(100.0, 200.0, 400.0, 800.0, 1600.0))
    return replace(SHOP, chucks=chucks, lathe=lathe, materials=(Material(material, speed, "a table"),))


def operation_of(kind: str):  # type: ignore[no-untyped-def]
    plan = planned(PIN).parts[0]
    return next(s.operation for s in plan.stages if s.operation.kind == kind)


def test_speed_by_hand() -> None:
    """30 m/min on 16 mm: 1000 x 30 / (3.1416 x 16) = 597 rpm, worked by hand; the lathe's next below is 400."""
    assert "400 rpm" in speed_text(operation_of("turn"), 16.0, "steel", shop_with(2000.0, "steel", 30.0))


def test_speed_never_above_the_chuck() -> None:
    assert "200 rpm" in speed_text(operation_of("turn"), 16.0, "steel", shop_with(250.0, "steel", 30.0))


@pytest.mark.parametrize(("limit", "material", "speed", "says"), [
    (None, "steel", 30.0, "read the greatest on the chuck"),
    (2000.0, "other", 30.0, "no surface speed is known"),
    (2000.0, "steel", None, "no surface speed is known"),
])  # fmt: skip
def test_an_unknown_gives_no_speed(limit: float | None, material: str, speed: float | None, says: str) -> None:
    text = speed_text(operation_of("turn"), 16.0, "steel", shop_with(limit, material, speed))
    assert says in text
    assert "rpm" not in text


GAUGES = (
    Gauge("rule", ("outside",), 0.0, 150.0, 0.25, 0.5, Unit.MM),
    Gauge("caliper", ("outside",), 0.0, 150.0, 0.03, 0.01, Unit.MM),
    Gauge("micrometer", ("outside",), 0.0, 25.0, 0.004, 0.01, Unit.MM),
)


@pytest.mark.parametrize(("half", "expected"), [(1.0, "rule"), (0.12, "caliper"), (0.016, "micrometer")])
def test_the_gauge_s_error_is_a_quarter_of_the_tolerance_at_most(half: float, expected: str) -> None:
    makes = Makes("stem diameter", 10.0, 10.0 - half, 10.0 + half, True)
    assert gauge_for(makes, replace(SHOP, gauges=GAUGES)) == expected


def test_a_gauge_too_coarse_says_so() -> None:
    makes = Makes("stem diameter", 10.0, 9.997, 10.003, True)
    assert gauge_for(makes, replace(SHOP, gauges=GAUGES)).startswith("micrometer (coarse for these limits")


def test_nothing_that_reaches_is_no_gauge() -> None:
    assert gauge_for(Makes("stem diameter", 300.0, 299.0, 301.0, True), replace(SHOP, gauges=GAUGES)) == ""


INSIDE = (*GAUGES, Gauge("bore gauge", ("inside",), 5.0, 30.0, 0.004, 0.005, Unit.MM),
          Gauge("depth gauge", ("depth",), 0.0, 100.0, 0.02, 0.02, Unit.MM))  # fmt: skip


def test_a_hole_wants_a_gauge_that_measures_inside() -> None:
    makes = Makes("socket diameter", 10.0, 9.98, 10.02, True)
    assert gauge_for(makes, replace(SHOP, gauges=INSIDE), True) == "bore gauge"
    assert gauge_for(makes, replace(SHOP, gauges=GAUGES), True) == ""  # outside gauges do not go in


def test_a_hole_s_depth_wants_a_depth_gauge() -> None:
    makes = Makes("right end to socket bottom", 10.0, 9.9, 10.1, False)
    assert gauge_for(makes, replace(SHOP, gauges=INSIDE), True) == "depth gauge"
    assert gauge_for(makes, replace(SHOP, gauges=GAUGES), True) == ""


def test_a_gauge_too_coarse_says_by_how_much_it_may_err() -> None:
    makes = Makes("stem diameter", 10.0, 9.997, 10.003, True)
    assert "± 0.004 mm" in gauge_for(makes, replace(SHOP, gauges=GAUGES))


def test_the_row_says_what_to_do_where_nothing_measures_inside() -> None:
    text = """
handwheel: 1
job: bush
units: mm
parts:
  bush:
    material: bronze
    outside: [{cylinder: body, length: 15}]
    inside: {from right: [{hole: bore, finish: bored, through: yes}]}
    dimensions:
      body diameter: 20
      bore diameter: 10 ± 0.02
"""
    blind = replace(SHOP, gauges=GAUGES)
    bored = next(s.operation for s in planned(text, blind).parts[0].stages if s.operation.kind == "bore")
    move = next(m for m in bored.moves if m.makes is not None and m.makes.is_diameter)
    assert "a plug turned to size, or the mate" in move.note
    assert move.makes is not None
    assert move.makes.gauge == ""
    assert move.cuts is not None
    assert move.cuts.passes[-1].travel_mm == pytest.approx(move.exact_mm)


@pytest.mark.parametrize(("half", "says"), [
    (0.006, "inside for certain only where the gauge reads 9.998 mm to 10.002 mm"),  # 10 ± 0.006 drawn in by 0.004
    (0.004, "the gauge errs as much as the limits allow"),
    (0.010, ""),  # coarse, and less than half of it
    (0.016, ""),
])  # fmt: skip
def test_where_a_coarse_gauge_s_readings_are_certain(half: float, says: str) -> None:
    """ISO 14253-1: inside is proved between the limits drawn in by the error at each end."""
    shop = replace(SHOP, gauges=GAUGES)
    text = PIN.replace("stem diameter: 8 ± 0.05", f"stem diameter: 10 ± {half}")
    turned = [s.operation for s in planned(text, shop).parts[0].stages if s.operation.kind == "turn"]
    notes = [m.note for o in turned for m in o.moves if m.makes is not None and m.makes.phrase == "stem diameter"]
    assert notes
    assert all((says in note) if says else "certain" not in note for note in notes)


def test_the_ratio_of_limits_to_the_gauge_s_error() -> None:
    shop = replace(SHOP, gauges=GAUGES)
    assert ratio_of("micrometer", 0.016, shop) == pytest.approx(4.0)
    assert ratio_of("micrometer (coarse for these limits, ± 0.004 mm)", 0.006, shop) == pytest.approx(1.5)
    assert ratio_of("its mate", 0.006, shop) is None
