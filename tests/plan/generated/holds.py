"""What the contract asks of a planned part, looked for in job.json alone: shapely for the metal, sums for the readings."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from shapely.geometry import Polygon

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.route import plan_job
from handwheel.readings.of import readings_of
from handwheel.sheets.jobjson import job_json
from handwheel.workshop.read import built_in_workshop
from tests.examples.runs import SLACK_MM
from tests.examples.test_make import EDGE_MM, outer_radius
from tests.examples.test_replay import cross_slide
from tests.plan.generated.parts import Case, case

KINDS = {
    "stock", "saw", "face", "centre", "drill", "ream", "bore", "turn", "taper", "ball", "curve", "relieve", "groove",
    "chamfer", "knurl", "thread", "tap", "part off", "mill", "cross-drill", "polish", "bond", "fit", "measure",
}  # fmt: skip
SHOP = built_in_workshop(Unit.MM)
Entry = dict[str, Any]


@dataclass(frozen=True)
class Found:
    """What came of a part: 'planned', 'refused', 'not sized' or 'not read'; why; and what does not hold."""

    word: str
    why: str
    wrong: tuple[str, ...]


def found(seed: int) -> Found:
    """A seed's part read, sized, planned and looked at. Raises whatever handwheel raises."""
    one = case(seed)
    job, faults = read_job(one.text.encode("utf-8"), "it.yaml")
    if job is None:
        return Found("not read", faults[0].what, ())
    drawing = size_job(job)
    if drawing.faults:
        return Found("not sized", drawing.faults[0].what, ())
    plan = plan_job(drawing, SHOP)
    said = json.loads(job_json(drawing, plan, readings_of(plan, SHOP), SHOP))
    part = said["parts"]["it"]
    refused = next((entry["refused"] for entry in part["route"] if entry.get("refused")), "")
    return Found("refused" if refused else "planned", refused, tuple(wrong(part, said["order_of_work"], one)))


def wrong(part: dict[str, Any], order: list[dict[str, Any]], one: Case) -> Iterator[str]:
    """Whatever of the contract does not hold, in words."""
    route: list[Entry] = part["route"]
    finished = Polygon(part["outline_mm"])
    off = finished.difference(one.section.buffer(SLACK_MM)).area + one.section.difference(finished.buffer(SLACK_MM)).area
    if off > 1e-6 or not finished.is_valid:
        yield f"the finished section is not the drawn one by {off:.6f} mm²"
    if route[0]["kind"] != "stock" or route[0]["number"] != 0:
        yield "the first entry is not the stock"
    upto = next((n for n, entry in enumerate(route) if entry.get("refused")), len(route))
    if upto < len(route):
        yield from _refusal(route, upto)
    yield from _metal(route[:upto], finished, is_whole=upto == len(route))
    yield from _grips(route[:upto])
    for entry in route[:upto]:
        yield from _replay(entry)
    if upto < len(route):
        return
    if sorted(route[-1]["across"]) != sorted(one.across):
        yield f"across at the end: {route[-1]['across']}, drawn {one.across}"
    numbers = [entry["number"] for entry in route[1:]]
    if numbers != sorted(set(numbers)) or {entry["kind"] for entry in route} - KINDS:
        yield f"numbers {numbers}, kinds {[entry['kind'] for entry in route]}"
    for copy in range(1, part["quantity"] + 1):
        done = [step["number"] for step in order if copy in step["copies"]]
        if done != numbers:
            yield f"copy {copy} goes through {done}, the route is {numbers}"


def _refusal(route: list[Entry], upto: int) -> Iterator[str]:
    if len(route[upto]["refused"].split()) < 4:
        yield f"refused without a reason: {route[upto]['refused']!r}"
    if any(entry.get("readings") for entry in route[upto:]):
        yield "readings after it is refused"


def _metal(route: list[Entry], finished: Polygon, *, is_whole: bool) -> Iterator[str]:
    stages = [Polygon(entry["outline_mm"]) for entry in route]
    for entry, before, after in zip(route[1:], stages, stages[1:], strict=False):
        where = f"{entry['number']} {entry['kind']}"
        if not after.is_valid or after.difference(before.buffer(SLACK_MM)).area > 0.0:
            yield f"{where}: metal grows"
        if finished.difference(after.buffer(SLACK_MM)).area > 0.0:
            yield f"{where}: cut into the finished part"
    if is_whole and stages and stages[-1].difference(finished.buffer(SLACK_MM)).area > 1e-6:
        yield "metal is left at the end"


def _grips(route: list[Entry]) -> Iterator[str]:
    for before, after in zip(route, route[1:], strict=False):
        grips = after.get("grips")
        low, high = sorted((grips["from_mm"], grips["to_mm"])) if grips else (0.0, 0.0)
        if high - low < 3 * EDGE_MM:
            continue
        stations = np.linspace(low + EDGE_MM, high - EDGE_MM, 101)
        held, left = (outer_radius(entry["outline_mm"], stations) for entry in (before, after))
        where = f"{after['number']} {after['kind']}"
        if after["kind"] in ("saw", "part off") and left.max() == 0.0:
            continue
        if held.min() <= 0.0:
            yield f"{where}: nothing in part of the grip"
        if np.abs(held - left).max() >= SLACK_MM:
            yield f"{where}: cut within the grip {low:.2f} to {high:.2f}"


def _replay(entry: Entry) -> Iterator[str]:
    for reading, touched, said in cross_slide(entry):
        reached = touched - 2.0 * reading["moves_mm"]
        stated = 2.0 * abs(reading["moves_mm"] - reading["exact_mm"])
        if abs(reached - reading["makes"]["value_mm"]) > stated + said:
            yield f"{entry['number']}: {reading['text']} comes to {reached:.4f}"
