"""What heat from the cut does: a warm part measures over, and a long one pushes on its centre.

Linear growth, L·α·ΔT, with α by the kind of material (tables/data/joints.json); how long it takes to cool in still air as a
range (tables/cooling.py). None said where the metal is not known.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from handwheel.plan.names import said
from handwheel.plan.records import Move, PartPlan, Setting, Stage
from handwheel.stages.records import Section
from handwheel.tables.cooling import cools_in_air_s
from handwheel.tables.metals import metal_of
from handwheel.tables.pressfit import growth_mm
from handwheel.workshop.records import Workshop

WARMER_K = 20.0
"""How much warmer than the room a part comes off a light cut: common practice, no source. [K]"""
SHARE = 0.25
"""Of the width of the limits: growth beyond it is said. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class _Warm:
    """A metal by a drawing's words, its expansion, and whose words are printed."""

    material: str
    expansion_per_k: float
    shop: Workshop


def with_warmth(plan: PartPlan, material: str, shop: Workshop) -> PartPlan:
    """The plan with a word at the sizes that heat puts off by more than a share of their limits, and at each centre."""
    metal = metal_of(material)
    if metal is None:
        return plan
    warm = _Warm(material, metal.expansion_per_k, shop)
    stages: list[Stage] = []
    is_centred = False
    for stage in plan.stages:
        is_first = stage.operation.holding.centre_mm is not None and not is_centred
        is_centred = stage.operation.holding.centre_mm is not None
        stages.append(_stage(stage, warm, is_first))
    return replace(plan, stages=tuple(stages))


def _stage(stage: Stage, warm: _Warm, is_first: bool) -> Stage:
    operation, holding = stage.operation, stage.operation.holding
    depth = depth_mm(stage.after)
    moves = tuple(_move(move, depth, warm) for move in operation.moves)
    settings = operation.settings
    if is_first and holding.centre_mm is not None:
        grows = growth_mm(abs(holding.centre_mm - holding.face_mm), WARMER_K, warm.expansion_per_k)
        longer = said(warm.shop.units, grows)
        text = f"{WARMER_K:g} °C warmer the work is {longer} longer: ease the centre and try it again"
        settings = (*settings, Setting("centre", text, "heat"))
    return replace(stage, operation=replace(operation, moves=moves, settings=settings))


def _move(move: Move, depth: float, warm: _Warm) -> Move:
    makes = move.makes
    if makes is None or makes.working_low_mm is None or makes.working_high_mm is None:
        return move
    grows = growth_mm(makes.value_mm, WARMER_K, warm.expansion_per_k)
    may = SHARE * (makes.working_high_mm - makes.working_low_mm)
    if grows <= may:
        return move
    word = f"measure it cold: {WARMER_K:g} °C warmer it reads {said(warm.shop.units, grows)} over"
    return replace(move, note="; ".join(filter(None, (move.note, word + _wait(warm.material, depth, grows / may)))))


def _wait(material: str, depth: float, times: float) -> str:
    """How long until growth is within its share of the limits."""
    found = cools_in_air_s(material, depth, times)
    if found is None:
        return ""
    low, high = max(1, round(found[0] / 60.0)), math.ceil(found[1] / 60.0)
    return f", still air takes {f'{low} to {high}' if low < high else high} min"


def depth_mm(section: Section) -> float:
    """A turned piece's volume over its surface, round about, bore and ends. [mm]"""
    volume, surface = 0.0, 0.0
    for line, sign in ((section.outer, 1.0), (section.inner, -1.0)):
        z, r = line[:, 0], line[:, 1]
        dz, dr, mean = z[1:] - z[:-1], r[1:] - r[:-1], r[1:] + r[:-1]
        volume += sign * math.pi / 3.0 * float((dz * (mean**2 - r[1:] * r[:-1])).sum())
        surface += math.pi * float((mean * (dz**2 + dr**2) ** 0.5).sum())
    ends = ((section.outer[k, 1] ** 2 - section.inner[k, 1] ** 2) for k in (0, -1))
    return volume / (surface + math.pi * float(sum(ends)))
