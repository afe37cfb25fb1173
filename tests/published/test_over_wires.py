"""Three-wire measurement: constants of handbook tables, and two textbook examples (one from F. D. Jones, Turning and Boring).

Provenance in data/over_wires.json: the examples found on public pages, the constants from memory of the handbooks.
"""

from __future__ import annotations

from typing import Any

import pytest
from thread_rows import rows_of

from handwheel.tables.overwires import best_wire_mm, over_wires_mm

ROWS = rows_of("over_wires")
CONSTANTS = [row for row in ROWS if "wire_factor" in row["expected"]]
EXAMPLES = [row for row in ROWS if "measurement_over_wires_in" in row["expected"]]


def test_rows_are_there() -> None:
    assert (len(CONSTANTS), len(EXAMPLES), len(ROWS)) == (3, 2, 5)


@pytest.mark.parametrize("row", CONSTANTS, ids=lambda row: str(row["inputs"]["included_angle_deg"]))
def test_constants(row: dict[str, Any]) -> None:
    angle, wanted = row["inputs"]["included_angle_deg"], row["expected"]
    assert best_wire_mm(1.0, angle) == pytest.approx(wanted["best_wire_per_pitch"], abs=1e-5)
    one, other = (over_wires_mm(10.0, 1.0, angle, wire) for wire in (0.5, 0.7))
    assert one is not None
    assert other is not None
    factor = (other - one) / 0.2
    assert factor == pytest.approx(wanted["wire_factor"], abs=1e-4)
    assert 10.0 + 0.5 * factor - one == pytest.approx(wanted["pitch_factor"], abs=1e-4)


@pytest.mark.parametrize("row", EXAMPLES, ids=lambda row: row["id"])
def test_examples(row: dict[str, Any]) -> None:
    given = row["inputs"]
    pitch = 1.0 / given["tpi"]
    effective = given["major_in"] - 0.649519 * pitch  # 3/4 of the sharp height off the major
    size = over_wires_mm(effective, pitch, given["angle_deg"], given["wire_in"])
    assert size == pytest.approx(row["expected"]["measurement_over_wires_in"], abs=row["tolerance"]["abs"])
