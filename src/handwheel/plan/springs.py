"""What a cut pushes aside: the give of work or boring bar where the tool comes, and what that puts on the diameter.

Forces are ranges (tables/cutting.py), so what they bend is one, and so is the depth of cut at which it passes a share of the
limits. The greater end may forbid; the lesser one allows nothing. The chuck's own give counts where the workshop file has it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from handwheel.base.tolerance import EQUAL_MM
from handwheel.plan.athand import boring_bars
from handwheel.plan.grips import BUSH_IN
from handwheel.plan.records import Operation, Stage
from handwheel.stages.bending import Elastic, overhung_mm_per_n, worst_give
from handwheel.stages.check_hole import STEEL_GPA
from handwheel.stages.envelope import aligned
from handwheel.stages.records import Holding
from handwheel.tables.cutting import Cutting
from handwheel.workshop.records import Workshop

PLACES = 9
"""Places along the cut at which it is looked at."""


@dataclass(frozen=True, slots=True)
class Springs:
    """The most that work and tool give way for a newton where a cut comes, and in what metal. `has_chuck`: the chuck's own
    give is in it. [mm/N]"""

    give_mm_per_n: float
    cutting: Cutting
    has_chuck: bool = False

    def on_diameter_mm(self, off_mm: float, feed_mm: float) -> tuple[float, float]:
        """Least and greatest that a cut taking `off_mm` off the diameter leaves on it. [mm]"""
        low, high = self.cutting.push_n(off_mm / 2.0, feed_mm)
        return 2.0 * self.give_mm_per_n * low, 2.0 * self.give_mm_per_n * high

    def off_for_mm(self, error_mm: float, feed_mm: float) -> tuple[float, float]:
        """Off the diameter at a cut, where that error is reached at worst and at best. [mm]"""
        if self.give_mm_per_n <= 0.0:
            return float("inf"), float("inf")
        low, high = self.cutting.push_n(1.0, feed_mm)
        return error_mm / (self.give_mm_per_n * high), error_mm / (self.give_mm_per_n * low)


def springs_of(stage: Stage, cutting: Cutting | None, shop: Workshop) -> Springs | None:
    """What gives in this operation, the work or a boring bar; None where metal or bar is not known, or nothing is cut."""
    if cutting is None:
        return None
    if stage.operation.kind == "bore":
        bar = bar_in_hole(stage.operation, stage, shop)
        return None if bar is None else Springs(overhung_mm_per_n(*bar, STEEL_GPA), cutting)
    span, holding = cut_span(stage), stage.operation.holding
    if span is None or holding.has_steady:
        return None
    chuck = chuck_give(holding, shop)
    elastic = Elastic(cutting.e_gpa, chuck or 0.0)
    give = worst_give(stage.after, holding, np.linspace(*span, PLACES), elastic)[0]
    return Springs(give, cutting, chuck is not None)


def chuck_give(holding: Holding, shop: Workshop) -> float | None:
    """How far what holds the work gives for a newton next to its jaws; None where not known, or not held by a chuck.

    [mm/N]
    """
    kind = BUSH_IN.get(holding.kind, holding.kind)
    found = [c for c in shop.chucks if c.kind == kind]
    named = [c for c in found if c.name in holding.device] or found
    known = [c.give_mm_per_n for c in named if c.give_mm_per_n is not None]
    return max(known) if known and len(known) == len(named) else None


def cut_span(stage: Stage) -> tuple[float, float] | None:
    """The stations between which the outside is cut; None where it is not. [mm]"""
    both = aligned(stage.before.outer, stage.after.outer)
    with np.errstate(invalid="ignore"):
        here = (np.abs(both.a0 - both.b0) > EQUAL_MM) | (np.abs(both.a1 - both.b1) > EQUAL_MM)
    return (float(both.z0[here].min()), float(both.z1[here].max())) if here.any() else None


def bar_in_hole(operation: Operation, stage: Stage, shop: Workshop) -> tuple[float, float] | None:
    """Thickness of the boring bar in this hole, and how far it stands out there; None where it is not known. [mm]"""
    bar = next((b for b in boring_bars(shop) if b.name == operation.cutter.name), None)
    both = aligned(stage.before.inner, stage.after.inner)
    here = np.abs(both.a0 - both.b0) + np.abs(both.a1 - both.b1) > EQUAL_MM
    if bar is None or not here.any():
        return None
    far = both.z0[here].min() if operation.holding.toward_tailstock == "right" else both.z1[here].max()
    return bar.thickness_mm, float(abs(operation.datum_mm - far))
