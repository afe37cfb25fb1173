"""Dimension sets drawn at random from known parts: given back, called loose, repeated, or quarrelling; limits held.

`scripts/generated_drawings.py` runs any number of these; here a share of them runs every time, in blocks so that
workers share them.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from random import Random

import pytest

from tests.drawing.generated.check import Drawn, Verdict, case, given_back, one_added, one_removed, one_wrong
from tests.drawing.generated.limits import limits_held

EACH = 20
TRIALS: dict[str, tuple[int, Callable[[Drawn, Random], Verdict | None]]] = {
    "given back": (200, given_back),
    "one removed": (40, one_removed),
    "one added": (60, one_added),
    "one wrong": (40, partial(one_wrong, is_confirmed=False)),
    "limits": (60, limits_held),
}
BLOCKS = [(trial, start) for trial, (count, _) in TRIALS.items() for start in range(0, count, EACH)]


@pytest.mark.parametrize(("trial", "start"), BLOCKS)
def test_drawn_at_random(trial: str, start: int) -> None:
    wrong: dict[int, str] = {}
    for seed in range(start, start + EACH):
        one, _ = case(seed)
        verdict = TRIALS[trial][1](one, Random(seed))
        if verdict is not None and not verdict.right:
            wrong[seed] = f"seed {seed}: {verdict.word}: {verdict.note}\n{verdict.text}"
    assert not wrong, "\n".join(wrong.values())
