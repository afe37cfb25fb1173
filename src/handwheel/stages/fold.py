"""Stages are a fold: the stock, then each cut, with the metal before and after it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from handwheel.stages.metal import apply
from handwheel.stages.records import Cut, Cutter, Section


def fold(stock: Section, steps: Iterable[tuple[Cut, Cutter]]) -> Iterator[tuple[Section, Section]]:
    """The section before and after each cut, in order, starting from the stock. [mm]"""
    before = stock
    for cut, cutter in steps:
        after = apply(before, cut, cutter)
        yield before, after
        before = after
