"""The set-up of a swinging ball tool in the order in which it is worked through, with one ball's figures."""

from __future__ import annotations

import math

from handwheel.job.records import Unit
from handwheel.plan.records import Operation, Stage
from handwheel.readings.dial import BALL_TOOL
from handwheel.readings.words import length_text
from handwheel.setups.form import HALF
from handwheel.setups.passes import MEASURE_MM, Blank, blank_of, passes
from handwheel.setups.records import Figure, Procedure, Step
from handwheel.setups.sketches import GAP_TEST, ball_sketches
from handwheel.stages.records import Swing
from handwheel.workshop.records import BallTool, Workshop

WORTH_MM = 0.005
"""A difference of a place that is worth a word. [mm]"""


def ball_procedure(stage: Stage, shop: Workshop) -> Procedure | None:
    """The whole set-up of a stage that swings a ball; None for any other stage, or without a ball tool."""
    cut, tool = stage.operation.cut, shop.ball_tool
    if stage.operation.kind != "ball" or not isinstance(cut, Swing) or tool is None:
        return None
    sign = 1.0 if stage.operation.holding.toward_tailstock == "right" else -1.0
    outline = [(sign * (float(z) - cut.centre), float(r)) for z, r in stage.before.outer]
    after = [(sign * (float(z) - cut.centre), float(r)) for z, r in stage.after.outer]
    neck, far = sorted(cut.radius * math.cos(math.radians(a)) * sign for a in (cut.from_deg, cut.to_deg))
    between = far if far < cut.radius - WORTH_MM else None
    end = min(cut.radius, max(u for u, _ in after)) if between is None else far
    blank = blank_of(outline, cut.radius, neck, end, math.inf if between is None else far)
    stands = abs(cut.centre - stage.operation.holding.face_mm)
    figures = (
        *ball_figures(blank, cut.radius, shop.units, (neck, between)), *_limits(stage.operation, shop.units),
        *_swings(stands, cut.radius, neck, between, tool, shop),
    )  # fmt: skip
    sketches = (GAP_TEST,) if between is not None or neck > 0.0 else ball_sketches(
        blank, outline if sign > 0 else outline[::-1], cut.radius, neck, stands, shop.units)  # fmt: skip
    return Procedure("ball tool", ball_steps(tool, shop.units), figures, passes(blank, cut.radius, shop, tool),
                     "tip touched on top of the blank", sketches)  # fmt: skip


def plain_blank(radius_mm: float, shop: Workshop) -> Blank:
    """The blank of a ball by itself, a cylinder with the workshop's allowances and its corner still on."""
    top = radius_mm + shop.habit("ball diameter allowance") / 2.0
    end = radius_mm + shop.habit("ball end allowance")
    return blank_of([(0.0, top), (end, top), (end, 0.0)], radius_mm, 0.0, radius_mm)


def ball_steps(tool: BallTool, units: Unit) -> tuple[Step, ...]:
    """What to do, the same for every ball."""
    return (
        Step("square", "an indicator in the tool's place, on both sides of a true bar: turn the tool on the cross slide until "
             "both read the same"),
        Step("height", "turn a test piece true in the same chuck. Bring the tip near it above, then swing it below. The wider "
             "gap is on the side to which the swing axis is out, by half the difference: pack or take away half, try again"),
        Step("cross centre", "swing to the free end and bring the tip to the middle. A pip that stays is twice as thick as the "
             "tip is beside the axis: turn the cross slide by half the pip and swing again; if it grows, go the other way, "
             "past the lost motion. Write the line down"),
        Step("stop", "touch the tip on top of the blank, swing it to the end at the same radius, bring the carriage up until "
             "it touches there; tip up clear of the work, then the carry below. Set and lock the stop"),
        Step("swing", "round by hand before the lathe is started, and no farther than to the neck, or from neck to neck"),
        _screw(tool, units),
        Step("measure", f"with {length_text(MEASURE_MM, units)} on the diameter: equator, the diameters at each side of the "
             "centre, centre to pole, pip. Equator under and pole right: the height is out by half of what is missing. Side "
             "diameters that differ: the stop by a quarter of that. Pip: the cross slide by half of it. All alike: the screw"),
    )  # fmt: skip


def ball_figures(
    blank: Blank, radius_mm: float, units: Unit, necks_mm: tuple[float, float | None] = (-math.inf, None)
) -> tuple[Figure, ...]:
    """One ball's figures: from where to where the tip goes, and what it is measured at.

    Parameters
        blank: the ball's, before it is swung.
        radius_mm: the ball's. [mm]
        units: of the words.
        necks_mm: where it meets its necks, from its centre: the headstock's, and the tailstock's of a ball between two
            (None of one with a pole). [mm]
    """
    found = [Figure("radius with the tip on the blank", length_text(blank.top_mm, units))]
    carry = blank.end_mm - blank.top_mm
    way = "headstock" if carry > 0.0 else "tailstock"
    told = f"{length_text(abs(carry), units)} toward the {way}" if abs(carry) > WORTH_MM else "none"
    found.append(Figure("carry of the carriage after the end", told))
    out = blank.farthest_mm - blank.top_mm
    found.append(Figure("back out before it swings", length_text(out, units) if out > WORTH_MM else "none"))
    if blank.cleans_mm > radius_mm + WORTH_MM:
        found.append(Figure("cleans the whole ball from radius", length_text(blank.cleans_mm, units)))
    near, far = necks_mm
    if near > 0.0:
        edge = length_text(2.0 * math.sqrt(radius_mm * radius_mm - near * near), units, "Ø")
        found.append(Figure("dome", f"a radius gauge on its face; its edge {edge}, {length_text(radius_mm - near, units)} from "
                            "the pole. Equator and sides are not there: of the errors only a pip tells"))  # fmt: skip
        return tuple(found)
    found.append(Figure("equator", length_text(2.0 * radius_mm, units, "Ø")))
    if -near >= HALF * radius_mm and (far is None or far >= HALF * radius_mm):
        found.append(Figure("side diameters", length_text(2.0 * HALF * radius_mm, units, "Ø")))
        found.append(Figure("side diameters, from the centre", length_text(HALF * radius_mm, units)))
    if far is None:
        found.append(Figure("centre to pole", length_text(min(radius_mm, blank.end_mm), units)))
    else:
        found.append(Figure("no pole, no pip", "the cross slide cannot be told from this ball: bring the tip to the middle of "
                            "the faced end before it"))  # fmt: skip
    return tuple(found)


def _limits(operation: Operation, units: Unit) -> tuple[Figure, ...]:
    """What the height may be out before the equator alone uses up the limits: a quarter of their width."""
    made = next((m.makes for m in operation.moves if m.wheel == BALL_TOOL and m.makes is not None), None)
    if made is None or made.working_low_mm is None or made.working_high_mm is None:
        return ()
    quarter = (made.working_high_mm - made.working_low_mm) / 4.0
    return (Figure("height error that uses up the limits", length_text(quarter, units)),)


def _swings(stands: float, radius: float, neck: float, far: float | None, tool: BallTool, shop: Workshop) -> tuple[Figure, ...]:
    level = radius + tool.swing_beyond_tip_mm + shop.habit("chuck clearance")
    found = [Figure("ball's centre from the jaws", length_text(stands, shop.units))]
    if level > stands + WORTH_MM:
        found.append(Figure("to swing to level it would want", length_text(level, shop.units)))
    swung = math.degrees(math.acos(max(-1.0, min(1.0, neck / radius))))
    if far is None:
        return (*found, Figure("swing, free end to neck", f"{swung:.1f}°"))
    begin = math.degrees(math.acos(max(-1.0, min(1.0, far / radius))))
    return (*found, Figure("swing, from level at the tailstock", f"{begin:.1f}° to {swung:.1f}°, neck to neck"))


def _screw(tool: BallTool, units: Unit) -> Step:
    """The smallest move that can be relied on: read off a marked screw, learned of an unmarked one."""
    part = length_text(tool.screw_lead_mm / tool.divisions, units)
    if tool.divisions > 1 and tool.worked_by != "flats":
        return Step("screw", f"one line moves the tip {part}, twice that on the diameter; come up to it always going in")
    flat = "" if tool.divisions < 2 else f"one flat moves the tip {part}; "
    return Step(
        "screw",
        f"{flat}what is less has no lines and is to be learned: an indicator on the tip, turn the key ten times by the least "
        "that can be felt, and write down a tenth of what the tip moved",
    )
