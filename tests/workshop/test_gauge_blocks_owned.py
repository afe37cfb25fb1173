"""Gauge blocks and a sine bar in a workshop file: by the set's name, as a list, not at all, and wrongly."""

from __future__ import annotations

from importlib import resources

import pytest

from handwheel.workshop.read import read_workshop

METRIC = resources.files("handwheel.workshop").joinpath("data", "metric.yaml").read_text("utf-8")


def shop_with(blocks: str) -> bytes:
    kept = [line for line in METRIC.splitlines() if not line.startswith(("gauge blocks:", "sine bar:"))]
    return "\n".join([*kept, *blocks.splitlines(), ""]).encode()


@pytest.mark.parametrize(
    ("text", "expected", "bar"),
    [
        ("gauge blocks: [1 to 1.3 by 0.1, 10, 1/2 in]\nsine bar: 100", [1.0, 1.1, 1.2, 1.3, 10.0, 12.7], 100.0),
        ("gauge blocks: none\nsine bar: 5 in", [], 127.0),
        ("", [], None),
    ],
)
def test_as_written(text: str, expected: list[float], bar: float | None) -> None:
    shop, faults = read_workshop(shop_with(text), "shop.yaml")
    assert faults == ()
    assert shop is not None
    assert sorted(shop.gauge_blocks_mm) == pytest.approx(expected)
    assert shop.sine_bar_mm == bar


def test_a_set_by_its_name() -> None:
    """M88: 88 blocks that add up to 1.0005 + 9.045 + 61.005 ... worked out by sums of the printed runs."""
    shop, _ = read_workshop(shop_with("gauge blocks: M88"), "shop.yaml")
    assert shop is not None
    assert len(shop.gauge_blocks_mm) == 88
    runs = 1.0005 + 9 * 1.005 + 49 * 1.25 + 19 * 5.0 + 10 * 55.0
    assert sum(shop.gauge_blocks_mm) == pytest.approx(runs)


def test_a_set_nobody_knows() -> None:
    shop, faults = read_workshop(shop_with("gauge blocks: M89"), "shop.yaml")
    assert shop is None
    line = len(shop_with("").decode().splitlines()) + 1
    assert faults[0].line().startswith(
        f"shop.yaml:{line}:15: 'M89' is no set of gauge blocks that the tables hold; ")
