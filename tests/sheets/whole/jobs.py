"""Small whole jobs with assemblies, through the packages before the sheets."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from handwheel.drawing.records import Drawing
from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.plan.records import Plan
from handwheel.plan.route import plan_job
from handwheel.readings.of import readings_of
from handwheel.sheets.make import make_pages
from handwheel.sheets.paper import SheetMeta
from handwheel.sheets.primitives import Page, Reversed, Text
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import Workshop

STAND = (Path(__file__).resolve().parents[3] / "examples" / "tapping-stand.yaml").read_text("utf-8")

SHAFT = """\
handwheel: 1
job: {job}
units: mm
parts:
  shaft:
    quantity: {quantity}
    material: free-cutting mild steel
    outside:
      - cylinder: tail
      - cylinder: body
      - {{groove: clip, in: body}}
      - cylinder: nose
    dimensions:
      overall length: 120
      tail diameter: 8 {shaft}
      tail length: 12
      body diameter: 12
      nose diameter: 6
      nose length: 30
      clip width: 1.1 +0.1 -0
      clip diameter: 10.5 ± 0.05
      clip left to body right: 5
  cap:
    quantity: 2
    material: brass
    note: {note}
    outside:
      - cylinder: rim
    inside:
      from right:
        - hole: eye
          finish: reamed
    dimensions:
      rim diameter: 20
      rim length: 20
      eye diameter: 8 {hole}
      eye depth: 14
assemblies:
  capped shaft:
    seats:
      - rim right of cap on tail right of shaft
"""
"""A shaft with a cap on its tail: the seat's shoulder is at 12 mm from the shaft's left end."""


def shaft_job(shaft: str = "h7", hole: str = "H7", quantity: int = 2, note: str = "plain", job: str = "Shaft") -> str:
    return SHAFT.format(shaft=shaft, hole=hole, quantity=quantity, note=note, job=job)


@cache
def planned(text: str) -> tuple[Drawing, Plan, Workshop]:
    job, faults = read_job(text.encode("utf-8"), "job.yaml")
    assert job is not None, faults
    drawing = size_job(job)
    assert drawing.faults == ()
    shop = built_in_workshop(job.units)
    return drawing, plan_job(drawing, shop), shop


@cache
def laid_out(text: str, paper: str = "A4") -> tuple[Page, ...]:
    drawing, plan, shop = planned(text)
    meta = SheetMeta("job.yaml", "2026-11-25", "1", paper)
    return tuple(make_pages(drawing, plan, readings_of(plan, shop), shop, meta))


def texts(page: Page) -> list[str]:
    return [i.text.text if isinstance(i, Reversed) else i.text for i in page.items if isinstance(i, (Text, Reversed))]


def page_of(pages: tuple[Page, ...], subject: str) -> Page:
    return next(p for p in pages if subject in p.subject)
