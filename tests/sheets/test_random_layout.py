"""Nothing ever meets anything: whole jobs made at random, and cards of drawings made at random from known parts."""

from __future__ import annotations

import pytest

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.plan.route import plan_job
from handwheel.readings.of import readings_of
from handwheel.sheets.cards import put_cards
from handwheel.sheets.collide import collisions
from handwheel.sheets.make import make_pages
from handwheel.sheets.paper import SIZES_MM, Composer, SheetMeta
from handwheel.sheets.primitives import Page, Reversed, Text
from handwheel.workshop.read import built_in_workshop
from tests.drawing.generated.check import case
from tests.drawing.generated.choose import job_text, written
from tests.sheets.random_jobs import random_job

WHOLE, CARDS = range(14), range(40)
LEAST_PT = 7.5


def checked(pages: list[Page]) -> None:
    for number, page in enumerate(pages, 1):
        assert collisions(page) == [], f"page {number}"
        sizes = [(i.text if isinstance(i, Reversed) else i).size_pt for i in page.items if isinstance(i, (Text, Reversed))]
        assert min(sizes) >= LEAST_PT


@pytest.mark.parametrize("seed", WHOLE)
def test_whole_jobs(seed: int) -> None:
    paper = sorted(SIZES_MM)[seed % len(SIZES_MM)]
    job, faults = read_job(random_job(seed).encode(), "random.yaml")
    assert job is not None, faults
    drawing = size_job(job)
    assert drawing.faults == ()
    shop = built_in_workshop(job.units)
    plan = plan_job(drawing, shop)
    readings = readings_of(plan, shop)
    checked(make_pages(drawing, plan, readings, shop, SheetMeta("random.yaml", "2026-11-25", "1", paper)))


@pytest.mark.parametrize("seed", CARDS)
def test_cards_of_random_drawings(seed: int) -> None:
    one, _ = case(seed)
    text = job_text(one.part, [(p, written(p.value(one.made), p.unit, 1.0)) for p in one.chosen], "mm", "± 0")
    job, faults = read_job(text.encode(), "random.yaml")
    assert job is not None, faults
    drawing = size_job(job)
    if not drawing.parts:
        pytest.skip("not fully dimensioned: not this test's business")
    for is_close in (False, True):
        paper = Composer("Random", SheetMeta("random.yaml", "2026-11-25", "1", "A4"), True)
        put_cards(paper, drawing, {}, is_close)
        checked(paper.finished())


@pytest.mark.parametrize("length", ["99.123", "1234.567", "12345.678"])
def test_long_figures_have_room_in_both_units(length: str) -> None:
    text = ("handwheel: 1\njob: Long\nunits: inch\nparts:\n  p:\n    outside: [{cylinder: a, diameter: 12 mm}, {cone: b}]\n"
            f"    dimensions: {{a length: {length} mm, overall length: {2 * float(length)} mm, b left diameter: 10 mm, "
            "b right diameter: 5 mm}\n")  # fmt: skip
    job, faults = read_job(text.encode(), "long.yaml")
    assert job is not None, faults
    paper = Composer("Long", SheetMeta("long.yaml", "2026-11-25", "1", "A4"), True)
    put_cards(paper, size_job(job), {})
    checked(paper.finished())
