"""What sticks out, what is left over, what counts as the same: amounts known beforehand."""

import numpy as np
import pytest

from handwheel.stages.compare import excess, is_inside, same
from handwheel.stages.metal import apply, round_bar, tube
from handwheel.stages.records import Bore, Cutter, Section, Sweep

POINT = Cutter("point", "pointed", np.array([[0.0, 0.0], [1.0, 9.0], [-1.0, 9.0]]))
SQUARE = Cutter("square", "parting", np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 20.0], [0.0, 20.0]]))


def turned(z0: float, z1: float, radius: float) -> Section:
    path = np.array([[z0, radius], [z1 - 2.0, radius]])
    return apply(round_bar(20, 0, 40), Sweep(path), SQUARE)


def test_sticking_out_is_measured_on_the_radius() -> None:
    finished, stage = turned(20, 42, 8.0), turned(20, 42, 7.7)
    assert is_inside(finished, stage) == pytest.approx(0.3, abs=1e-12)
    assert is_inside(stage, finished) == 0.0
    assert is_inside(finished, finished) == 0.0


def test_sticking_out_of_a_bore_and_past_an_end() -> None:
    assert is_inside(tube(20, 6, 0, 40), tube(20, 6.4, 0, 40)) == pytest.approx(0.2)
    assert is_inside(round_bar(20, 0, 40), round_bar(30, 0.15, 60)) == pytest.approx(0.15)
    assert is_inside(round_bar(20, 0, 40), round_bar(30, -5, 39.9)) == pytest.approx(0.1)


def test_a_shoulder_off_by_noise_is_not_metal() -> None:
    finished, stage = turned(20, 42, 8.0), turned(20 - 1e-8, 42, 8.0)
    assert is_inside(finished, stage) == 0.0
    assert is_inside(finished, turned(20 - 0.01, 42, 8.0)) == pytest.approx(2.0)


def test_excess_says_how_much_and_where() -> None:
    finished = turned(20, 42, 8.0)
    amount, z, r = excess(round_bar(21, 0, 40), finished)
    assert amount == pytest.approx(2.5)
    assert 20 <= z <= 40
    assert r == pytest.approx(10.5)
    assert excess(finished, finished)[0] == 0.0
    assert excess(round_bar(20, 0, 43), round_bar(20, 0, 40))[:2] == (10.0, 40.0)


def test_excess_in_a_bore_still_to_be_cut() -> None:
    bar = round_bar(20, 0, 40)
    bored = apply(bar, Bore(np.array([[30.0, 3.0], [40.0, 3.0]])), POINT)
    amount, z, r = excess(bar, bored)
    assert amount == pytest.approx(3.0)
    assert 30 <= z <= 40
    assert r == 0.0


def test_same_within_two_microns() -> None:
    a = turned(20, 42, 8.0)
    assert same(a, turned(20, 42, 8.0015))
    assert same(a, turned(20.0015, 42, 8.0))
    assert not same(a, turned(20, 42, 8.003))
    assert not same(a, turned(20.01, 42, 8.0))
    assert not same(a, round_bar(20, 0, 40))
    assert not same(tube(20, 4, 0, 40), tube(20, 4.01, 0, 40))


def test_many_narrow_strips_are_not_the_same() -> None:
    z = np.repeat(np.arange(0.0, 40.0, 0.0019), 2)
    comb = Section(np.column_stack([z, np.tile([10.0, 5.0, 5.0, 10.0], len(z) // 4 + 1)[: len(z)]]),
                   np.array([[0.0, 0.0], [z[-1], 0.0]]))
    assert not same(round_bar(20, 0, float(z[-1])), comb)
