"""What is cut from inside a hole: grooves, and the bar that passes the mouth to make anything wider than it.

The bar has to pass the mouth with its nose standing out as far as the cut goes beyond it, and is then no thicker than
what is left of the mouth; how far such a bar may stand out refuses the rest.
"""

from __future__ import annotations

import math

import numpy as np

from handwheel.drawing.records import SolvedCut
from handwheel.plan.bench import Bench, CannotMakeError, diameter_makes, length_makes
from handwheel.plan.caution import caution_for
from handwheel.plan.names import end_name, said
from handwheel.plan.records import Move, Why
from handwheel.stages.check_hole import STOUT
from handwheel.stages.envelope import clip
from handwheel.stages.records import Cutter, Sweep
from handwheel.stages.sweep import lower_chain
from handwheel.workshop.records import Tool

ROOM_MM = 0.5
"""Between the bar's back and the mouth when its nose is withdrawn: common practice, no source. [mm]"""
DEEP_MM = 0.5
"""How much deeper than the groove its tool's nose is drawn. [mm]"""
INSIDE_GROOVE = "inside groove"
"""Kind of a workshop's tool for grooves in a hole; its reach is how far the nose stands out of the bar."""


def open_radius(bench: Bench, u_low: float, u_high: float) -> float:
    """Least radius of what is open between two places; 0 where the metal is solid anywhere. [mm]"""
    low, high = bench.view.span(u_low, u_high)
    inner = clip(bench.section.inner, low, high)
    return float(inner[:, 1].min()) if len(inner) else 0.0


def bar_of(bench: Bench, name: str, bottom_u: float, top_u: float, radius: float) -> tuple[float, float, float]:
    """The bar that reaches a cut of that radius between two places: the mouth it passes, how far its nose stands out,
    and how far it stands out itself. [mm] Raises CannotMakeError when it would be too slender."""
    units, free = bench.shop.units, bench.free_u()
    mouth = open_radius(bench, top_u, free) if free - top_u > 1e-9 else radius
    into, depth = max(0.0, radius - mouth), free - bottom_u
    thick = 2.0 * mouth - into - ROOM_MM
    if thick * STOUT < depth:
        left = f"{said(units, thick)} thick at most" if thick > 0.0 else "nothing"
        raise CannotMakeError(
            name,
            f"{name} is cut through a mouth of Ø {said(units, 2 * mouth)}: a bar whose nose stands out {said(units, into)} is "
            f"{left}, and has to stand out {said(units, depth)}; {STOUT:g} times its thickness is the habit",
            "a wider mouth, less depth into the wall, or a way in from the other end")  # fmt: skip
    return mouth, into, depth


def boring_bar(bench: Bench, mouth: float, into: float, depth: float, lip: float = 0.0) -> tuple[str, bool]:
    """The workshop's boring bar that reaches so deep, passes the mouth and clears its lip; a stouter one to get where
    the mouth lets it pass. [mm]"""
    units, widest = bench.shop.units, 2.0 * mouth - into - ROOM_MM
    owned = [t for t in bench.shop.tools if t.kind == "boring" and t.owned and _serves(t, mouth, into, depth, lip)]
    stout = [t for t in owned if _thickness(t) * STOUT >= depth]
    if stout or owned and widest * STOUT < depth:
        return (stout or owned)[0].name, True
    nose = f", nose standing out {said(units, into)}" if into else ""
    return f"boring bar at most {said(units, widest)} thick{nose}, reaching {said(units, depth)}", False


def _serves(tool: Tool, mouth: float, into: float, depth: float, lip: float) -> bool:
    outline = np.array(tool.outline_mm, dtype=np.float64)
    if tool.reach_mm is None or tool.reach_mm < depth or len(outline) < 3 or float(np.ptp(outline[:, 1])) > 2.0 * mouth - into:
        return False
    edge = lower_chain(outline)
    return float(np.interp(lip, edge[:, 0], edge[:, 1])) >= into - 1e-9


def _thickness(tool: Tool) -> float:
    """Of the bar where it leaves its holder. [mm]"""
    outline = np.array(tool.outline_mm, dtype=np.float64)
    return float(np.ptp(outline[np.abs(outline[:, 0] - outline[:, 0].max()) < 1e-6, 1]))


def groove_inside(bench: Bench, cut: SolvedCut) -> None:
    """A groove in the wall of a hole, plunged from inside. Raises CannotMakeError."""
    view, units = bench.view, bench.shop.units
    u0, u1 = sorted((view.u(cut.left), view.u(cut.right)))
    start = open_radius(bench, u0, u1)
    if start <= 0.0 or start >= cut.floor_radius:
        raise CannotMakeError(cut.name, f"{cut.source.host} is not open where {cut.name} is to be cut",
                              "the hole before its groove")  # fmt: skip
    _, into, depth = bar_of(bench, cut.name, u0, u1, cut.floor_radius)
    tool, width = _grooving(bench, u1 - u0, cut.floor_radius - start)
    nose = cut.floor_radius - start + DEEP_MM
    outline = view.outline([(0.0, 0.0), (width, 0.0), (width, nose), (0.0, nose)])
    name = tool.name if tool is not None else (
        f"inside grooving tool {said(units, width)} wide, nose standing out {said(units, into)}")
    cutter = Cutter(name, INSIDE_GROOVE, outline, tool is not None and tool.owned)
    datum, free = bench.touched(), bench.free_u()
    headstock = end_name(view.toward, headstock=True)
    moves = (
        Move("carriage", "toward the headstock", f"touched on the {datum}", free - u0,
             length_makes(f"{datum} to {cut.name} {headstock}", free - u0), "set by the left corner"),
        Move("cross slide", "out", f"touched in {cut.source.host}, Ø {said(units, 2 * start)}", cut.floor_radius - start,
             diameter_makes(f"{cut.name} diameter", cut.floor_radius), "the work's far side is cut: out widens"),
    )  # fmt: skip
    why = Why("groove-after-bore", (cut.name,), f"{cut.name} in {cut.source.host}, {said(units, u1 - u0)} wide: "
              f"{name}, standing out {said(units, depth)}")  # fmt: skip
    note = "" if width >= u1 - u0 - 1e-9 else f"widened toward the tailstock to {said(units, u1 - u0)}"
    path = ((u1 - width, cut.floor_radius), (u0, cut.floor_radius))
    bench.must(cut.name, "a narrower grooving tool", bench.attempt(
        "groove", Sweep(view.path(path), inside=True), cutter, why, caution=caution_for("groove"), moves=moves,
        note="; ".join(filter(None, (note, "withdraw toward the axis before the carriage moves")))))  # fmt: skip


def _grooving(bench: Bench, width: float, into: float) -> tuple[Tool | None, float]:
    """The widest owned tool that fits the groove and is deep enough, and the width used; None: one as wide, to get. [mm]"""
    fitting = [t for t in bench.shop.tools if t.kind == INSIDE_GROOVE and t.width_mm and t.width_mm <= width + 1e-9
               and (t.reach_mm is None or t.reach_mm >= into - 1e-9)]  # fmt: skip
    tool = max(fitting, key=lambda t: t.width_mm or 0.0, default=None)
    return tool, (tool.width_mm or width) if tool is not None else width


def bar_note(bench: Bench, mouth: float, into: float, depth: float) -> str:
    """What the bar is to be, in words."""
    units = bench.shop.units
    thick = 2.0 * mouth - into - ROOM_MM
    share = math.ceil(10.0 * depth / thick) / 10.0
    return (f"bar at most {said(units, thick)} thick, standing out {said(units, depth)}, {share:g} times that: fine cuts, and "
            "the last one again without more feed") if into > 0.0 else ""  # fmt: skip
