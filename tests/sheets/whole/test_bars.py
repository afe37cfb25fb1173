"""The cutting list against sums by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from handwheel.job.records import Unit
from handwheel.sheets.whole.bars import cutting_list, spares
from handwheel.sheets.whole.barspage import rounded_up
from handwheel.workshop.records import Bar
from tests.sheets.whole.jobs import laid_out, page_of, planned, shaft_job, texts


@pytest.mark.parametrize(("wanted", "more"), [(1, 1), (5, 1), (6, 1), (10, 1), (11, 2), (24, 3), (100, 10)])
def test_spares_are_one_for_up_to_five_then_one_in_ten(wanted: int, more: int) -> None:
    assert spares(wanted) == more


def test_length_of_bar_is_blanks_kerfs_and_a_last_grip() -> None:
    drawing, plan, shop = planned(shaft_job(quantity=12))
    lists = {one.cuts[0].part: one for one in cutting_list(drawing, plan, shop)}
    stock = next(p.stock for p in plan.parts if p.part == "shaft")
    one = lists["shaft"]
    assert (one.cuts[0].wanted, one.cuts[0].spare) == (12, 2)
    # sawn to the next whole millimetre; habits of the built-in workshop:
    # kerf 2 mm and 0.5 mm of wander a 25 mm of cut, least grip 8 mm
    kerf = 2.0 + 0.5 * stock.diameter_mm / 25.0
    assert one.kerf_mm == pytest.approx(kerf)
    assert one.total_mm == pytest.approx(14 * (math.ceil(stock.length_mm) + kerf) + 8.0)
    assert one.packing is None


def test_pieces_lie_in_bars_whose_length_is_known() -> None:
    drawing, plan, shop = planned(shaft_job(quantity=2))
    stock = next(p.stock for p in plan.parts if p.part == "shaft")
    kerf = 2.0 + 0.5 * stock.diameter_mm / 25.0
    two_long = 2 * (math.ceil(stock.length_mm) + kerf) + 8.0

    def shop_with(*lengths: float) -> object:
        bars = tuple(Bar("round", stock.diameter_mm, "free-cutting mild steel", "bar", None, None, long) for long in lengths)
        return replace(shop, bars=bars)

    found = cutting_list(drawing, plan, shop_with(two_long, two_long / 2 + 5.0))[0]  # type: ignore[arg-type]
    assert found.packing is not None
    assert [len(bar) for bar in found.packing.bars] == [2, 1]
    assert found.to_get_mm == 0.0
    short = cutting_list(drawing, plan, shop_with(two_long - 1.0))[0]  # type: ignore[arg-type]
    assert short.packing is not None
    assert len(short.packing.left) == 2
    assert short.to_get_mm == pytest.approx(2 * (math.ceil(stock.length_mm) + kerf) + 8.0)


def test_bar_is_rounded_up() -> None:
    assert rounded_up(25.4 * 2.01, Unit.INCH) == "2.1 in"
    assert rounded_up(100.2, Unit.MM) == "101 mm"
    assert rounded_up(100.0, Unit.MM) == "100 mm"


def test_the_page_says_pieces_and_spares() -> None:
    page = page_of(laid_out(shaft_job(quantity=12)), "Cutting list")
    said = texts(page)
    assert "12 + 2 spare" in said
    assert "2 + 1 spare" in said
