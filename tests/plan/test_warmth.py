"""Heat: α of steel 12e-6 /K (EN 1993-1-2 simple value for steel; CDA 20.5e-6 for free-cutting brass, both from memory)."""

from __future__ import annotations

import re

import pytest

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.route import plan_job
from handwheel.workshop.read import built_in_workshop

SHOP = built_in_workshop(Unit.MM)
PIN = """handwheel: 1
job: Pin
units: mm
parts:
  pin:
    material: free-cutting mild steel
    outside:
      - cylinder: stem
      - cylinder: head
    dimensions:
      stem diameter: 12 ± 0.004
      stem length: 20
      head diameter: 20
      head length: 10
"""


def notes(text: str) -> list[str]:
    job, faults = read_job(text.encode(), "test.yaml")
    assert job is not None, faults
    plan = plan_job(size_job(job), SHOP)
    return [m.note for s in plan.parts[0].stages for m in s.operation.moves if "measure it cold" in m.note]


@pytest.mark.parametrize(("material", "alpha"), [("free-cutting mild steel", 12e-6), ("brass", 19e-6)])
def test_a_fine_diameter_is_to_be_measured_cold(material: str, alpha: float) -> None:
    found = notes(PIN.replace("free-cutting mild steel", material))
    assert len(found) == 1
    over = float(re.search(r"reads (\d\.\d+) mm over", found[0])[1])  # type: ignore[index]
    assert over == pytest.approx(12 * 20 * alpha, abs=0.0008)


def test_a_coarse_one_is_not() -> None:
    assert notes(PIN.replace("± 0.004", "± 0.1")) == []


def test_an_unknown_metal_says_nothing() -> None:
    assert notes(PIN.replace("free-cutting mild steel", "a metal")) == []


def test_a_long_piece_on_its_centre_is_eased_once() -> None:
    job, _ = read_job(PIN.replace("stem length: 20", "stem length: 90").encode(), "test.yaml")
    assert job is not None
    plan = plan_job(size_job(job), SHOP).parts[0]
    told = [(s.operation, x.text) for s in plan.stages for x in s.operation.settings if x.layer == "centre"]
    assert len(told) == 1
    holding = told[0][0].holding
    assert holding.centre_mm is not None
    longer = float(re.search(r"is (\d\.\d+) mm longer", told[0][1])[1])  # type: ignore[index]
    assert longer == pytest.approx(abs(holding.centre_mm - holding.face_mm) * 20 * 12e-6, abs=0.0006)
