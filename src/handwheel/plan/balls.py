"""Balls with the swinging tool: the blank, its relief, the corner taken off, and the swing.

Source of the allowances: common practice (docs/decisions/0005); the relief's width is worked out from the swept bit:
full bar height is cleared by a bit of width w whose flank lies at half angle to the radius when
    width >= (bar/2 - d/2) * cot(g) + (w/2) / sin(g),   sin(g) = d / D,
and the rule 'a third more than the bit' is used when it is the wider of the two.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from handwheel.job.records import OutsideKind
from handwheel.plan.bench import Bench, CannotMakeError, cutter_of, diameter_makes, length_makes, square_cutter
from handwheel.plan.caution import caution_for
from handwheel.plan.names import end_name, said
from handwheel.plan.records import Makes, Move, Setting, Why
from handwheel.plan.view import Link, UPoint, View
from handwheel.stages.records import Cutter, Polyline, Sweep, Swing
from handwheel.workshop.records import BallTool, Workshop

CORNER_WORTH_MM = 2.5
"""Smallest ball radius whose blank's corner is worth taking off first: common practice, no source. [mm]"""

SHOULDER_MM = 0.01
"""The blank's own back face stands at the neck: looked for beside it. [mm]"""


def is_end_ball(link: Link, length: float) -> bool:
    """Whether a ball reaches the tailstock end of the part, at its pole or at a flat beyond its centre."""
    return (
        link.centre is not None
        and link.feature.centre_radius in (0.0, None)
        and abs(link.u1 - length) < 1e-6
        and (link.centre < link.u1 - 1e-6)
    )


def is_mid_ball(link: Link, length: float) -> bool:
    """Whether a whole ball stands between two necks, so that it is swung from the one to the other."""
    if link.kind is not OutsideKind.BALL or link.centre is None or link.feature.centre_radius not in (0.0, None):
        return False
    is_between = link.u0 + 1e-6 < link.centre < link.u1 - 1e-6
    return is_between and min(link.r0, link.r1) > 1e-6 and link.u0 > 1e-6 and link.u1 < length - 1e-6


def relief_width(radius: float, neck_radius: float, bar_radius: float, tool: BallTool, factor: float) -> float:
    """Width of the relief behind a ball, for the bit to clear the bar beyond it. [mm]"""
    rule = tool.bit_width_mm * factor
    sine = min(1.0, neck_radius / radius) if radius > 0 else 1.0
    if sine < 1e-6:
        return rule
    cotangent = math.sqrt(1.0 - sine * sine) / sine
    return max(rule, (bar_radius - neck_radius) * cotangent + tool.bit_width_mm / 2 / sine) + 0.05


def can_swing(shop: Workshop, link: Link) -> bool:
    """Whether the workshop has a ball tool that reaches this ball's radius."""
    tool, radius = shop.ball_tool, link.feature.arc_radius or 0.0
    return tool is not None and any(low <= radius <= high for low, high in tool.ranges_mm)


def tool_for(bench: Bench, link: Link) -> BallTool:
    """The ball tool, or CannotMakeError when the workshop has none that reaches this radius."""
    tool, radius = bench.shop.ball_tool, link.feature.arc_radius or 0.0
    if tool is None:
        raise CannotMakeError(
            link.name,
            f"{link.name} wants a swinging ball tool and the workshop has none",
            "a ball tool, or a step-off chart",
        )
    if not any(low <= radius <= high for low, high in tool.ranges_mm):
        raise CannotMakeError(
            link.name,
            f"{link.name} has a radius of {said(bench.shop.units, radius)}, outside the ball tool's ranges",
            "another range of the ball tool's head",
        )
    return tool


def ball_acts(bench: Bench, link: Link) -> list[tuple[str, Callable[[], None]]]:
    """What makes a ball at the tailstock end or between two necks, in order: its name, and what carries it out on the bench."""
    tool = tool_for(bench, link)
    acts = [
        ("blank", lambda: _blank(bench, link)),
        ("relieve", lambda: _relief(bench, link, tool)),
        ("corner", lambda: _corner(bench, link)),
        ("ball", lambda: _swing(bench, link, tool)),
    ]
    return [act for act in acts if act[0] != "corner" or not is_mid_ball(link, bench.view.length)]


def prepare_end_ball(bench: Bench, link: Link) -> None:
    """Blank and relief of a ball at the tailstock end. Raises CannotMakeError."""
    for _, act in ball_acts(bench, link)[:2]:
        act()


def finish_end_ball(bench: Bench, link: Link) -> None:
    """Corner and swing of a ball whose blank is ready. Raises CannotMakeError."""
    for _, act in ball_acts(bench, link)[2:]:
        act()


def blank_mid_ball(bench: Bench, link: Link) -> None:
    """The blank of a ball between two necks, before what lies behind it is turned. Raises CannotMakeError."""
    _blank(bench, link)


def finish_mid_ball(bench: Bench, link: Link) -> None:
    """Relief where bar still stands behind it, and swing, of a ball between two necks. Raises CannotMakeError."""
    for name, act in ball_acts(bench, link):
        if name != "blank":
            act()


def _blank(bench: Bench, link: Link) -> None:
    view, shop = bench.view, bench.shop
    radius = (link.feature.arc_radius or 0.0) + shop.habit("ball diameter allowance") / 2
    is_mid = is_mid_ball(link, view.length)
    front = link.u1 if is_mid else bench.free_u()
    start = bench.radius_before(link.u0, front)
    if start <= radius + 1e-6:
        return
    knife = _knife(bench)
    back = link.u0 if is_mid else blank_back(view, link, shop, start)
    path = ((front + 1.0, radius), (back, radius))
    why = Why(
        "ball-blank",
        (link.name,),
        f"the blank for {link.name} is {said(shop.units, shop.habit('ball diameter allowance'))} over the ball on the diameter "
        f"({shop.habits['ball diameter allowance'].whose})",
    )
    datum = bench.touched()
    moves = (
        Move(
            "cross slide",
            "in",
            f"touched on the work, Ø {said(bench.shop.units, 2 * start)}",
            start - radius,
            diameter_makes(f"{link.name} blank diameter", radius),
        ),
        Move(
            "carriage",
            "toward the headstock",
            f"touched on the {datum}",
            bench.free_u() - back,
            length_makes(f"{datum} to the back of the {link.name} blank", bench.free_u() - back),
        ),
    )
    bench.must(
        link.name,
        "more bar beyond the chuck",
        bench.attempt("turn", Sweep(view.path(path)), knife, why, caution=caution_for("turn"), moves=moves),
    )


def _relief(bench: Bench, link: Link, tool: BallTool) -> None:
    view, shop = bench.view, bench.shop
    width = room_behind(view, link, shop, tool, _bar_radius(bench))
    floor = max(link.r0, view.greatest_between(link.u0 - width, link.u0))
    if bench.radius_before(link.u0 - width, link.u0 - SHOULDER_MM) <= floor + 1e-6:
        return
    squares = [t for t in shop.tools if t.kind in ("relief", "parting") and t.width_mm and t.width_mm <= width]
    if not squares:
        raise CannotMakeError(
            link.name, f"no square tool goes into the relief behind {link.name}", "a narrower square tool"
        )
    chosen = (min if bench.is_slender else max)(squares, key=lambda t: t.width_mm or 0.0)
    wide = chosen.width_mm or 0.0
    cutter = square_cutter(view, wide, chosen.reach_mm or 14.0, "right", chosen.name, chosen.owned)
    neck = max(link.r0, view.greatest_between(link.u0 - wide, link.u0))
    path = ((link.u0, neck), (link.u0, floor), (link.u0 - width + wide, floor))
    start = bench.radius_before(link.u0 - width, link.u0)
    datum = bench.touched()
    why = Why(
        "relief-behind-ball",
        (link.name,),
        f"room for the bit behind {link.name}: {said(bench.shop.units, width)} wide, from the "
        f"{said(bench.shop.units, tool.bit_width_mm)} bit swept to full bar height; "
        "the floor is the largest finished diameter within it",
    )
    moves = (
        Move(
            "carriage",
            "toward the headstock",
            f"touched on the {datum}",
            bench.free_u() - link.u0,
            length_makes(f"{datum} to {link.name} {end_name(view.toward, headstock=True)}", bench.free_u() - link.u0),
            "set by the corner of the tool nearest the tailstock",
        ),
        Move(
            "cross slide",
            "in",
            f"touched on the work, Ø {said(bench.shop.units, 2 * start)}",
            start - neck,
            diameter_makes(f"{link.name} relief diameter", neck),
        ),
    )
    back = "" if floor - neck < 1e-6 else f"back {said(shop.units, floor - neck)} on the cross slide, "
    note = f"plunge, {back}then widen toward the headstock to {said(bench.shop.units, width)}"
    bench.must(
        link.name,
        "a longer neck behind the ball, or a ball tool with a narrower bit",
        bench.attempt(
            "relieve", Sweep(view.path(path)), cutter, why, caution=caution_for("relieve"), moves=moves, note=note
        ),
    )


def room_behind(view: View, link: Link, shop: Workshop, tool: BallTool, bar_radius: float) -> float:
    """Width of the relief behind an end ball: less where the bar beyond may be turned down to the blank's size. [mm]"""
    radius, factor = link.feature.arc_radius or 0.0, shop.habit("relief width factor")
    blank = radius + shop.habit("ball diameter allowance") / 2
    width = relief_width(radius, link.r0, min(blank, bar_radius), tool, factor)
    if view.greatest_between(link.u0 - width - 0.1, link.u0) > blank + 1e-6:
        return relief_width(radius, link.r0, bar_radius, tool, factor)
    return width


def blank_back(view: View, link: Link, shop: Workshop, bar_radius: float) -> float:
    """u to which the blank of an end ball is turned: past the relief where nothing finished is larger. [mm]"""
    if shop.ball_tool is None:
        return link.u0
    blank = (link.feature.arc_radius or 0.0) + shop.habit("ball diameter allowance") / 2
    radius, factor = link.feature.arc_radius or 0.0, shop.habit("relief width factor")
    back = link.u0 - relief_width(radius, link.r0, bar_radius, shop.ball_tool, factor)
    return back if view.greatest_between(back, link.u0) <= blank + 1e-6 else link.u0


def _bar_radius(bench: Bench) -> float:
    return float(bench.section.outer[:, 1].max())


def _corner(bench: Bench, link: Link) -> None:
    """The blank's corner off at 45°, so that the swing starts at R + a instead of √2 (R + a)."""
    view, shop = bench.view, bench.shop
    radius = link.feature.arc_radius or 0.0
    if radius < CORNER_WORTH_MM or abs(link.u1 - ((link.centre or 0.0) + radius)) > 1e-6:
        return
    full = radius + shop.habit("ball diameter allowance") / 2
    outside = bench.radius_before(link.centre or 0.0, link.u1)
    if outside < full - 1e-6:
        return
    centre = link.centre or 0.0
    leg = (2.0 - math.sqrt(2.0)) * full
    end = centre + full
    knife = _knife(bench)
    path: tuple[UPoint, ...] = ((end + 1.0, outside - leg - 1.0), (end - leg - (outside - full), outside))
    why = Why(
        "corner-first",
        (link.name,),
        f"a 45° corner of {said(bench.shop.units, leg)} off the blank brings the farthest metal at its free end from "
        f"{said(shop.units, math.sqrt(2.0) * full)} down to {said(shop.units, full / math.cos(math.pi / 8.0))} from the centre",
    )
    datum = bench.touched()
    moves = (
        Move(
            "carriage",
            "toward the headstock",
            f"top slide at 45°, its path touching the corner of the {datum}",
            leg,
            Makes(f"{link.name} blank corner, leg along the axis", leg, None, None, False),
            "in several cuts, each fed by the top slide",
        ),
    )
    settings = (
        Setting(
            "slide angle",
            "top slide at 45° to the lathe's axis, by its own graduations",
            "swinging it for another job",
            45.0,
            "deg",
        ),
    )
    wrong = bench.attempt(
        "chamfer", Sweep(view.path(path)), knife, why, caution=caution_for("chamfer"), moves=moves, settings=settings
    )
    if wrong:
        raise CannotMakeError(link.name, wrong, "leave the corner on and take more passes")


def _swing(bench: Bench, link: Link, tool: BallTool) -> None:
    view, shop = bench.view, bench.shop
    centre, radius = link.centre or 0.0, link.feature.arc_radius or 0.0
    to_deg = math.degrees(math.acos(max(-1.0, min(1.0, (link.u0 - centre) / radius))))
    is_mid = is_mid_ball(link, view.length)
    from_deg = math.degrees(math.acos(max(-1.0, min(1.0, (link.u1 - centre) / radius)))) if is_mid else 0.0
    if view.sign < 0:
        from_deg, to_deg = 180.0 - from_deg, 180.0 - to_deg
    where = "from neck to neck" if is_mid else "from the free end to its neck"
    low, high = next((r for r in tool.ranges_mm if r[0] <= radius <= r[1]), (0.0, 0.0))
    datum = bench.touched()
    settings = ball_settings()
    moves = (
        Move(
            "carriage",
            "toward the headstock",
            f"touched on the {datum} with the tip on the axis",
            bench.free_u() - centre - radius if bench.free_u() - centre > radius else 0.0,
            length_makes(
                f"{datum} to where the tip stands on the axis when {link.name} is to size",
                max(0.0, bench.free_u() - centre - radius),
            ),
        ),
        _screw_move(bench, link),
    )
    cutter = Cutter(tool.name, "ball", _bit(bench, tool))
    why = Why(
        "ball-by-swinging-tool",
        (link.name,),
        f"{link.name} Ø {said(bench.shop.units, 2 * radius)}: swung {where}, {abs(to_deg - from_deg):.1f}°",
    )
    note = (
        f"stop and measure with {said(shop.units, 0.2)} still on the diameter; "
        "the last passes equal and light; "
        f"head in the range {said(shop.units, low)} to {said(shop.units, high)}"
    )
    bench.must(
        link.name,
        "a ball tool that reaches, or a longer neck",
        bench.attempt(
            "ball",
            Swing(view.z(centre), radius, from_deg, to_deg),
            cutter,
            why,
            setting=f"{bench.setting}|ball tool",
            caution=caution_for("ball"),
            moves=moves,
            settings=settings,
            note=note,
        ),
    )


def _screw_move(bench: Bench, link: Link) -> Move:
    """From the touch on top of the work to the ball's radius; a dome's lies outside that touch, and no gauge goes over it."""
    radius, centre = link.feature.arc_radius or 0.0, link.centre or 0.0
    if link.u0 > centre + 1e-6:
        top = bench.radius_before(centre, centre + SHOULDER_MM)
        way = "out" if radius > top else "in"
        made = Makes(f"radius of {link.name}, by a radius gauge", radius, None, None, False)
        return Move("ball tool", way, f"touched on the work over its centre, Ø {said(bench.shop.units, 2 * top)}",
                    abs(radius - top), made, "past it first: the passes come in to it")  # fmt: skip
    first = max(bench.radius_before(link.u0, link.u1), radius + bench.shop.habit("ball diameter allowance") / 2)
    return Move("ball tool", "in", f"touched on top of the blank, Ø {said(bench.shop.units, 2 * first)}", first - radius,
                diameter_makes(f"{link.name} diameter", radius))  # fmt: skip


def ball_settings() -> tuple[Setting, ...]:
    """The layers of the ball tool's set-up, in the order in which they are made."""
    return (
        Setting(
            "square",
            "swing axis square to the lathe's axis: an indicator in the tool's place reads the same on both "
            "sides of a true test bar",
            "moving the tool on the cross slide, or the cross slide's gib",
        ),
        Setting(
            "height",
            "swing axis at centre height: equal gaps above and below a test piece turned true",
            "packing taken out; another tool in between",
        ),
        Setting(
            "cross centre",
            "tip on the axis: swing to the free end, bring the tip to the centre, then leave the cross slide alone",
            "any turn of the cross slide's wheel",
            None,
            "",
            "cross slide line with the tip on the axis",
        ),
        Setting(
            "stop",
            "carriage stop set by touching the top of the blank, then the end",
            "moving the carriage stop",
            None,
            "",
            "carriage stop",
        ),
    )


def _bit(bench: Bench, tool: BallTool) -> Polyline:
    half = tool.bit_width_mm / 2
    tall = half / math.tan(math.radians(tool.bit_half_angle_deg))
    return bench.view.outline([(0.0, 0.0), (half, tall), (half, tall + 6.0), (-half, tall + 6.0), (-half, tall)])


def _knife(bench: Bench) -> Cutter:
    for tool in bench.shop.tools:
        if tool.kind == "knife":
            return cutter_of(tool, bench.view)
    raise CannotMakeError("the outside", "the workshop has no knife tool", "a right-hand knife tool")
