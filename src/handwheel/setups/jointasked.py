"""A joint whose two halves were measured: what pressing it comes to, or what a bond in it may hold and a load uses of it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from handwheel.plan.bondwords import bond_over, held_figures
from handwheel.plan.names import said
from handwheel.plan.pressing import WORKS_TO, slip_figures
from handwheel.plan.threadwords import between
from handwheel.tables.bonded import compounds, used
from handwheel.tables.metals import metal_of
from handwheel.tables.pressfit import FRICTION, holds, press_fit
from handwheel.workshop.records import Workshop

SURE = 0.5
"""Of a joint's strength, that a load may use before the answer warns: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Measured:
    """A hole and its spigot. [mm] error_mm: plus or minus of both. outside_mm: of the hub; bore_mm: through the spigot, 0
    solid; length_mm: of the joint. hub, shaft: as a drawing names them. compound: its kind, or "". push_n, torque_nm:
    loads, 0 for none; has_shoulder: the push goes against one."""

    hole_mm: float
    spigot_mm: float
    error_mm: float
    length_mm: float
    hub: str = ""
    shaft: str = ""
    outside_mm: float = 0.0
    bore_mm: float = 0.0
    compound: str = ""
    push_n: float = 0.0
    torque_nm: float = 0.0
    has_shoulder: bool = False

    @property
    def gap_mm(self) -> tuple[float, float]:
        """Least and greatest gap, both measurements being out by their error; below nought it is tight."""
        gap = self.hole_mm - self.spigot_mm
        return gap - 2.0 * self.error_mm, gap + 2.0 * self.error_mm


def joint_asked(joint: Measured, shop: Workshop) -> tuple[str, ...]:
    """What the two halves as measured come to when put together."""
    low, high = joint.gap_mm
    if high <= 0.0:
        return press_asked(joint, shop)
    if low > 0.0:
        return bond_asked(joint, shop)
    units = shop.units
    return (f"from {said(units, -low)} tight to {said(units, high)} of room, by the gauge's error: not told apart; a finer "
            "gauge, or try them together",)  # fmt: skip


def press_asked(joint: Measured, shop: Workshop) -> tuple[str, ...]:
    """A spigot larger than its hole, pressed or shrunk in: ranges over the measurements' error and the friction."""
    hub, shaft = metal_of(joint.hub), metal_of(joint.shaft)
    if hub is None or shaft is None:
        return ("pressed: the metals are not known, so nothing is reckoned",)
    d, units, tight = joint.hole_mm, shop.units, (-joint.gap_mm[1], -joint.gap_mm[0])
    least, most = (press_fit(d, joint.outside_mm, joint.bore_mm, t, hub, shaft) for t in tight)
    if most is None:
        return ("pressed: no wall is left round it, so nothing is reckoned",)
    low = holds(0.0 if least is None else least.pressure_mpa, d, joint.length_mm, FRICTION[0])
    high = holds(most.pressure_mpa, d, joint.length_mm, FRICTION[1])
    gives = WORKS_TO * hub.tensile_mpa[0], WORKS_TO * hub.tensile_mpa[1]
    pair = most.hub_shear_pair_mpa
    warns = "" if pair <= gives[0] else ": may be more than this bar bears"
    if pair > gives[1]:
        warns = ": more than that, it slackens or cracks"
    lines = [
        f"pressed: {between(shop, *tight)} tight, pressure {0.0 if least is None else least.pressure_mpa:.0f} to "
        f"{most.pressure_mpa:.0f} N/mm²",
        f"hub at the hole: {most.hub_hoop_mpa:.0f} N/mm² of pull, with the pressure across it {pair:.0f}; {hub.kind} gives at "
        f"{gives[0]:.0f} to {gives[1]:.0f}{warns}",
        f"force to press home {low[0] / 1000:.2g} to {high[0] / 1000:.2g} kN; holds {low[1]:.2g} to {high[1]:.2g} N·m",
    ]
    lines += [f"{head}: {value}" for head, value in slip_figures(d, tight[1], (hub, shaft), units)]
    lines.append(f"the hub's outside then grows by up to {said(units, most.hub_grows_mm)}")
    if most.bore_closes_mm is not None:
        lines.append(f"the spigot's bore closes by up to {said(units, most.bore_closes_mm)}: ream or bore it after pressing")
    return tuple(lines)


def bond_asked(joint: Measured, shop: Workshop) -> tuple[str, ...]:
    """A spigot smaller than its hole, bonded: its strength with a compound of a known kind, and what a load uses of it."""
    kinds = (joint.compound,) if joint.compound else shop.compounds
    metals = metal_of(joint.hub), metal_of(joint.shaft)
    gap = joint.gap_mm
    told = held_figures(joint.hole_mm, joint.length_mm, gap, metals, replace(shop, compounds=kinds))
    lines = [f"gap {between(shop, *gap)} on the diameter", *(f"{head}: {value}" for head, value in told)]
    if not joint.push_n and not joint.torque_nm:
        return tuple(lines)
    kind = next((c for c in compounds() if kinds and c.kind in kinds), None)
    holds_ = None if kind is None else bond_over(kind, joint.hole_mm, joint.length_mm, gap, metals)
    if holds_ is None:
        return (*lines, "what the load uses of it: not known")
    best, worst = used(holds_, joint.push_n, joint.torque_nm, joint.has_shoulder)
    warns = ": may be more than it holds" if worst > 1.0 else f": over {SURE:g} of it" if worst > SURE else ""
    shoulder = "; the shoulder takes the push" if joint.has_shoulder and joint.push_n else ""
    return (*lines, f"the load uses {best:.2f} to {worst:.2f} of it{warns}{shoulder}; shock, heat and age not looked at")
