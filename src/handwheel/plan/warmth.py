"""What heat from the cut does: a warm part measures over, and a long one pushes on its centre.

Linear growth, L·α·ΔT, with α by the kind of material (tables/data/joints.json); none said where that is not known.
"""

from __future__ import annotations

from dataclasses import replace

from handwheel.plan.names import said
from handwheel.plan.records import Move, PartPlan, Setting, Stage
from handwheel.tables.metals import metal_of
from handwheel.tables.pressfit import growth_mm
from handwheel.workshop.records import Workshop

WARMER_K = 20.0
"""How much warmer than the room a part comes off a light cut: common practice, no source. [K]"""
SHARE = 0.25
"""Of the width of the limits: growth beyond it is said. Common practice, no source."""


def with_warmth(plan: PartPlan, material: str, shop: Workshop) -> PartPlan:
    """The plan with a word at the sizes that heat puts off by more than a share of their limits, and at each centre."""
    metal = metal_of(material)
    if metal is None:
        return plan
    stages: list[Stage] = []
    is_centred = False
    for stage in plan.stages:
        is_first = stage.operation.holding.centre_mm is not None and not is_centred
        is_centred = stage.operation.holding.centre_mm is not None
        stages.append(_stage(stage, metal.expansion_per_k, shop, is_first))
    return replace(plan, stages=tuple(stages))


def _stage(stage: Stage, expansion_per_k: float, shop: Workshop, is_first: bool) -> Stage:
    operation, holding = stage.operation, stage.operation.holding
    moves = tuple(_move(move, expansion_per_k, shop) for move in operation.moves)
    settings = operation.settings
    if is_first and holding.centre_mm is not None:
        grows = growth_mm(abs(holding.centre_mm - holding.face_mm), WARMER_K, expansion_per_k)
        text = f"{WARMER_K:g} °C warmer the work is {said(shop.units, grows)} longer: ease the centre and try it again"
        settings = (*settings, Setting("centre", text, "heat"))
    return replace(stage, operation=replace(operation, moves=moves, settings=settings))


def _move(move: Move, expansion_per_k: float, shop: Workshop) -> Move:
    makes = move.makes
    if makes is None or makes.working_low_mm is None or makes.working_high_mm is None:
        return move
    grows = growth_mm(makes.value_mm, WARMER_K, expansion_per_k)
    if grows <= SHARE * (makes.working_high_mm - makes.working_low_mm):
        return move
    word = f"measure it cold: {WARMER_K:g} °C warmer it reads {said(shop.units, grows)} over"
    return replace(move, note="; ".join(filter(None, (move.note, word))))
