"""A travel in whole turns and divisions of one wheel, rounded once to what that wheel can show.

A wheel's lead is the slide's own travel in a turn, whatever its collar is numbered in. A cross slide that reads
diameter has the same lines a turn: only the figure beside a line is doubled, so the count of lines stays as it is.
"""

from __future__ import annotations

import math

from handwheel.base.tolerance import EQUAL_MM
from handwheel.workshop.records import BallTool, Handwheel, Workshop

TIE = 1e-9
"""How near the middle between two lines counts as the middle, in smallest parts: only the noise of the arithmetic."""

SHORT = 1e-6
"""A travel that is a line's own, but for this part of a step, is that line."""

BALL_TOOL = "ball tool"


def dial(exact_mm: float, wheel: Handwheel) -> tuple[int, float, float]:
    """Whole turns, divisions and the move really made for a travel of the slide.

    Rounded once, to the smallest part of a division worth dialling; in the middle between two, the shorter move,
    which leaves the metal on. Lines are counted from the wheel's own zero in each turn, so a smallest part that
    does not go into a turn starts again there.

    Parameters
        exact_mm: travel of the slide from zero, on the radius for a cross slide or ball tool, >= 0. [mm]
        wheel: the wheel, with its lead, divisions and smallest part.
    Returns
        (turns, divisions, moves_mm): 0 <= divisions < a turn's, moves_mm the travel they make. [mm]
    Raises
        ValueError: a travel below zero or not finite; give the way and its amount instead.
    """
    if not math.isfinite(exact_mm) or exact_mm < -EQUAL_MM:
        raise ValueError(f"a travel of {exact_mm} mm cannot be dialled; give the way and an amount not below zero")
    exact_mm = max(0.0, exact_mm)
    turns = math.floor(exact_mm / wheel.lead_mm)
    rest = exact_mm / wheel.lead_mm * wheel.divisions - turns * wheel.divisions
    parts = max(0, math.ceil(rest / wheel.smallest_part - 0.5 - TIE))
    divisions = parts * wheel.smallest_part
    is_full = divisions > wheel.divisions - TIE
    is_nearer_full = rest - divisions > wheel.divisions - rest + TIE
    if is_full or is_nearer_full:
        turns, divisions = turns + 1, 0.0
    moves_mm = (turns + divisions / wheel.divisions) * wheel.lead_mm
    return turns, divisions, moves_mm


def greatest_error_mm(wheel: Handwheel) -> float:
    """The most by which a dialled move can miss a wanted one: half a smallest part. [mm]"""
    return wheel.step_mm / 2


def dial_short(exact_mm: float, wheel: Handwheel) -> tuple[int, float, float]:
    """The same, but never past the travel wanted: the line at or before it, which leaves metal on. As `dial`."""
    return dial(max(0.0, exact_mm - (0.5 - SHORT) * wheel.step_mm), wheel)


def dial_past(exact_mm: float, wheel: Handwheel) -> tuple[int, float, float]:
    """The same, but never short of the travel wanted: the line at or beyond it. As `dial`."""
    return dial(exact_mm + (0.5 - SHORT) * wheel.step_mm, wheel)


def ball_wheel(tool: BallTool) -> Handwheel:
    """The adjusting screw of a ball tool as a wheel: its travel is the tip's, on the radius."""
    return Handwheel(
        slide=BALL_TOOL,
        lead_mm=tool.screw_lead_mm,
        divisions=tool.divisions,
        reads="radius",
        smallest_part=tool.smallest_part,
        sense="",
        division_name="flat" if tool.worked_by == "flats" else "",
    )


def wheel_of(workshop: Workshop, name: str) -> Handwheel | None:
    """The wheel of that slide, or the ball tool's screw; None when the workshop has none."""
    if name == BALL_TOOL:
        return None if workshop.ball_tool is None else ball_wheel(workshop.ball_tool)
    return workshop.lathe.wheels.get(name)


def unit_of(wheel: Handwheel) -> str:
    """What its smallest graduation is called: `flat`, `division`, or `turn` for a wheel without lines."""
    if wheel.slide == BALL_TOOL and wheel.division_name.startswith("flat"):
        return "flat"
    return "turn" if wheel.divisions <= 1 else "division"
