"""A chuck's own give: read as the movement at 50 N, unknown where it is not written, and counted at the cut."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from handwheel.job.records import Unit
from handwheel.plan.springs import chuck_give
from handwheel.stages.records import Holding
from handwheel.workshop.read import built_in_workshop, read_workshop

DATA = Path(__file__).parents[2] / "src/handwheel/workshop/data"
WRITTEN = {Unit.MM: ("metric.yaml", "    jaw height: 42\n"), Unit.INCH: ("inch.yaml", "    greatest speed: unknown\n")}


def with_give(units: Unit, value: str) -> bytes:
    name, after = WRITTEN[units]
    text = (DATA / name).read_text("utf-8")
    assert after in text
    return text.replace(after, f"{after}    give at 50 N: {value}\n", 1).encode()


@pytest.mark.parametrize(("units", "value", "mm_per_n"), [
    (Unit.MM, "0.005", 0.0001), (Unit.INCH, "0.0002", 0.0002 * 25.4 / 50), (Unit.MM, "0.0002 in", 0.0002 * 25.4 / 50),
    (Unit.MM, "unknown", None),
])  # fmt: skip
def test_it_is_read_as_movement_at_50_n(units: Unit, value: str, mm_per_n: float | None) -> None:
    shop, faults = read_workshop(with_give(units, value), "shop.yaml")
    assert shop is not None, faults
    found = next((c.give_mm_per_n for c in shop.chucks if c.give_mm_per_n is not None), None)
    assert found == (None if mm_per_n is None else pytest.approx(mm_per_n))


@pytest.mark.parametrize("value", ["0", "-0.001", "5 N", "stiff"])
def test_what_is_no_movement_is_a_fault(value: str) -> None:
    shop, faults = read_workshop(with_give(Unit.MM, value), "shop.yaml")
    assert shop is None or faults
    assert faults[0].span.file == "shop.yaml"


def test_it_counts_only_for_the_chuck_it_was_measured_of() -> None:
    shop = built_in_workshop(Unit.MM)
    jaws = Holding("100 mm three-jaw chuck", "three-jaw", -20.0, 0.0, "stock", "right", 0.0)
    assert chuck_give(jaws, shop) is None
    chucks = tuple(replace(c, give_mm_per_n=1e-4) if c.kind == "three-jaw" else c for c in shop.chucks)
    known = replace(shop, chucks=chucks)
    assert chuck_give(jaws, known) == 1e-4
    assert chuck_give(replace(jaws, device="collet chuck", kind="collet"), known) is None
    second = replace(chucks[0], name="old three-jaw chuck", give_mm_per_n=None)
    two = replace(known, chucks=(*chucks, second))
    assert chuck_give(jaws, two) == 1e-4
    assert chuck_give(replace(jaws, device="old three-jaw chuck"), two) is None
    assert chuck_give(replace(jaws, device="a three-jaw chuck"), two) is None  # which of the two is not known
