"""Parts drawn at random, planned: all that the contract asks of a plan holds, or it is refused with a reason.

`scripts/generated_routes.py` does the same with thousands.
"""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon

from tests.plan.generated.holds import found, wrong
from tests.plan.generated.parts import case

SEEDS = range(20, 110)


@pytest.mark.parametrize("seed", SEEDS)
def test_planned_as_the_contract_asks_or_refused_with_a_reason(seed: int) -> None:
    came = found(seed)
    assert came.word in ("planned", "refused"), f"{came}\n{case(seed).text}"
    assert not came.wrong, f"{came}\n{case(seed).text}"


@pytest.mark.parametrize("seed", range(200))
def test_what_is_drawn_at_random_is_a_part(seed: int) -> None:
    section = case(seed).section
    assert isinstance(section, Polygon)
    assert section.is_valid
    assert section.area > 1.0
    assert case(seed).text == case(seed).text


BAR = [[0.0, 0.0], [0.0, 6.0], [20.0, 6.0], [20.0, 0.0], [0.0, 0.0]]
THIN = [[0.0, 0.0], [0.0, 5.0], [20.0, 5.0], [20.0, 0.0], [0.0, 0.0]]
WAIST = [[0.0, 0.0], [0.0, 5.0], [8.0, 5.0], [8.0, 4.0], [12.0, 4.0], [12.0, 5.0], [20.0, 5.0], [20.0, 0.0], [0.0, 0.0]]


def entry(number: int, kind: str, outline: list[list[float]], low: float, high: float) -> dict[str, object]:
    grips = {"device": "three-jaw", "from_mm": low, "to_mm": high, "surface": "stock"}
    return {"number": number, "kind": kind, "outline_mm": outline, "grips": grips, "across": [], "readings": []}


def test_what_does_not_hold_is_seen() -> None:
    """The looking itself, on routes that are wrong in one way each."""
    one = case(0)
    drawn = {"quantity": 1, "outline_mm": THIN}
    order = [{"copies": [1], "number": 10}, {"copies": [1], "number": 20}]

    def said(*route: dict[str, object]) -> str:
        return "; ".join(wrong({**drawn, "route": list(route)}, order, one))

    stock = entry(0, "stock", BAR, 0.0, 0.0)
    assert "cut within the grip" in said(stock, entry(10, "turn", THIN, 2.0, 9.0), entry(20, "measure", THIN, 0.0, 0.0))
    assert "metal is left" in said(stock, entry(10, "saw", BAR, 2.0, 9.0), entry(20, "saw", BAR, 2.0, 9.0))
    assert "metal grows" in said(stock, entry(10, "turn", THIN, 30.0, 30.0), entry(20, "turn", BAR, 30.0, 30.0))
    assert "cut into the finished part" in said(stock, entry(10, "turn", WAIST, 30.0, 30.0))
    assert "not the stock" in said(entry(10, "turn", THIN, 30.0, 30.0))
    assert "goes through" in said(stock, entry(10, "turn", THIN, 30.0, 30.0))
    assert "not the drawn one" in said(stock)
    assert "without a reason" in said(stock, {**entry(10, "turn", THIN, 30.0, 30.0), "refused": "no"})
