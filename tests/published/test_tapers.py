"""Standard tapers, tapers per foot and set-overs against published rows.

Source: ISO 296 and ASME B5.10 (Morse), the Brown & Sharpe, Jarno and R8 tables; handbook tables of taper per foot
with its angle; handbook and textbook examples of top slide angle and tailstock set-over. Inches unless the key says mm.
Provenance of each row is in data/tapers.json: 'found' on a public page, or 'memory' of the standard.

Left out: the four Jacobs rows, which the project holds no table of. The handbook examples of set-over print the length
times (D - d) / 2l; ours is the length times the sine, as docs/setups.md says, so the row's own tolerance is kept where
the two agree within it and the tangent's excess is allowed for, by its own amount, where they do not.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from handwheel.setups.tapers import half_angle_deg, half_angle_of_ratio_deg, set_over_mm
from handwheel.tables.tapers import find_taper

ROWS: list[dict[str, Any]] = json.loads((Path(__file__).parent / "data" / "tapers.json").read_text("utf-8"))
NAMED = [r for r in ROWS if "taper" in r["inputs"] and not r["inputs"]["taper"].startswith(("Jacobs", "1 in"))]
PER_FOOT = [r for r in ROWS if "included_angle_dms" in r["expected"] and "taper_per_foot_in" in r["inputs"]]
EXAMPLES = [r for r in ROWS if r["note"].startswith("[example]")]
INCH = 25.4


def degrees(dms: list[float]) -> float:
    return dms[0] + dms[1] / 60.0 + dms[2] / 3600.0


def test_every_row_is_taken_or_named() -> None:
    jacobs = [r for r in ROWS if str(r["inputs"].get("taper", "")).startswith("Jacobs")]
    assert (len(NAMED), len(PER_FOOT), len(EXAMPLES), len(jacobs)) == (26, 12, 5, 4)
    assert len(ROWS) == 26 + 12 + 5 + 4


@pytest.mark.parametrize("row", NAMED, ids=lambda row: f"{row['id']} {row['inputs']['taper']}")
def test_named(row: dict[str, Any]) -> None:
    taper = find_taper(row["inputs"]["taper"])
    assert taper is not None
    printed = row["expected"]
    within = row["tolerance"]["abs"]
    if "taper_per_foot_in" in printed:
        places = len(str(printed["taper_per_foot_in"]).partition(".")[2])
        assert taper.taper * 12.0 == pytest.approx(printed["taper_per_foot_in"], abs=0.5000001 * 10.0**-places)
    if "ratio_1_in" in printed:
        assert 1.0 / taper.taper == pytest.approx(printed["ratio_1_in"], abs=0.002)
    if "half_angle_deg" in printed:
        assert taper.half_angle_deg == pytest.approx(printed["half_angle_deg"], abs=0.0001)
    if "included_angle_dms" in printed:
        assert 2.0 * taper.half_angle_deg == pytest.approx(degrees(printed["included_angle_dms"]), abs=1e-9)
    sizes = {"large_end_in": taper.large_mm, "small_end_in": taper.small_mm, "length_in": taper.length_mm}
    for key, ours in sizes.items():
        if key in printed:
            assert ours is not None
            assert ours / INCH == pytest.approx(printed[key], abs=within)


@pytest.mark.parametrize("row", PER_FOOT, ids=lambda row: str(row["id"]))
def test_taper_per_foot(row: dict[str, Any]) -> None:
    half = half_angle_of_ratio_deg(row["inputs"]["taper_per_foot_in"] / 12.0)
    within = row["tolerance"]["abs"] / 3600.0
    assert half == pytest.approx(degrees(row["expected"]["half_angle_dms"]), abs=within)
    assert 2.0 * half == pytest.approx(degrees(row["expected"]["included_angle_dms"]), abs=within)


@pytest.mark.parametrize("row", EXAMPLES, ids=lambda row: str(row["id"]))
def test_examples(row: dict[str, Any]) -> None:
    given, printed = row["inputs"], row["expected"]
    half = half_of(given)
    if "topslide_angle_dms" in printed:
        assert half == pytest.approx(degrees(printed["topslide_angle_dms"]), abs=30.0 / 3600.0)
    if "topslide_angle_deg" in printed:
        assert half == pytest.approx(printed["topslide_angle_deg"], abs=0.005)
    for unit in ("mm", "in"):
        if f"tailstock_setover_{unit}" in printed:
            over = printed[f"tailstock_setover_{unit}"]
            tangent_excess = over * (1.0 - math.cos(math.radians(half)))
            ours = set_over_mm(half, given[f"work_length_{unit}"])
            assert ours <= over + row["tolerance"]["abs"]
            assert ours == pytest.approx(over - tangent_excess, abs=row["tolerance"]["abs"])


def half_of(given: dict[str, Any]) -> float:
    if "taper_per_foot_in" in given:
        return half_angle_of_ratio_deg(given["taper_per_foot_in"] / 12.0)
    if given.get("taper") == "1 in 200":
        return half_angle_of_ratio_deg(1.0 / 200.0)
    large, small = (given.get(f"{d}_mm", given.get(f"{d}_in")) for d in ("D", "d"))
    return half_angle_deg(large, small, given.get("taper_length_mm", given.get("taper_length_in")))


def test_a_taper_the_table_does_not_hold() -> None:
    assert find_taper("No. 7 Morse") is None
    assert find_taper("No. 21 Jarno") is None
    assert find_taper("No. 2 Morse taper") == find_taper("morse 2")
