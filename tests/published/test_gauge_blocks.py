"""Sets of gauge blocks and stacks against published rows.

Source: ISO 3650, BS 4311 and BS 888 set compositions; metrology texts for the stacks and the sine bar. Provenance of
each row is in data/gauge_blocks.json. Stacks are compared by their sum and number: other stacks may be as short.
One row of a sine bar's error gives no length of bar; five inches reproduces its figures.
"""

from __future__ import annotations

import json
import math
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from handwheel.setups.sinebar import fewest_blocks, sine_bar_angle_deg, sine_bar_stack_mm
from handwheel.tables.gaugeblocks import blocks_of

ROWS: list[dict[str, Any]] = json.loads((Path(__file__).parent / "data" / "gauge_blocks.json").read_text("utf-8"))
SETS = [r for r in ROWS if "pieces" in r["expected"]]
STACKS = [r for r in ROWS if "stack" in r["expected"]]
BARS = [r for r in ROWS if "sine_bar_in" in r["inputs"]]
SCALE = {"mm": Fraction(1), "in": Fraction(254, 10)}


def test_every_row_is_taken() -> None:
    assert (len(SETS), len(STACKS), len(BARS)) == (6, 3, 3)
    assert len(ROWS) == 12


@pytest.mark.parametrize("row", SETS, ids=lambda row: str(row["inputs"]["set"]))
def test_sets(row: dict[str, Any]) -> None:
    blocks = blocks_of(row["inputs"]["set"])
    assert blocks is not None
    printed: list[Fraction] = []
    for run in row["expected"]["series"]:
        first, step = Fraction(str(run["from"])), Fraction(str(run["step"] or 0))
        printed += [(first + k * step) * SCALE[row["expected"]["unit"]] for k in range(run["count"])]
        assert printed[-1] == Fraction(str(run["to"])) * SCALE[row["expected"]["unit"]]
    assert len(printed) == row["expected"]["pieces"]
    assert sorted(blocks) == sorted(printed)


@pytest.mark.parametrize("row", STACKS, ids=lambda row: str(row["id"]))
def test_stacks(row: dict[str, Any]) -> None:
    scale = float(SCALE[row["inputs"]["unit"]])
    blocks = blocks_of(row["inputs"]["set"])
    protectors = 2 * row["inputs"].get("protectors_mm", 0.0)
    assert blocks is not None
    stack = fewest_blocks(row["inputs"]["target"] * scale - protectors, [float(b) for b in blocks], 1e-5)
    assert stack is not None
    assert stack.makes_mm == pytest.approx(sum(row["expected"]["stack"]) * scale - protectors, abs=1e-9)
    assert len(stack.blocks_mm) + (2 if protectors else 0) == row["expected"]["count"]


@pytest.mark.parametrize("row", BARS, ids=lambda row: str(row["id"]))
def test_sine_bars(row: dict[str, Any]) -> None:
    centres = row["inputs"]["sine_bar_in"] * 25.4
    angle = row["inputs"]["angle_deg"]
    ours = sine_bar_stack_mm(angle, centres)
    if "stack_in" in row["expected"]:
        assert ours / 25.4 == pytest.approx(row["expected"]["stack_in"], abs=row["tolerance"]["abs"])
        assert math.isclose(sine_bar_angle_deg(ours, centres), angle)
    else:
        off = sine_bar_angle_deg(ours + row["inputs"]["stack_error_in"] * 25.4, centres) - angle
        assert off == pytest.approx(row["expected"]["angle_error_deg"], abs=row["tolerance"]["abs"])
