"""What the form of the bar makes of the route: corners that knock, flats that are left, tube that gives."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from handwheel.job.records import Unit
from handwheel.plan.names import said
from handwheel.plan.records import Operation, Stage
from handwheel.plan.stock import CORNERS, Choice
from handwheel.stages.metal import ends
from handwheel.stages.records import Section

OVER_MM = 0.01
"""Metal this far beyond the flats on the radius is a corner. [mm]"""
KNOCKS = "The corners knock until it is round: light cuts, feed by hand, stand clear, look at the grip again after the first."
GIVES = "Tube gives: grip it lightly or on a plug, and look at it for shape before the last cut."


def said_of_bar(stages: Sequence[Stage], bar: Choice, units: Unit) -> tuple[Stage, ...]:
    """The stages with what flat-sided bar or tube asks for said at the operations that meet it."""
    found: list[Stage] = []
    for k, stage in enumerate(stages):
        operation = stage.operation
        words: list[str] = []
        if k == 0 and bar.form in CORNERS:
            words.append(f"drawn as the round about its corners, Ø {said(units, bar.diameter)}")
            if bar.leaves:
                words.append(f"{' and '.join(bar.leaves)} left as the bar is")
        if k == 0 and bar.bore:
            words.append(f"its own bore is Ø {said(units, bar.bore)}")
        caution = operation.caution
        if bar.form in CORNERS and _meets_corners(stage, bar.across / 2.0):
            words.append(f"interrupted down to Ø {said(units, bar.across)}, where the flats end")
            caution = f"{caution} {KNOCKS}"
        elif bar.bore and operation.holding.surface == "stock" and operation.holding.kind != "vice":
            caution = f"{caution} {GIVES}" if not any(GIVES in s.operation.caution for s in found) else caution
        if k == 0 and bar.leaves:  # the bar itself makes them
            why = replace(operation.why, features=(*operation.why.features, *bar.leaves))
            operation = replace(operation, why=why, features=why.features)
        found.append(replace(stage, operation=_with(operation, words, caution)))
    return tuple(found)


def _with(operation: Operation, words: list[str], caution: str) -> Operation:
    return replace(operation, caution=caution, note="; ".join(filter(None, (operation.note, *words))))


def _meets_corners(stage: Stage, flats: float) -> bool:
    """Whether metal beyond the flats comes off, on the lathe. `flats`: their distance from the axis. [mm]"""
    if stage.operation.kind == "saw":
        return False
    left, right = ends(stage.before)
    stations = np.linspace(left + 1e-4, right - 1e-4, 801)
    before, after = (_radii(section, stations) for section in (stage.before, stage.after))
    return bool(((before > flats + OVER_MM) & (before - after > 1e-3)).any())


def _radii(section: Section, stations: np.typing.NDArray[np.float64]) -> np.typing.NDArray[np.float64]:
    """Outside radius at each station, 0 beyond the metal. [mm]"""
    left, right = ends(section)
    radii = np.interp(stations, section.outer[:, 0], section.outer[:, 1])
    return np.where((stations >= left) & (stations <= right), radii, 0.0)
