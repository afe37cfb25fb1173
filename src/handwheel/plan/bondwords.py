"""A bonded joint in figures with their names: gap as drawn and as wanted, compound by kind, what it may hold."""

from __future__ import annotations

from dataclasses import dataclass

from handwheel.drawing.records import SolvedDimension, SolvedFeature, SolvedHole, SolvedPart
from handwheel.plan.mates import error_mm
from handwheel.plan.names import said
from handwheel.plan.roundtools import owned_tool
from handwheel.plan.threadwords import Figures, between
from handwheel.tables.allowances import gap_spread_mm, spigot_for
from handwheel.tables.bonded import Bond, Compound, bond, compounds, screw_thrust_n
from handwheel.tables.metals import Metal, metal_of
from handwheel.tables.threads import find_thread
from handwheel.workshop.records import Workshop

TRIAL_PLUG = "a plug turned in steps, tried in the hole, then measured, tells it"
OUT_SHARE = 1.0 / 3.0
"""Of the gap aimed at: how far off it a spigot may come, by which the least and greatest gap are told."""


@dataclass(frozen=True, slots=True)
class Spigots:
    """A spigot of one part in a hole of another: both parts, both features, and whether a shoulder stands behind."""

    hole_part: SolvedPart
    hole: SolvedHole
    spigot_part: SolvedPart
    spigot: SolvedFeature
    has_shoulder: bool

    @property
    def diameter_mm(self) -> float:
        """Of the hole as drawn. [mm]"""
        return 2.0 * self.hole.mouth_radius

    @property
    def length_mm(self) -> float:
        """How long they lie in one another. [mm]"""
        return min(abs(self.hole.mouth - self.hole.bottom), self.spigot.right - self.spigot.left)

    def drawn_gap_mm(self) -> tuple[float, float] | None:
        """Least and greatest gap on the diameter by the drawing's limits; None where a size is not given. [mm]"""
        hole = _given(self.hole_part, self.hole.name)
        spigot = _given(self.spigot_part, self.spigot.name)
        if hole is None or spigot is None:
            return None
        least = hole.value + hole.tolerance[0] - spigot.value - spigot.tolerance[1]
        return least, hole.value + hole.tolerance[1] - spigot.value - spigot.tolerance[0]


def _given(part: SolvedPart, feature: str) -> SolvedDimension | None:
    return next((d for d in part.dimensions if d.given and d.phrase == f"{feature} diameter"), None)


def bond_figures(joint: Spigots, shop: Workshop) -> Figures:
    """What a bonded joint is set by."""
    found = [("joint", f"Ø {said(shop.units, joint.diameter_mm)}, {said(shop.units, joint.length_mm)} long")]
    found += [*gap_figures(joint, shop), *hole_figures(joint, shop)]
    metals = metal_of(joint.hole_part.material), metal_of(joint.spigot_part.material)
    found += held_figures(joint.diameter_mm, joint.length_mm, gap_range_mm(shop), metals, shop)
    shoulder = ("takes what pushes onto it; what pulls off, and all the torque, is the compound's" if joint.has_shoulder else
                "none: the compound takes both push and pull")  # fmt: skip
    found.append(("shoulder", shoulder))
    return (*found, *_screw(joint))


def gap_range_mm(shop: Workshop) -> tuple[float, float]:
    """Least and greatest gap on the diameter that will do. [mm]"""
    wanted = shop.habit("bond gap")
    return (1.0 - OUT_SHARE) * wanted, (1.0 + OUT_SHARE) * wanted


def held_figures(
    diameter_mm: float, length_mm: float, gaps_mm: tuple[float, float], metals: tuple[Metal | None, Metal | None], shop: Workshop
) -> list[tuple[str, str]]:
    """The compound at hand for such gaps and what the joint may hold with it; no strength where its kind is not known.

    Parameters
        diameter_mm, length_mm: of the joint. gaps_mm: least and greatest gap, on the diameter. [mm]
        metals: of the two parts, None where not known. shop: whose compounds are taken.
    """
    kinds = [c for c in compounds() if c.least_gap_mm <= gaps_mm[0] and gaps_mm[1] <= c.greatest_gap_mm]
    meant = "; ".join(f"{c.kind}, {between(shop, c.least_gap_mm, c.greatest_gap_mm)}" for c in kinds)
    if not kinds:
        return [("compound", f"none is meant for gaps of {between(shop, *gaps_mm)}: another gap, or another joint")]
    if shop.compounds is None:
        return [("compound", f"not known which is at hand, so no strength is told; meant for this gap: {meant}")]
    kind = next((c for c in kinds if c.kind in shop.compounds), None)
    if kind is None:
        return [("compound", f"none at hand is meant for this gap; to get: {meant}")]
    found = [("compound", f"{kind.kind}: gaps of {between(shop, kind.least_gap_mm, kind.greatest_gap_mm)} on the diameter")]
    holds = bond_over(kind, diameter_mm, length_mm, gaps_mm, metals)
    if holds is not None:
        found.append(("may hold", f"along {holds.axial_n[0]:.0f} to {holds.axial_n[1]:.0f} N, or in torque "
                      f"{holds.torque_nm[0]:.2g} to {holds.torque_nm[1]:.2g} N·m, each alone; together by the root of their "
                      "squares; put together by hand; heat and shock less"))  # fmt: skip
    return found


def bond_over(
    kind: Compound, diameter_mm: float, length_mm: float, gaps_mm: tuple[float, float], metals: tuple[Metal | None, Metal | None]
) -> Bond | None:
    """The least that the joint may hold at any of those gaps, and the most; None where one is not for that kind."""
    ends = [bond(kind, diameter_mm, length_mm, gap, metals) for gap in gaps_mm]
    if ends[0] is None or ends[1] is None:
        return None
    low, high = min(ends[0].shear_mpa[0], ends[1].shear_mpa[0]), max(ends[0].shear_mpa[1], ends[1].shear_mpa[1])
    worst, best = (ends[0], ends[1]) if ends[1].shear_mpa[0] > ends[0].shear_mpa[0] else (ends[1], ends[0])
    return Bond((low, high), (worst.axial_n[0], best.axial_n[1]), (worst.torque_nm[0], best.torque_nm[1]))


def hole_figures(joint: Spigots, shop: Workshop) -> list[tuple[str, str]]:
    """What the reamer as measured is expected to make of the hole, and the spigot that goes with that; () for other holes."""
    if joint.hole.source.finish != "reamed":
        return []
    reamer = owned_tool(shop, "reamer", joint.diameter_mm / 2.0)
    if reamer is None or reamer.cuts_mm is None:
        return [("hole expected", "reamer not measured: ream a piece of scrap and measure that; a new one mostly cuts near its "
                 "top limit")]  # fmt: skip
    low, high = reamer.cuts_mm, reamer.cuts_mm + shop.habit("reamer cuts over")
    text = f"{between(shop, low, high)}, from the reamer's {said(shop.units, low)} as measured"
    given = _given(joint.hole_part, joint.hole.name)
    if given is not None and high > given.value + given.tolerance[1] + 1e-9:
        text += f"; the drawing ends at {said(shop.units, given.value + given.tolerance[1])}"
    spigot = spigot_for((low + high) / 2.0, (high - low) / 2.0, gap_range_mm(shop))
    if spigot is not None:
        text += f"; then a spigot of {between(shop, spigot.low_mm, spigot.high_mm)} has the gap wanted"
    return [("hole expected", text)]


def bond_within_mm(joint: Spigots, shop: Workshop) -> float | None:
    """How far off the hole less the gap a spigot may come, each way, the hole's measurement being out by the gauge's
    error; None where that takes up all of it. [mm]"""
    error = error_mm(shop, "inside", joint.diameter_mm)
    room = None if error is None else OUT_SHARE * shop.habit("bond gap") - error
    return room if room is not None and room > 0.0 else None


def measured_how(joint: Spigots, shop: Workshop) -> str:
    """How else the hole is measured where the gauges at hand are too coarse for the gap; "" where they are not."""
    return "" if bond_within_mm(joint, shop) is not None else ", by a plug tried in it"


def gap_figures(joint: Spigots, shop: Workshop) -> list[tuple[str, str]]:
    """The gap wanted, the gap drawn, and what is to be done where the two do not go together."""
    habit, units = shop.habits["bond gap"], shop.units
    low, high = gap_range_mm(shop)
    wanted = f"{said(units, habit.value)} on the diameter ({habit.whose}), {between(shop, low, high)} will do"
    found = [("gap wanted", wanted)]
    drawn = joint.drawn_gap_mm()
    if drawn is not None:
        text = f"{between(shop, *drawn)} on the diameter"
        if drawn[1] < low - 1e-9:
            text += ": never enough; the spigot is to be turned under its drawn limits, or the fit pressed instead"
        elif drawn[0] < low - 1e-9:
            text += ": the tight end leaves too little; small spigot, full hole: go by the hole as measured"
        elif drawn[1] > compounds()[-1].greatest_gap_mm:
            text += ": the loose end is too wide for any kind"
        found.append(("gap drawn", text))
    found.append(("spigot", f"hole as measured, less {said(units, habit.value)}: least and greatest of several places measured "
                  "in the hole, the least counts"))  # fmt: skip
    found.append(("gap known to", _known(joint, shop)))
    return found


def _known(joint: Spigots, shop: Workshop) -> str:
    """How well the gap is known with the gauges at hand, and what to do where that is too coarse."""
    errors = [error_mm(shop, way, joint.diameter_mm) for way in ("inside", "outside")]
    if errors[0] is None:
        return f"nothing at hand measures the hole: {TRIAL_PLUG}"
    if errors[1] is None:
        return "nothing at hand measures the spigot"
    worst, likely = gap_spread_mm(errors[0], errors[1])
    text = f"± {said(shop.units, worst)} at worst, ± {said(shop.units, likely)} likely, by the gauges at hand"
    return text if worst <= OUT_SHARE * shop.habit("bond gap") + 1e-9 else f"{text}: too coarse; {TRIAL_PLUG}"


def _screw(joint: Spigots) -> Figures:
    """What a screw in either part does to the joint when it is tightened through it."""
    calls: list[str] = []
    for part in (joint.hole_part, joint.spigot_part):
        calls += [feature.thread for feature in part.outside]
        calls += [hole.thread for hole in (*part.inside_left, *part.inside_right)]
    thread = next((t for t in map(find_thread, filter(None, calls)) if t is not None), None)
    if thread is None:
        return ()
    low, high = screw_thrust_n(thread, 1.0)
    text = f"each N·m on {thread.designation} loads it with that torque and {low:.0f} to {high:.0f} N along"
    return (("tightened through", text),)
