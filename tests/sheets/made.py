"""A two-diameter pin and a ball lever built by hand: records as the packages before would give them."""

from __future__ import annotations

import math

import numpy as np

from handwheel.base.faults import Span
from handwheel.drawing.records import Arc, Drawing, Line, SolvedDimension, SolvedFeature, SolvedPart, State
from handwheel.job.records import Job, Measure, OutsideFeature, OutsideKind, Unit
from handwheel.plan.records import (
    Makes,
    Move,
    Operation,
    PartPlan,
    Plan,
    Setting,
    SetUp,
    Stage,
    Step,
    Stock,
    Sum,
    Why,
)
from handwheel.readings.records import Reading
from handwheel.sheets.paper import SheetMeta
from handwheel.stages.records import Cutter, Holding, NoCut, Section, Swing
from handwheel.workshop.read import built_in_workshop

HERE = Span("made.yaml", 1, 1)
META = SheetMeta("made.yaml", "2026-11-25", "3f9a2c1")
SHOP = built_in_workshop(Unit.INCH)


def section(points: list[tuple[float, float]], inner: list[tuple[float, float]] | None = None) -> Section:
    outer = np.array(points, dtype=float)
    flat = [(points[0][0], 0.0), (points[-1][0], 0.0)]
    return Section(outer, np.array(inner or flat, dtype=float))


def feature(kind: OutsideKind, name: str, left: float, right: float, radius: float) -> SolvedFeature:
    return SolvedFeature(OutsideFeature(kind, name, HERE), left, right, radius, radius,
                         (Line(left, radius, right, radius),))


def dimension(part: str, phrase: str, value: float, typed: str = "") -> SolvedDimension:
    return SolvedDimension(part, phrase, Measure.LENGTH, value, value, value, bool(typed), HERE, typed)


def pin() -> SolvedPart:
    """Body 1/2 in by 1 in, tenon 0.250 in by 0.500 in."""
    outside = (feature(OutsideKind.CYLINDER, "body", 0.0, 25.4, 6.35),
               feature(OutsideKind.CYLINDER, "tenon", 25.4, 38.1, 3.175))
    dimensions = (
        dimension("pin", "body diameter", 12.7, "1/2"),
        dimension("pin", "tenon diameter", 6.35, "0.250 ± 0.001"),
        dimension("pin", "overall length", 38.1, "1 1/2"),
        dimension("pin", "tenon length", 12.7, "1/2"),
        dimension("pin", "body length", 25.4),
    )
    return SolvedPart("pin", HERE, 3, "free-cutting mild steel", "", "sheet 1", 38.1, outside, (), (), (), dimensions, ())


def ball_points(radius: float, neck: float, end: float) -> list[tuple[float, float]]:
    """A ball at the left end, its pole at 0, and a plain shank to `end`."""
    last = math.pi - math.asin(neck / radius)
    turns = np.linspace(0.0, last, 120)
    arc = [(radius - radius * math.cos(a), radius * math.sin(a)) for a in turns]
    return [*arc, (end, neck)]


def lever() -> SolvedPart:
    radius, neck, end = 7.14375, 3.175, 50.8
    meets = radius + math.sqrt(radius**2 - neck**2)
    hub = SolvedFeature(OutsideFeature(OutsideKind.BALL, "hub", HERE), 0.0, meets, 0.0, neck,
                        (Arc(0.0, 0.0, meets, neck, radius, 0.0, radius, True),), radius, 0.0, radius)
    shank = feature(OutsideKind.CYLINDER, "shank", meets, end, neck)
    dimensions = (
        dimension("lever", "hub diameter", 2 * radius, "9/16 ± 0.001"),
        dimension("lever", "shank diameter", 2 * neck, "1/4"),
        dimension("lever", "hub centre to shank right", end - radius, "1.71875"),
        dimension("lever", "overall length", end),
        dimension("lever", "shank length", end - meets),
    )
    return SolvedPart("lever", HERE, 7, "free-cutting mild steel", "", "", end, (hub, shank), (), (), (), dimensions, ())


CHUCK = Holding("three-jaw chuck", "three-jaw", -20.0, 0.0, "stock", "right", 0.0, 40.0, 6.35)
KNIFE = Cutter("knife tool", "knife", np.array([(0.0, 0.0), (6.0, 2.0), (6.0, 12.0), (0.0, 12.0)]))


def operation(part: str, number: int, kind: str, **more: object) -> Operation:
    words: dict[str, object] = {
        "set_up": "A1", "holding": CHUCK, "cutter": KNIFE, "cut": NoCut(), "datum_point": "right end",
        "datum_mm": 38.1, "why": Why("turn", (), "the tenon is open toward the tailstock"), "caution": "Eyes covered.",
    }
    return Operation(number, part, kind, **{**words, **more})  # type: ignore[arg-type]


def pin_plan() -> PartPlan:
    bar = section([(-20.0, 6.35), (40.0, 6.35)])
    faced = section([(-20.0, 6.35), (38.1, 6.35)])
    turned = section([(-20.0, 6.35), (25.4, 6.35), (25.4, 3.175), (38.1, 3.175)])
    makes = Makes("tenon diameter", 6.35, 6.33, 6.37, True, "micrometer")
    length = Makes("tenon length", 12.7, None, None, False)
    moves = (Move("cross slide", "in", "touched on the blank", 3.175, makes),
             Move("carriage", "toward the headstock", "touched on the right end", 12.7, length))
    facing = operation("pin", 10, "face", datum_mm=40.0, sums=(
        Sum("length as measured", 38.1, "take off", "top slide", True),))
    stages = (Stage(facing, bar, faced), Stage(operation("pin", 20, "turn", moves=moves), faced, turned))
    finished = section([(0.0, 6.35), (25.4, 6.35), (25.4, 3.175), (38.1, 3.175)])
    return PartPlan("pin", 3, Stock("round", 12.7, 60.0, "round 1/2 in", True, -20.0), finished, stages)


def lever_plan(refused: str = "") -> PartPlan:
    finished = section(ball_points(7.14375, 3.175, 50.8))
    blank = section([(-0.5, 7.94), (50.8, 7.94)])
    after = section([*ball_points(7.14375, 3.175, 20.0), (20.0, 7.94), (50.8, 7.94)])
    held = Holding("three-jaw chuck", "three-jaw", 28.0, 50.8, "stock", "left", 28.0, 40.0, 7.94)
    makes = Makes("hub diameter", 14.2875, 14.27, 14.30, True, "micrometer")
    swing = operation("lever", 30, "ball", set_up="B1", holding=held, cut=Swing(7.14375, 7.14375, 180.0, 20.0),
                      cutter=Cutter("swinging ball tool", "ball", np.zeros((0, 2))), datum_point="left end",
                      datum_mm=0.0, moves=(Move("ball tool", "in", "touched on the blank", 0.8, makes),),
                      refused=refused)
    return PartPlan("lever", 7, Stock("round", 15.88, 51.3, "round 5/8 in", True, -0.5), finished,
                    (Stage(swing, blank, after),), refused)


def reading(part: str, number: int, wheel: str, way: str, turns: int, lines: float, makes: Makes | None) -> Reading:
    return Reading(number, part, wheel, way, "touched on the blank", turns, lines, "division", 3.175, 3.175,
                   f"{wheel} {way}, clockwise, {turns} turns", makes=makes)


def job(refused: str = "") -> tuple[Drawing, Plan, dict[tuple[str, int], tuple[Reading, ...]]]:
    parts = (pin(), lever())
    drawing = Drawing(Job("Made by hand", "made.yaml", Unit.INCH, ()), State.FULLY_DIMENSIONED, parts, (), (), ())
    first, second = pin_plan(), lever_plan(refused)
    set_ups = (
        SetUp("A1", "Bar in the chuck", (Setting("machine", "lathe", ""), Setting("holding", "three-jaw chuck",
              "letting go of the work", keep="cross slide line")), ()),
        SetUp("B1", "Swinging ball tool", (Setting("machine", "lathe", ""),), ()),
    )
    order = (Step("pin", (1, 2, 3), 10, "A1"), Step("pin", (1, 2, 3), 20, "A1"),
             Step("lever", (1, 2, 3, 4, 5, 6, 7), 30, "B1"))
    plan = Plan((first, second), set_ups, order, ("a 1/4 in reamer",), (), ("metal before and after",), ("strength",))
    turn = first.stages[1].operation.moves
    readings = {
        ("pin", 10): (), ("pin", 20): (reading("pin", 20, "cross slide", "in", 1, 25.0, turn[0].makes),
                                       reading("pin", 20, "carriage", "toward the headstock", 4, 12.5, turn[1].makes)),
        ("lever", 30): (reading("lever", 30, "ball tool", "in", 1, 43.0, second.stages[0].operation.moves[0].makes),),
    }
    if refused:
        del readings["lever", 30]
    return drawing, plan, readings
