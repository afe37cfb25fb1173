"""Long slow tapers between centres with the tailstock set over: how far, which way, and set back afterwards.

s = L·sin θ, L the length of the work between its centres, θ the angle of the side to the axis. Handbooks print
L·(D - d)/2l, which is the tangent and larger by one part in two thousand at 1.8°; the sine is what two points do.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from handwheel.plan.bench import Bench, diameter_makes, length_makes
from handwheel.plan.names import end_name, said
from handwheel.plan.records import Move, Setting, Why
from handwheel.plan.taperways import BALL_CENTRES_DEG, not_by
from handwheel.plan.view import Link

TOWARD, AWAY = "toward the operator", "away from the operator"


@dataclass(frozen=True, slots=True)
class SetOver:
    """The tailstock out of line: how far and which way. between_mm: length of the work between its centres. [mm]

    travel_mm: how far this tailstock sets over; None: not known.
    """

    amount_mm: float
    way: str
    angle_deg: float
    between_mm: float
    travel_mm: float | None

    @property
    def fits(self) -> bool | None:
        """Whether the tailstock sets over so far; None: not known."""
        return None if self.travel_mm is None else self.amount_mm <= self.travel_mm + 1e-9


def slope_mm(link: Link) -> float:
    """Length of a cone's side. [mm]"""
    return math.hypot(link.u1 - link.u0, link.r1 - link.r0)


def set_over(bench: Bench, link: Link) -> SetOver | None:
    """What turns this cone with the tailstock set over; None where the work is not between centres."""
    holding = bench.holding
    if holding.headstock_centre_mm is None or holding.centre_mm is None:
        return None
    between = abs(holding.centre_mm - holding.headstock_centre_mm)
    angle = abs(link.feature.half_angle_deg)
    way = TOWARD if link.r1 < link.r0 else AWAY
    travel = bench.shop.lathe.tailstock_set_over_mm
    return SetOver(between * math.sin(math.radians(angle)), way, angle, between, travel)


def over_settings(bench: Bench, over: SetOver) -> tuple[Setting, ...]:
    """The tailstock's layer of the set-up, with what sets it and what sets it back."""
    units = bench.shop.units
    known = "" if over.fits is not None else "; not known how far this tailstock sets over: try it first"
    balls = "; centres with ball ends, or they bear on an edge" if over.angle_deg > BALL_CENTRES_DEG else ""
    text = (f"tailstock set over {said(units, over.amount_mm)} {over.way}, by an indicator on its barrel: "
            f"{said(units, over.between_mm)} between the centres × sin {over.angle_deg:.3f}°{known}{balls}; "
            "every piece has to be of that length between its centres. "
            "Afterwards set it back: turn two bands on a scrap bar, alike within what is to be held")  # fmt: skip
    return (
        Setting("tailstock", text, "anything that moves the tailstock across; a piece of another length", over.amount_mm,
                "mm", "indicator at zero set-over"),
    )  # fmt: skip


def over_moves(bench: Bench, link: Link, start: float) -> tuple[Move, ...]:
    """In to the tailstock end's diameter, then the carriage along the side."""
    datum, free = bench.touched(), bench.free_u()
    tailstock = end_name(bench.view.toward, headstock=False)
    moves = [
        Move("cross slide", "in", f"touched on the work, Ø {said(bench.shop.units, 2 * start)}", start - link.r1,
             diameter_makes(f"{link.name} {tailstock} diameter", link.r1), "the last cut of several, each fed by the carriage"),
        Move("carriage", "toward the headstock", f"tool standing at {link.name} {tailstock}", slope_mm(link),
             length_makes(f"{link.name} along its slope", slope_mm(link)), "the bed runs along the cone's side"),
    ]  # fmt: skip
    if free - link.u1 > 1e-6:
        stop = length_makes(f"{datum} to {link.name} {tailstock}", free - link.u1)
        moves.insert(0, Move("carriage", "toward the headstock", f"touched on the {datum}", free - link.u1, stop))
    return tuple(moves)


def over_why(bench: Bench, link: Link, over: SetOver, ruled_out: str) -> Why:
    """Why the tailstock is set over for this cone. ruled_out: the ways that do not do."""
    units = bench.shop.units
    return Why("cone-by-tailstock", (link.name,),
               f"{link.name} (Ø {said(units, 2 * link.r1)} to Ø {said(units, 2 * link.r0)}, {over.angle_deg:.3f}° to the axis): "
               f"the tailstock is set over{not_by(ruled_out)}")  # fmt: skip
