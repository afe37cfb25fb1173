"""What is tight: shares by hand against what the workshop is said to hold, and what another datum would leave."""

from __future__ import annotations

import pytest

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.records import PartPlan
from handwheel.plan.route import plan_job
from handwheel.sheets.cards import tight_text
from handwheel.workshop.read import built_in_workshop

STEPS = """handwheel: 1
job: Steps
units: mm
general tolerance: ± 0.2
parts:
  pin:
    material: free-cutting mild steel
    outside:
      - cylinder: head
      - cylinder: body
      - cylinder: tip
    dimensions:
      head diameter: 20
      body diameter: 16
      tip diameter: 10
      head length: 5 ± 0.1
      body length: 30 ± BODY
      tip length: 12 ± 0.2
"""
HELD_MM = 0.05  # "capability length" of the workshop built in


def planned(body: str) -> PartPlan:
    job, faults = read_job(STEPS.replace("BODY", body).encode(), "job.yaml")
    assert job is not None, faults
    return plan_job(size_job(job), built_in_workshop(Unit.MM)).parts[0]


def test_a_length_between_two_that_are_touched_off_an_end() -> None:
    # both ends of the body are set from the right end: 0.06 is 0.03 for each. From head right the body has its 0.06
    # to itself, 1.2 times 0.05
    (found,) = planned("0.06").tight
    assert found.dimension == "body length"
    assert sorted(found.through) == ["body left to right end", "tip left to right end"]
    assert (found.half_mm, found.held_mm) == pytest.approx((0.03, HELD_MM))
    assert found.datum == "head right"
    assert found.datum_share == pytest.approx(1.2)
    assert tight_text(found, Unit.MM) == (
        f"Tight: body length, made through {' and '.join(found.through)}: ± 0.03 mm is left for one of them, this workshop "
        "holds ± 0.05 mm. Lengths measured from head right get 1.2 times what it holds; or fit and measure."
    )


def test_enough_is_not_tight() -> None:
    assert planned("0.1").tight == ()


def test_where_no_datum_does_it_is_fitted() -> None:
    # 0.04 is less than is held even when it is measured by itself
    (found,) = planned("0.04").tight
    assert found.half_mm == pytest.approx(0.02)
    assert found.datum == ""
    assert tight_text(found, Unit.MM).endswith("Fit and measure.")
