"""What the checks are told of the workshop at one operation: its lathe and chuck, the tool's nose, the hole's tools."""

from __future__ import annotations

import numpy as np

from handwheel.drawing.records import SolvedPart
from handwheel.job.records import OutsideKind
from handwheel.plan.grips import BUSH_IN
from handwheel.plan.records import Operation
from handwheel.stages.athand import BoringBar, Drilled, Room, Root, Threaded, Travel
from handwheel.tables.threads import find_thread, is_same_thread
from handwheel.workshop.records import Chuck, RoundTool, Tool, Workshop

JAWED = ("three-jaw", "four-jaw")
PUSHED = ("centre", "drill", "ream", "tap")
"""Operations that the tailstock's wheel is turned in."""
TOOLS = {"drill": "drill", "ream": "reamer", "tap": "tap"}
CARRIED = ("top slide", "cross slide", "tailstock")
"""Slides whose travel is looked at; a carriage has the bed's."""


def room_of(operation: Operation, shop: Workshop) -> Room:
    """The lathe's and the holding's room, with the moves of this operation."""
    lathe, chuck = shop.lathe, chuck_of(operation, shop)
    wheels = lathe.wheels
    angle = next((s.value for s in operation.settings if s.layer == "slide angle"), None)
    travels = tuple(
        Travel(m.wheel, m.exact_mm, wheels[m.wheel].travel_mm if m.wheel in wheels else None)
        for m in operation.moves if m.wheel in CARRIED
    )  # fmt: skip
    top, tail = wheels.get("top slide"), wheels.get("tailstock")
    return Room(
        centre_height_mm=lathe.centre_height_mm,
        over_cross_slide_mm=lathe.swing_over_cross_slide_mm,
        spindle_bore_mm=lathe.spindle_bore_mm,
        through_mm=chuck.through_mm if chuck else None,
        jaws_mm=chuck.grip_mm if chuck else None,
        jaw_height_mm=chuck.jaw_height_mm if chuck else None,
        body_radius_mm=chuck.body_radius_mm if chuck else None,
        has_jaws=operation.holding.kind in JAWED,
        slide_angle_deg=angle,
        swivel_deg=lathe.top_slide_swivel_deg,
        top_crank_mm=top.crank_room_mm if top else None,
        tail_crank_mm=tail.crank_room_mm if tail else None,
        is_pushed=operation.kind in PUSHED or operation.cutter.kind == "die",
        travels=travels,
    )


def chuck_of(operation: Operation, shop: Workshop) -> Chuck | None:
    """The chuck or collets that hold the work; None on a mandrel, in the vice or by hand."""
    kind = operation.holding.kind
    same = [c for c in shop.chucks if c.kind == BUSH_IN.get(kind, kind)]
    return next((c for c in same if operation.holding.device.startswith(c.name)), same[0] if same else None)


def tool_of(operation: Operation, shop: Workshop) -> Tool | None:
    """The workshop's lathe tool of that name; None for one to get and for what is no lathe tool."""
    return next((t for t in shop.tools if t.name == operation.cutter.name), None)


def hollows_of(operation: Operation, part: SolvedPart) -> tuple[tuple[float, str], ...]:
    """Radius and name of the hollow arcs that this operation cuts. [mm]"""
    return tuple(
        (f.arc_radius, f.name)
        for f in part.outside
        if f.name in operation.features and f.arc_radius and f.source.kind in (OutsideKind.FILLET, OutsideKind.HOLLOW)
    )


def hole_of(operation: Operation, part: SolvedPart, shop: Workshop) -> Drilled | None:
    """The hole on the axis that this operation makes; None where it makes none."""
    if operation.kind not in ("drill", "ream", "tap", "bore"):
        return None
    hole = next((h for h in (*part.inside_left, *part.inside_right) if h.name in operation.features), None)
    if hole is None:
        return None
    round_tool = round_tool_of(operation, hole.thread, shop)
    mouth, bottom = hole.mouth, hole.bottom
    if (mouth > bottom) != (operation.holding.toward_tailstock == "right"):  # a through hole made from its other end
        mouth, bottom = bottom, mouth
    return Drilled(
        name=hole.name,
        tool=TOOLS.get(operation.kind, "boring bar" if "boring" in operation.cutter.name else operation.cutter.kind),
        mouth_mm=mouth,
        bottom_mm=bottom,
        is_blind=not hole.source.is_through,
        lead_mm=round_tool.lead_mm if round_tool else None,
        point_deg=round_tool.point_deg if round_tool else None,
        drawn_point_deg=float(hole.source.point_deg),
        bars=boring_bars(shop),
        drilled_on_mm=operation.drilled_on_mm,
    )


def thread_of(operation: Operation, part: SolvedPart, shop: Workshop) -> Threaded | None:
    """The outside thread that this operation cuts; None where it cuts none."""
    if operation.kind != "thread":
        return None
    found = [(f.name, f.left, f.right, f.left_radius, f.thread) for f in part.outside if f.thread]
    found += [(c.name, c.left, c.right, c.floor_radius, c.thread) for c in part.cut_in if c.thread and not c.source.is_inside]
    for name, left, right, radius, designation in found:
        if name in operation.features:
            die = next((t for t in shop.round_tools if t.kind == "die" and is_same_thread(t.designation, designation)), None)
            return Threaded(name, left, right, radius, die.lead_mm if die else None)
    return None


def roots_of(part: SolvedPart) -> tuple[Root, ...]:
    """The roots of every thread of the part that the tables hold: outside, cut in, and in holes on the axis."""
    found = []
    places = [(f.left, f.right, f.thread, False) for f in part.outside]
    places += [(c.left, c.right, c.thread, c.source.is_inside) for c in part.cut_in]
    places += [(min(h.mouth, h.bottom), max(h.mouth, h.bottom), h.thread, True) for h in (*part.inside_left, *part.inside_right)]
    for left, right, designation, is_inside in places:
        thread = find_thread(designation) if designation else None
        if thread is not None:
            found.append(Root(left, right, (thread.major_mm if is_inside else thread.minor_external_mm) / 2.0, is_inside))
    return tuple(found)


def boring_bars(shop: Workshop) -> tuple[BoringBar, ...]:
    """The boring tools at hand: their outline's second number runs from the bore's wall to the bar's back. [mm]"""
    found = []
    for tool in shop.tools:
        if tool.kind != "boring" or not tool.owned or tool.reach_mm is None:
            continue
        outline = np.array(tool.outline_mm, dtype=np.float64)
        far = outline[np.abs(outline[:, 0] - outline[:, 0].max()) < 1e-6, 1]
        found.append(BoringBar(tool.name, float(outline[:, 1].max()), float(np.ptp(far)), tool.reach_mm))
    return tuple(b for b in found if b.thickness_mm > 0.0)


def round_tool_of(operation: Operation, thread: str, shop: Workshop) -> RoundTool | None:
    """The drill, reamer or tap in hand, by its designation in the tool's name or the thread's; None for one to get."""
    kind = TOOLS.get(operation.kind)
    same = [t for t in shop.round_tools if t.kind == kind]
    if kind == "tap":
        return next((t for t in same if is_same_thread(t.designation, thread)), None)
    if not operation.cutter.owned:
        return None
    named = operation.cutter.name.removeprefix("tapping ").split(" (")[0]
    return next((t for t in same if named == f"{kind} {t.designation}"), None)
