"""Holding the work for what lies across: in the vice on the drilling machine, or by its ball in a slotted collet.

In the collet the feature's axis stands on the spindle's, so flat, hole and thread are made square to each other in one
setting, with the lathe's own wheels; the shank leaves through a slot in the collet's side and sweeps a circle in the air.
The lean is the drawing's: where the slot leaves too little to grip, it is refused, not shrunk.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from handwheel.drawing.records import SolvedFeature, SolvedPart
from handwheel.job.records import OutsideKind
from handwheel.plan.across.groups import Group, host_of
from handwheel.plan.grips import LEAST_MOUTH_MM, LIP
from handwheel.plan.names import said
from handwheel.plan.records import Setting
from handwheel.stages.axis import Axis, reaches_along, swept_radius
from handwheel.stages.records import Holding, Section
from handwheel.workshop.records import Chuck, Workshop

LEAST_LIP = 0.26
"""The collet's mouth lies at least this share of the ball's radius past its centre: common practice."""
SLOT_ROOM_MM = 1.0
"""Wider than the shank by this: common practice, no source. [mm]"""
LEAST_WRAP_DEG = 210.0
"""Of the round left to grip the ball: more than half of it, with a margin of 30°. [deg]"""
LIP_BELOW_MM = 0.5
"""The mouth stays this much below the flat that is faced: common practice, no source. [mm]"""
SWING_ROOM_MM = 3.0
"""Between what sweeps and the bed: common practice, no source. [mm]"""


@dataclass(frozen=True, slots=True)
class Hold:
    """How a group is held. `found`: checks as (check, what was found, what would do). `is_lathe`: axis on the spindle's."""

    holding: Holding
    set_up: str
    settings: tuple[Setting, ...]
    is_lathe: bool
    caution: str = ""
    caution_again: str = ""
    found: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class CannotHold:
    """Why the group cannot be held, and what would do."""

    why: str
    would_do: str


def hold(group: Group, part: SolvedPart, section: Section, last: Holding, shop: Workshop) -> Hold | CannotHold:
    """The holding for a group: a ball by its collet where it leans or nothing else can be gripped, else the vice."""
    host = host_of(group, part)
    on_ball = host is not None and host.source.kind is OutsideKind.BALL and group.face is None
    cylinder = _beside(group, part)
    refused: CannotHold | None = None
    if host is not None and on_ball and (group.axis.lean_deg or cylinder is None):
        found = _in_collet(group, host, part, section, shop)
        if isinstance(found, Hold):
            return found
        refused = found
    if shop.mill is None:
        return refused or CannotHold("the workshop has no mill or drilling machine", "a drilling machine with a vice")
    if cylinder is None:
        return refused or CannotHold(
            "nothing round and parallel is left to hold it by", "a cylinder on the drawing, or a chucking piece left on")
    return _in_vice(group, cylinder, last, shop)


def _beside(group: Group, part: SolvedPart) -> SolvedFeature | None:
    """The longest plain cylinder that nothing of the group lies on; where there is no other, the one that holds it."""
    plain = [f for f in part.outside if f.source.kind is OutsideKind.CYLINDER and not f.thread and not f.source.knurl]
    beside = [f for f in plain if f.name != group.host]
    return max(beside or plain, key=lambda f: f.length, default=None)


def _in_vice(group: Group, cylinder: SolvedFeature, last: Holding, shop: Workshop) -> Hold:
    axis = group.axis
    around = f"{axis.around_deg:g}° round from the part's mark"
    if group.face is not None:
        text = f"stood upright, {group.face} end up; centre found by indicator on the rim"
    elif axis.lean_deg:
        way = "right" if axis.lean_deg > 0 else "left"
        text = (f"tilted {abs(axis.lean_deg):g}° by sine bar or protractor, so that the axis leaning {way} stands "
                f"upright, {around}; centre found from both sides")  # fmt: skip
    else:
        text = f"part lies level, {around}; cross centre found from both sides"
    device = "vice, vee packing" if group.face is None else "three-jaw chuck on the table, protected jaws"
    holding = replace(last, device=device, kind="vice" if group.face is None else "three-jaw", from_mm=cylinder.left,
                      to_mm=cylinder.right, surface=cylinder.name, centre_mm=None,
                      grip_radius_mm=cylinder.left_radius)  # fmt: skip
    return Hold(holding, "mill or drill", (Setting("holding", text, "moving the vice"),), False)


def _in_collet(group: Group, ball: SolvedFeature, part: SolvedPart, section: Section, shop: Workshop) -> Hold | CannotHold:
    radius = ball.arc_radius or 0.0
    if ball.centre is None or abs(ball.centre - group.axis.centre) > 1e-6:
        return CannotHold(f"its axis does not go through the centre of '{ball.name}'", "a mill and something to grip")
    chuck = next((c for c in shop.chucks if c.kind == "ball collet" and c.least_mm <= 2 * radius <= c.greatest_mm), None)
    if chuck is None:
        return CannotHold(f"no ball-holding collet takes '{ball.name}'", "a collet made for the ball")
    flat = group.flat
    height = flat.sizes.get("from axis", radius) if flat is not None else radius
    lip = min(LIP * radius, height - LIP_BELOW_MM)
    least = max(LEAST_LIP * radius, LEAST_MOUTH_MM)
    if lip < least:
        wanted = said(shop.units, least + LIP_BELOW_MM)
        return CannotHold(
            f"the flat leaves no cap to grip: {said(shop.units, height)} from the centre, {wanted} at the least",
            "a shallower flat, or a mill and something else to grip")
    shanks = _shanks(ball, part, chuck)
    wrap = 360.0 - sum(2.0 * math.degrees(math.asin(min(1.0, s.width / 2.0 / radius))) for s in shanks)
    if wrap < LEAST_WRAP_DEG:
        widths = ", ".join(said(shop.units, s.width) for s in shanks)
        return CannotHold(
            f"a slot {widths} wide for the shank leaves {wrap:.0f}° of the collet round the ball, {LEAST_WRAP_DEG:g}° "
            "at the least", "a thinner shank at the ball, or a mill and something else to grip")
    return _slotted(group.axis, ball, lip, shanks, wrap, section, chuck, shop)


@dataclass(frozen=True, slots=True)
class Shank:
    """What leaves the ball on one side (-1 left, 1 right): the slot it needs. [mm]"""

    side: int
    width: float


def _shanks(ball: SolvedFeature, part: SolvedPart, chuck: Chuck) -> list[Shank]:
    """What leaves the ball, as wide as it is anywhere within the collet's body."""
    reach = chuck.body_radius_mm or 0.0
    centre = ball.centre or 0.0
    found = []
    for side in (-1, 1):
        beyond = [f for f in part.outside if (f.right <= ball.left + 1e-9 if side < 0 else f.left >= ball.right - 1e-9)]
        near = [f for f in beyond if min(abs(f.left - centre), abs(f.right - centre)) < reach]
        if near:
            found.append(Shank(side, 2.0 * max(f.greatest_radius for f in near) + SLOT_ROOM_MM))
    return found


def _slotted(axis: Axis, ball: SolvedFeature, lip: float, shanks: list[Shank], wrap: float, section: Section,
             chuck: Chuck, shop: Workshop) -> Hold | CannotHold:
    radius, units = ball.arc_radius or 0.0, shop.units
    low, high = reaches_along(section, axis)
    sweep, height = swept_radius(section, axis), shop.lathe.centre_height_mm
    if sweep > height - SWING_ROOM_MM:
        return CannotHold(
            f"the part sweeps Ø {said(units, 2 * sweep)} about the hole's axis; the bed is {said(units, height)} below "
            "the spindle", "a larger lathe, or a mill and something to grip")
    slots = "; ".join(
        f"slot {said(units, s.width)} wide and {said(units, _slot_long(axis, lip, chuck, s))} long from the mouth for what "
        f"leaves {_side(s.side)}" for s in shanks)  # fmt: skip
    text = (f"{chuck.name} for Ø {said(units, 2 * radius)}, mouth {said(units, lip)} past the ball's centre"
            + (f", {slots}: {wrap:.0f}° left round the ball" if slots else ""))  # fmt: skip
    toward = "right" if axis.lean_deg >= 0 else "left"
    holding = Holding(text, "ball collet", ball.left, ball.right, ball.name, toward, ball.right, chuck.body_radius_mm,
                      radius, lip_mm=lip)  # fmt: skip
    lean = "stands square to the spindle" if not axis.lean_deg else (
        f"leans {abs(axis.lean_deg):g}° from square, its {toward} end toward the tailstock")
    settings = (
        Setting("holding", f"part's axis {lean}; set by protractor or sine bar from the bed, {axis.around_deg:g}° round "
                "from the part's mark; witness mark on collet and work", "letting go of the ball"),
    )  # fmt: skip
    caution = (f"The part sweeps Ø {said(units, 2 * sweep)}, out to {said(units, high)} before the ball's centre: turn over "
               "by hand with the tool in place, lowest speed, guard down, stand clear of the circle.")  # fmt: skip
    again = f"It sweeps Ø {said(units, 2 * sweep)}: lowest speed, stand clear."
    found = (*_cross_slide(sweep, shop), *_behind(axis, lip, low, shanks, chuck, shop))
    return Hold(holding, f"ball collet, slotted|lean {axis.lean_deg:g} deg", settings, True, caution, again, found)


def _side(side: int) -> str:
    return "to the right" if side > 0 else "to the left"


def _behind(axis: Axis, lip: float, low: float, shanks: list[Shank], chuck: Chuck, shop: Workshop
            ) -> tuple[tuple[str, str, str], ...]:
    """What is found of a part that leans back toward the headstock: how far the collet's mouth has to stand out."""
    leans_back = [s for s in shanks if s.side * math.sin(math.radians(axis.lean_deg)) < -1e-9]
    if not leans_back:
        return ()
    out = lip - min(low, *(_at_rim(axis, chuck, s) for s in leans_back)) + shop.habit("chuck clearance")
    return (("what sweeps, against the headstock",
             f"not known what lies behind: the collet's mouth has to stand {said(shop.units, out)} out from it",
             "measure it before starting, and turn over by hand"),)  # fmt: skip


def _slot_long(axis: Axis, lip: float, chuck: Chuck, shank: Shank) -> float:
    """How far from the mouth the slot goes: past the lower edge of what leaves, from the axis out to the rim. [mm]"""
    at_axis = -shank.width / 2.0 / max(math.cos(math.radians(axis.lean_deg)), 1e-6)
    return lip - min(at_axis, _at_rim(axis, chuck, shank))


def _at_rim(axis: Axis, chuck: Chuck, shank: Shank) -> float:
    """Where the slot's lower edge passes the collet's rim, along the spindle from the ball's centre. [mm]"""
    slope = shank.side * math.sin(math.radians(axis.lean_deg))
    off = math.cos(math.radians(axis.lean_deg))
    return ((chuck.body_radius_mm or 0.0) * slope - shank.width / 2.0) / off if off > 1e-9 else -math.inf


def _cross_slide(sweep: float, shop: Workshop) -> tuple[tuple[str, str, str], ...]:
    """What is found of the swept circle against the cross slide."""
    over = shop.lathe.swing_over_cross_slide_mm
    if over is None:
        return (("what sweeps, against the cross slide", "not known: the workshop gives no swing over the cross slide",
                 "measure it, and turn over by hand"),)  # fmt: skip
    if 2 * sweep > over:
        found = f"it sweeps Ø {said(shop.units, 2 * sweep)}, {said(shop.units, over)} swings over the cross slide"
        return (("what sweeps, against the cross slide", found,
                 "keep the cross slide toward the tailstock of all that sweeps; tool well out of its post"),)  # fmt: skip
    return (("what sweeps, against the cross slide", "no fault", ""),)
