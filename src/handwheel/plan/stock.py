"""What the part is cut from: the bar, its size, and whether it is at hand."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from handwheel.drawing.records import SolvedPart
from handwheel.job.records import DrawnStock, Unit
from handwheel.plan.bench import CannotMakeError
from handwheel.plan.names import said
from handwheel.workshop.records import Bar, Workshop

MM_PER_INCH = 25.4
STOUTER = 2
"""How many larger bars are tried: more would be metal turned to swarf."""


@dataclass(frozen=True, slots=True)
class Choice:
    """The bar chosen: its size across, what turns it is by name, and whether the workshop has it. [mm]"""

    diameter: float
    as_named: str
    is_owned: bool


def greatest_diameter(part: SolvedPart) -> float:
    """Greatest finished diameter. [mm]"""
    return 2.0 * max(f.greatest_radius for f in part.outside)


def choose_bar(part: SolvedPart, drawn: DrawnStock | None, shop: Workshop) -> Choice:
    """The smallest bar that cleans up, or the one the drawing asks for. Raises CannotMakeError when it is too thin."""
    greatest = greatest_diameter(part)
    if drawn is not None:
        return _as_drawn(part, drawn, shop, greatest)
    has_ball = any(
        f.centre_radius == 0.0 and f.arc_radius and f.greatest_radius * 2 > greatest - 1e-6 for f in part.outside
    )
    need = greatest + (
        max(shop.habit("ball diameter allowance"), shop.habit("bar clean up"))
        if has_ball
        else shop.habit("bar clean up")
    )
    owned = [
        b for b in shop.bars if b.form == "round" and b.size_mm >= need - 1e-6 and _same_material(b, part.material)
    ]
    if owned:
        best = min(owned, key=lambda b: b.size_mm)
        return Choice(best.size_mm, best.as_named, True)
    return _to_get(need, shop.units)


def stouter(bar: Choice, part: SolvedPart, shop: Workshop) -> tuple[Choice, ...]:
    """The next bars up that are at hand, for work that stands out too far for the first choice's thickness."""
    larger = [b for b in shop.bars if b.form == "round" and b.size_mm > bar.diameter + 1e-6 and _same_material(b, part.material)]
    names = {b.size_mm: b.as_named for b in larger}
    return tuple(Choice(size, names[size], True) for size in sorted(names)[:STOUTER])


def _same_material(bar: Bar, material: str) -> bool:
    return not material or bar.material == material


def _to_get(need: float, units: Unit) -> Choice:
    if units is Unit.INCH:
        sixteenths = math.ceil(need / MM_PER_INCH * 16 - 1e-6)
        size = Fraction(sixteenths, 16)
        whole, rest = divmod(size, 1)
        name = f"{int(whole)} {rest}" if whole and rest else str(rest if rest else int(whole))
        return Choice(float(size) * MM_PER_INCH, f"round {name} in", False)
    size_mm = math.ceil(need - 1e-6)
    return Choice(float(size_mm), f"round {size_mm} mm", False)


def _as_drawn(part: SolvedPart, drawn: DrawnStock, shop: Workshop, greatest: float) -> Choice:
    if drawn.form != "round":
        raise CannotMakeError(
            "stock", f"stock '{part.stock}' is not planned yet; only round bar is", "round bar, or leave stock out"
        )
    size = float(drawn.across_mm)
    if size < greatest - 1e-6:
        raise CannotMakeError(
            "stock",
            f"stock of {said(shop.units, size)} is thinner than the part's {said(shop.units, greatest)}",
            "thicker bar, or leave stock out",
        )
    owned = any(
        b.form == "round" and abs(b.size_mm - size) < 0.01 and _same_material(b, part.material) for b in shop.bars
    )
    return Choice(size, part.stock, owned)
