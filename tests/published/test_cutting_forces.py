"""The main cutting force against two handbooks found in print, each independent of the table's own source.

Machinery's Handbook's power constants hold for a feed of 0.012 in a turn (its feed factor 1, from memory); Carvill's page
does not say for which feed its constants are, so the rough feeds of the same page are taken. Both are compared as the project
uses the force: within half and twice.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from thread_rows import rows_of

from handwheel.tables.cutting import cutting_of

ROWS = rows_of("cutting")
POWER = [row for row in ROWS if "kw_per_cm3_s" in row["expected"]]
CONSTANTS = [row for row in ROWS if "k_n_mm2" in row["expected"]]
HP_W, INCH_MM = 745.7, 25.4


def name(row: dict[str, Any]) -> str:
    return f"{row['id']} {row['inputs']['material']}"


def specific_n_mm2(material: str, feed_mm: float) -> float:
    found = cutting_of(material)
    assert found is not None
    return found.force_n(1.0, feed_mm) / feed_mm


def test_rows_are_there() -> None:
    assert (len(POWER), len(CONSTANTS)) == (12, 5)


@pytest.mark.parametrize("row", POWER, ids=name)
def test_power_constants(row: dict[str, Any]) -> None:
    """1 kW for each cm³/s is 1000 N/mm²; the row's two columns are the same figure in two units."""
    metric = row["expected"]["kw_per_cm3_s"]
    assert row["expected"]["hp_per_in3_min"] * HP_W * 60.0 / INCH_MM**3 == pytest.approx(metric, rel=row["tolerance"]["rel"])
    ratio = specific_n_mm2(row["inputs"]["material"], 0.012 * INCH_MM) / (1000.0 * metric)
    assert 0.5 < ratio < 2.0


@pytest.mark.parametrize("row", CONSTANTS, ids=name)
def test_constants_of_turning(row: dict[str, Any]) -> None:
    low, high = row["inputs"]["rough_feed_mm_rev"] or (0.3, 0.3)
    ratio = specific_n_mm2(row["inputs"]["material"], math.sqrt(low * high)) / row["expected"]["k_n_mm2"]
    assert 0.5 < ratio < 2.0


def test_the_order_of_the_metals_is_the_handbooks() -> None:
    """Free-cutting steel takes less than mild steel, aluminium less than brass, tool steel most: both handbooks."""
    metals = ("aluminium", "brass", "free-cutting mild steel", "mild steel", "tool steel")
    at = {words: specific_n_mm2(words, 0.3) for words in metals}
    assert list(at) == sorted(at, key=at.__getitem__)
