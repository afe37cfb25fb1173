"""Which slide gives a length, and the fine feed where the cross slide's lines are too coarse.

A wheel resolves a size's working limits when its smallest step moves the size by no more than half of what lies between
them, so that a line falls well inside wherever the size lies. The carriage is taken where it does; else the top slide,
where it does, its travel reaches, and it has not been set over before in that holding; else the row says to measure,
and where the top slide can take off what is left, a sum stands beside it.
"""

from __future__ import annotations

import math
from dataclasses import replace

from handwheel.job.records import Unit
from handwheel.plan.names import said
from handwheel.plan.records import Makes, Move, Operation, PartPlan, Setting, Stage, Sum
from handwheel.stages.records import Holding
from handwheel.workshop.records import Handwheel, Workshop

LINES_WITHIN = 2.0
"""Smallest steps that have to lie between two limits."""
FINE_SINE = 0.1
FINE_DEG = math.degrees(math.asin(FINE_SINE))
"""Top slide at this angle to the lathe's axis: a tenth of what it is fed goes off the radius."""
DIAMETERS = ("turn", "bore")
LENGTHS = ("face", "turn", "groove", "bore", "part off", "curve", "relieve")
LEFT_MM = {Unit.INCH: 0.010 * 25.4, Unit.MM: 0.25}
"""Left on a length that is measured: common practice, no source. [mm]"""


def resolves(wheel: Handwheel | None, makes: Makes) -> bool:
    """Whether that wheel's steps are fine enough for the size's limits; True for a size without limits."""
    if wheel is None or wheel.divisions < 1:
        return False
    if makes.working_low_mm is None or makes.working_high_mm is None:
        return True
    step = wheel.step_mm * (2.0 if makes.is_diameter else 1.0)
    return step * LINES_WITHIN <= makes.working_high_mm - makes.working_low_mm + 1e-9


def with_slides(plan: PartPlan, shop: Workshop) -> PartPlan:
    """The plan with every length given by a slide that resolves its limits, or measured."""
    stages: list[Stage] = []
    swung: list[Holding] = []
    for stage in plan.stages:
        operation = stage.operation
        if any(s.layer == "slide angle" for s in operation.settings):
            swung.append(operation.holding)
            stages.append(stage)
            continue
        is_straight = operation.holding not in swung
        stages.append(replace(stage, operation=_operation(operation, is_straight, shop)))
    return replace(plan, stages=tuple(stages))


def _operation(operation: Operation, is_straight: bool, shop: Workshop) -> Operation:
    found = [_move(move, operation, is_straight, shop) for move in operation.moves]
    moves = tuple(move for move, _, _ in found)
    sums = tuple(asked for _, asked, _ in found if asked is not None)
    settings = tuple(dict.fromkeys(setting for _, _, setting in found if setting is not None))
    if moves == operation.moves and not sums:
        return operation
    return replace(operation, moves=moves, sums=(*operation.sums, *sums), settings=(*operation.settings, *settings))


def _move(
    move: Move, operation: Operation, is_straight: bool, shop: Workshop
) -> tuple[Move, Sum | None, Setting | None]:
    makes, wheels = move.makes, shop.lathe.wheels
    if makes is None or makes.working_low_mm is None:
        return move, None, None
    top = wheels.get("top slide")
    if move.wheel == "cross slide" and makes.is_diameter and operation.kind in DIAMETERS:
        if resolves(wheels.get("cross slide"), makes) or "cross slide" not in wheels:
            return move, None, None
        return _noted(move, fine_feed_text(wheels["cross slide"], makes, top, shop)), None, None
    if move.wheel == "tailstock" and "tailstock" in wheels and not resolves(wheels["tailstock"], makes):
        return _noted(move, measure_text(wheels["tailstock"], shop.units)), None, None
    if move.wheel != "carriage" or makes.is_diameter or resolves(wheels.get("carriage"), makes):
        return move, None, None
    if operation.kind not in LENGTHS:
        return _noted(move, measure_text(wheels.get("carriage"), shop.units)), None, None
    if top is None or not resolves(top, makes):
        return _noted(move, measure_text(wheels.get("carriage"), shop.units)), None, None
    if is_straight and top.travel_mm is not None and move.exact_mm <= top.travel_mm:
        moved = replace(move, wheel="top slide")
        return _noted(moved, "carriage locked at the touch"), None, _straight()
    left = said(shop.units, LEFT_MM[shop.units])
    sums = tuple(s.measured for s in operation.sums)
    measured = f"{makes.phrase} as measured"
    note = f"stop {left} short, lock the carriage, measure, the rest by the top slide"
    limits = (makes.working_low_mm or 0.0, makes.working_high_mm or 0.0)
    asked = None if measured in sums else Sum(measured, makes.value_mm, "to go by", "top slide", True, limits)
    return _noted(move, note), asked, _straight() if is_straight else None


def _noted(move: Move, note: str) -> Move:
    return replace(move, note="; ".join(filter(None, (move.note, note))))


def _straight() -> Setting:
    return Setting("slide angle", "top slide along the bed, at 0°: it gives lengths with the carriage locked",
                   "swinging the top slide")  # fmt: skip


def measure_text(wheel: Handwheel | None, units: Unit) -> str:
    """What to do where no slide's lines resolve a length."""
    if wheel is None:
        return "set a stop, measure, and correct"
    step = f"a whole turn is {said(units, wheel.lead_mm)}" if wheel.divisions <= 1 else (
        f"its lines are {said(units, wheel.lead_mm / wheel.divisions)} apart")  # fmt: skip
    return f"too coarse for these limits ({step}): to a stop, measure, and correct"


def fine_feed_text(wheel: Handwheel, makes: Makes, top: Handwheel | None, shop: Workshop) -> str:
    """What to do where the cross slide's lines are too coarse for a diameter: the top slide swung as a fine feed.

    At asin(0.1) to the lathe's axis a tenth of what is fed goes off the radius, a fifth off the diameter, and the tool
    goes cos times as far along: 0.995.
    """
    units = shop.units
    apart = f"lines {said(units, 2.0 * wheel.step_mm)} apart on Ø are too coarse here"
    swivel = shop.lathe.top_slide_swivel_deg
    can = top is not None and top.divisions > 1 and (swivel is None or swivel >= FINE_DEG)
    if top is None or not can or 2.0 * FINE_SINE * top.step_mm * LINES_WITHIN > _between(makes) + 1e-9:
        return f"{apart}: creep up, measuring, and leave the last of it to the file or a lap"
    line = top.lead_mm / top.divisions
    return (
        f"{apart}: the last cuts may go by the top slide swung to {FINE_DEG:.3f}°, a line of it then takes "
        f"{said(units, 2.0 * FINE_SINE * line)} off Ø and goes {said(units, line * math.sqrt(1.0 - FINE_SINE**2))} along, so "
        "touch again for the length")


def _between(makes: Makes) -> float:
    return (makes.working_high_mm or 0.0) - (makes.working_low_mm or 0.0)
