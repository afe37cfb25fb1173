"""Basic thread sizes and tapping drills against published rows.

Sources: ISO 261, ISO 724, ISO 2306 (metric, mm to three decimals); ASME B1.1 (UNC, UNF, inches to four decimals);
BS 84 (BSW, BSF, inches to four decimals, tables differ by 0.0001 among themselves, so 0.0002); ISO 228-1 (G, mm to
three decimals); BS 93 (BA, mm, printed to 0.005). Provenance of each row is in data/threads.json: 'found', or
'memory' of the standard; tapping drills are mostly recalled, as the rows' notes say.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from handwheel.tables.drills import drill_diameter_mm
from handwheel.tables.threads import Thread, find_thread

ROWS: list[dict[str, Any]] = json.loads((Path(__file__).parent / "data" / "threads.json").read_text("utf-8"))
OURS = {
    "pitch_mm": "pitch_mm", "major_mm": "major_mm", "pitch_dia_mm": "pitch_diameter_mm",
    "minor_dia_external_d3_mm": "minor_external_mm", "minor_dia_internal_D1_mm": "minor_internal_mm",
    "minor_dia_mm": "minor_internal_mm", "tapping_drill_mm": "tapping_drill_mm",
    "major_in": "major_mm", "pitch_dia_in": "pitch_diameter_mm", "minor_dia_external_in": "minor_external_mm",
    "minor_dia_internal_in": "minor_internal_mm", "minor_dia_in": "minor_internal_mm",
}  # fmt: skip


def _thread(row: dict[str, Any]) -> Thread:
    name = row["inputs"]["designation"].replace("#", "No. ").replace("x", " x ")
    found = find_thread(name)
    assert found is not None, name
    return found


def test_rows_are_there() -> None:
    assert len(ROWS) == 93


@pytest.mark.parametrize("row", ROWS, ids=lambda row: str(row["inputs"]["designation"]))
def test_sizes(row: dict[str, Any]) -> None:
    thread = _thread(row)
    for key, printed in row["expected"].items():
        if key == "tpi":
            assert 25.4 / thread.pitch_mm == pytest.approx(printed, abs=1e-9)
        elif key != "tapping_drill":
            ours = getattr(thread, OURS[key]) / (25.4 if key.endswith("_in") else 1.0)
            assert ours == pytest.approx(printed, abs=row["tolerance"]["abs"]), key


@pytest.mark.parametrize(
    "row", [row for row in ROWS if "tapping_drill" in row["expected"]], ids=lambda row: str(row["inputs"]["designation"])
)
def test_tapping_drill(row: dict[str, Any]) -> None:
    printed = row["expected"]["tapping_drill"]
    if printed.startswith("#"):
        name = f"No. {printed[1:]}"
    elif printed.isalpha():
        name = f"letter {printed}"
    else:
        name = printed.replace("-", " ") + ("" if printed.endswith(("mm", "in")) else " in")
    wanted = drill_diameter_mm(name)
    assert wanted is not None
    assert _thread(row).tapping_drill_mm == pytest.approx(float(wanted), abs=1e-9)
