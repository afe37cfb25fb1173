"""Cut lists and step-off charts on the pages: every line and box there once, nothing over anything else."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.records import Plan
from handwheel.plan.route import plan_job
from handwheel.readings.charts import chart_reading
from handwheel.readings.of import readings_of
from handwheel.sheets.collide import collisions
from handwheel.sheets.make import make_pages, make_sheets
from handwheel.sheets.paper import SheetMeta
from handwheel.sheets.primitives import TickBox
from handwheel.workshop.read import built_in_workshop

SHOP = built_in_workshop(Unit.MM)
META = SheetMeta("job.yaml", "2026-01-01", "abcdef")
JOB = """
handwheel: 1
job: steps
units: mm
parts:
  spool:
    quantity: QUANTITY
    material: brass
    outside:
      - cylinder: foot
      - hollow: waist
      - {cylinder: top, length: 9}
      - ball: cap
        dome: yes
    dimensions:
      foot diameter: 20
      foot length: 6
      waist radius: 14
      waist length: 16
      top diameter: 18 ± 0.02
      cap radius: 30
"""


def made(quantity: int):  # type: ignore[no-untyped-def]
    job, faults = read_job(JOB.replace("QUANTITY", str(quantity)).encode(), "job.yaml")
    assert job is not None, faults
    drawing = size_job(job)
    assert not drawing.faults, drawing.faults
    plan = plan_job(drawing, SHOP)
    return drawing, plan, readings_of(plan, SHOP)


def boxes_wanted(plan: Plan, readings, quantity: int) -> set[str]:  # type: ignore[no-untyped-def]
    wanted = set()
    copies = range(1, quantity + 1)
    for part in plan.parts:
        for stage in part.stages:
            key = (part.part, stage.operation.number)
            for k, reading in enumerate(readings[key]):
                wanted |= {f"{key[0]} {key[1]} list {k + 1} cut {row.number} copy {c}" for row in reading.cuts for c in copies}
            chart = chart_reading(stage.operation, SHOP)
            if chart is not None:
                wanted |= {f"{key[0]} {key[1]} chart line {row.number} copy {c}" for row in chart.rows for c in copies}
    return wanted


@pytest.mark.parametrize("quantity", [1, 3])
def test_a_box_for_every_cut_and_line_of_every_copy_and_nothing_meets(quantity: int) -> None:
    drawing, plan, readings = made(quantity)
    assert not plan.parts[0].refused, plan.parts[0].refused
    pages = make_pages(drawing, plan, readings, SHOP, META)
    names = [i.name for page in pages for i in page.items if isinstance(i, TickBox)]
    shown = [name for name in names if " list " in name or " chart line " in name]
    wanted = boxes_wanted(plan, readings, quantity)
    assert len(wanted) > 20 * quantity
    assert len(shown) == len(set(shown))
    assert set(shown) == wanted
    for number, page in enumerate(pages, 1):
        assert collisions(page) == [], f"page {number}"


def test_the_narrow_screen_has_the_lists_and_charts_too() -> None:
    drawing, plan, readings = made(1)
    page = make_sheets(drawing, plan, readings, SHOP, META)["index.html"].decode()
    acts = page[page.index('id="acts"') :]
    for name in boxes_wanted(plan, readings, 1):
        assert f'data-tick="{name}"' in acts


def test_without_wheels_that_have_lines_the_sheet_says_what_to_do() -> None:
    drawing, _, _ = made(1)
    wheels = {name: replace(wheel, divisions=1) for name, wheel in SHOP.lathe.wheels.items()}
    shop = replace(SHOP, lathe=replace(SHOP.lathe, wheels=wheels))
    plan = plan_job(drawing, shop)
    page = make_sheets(drawing, plan, readings_of(plan, shop), shop, META)["index.html"].decode()
    assert "a template and a file, or a form tool" in page
