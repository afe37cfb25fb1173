"""The cutting list: a line a part, bar by bar, what comes out of which bar, and what to get."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from handwheel.drawing.records import Drawing
from handwheel.job.records import Unit
from handwheel.plan.records import Plan
from handwheel.readings.words import INCH_MM
from handwheel.sheets.numbers import length
from handwheel.sheets.paper import DIM_PT, Composer, table, text_block
from handwheel.sheets.whole.bars import FEW, ONE_IN, BarList, cutting_list
from handwheel.workshop.records import Workshop

SHARES = (0.335, 0.19, 0.14, 0.14, 0.195)


def put_bars(paper: Composer, drawing: Drawing, plan: Plan, shop: Workshop) -> None:
    """One table for all bars. Nothing where no part has a blank."""
    lists = cutting_list(drawing, plan, shop)
    if not lists:
        return
    unit = drawing.job.units
    rows: list[tuple[str, ...]] = [("bar", "part", "pieces", "sawn to", "of this bar, in all")]
    rows += [row for one in lists for row in _rows(one, unit)]
    shown = table(rows, [share * paper.width for share in SHARES], True, DIM_PT)
    notes = [*_layouts(lists, unit), _how(lists, unit)]
    paper.begin("Cutting list", 40.0)
    paper.heading("Cutting list", 30.0)
    if shown.height < paper.room():
        paper.put(shown, 1.5)
    else:
        for k, row in enumerate(rows):
            paper.put(table([row], [share * paper.width for share in SHARES], k == 0, DIM_PT), 0.0)
    for note in notes:
        paper.put(text_block(note, paper.width, DIM_PT), 1.0)


def _rows(one: BarList, unit: Unit) -> list[tuple[str, ...]]:
    """The parts of a bar, the bar named and its whole length said on the first."""
    named = f"{one.named}, {one.material}" if one.material else one.named
    whole = f"get {rounded_up(one.to_get_mm, unit)}" if one.to_get_mm else f"{rounded_up(one.total_mm, unit)} "
    found: list[tuple[str, ...]] = []
    for k, cut in enumerate(one.cuts):
        found.append((named if k == 0 else "", cut.part, f"{cut.wanted} + {cut.spare} spare",
                      length(cut.length_mm, unit), whole if k == 0 else ""))  # fmt: skip
    return found


def rounded_up(mm: float, unit: Unit) -> str:
    """A length of bar: up to the next tenth of an inch or whole millimetre."""
    if unit is Unit.INCH:
        return f"{math.ceil(mm / INCH_MM * 10 - 1e-6) / 10:.1f} in"
    return f"{math.ceil(mm - 1e-6)} mm"


def _layouts(lists: Sequence[BarList], unit: Unit) -> list[str]:
    """Which piece comes out of which bar, where lengths are known."""
    found = []
    for one in lists:
        if one.packing is None:
            continue
        parts = []
        for bar, pieces in zip(one.bars_mm, one.packing.bars, strict=True):
            if pieces:
                counts = Counter(one.pieces[k] for k in pieces)
                parts.append(f"{length(bar, unit)}: {', '.join(f'{n} {name}' for name, n in counts.items())}")
        how = "nothing less can be left, and no fewer bars do" if one.packing.is_exact else (
            "longest first; not shown to be the fewest bars")
        said = f"{one.named}, out of the bars at hand: {'; '.join(parts) or 'nothing'} ({how})"
        if one.packing.left:
            over = Counter(one.pieces[k] for k in one.packing.left)
            said += f". No room for {', '.join(f'{n} {name}' for name, n in over.items())}"
        found.append(f"{said}.")
    return found


def _how(lists: Sequence[BarList], unit: Unit) -> str:
    kerfs = sorted({one.kerf_mm for one in lists})
    kerf = length(kerfs[0], unit) if len(kerfs) == 1 else f"{length(kerfs[0], unit)} to {length(kerfs[-1], unit)} by thickness"
    unknown = [one.named for one in lists if one.is_owned and one.packing is None]
    said = (f"Sawn length: finished length, facing and what the chuck grips. For each cut {kerf} more for kerf and wander; "
            f"last grip {length(lists[0].grip_mm, unit)} a bar: both are in the last column. Spares: 1 for up to {FEW}, "
            f"beyond that one in {ONE_IN} (common practice, no source).")  # fmt: skip
    if unknown:
        said += f" Length at hand not known, measure it: {'; '.join(dict.fromkeys(unknown))}."
    return said
