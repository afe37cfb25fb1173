"""How far a tool stands out of its post to get to a taper's tailstock end beside the centre, and what that bends.

Seen from above, with the tool's point at radius r, the post's corner toward the tailstock a along the slide and q back from
the point (q: how far the tool stands out), the slide at angle t, its tailstock end toward the axis: the corner stands
r - a sin t + q cos t from the axis and a cos t + q sin t nearer the tailstock than the point. Where that is beside the barrel it
has to clear it. With the slide swung the other way the post's front rises toward the tailstock: what of it stands at the
barrel's end has to.

The point is bent down by the main cutting force, about twice either way of what the table says, as a bar of the shank's
section held at the post. That is a tool so much below centre height, which makes the side hollow.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from handwheel.plan.names import said
from handwheel.plan.records import Operation, PartPlan, Stage
from handwheel.plan.taperways import TOWARD
from handwheel.stages.bending import overhung_mm_per_n
from handwheel.stages.records import Sweep
from handwheel.tables.cutting import Cutting, cutting_of
from handwheel.workshop.records import TailstockRoom, Workshop

STEEL_GPA = 205.0
"""Of a tool's shank: textbooks give 200 to 210."""
EITHER_WAY = 2.0
"""The force may be so many times more, or less."""
SEEN_MM = 0.001
"""Less is not told as a figure. [mm]"""
HEAD, BENDS = "tool past the tailstock", "bends the tool"


@dataclass(frozen=True, slots=True)
class AtTheEnd:
    """The tool at a taper's tailstock end: the radius there, the angle, whether the slide's tailstock end is toward the axis,
    and how far from there to the centre's point. [mm], [deg]"""

    radius_mm: float
    angle_deg: float
    is_in: bool
    to_centre_mm: float


def stands_out_mm(at: AtTheEnd, barrel_mm: float, centre_mm: float, post_mm: float, clear_mm: float) -> float:
    """How far the tool has to stand out of its post; 0 where the post's corner does not come beside the barrel. [mm]

    Parameters
        barrel_mm: the barrel's diameter. centre_mm: from the centre's point to the barrel's end.
        post_mm: from the tool's point to the post's side, along the slide. clear_mm: between post and barrel.
    """
    angle, out, begins = math.radians(at.angle_deg), barrel_mm / 2.0 + clear_mm - at.radius_mm, at.to_centre_mm + centre_mm
    if at.is_in:  # the corner is nearest to the barrel
        back = max(0.0, (out + post_mm * math.sin(angle)) / math.cos(angle))
        return back if post_mm * math.cos(angle) + back * math.sin(angle) > begins else 0.0
    clears = (out - begins * math.tan(angle)) * math.cos(angle)  # what of the post's front is at the barrel's end
    withdraws = (post_mm * math.cos(angle) - begins) / math.sin(angle)  # drawn back, the corner is clear of it sideways
    return max(0.0, min(clears, withdraws))


def drop_mm(
    out_mm: float, shank_mm: tuple[float, float], cutting: Cutting, depth_mm: float, feed_mm: float
) -> tuple[float, float]:
    """Least and greatest that the main cutting force bends the point of a tool down. [mm]

    Parameters
        out_mm: how far it stands out. shank_mm: its width and height.
        depth_mm, feed_mm: of the cut, on the radius; a turn.
    """
    width, height = shank_mm
    round_mm = (16.0 * width * height**3 / (3.0 * math.pi)) ** 0.25  # as stiff against bending down: pi d^4/64 = w h^3/12
    bends = overhung_mm_per_n(round_mm, out_mm, STEEL_GPA) * cutting.force_n(depth_mm, feed_mm)
    return bends / EITHER_WAY, bends * EITHER_WAY


def reach_figures(at: AtTheEnd, shop: Workshop, cutting: Cutting | None) -> tuple[tuple[str, str], ...]:
    """How far the tool stands out and what that bends, in words; what to measure where it is not known."""
    room, units, clear = shop.lathe.tailstock_room, shop.units, shop.habit("chuck clearance")
    barrel, centre, post = (None, None, None) if room is None else (room.barrel_mm, room.centre_mm, room.post_mm)
    if barrel is None or centre is None or post is None:
        names = (("the barrel's diameter", barrel), ("the centre's point to the barrel's end", centre),
                 ("the tool's point to the post's side", post))  # fmt: skip
        lacks = ", ".join(name for name, size in names if size is None)
        return ((HEAD, f"not known; try it by hand at the small end; for a figure measure {lacks}"),)
    out = stands_out_mm(at, barrel, centre, post, clear)
    if out <= 0.0:
        return ((HEAD, "the post's side does not come beside the barrel there; try it by hand"),)
    found = [(HEAD, f"stands out of its post by {said(units, out)} or more: barrel Ø {said(units, barrel)}, {said(units, clear)} "
              "clear")]  # fmt: skip
    return (*found, *_bent(out, room, shop, cutting))


def _bent(out: float, room: TailstockRoom | None, shop: Workshop, cutting: Cutting | None) -> list[tuple[str, str]]:
    shank = None if room is None else room.shank_mm
    if shank is None or cutting is None:
        lacks = "the tool's shank is not in the workshop file" if shank is None else "what metal it cuts"
        return [(BENDS, f"not known: {lacks}; light last cuts, the same line twice")]
    units = shop.units
    low, high = drop_mm(out, shank, cutting, shop.habit("last cut") / 2.0, shop.habit("fine feed"))
    if high < SEEN_MM:
        return [(BENDS, f"by under {said(units, SEEN_MM)} in a last cut; post and slides, which give more, are not counted")]
    words = f"its point down {said(units, low)} to {said(units, high)} in a last cut: a tool so much below centre height"
    return [(BENDS, words)]


def with_reach(plan: PartPlan, material: str, shop: Workshop) -> PartPlan:
    """The plan with how far the tool stands out at each taper beside a centre."""
    cutting = cutting_of(material)
    return replace(plan, stages=tuple(_stage(stage, shop, cutting) for stage in plan.stages))


def _stage(stage: Stage, shop: Workshop, cutting: Cutting | None) -> Stage:
    operation = stage.operation
    at = at_the_end(operation)
    if at is None:
        return stage
    figures = (*operation.figures, *reach_figures(at, shop, cutting))
    return replace(stage, operation=replace(operation, figures=figures))


def at_the_end(operation: Operation) -> AtTheEnd | None:
    """The tool at the tailstock end of a taper turned beside a centre, the slide straight where it is not what leads it; None
    for anything else."""
    centre = operation.holding.centre_mm
    setting = next((s for s in operation.settings if s.layer == "slide angle" and s.value is not None), None)
    if operation.kind != "taper" or centre is None or not isinstance(operation.cut, Sweep):
        return None
    sign = 1.0 if operation.holding.toward_tailstock == "right" else -1.0
    path = _on_work(operation.cut.path.tolist(), sign, centre)
    place, radius = max(path, key=lambda point: sign * point[0])
    angle = 0.0 if setting is None or setting.value is None else setting.value
    return AtTheEnd(radius, angle, setting is None or setting.side == TOWARD, abs(centre - place))


def _on_work(path: Sequence[Sequence[float]], sign: float, centre: float) -> list[tuple[float, float]]:
    """The path's points that are not beyond the centre, where the tool only comes from."""
    points = [(float(z), float(r)) for z, r in path]
    return [point for point in points if sign * (point[0] - centre) <= 0.0] or points
