"""How far work, or a boring bar, bends under a cut, for someone who only has a question: the figures the sheets go by.

The same model as the cut lists': plan/springs.py on the real section, forces after tables/cutting.py. Nothing here allows a cut;
what is not known is named, with the test on the bench that tells it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from handwheel.job.records import Unit
from handwheel.plan.springs import PLACES, Springs, chuck_give
from handwheel.readings.words import figure, length_text, unit_name
from handwheel.setups.records import Figure, Step
from handwheel.stages.bending import Elastic, gives_mm_per_n, overhung_mm_per_n, worst_give
from handwheel.stages.check_hole import STEEL_GPA, STOUT
from handwheel.stages.check_reach import stiff_diameter_mm
from handwheel.stages.records import Holding, Section
from handwheel.tables.cutting import Cutting
from handwheel.workshop.machine import TEST_N
from handwheel.workshop.records import Workshop

CHUCK, CENTRE, CENTRES = "chuck", "chuck and centre", "between centres"
STEADY, BOTH = "chuck and fixed steady", "chuck, fixed steady and centre"
HELD = (CHUCK, CENTRE, CENTRES, STEADY, BOTH)
SHOWN_N = 10.0
"""The push that a give is told for. [N]"""
USUAL_TEST_MM = (0.0002, 0.005)
"""What 50 N moves a stub in a chuck by, least and greatest usual. Greatest: small lathes, common practice, no source; least:
216 N/µm, radial, of a chuck with steel jaws (Ito, Modular Design for Machine Tools, p. 452, found). [mm]"""


@dataclass(frozen=True, slots=True)
class Cut:
    """What is said of a cut. [mm]; None: not said.

    held: a word of HELD, "" for a boring bar. off_mm: off the diameter at one cut. limits_mm: from one limit to the other.
    at_mm: the tool's place, from the held end. steady_mm: the steady's. bar_mm: a boring bar's thickness. tested_mm: how far
    the work itself moved at the tool when pushed with 50 N. from_right: the right end is held.
    """

    cutting: Cutting
    held: str = CHUCK
    off_mm: float | None = None
    feed_mm: float | None = None
    limits_mm: float | None = None
    at_mm: float | None = None
    steady_mm: float | None = None
    bar_mm: float | None = None
    tested_mm: float | None = None
    from_right: bool = False
    speed_m_min: float | None = None


def work_bends(section: Section, cut: Cut, shop: Workshop) -> tuple[Figure, ...]:
    """The figures of work that stands out of what holds it by its whole length."""
    left, right = float(section.outer[0, 0]), float(section.outer[-1, 0])
    length, across = right - left, 2.0 * float(section.outer[:, 1].max())
    springs, where = springs_for(section, cut, shop)
    units = shop.units
    gives = f"{_fine(springs.give_mm_per_n * SHOWN_N, units)} for {SHOWN_N:g} N, {_where(where, cut, units)}"
    found = [Figure("held", _held_words(section, cut, length, shop)), _force(cut, shop), Figure("gives", gives)]
    found += list(_depths(springs, cut, shop))
    if cut.tested_mm is None:
        found += list(_otherwise(section, cut, shop))
    found += list(_power(cut, shop, across))
    return (*found, _chuck(springs, cut, shop))


def bar_bends(out_mm: float, cut: Cut, shop: Workshop) -> tuple[Figure, ...]:
    """The figures of a boring bar that stands out so far in its hole."""
    thick = cut.bar_mm or 0.0
    give = overhung_mm_per_n(thick, out_mm, STEEL_GPA) if cut.tested_mm is None else cut.tested_mm / TEST_N
    springs, units = Springs(give, cut.cutting), shop.units
    slim = out_mm / thick
    word = f"{length_text(thick, units)} thick, {length_text(out_mm, units)} out of its holder at least: {slim:.1f} to 1"
    if slim > STOUT:
        word += f"; more than {STOUT:g} to 1 wants a stouter bar, or light cuts and the last again without feed"
    return (Figure("bar", word), _force(cut, shop),
            Figure("gives", f"{_fine(give * SHOWN_N, units)} for {SHOWN_N:g} N at its point; holder and slides not counted"),
            *_depths(springs, cut, shop))  # fmt: skip


PULL = Step("spring balance", "switched off at the wall; a loop of cord round it, the balance pulled level and square to it to "
            f"{TEST_N:g} N (about 5 kg)")  # fmt: skip
THRICE = Step("three times", "slack taken up first by a small pull; the readings should come back to the same zero")
WORK_TEST = (
    PULL,
    Step("indicator", "on the tool post, touching the work from behind at the same height: so all that gives between work and "
         "tool is read"),
    Step("the chuck", "a stub as stout as the jaws take, cord and indicator next to them; write what it moved by in the "
         "workshop file, under that chuck: give at 50 N"),
    Step("the work", "cord and indicator where the tool will be; say it with --turned 'give at 50 N: …': then nothing of "
         "beam or chuck is reckoned"),
    THRICE,
)  # fmt: skip
BAR_TEST = (
    PULL,
    Step("indicator", "on a stub in the chuck, touching the bar at its point; cord there too, pulled square to the bar"),
    Step("then", "say it with --turned 'give at 50 N: …': holder and slides are then counted as well"),
    THRICE,
)
"""How the give of chuck or work, or of a boring bar, is measured."""


def springs_for(section: Section, cut: Cut, shop: Workshop) -> tuple[Springs, float | None]:
    """What gives at the tool, and where that is worst, from the held end; None where it was measured. [mm]"""
    if cut.tested_mm is not None:
        return Springs(cut.tested_mm / TEST_N, cut.cutting, True), None
    holding = holding_for(section, cut)
    chuck = None if cut.held == CENTRES else chuck_give(holding, shop)
    elastic = Elastic(cut.cutting.e_gpa, chuck or 0.0)
    left, right = float(section.outer[0, 0]), float(section.outer[-1, 0])
    if cut.at_mm is not None:
        place = right - cut.at_mm if cut.from_right else left + cut.at_mm
        return Springs(gives_mm_per_n(section, holding, place, elastic), cut.cutting, chuck is not None), cut.at_mm
    places = np.linspace(left, right, 8 * PLACES + 1)
    give, place = worst_give(section, holding, places, elastic)
    return Springs(give, cut.cutting, chuck is not None), right - place if cut.from_right else place - left


def holding_for(section: Section, cut: Cut) -> Holding:
    """The whole section standing out of what holds it."""
    left, right = float(section.outer[0, 0]), float(section.outer[-1, 0])
    near, far = (right, left) if cut.from_right else (left, right)
    steady = None
    if cut.held in (STEADY, BOTH) and cut.steady_mm is not None:
        steady = right - cut.steady_mm if cut.from_right else left + cut.steady_mm
    return Holding(
        cut.held, "between centres" if cut.held == CENTRES else "three-jaw", near, near, "stock",
        "left" if cut.from_right else "right", near,
        centre_mm=far if cut.held in (CENTRE, CENTRES, BOTH) else None,
        headstock_centre_mm=near if cut.held == CENTRES else None, steady_mm=steady,
    )  # fmt: skip


def _held_words(section: Section, cut: Cut, length: float, shop: Workshop) -> str:
    left, right = float(section.outer[0, 0]), float(section.outer[-1, 0])
    ends = (right, left) if cut.from_right else (left, right)
    ratio = length / stiff_diameter_mm(section, *ends)
    has_centre = cut.held in (CENTRE, CENTRES, BOTH)
    most = shop.habit("greatest overhang with centre" if has_centre else "greatest overhang")
    words = f"{cut.held}, {length_text(length, shop.units)} long: {ratio:.1f} to 1"
    if cut.held in (STEADY, BOTH) or ratio <= most:
        return words
    return f"{words}; the habit stops at {most:g}: {'a steady' if has_centre else 'a centre or a steady'}"


def _force(cut: Cut, shop: Workshop) -> Figure:
    off, feed = _roughing(cut, shop)
    main = cut.cutting.force_n(off / 2.0, feed)
    low, high = cut.cutting.push_n(off / 2.0, feed)
    at = f"{length_text(off, shop.units)} off the diameter at {length_text(feed, shop.units)} a turn"
    word = (f"{at}: {main:.0f} N down on the tool by the table ({cut.cutting.kind}), {low:.0f} to {high:.0f} N apart, which is "
            "what bends the size")  # fmt: skip
    return Figure("force", word)


def _roughing(cut: Cut, shop: Workshop) -> tuple[float, float]:
    off = shop.habit("greatest cut") if cut.off_mm is None else cut.off_mm
    return off, shop.habit("rough feed") if cut.feed_mm is None else cut.feed_mm


def _where(where: float | None, cut: Cut, units: Unit) -> str:
    if where is None:
        return "as measured"
    worst = "where it is worst, " if cut.at_mm is None else ""
    return f"{worst}{length_text(where, units)} from the {'right' if cut.from_right else 'left'} end, shear counted"


def _depths(springs: Springs, cut: Cut, shop: Workshop) -> Iterator[Figure]:
    """What it puts on the diameter in the cut said and in a last cut, and where that passes its share of the limits."""
    units, name = shop.units, unit_name(shop.units)
    off, feed = _roughing(cut, shop)
    last, fine = shop.habit("last cut"), shop.habit("fine feed")
    yield Figure("that cut leaves", f"{_range(springs.on_diameter_mm(off, feed), units)} on the diameter")
    yield Figure(f"a last cut of {figure(last, units)} {name} leaves",
                 f"{_range(springs.on_diameter_mm(last, fine), units)} on the diameter, at {length_text(fine, units)} a turn")
    if cut.limits_mm is None:
        yield Figure("limits", "not said: --turned 'limits apart: …' tells from what depth on bending passes its share of them")
        return
    share = shop.habits["bending share"]
    may = share.value * cut.limits_mm
    low, high = springs.off_for_mm(may, fine)
    word = (f"a last cut passes {figure(may, units)} {name} ({share.value:g} of the limits; {share.whose}) somewhere from "
            f"{figure(low, units)} to {figure(high, units)} {name} off the diameter on")  # fmt: skip
    if low < last:
        word += "; lighter last cuts, and the last again without feed"
    yield Figure("limits", word)


def _otherwise(section: Section, cut: Cut, shop: Workshop) -> Iterator[Figure]:
    """The same last cut with the other ways of holding, its greater end."""
    last, fine = shop.habit("last cut"), shop.habit("fine feed")
    length = float(np.ptp(section.outer[:, 0]))
    told = []
    for held in HELD:
        steady = cut.steady_mm if cut.steady_mm is not None else length / 2.0
        other = replace(cut, held=held, at_mm=None, steady_mm=steady)
        if held == cut.held or held == BOTH:
            continue
        springs, _ = springs_for(section, other, shop)
        beside = " half-way" if held == STEADY and cut.steady_mm is None else ""
        told.append(f"{held}{beside} {_fine(springs.on_diameter_mm(last, fine)[1], shop.units)}")
    yield Figure("held otherwise, that last cut", f"at worst, where the tool then is worst: {', '.join(told)}")


def _power(cut: Cut, shop: Workshop, across_mm: float) -> Iterator[Figure]:
    """Power and twist of the cut, the main force counted as half to twice the table's."""
    off, feed = _roughing(cut, shop)
    main = cut.cutting.force_n(off / 2.0, feed)
    if cut.speed_m_min is None:
        yield Figure("power", "not reckoned: no surface speed is known for it")
    else:
        watts = main * cut.speed_m_min / 60.0
        word = f"{0.5 * watts:.0f} to {2.0 * watts:.0f} W at the tool, at {cut.speed_m_min:.0f} m/min"
        if shop.lathe.power_w is None:
            word += "; the lathe's power is not known"
        elif 2.0 * watts > shop.lathe.power_w:
            word += f"; the motor has {shop.lathe.power_w:.0f} W: a lighter cut"
        else:
            word += f"; the motor has {shop.lathe.power_w:.0f} W, less what belts and gears take"
        yield Figure("power", word)
    twist = main * across_mm / 2000.0
    yield Figure("twist", f"{0.5 * twist:.1f} to {2.0 * twist:.1f} N·m on the grip; whether that holds is not known: a pencil "
                 "line across work and jaw, looked at after the first cut")  # fmt: skip


def _chuck(springs: Springs, cut: Cut, shop: Workshop) -> Figure:
    if cut.tested_mm is not None:
        return Figure("not counted", "nothing of what was pushed: it was measured; a live cut shakes, which no push shows")
    if springs.has_chuck:
        return Figure("not counted", "the chuck's tilt farther out, slides, bearings, chatter; its give next to the jaws is in")
    low, high = (_fine(mm, shop.units) for mm in USUAL_TEST_MM)
    own = "centres, slides, bearings" if cut.held == CENTRES else (
        f"the chuck's own give: not known. {TEST_N:g} N usually move a stub by {low} to {high} (common practice, no source), "
        "more farther out: the test below tells. Slides, bearings")  # fmt: skip
    return Figure("not counted", f"{own}, chatter")


def _range(ends_mm: tuple[float, float], units: Unit) -> str:
    return f"{_fine(ends_mm[0], units, False)} to {_fine(ends_mm[1], units)}"


def _fine(length_mm: float, units: Unit, has_unit: bool = True) -> str:
    """A small length with two significant figures, never finer than a tenth of a micrometre."""
    size = length_mm / 25.4 if units is Unit.INCH else length_mm
    places = 6 if units is Unit.INCH else 4
    if size > 0.0:
        places = min(places, max(2, 1 - int(np.floor(np.log10(size)))))
    return f"{size:.{places}f} {unit_name(units)}" if has_unit else f"{size:.{places}f}"
