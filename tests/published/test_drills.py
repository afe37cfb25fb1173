"""Number and letter drills against published rows.

Source: ASME B94.11M twist drills, number and letter sizes, inches to four decimals (millimetres there are
computed, so only the inches are compared). Provenance of each row is in data/drills.json: 'found' on a public
page, or 'memory' of the standard. Fractions of an inch are arithmetic and are not kept as evidence.
"""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from handwheel.tables.drills import drill_diameter_mm

ROWS: list[dict[str, Any]] = json.loads((Path(__file__).parent / "data" / "drills.json").read_text("utf-8"))


def test_rows_are_there() -> None:
    assert len(ROWS) == 74


@pytest.mark.parametrize("row", ROWS, ids=lambda row: str(row["inputs"]["drill"]))
def test_diameter(row: dict[str, Any]) -> None:
    name = row["inputs"]["drill"]
    ours = drill_diameter_mm(f"No. {name[1:]}" if name.startswith("#") else f"letter {name}")
    assert ours is not None
    assert ours / Fraction("25.4") == Fraction(str(row["expected"]["diameter_in"]))
