"""Drills, reamers and taps of the workshop: which is used for a size, what it is called, and whether it is owned."""

from __future__ import annotations

from handwheel.plan.names import said
from handwheel.plan.threadwords import tapping_choice
from handwheel.tables.threadcutting import TRADE_PERCENT, hole_for_percent_mm
from handwheel.tables.threads import find_thread
from handwheel.workshop.records import RoundTool, Workshop

SAME_SIZE_MM = 0.002
"""Two round tools nearer than this in diameter are the same size. [mm]"""
DRILL_OFF_MM = 0.02
"""A drill this near the wanted size serves, and its own size is said: common practice, no source. [mm]"""
DRILL_UNDER_MM = 0.3
"""How much smaller than asked the drill before a reamer may be: common practice, no source. [mm]"""


def drill_before_reamer(shop: Workshop, radius: float) -> float:
    """Radius of the owned drill that leaves the allowance, or a little more, for the reamer; else that asked. [mm]"""
    owned = [t.diameter_mm / 2 for t in shop.round_tools if t.kind == "drill"]
    fitting = [r for r in owned if radius - DRILL_UNDER_MM / 2 <= r <= radius + 1e-6]
    return max(fitting, default=radius)


def tapping_drill(shop: Workshop, designation: str) -> tuple[str, bool]:
    """The owned drill for a thread, or the size to get."""
    thread = find_thread(designation)
    if thread is None:
        return f"tapping drill for {designation}, size by the tap's own table", False
    choice = tapping_choice(shop, thread)
    if choice is not None:
        return f"tapping drill {choice.name}", True
    size = thread.tapping_drill_mm or hole_for_percent_mm(thread, TRADE_PERCENT)
    return f"tapping drill Ø {said(shop.units, size)}", False


def tool_name(shop: Workshop, kind: str, radius: float) -> tuple[str, bool]:
    """The owned tool of that size by its designation, with its own size where it differs; else the size, to get. [mm]"""
    tool = owned_tool(shop, kind, radius)
    if tool is None:
        return f"{kind} Ø {said(shop.units, 2 * radius)}", False
    off = abs(tool.diameter_mm - 2 * radius) > SAME_SIZE_MM
    size = f" (Ø {said(shop.units, tool.diameter_mm)})" if off else ""
    return f"{kind} {tool.designation}{size}", True


def owned_tool(shop: Workshop, kind: str, radius: float) -> RoundTool | None:
    """A drill may be off by a little, a reamer makes the size: the owned tool nearest to it within that. [mm]"""
    within = SAME_SIZE_MM if kind == "reamer" else DRILL_OFF_MM
    near = [t for t in shop.round_tools if t.kind == kind and abs(t.diameter_mm - 2 * radius) <= within]
    return min(near, key=lambda t: abs(t.diameter_mm - 2 * radius), default=None)
