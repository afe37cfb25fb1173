"""The spindle speed of an operation, from those the lathe has; none where the chuck's limit or the material is unknown.

n = 1000·v / (π·D), the nearest real speed below, and never above what the holding allows. v: the material's surface speed
with its source in the workshop file. Threads, taps and the ball tool go at the lowest the lathe has.
"""

from __future__ import annotations

import math
from dataclasses import replace

from handwheel.plan.grips import BUSH_IN
from handwheel.plan.records import Operation, PartPlan, Stage
from handwheel.workshop.records import Workshop

TURNED = (
    "face",
    "turn",
    "taper",
    "groove",
    "relieve",
    "chamfer",
    "curve",
    "bore",
    "drill",
    "ream",
    "centre",
    "part off",
)
SLOW = ("thread", "tap", "ball")
SHARE = {"ream": 0.5, "groove": 0.5, "relieve": 0.5, "part off": 0.5}
"""Share of the surface speed: common practice, no source."""


def with_speeds(plan: PartPlan, material: str, shop: Workshop) -> PartPlan:
    """The plan with a speed, or the reason why none is given, at each operation on the lathe."""
    return replace(plan, stages=tuple(_stage(stage, material, shop) for stage in plan.stages))


def speed_text(operation: Operation, diameter_mm: float, material: str, shop: Workshop) -> str:
    """What to say of the speed. `diameter_mm`: the largest diameter that turns against the tool."""
    if operation.kind in SLOW:
        return "speed: the lowest the lathe has, or by hand"
    if operation.kind not in TURNED:
        return ""
    known = next((m for m in shop.materials if m.name == material), None)
    limit = _limit(operation, shop)
    if limit is None and not any(c.kind == BUSH_IN.get(operation.holding.kind, operation.holding.kind) for c in shop.chucks):
        return f"no speed given: not known how fast it may turn ({operation.holding.kind})"
    if limit is None:
        return "no speed given: read the greatest on the chuck"
    if known is None or known.surface_speed_m_min is None:
        return f"no speed given: no surface speed is known for '{material or 'the material'}'"
    speed = known.surface_speed_m_min * SHARE.get(operation.kind, 1.0)
    wanted = min(rpm_for(speed, diameter_mm), limit)
    below = [n for n in shop.lathe.speeds_rpm if n <= wanted]
    if not below:
        return "no speed given: the lathe's lowest is above what this cut wants"
    return f"speed: {max(below):g} rpm at the most ({known.source})"


def rpm_for(speed_m_min: float, diameter_mm: float) -> float:
    """Turns a minute at which that diameter has that surface speed. [m/min], [mm], [rpm]"""
    return 1000.0 * speed_m_min / (math.pi * diameter_mm)


def _limit(operation: Operation, shop: Workshop) -> float | None:
    kind = BUSH_IN.get(operation.holding.kind, operation.holding.kind)
    limits = [c.greatest_rpm for c in shop.chucks if c.kind == kind]
    known = [n for n in limits if n is not None]
    return min(known) if known and len(known) == len(limits) else None


def _stage(stage: Stage, material: str, shop: Workshop) -> Stage:
    operation = stage.operation
    if operation.speed_text:  # the holding has said it already
        return stage
    diameter = 2.0 * float(stage.before.outer[:, 1].max())
    if operation.kind in ("drill", "ream", "centre") and len(operation.cutter.outline):
        diameter = 2.0 * float(operation.cutter.outline[:, 1].max())
    return replace(stage, operation=replace(operation, speed_text=speed_text(operation, diameter, material, shop)))
