"""Dimension sets drawn at random from known parts: given back, called loose, repeated, or quarrelling.

`scripts/generated_drawings.py` runs any number of these; here a share of them runs every time.
"""

from __future__ import annotations

from random import Random

import pytest

from tests.drawing.generated.check import Verdict, case, given_back, one_added, one_removed, one_wrong

BLOCKS = 20
EACH = 20
"""Parts a block; a block is one test, so that workers share them."""


def shown(seed: int, verdict: Verdict) -> str:
    return f"seed {seed}: {verdict.word}: {verdict.note}\n{verdict.text}"


@pytest.mark.parametrize("block", range(BLOCKS))
def test_a_part_is_given_back_by_its_dimensions(block: int) -> None:
    wrong = []
    for seed in range(block * EACH, block * EACH + EACH):
        one, _ = case(seed)
        verdict = given_back(one, Random(seed))
        wrong += [] if verdict.right else [shown(seed, verdict)]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("block", range(BLOCKS // 2))
def test_one_left_out_is_told_at_what_moves(block: int) -> None:
    wrong = []
    for seed in range(block * EACH, block * EACH + EACH):
        one, _ = case(seed)
        verdict = one_removed(one, Random(seed))
        wrong += [] if verdict.right else [shown(seed, verdict)]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("block", range(BLOCKS // 2))
def test_one_too_many_is_told_with_those_that_say_it_already(block: int) -> None:
    wrong = []
    for seed in range(block * EACH, block * EACH + EACH):
        one, _ = case(seed)
        verdict = one_added(one, Random(seed))
        wrong += [] if verdict is None or verdict.right else [shown(seed, verdict)]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("block", range(BLOCKS))
def test_one_wrong_is_told_among_those_that_quarrel(block: int) -> None:
    wrong = []
    for seed in range(block * EACH, block * EACH + EACH):
        one, _ = case(seed)
        verdict = one_wrong(one, Random(seed))
        wrong += [] if verdict is None or verdict.right else [shown(seed, verdict)]
    assert not wrong, "\n".join(wrong)
