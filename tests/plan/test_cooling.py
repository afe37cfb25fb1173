"""Cooling: a textbook's worked example, the equation stepped through by a general solver, and what the sheet says of it."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from handwheel.plan.warmth import depth_mm
from handwheel.stages.records import Section
from handwheel.tables.cooling import cools_in_air_s, cools_s

from .test_warmth import PIN, notes


def test_worked_example_of_a_thermocouple() -> None:
    """Incropera and DeWitt, example 5.1 (from memory): a bead of 0.706 mm, 8500 kg/m³, 400 J/kgK, 400 W/m²K, from 25 in gas of
    200 to 199 °C takes 5.2 s."""
    found = cools_s(0.706 / 6.0, 8500.0, 400.0, 400.0, (200.0 - 25.0) / (200.0 - 199.0))
    assert found == pytest.approx(5.2, abs=0.05)


def test_a_steel_bar_by_a_general_solver() -> None:
    """Ø 12, 7850 kg/m³, 20 K warmer, down to 4: 430 J/kgK at 20 W/m²K to 490 at 8."""
    found = cools_in_air_s("mild steel", 12.0 / 4.0, 20.0 / 4.0)
    assert found is not None

    def reached(heat: float, given_off: float) -> float:
        def cold(_t: float, warmer: np.ndarray) -> float:
            return float(warmer[0]) - 4.0

        cold.terminal = True  # type: ignore[attr-defined]
        done = solve_ivp(lambda _t, w: -given_off * math.pi * 0.012 * w / (7850.0 * math.pi / 4 * 0.012**2 * heat),
                         (0.0, 1e5), [20.0], events=cold, rtol=1e-8, atol=1e-9)  # fmt: skip
        return float(done.t_events[0][0])

    assert found == pytest.approx((reached(430.0, 20.0), reached(490.0, 8.0)), rel=1e-4)


@pytest.mark.parametrize("material", ["", "a metal", "titanium", "hardened steel"])
def test_an_unknown_metal_has_no_time(material: str) -> None:
    assert cools_in_air_s(material, 3.0, 5.0) is None


def test_volume_over_surface() -> None:
    """A cylinder d long and d across: d/6. A tube: (R² - r²)L / 2(R + r)(L + R - r). A cone of slant s: R²h/3 over R·s + R²."""
    plain = Section(np.array([[0.0, 6.0], [12.0, 6.0]]), np.array([[0.0, 0.0], [12.0, 0.0]]))
    assert depth_mm(plain) == pytest.approx(2.0)
    tube = Section(np.array([[0.0, 10.0], [60.0, 10.0]]), np.array([[0.0, 5.0], [60.0, 5.0]]))
    assert depth_mm(tube) == pytest.approx((100 - 25) * 60 / (2 * 15 * (60 + 5)))
    cone = Section(np.array([[0.0, 8.0], [15.0, 0.0]]), np.array([[0.0, 0.0], [15.0, 0.0]]))
    assert depth_mm(cone) == pytest.approx(8 * 8 * 15 / 3 / (8 * 17 + 64))


def test_the_row_says_how_long() -> None:
    """Ø 12 within ± 0.004: a quarter of 0.008 is 0.002, 20 K are 0.0029 over; ln 1.44 of the time constant, some minutes."""
    found = notes(PIN)
    low, high = map(int, re.search(r"still air takes (\d+) to (\d+) min", found[0]).groups())  # type: ignore[union-attr]
    grows = 12 * 20 * 12e-6
    for said, heat, given_off in ((low, 430.0, 20.0), (high, 490.0, 8.0)):
        longest = 7850 * heat * 0.020 / 4 / given_off * math.log(grows / 0.002) / 60
        assert 0.4 * longest <= said <= longest + 1.0  # the piece is between Ø 12 and Ø 20, its ends cool it as well
