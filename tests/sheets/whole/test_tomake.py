"""Tackle to make: sizes by closed forms, and where a ball touches, found by trying."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import LineString, Point

from handwheel.job.records import Unit
from handwheel.sheets.primitives import TickBox
from handwheel.sheets.whole.tomake import (
    Tackle,
    ball_collet,
    centred_mandrel,
    hollow_centre,
    soft_jaws,
    split_bush,
    stub_mandrel,
    tackle_of,
)
from handwheel.stages.records import Holding
from handwheel.workshop.read import built_in_workshop
from tests.sheets.whole.jobs import STAND, laid_out, page_of, planned, texts


def sizes(one: Tackle) -> dict[str, float]:
    return {s.name: s.value_mm for s in one.sizes}


def held(kind: str, low: float, high: float, face: float, radius: float, body: float | None = None) -> Holding:
    return Holding("a device", kind, low, high, "ball", "right", face, body, radius)


@pytest.mark.parametrize(("radius", "lip"), [(8.0, 4.0), (6.35, 2.0), (10.0, 6.0)])
def test_a_collet_holds_the_ball_past_its_middle(radius: float, lip: float) -> None:
    ball = (2 * radius - 0.02, 2 * radius)
    holding = held("ball collet", 0.0, 2 * radius, radius + lip, radius, 19.0)
    one = ball_collet(holding, radius, radius, ball, built_in_workshop(Unit.MM))
    found = sizes(one)
    # a ball between two circles of the bore's diameter, as far apart as the recess is wide, centre amid: Pythagoras
    assert math.hypot(found["bore and mouth"] / 2, found["recess, width"] / 2) == pytest.approx(radius)
    # so its centre lies past the lip by half the recess's width, and that is where the plan has it
    assert found["lip, face to recess"] + found["recess, width"] / 2 == pytest.approx(lip)
    assert found["bore and mouth"] < 2 * radius < found["recess"]
    assert found["bore deep, at the least"] > lip + radius
    assert found["body, to suit its holder"] == pytest.approx(38.0)
    # no metal of its section lies inside the ball
    assert one.ball is not None
    line = LineString([(float(z), float(r)) for z, r in one.section.inner[1:]])
    assert line.distance(Point(one.ball[0], 0.0)) == pytest.approx(radius, abs=1e-9)
    assert [step.head for step in one.steps][:5] == ["blank", "witness", "saw", "pack", "bore"]


def test_a_cup_touches_the_ball_inside_its_rim() -> None:
    radius = 7.0
    found = sizes(hollow_centre(radius))
    # the ball sunk into a cone of 90 degrees touches where both slopes are 45 degrees: at R / sqrt 2 from the axis
    assert found["the ball touches on"] == pytest.approx(2 * radius / math.sqrt(2))
    assert found["the ball touches on"] < found["rim of the cup"] < 2 * radius


def test_mandrel_and_bush_take_the_work_s_own_sizes() -> None:
    mandrel = sizes(stub_mandrel(held("stub mandrel", 2.0, 14.0, 14.0, 4.0)))
    assert mandrel == {"to the bore as measured": pytest.approx(8.0), "carries the work": pytest.approx(12.0)}
    bush = sizes(split_bush(held("split bush", 5.0, 25.0, 25.0, 6.0), built_in_workshop(Unit.MM)))
    assert bush["bored to the work as measured"] == pytest.approx(12.0)
    assert bush["length"] == pytest.approx(20.0)
    assert bush["outside"] > 12.0


def test_the_stand_wants_a_collet_a_ball() -> None:
    drawing, plan, shop = planned(STAND)
    found = tackle_of(plan, drawing, shop)
    balls = sorted((s.value_mm / 25.4, (s.high_mm or 0.0) / 25.4) for t in found for s in t.sizes if s.name == "takes a ball")
    assert len(balls) == 5
    for (low, high), drawn in zip(balls, [0.375, 0.4375, 0.5, 0.5625, 0.6875], strict=True):
        assert low < drawn < high
    assert {name for t in found for name in t.serves} == {
        "feed arm", "lock lever", "short lock lever", "lever knob", "short lever knob"}
    page = page_of(laid_out(STAND), "To make")
    assert "Ball-holding collet, 5 off" in texts(page)
    assert not [i for i in page.items if isinstance(i, TickBox) and " act " in i.name]


def test_a_bush_in_halves_lets_the_larger_end_in() -> None:
    whole = sizes(split_bush(held("split bush", 0.0, 20.0, 20.0, 6.0), built_in_workshop(Unit.MM)))
    halves = sizes(split_bush(held("split bush", 0.0, 20.0, 20.0, 6.0), built_in_workshop(Unit.MM), None, 9.5))
    assert halves["outside"] - whole["outside"] == pytest.approx(2 * (9.5 - 6.0))


def test_a_mandrel_between_centres_is_larger_at_one_end_by_its_taper() -> None:
    found = sizes(centred_mandrel(held("mandrel", 1.0, 51.0, 60.0, 5.0)))
    assert found["larger end by"] == pytest.approx(50.0 / 2000.0)


def test_soft_jaws_take_the_work_s_diameter() -> None:
    found = sizes(soft_jaws(held("soft jaws", 4.0, 20.0, 20.0, 11.0)))
    assert found["bored in place to the work as measured"] == pytest.approx(22.0)
    assert found["deep"] == pytest.approx(16.0)
