"""Which piece out of which bar: never over a bar, every piece once, as good as trying everything."""

from __future__ import annotations

import itertools
from random import Random

import pytest

from handwheel.sheets.whole.packing import Packing, pack


def cost(pieces: list[float], bars: list[float], places: tuple[int, ...]) -> tuple[float, int, float] | None:
    """Length left out, bars begun and their length of one way; None where a bar is too short for it."""
    for bar, long in enumerate(bars):
        if sum(p for p, at in zip(pieces, places, strict=True) if at == bar) > long + 1e-6:
            return None
    left = sum(p for p, at in zip(pieces, places, strict=True) if at < 0)
    begun = set(places) - {-1}
    return round(left, 6), len(begun), sum(bars[b] for b in begun)


def told(pieces: list[float], bars: list[float], found: Packing) -> tuple[float, int, float]:
    places = [-1] * len(pieces)
    for bar, mine in enumerate(found.bars):
        for k in mine:
            assert places[k] == -1
            places[k] = bar
    assert {k for k, at in enumerate(places) if at < 0} == set(found.left)
    mine_cost = cost(pieces, bars, tuple(places))
    assert mine_cost is not None
    return mine_cost


@pytest.mark.parametrize("seed", range(60))
def test_as_good_as_trying_every_way(seed: int) -> None:
    random = Random(seed)
    pieces = [float(random.randint(5, 60)) for _ in range(random.randint(1, 6))]
    bars = [float(random.randint(20, 110)) for _ in range(random.randint(1, 3))]
    ways = itertools.product(range(-1, len(bars)), repeat=len(pieces))
    best = min(c for c in (cost(pieces, bars, way) for way in ways) if c is not None)
    found = pack(pieces, bars)
    assert found.is_exact
    assert told(pieces, bars, found) == best


def test_longest_first_is_not_always_enough() -> None:
    # 44 + 30 + 26 and 40 + 34 + 26 fill two bars of 100; longest first puts 44 + 40 into one and leaves some over
    pieces, bars = [44.0, 40.0, 34.0, 30.0, 26.0, 26.0], [100.0, 100.0]
    assert told(pieces, bars, pack(pieces, bars)) == (0.0, 2, 200.0)


def test_a_spent_budget_is_said_and_what_is_found_still_fits() -> None:
    random = Random(7)
    pieces = [random.uniform(20.0, 70.0) for _ in range(40)]
    bars = [200.0] * 8
    found = pack(pieces, bars, budget=50)
    assert not found.is_exact
    told(pieces, bars, found)


def test_nothing_to_put_anywhere() -> None:
    assert pack([], [100.0]).used == 0
    assert pack([10.0], []).left == (0,)
