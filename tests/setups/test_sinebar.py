"""Fewest gauge blocks: against every subset of a small set, and the same whatever the order of the blocks."""

from __future__ import annotations

import random
from itertools import combinations

import pytest

from handwheel.setups.sinebar import (
    block_and_stack,
    fewest_blocks,
    finest_step_mm,
    sine_bar_angle_deg,
    sine_bar_stack_mm,
)
from handwheel.tables.gaugeblocks import blocks_of

SMALL = (1.005, 1.01, 1.02, 1.03, 1.05, 1.1, 1.3, 1.5, 2.0, 3.0, 7.0, 10.0, 20.0)


def by_trying_all(wanted: float, within: float) -> tuple[int, float] | None:
    """Number of blocks and distance of the best stack, from every subset of up to six."""
    for count in range(1, 7):
        off = min(abs(sum(some) - wanted) for some in combinations(SMALL, count))
        if off <= within + 1e-9:
            return count, off
    return None


@pytest.mark.parametrize("within", [0.0025, 0.06])
@pytest.mark.parametrize("seed", range(25))
def test_no_stack_is_shorter_or_nearer(seed: int, within: float) -> None:
    wanted = random.Random(seed).uniform(1.0, 45.0)
    best, ours = by_trying_all(wanted, within), fewest_blocks(wanted, SMALL, within)
    if best is None:
        assert ours is None
        return
    assert ours is not None
    assert len(ours.blocks_mm) == best[0]
    assert abs(ours.makes_mm - wanted) == pytest.approx(best[1], abs=1e-9)
    assert len(set(ours.blocks_mm)) == len(ours.blocks_mm)
    assert sum(ours.blocks_mm) == pytest.approx(ours.makes_mm, abs=1e-9)
    assert set(ours.blocks_mm) <= set(SMALL)


def test_the_order_of_the_blocks_does_not_matter() -> None:
    turned = list(SMALL)
    random.Random(1).shuffle(turned)
    assert fewest_blocks(24.335, turned, 0.0025) == fewest_blocks(24.335, SMALL, 0.0025)


def test_a_whole_set_makes_any_height_to_a_tenth() -> None:
    blocks = [float(b) for b in blocks_of("81-piece inch") or ()]
    for thou in (4330, 1021, 2743, 8999):
        stack = fewest_blocks(thou * 0.0254, blocks, 0.0254e-2)
        assert stack is not None
        assert stack.makes_mm == pytest.approx(thou * 0.0254, abs=0.0254e-2)


def test_nothing_makes_a_height_beyond_the_blocks() -> None:
    assert fewest_blocks(0.2, SMALL, 0.0025) is None
    assert fewest_blocks(500.0, SMALL, 0.0025) is None
    assert finest_step_mm(SMALL) == pytest.approx(0.005)
    assert finest_step_mm((5.0,)) is None


def test_the_bar_and_its_ends() -> None:
    assert sine_bar_stack_mm(30.0, 100.0) == pytest.approx(50.0)
    assert sine_bar_angle_deg(50.0, 100.0) == pytest.approx(30.0)
    with pytest.raises(ValueError, match="set the complement from a square"):
        sine_bar_stack_mm(61.0, 100.0)
    with pytest.raises(ValueError, match="does not go under a bar"):
        sine_bar_angle_deg(101.0, 100.0)


@pytest.mark.parametrize("wanted", [0.045, 0.28, 0.575, 0.73, 1.1])
def test_a_low_height_is_a_stack_beside_a_block(wanted: float) -> None:
    """Against every block with every subset of the others of up to three."""
    found = block_and_stack(wanted, SMALL, 0.0025)
    assert found is not None
    under, stack = found
    assert stack.makes_mm - under == pytest.approx(wanted, abs=0.0025 + 1e-9)
    assert under in SMALL
    assert under not in stack.blocks_mm
    fewest = next(
        count for count in (1, 2, 3, 4, 5)
        if any(abs(sum(some) - base - wanted) <= 0.0025 + 1e-9
               for base in SMALL for some in combinations([b for b in SMALL if b != base], count)))  # fmt: skip
    assert len(stack.blocks_mm) == fewest
