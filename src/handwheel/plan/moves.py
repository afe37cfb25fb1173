"""What the hand does to turn a link: the cross slide to its diameter, and the slide that gives the length."""

from __future__ import annotations

import math
from dataclasses import dataclass

from handwheel.job.records import OutsideKind, Unit
from handwheel.plan.bench import Bench, diameter_makes, length_makes
from handwheel.plan.names import end_name, said
from handwheel.plan.records import Move, Setting
from handwheel.plan.view import Link, UPoint
from handwheel.stages.records import Cutter


@dataclass(frozen=True, slots=True)
class Trace:
    """A tool, the path of its setting point in u, and which corner that is: 'left' is nearest the headstock."""

    cutter: Cutter
    path: tuple[UPoint, ...]
    corner: str = "left"


def plain_moves(bench: Bench, link: Link, trace: Trace, start: float) -> tuple[Move, ...]:
    """For a cylinder: in to the diameter, along to the shoulder. `start`: radius before."""
    datum, free = bench.touched(), bench.free_u()
    headstock = end_name(bench.view.toward, headstock=True)
    stop = length_makes(f"{datum} to {link.name} {headstock}", free - link.u0)
    return (
        _in_to(bench, start, link.r0, f"{link.name} diameter", trace),
        Move("carriage", "toward the headstock", f"touched on the {datum}", free - link.u0, stop),
    )


def curve_moves(bench: Bench, link: Link, trace: Trace, start: float) -> tuple[Move, ...]:
    """For one flank of a curve: in and along to the end of it that is measured, the greatest diameter of a bulge, the least
    of a hollow. `start`: radius before."""
    datum, free = bench.touched(), bench.free_u()
    if trace.corner == "nose":
        return _nose_moves(bench, link, trace, start)
    points = [p for p in trace.path if p[0] <= link.u1 + 1e-6]
    is_hollow = link.kind in (OutsideKind.HOLLOW, OutsideKind.FILLET)
    u, radius = (min if is_hollow else max)(points, key=lambda p: p[1])
    sides = {end_name(bench.view.toward, headstock=h): link.u0 if h else link.u1 for h in (True, False)}
    side = next((name for name, at in sides.items() if abs(at - u) < 1e-6), "")
    phrase = f"{link.name} {side} diameter" if side else f"{link.name} diameter at {link.name} centre"
    if link.kind is OutsideKind.BALL and abs(radius - (link.feature.arc_radius or 0.0)) < 1e-6:
        phrase = f"{link.name} diameter"
    along = length_makes(f"{datum} to {link.name} {side or 'centre'}", free - u)
    return (
        _in_to(bench, start, radius, phrase, trace),
        Move("carriage", "toward the headstock", f"touched on the {datum}", free - u, along),
    )


def _nose_moves(bench: Bench, link: Link, trace: Trace, start: float) -> tuple[Move, ...]:
    """For a round nose in a hollow: in to the bottom, where its lowest point stands, and that place along."""
    u, low = min(trace.path, key=lambda p: p[1])
    centre, radius = link.centre or 0.0, link.feature.arc_radius or 0.0
    datum, free = bench.touched(), bench.free_u()
    is_bottom = abs(u - centre) < 1e-6
    phrase = f"{link.name} diameter at {link.name} centre" if is_bottom else f"{link.name} diameter where the nose ends"
    if is_bottom and abs(low - ((link.feature.centre_radius or 0.0) - radius)) > 1e-6:
        phrase = f"{link.name} diameter where the nose ends"
    along = length_makes(f"{datum} to {link.name} centre" if is_bottom else f"{datum} to where the nose stands then", free - u)
    return (
        _in_to(bench, start, low, phrase, trace),
        Move("carriage", "toward the headstock", f"touched on the {datum}", free - u, along, "set by the middle of the nose"),
    )


def _in_to(bench: Bench, start: float, radius: float, phrase: str, trace: Trace) -> Move:
    touched = f"touched on the work, Ø {said(bench.shop.units, 2 * start)}"
    return Move("cross slide", "in", touched, start - radius, diameter_makes(phrase, radius),
                f"set by the {trace.corner} corner" if trace.corner != "nose" else "set by the nose")  # fmt: skip


def slope_moves(bench: Bench, link: Link, start: float) -> tuple[Move, ...]:
    """For a cone or chamfer: carriage and cross slide to its tailstock end, then the set-over top slide along it."""
    datum, free = bench.touched(), bench.free_u()
    tailstock = end_name(bench.view.toward, headstock=False)
    touched = f"touched on the work, Ø {said(bench.shop.units, 2 * start)}"
    diameter = diameter_makes(f"{link.name} {tailstock} diameter", link.r1)
    along = math.hypot(link.u1 - link.u0, link.r1 - link.r0)
    moves = [
        Move("cross slide", "in", touched, start - link.r1, diameter, "the last cut of several, each fed by the top slide"),
        Move("top slide", "toward the headstock", f"tool standing at {link.name} {tailstock}", along,
             length_makes(f"{link.name} along its slope", along), "carriage locked"),
    ]  # fmt: skip
    if free - link.u1 > 1e-6:
        stop = length_makes(f"{datum} to {link.name} {tailstock}", free - link.u1)
        moves.insert(
            0, Move("carriage", "toward the headstock", f"touched on the {datum}", free - link.u1, stop, "lock it")
        )
    return tuple(moves)


def slide_angle(angle_deg: float, units: Unit, fine: bool = True, side: str = "") -> tuple[Setting, ...]:
    """The top slide's angle; `fine`: with the indicator figure that sets it where a few minutes matter. side: which way it is
    swung, "" where either does."""
    how = (
        f"{check_of(angle_deg, units)} of bed on an indicator bearing on its side"
        if fine
        else "by its own graduations"
    )
    swung = f", {side}" if side else ""
    text = f"top slide at {angle_deg:.3f}° to the lathe's axis{swung}: {how}"
    undone = "any knock on the top slide; swinging it for another job"
    return (Setting("slide angle", text, undone, angle_deg, "deg", "top slide angle" if fine else "", side),)


def check_of(angle_deg: float, units: Unit) -> str:
    """What an indicator bearing on the set-over slide's side reads over a length of bed: length times tan."""
    length_mm = 50.8 if units is Unit.INCH else 50.0
    return f"{said(units, length_mm * math.tan(math.radians(angle_deg)))} in {said(units, length_mm)}"
