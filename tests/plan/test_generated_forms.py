"""Seeded parts of cylinders with hexagons, holes, grooves in them and counterbores: whatever is planned ends with the volume
that the drawing's own figures give, starts from metal of its stock's form, and whatever is refused says what would do."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field, replace

import pytest

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.route import plan_job
from handwheel.readings.of import readings_of
from handwheel.stages.metal import volume_mm3
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import Bar

TUBE = Bar("tube", 20.0, "brass", "tube 20 x 12", 12.0)
SHOP = replace(built_in_workshop(Unit.MM), bars=(*built_in_workshop(Unit.MM).bars, TUBE))
CORNER = {6: 2.0 / math.sqrt(3.0)}


@dataclass
class Made:
    outside: list[str] = field(default_factory=list)
    inside: list[str] = field(default_factory=list)
    across: list[str] = field(default_factory=list)
    sizes: list[str] = field(default_factory=list)
    radii: list[float] = field(default_factory=list)
    lengths: list[float] = field(default_factory=list)
    hole: float = 0.0
    gone: float = 0.0

    @property
    def text(self) -> str:
        parts = [("outside", self.outside), ("inside", self.inside), ("across", self.across), ("dimensions", self.sizes)]
        body = "".join(f"    {title}:\n" + "".join(f"      {line}\n" for line in lines) for title, lines in parts if lines)
        return f"handwheel: 1\njob: Made\nunits: mm\nparts:\n  one:\n    material: brass\n{body}"


def made(seed: int) -> tuple[Made, int | None]:
    rng = random.Random(seed)
    part, count = Made(), rng.randint(1, 3)
    hexed = rng.randrange(count) if rng.random() < 0.5 else None
    flats = rng.choice([8, 10, 13])
    for i, name in enumerate(("fa", "fb", "fc")[:count]):
        diameter = rng.choice([6.0, 8.0, 10.0, 12.0, 16.0, 18.0]) if i != hexed else round(flats * CORNER[6] + 0.5, 2)
        length = float(rng.choice([5, 8, 12, 18]))
        part.outside.append(f"- cylinder: {name}")
        part.sizes += [f"{name} diameter: {diameter:g}", f"{name} length: {length:g}"]
        part.radii.append(diameter / 2.0)
        part.lengths.append(length)
        if i == hexed:
            part.across.append(f"- {{hexagon: hex, on: {name}}}")
            part.sizes.append(f"hex across flats: {flats}")
    least = 2.0 * min(part.radii)
    if rng.random() < 0.7:
        _bored(part, rng, least)
    return part, hexed


def _bored(part: Made, rng: random.Random, least: float) -> None:
    hole = max(2.0, rng.choice([3.0, 4.0, least - 3.0, least - 4.0]))
    part.hole = hole
    side, far = rng.choice([("right", "left"), ("left", "right")])
    part.inside += [f"from {side}:", f"  - {{hole: eye, {rng.choice(['', 'finish: bored, '])}through: yes}}"]
    part.sizes.append(f"eye diameter: {hole:g}")
    if rng.random() < 0.4 and hole + 1.0 < least - 1.0:
        part.inside.append("  - {groove: oil, in: eye}")
        part.sizes += [f"oil diameter: {hole + 1:g}", "oil width: 1.5", "left end to oil left: 3"]
        part.gone += math.pi / 4.0 * ((hole + 1.0) ** 2 - hole**2) * 1.5
    if rng.random() < 0.4 and hole + 1.5 < least - 1.0:
        part.inside += [f"from {far}:", "  - {counterbore: cup, bottom: flat}"]
        part.sizes += [f"cup diameter: {hole + 1.5:g}", "cup depth: 1"]
        part.gone += math.pi / 4.0 * ((hole + 1.5) ** 2 - hole**2)


@pytest.mark.parametrize("seed", range(40))
def test_what_is_planned_has_the_volume_drawn(seed: int) -> None:
    part, hexed = made(seed)
    job, faults = read_job(part.text.encode(), "job.yaml")
    assert job is not None, faults
    drawing = size_job(job)
    assert not drawing.faults, drawing.faults
    whole = plan_job(drawing, SHOP)
    plan = whole.parts[0]
    assert readings_of(whole, SHOP) is not None
    if plan.refused:
        assert plan.would_do, plan.refused
        return
    radii = list(part.radii)
    if hexed is not None and plan.stock.form == "hexagon":
        radii[hexed] = plan.stock.diameter_mm / 2.0
        assert plan.stock.leaves == ("hex",)
        assert plan.stock.diameter_mm == pytest.approx(plan.stock.across_mm * CORNER[6])
    solid = sum(math.pi * r * r * length for r, length in zip(radii, part.lengths, strict=True))
    wanted = solid - math.pi / 4.0 * part.hole**2 * sum(part.lengths) - part.gone
    turned = [s for s in plan.stages if not s.operation.across_made]
    assert volume_mm3(turned[-1].after) == pytest.approx(wanted, rel=1e-9), part.text
    blank = math.pi / 4.0 * (plan.stock.diameter_mm**2 - plan.stock.bore_mm**2) * plan.stock.length_mm
    assert volume_mm3(plan.stages[0].before) == pytest.approx(blank, rel=1e-9)
    assert all(volume_mm3(s.after) <= volume_mm3(s.before) + 1e-9 for s in plan.stages)


def test_most_of_them_are_planned_from_their_own_forms() -> None:
    forms = []
    for seed in range(40):
        job, _ = read_job(made(seed)[0].text.encode(), "job.yaml")
        assert job is not None
        plan = plan_job(size_job(job), SHOP).parts[0]
        forms.append("refused" if plan.refused else plan.stock.form)
    assert forms.count("refused") <= 4
    assert forms.count("hexagon") >= 5
