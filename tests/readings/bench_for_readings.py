import numpy as np

from handwheel.job.records import Unit
from handwheel.plan.records import Makes, Move, Operation, PartPlan, Plan, Stage, Stock, Why
from handwheel.stages.records import Cutter, Holding, NoCut, Section
from handwheel.workshop.records import BallTool, Handwheel, Lathe, Workshop

EMPTY = np.zeros((0, 2))
SECTION = Section(np.array([[0.0, 5.0], [20.0, 5.0]]), np.array([[0.0, 0.0], [20.0, 0.0]]))


def a_workshop(units: Unit = Unit.INCH, wheels=None, ball_tool: BallTool | None = None) -> Workshop:
    lathe = Lathe("lathe", 89.0, 500.0, 20.0, (100.0,), None, wheels or {}, 45.0, "MT2", None, None)
    return Workshop("workshop", units, True, lathe, None, (), (), ball_tool, (), (), (), (), {})


def cross(lead_mm=2.54, divisions=100, smallest=1.0, backlash_mm=None, sense="clockwise in") -> Handwheel:
    return Handwheel("cross slide", lead_mm, divisions, "radius", smallest, sense, backlash_mm=backlash_mm)


def operation(number: int, *moves: Move, refused: str = "", **more) -> Operation:
    holding = Holding("three-jaw", "three-jaw", 10.0, 20.0, "stock", "left", 9.0)
    cutter = Cutter("knife tool", "knife", np.array([[0.0, 0.0], [5.0, 0.0], [5.0, 9.0]]))
    return Operation(number, "pin", "turn", "A1", holding, cutter, NoCut(), "left end", 0.0,
                     Why("diameter", ("stem",), "why"), "", moves=moves, refused=refused, **more)  # fmt: skip


def plan(*operations: Operation, refused: str = "", part: str = "pin") -> Plan:
    stages = tuple(Stage(each, SECTION, SECTION) for each in operations)
    stock = Stock("round", 10.0, 20.0, "10 mm bar", True, 0.0)
    return Plan((PartPlan(part, 1, stock, SECTION, stages, refused),), (), (), (), ())


HUB = Move(
    "cross slide",
    "in",
    "touched on the blank",
    0.2352 * 25.4,
    Makes("hub diameter", 0.5625 * 25.4, 0.5615 * 25.4, 0.5630 * 25.4, True, "the micrometer"),
)
"""0.2352 in on the radius: 2 turns of 100 thou and 35.2 thou."""
