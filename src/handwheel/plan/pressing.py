"""A pressed or shrunk joint in figures with their names: interference drawn, stress, force, heat to slip on."""

from __future__ import annotations

from handwheel.job.records import Unit
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
FREEZER_K, DRY_ICE_K = 38.0, 98.0
"""From 20 °C down to a household freezer's -18 °C; to where carbon dioxide snow stands, -78 °C (physical tables). [K]"""
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
        ("pull at the hole", _stress(max(worst, most, key=lambda fit: fit.hub_shear_pair_mpa), hub)),
        ("force to press home", f"{low[0] / 1000:.2g} to {high[0] / 1000:.2g} kN; lead the spigot in with a taper or a chamfer"),
        ("holds in torque", f"{low[1]:.2g} to {high[1]:.2g} N·m, from oiled to dry"),
    ]
    warm = growth_mm(joint.diameter_mm, WARMER_K, hub.expansion_per_k)
    found.append(("measured warm", f"a hub {WARMER_K:.0f} K warmer from the cut measures {said(shop.units, warm)} large"))
    found += _closing(max(worst, most, key=lambda fit: -(fit.shaft_bore_hoop_mpa or 0.0)), shaft)
    return (*found, *slip_figures(joint.diameter_mm, tight[1], (hub, shaft), shop.units), *_moves(shop, worst, most))


def _stress(fit: PressFit, hub: Metal) -> str:
    low, high = (WORKS_TO * strength for strength in hub.tensile_mpa)
    pair = fit.hub_shear_pair_mpa
    text = f"up to {fit.hub_hoop_mpa:.0f} N/mm², with the pressure across it {pair:.0f}"
    if pair > high:
        return f"{text}: more than {hub.kind} gives at ({low:.0f} to {high:.0f}): it slackens or cracks; less interference"
    if pair > low:
        return f"{text}: may be more than this {hub.kind} bears, which gives at {low:.0f} to {high:.0f}; less interference"
    return text


def _closing(fit: PressFit, shaft: Metal) -> Figures:
    """The push round a hollow spigot's bore, where it may be more than the metal bears."""
    push = -(fit.shaft_bore_hoop_mpa or 0.0)
    low, high = (WORKS_TO * strength for strength in shaft.tensile_mpa)
    if push <= low:
        return ()
    return (("push at the spigot's bore", f"up to {push:.0f} N/mm²: may be more than this {shaft.kind} bears, which gives at "
             f"{low:.0f} to {high:.0f}; a thicker wall, or less interference"),)  # fmt: skip


def slip_figures(diameter_mm: float, tight_mm: float, metals: tuple[Metal, Metal], units: Unit) -> Figures:
    """The heat of the hub and the cold of the spigot that let them slip together: either alone, and both.

    Parameters
        diameter_mm, tight_mm: of the joint, and spigot less hole on the diameter. [mm]
        metals: of hub and spigot. units: of the words.
    """
    hub, shaft = metals
    room = SLIP_SHARE * diameter_mm
    rise = rise_to_slip_on_k(diameter_mm, tight_mm, room, hub.expansion_per_k)
    shrinks = growth_mm(diameter_mm, FREEZER_K, shaft.expansion_per_k)
    both = rise_to_slip_on_k(diameter_mm, tight_mm, room, hub.expansion_per_k, shrinks)
    hot = ": too hot for most, press it or cool the spigot as well" if rise > HOT_K else ""
    cold = rise_to_slip_on_k(diameter_mm, tight_mm, room, shaft.expansion_per_k)
    chilled = f"spigot from a freezer, {FREEZER_K:.0f} K colder: hub {both:.0f} K warmer" if both > 0.0 else (
        f"a freezer's {FREEZER_K:.0f} K is enough for the spigot alone")  # fmt: skip
    return (
        ("heat to slip on", f"hub {rise:.0f} K warmer than when both were measured, the spigot as it is, for "
         f"{said(units, room)} of room; home at once{hot}"),
        ("or cold", f"spigot alone {cold:.0f} K colder{': colder than dry ice makes it' if cold > DRY_ICE_K else ''}; {chilled}"),
    )  # fmt: skip


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
