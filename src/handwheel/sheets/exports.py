"""The files that other programs read, by name: drawings of part and stages (DXF), solids of part and last stage (STL)."""

from __future__ import annotations

import re

from handwheel.drawing.records import Drawing, SolvedPart
from handwheel.plan.records import PartPlan, Plan
from handwheel.sheets.dxf import part_dxf, stage_dxf
from handwheel.sheets.make import drawn_stages, stage_name
from handwheel.sheets.mesh import Mesh, revolved, stl
from handwheel.sheets.meshacross import has_solids, with_corners, without_across
from handwheel.stages.finished import finished_section
from handwheel.stages.records import Section


def dxf_files(drawing: Drawing, plan: Plan) -> dict[str, bytes]:
    """`PART.dxf` of every part and `PART-NUMBER-KIND.dxf` of every stage that can be done."""
    files = {f"{plain(part.name)}.dxf": part_dxf(part) for part in drawing.parts}
    for part in plan.parts:
        for stage in drawn_stages(part):
            files[_ending(stage_name(part, stage), "dxf")] = stage_dxf(stage)
    return files


def stl_files(drawing: Drawing, plan: Plan) -> tuple[dict[str, bytes], tuple[str, ...]]:
    """`PART.stl` of every part and `PART-NUMBER-KIND.stl` of its last stage; and what was left out, a line each."""
    files: dict[str, bytes] = {}
    left_out: list[str] = []
    plans = {p.part: p for p in plan.parts}
    for part in drawing.parts:
        across = [a.name for a in part.across]
        if across and not has_solids():
            left_out.append(f"{part.name}: its mesh is without {', '.join(across)}: install handwheel[mesh] for what lies across")
        files[f"{plain(part.name)}.stl"] = stl(_solid(part, finished_section(part), across), f"{part.name}, millimetres")
        if part.name in plans:
            files |= _last(part, plans[part.name])
    return files, tuple(left_out)


def plain(name: str) -> str:
    """A part's name as a file's."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")


def _last(part: SolvedPart, plan: PartPlan) -> dict[str, bytes]:
    stages = tuple(drawn_stages(plan))
    if not stages:
        return {}
    made = [*plan.stock.leaves, *(name for s in stages for name in s.operation.across_made)]
    title = f"{part.name} after operation {stages[-1].operation.number}, millimetres"
    return {_ending(stage_name(plan, stages[-1]), "stl"): stl(_solid(part, stages[-1].after, made), title)}


def _solid(part: SolvedPart, section: Section, across: list[str]) -> Mesh:
    if not across or not has_solids():
        return revolved(section)
    return without_across(revolved(with_corners(section, part, across)), part, section, across)


def _ending(name: str, ending: str) -> str:
    return f"{name.rsplit('.', 1)[0]}.{ending}"
