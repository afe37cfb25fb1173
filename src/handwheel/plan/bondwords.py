"""A bonded joint in figures with their names: gap as drawn and as wanted, compound by kind, what it may hold."""

from __future__ import annotations

from dataclasses import dataclass

from handwheel.drawing.records import SolvedDimension, SolvedFeature, SolvedHole, SolvedPart
from handwheel.plan.names import said
from handwheel.plan.threadwords import Figures, between
from handwheel.tables.allowances import gap_spread_mm
from handwheel.tables.bonded import bond, compound_for, compounds, screw_thrust_n
from handwheel.tables.metals import metal_of
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
    wanted, units = shop.habit("bond gap"), shop.units
    found = [("joint", f"Ø {said(units, joint.diameter_mm)}, {said(units, joint.length_mm)} long")]
    found += gap_figures(joint, shop)
    kind = compound_for(wanted)
    if kind is None:
        found.append(("compound", f"none is meant for a gap of {said(units, wanted)}: another gap, or another joint"))
    else:
        gaps = between(shop, kind.least_gap_mm, kind.greatest_gap_mm)
        found.append(("compound", f"{kind.kind}: gaps of {gaps} on the diameter"))
        metals = metal_of(joint.hole_part.material), metal_of(joint.spigot_part.material)
        holds = bond(kind, joint.diameter_mm, joint.length_mm, wanted, metals)
        if holds is not None:
            found.append(("may hold", f"along {holds.axial_n[0]:.0f} to {holds.axial_n[1]:.0f} N, or in torque "
                          f"{holds.torque_nm[0]:.2g} to {holds.torque_nm[1]:.2g} N·m, each alone; together by the root of their "
                          "squares; put together by hand; heat and shock less"))  # fmt: skip
    shoulder = ("takes what pushes onto it; what pulls off, and all the torque, is the compound's" if joint.has_shoulder else
                "none: the compound takes both push and pull")  # fmt: skip
    found.append(("shoulder", shoulder))
    return (*found, *_screw(joint))


def gap_figures(joint: Spigots, shop: Workshop) -> list[tuple[str, str]]:
    """The gap wanted, the gap drawn, and what is to be done where the two do not go together."""
    habit, units = shop.habits["bond gap"], shop.units
    low, high = (1.0 - OUT_SHARE) * habit.value, (1.0 + OUT_SHARE) * habit.value
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
    errors = [_error(shop, way, joint.diameter_mm) for way in ("inside", "outside")]
    if errors[0] is None:
        return f"nothing at hand measures the hole: {TRIAL_PLUG}"
    if errors[1] is None:
        return "nothing at hand measures the spigot"
    worst, likely = gap_spread_mm(errors[0], errors[1])
    text = f"± {said(shop.units, worst)} at worst, ± {said(shop.units, likely)} likely, by the gauges at hand"
    return text if worst <= OUT_SHARE * shop.habit("bond gap") + 1e-9 else f"{text}: too coarse; {TRIAL_PLUG}"


def _error(shop: Workshop, way: str, size_mm: float) -> float | None:
    """Of the best gauge at hand for a size inside or outside, plus or minus; None where there is none. [mm]"""
    fitting = [g.error_mm for g in shop.gauges if way in g.measures and g.least_mm <= size_mm <= g.greatest_mm]
    return min(fitting, default=None)


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
