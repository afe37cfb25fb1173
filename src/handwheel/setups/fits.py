"""Fits for someone who only has a question: the mate's diameter by every class, as drawn and for what was measured.

Amateur classes and those of ISO 286 are kept apart and both named.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from handwheel.job.records import Unit
from handwheel.plan.bondwords import gap_range_mm
from handwheel.plan.names import said
from handwheel.plan.threadwords import between
from handwheel.setups.records import Figure
from handwheel.tables.allowances import WHOSE, allowance_mm, allowance_names, hole_for, hole_mm, spigot_for
from handwheel.tables.iso286 import Fit, fit_of
from handwheel.workshop.records import Workshop

SHAFTS = (("f7", "running"), ("g6", "sliding"), ("h6", "goes by hand"), ("k6", "tapped home"), ("p6", "pressed"),
          ("s6", "pressed hard, or shrunk"))  # fmt: skip
HOLES = (("F8", "running"), ("G7", "sliding"), ("H7", "goes by hand"), ("K7", "tapped home"), ("P7", "pressed"),
         ("S7", "pressed hard, or shrunk"))  # fmt: skip
"""Fits of the basic hole and of the basic shaft in most use, with what they are for: common practice; limits are ISO 286's."""
TAKES_ALL = "the gauge's error takes up the whole of it: a finer gauge, or a trial piece"


@dataclass(frozen=True, slots=True)
class Half:
    """One half of a fit. nominal_mm: as drawn; is_hole: the hole, else the spigot; cls: its ISO 286 class, or ""."""

    nominal_mm: float
    is_hole: bool
    cls: str = ""

    @property
    def own(self) -> str:
        """What it is called."""
        return "hole" if self.is_hole else "spigot"

    @property
    def mate(self) -> str:
        """What goes with it."""
        return "spigot" if self.is_hole else "hole"


def iso_fits(half: Half) -> Iterator[tuple[str, str, Fit]]:
    """The fits in most use with this half: the fit, what it is for, and its limits."""
    if half.is_hole:
        plain = half.cls[:1] in ("", "H")
        pairs = [(f"{half.cls or 'H7'}/{shaft}", what) for shaft, what in SHAFTS] if plain else [
            (f"{half.cls}/{shaft}", "") for shaft in ("h6", "h7")]  # fmt: skip
    else:
        plain = half.cls[:1] in ("", "h")
        pairs = [(f"{hole}/{half.cls or 'h6'}", what) for hole, what in HOLES] if plain else [
            (f"{hole}/{half.cls}", "") for hole in ("H7", "H8")]  # fmt: skip
    for name, what in pairs:
        found = fit_of(half.nominal_mm, name)
        if found is not None:
            yield name, what or found.kind, found


def fit_asked(half: Half, shop: Workshop) -> tuple[Figure, ...]:
    """The mate's diameter by every class, at the size as drawn."""
    size, units = half.nominal_mm, shop.units
    found = []
    for name in allowance_names():
        target = amateur_mate_mm(name, size, half.is_hole)
        if target is not None:
            found.append(Figure(name, f"{half.mate} Ø {said(units, target)}, {_apart(target - size, half, units)}"))
    gap = shop.habits["bond gap"]
    bonded = size - gap.value if half.is_hole else size + gap.value
    found.append(Figure("bonded", f"{half.mate} Ø {said(units, bonded)}, {_apart(bonded - size, half, units)} ({gap.whose})"))
    found.append(Figure("whose", f"all above: amateur classes, {WHOSE}; at the {half.own} as drawn: once it is made, measure "
                        "it and say so with --measured"))  # fmt: skip
    for name, what, fit in iso_fits(half):
        hole, spigot = ((size + low / 1000.0, size + high / 1000.0) for low, high in (fit.hole_um, fit.shaft_um))
        found.append(Figure(f"ISO 286 {name}", f"{what}: hole {between(shop, *hole)}, spigot {between(shop, *spigot)}; "
                            f"{gap_words(_gap_mm(fit), units)}"))  # fmt: skip
    return tuple(found)


def _apart(by_mm: float, half: Half, units: Unit) -> str:
    return f"{said(units, abs(by_mm))} {'larger' if by_mm > 0.0 else 'smaller'} than the {half.own}"


def _gap_mm(fit: Fit) -> tuple[float, float]:
    return fit.least_gap_um / 1000.0, fit.greatest_gap_um / 1000.0


def gap_words(both_mm: tuple[float, float], units: Unit) -> str:
    """`0.005 mm of room to 0.029 mm of room`, `0.034 mm tight to 0.001 mm tight`."""
    return " to ".join(f"{said(units, abs(gap))} {'tight' if gap < 0.0 else 'of room'}" for gap in both_mm)


def amateur_mate_mm(name: str, size_mm: float, is_hole: bool) -> float | None:
    """The mate's diameter by an amateur class; None for a class there is not. [mm]"""
    if not is_hole:
        return hole_mm(name, size_mm)
    allowance = allowance_mm(name, size_mm)
    return None if allowance is None else size_mm + allowance


def mate_asked(half: Half, measured_mm: float, error_mm: float, shop: Workshop) -> tuple[str, ...]:
    """What to make the mate to for a hole or spigot as measured, class by class.

    Parameters
        half: which, and as drawn. measured_mm: as measured; error_mm: plus or minus of that. [mm]
        shop: whose bond gap is taken.
    """
    lines, units = [], shop.units
    for name in allowance_names():
        target = amateur_mate_mm(name, measured_mm, half.is_hole)
        if target is not None:
            lines.append(f"{name}: {half.mate} Ø {said(units, target)}, give or take {said(units, error_mm)} for the {half.own}")
    lines.append(f"bonded: {_limits(half, measured_mm, error_mm, gap_range_mm(shop), shop)}")
    lines.append(f"Those are amateur classes, {WHOSE}. Limits that leave what a class of ISO 286 leaves:")
    for name, what, fit in iso_fits(half):
        gap = _gap_mm(fit)
        lines.append(f"as {name}, {what}, {gap_words(gap, units)}: {_limits(half, measured_mm, error_mm, gap, shop)}")
    return tuple(lines)


def _limits(half: Half, measured_mm: float, error_mm: float, gap_mm: tuple[float, float], shop: Workshop) -> str:
    """`spigot 7.977 to 7.989 mm`, wherever in its error the measured half lies."""
    if half.is_hole:
        spigot = spigot_for(measured_mm, error_mm, gap_mm)
        found = None if spigot is None else (spigot.low_mm, spigot.high_mm)
    else:
        found = hole_for(measured_mm, error_mm, gap_mm)
    return TAKES_ALL if found is None else f"{half.mate} {between(shop, *found)}"


def reamed_asked(half: Half, reamer_mm: float, error_mm: float, shop: Workshop) -> tuple[str, ...]:
    """What hole a reamer as measured is expected to make, and the spigots for that. [mm]"""
    over = shop.habits["reamer cuts over"]
    low, high = reamer_mm - error_mm, reamer_mm + error_mm + over.value
    words = (f"hole expected: {between(shop, low, high)}: the reamer, its measurement's plus or minus, and up to "
             f"{said(shop.units, over.value)} that it cuts over ({over.whose}). Measure the hole when it is made")  # fmt: skip
    return (words, *mate_asked(half, (low + high) / 2.0, (high - low) / 2.0, shop))
