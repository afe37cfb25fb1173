"""Limits and fits against published rows.

Source: ISO 286-1 and ISO 286-2 (the same values in DIN ISO 286) with the corrigendum of 2006, micrometres, sizes to
500 mm; tables and fits of two machine-design textbooks. Provenance of each row is in data/iso286.json: 'found' on a
public page, 'found and memory agree', or 'memory' of the standard. Six fits are `[computed]` from the tables: checked,
but not counted as published.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from handwheel.tables.iso286 import deviations_um, fit_of, tolerance_um

ROWS: list[dict[str, Any]] = json.loads((Path(__file__).parent / "data" / "iso286.json").read_text("utf-8"))
GRADES = [row for row in ROWS if "grade" in row["inputs"]]
ZONES = [row for row in ROWS if "zone" in row["inputs"]]
FITS = [row for row in ROWS if "fit" in row["inputs"]]


def test_rows_are_there() -> None:
    assert (len(GRADES), len(ZONES), len(FITS)) == (55, 224, 7)


@pytest.mark.parametrize("row", GRADES, ids=lambda row: f"{row['inputs']['grade']}-{row['inputs']['size_up_to_mm']}")
def test_grade(row: dict[str, Any]) -> None:
    grade, wanted = int(row["inputs"]["grade"][2:]), row["expected"]["tolerance_um"]
    just_over = row["inputs"]["size_over_mm"] + 0.001
    assert tolerance_um(row["inputs"]["size_up_to_mm"], grade) == wanted
    assert tolerance_um(just_over, grade) == wanted


@pytest.mark.parametrize("row", ZONES, ids=lambda row: f"{row['inputs']['nominal_mm']}{row['inputs']['zone']}")
def test_zone(row: dict[str, Any]) -> None:
    ours = deviations_um(row["inputs"]["nominal_mm"], row["inputs"]["zone"])
    assert ours == (row["expected"]["lower_um"], row["expected"]["upper_um"])


@pytest.mark.parametrize("row", FITS, ids=lambda row: str(row["inputs"]["fit"]))
def test_fit(row: dict[str, Any]) -> None:
    hole, shaft = row["inputs"]["fit"].split("/")
    size, wanted = row["inputs"]["nominal_mm"], row["expected"]
    assert deviations_um(size, hole) == (wanted["hole_lower_um"], wanted["hole_upper_um"])
    assert deviations_um(size, shaft) == (wanted["shaft_lower_um"], wanted["shaft_upper_um"])
    found = fit_of(size, row["inputs"]["fit"])
    assert found is not None
    assert found.greatest_gap_um == wanted.get("max_clearance_um", -wanted.get("min_interference_um", 0))
    assert found.least_gap_um == wanted.get("min_clearance_um", -wanted.get("max_interference_um", 0))
