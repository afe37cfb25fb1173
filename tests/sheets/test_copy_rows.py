"""Copies with sizes as made have rows of their own on the set-up pages: figures dialled from them give the size wanted."""

from __future__ import annotations

import json
import re

from handwheel.drawing.asmade import with_as_made
from handwheel.drawing.records import Drawing
from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.route import plan_job
from handwheel.readings.copies import copy_readings
from handwheel.readings.of import readings_of
from handwheel.sheets.copyrows import void_text
from handwheel.sheets.jobjson import job_json
from handwheel.sheets.make import make_pages, make_sheets
from handwheel.sheets.paper import SheetMeta
from handwheel.sheets.primitives import Page, Reversed, Text, TickBox
from handwheel.workshop.read import built_in_workshop

JOB = """handwheel: 1
job: Pins
units: mm
general tolerance: ± 0.2
parts:
  pin:
    quantity: 3
    material: free-cutting mild steel
    outside:
      - cylinder: head
      - cylinder: body
      - cylinder: tip
    dimensions:
      head diameter: 24
      body diameter: 16
      tip diameter: 10 ± 0.02
      head length: 8 ± 0.1
      body length: 20 ± 0.1
      tip length: 12 ± 0.1
"""
MADE = "as made:\n  pin 2: {tip length: 11.7}\n"


def sheets(text: str) -> tuple[Drawing, list[Page], str]:
    """The drawing, the pages, and the page for a screen."""
    job, faults = read_job(text.encode(), "job.yaml")
    assert job is not None, faults
    drawing = with_as_made(size_job(job))
    shop = built_in_workshop(Unit.MM)
    plan = plan_job(drawing, shop)
    readings = readings_of(plan, shop)
    copies = copy_readings(drawing, plan, readings, shop)
    meta = SheetMeta("job.yaml", "2026-01-01", "0")
    pages = make_pages(drawing, plan, readings, shop, meta, copies)
    assert json.loads(job_json(drawing, plan, readings, shop))["parts"]["pin"]
    return drawing, pages, make_sheets(drawing, plan, readings, shop, meta, copies)["index.html"].decode()


def set_up_pages(pages: list[Page]) -> list[Page]:
    return [page for page in pages if "Set-up" in page.subject]


def test_a_copy_as_made_has_a_row_of_its_own_and_is_not_in_the_drawing_s() -> None:
    _, pages, html = sheets(JOB + MADE)
    marked = [i.text.text for p in set_up_pages(pages) for i in p.items if isinstance(i, Reversed)]
    assert "pin 2, as made" in marked
    ticks = [i.name for p in set_up_pages(pages) for i in p.items if isinstance(i, TickBox)]
    own = [name for name in ticks if "as made" in name and "cut" not in name]
    assert own
    assert all(name.endswith("copy 2") for name in own)
    for name in own:  # the act that the copy has otherwise is not ticked for it with the others
        act = name.split(" as made")[0]
        assert f"{act} copy 2" not in ticks
        assert f"{act} copy 1" in ticks
        assert f"{act} copy 3" in ticks
    assert len(ticks) == len(set(ticks))
    # from the right end: tip 11.7 as measured, then the body's 20
    words = [i.text for p in set_up_pages(pages) for i in p.items if isinstance(i, Text)]
    assert any(re.search(r"length 31\.70", text) for text in words)
    assert any(re.search(r"length 32\.00", text) for text in words)
    assert "pin 2, as made, in place of the row above" in html


def test_sheets_say_how_many_sizes_they_were_worked_out_with() -> None:
    drawing, pages, _ = sheets(JOB + MADE)
    said = void_text(drawing.as_made)
    assert "1 size as made" in said
    more, _, _ = sheets(JOB + "as made:\n  pin 2: {tip length: 11.7, body length: 19.95}\n")
    assert "2 sizes as made" in void_text(more.as_made)
    for page in set_up_pages(pages):
        if "pin" in page.subject and any("set-up" in getattr(i, "text", "") for i in page.items if isinstance(i, Text)):
            assert any(i.text.startswith("Worked out with 1 size") for i in page.items if isinstance(i, Text))


def test_without_sizes_as_made_nothing_of_it_is_there() -> None:
    _, pages, html = sheets(JOB)
    assert not any("as made" in i.text.text for p in pages for i in p.items if isinstance(i, Reversed))
    assert "in place of the row above" not in html
    assert void_text(()) == ""
