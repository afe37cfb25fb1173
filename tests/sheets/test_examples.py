"""Every example's own pages: nothing meets anything, and what the frames must say is there."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from handwheel.cli.load import load_job, size_with
from handwheel.cli.make import load_workshop
from handwheel.plan.route import plan_job
from handwheel.readings.of import readings_of
from handwheel.sheets.collide import collisions
from handwheel.sheets.make import make_pages
from handwheel.sheets.numbers import length
from handwheel.sheets.paper import EXAMPLE_TEXT, SheetMeta
from handwheel.sheets.primitives import Page, Text

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.yaml"))


@cache
def pages(path: Path, paper: str) -> tuple[Page, ...]:
    job = load_job(str(path))
    drawing, _ = size_with(job, (), None)
    shop = load_workshop(job)
    plan = plan_job(drawing, shop)
    return tuple(make_pages(drawing, plan, readings_of(plan, shop), shop, SheetMeta(path.name, "2026-11-25", "1", paper)))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_no_text_meets_anything(path: Path, paper: str) -> None:
    for number, page in enumerate(pages(path, paper), 1):
        assert collisions(page) == [], f"page {number}"


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_page_says_it_is_an_example(path: Path) -> None:
    for page in pages(path, "A4"):
        assert EXAMPLE_TEXT in {i.text for i in page.items if isinstance(i, Text)}


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_worked_out_length_is_on_the_cards(path: Path) -> None:
    job = load_job(str(path))
    drawing, _ = size_with(job, (), None)
    said = {i.text for page in pages(path, "A4") for i in page.items if isinstance(i, Text)}
    for part in drawing.parts:
        for size in part.dimensions:
            if not size.given and size.measure.value == "length":
                assert length(size.value, job.units) in said, (part.name, size.phrase)
