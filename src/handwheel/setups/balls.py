"""The set-up of a swinging ball tool for one ball, in the order in which it is worked through, with its figures."""

from __future__ import annotations

import math

from handwheel.job.records import Unit
from handwheel.plan.records import Operation, Stage
from handwheel.readings.words import figure, length_text, unit_name
from handwheel.setups.form import HALF
from handwheel.setups.passes import MEASURE_MM, Blank, blank_of, passes
from handwheel.setups.records import Procedure, Step
from handwheel.stages.records import Swing
from handwheel.workshop.records import BallTool, Workshop

CARRY_MM = 0.005
"""A difference of the carriage's place that is worth a word. [mm]"""


def ball_procedure(stage: Stage, shop: Workshop) -> Procedure | None:
    """The whole set-up of a stage that swings a ball; None for any other stage, or without a ball tool."""
    cut, tool = stage.operation.cut, shop.ball_tool
    if stage.operation.kind != "ball" or not isinstance(cut, Swing) or tool is None:
        return None
    sign = 1.0 if stage.operation.holding.toward_tailstock == "right" else -1.0
    outline = [(sign * (float(z) - cut.centre), float(r)) for z, r in stage.before.outer]
    after = [(sign * (float(z) - cut.centre), float(r)) for z, r in stage.after.outer]
    neck = min(cut.radius * math.cos(math.radians(a)) * sign for a in (cut.from_deg, cut.to_deg))
    blank = blank_of(outline[:: int(sign)], cut.radius, neck, min(cut.radius, max(u for u, _ in after)))
    name = ", ".join(stage.operation.why.features) or "ball"
    steps = (
        _height(cut.radius, shop.units),
        _cross(shop.units),
        _stop(blank, shop.units),
        _swings(stage.operation, cut, tool, sign, shop),
        _start(blank, cut.radius, shop.units),
        _smallest(tool, shop.units),
        measured_step(cut.radius, shop.units),
    )
    zero = f"tip touched on top of the blank, radius {figure(blank.top_mm, shop.units)} {unit_name(shop.units)}"
    return Procedure(f"{name}: ball tool", steps, passes(blank, cut.radius, shop, tool), zero)


def _height(radius: float, units: Unit) -> Step:
    size = length_text(2.0 * radius, units, "Ø")
    return Step(
        "height",
        f"turn a test piece true, about {size}, in the same chuck; bring the tip to it above, then swung below. The wider "
        "gap is on the side to which the axis is out, by half the difference: pack or take away that half, and try again",
        "gap above / below",
    )


def _cross(units: Unit) -> Step:
    return Step(
        "cross centre",
        "a pip that stays on the free end is twice as thick as the tip is beside the axis. Turn the cross slide by half "
        "the pip, swing again: if it grows, go the other way past the lost motion. Write the line down and touch no more",
        "cross slide line",
    )


def _stop(blank: Blank, units: Unit) -> Step:
    carry = blank.end_mm - blank.top_mm
    text = (
        f"touch the tip on top of the blank: its radius is now {length_text(blank.top_mm, units)}. Swing it to the end and "
        "bring the carriage up until it touches there"
    )
    if abs(carry) > CARRY_MM:
        way = "headstock" if carry > 0.0 else "tailstock"
        text += f"; then {length_text(abs(carry), units)} more toward the {way}, the end's allowance not being the top's"
    return Step("stop", f"{text}. Set and lock the stop", "carriage stop")


def _swings(operation: Operation, cut: Swing, tool: BallTool, sign: float, shop: Workshop) -> Step:
    stands = abs(cut.centre - operation.holding.face_mm)
    least = cut.radius + tool.swing_beyond_tip_mm + shop.habit("chuck clearance")
    back = min(math.cos(math.radians(a)) * sign for a in (cut.from_deg, cut.to_deg))
    text = (
        f"the ball's centre stands {length_text(stands, shop.units)} from the jaws; swung to level the tool would want "
        f"{length_text(least, shop.units)}"
    )
    if least > stands:
        swung = math.degrees(math.acos(max(-1.0, min(1.0, back))))
        text += f": swing by hand from the free end to the neck, {swung:.0f}°, and no farther"
    return Step("stick-out", f"{text}. Swing it round by hand before the lathe is started")


def _start(blank: Blank, radius: float, units: Unit) -> Step:
    text = f"the blank's farthest metal is {length_text(blank.farthest_mm, units)} from the centre"
    if blank.farthest_mm > blank.top_mm + CARRY_MM:
        text += f": back the tip out {length_text(blank.farthest_mm - blank.top_mm, units)} from the touch before it swings"
    whole = f"; the whole ball is cut from a radius of {length_text(blank.cleans_mm, units)} on"
    return Step("start", text + (whole if blank.cleans_mm > radius + CARRY_MM else ""))


def _smallest(tool: BallTool, units: Unit) -> Step:
    """The smallest move that can be relied on: read off a marked screw, learned of an unmarked one."""
    if tool.divisions > 1 and tool.worked_by != "flats":
        line = length_text(tool.screw_lead_mm / tool.divisions, units)
        return Step("screw", f"one line moves the tip {line}, twice that on the diameter; come up to it always going in")
    flat = "" if tool.divisions < 2 else f"one flat moves the tip {length_text(tool.screw_lead_mm / tool.divisions, units)}; "
    return Step(
        "screw",
        f"{flat}for the smallest move there are no lines: put an indicator on the tip, turn the key ten times by the least "
        "that can be felt, and write down a tenth of what the tip moved",
        "smallest move",
    )


def measured_step(radius_mm: float, units: Unit) -> Step:
    """What to measure with a little still on, and what a wrong set-up does to it."""
    station = HALF * radius_mm
    return Step(
        "measure",
        f"with {length_text(MEASURE_MM, units)} on the diameter: equator, the diameters {length_text(station, units)} each "
        "side of the centre, length to the pole, pip. Equator under and length right: the height is out by half of what "
        "is missing. The two side diameters differ: the stop is out by a quarter of that. Pip: the cross slide by half of "
        "it. All alike too large: the screw",
    )
