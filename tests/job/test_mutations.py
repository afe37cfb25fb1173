"""Twenty thousand good files spoilt at random: each is read to a job or to faults with their places, never to an error."""

from __future__ import annotations

from collections import Counter

import pytest

from tests.job.mutations import JOB, Source, check, good_files, spoilt

SEEDS = range(20)
A_SEED = 1000
SIZED_EVERY = 4
"""Of the spoilt small jobs one in so many is sized as well, where it comes out good."""
SMALL = 700
"""Letters of a small job: to find what quarrels in a large one takes its time."""


@pytest.fixture(scope="module")
def sources() -> list[Source]:
    return good_files()


def test_the_good_files_are_good(sources: list[Source]) -> None:
    assert len([one for one in sources if one.kind == JOB]) >= 8
    assert {check(one, one.text.encode(), False) for one in sources} == {"good"}


@pytest.mark.parametrize("seed", SEEDS)
def test_a_spoilt_file_is_read_or_told(seed: int, sources: list[Source]) -> None:
    outcomes: Counter[str] = Counter()
    for number in range(A_SEED):
        source, data = spoilt(sources, seed, number)
        try:
            is_sized = source.kind == JOB and len(source.text) < SMALL and number % SIZED_EVERY == 0
            outcomes[check(source, data, is_sized)] += 1
        except Exception as error:
            raise AssertionError(f"{source.name}, seed {seed}, number {number}:\n{data!r}") from error
    assert outcomes["faults"] > A_SEED // 4
    assert outcomes["good"] > A_SEED // 20
    assert sum(count for name, count in outcomes.items() if name.startswith("good, ")) >= 5
