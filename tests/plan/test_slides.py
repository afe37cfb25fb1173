"""Which slide gives a length, and the fine feed: odd wheels planted one by one."""

from __future__ import annotations

import math
from dataclasses import replace

import mpmath
import numpy as np
import pytest

from handwheel.job.records import Unit
from handwheel.plan.records import Makes, Move, Operation, PartPlan, Setting, Stage, Stock, Why
from handwheel.plan.slides import FINE_DEG, resolves, with_slides
from handwheel.stages.records import Cutter, Holding, NoCut, Section
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import Handwheel, Workshop

SHOP = built_in_workshop(Unit.MM)
BAR = Section(np.array([[0.0, 5.0], [60.0, 5.0]]), np.array([[0.0, 0.0], [60.0, 0.0]]))
RACK = Handwheel("carriage", 21.99, 1, "travel", 0.25, "", travel_mm=500.0)
"""A bed wheel of 21.99 mm a turn without a dial, read by quarter turns at the best."""
MARKED = Handwheel("carriage", 20.0, 200, "travel", 0.5, "", travel_mm=500.0)
TOP = Handwheel("top slide", 1.0, 50, "travel", 1.0, "", travel_mm=40.0)
FORTY = Handwheel("cross slide", 1.016, 50, "radius", 1.0, "")
"""50 lines on a screw of 40 thou."""


def shop(**wheels: Handwheel) -> Workshop:
    named = {name.replace("_", " "): wheel for name, wheel in wheels.items()}
    return replace(SHOP, lathe=replace(SHOP.lathe, wheels=named))


def length(value: float, half: float | None) -> Move:
    limits = (None, None) if half is None else (value - half, value + half)
    return Move("carriage", "toward the headstock", "touched on the right end", value,
                Makes("right end to stem left", value, *limits, False))  # fmt: skip


def operation(move: Move, kind: str = "turn", number: int = 10, settings: tuple[Setting, ...] = ()) -> Operation:
    holding = Holding("three-jaw", "three-jaw", -30.0, 0.0, "stock", "right", 5.0)
    cutter = Cutter("knife tool", "knife", np.zeros((0, 2)))
    return Operation(number, "pin", kind, "A1", holding, cutter, NoCut(), "right end", 60.0, Why("r", (), "w"), "",
                     moves=(move,), settings=settings)  # fmt: skip


def planned(workshop: Workshop, *operations: Operation) -> list[Operation]:
    stages = tuple(Stage(one, BAR, BAR) for one in operations)
    plan = PartPlan("pin", 1, Stock("round", 10.0, 60.0, "bar", True, 0.0), BAR, stages)
    return [stage.operation for stage in with_slides(plan, workshop).stages]


def test_lines_within_the_limits() -> None:
    """Half lines of 0.1 mm: 0.05 steps, two of them in ± 0.05 and not in ± 0.04."""
    assert resolves(MARKED, Makes("l", 10.0, 9.95, 10.05, False))
    assert not resolves(MARKED, Makes("l", 10.0, 9.96, 10.04, False))
    assert resolves(FORTY, Makes("d", 10.0, 9.9, 10.0, True))  # 0.02032 on the radius, 0.04064 on the diameter
    assert not resolves(FORTY, Makes("d", 10.0, 9.92, 10.0, True))


def test_the_carriage_where_it_resolves() -> None:
    (found,) = planned(shop(carriage=MARKED, top_slide=TOP), operation(length(25.0, 0.1)))
    assert (found.moves[0].wheel, found.moves[0].note, found.sums) == ("carriage", "", ())


def test_the_top_slide_where_the_carriage_does_not() -> None:
    (found,) = planned(shop(carriage=RACK, top_slide=TOP), operation(length(25.0, 0.1)))
    assert found.moves[0].wheel == "top slide"
    assert found.moves[0].exact_mm == 25.0
    assert "carriage locked" in found.moves[0].note
    assert any("0°" in s.text for s in found.settings)


def test_beyond_the_top_slide_s_travel_it_is_measured_with_a_sum() -> None:
    (found,) = planned(shop(carriage=RACK, top_slide=TOP), operation(length(55.0, 0.1)))
    assert found.moves[0].wheel == "carriage"
    assert [(s.wheel, s.wanted_mm) for s in found.sums] == [("top slide", 55.0)]
    assert "measure" in found.moves[0].note


def test_a_top_slide_already_set_over_gives_no_length() -> None:
    over = Setting("slide angle", "top slide at 45°", "")
    chamfer = operation(Move("carriage", "toward the headstock", "corner", 1.0), "chamfer", 10, (over,))
    found = planned(shop(carriage=RACK, top_slide=TOP), chamfer, operation(length(25.0, 0.1), number=20))
    assert found[1].moves[0].wheel == "carriage"
    assert len(found[1].sums) == 1


def test_no_wheel_that_resolves_says_measure_with_the_figure() -> None:
    (found,) = planned(shop(carriage=RACK), operation(length(25.0, 0.1)))
    assert "a whole turn is 21.990 mm" in found.moves[0].note
    assert "measure" in found.moves[0].note


def test_a_length_without_limits_stays_as_it_is() -> None:
    (found,) = planned(shop(carriage=RACK, top_slide=TOP), operation(length(25.0, None)))
    assert found.moves[0] == length(25.0, None)


def diameter(half: float) -> Move:
    return Move("cross slide", "in", "touched", 2.0, Makes("stem diameter", 10.0, 10.0 - half, 10.0 + half, True))


def test_fine_feed_offered_only_where_the_cross_slide_is_too_coarse() -> None:
    wheels = shop(cross_slide=FORTY, top_slide=TOP)
    coarse, plain = (planned(wheels, operation(diameter(half)))[0].moves[0].note for half in (0.01, 0.1))
    assert plain == ""
    assert "5.739°" in coarse  # asin 0.1
    assert "0.004 mm off Ø" in coarse  # a line of 0.02: a tenth off the radius, a fifth off the diameter
    assert "0.020 mm along" in coarse


def test_fine_feed_s_angle_and_what_it_does_to_lengths() -> None:
    assert pytest.approx(float(mpmath.degrees(mpmath.asin("0.1"))), abs=1e-12) == FINE_DEG
    assert math.cos(math.radians(FINE_DEG)) == pytest.approx(0.99498743710662, abs=1e-12)


def test_fine_feed_is_not_offered_where_the_top_slide_does_not_swing_or_is_not_there() -> None:
    stiff = shop(cross_slide=FORTY, top_slide=TOP)
    stiff = replace(stiff, lathe=replace(stiff.lathe, top_slide_swivel_deg=0.0))
    for workshop in (stiff, shop(cross_slide=FORTY)):
        note = planned(workshop, operation(diameter(0.01)))[0].moves[0].note
        assert "swung" not in note
        assert "measuring" in note


def test_a_ball_tool_stands_where_the_top_slide_would() -> None:
    (found,) = planned(shop(carriage=RACK, top_slide=TOP), operation(length(25.0, 0.1), "ball"))
    assert found.moves[0].wheel == "carriage"
    assert "measure" in found.moves[0].note
