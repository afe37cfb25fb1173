"""Spindle speeds against published examples, and the example workshops' surface speeds against published tables.

`s001` to `s010`: machine shop notes of the University of Arizona, found; `s042`, `s043`: TM 1-420, its relation found, the
figures worked out; `s044`, `s045`: computed. The tables are upper limits for high-speed steel: what the example workshops carry
has to lie under the greatest that any of them prints for that metal, and not under half of the least. Not used: rows on carbide
(`s037` to `s041`), milling (`s022` to `s024`), feeds of drills (`s028`, `s029`), metals the examples do not list, and `s025`,
drilling aluminium at 195 to 390 m/min, several times every other source.
"""

from __future__ import annotations

from typing import Any

import pytest
from thread_rows import rows_of

from handwheel.job.records import Unit
from handwheel.plan.speeds import SHARE, rpm_for
from handwheel.workshop.read import built_in_workshop

FOOT_M, INCH_MM = 0.3048, 25.4
ROWS = {row["id"][-3:]: row for row in rows_of("speeds")}
TURNED = {
    "mild steel": ("003", "011"), "free-cutting mild steel": ("003", "011"), "silver steel": ("016",),
    "cast iron": ("002", "017", "018", "020"), "brass": ("019",), "aluminium alloy": ("004",),
}  # fmt: skip
DRILLED = {"mild steel": ("027",), "brass": ("026", "031"), "bronze": ("031",), "cast iron": ("033",)}


def metres(row: dict[str, Any], end: str) -> float:
    expected = row["expected"]
    feet = expected.get(f"surface_speed_sfm_{end}", expected.get("surface_speed_sfm"))
    return float(feet * FOOT_M if feet is not None else expected[f"surface_speed_m_min_{end}"])


def test_rows_are_there() -> None:
    assert len(ROWS) == 45


@pytest.mark.parametrize("number", ["005", "006", "007", "008", "009", "010", "042", "043", "044", "045"])
def test_turns_a_minute(number: str) -> None:
    row = ROWS[number]
    given = row["inputs"]
    feet = given.get("surface_speed_sfm", given.get("surface_speed_ft_min"))
    speed = feet * FOOT_M if feet is not None else given["surface_speed_m_min"]
    diameter = given["diameter_in"] * INCH_MM if "diameter_in" in given else given["diameter_mm"]
    # TM 1-420 rounds π/12 to 0.2618: two parts in a hundred thousand
    assert rpm_for(speed, diameter) == pytest.approx(row["expected"]["rpm"], abs=row["tolerance"]["abs"])


@pytest.mark.parametrize("units", list(Unit))
@pytest.mark.parametrize(("metal", "numbers"), TURNED.items())
def test_surface_speeds_for_turning(units: Unit, metal: str, numbers: tuple[str, ...]) -> None:
    carried = next(m.surface_speed_m_min for m in built_in_workshop(units).materials if m.name == metal)
    assert carried is not None
    assert carried <= max(metres(ROWS[n], "max") for n in numbers)
    assert carried >= 0.5 * min(metres(ROWS[n], "min") for n in numbers)


@pytest.mark.parametrize("units", list(Unit))
@pytest.mark.parametrize(("metal", "numbers"), DRILLED.items())
def test_surface_speeds_for_drilling(units: Unit, metal: str, numbers: tuple[str, ...]) -> None:
    carried = next(m.surface_speed_m_min for m in built_in_workshop(units).materials if m.name == metal)
    assert carried is not None
    assert carried * SHARE.get("drill", 1.0) <= max(metres(ROWS[n], "max") for n in numbers)
