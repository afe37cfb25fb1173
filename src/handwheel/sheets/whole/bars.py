"""The cutting list: by bar, what is sawn off it with kerf and last grip, which piece out of which bar, what to get."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass

from handwheel.drawing.records import Drawing
from handwheel.plan.names import sawn_mm
from handwheel.plan.records import Plan, Stock
from handwheel.sheets.whole.packing import Packing, pack
from handwheel.workshop.records import Bar, Workshop

FEW, ONE_IN = 5, 10
"""One spare for up to so many, beyond that one in ten: common practice, no source."""
WANDER_PER_MM = 25.0
"""The habit 'saw wander' is for this depth of cut. [mm]"""
SIZE_MM = 0.01


@dataclass(frozen=True, slots=True)
class Cut:
    """The blanks of one part: `wanted` and `spare` of `length_mm` each, sawn to a line, without the kerf. [mm]"""

    part: str
    wanted: int
    spare: int
    length_mm: float

    @property
    def count(self) -> int:
        """How many are sawn."""
        return self.wanted + self.spare


@dataclass(frozen=True, slots=True)
class BarList:
    """What is sawn from one size of bar. `bars_mm`: the lengths at hand that are known; `packing`: what comes out of
    which, None where no length is known. `pieces`: the parts in the packing's order. [mm]"""

    named: str
    material: str
    is_owned: bool
    cuts: tuple[Cut, ...]
    kerf_mm: float
    grip_mm: float
    bars_mm: tuple[float, ...] = ()
    pieces: tuple[str, ...] = ()
    packing: Packing | None = None

    @property
    def total_mm(self) -> float:
        """All blanks with their kerfs, and one last grip. [mm]"""
        return self.sawn_mm + self.grip_mm

    @property
    def sawn_mm(self) -> float:
        """All blanks with their kerfs. [mm]"""
        return sum(c.count * (c.length_mm + self.kerf_mm) for c in self.cuts)

    @property
    def to_get_mm(self) -> float:
        """What bar is to be got, with a last grip of its own; 0 where what is at hand does, or its length is not known.
        [mm]"""
        if not self.is_owned:
            return self.total_mm
        if self.packing is None or not self.packing.left:
            return 0.0
        long = {c.part: c.length_mm for c in self.cuts}
        return sum(long[self.pieces[k]] + self.kerf_mm for k in self.packing.left) + self.grip_mm


def spares(wanted: int) -> int:
    """How many more are sawn than are wanted."""
    return 1 if wanted <= FEW else math.ceil(wanted / ONE_IN)


def cutting_list(drawing: Drawing, plan: Plan, shop: Workshop) -> tuple[BarList, ...]:
    """One list a size of bar and material, in the order of the parts. Parts without a blank are left out."""
    stocks: dict[tuple[str, str], Stock] = {}
    cuts: dict[tuple[str, str], list[Cut]] = {}
    for planned in plan.parts:
        if planned.stock.length_mm <= 0:
            continue
        key = (planned.stock.as_named, drawing.part(planned.part).material)
        stocks.setdefault(key, planned.stock)
        cut = Cut(planned.part, planned.quantity, spares(planned.quantity), sawn_mm(planned.stock.length_mm, shop.units))
        cuts.setdefault(key, []).append(cut)
    return tuple(_listed(stock, key[1], tuple(cuts[key]), shop) for key, stock in stocks.items())


def _listed(stock: Stock, material: str, cuts: tuple[Cut, ...], shop: Workshop) -> BarList:
    kerf = shop.habit("saw kerf") + shop.habit("saw wander") * stock.diameter_mm / WANDER_PER_MM
    grip = shop.habit("least grip")
    named = stock.as_named or stock.form
    known = tuple(b.length_mm for b in shop.bars if b.length_mm is not None and _is_it(b, stock, material))
    if not known or not stock.is_owned:
        return BarList(named, material, stock.is_owned, cuts, kerf, grip)
    pieces = tuple(name for name, count in Counter({c.part: c.count for c in cuts}).items() for _ in range(count))
    long = {c.part: c.length_mm + kerf for c in cuts}
    packing = pack([long[name] for name in pieces], [max(0.0, bar - grip) for bar in known])
    return BarList(named, material, True, cuts, kerf, grip, known, pieces, packing)


def _is_it(bar: Bar, stock: Stock, material: str) -> bool:
    return (bar.form == stock.form and abs(bar.size_mm - (stock.across_mm or stock.diameter_mm)) < SIZE_MM
            and abs((bar.bore_mm or 0.0) - stock.bore_mm) < SIZE_MM and material in ("", bar.material))  # fmt: skip
