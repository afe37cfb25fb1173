"""Bending of the work against textbook beams: closed forms, and shared published examples named beside them."""

import math

import numpy as np
import pytest
from scipy.integrate import quad

from handwheel.stages.bending import Elastic, gives_mm_per_n, worst_give
from handwheel.stages.records import Holding, Section

E_GPA = 205.0
STEEL = Elastic(E_GPA, has_shear=False)
"""Bending alone, as textbooks reckon."""


def bar(*steps: tuple[float, float], bore: float = 0.0) -> Section:
    """Steps of (diameter, length) from the chuck at z 0 outward."""
    z, points = 0.0, []
    for diameter, length in steps:
        points += [[z, diameter / 2], [z + length, diameter / 2]]
        z += length
    return Section(np.array(points), np.array([[0.0, bore / 2], [z, bore / 2]]))


def held(centre: float | None = None, toward: str = "right", face: float = 0.0) -> Holding:
    return Holding("chuck", "three-jaw", face - 20.0, face, "stock", toward, face, centre_mm=centre)


def moment(diameter: float, bore: float = 0.0) -> float:
    return math.pi * (diameter**4 - bore**4) / 64


@pytest.mark.parametrize(("diameter", "length", "load", "wanted"), [(12, 100, 100, 0.15975), (20, 150, 200, 0.13975)])
def test_plain_overhang(diameter, length, load, wanted):
    # F L³/(3 E I): straight beams, elastic (handbook relation, from memory)
    found = load * gives_mm_per_n(bar((diameter, length)), held(), length, STEEL)
    assert found == pytest.approx(wanted, rel=1e-3)
    assert found == pytest.approx(load * length**3 / (3 * E_GPA * 1e3 * moment(diameter)), rel=1e-9)


@pytest.mark.parametrize(
    ("steps", "load", "wanted"),
    [(((20, 50), (12, 50)), 100, 0.03808), (((25, 100), (16, 80)), 200, 0.14198)],
)
def test_stepped_overhang(steps, load, wanted):
    # F/(3E)·[(L³ - b³)/I1 + b³/I2] (handbook relation, from memory)
    total = sum(length for _, length in steps)
    assert load * gives_mm_per_n(bar(*steps), held(), total, STEEL) == pytest.approx(wanted, rel=1e-3)


def test_hollow_overhang():
    found = 80 * gives_mm_per_n(bar((20, 120), bore=10), held(), 120, STEEL)
    assert found == pytest.approx(0.03053, rel=1e-3)


def test_propped_at_mid_span():
    # 7 F L³/(768 E I) (handbook relation, from memory)
    found = 150 * gives_mm_per_n(bar((20, 300)), held(centre=300), 150, STEEL)
    assert found == pytest.approx(7 * 150 * 300**3 / (768 * E_GPA * 1e3 * moment(20)), rel=1e-6)
    assert found == pytest.approx(0.02293, rel=1e-3)


def test_worst_with_a_centre_lies_about_six_tenths_out():
    places = np.linspace(10.0, 290.0, 281)
    _, where = worst_give(bar((20, 300)), held(centre=300), places, STEEL)
    # a²(L-a)²... greatest of a³(L-a)²(4L-a)/(12 E I L³): a/L = 0.586 = 2 - √2 from the clamp
    assert where / 300 == pytest.approx(2 - math.sqrt(2), abs=0.005)


def test_a_cone_against_quadrature():
    section = Section(np.array([[0.0, 8.0], [90.0, 4.0]]), np.array([[0.0, 0.0], [90.0, 0.0]]))

    def slope(x):
        return (90 - x) ** 2 / (E_GPA * 1e3 * math.pi / 4 * (8 - 4 * x / 90) ** 4)

    assert gives_mm_per_n(section, held(), 90.0, STEEL) == pytest.approx(quad(slope, 0, 90)[0], rel=1e-7)


def test_turned_round_it_bends_the_same():
    right = gives_mm_per_n(bar((20, 50), (12, 50)), held(), 100, STEEL)
    section = Section(np.array([[-100.0, 6], [-50, 6], [-50, 10], [0, 10]]), np.array([[-100.0, 0], [0, 0]]))
    assert gives_mm_per_n(section, held(toward="left"), -100, STEEL) == pytest.approx(right)


def test_within_the_grip_nothing_bends():
    assert gives_mm_per_n(bar((20, 50)), held(face=30.0), 10.0, STEEL) == 0.0
