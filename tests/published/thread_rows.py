"""What the modules on screw threads share: reading their rows and comparing one with `find_thread`."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from handwheel.tables.drills import drill_diameter_mm
from handwheel.tables.threads import Thread, find_thread

OURS = {
    "pitch_mm": "pitch_mm", "major": "major_mm", "pitch_dia": "pitch_diameter_mm",
    "minor_dia_external_d3": "minor_external_mm", "minor_dia_internal_D1": "minor_internal_mm",
    "minor_dia_external": "minor_external_mm", "minor_dia_internal": "minor_internal_mm",
    "minor_dia": "minor_internal_mm",
}  # fmt: skip


def rows_of(name: str) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = json.loads((Path(__file__).parent / "data" / f"{name}.json").read_text("utf-8"))
    return rows


def name_of(row: dict[str, Any]) -> str:
    return str(row["inputs"]["designation"])


def check_row(row: dict[str, Any]) -> None:
    """Every printed number of the row, to the row's own tolerance."""
    thread = find_thread(name_of(row).replace("#", "No. ").replace("x", " x "))
    assert thread is not None
    for key, printed in row["expected"].items():
        if key.startswith("tapping_drill"):
            assert thread.tapping_drill_mm == pytest.approx(_drill_mm(printed), abs=1e-9)
        elif key == "tpi":
            assert 25.4 / thread.pitch_mm == pytest.approx(printed, abs=1e-9)
        else:
            assert _ours(thread, key) == pytest.approx(printed, abs=row["tolerance"]["abs"]), key


def _ours(thread: Thread, key: str) -> float:
    size, unit = (key, "mm") if key == "pitch_mm" else key.rsplit("_", 1)
    return float(getattr(thread, OURS[size])) / (25.4 if unit == "in" else 1.0)


def _drill_mm(printed: str | float) -> float:
    if not isinstance(printed, str):
        return float(printed)
    if printed.startswith("#"):
        name = f"No. {printed[1:]}"
    elif printed.isalpha():
        name = f"letter {printed}"
    else:
        name = printed.replace("-", " ") + ("" if printed.endswith(("mm", "in")) else " in")
    size = drill_diameter_mm(name)
    assert size is not None
    return float(size)
