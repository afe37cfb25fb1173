"""Parts drawn at random that were sized wrongly once, by their seeds: judged by their own closed forms as all are."""

import warnings
from random import Random

import pytest

from tests.drawing.generated.check import case, given_back, one_wrong
from tests.drawing.generated.limits import limits_held


@pytest.mark.parametrize("seed", [75, 78, 1103, 10351, 10416])
def test_given_back_or_both_told(seed: int) -> None:
    """Among them cones that narrow either way, the sizes beside them being found."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")  # nothing is printed beside faults
        verdict = given_back(case(seed)[0], Random(seed))
    assert verdict.right, verdict.note + verdict.text


@pytest.mark.parametrize("seed", [118, 148, 395, 507, 605])
def test_limits_at_the_true_corner(seed: int) -> None:
    """Among them sizes that bend so that each end of one limit looks the better from where it is."""
    verdict = limits_held(case(seed)[0], Random(seed))
    assert verdict is None or verdict.right, verdict.note + verdict.text


@pytest.mark.parametrize("seed", [2, 11, 17])
def test_nothing_printed_beside_faults(seed: int) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        verdict = one_wrong(case(seed)[0], Random(seed))
    assert verdict is None or verdict.right, verdict.note + verdict.text
