"""What threads, blind holes and joints are set by on their sheets, against closed forms."""

from __future__ import annotations

import math
import re

import pytest

from handwheel.plan.records import Operation

from .test_route_rules import METRIC, planned

SCREW = """handwheel: 1
job: Screw
units: mm
parts:
  screw:
    material: mild steel
    outside:
      - {cylinder: head, diameter: 12, length: 10}
      - {cylinder: thread, thread: M6, length: 12}
"""
CAP = """handwheel: 1
job: Cap
units: mm
parts:
  cap:
    material: brass
    outside:
      - {cylinder: body, diameter: 14, length: LONG}
    inside:
      from right:
        - {hole: socket, thread: M6, depth: 9}
"""
KNOB = """handwheel: 1
job: Knob
units: mm
parts:
  knob:
    material: mild steel
    outside:
      - {ball: grip, flat: left}
    inside:
      from left:
        - {hole: socket, finish: reamed}
    dimensions:
      grip diameter: 12
      grip left diameter: 8
      socket diameter: 5
      socket depth: DEEP
"""
PAIR = """handwheel: 1
job: Pair
units: mm
parts:
  pin:
    material: silver steel
    outside:
      - {cylinder: head, diameter: 16, length: 10}
      - {cylinder: spigot, diameter: 10 SHAFT, length: 12}
  hub:
    material: bronze
    outside:
      - {cylinder: body, diameter: 24, length: 12}
    inside:
      from left:
        - {hole: eye, diameter: 10 H7, through: yes, finish: reamed}
assemblies:
  wheel:
    seats:
      - body left of hub on head right of pin
"""


def operation(text: str, kind: str) -> Operation:
    plan = planned(text, METRIC)
    found = [s.operation for part in plan.parts for s in part.stages if s.operation.kind == kind]
    assert found, [part.refused for part in plan.parts]
    return found[-1]


def figures(text: str, kind: str) -> dict[str, str]:
    return dict(operation(text, kind).figures)


def numbers(words: str) -> list[float]:
    return [float(n) for n in re.findall(r"\d+(?:\.\d+)?", words)]


def test_a_die_has_its_blank_lead_shoulder_and_fit() -> None:
    told = figures(SCREW, "thread")
    root = 6.0 - 17.0 / 12.0 * math.sqrt(3.0) / 2.0
    assert numbers(told["blank"])[:3] == pytest.approx([5.9, 5.794, 5.974])  # ISO 965-2, M6 6g
    assert "within" in told["blank"]
    assert numbers(told["lead"])[1:] == pytest.approx([(6.0 - root) / 2.0, root], abs=6e-4)
    assert told["shoulder"].startswith("head: ")
    assert numbers(told["effective diameter, 6g"]) == pytest.approx([5.212, 5.324])
    wire, low, high = numbers(told["over three wires"])
    # M = d2 + 3w - 0.866025 P for 60 degrees
    assert (low, high) == pytest.approx((5.212 + 3 * wire - 0.866025, 5.324 + 3 * wire - 0.866025), abs=2e-3)
    assert numbers(told["to come tight further"])[:2] == pytest.approx([0.25, 90.0])


def test_a_free_end_has_no_shoulder() -> None:
    text = SCREW.replace("{cylinder: head, diameter: 12, length: 10}", "{cylinder: head, diameter: 4, length: 10}")
    assert "shoulder" not in figures(text, "thread")


def test_a_blind_tapped_hole_is_told_how_deep_it_is_drilled() -> None:
    told = figures(CAP.replace("LONG", "30"), "tap")
    assert numbers(told["tap's point to"])[0] == pytest.approx(13.0)  # 9 + lead of 4
    minor = 6.0 - 1.25 * math.sqrt(3.0) / 2.0
    drill = numbers(told["drill to"])
    assert drill[:2] == pytest.approx([15.0, 15.0 + minor / 2.0 / math.tan(math.radians(59.0))], abs=6e-4)
    assert numbers(told["if only drilled as drawn"])[0] == pytest.approx(5.0)
    # beside the hole, to the bottom of its thread: 14 less the major, halved
    assert numbers(told["metal behind"])[0] == pytest.approx((14.0 - 6.0) / 2.0, abs=1e-3)
    drilled = operation(CAP.replace("LONG", "30"), "drill")
    assert "15.000 mm" in drilled.note


def test_ways_on_where_the_taps_lead_does_not_go_in() -> None:
    """16 long: a bottoming tap (1.5 + 2 pitches) is drilled to 12.5, its point to 13.98: 2.02 left."""
    told = figures(CAP.replace("LONG", "16"), "tap")["metal behind"]
    minor = 6.0 - 1.25 * math.sqrt(3.0) / 2.0
    left = 16.0 - 12.5 - minor / 2.0 / math.tan(math.radians(59.0))
    assert told.startswith("none, it comes out")
    assert "a bottoming tap last, drilled to 12.500 mm" in told
    assert f"{left:.3f} mm left" in told
    share = numbers(told.rpartition("or ")[2])
    assert share[1] == pytest.approx(share[0] + 6.0)
    assert 16.0 - share[1] - minor / 2.0 / math.tan(math.radians(59.0)) >= 1.0


def test_percentages_of_the_tapping_drill() -> None:
    told = figures(CAP.replace("LONG", "30"), "tap")["tapping drill"]
    assert told.startswith("5 mm: ")
    shares = numbers(told.partition(": ")[2])[:3]
    assert shares == pytest.approx([100 / 1.0825318, 100 / 1.2268693, 100 / 1.7320508], abs=0.5)
    assert told.endswith("within limits")


@pytest.mark.parametrize("deep", [8.5, 8.2])
def test_ways_on_behind_a_blind_hole_in_a_ball(deep: float) -> None:
    """Ball 12, flat 8: flat's height q = √(6² - 4²); wall behind the point 6 + q - t - d/(2·tan 59°)."""
    told = figures(KNOB.replace("DEEP", str(deep)), "ream")
    q, point = math.sqrt(20.0), 2.5 / math.tan(math.radians(59.0))
    assert numbers(told["wall left"])[0] == pytest.approx(6.0 + q - deep - point, abs=1e-3)
    assert numbers(told["shorter"])[0] == pytest.approx(5.0 + q - point, abs=1e-3)
    corner = 6.0 - math.hypot(deep - q, 2.5)
    assert numbers(told["flat bottom"])[0] == pytest.approx(corner, abs=1e-3)
    size = numbers(told["larger ball"])[0]
    r = size / 2.0
    assert r + math.sqrt(r * r - 16.0) - deep - point == pytest.approx(1.0, abs=2e-3)


def test_a_stout_wall_needs_no_way_on() -> None:
    assert "wall left" not in figures(KNOB.replace("DEEP", "6"), "ream")


def test_a_bond_drawn_too_tight_is_said() -> None:
    """ISO 286-2 at 10 mm: H7 +15 0, h7 0 -15 um: 0 to 0.030 on the diameter, under two thirds of the habit's 0.03."""
    told = figures(PAIR.replace("SHAFT", "h7"), "bond")
    assert numbers(told["gap drawn"])[:2] == pytest.approx([0.0, 0.03])
    assert "leaves too little" in told["gap drawn"]
    assert numbers(told["gap wanted"])[0] == pytest.approx(0.03)
    # caliper inside ± 0.03, micrometer outside ± 0.004: both worst, and root of squares
    assert numbers(told["gap known to"])[:2] == pytest.approx([0.034, math.hypot(0.03, 0.004)], abs=6e-4)
    assert "too coarse" in told["gap known to"]
    area = math.pi * 10.0 * 12.0
    low, high = numbers(told["may hold"])[:2]
    # 15 to 30 N/mm² in steel; bronze 0.5 to 0.9 of that; a third to a half by hand
    assert (low, high) == pytest.approx((15 * 0.5 / 3 * area, 30 * 0.9 / 2 * area), rel=2e-3)
    assert told["shoulder"].startswith("takes what pushes onto it")


def test_a_bond_drawn_with_room_is_not_warned_of() -> None:
    told = figures(PAIR.replace("SHAFT", "-0.03 -0.05"), "bond")
    assert numbers(told["gap drawn"])[:2] == pytest.approx([0.03, 0.065])
    assert "too" not in told["gap drawn"]


def test_a_fit_drawn_tight_is_pressed() -> None:
    """s6 at 10 mm is +32 +23 um: 0.008 to 0.032 tight in H7. Textbook form of Lamé with E, ν of bronze and steel."""
    made = operation(PAIR.replace("SHAFT", "s6"), "fit")
    told = dict(made.figures)
    assert numbers(told["interference drawn"]) == pytest.approx([0.008, 0.032])
    wide = (24.0**2 + 100.0) / (24.0**2 - 100.0)
    give = 10.0 * ((wide + 0.34) / 100000.0 + (1.0 - 0.29) / 205000.0)
    pressures = numbers(told["pressure"])[:2]
    assert pressures == pytest.approx([0.008 / give, 0.032 / give], abs=0.6)
    assert numbers(told["pull at the hole"])[0] == pytest.approx(0.032 / give * wide, abs=0.6)
    force = numbers(told["force to press home"])
    assert force[0] == pytest.approx(0.07 * 0.008 / give * math.pi * 120.0 / 1000.0, rel=0.01)
    assert numbers(told["heat to slip on"])[0] == pytest.approx(0.042 / (1.8e-5 * 10.0), abs=0.6)
    assert "too hot" in told["heat to slip on"]
    assert numbers(told["measured warm"])[1] == pytest.approx(10.0 * 20.0 * 1.8e-5, abs=6e-4)
    assert "bore then closes" not in told  # a solid pin
    assert "brittle" in made.caution


def test_a_bush_pressed_in_closes() -> None:
    bored = PAIR.replace("length: 12}\n  hub", "length: 12}\n    inside:\n      from right:\n        - {hole: bore, diameter: 6, "
                         "through: yes}\n  hub").replace("SHAFT", "s6")  # fmt: skip
    told = figures(bored, "fit")
    wide, thin = (24.0**2 + 100.0) / (24.0**2 - 100.0), (100.0 + 36.0) / (100.0 - 36.0)
    give = 10.0 * ((wide + 0.34) / 100000.0 + (thin - 0.29) / 205000.0)
    closes = 2.0 * 0.032 / give * 100.0 / (100.0 - 36.0) * 6.0 / 205000.0
    assert numbers(told["bore then closes"])[0] == pytest.approx(closes, abs=6e-4)


def test_a_hole_threaded_by_a_point_is_not_told_of_a_tap() -> None:
    text = CAP.replace("LONG", "30").replace("diameter: 14", "diameter: 24").replace("M6", "M16 x 1")
    made = [s.operation for s in planned(text, METRIC).parts[0].stages]
    assert [o.cutter.kind for o in made if o.kind == "thread"] == ["pointed"]
    assert not [o for o in made if o.kind == "drill" and "tap's lead" in o.note]


def test_two_ways_together_where_a_flat_bottom_is_not_enough() -> None:
    """Ball 12, flat 8, hole 5: 8.9 deep leaves 6 - hypot(8.9 - q, 2.5) < 1 at the corner; 1 at q + √(5² - 2.5²)."""
    told = figures(KNOB.replace("DEEP", "8.9"), "ream")
    q = math.sqrt(20.0)
    assert numbers(told["flat bottom"])[0] == pytest.approx(6.0 - math.hypot(8.9 - q, 2.5), abs=1e-3)
    assert "not yet enough" in told["flat bottom"]
    assert numbers(told["flat and shorter"])[0] == pytest.approx(q + math.sqrt(25.0 - 6.25), abs=1e-3)
    r = numbers(told["flat and larger ball"])[0] / 2.0
    flat = math.sqrt(r * r - 16.0)
    assert r - math.hypot(8.9 - flat, 2.5) == pytest.approx(1.0, abs=2e-3)
    assert "flat and shorter" not in figures(KNOB.replace("DEEP", "8.5"), "ream")


LEVER = """  lever:
    material: mild steel
    outside:
      - {cylinder: shank, diameter: 9, length: 20}
      - {cylinder: tenon, length: LONG}
    dimensions:
      tenon diameter: 5 h7
assemblies:
  handle:
    seats:
      - grip left of knob on shank right of lever
"""


@pytest.mark.parametrize(("long", "is_told"), [("8.2", True), ("0.4", False)])
def test_the_spigot_is_shortened_with_its_hole(long: str, is_told: bool) -> None:
    """The hole comes from 8.9 to 5 + q - point: a tenon of 8.2 is named and goes with it; one of 0.4 has not that to give."""
    told = figures(KNOB.replace("DEEP", "8.9") + LEVER.replace("LONG", long), "ream")["shorter"]
    q, point = math.sqrt(20.0), 2.5 / math.tan(math.radians(59.0))
    assert ("tenon of lever as much shorter" in told) == is_told
    if is_told:
        assert numbers(told)[0] == pytest.approx(5.0 + q - point, abs=1e-3)
    else:
        assert "no such shape" in told
