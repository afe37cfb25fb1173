"""A pressed or shrunk joint in figures with their names: interference drawn, stress, force, heat to slip on."""

from __future__ import annotations

from handwheel.plan.bondwords import Spigots
from handwheel.plan.names import said
from handwheel.plan.threadwords import Figures, between
from handwheel.stages.envelope import clip
from handwheel.stages.finished import finished_section
from handwheel.tables.metals import Metal, metal_of
from handwheel.tables.pressfit import FRICTION, PressFit, growth_mm, holds, press_fit, rise_to_slip_on_k
from handwheel.workshop.records import Workshop

SLIP_SHARE = 0.001
"""Room to slip a hot hub on, of its diameter: common practice, no source."""
WORKS_TO = 0.6
"""Of the least tensile strength of the kind: beyond it the metal may give and the fit slacken: common practice."""
LIP_MM = 0.01
"""Left out at both ends of the hole, where an edge may be broken. [mm]"""
WARMER_K = 20.0
"""As warm as work comes from a dry cut that may still be held: common practice, no source. [K]"""
HOT_K = 150.0
"""Beyond this a hub of hardened steel softens and oil smokes: common practice, no source. [K]"""


def is_pressed(joint: Spigots) -> bool:
    """Whether the drawing's limits make the spigot larger than the hole at every size."""
    gap = joint.drawn_gap_mm()
    return gap is not None and gap[1] < 0.0


def press_figures(joint: Spigots, shop: Workshop) -> Figures:
    """What a pressed joint is set by, from the least interference drawn to the greatest; () where it is not drawn tight."""
    gap = joint.drawn_gap_mm()
    if gap is None or gap[1] >= 0.0:
        return ()
    tight = -gap[1], -gap[0]
    found = [("joint", f"Ø {said(shop.units, joint.diameter_mm)}, {said(shop.units, joint.length_mm)} long"),
             ("interference drawn", f"{between(shop, *tight)} on the diameter")]  # fmt: skip
    hub, shaft = metal_of(joint.hole_part.material), metal_of(joint.spigot_part.material)
    if hub is None or shaft is None:
        return (*found, ("pressure", "material not known: not reckoned"))
    thin, thick = hub_outside_mm(joint)
    bore = spigot_bore_mm(joint)
    least = press_fit(joint.diameter_mm, thin, bore, tight[0], hub, shaft)
    most = press_fit(joint.diameter_mm, thick, bore, tight[1], hub, shaft)
    worst = press_fit(joint.diameter_mm, thin, bore, tight[1], hub, shaft)
    if least is None or most is None or worst is None:
        return (*found, ("pressure", "no wall left round it: not reckoned"))
    low = holds(least.pressure_mpa, joint.diameter_mm, joint.length_mm, FRICTION[0])
    high = holds(most.pressure_mpa, joint.diameter_mm, joint.length_mm, FRICTION[1])
    found += [
        ("pressure", f"{least.pressure_mpa:.0f} to {most.pressure_mpa:.0f} N/mm²"),
        ("pull at the hole", _stress(max(worst.hub_hoop_mpa, most.hub_hoop_mpa), hub)),
        ("force to press home", f"{low[0] / 1000:.2g} to {high[0] / 1000:.2g} kN; lead the spigot in with a taper or a chamfer"),
        ("holds in torque", f"{low[1]:.2g} to {high[1]:.2g} N·m, from oiled to dry"),
    ]
    warm = growth_mm(joint.diameter_mm, WARMER_K, hub.expansion_per_k)
    found.append(("measured warm", f"a hub {WARMER_K:.0f} K warmer from the cut measures {said(shop.units, warm)} large"))
    return (*found, _heat(joint, shop, tight, hub), *_moves(shop, worst, most))


def _stress(mpa: float, hub: Metal) -> str:
    over = mpa > WORKS_TO * hub.tensile_mpa[0]
    return f"up to {mpa:.0f} N/mm²" + (f": may be more than this {hub.kind} bears; less interference" if over else "")


def _heat(joint: Spigots, shop: Workshop, tight: tuple[float, float], hub: Metal) -> tuple[str, str]:
    room = SLIP_SHARE * joint.diameter_mm
    rise = rise_to_slip_on_k(joint.diameter_mm, tight[1], room, hub.expansion_per_k)
    hot = ": too hot for most, press it or cool the spigot as well" if rise > HOT_K else ""
    return "heat to slip on", f"hub {rise:.0f} K warmer than the spigot, for {said(shop.units, room)} of room; home at once{hot}"


def _moves(shop: Workshop, *fits: PressFit) -> Figures:
    grows = max(fit.hub_grows_mm for fit in fits)
    found = [("outside then grows", f"by up to {said(shop.units, grows)} on the diameter")]
    closes = [fit.bore_closes_mm for fit in fits if fit.bore_closes_mm is not None]
    if closes:
        found.append(("bore then closes", f"by up to {said(shop.units, max(closes))}: ream or bore it after pressing"))
    return tuple(found)


def hub_outside_mm(joint: Spigots) -> tuple[float, float]:
    """Least and greatest diameter of the outside round the hole, along the length they share. [mm]"""
    toward = 1.0 if joint.hole.bottom > joint.hole.mouth else -1.0
    low, high = sorted((joint.hole.mouth, joint.hole.mouth + toward * joint.length_mm))
    radii = clip(finished_section(joint.hole_part).outer, low + LIP_MM, high - LIP_MM)[:, 1]
    return 2.0 * float(radii.min()), 2.0 * float(radii.max())


def spigot_bore_mm(joint: Spigots) -> float:
    """The widest hole through the spigot, 0 where it is solid. [mm]"""
    inner = clip(finished_section(joint.spigot_part).inner, joint.spigot.left, joint.spigot.right)[:, 1]
    return 2.0 * float(inner.max())
