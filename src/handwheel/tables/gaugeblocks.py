"""Standard sets of gauge blocks, by the name on the box."""

from __future__ import annotations

from fractions import Fraction

from handwheel.tables.drills import INCH_MM
from handwheel.tables.load import table


def set_names() -> tuple[str, ...]:
    """The sets the table holds."""
    return tuple(table("gauge_blocks")["sets"])


def blocks_of(name: str) -> tuple[Fraction, ...] | None:
    """The blocks of a set, exact, as the set lists them; None for a set the table does not hold. [mm]"""
    found = table("gauge_blocks")["sets"].get(name)
    if found is None:
        return None
    unit, runs = found
    scale = INCH_MM if unit == "in" else Fraction(1)
    blocks: list[Fraction] = []
    for first, last, step in runs:
        count = (Fraction(last) - Fraction(first)) / Fraction(step)
        blocks += [(Fraction(first) + k * Fraction(step)) * scale for k in range(int(count) + 1)]
    return tuple(blocks)
