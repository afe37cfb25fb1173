"""Threads and fits for someone who only has a question: the figures of one thread, of one hole, or of one spigot."""

from __future__ import annotations

from handwheel.job.records import Unit
from handwheel.plan.names import said
from handwheel.plan.threadwords import blind_figures, die_figures, drill_figures, tap_lead_pitches
from handwheel.setups.joining import die_steps, tap_steps
from handwheel.setups.records import Figure, Step
from handwheel.tables.allowances import WHOSE, allowance_mm, allowance_names, iso_gap_mm, spigot_for
from handwheel.tables.bonded import compound_for
from handwheel.tables.metals import metal_of
from handwheel.tables.pressfit import FRICTION, holds, press_fit, rise_to_slip_on_k
from handwheel.tables.threads import Thread
from handwheel.workshop.records import Workshop

POINT_DEG = 118.0
ISO_FITS = (("f7", "running"), ("g6", "sliding"), ("h6", "goes by hand"), ("k6", "tapped home"), ("p6", "pressed"),
            ("s6", "pressed hard, or shrunk"))  # fmt: skip
"""Fits of the basic hole that are in most use, with what they are for: common practice; their limits are ISO 286's."""
SLIP_SHARE = 0.001
"""Room to slip a hot hub on, of its diameter: common practice, no source."""


def thread_asked(
    thread: Thread, is_inside: bool, depth_mm: float | None, shop: Workshop
) -> tuple[tuple[Step, ...], tuple[Figure, ...]]:
    """How a thread is cut by tap (is_inside) or by die; depth_mm: of full thread in a blind hole, None: not said. [mm]"""
    if is_inside:
        found = drill_figures(shop, thread)
        if depth_mm is not None:
            found += blind_figures(shop, thread, depth_mm, tap_lead_pitches(shop, thread), POINT_DEG)
        return tap_steps(shop), _figures(found)
    blank = thread.major_mm - shop.habit("die blank share") * thread.pitch_mm
    return die_steps(shop), _figures(die_figures(shop, thread, blank, "a shoulder"))


def _figures(found: tuple[tuple[str, str], ...]) -> tuple[Figure, ...]:
    return tuple(Figure(head, value) for head, value in found)


def fit_asked(diameter_mm: float, shop: Workshop) -> tuple[Figure, ...]:
    """The allowance classes at a diameter, shaft less hole, and the gap for a bond. [mm]"""
    found = []
    for name in allowance_names():
        size = allowance_mm(name, diameter_mm)
        if size is not None:
            sign = "larger" if size > 0.0 else "smaller"
            found.append(Figure(name, f"spigot {said(shop.units, abs(size))} {sign} than the hole"))
    gap = shop.habits["bond gap"]
    found.append(Figure("bonded", f"spigot {said(shop.units, gap.value)} smaller ({gap.whose})"))
    found.append(Figure("whose", f"all above: amateur classes, {WHOSE}"))
    for shaft, what in ISO_FITS:
        both = iso_gap_mm(diameter_mm, "H7", shaft)
        if both is not None:
            found.append(Figure(f"ISO 286 H7/{shaft}", f"{what}: {_gap(both, shop.units)}"))
    return tuple(found)


def _gap(both_mm: tuple[float, float], units: Unit) -> str:
    """`0.005 mm of room to 0.029 mm of room`, `0.034 mm tight to 0.001 mm tight`."""
    return " to ".join(f"{said(units, abs(gap))} {'tight' if gap < 0.0 else 'of room'}" for gap in both_mm)


def spigot_asked(hole_mm: float, error_mm: float, shop: Workshop, units: Unit) -> tuple[str, ...]:
    """What to turn a spigot to for a hole as measured, class by class. [mm]

    Parameters
        hole_mm: as measured. error_mm: plus or minus of that.
        shop: whose bond gap is taken. units: of the words.
    """
    lines = []
    for name in allowance_names():
        size = allowance_mm(name, hole_mm)
        if size is not None:
            lines.append(f"{name}: spigot {said(units, hole_mm + size)}, give or take {said(units, error_mm)} for the hole")
    gap = shop.habit("bond gap")
    found = spigot_for(hole_mm, error_mm, (2.0 * gap / 3.0, 4.0 * gap / 3.0))
    kind = compound_for(gap)
    name = "" if kind is None else f" ({kind.kind})"
    if found is None:
        lines.append(f"bonded: the gauge's error takes up the whole gap of about {said(units, gap)}: a finer gauge, or a trial "
                     "spigot")  # fmt: skip
    else:
        lines.append(f"bonded: spigot {said(units, found.low_mm)} to {said(units, found.high_mm)}{name}")
    return (*lines, f"Amateur classes: {WHOSE}; they are not those of ISO 286.")


def press_asked(
    hole_mm: float, spigot_mm: float, outside_mm: float, length_mm: float, materials: tuple[str, str], units: Unit
) -> tuple[str, ...]:
    """What a spigot larger than its hole comes to when pressed or shrunk in.

    Parameters
        hole_mm, spigot_mm: as measured. outside_mm: of the hub. length_mm: in the hole. [mm]
        materials: of hub and spigot, as a drawing names them.
        units: of the words.
    """
    hub, shaft = metal_of(materials[0]), metal_of(materials[1])
    tight = spigot_mm - hole_mm
    if hub is None or shaft is None:
        return ("pressed: the metals are not known, so nothing is reckoned",)
    fit = press_fit(hole_mm, outside_mm, 0.0, tight, hub, shaft)
    if fit is None:
        return ("pressed: the spigot is no larger than the hole, or there is no wall round it",)
    low, high = (holds(fit.pressure_mpa, hole_mm, length_mm, friction) for friction in FRICTION)
    rise = rise_to_slip_on_k(hole_mm, tight, SLIP_SHARE * hole_mm, hub.expansion_per_k)
    return (
        f"pressed: {said(units, tight)} tight, {fit.pressure_mpa:.0f} N/mm², {fit.hub_hoop_mpa:.0f} N/mm² of pull in the hub at "
        f"the hole (the kind bears {hub.tensile_mpa[0]:.0f} to {hub.tensile_mpa[1]:.0f} before it parts)",
        f"force to press home {low[0] / 1000:.2g} to {high[0] / 1000:.2g} kN; holds {low[1]:.2g} to {high[1]:.2g} N·m",
        f"hub {rise:.0f} K warmer than the spigot slips on; its outside then grows {said(units, fit.hub_grows_mm)}",
    )
