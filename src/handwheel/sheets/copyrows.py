"""On a set-up's page: the rows of copies with sizes as made, in place of the drawing's where they differ."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from handwheel.drawing.asmaderecords import AsMadeOutcome
from handwheel.job.records import Unit
from handwheel.plan.records import Sum
from handwheel.readings.copies import CopyReading, CopyReadings
from handwheel.readings.records import Reading
from handwheel.sheets.asmadetext import copy_text
from handwheel.sheets.cutrows import cuts_blocks
from handwheel.sheets.fonts import text_width_mm
from handwheel.sheets.moving import Picture, moved
from handwheel.sheets.paper import DIM_PT, text_block, under
from handwheel.sheets.primitives import Band, Reversed, Text
from handwheel.sheets.rows import caution_block, reading_row, sum_block

IN_PLACE = "in place of the row above:"


@dataclass(frozen=True, slots=True)
class Apart:
    """What differs on the copies of one part in one set: `named` as on the sheets ('lever 2'), `copies` by number."""

    named: str
    copies: tuple[int, ...]
    changed: CopyReadings

    def reading(self, was: Reading) -> CopyReading | None:
        """The reading in place of the drawing's, where it is another."""
        return next((r for r in self.changed.readings if r.was is was), None)

    def sum(self, operation: int, was: Sum) -> Sum | None:
        """The sum in place of the drawing's, where it is another."""
        return next((s.now for s in self.changed.sums if s.operation == operation and s.was is was), None)


Apartness = Mapping[str, Sequence[Apart]]
"""By part."""


def apart(outcomes: Sequence[AsMadeOutcome], changed: Sequence[Sequence[CopyReadings]]) -> dict[str, list[Apart]]:
    """What differs, by part, in the order of the sets."""
    found: dict[str, list[Apart]] = {}
    for outcome, parts in zip(outcomes, changed, strict=False):
        ranges = dict(outcome.copies)
        for one in parts:
            numbers = tuple(c for low, high in ranges[one.part] for c in range(low, high + 1))
            found.setdefault(one.part, []).append(Apart(copy_text(one.part, ranges[one.part]), numbers, one))
    return found


def left_over(copies: Sequence[int], parts: Sequence[Apart], was: Reading | Sum, operation: int) -> tuple[int, ...]:
    """The copies that the drawing's own row is still for."""
    gone = {c for one in parts for c in one.copies if _differs(one, was, operation)}
    return tuple(c for c in copies if c not in gone)


def _differs(one: Apart, was: Reading | Sum, operation: int) -> bool:
    return (one.sum(operation, was) if isinstance(was, Sum) else one.reading(was)) is not None


def reading_rows(
    was: Reading, copies: Sequence[int], parts: Sequence[Apart], unit: Unit, width: float, name: str
) -> list[Picture]:
    """For each set that differs here: its band and its own row, and its own cuts. [mm]"""
    rows = []
    for one in parts:
        now, mine = one.reading(was), [c for c in copies if c in one.copies]
        if now is not None and mine:
            own = f"{name} as made"
            rows.append(under([_band(one.named, IN_PLACE, width), reading_row(now.now, mine, unit, width, own)], 0.6))
            rows += cuts_blocks(now.now, mine, unit, width, own)
    return rows


def sum_rows(
    was: Sum, operation: int, copies: Sequence[int], parts: Sequence[Apart], unit: Unit, width: float
) -> list[Picture]:
    """The same of a sum to fill in. [mm]"""
    rows = []
    for one in parts:
        now, mine = one.sum(operation, was), [c for c in copies if c in one.copies]
        if now is not None and mine:
            rows.append(under([_band(one.named, IN_PLACE, width), sum_block(now, mine, unit, width)], 0.6))
    return rows


def operation_rows(
    operation: int, is_first: bool, copies: Sequence[int], parts: Sequence[Apart], width: float
) -> list[Picture]:
    """Another tool in this operation; at a part's first operation in the set-up, why its copy has no readings. [mm]"""
    rows = []
    for one in parts:
        if not any(c in one.copies for c in copies):
            continue
        if one.changed.cannot and is_first:
            text = f"{one.named}, as made: not by the readings here: {one.changed.cannot}. See 'As made'."
            rows.append(caution_block(text, width))
        rows += [_band(one.named, f"tool: {t.now}, not {t.was}", width)
                 for t in one.changed.tools if t.operation == operation]  # fmt: skip
    return rows


def _band(named: str, text: str, width: float) -> Picture:
    """The copy in reverse, so that its row is not taken for the others'. [mm]"""
    label = f"{named}, as made"
    wide = text_width_mm(label, DIM_PT, True) + 4.0
    sign = (Band(0.0, 0.3, wide, 5.0), Reversed(Text(wide / 2, 4.0, label, DIM_PT, True, "middle")))
    words = text_block(text, width - wide - 3.0, DIM_PT, True)
    return Picture((*sign, *(moved(i, wide + 2.5, 0.7) for i in words.items)), width, max(5.6, words.height + 0.9))


def void_text(outcomes: Sequence[AsMadeOutcome]) -> str:
    """Which sizes these sheets know of, so that older ones are seen to be void; "" without any."""
    count = sum(len(o.measured) + len(o.unused) for o in outcomes)
    if not count:
        return ""
    named = "; ".join(copy_text(part, runs) for o in outcomes for part, runs in o.copies)
    sizes = "1 size" if count == 1 else f"{count} sizes"
    return f"Worked out with {sizes} as made. Sheets that say fewer, or none, are void for {named}."

