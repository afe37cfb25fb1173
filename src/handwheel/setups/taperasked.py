"""A taper asked about without a job: the set-up of whichever way does it, and what three diameters say of the tool's height."""

from __future__ import annotations

from handwheel.job.records import Unit
from handwheel.plan.attachment import LAYER
from handwheel.plan.tailroom import AtTheEnd, reach_figures
from handwheel.plan.taperways import ATTACHMENT, TOP, chosen, ruled_out
from handwheel.readings.words import is_shown, length_text
from handwheel.setups.attachment import STEPS, attachment_figures
from handwheel.setups.records import Figure, Step
from handwheel.setups.tapercorrect import Hollow
from handwheel.setups.taperprocedure import taper_figures, taper_steps
from handwheel.setups.tapers import Taper, methods
from handwheel.workshop.records import Workshop


def taper_asked(taper: Taper, shop: Workshop) -> tuple[str, tuple[Step, ...], tuple[Figure, ...]]:
    """What is set, the steps, and the figures, for the first way that this workshop has for the taper."""
    ways, owned = methods(taper, shop, None), shop.lathe.attachment
    taken = chosen(ways)
    if taken is not None and taken.name == ATTACHMENT and owned is not None:
        why = Figure("why not the top slide", ruled_out(ways).removeprefix(f"{TOP}: "))
        return LAYER, STEPS, (why, *attachment_figures(taper, shop, owned, None))
    figures = taper_figures(taper, shop, None, None)
    if shop.lathe.tailstock_room is not None and not taper.is_inside:
        at = AtTheEnd(taper.small_mm / 2.0, taper.half_angle_deg, True, 0.0)
        figures = (*figures, *(Figure(f"{head}, its centre in use", told) for head, told in reach_figures(at, shop, None)))
    return "taper", taper_steps(shop), figures


FAR_OFF = 0.2
"""Of the radius: a tool farther off height than that is seen, so something else makes it hollow. Common practice, no source."""


def hollow_words(found: Hollow, middle_mm: float, units: Unit) -> str:
    """What three diameters say of the side and of the tool's height, or that they cannot tell. middle_mm: the middle one."""
    spread = length_text(2.0 * found.uncertainty_mm, units)
    if found.mm < -2.0 * found.uncertainty_mm:
        return (f"side {length_text(-found.mm, units)} round, give or take {spread}: no tool height makes that, but wear of the "
                "slide or bending")  # fmt: skip
    least = min(found.least_height_mm, middle_mm / 2.0)
    if found.height_mm is None or not is_shown(found.mm, units):
        return f"side straight within {spread}; these cannot tell a tool off height by less than {length_text(least, units)}"
    hollow = f"side {length_text(found.mm, units)} hollow, give or take {spread}"
    if found.height_mm > FAR_OFF * middle_mm / 2.0:
        return f"{hollow}: more than a tool's height makes; look for a worn slide, or a tool that moved"
    return (f"{hollow}: as by a tool {length_text(found.height_mm, units)} off centre height, above or below cannot be told. "
            "Height first, then angle")  # fmt: skip
