"""What the part is cut from: the bar, its form and size, and whether it is at hand.

Hexagon and square are planned as the round about their corners; a hexagon or square drawn across the part that is the
bar's own is left as it is bought.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from handwheel.drawing.records import SolvedAcross, SolvedFeature, SolvedPart
from handwheel.job.records import AcrossKind, DrawnStock, OutsideKind, Unit
from handwheel.plan.bench import CannotMakeError
from handwheel.plan.names import said
from handwheel.plan.records import Stock
from handwheel.stages.envelope import lower, polyline, upper
from handwheel.stages.finished import finished_section
from handwheel.stages.metal import ends, tube
from handwheel.stages.records import Section
from handwheel.workshop.records import Bar, Workshop

MM_PER_INCH = 25.4
STOUTER = 2
"""How many larger bars are tried: more would be metal turned to swarf."""
CORNERS = {"hexagon": 2.0 / math.sqrt(3.0), "square": math.sqrt(2.0)}
"""Across corners by across flats."""
FACES = {AcrossKind.HEXAGON: "hexagon", AcrossKind.SQUARE: "square"}
OWN_MM = 0.02
"""A size drawn this near the bar's own is the bar's own: common practice, no source. [mm]"""
CORNER_MM = 0.06
"""A diameter drawn this little below the corners is the corners', written short: nobody skims them. Common practice. [mm]"""
TUBE_SHARE = 0.5
"""A tube is taken where its bore is at least this share of the hole wanted: less saves nothing."""


@dataclass(frozen=True, slots=True)
class Choice:
    """The bar chosen: the diameter about it, what turns it is by name, and whether the workshop has it. [mm]

    across: over the flats, of a hexagon or square; else the diameter. bore: of a tube, 0 of solid bar. `leaves`: the
    features across that are the bar's own; `hosts`: the outside features they are on.
    """

    diameter: float
    as_named: str
    is_owned: bool
    form: str = "round"
    bore: float = 0.0
    leaves: tuple[str, ...] = ()
    hosts: tuple[str, ...] = ()

    @property
    def across(self) -> float:
        """Across the flats; of what is round, the diameter: the greatest that can be turned from it. [mm]"""
        return self.diameter / CORNERS.get(self.form, 1.0)

    def blank(self, low: float, high: float) -> Section:
        """Its metal between two stations, hexagon and square as the round about their corners. [mm]"""
        return tube(self.diameter, self.bore, low, high)

    def stock(self, low: float, high: float) -> Stock:
        """A length of it. [mm]"""
        return Stock(self.form, self.diameter, high - low, self.as_named, self.is_owned, low, self.across, self.bore,
                     self.leaves)  # fmt: skip

    def finished(self, part: SolvedPart) -> Section:
        """The finished part as this bar lets it be: nothing beyond the corners of a hexagon that is left. [mm]"""
        whole = finished_section(part)
        if not self.leaves:
            return whole
        left, right = ends(whole)
        corners = self.diameter / 2.0
        outer = lower(whole.outer, polyline([[left, corners], [right, corners]]))
        for host in part.outside:
            if host.name in self.as_bought(part):
                outer = upper(outer, polyline([[host.left, corners], [host.right, corners]]))
        return Section(outer, whole.inner)

    def as_bought(self, part: SolvedPart) -> tuple[str, ...]:
        """The outside features that are not turned at all: their diameter reaches to the bar's corners. [mm]"""
        return tuple(f.name for f in part.outside if f.name in self.hosts and 2.0 * f.left_radius > self.diameter - CORNER_MM)


def greatest_diameter(part: SolvedPart) -> float:
    """Greatest finished diameter. [mm]"""
    return 2.0 * max(f.greatest_radius for f in part.outside)


def choose_bar(part: SolvedPart, drawn: DrawnStock | None, shop: Workshop) -> Choice:
    """The smallest bar that cleans up, or the one the drawing asks for. Raises CannotMakeError when it is too thin.

    A hexagon or square that is drawn takes such a bar where one is at hand; a hole right through takes tube.
    """
    if drawn is not None:
        return _as_drawn(part, drawn, shop)
    formed = next(_formed(part, shop), None)
    if formed is not None:
        return formed
    need = _need(part, shop)
    owned = [b for b in _at_hand(part, shop, "round") if b.size_mm >= need - 1e-6]
    if owned:
        best = min(owned, key=lambda b: b.size_mm)
        return Choice(best.size_mm, best.as_named, True)
    return _to_get(need, shop.units)


def stouter(bar: Choice, part: SolvedPart, shop: Workshop) -> tuple[Choice, ...]:
    """The next bars up that are at hand, for work that stands out too far for the first choice's thickness."""
    names = {b.size_mm: b.as_named for b in _at_hand(part, shop, "round") if b.size_mm > bar.diameter + 1e-6}
    return tuple(Choice(size, names[size], True) for size in sorted(names)[:STOUTER])


def _need(part: SolvedPart, shop: Workshop) -> float:
    """Diameter of round bar that leaves something to turn off. [mm]"""
    greatest = greatest_diameter(part)
    has_ball = any(
        f.centre_radius == 0.0 and f.arc_radius and f.greatest_radius * 2 > greatest - 1e-6 for f in part.outside
    )
    clean_up = shop.habit("bar clean up")
    return greatest + (max(shop.habit("ball diameter allowance"), clean_up) if has_ball else clean_up)


def _at_hand(part: SolvedPart, shop: Workshop, form: str) -> list[Bar]:
    return [b for b in shop.bars if b.form == form and (not part.material or b.material == part.material)]


def _formed(part: SolvedPart, shop: Workshop) -> Iterator[Choice]:
    """Hexagon, square and tube at hand that the part wants, the thinnest first."""
    for form in CORNERS:
        for bar in sorted(_at_hand(part, shop, form), key=lambda b: b.size_mm):
            leaves, hosts = _own_faces(part, form, bar.size_mm)
            if leaves and _round_needed(part, hosts) <= bar.size_mm + 1e-6:
                yield Choice(bar.size_mm * CORNERS[form], bar.as_named, True, form, 0.0, leaves, hosts)
    need, hole = _need(part, shop), 2.0 * float(finished_section(part).inner[:, 1].min())
    for bar in sorted(_at_hand(part, shop, "tube"), key=lambda b: b.size_mm):
        bore = bar.bore_mm or 0.0
        if bar.size_mm >= need - 1e-6 and max(TUBE_SHARE * hole, 1e-6) <= bore and _bore_fits(part, bore, hole, shop):
            yield Choice(bar.size_mm, bar.as_named, True, "tube", bore)


def _bore_fits(part: SolvedPart, bore: float, hole: float, shop: Workshop) -> bool:
    """Whether the least hole is the tube's own bore, drawn without a finish, or leaves something to bore out."""
    if bore <= hole - shop.habit("rough allowance") + 1e-6:
        return True
    least = [h for h in part.inside_left + part.inside_right if abs(2.0 * h.bottom_radius - hole) < 1e-6]
    return abs(bore - hole) <= 1e-6 and all(h.source.finish in ("", "drilled") and not h.thread for h in least)


def _own_faces(part: SolvedPart, form: str, across: float) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The features across that are that bar's own faces, and the outside features they cover."""
    found = [(a.name, host.name) for a in part.across if FACES.get(a.source.kind) == form
             for host in part.outside if host.name == a.source.on
             if abs(a.sizes.get("across flats", 0.0) - across) <= OWN_MM and _covers(a, host)]  # fmt: skip
    return tuple(f[0] for f in found), tuple(f[1] for f in found)


def _covers(across: SolvedAcross, host: SolvedFeature) -> bool:
    low, high = across.sizes.get("left", host.left), across.sizes.get("right", host.right)
    return (host.source.kind is OutsideKind.CYLINDER and across.source.count == 1
            and low <= host.left + OWN_MM and high >= host.right - OWN_MM)  # fmt: skip


def _round_needed(part: SolvedPart, hosts: tuple[str, ...]) -> float:
    """Greatest diameter that has to come out round: all but the hosts and the corners taken off them. [mm]"""
    names = [f.name for f in part.outside]
    beside = {names[j] for h in hosts for j in (names.index(h) - 1, names.index(h) + 1) if 0 <= j < len(names)}
    round_ones = [f for f in part.outside if f.name not in hosts and not (
        f.name in beside and (f.source.kind in (OutsideKind.CHAMFER, OutsideKind.CONE) or f.source.is_edge))]  # fmt: skip
    return 2.0 * max((f.greatest_radius for f in round_ones), default=0.0)


def _to_get(need: float, units: Unit) -> Choice:
    if units is Unit.INCH:
        sixteenths = math.ceil(need / MM_PER_INCH * 16 - 1e-6)
        size = Fraction(sixteenths, 16)
        whole, rest = divmod(size, 1)
        name = f"{int(whole)} {rest}" if whole and rest else str(rest if rest else int(whole))
        return Choice(float(size) * MM_PER_INCH, f"round {name} in", False)
    size_mm = math.ceil(need - 1e-6)
    return Choice(float(size_mm), f"round {size_mm} mm", False)


def _as_drawn(part: SolvedPart, drawn: DrawnStock, shop: Workshop) -> Choice:
    size, form = float(drawn.across_mm), drawn.form
    bore = float(drawn.bore_mm) if drawn.bore_mm is not None else 0.0
    leaves, hosts = _own_faces(part, form, size)
    greatest = _round_needed(part, hosts)
    what = "stock" if form == "round" else f"{form} stock"
    if size < greatest - 1e-6:
        raise CannotMakeError(
            "stock",
            f"{what} of {said(shop.units, size)} is thinner than the part's {said(shop.units, greatest)}",
            "thicker bar, or leave stock out",
        )
    hole = 2.0 * float(finished_section(part).inner[:, 1].min())
    if bore > hole + 1e-6:
        least = said(shop.units, hole) if hole else "no hole right through"
        raise CannotMakeError(
            "stock",
            f"the tube's bore of {said(shop.units, bore)} is wider than the part lets it be: {least}",
            "tube with a smaller bore, solid bar, or leave stock out",
        )
    owned = any(abs(b.size_mm - size) < 0.01 and abs((b.bore_mm or 0.0) - bore) < 0.01 for b in _at_hand(part, shop, form))
    return Choice(size * CORNERS.get(form, 1.0), part.stock, owned, form, bore, leaves, hosts)
