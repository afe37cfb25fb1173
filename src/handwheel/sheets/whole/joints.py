"""Where a part of an assembly lies in a hole of another: both sizes with their limits, and what play they come to."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from handwheel.drawing.records import Drawing, SolvedAssembly, SolvedFeature, SolvedHole
from handwheel.job.records import OutsideKind
from handwheel.plan.records import PartPlan
from handwheel.sheets.whole.assembled import Placed, placed_parts
from handwheel.tables.threads import is_same_thread

NEAR_MM, NEAR_SHARE = 0.5, 0.12
"""A hole and what lies in it are meant for each other when their diameters are this near: common practice, no source."""
AS_DRAWN = "as drawn"
LEAST_LAP_MM = 0.2
_CLASS = re.compile(r"[A-Za-z]{1,2}\d{1,2}$")


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a joint: its size and limits, None where there are none. `limits_from`: 'working', 'drawing' or "".
    [mm]"""

    part: str
    feature: str
    diameter_mm: float
    low_mm: float | None
    high_mm: float | None
    limits_from: str
    called: str


@dataclass(frozen=True, slots=True)
class Joint:
    """A hole and what lies in it. `kind`: what the limits or the route make of it. Below nought the play is
    interference. [mm]"""

    assembly: str
    hole: Side
    shaft: Side
    is_screwed: bool
    is_bonded: bool

    @property
    def least_mm(self) -> float | None:
        """Least play on the diameter."""
        if self.is_screwed or self.hole.low_mm is None or self.shaft.high_mm is None:
            return None
        return self.hole.low_mm - self.shaft.high_mm

    @property
    def greatest_mm(self) -> float | None:
        """Greatest play on the diameter."""
        if self.is_screwed or self.hole.high_mm is None or self.shaft.low_mm is None:
            return None
        return self.hole.high_mm - self.shaft.low_mm

    @property
    def kind(self) -> str:
        """Bonded, screwed, or by ISO 286-1 clearance, transition or interference; '' where the limits do not tell."""
        if self.is_screwed:
            return "screwed"
        if self.is_bonded:
            return "bonded"
        least, greatest = self.least_mm, self.greatest_mm
        if least is not None and least >= 0:
            return "clearance"
        if least is None or greatest is None:
            return ""
        return "interference" if greatest < 0 else "transition"


def joints_of(assembly: SolvedAssembly, drawing: Drawing, plans: Mapping[str, PartPlan]) -> tuple[Joint, ...]:
    """Every joint of an assembly, in the order of its parts."""
    placed = placed_parts(assembly, drawing)
    return tuple(
        joint
        for around in placed
        for hole in (*around.part.inside_left, *around.part.inside_right)
        for inside in placed
        if inside is not around
        for joint in _joint(assembly.name, around, hole, inside, plans)
    )


def _joint(name: str, around: Placed, hole: SolvedHole, inside: Placed, plans: Mapping[str, PartPlan]) -> list[Joint]:
    if abs(hole.mouth_radius - hole.bottom_radius) > 1e-6:
        return []
    found = []
    for feature in inside.part.outside:
        if feature.source.kind is not OutsideKind.CYLINDER or _lap(around, hole, inside, feature) < LEAST_LAP_MM:
            continue
        apart = abs(hole.mouth_radius - feature.left_radius) * 2.0
        screwed = bool(hole.thread and feature.thread and is_same_thread(hole.thread, feature.thread))
        if not screwed and apart > max(NEAR_MM, NEAR_SHARE * 2.0 * hole.mouth_radius):
            continue
        bonded = not hole.thread and not feature.thread and _are_bonded(around.part.name, inside.part.name, plans)
        found.append(Joint(name, _side(around, hole, plans), _side(inside, feature, plans), screwed, bonded))
    return found


def _lap(around: Placed, hole: SolvedHole, inside: Placed, feature: SolvedFeature) -> float:
    """How long the feature lies in the hole. [mm]"""
    a = sorted((around.z(hole.mouth), around.z(hole.bottom)))
    b = sorted((inside.z(feature.left), inside.z(feature.right)))
    return min(a[1], b[1]) - max(a[0], b[0])


def _are_bonded(one: str, other: str, plans: Mapping[str, PartPlan]) -> bool:
    for first, second in ((one, other), (other, one)):
        plan = plans.get(first)
        if plan and any(s.operation.kind == "bond" and second in s.operation.after_parts for s in plan.stages):
            return True
    return False


def _side(placed: Placed, feature: SolvedHole | SolvedFeature, plans: Mapping[str, PartPlan]) -> Side:
    part = placed.part
    radius = feature.mouth_radius if isinstance(feature, SolvedHole) else feature.left_radius
    phrase = f"{feature.name} diameter"
    drawn = next((d for d in part.dimensions if d.phrase == phrase and d.given), None)
    called = feature.thread
    if not called and drawn is not None:
        called = drawn.tolerance_from if _CLASS.match(drawn.tolerance_from) else AS_DRAWN
    low, high, source = _working(plans.get(part.name), phrase)
    if low is None and drawn is not None and not feature.thread:
        below, above = drawn.tolerance
        low, high, source = drawn.value + below, drawn.value + above, "drawing"
    if feature.thread and isinstance(feature, SolvedFeature):
        low, high, source = None, 2.0 * radius, "over the thread"  # an outside thread is never over its basic size
    return Side(part.name, feature.name, 2.0 * radius, low, high, source, called)


def _working(plan: PartPlan | None, phrase: str) -> tuple[float | None, float | None, str]:
    """The working limits of a size, where the route has some."""
    for stage in plan.stages if plan else ():
        for move in stage.operation.moves:
            makes = move.makes
            if makes and makes.is_diameter and makes.phrase == phrase and makes.working_low_mm is not None:
                return makes.working_low_mm, makes.working_high_mm, "working"
    return None, None, ""
