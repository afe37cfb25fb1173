"""Bending between two centres, and with a fixed steady, against closed forms and a beam solved by finite differences."""

from __future__ import annotations

import math

import numpy as np
import pytest

from handwheel.stages.bending import Elastic, even_diameter_mm, gives_mm_per_n
from handwheel.stages.records import STEADY_HALF_MM, Holding, Section

E_GPA = 205.0
STEEL = Elastic(E_GPA, has_shear=False)
"""Bending alone, as textbooks reckon."""


def bar(*steps: tuple[float, float]) -> Section:
    """Steps of (diameter, length) from z 0 on."""
    z, points = 0.0, []
    for diameter, length in steps:
        points += [[z, diameter / 2], [z + length, diameter / 2]]
        z += length
    return Section(np.array(points), np.array([[0.0, 0.0], [z, 0.0]]))


def between(head: float, tail: float) -> Holding:
    toward = "right" if tail > head else "left"
    return Holding("between centres", "between centres", head, head, "stock", toward, head, centre_mm=tail,
                   headstock_centre_mm=head)  # fmt: skip


def moment(diameter: float) -> float:
    return math.pi * diameter**4 / 64


@pytest.mark.parametrize("share", [0.1, 0.5, 0.8])
@pytest.mark.parametrize("ends", [(0.0, 240.0), (240.0, 0.0)])
def test_plain_bar_on_two_supports(share: float, ends: tuple[float, float]) -> None:
    """F a² b² / 3 E I L, Roark's and every handbook's simple beam; at the middle F L³ / 48 E I."""
    head, tail = ends
    length, a = 240.0, share * 240.0
    found = gives_mm_per_n(bar((14, 240)), between(head, tail), head + share * (tail - head), STEEL)
    assert found == pytest.approx(a**2 * (length - a) ** 2 / (3 * E_GPA * 1e3 * moment(14) * length), rel=1e-9)


def test_stepped_bar_on_two_supports_against_finite_differences() -> None:
    steps = ((10, 60), (16, 90), (8, 50))
    tool, n = 130.0, 8001
    x = np.linspace(0.0, 200.0, n)
    h = x[1]
    sizes = np.select([x < 60, x < 150], [10.0, 16.0], 8.0)
    load = np.where(x < tool, x * (200.0 - tool) / 200.0, tool * (200.0 - x) / 200.0)
    curve = load / (E_GPA * 1e3 * np.pi * sizes**4 / 64)
    # y'' = -M/EI with y = 0 at both ends: tridiagonal, solved by sweeping
    d, rhs = np.full(n - 2, 2.0), curve[1:-1] * h * h
    for i in range(1, n - 2):
        w = -1.0 / d[i - 1]
        d[i] += w
        rhs[i] -= w * rhs[i - 1]
    y = np.zeros(n)
    for i in range(n - 3, -1, -1):
        y[i + 1] = (rhs[i] + y[i + 2]) / d[i]
    found = gives_mm_per_n(bar(*steps), between(0.0, 200.0), tool, STEEL)
    assert found == pytest.approx(float(np.interp(tool, x, y)), rel=2e-3)


def test_the_even_bar_of_an_even_bar_is_itself() -> None:
    assert even_diameter_mm(bar((12.5, 300)), 300.0, 0.0) == pytest.approx(12.5, rel=1e-9)


def test_overhang_beyond_a_fixed_steady() -> None:
    """Clamped at 0, propped at b, pushed a beyond the prop: F a² (3b + 4a) / 12 E I."""
    a, b = 40.0, 120.0
    holding = Holding("chuck", "three-jaw", -20.0, 0.0, "stock", "right", 0.0, steady_mm=b)
    found = gives_mm_per_n(bar((15, 200)), holding, a + b, STEEL)
    assert found == pytest.approx(a**2 * (3 * b + 4 * a) / (12 * E_GPA * 1e3 * moment(15)), rel=1e-9)


def test_steady_and_centre_together_are_stiffer_than_either() -> None:
    base = Holding("chuck", "three-jaw", -20.0, 0.0, "stock", "right", 0.0)
    section = bar((10, 200))
    give = {name: gives_mm_per_n(section, Holding(base.device, base.kind, -20.0, 0.0, "stock", "right", 0.0,
                                                  centre_mm=centre, steady_mm=steady), 150.0, STEEL)
            for name, centre, steady in (("none", None, None), ("centre", 200.0, None), ("steady", None, 100.0),
                                         ("both", 200.0, 100.0))}  # fmt: skip
    assert give["both"] < min(give["centre"], give["steady"])
    assert max(give["centre"], give["steady"]) < give["none"]


def test_nothing_is_cut_within_the_width_of_a_steady() -> None:
    right = Holding("chuck", "three-jaw", -20.0, 0.0, "stock", "right", 0.0, steady_mm=100.0)
    left = Holding("chuck", "three-jaw", 200.0, 220.0, "stock", "left", 200.0, steady_mm=100.0)
    assert right.front_mm == 100.0 + STEADY_HALF_MM
    assert left.front_mm == 100.0 - STEADY_HALF_MM
