"""Bonded and pressed joints, allowances and clocking: closed forms, differential equations, and Monte Carlo."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import solve_bvp

from handwheel.tables.allowances import allowance_mm, allowance_names, gap_spread_mm, iso_gap_mm, spigot_for
from handwheel.tables.bonded import (
    bond,
    clocked_error_deg,
    compound_for,
    compounds,
    face_off_mm,
    gap_share,
    screw_thrust_n,
    used,
)
from handwheel.tables.metals import Metal, metal_of
from handwheel.tables.pressfit import growth_mm, holds, interference_for_mm, press_fit, rise_to_slip_on_k
from handwheel.tables.threads import find_thread


def metal(words: str) -> Metal:
    found = metal_of(words)
    assert found is not None
    return found


def cylinder(inside: float, outside: float, at_inside: float, at_outside: float, m: Metal) -> tuple[float, float]:
    """Radial movement of a thick ring's two faces under pressures, by solving its equation of balance. [mm]"""
    e, nu = m.e_mpa, m.poisson
    stiff = e / (1.0 - nu * nu)

    def slope(r: np.ndarray, y: np.ndarray) -> np.ndarray:
        u, du = y
        return np.vstack([du, u / r**2 - du / r])

    def ends(a: np.ndarray, b: np.ndarray) -> np.ndarray:
        inner = stiff * (a[1] + nu * a[0] / inside) + at_inside
        outer = stiff * (b[1] + nu * b[0] / outside) + at_outside
        return np.array([inner, outer])

    r = np.linspace(inside, outside, 200)
    found = solve_bvp(slope, ends, r, np.zeros((2, 200)), tol=1e-9, max_nodes=20000)
    assert found.success
    return float(found.y[0, 0]), float(found.y[0, -1])


@pytest.mark.parametrize(
    ("d", "od", "bore", "hub", "shaft"),
    [(12.0, 30.0, 6.0, "mild steel", "mild steel"), (16.0, 24.0, 10.0, "aluminium alloy", "bronze"),
     (20.0, 50.0, 4.0, "cast iron", "brass")],
)  # fmt: skip
def test_press_fit_against_the_equation_of_balance(d: float, od: float, bore: float, hub: str, shaft: str) -> None:
    tight = 0.02
    fit = press_fit(d, od, bore, tight, metal(hub), metal(shaft))
    assert fit is not None
    hub_in, hub_out = cylinder(d / 2, od / 2, fit.pressure_mpa, 0.0, metal(hub))
    shaft_in, shaft_out = cylinder(bore / 2, d / 2, 0.0, fit.pressure_mpa, metal(shaft))
    assert 2.0 * (hub_in - shaft_out) == pytest.approx(tight, rel=1e-5)
    assert fit.hub_grows_mm == pytest.approx(2.0 * hub_out, rel=1e-4)
    assert fit.bore_closes_mm == pytest.approx(-2.0 * shaft_in, rel=1e-4)
    assert interference_for_mm(fit.pressure_mpa, d, od, bore, metal(hub), metal(shaft)) == pytest.approx(tight)


def test_solid_shaft_of_the_same_metal() -> None:
    """p = E·δ/(2d)·(1 - (d/D)²), textbook form for equal metals and a solid shaft."""
    steel = metal("mild steel")
    fit = press_fit(12.0, 30.0, 0.0, 0.012, steel, steel)
    assert fit is not None
    assert fit.pressure_mpa == pytest.approx(steel.e_mpa * 0.012 / 24.0 * (1.0 - 0.16), rel=1e-12)
    assert fit.shaft_bore_hoop_mpa is None
    assert fit.bore_closes_mm is None
    force, torque = holds(fit.pressure_mpa, 12.0, 15.0, 0.12)
    assert force == pytest.approx(0.12 * fit.pressure_mpa * math.pi * 12.0 * 15.0)
    assert torque == pytest.approx(force * 6.0 / 1000.0)


def test_nothing_pressed_is_no_fit() -> None:
    steel = metal("mild steel")
    assert press_fit(12.0, 30.0, 0.0, 0.0, steel, steel) is None
    assert press_fit(12.0, 12.0, 0.0, 0.01, steel, steel) is None


def test_heat_to_slip_on() -> None:
    rise = rise_to_slip_on_k(25.0, 0.025, 0.02, metal("mild steel").expansion_per_k)
    assert rise == pytest.approx(150.0)  # 0.045 / (12e-6 · 25)
    assert growth_mm(25.0, rise, metal("mild steel").expansion_per_k) == pytest.approx(0.045)


@pytest.mark.parametrize(
    ("name", "at_6", "at_12", "at_25"),
    [("shrink", 0.022, 0.031, 0.050), ("force", 0.017, 0.022, 0.031), ("drive", 0.010, 0.013, 0.019),
     ("push", -0.006, -0.008, -0.013), ("slide", -0.010, -0.013, -0.019), ("precision running", -0.017, -0.021, -0.029),
     ("close running", -0.020, -0.025, -0.035), ("normal running", -0.034, -0.043, -0.063),
     ("easy running", -0.052, -0.065, -0.094)],
)  # fmt: skip
def test_amateur_classes_as_published_among_amateurs(name: str, at_6: float, at_12: float, at_25: float) -> None:
    for size, printed in ((6.0, at_6), (12.0, at_12), (25.0, at_25)):
        assert allowance_mm(name, size) == pytest.approx(printed, abs=0.001)


def test_classes_run_from_tight_to_loose() -> None:
    sizes = [allowance_mm(name, 12.0) for name in allowance_names()]
    assert None not in sizes
    assert sizes == sorted(sizes, key=lambda size: -float(size or 0.0))
    assert allowance_mm("wringing", 12.0) is None


def test_spigot_for_a_reamer_on_its_top_limit() -> None:
    """Hole measured 8.013 ± 0.004, gap 0.02 to 0.05 wanted: 8.013 - 0.05 + 0.004 to 8.013 - 0.02 - 0.004."""
    found = spigot_for(8.013, 0.004, (0.02, 0.05))
    assert found is not None
    assert (found.low_mm, found.high_mm) == pytest.approx((7.967, 7.989))
    assert spigot_for(8.013, 0.016, (0.02, 0.05)) is None
    # drawn h7 at 8 mm: 8.000 -0.015 +0
    assert spigot_for(8.013, 0.004, (0.02, 0.05), (7.985, 8.0)).drawn == "partly"  # type: ignore[union-attr]
    assert spigot_for(8.0, 0.004, (0.02, 0.05), (7.985, 8.0)).drawn == "outside"  # type: ignore[union-attr]


@pytest.mark.parametrize("size", [4.0, 8.0, 12.0, 25.0])
def test_spigot_limits_keep_the_gap_wherever_the_hole_lies(size: float) -> None:
    rng = np.random.default_rng(7)
    found = spigot_for(size + 0.008, 0.005, (0.02, 0.06))
    assert found is not None
    hole = size + 0.008 + rng.uniform(-0.005, 0.005, 20000)
    gap = hole - rng.uniform(found.low_mm, found.high_mm, 20000)
    assert gap.min() > 0.02 - 1e-9
    assert gap.max() < 0.06 + 1e-9
    assert gap.min() < 0.0215
    assert gap.max() > 0.0585


def test_drawn_h7_in_H7_leaves_from_nothing() -> None:
    """ISO 286-2 at 4 mm: H7 +12 0, h7 0 -12 um: gap 0 to 0.024, less than any bond is wanted at."""
    assert iso_gap_mm(4.0, "H7", "h7") == pytest.approx((0.0, 0.024))
    assert iso_gap_mm(4.0, "H7", "zz9") is None


def test_gap_spread_by_monte_carlo() -> None:
    rng = np.random.default_rng(11)
    hole, spigot = 0.012, 0.004
    worst, likely = gap_spread_mm(hole, spigot)
    gap = rng.normal(0.0, hole / 2.0, 400000) - rng.normal(0.0, spigot / 2.0, 400000)
    assert 2.0 * gap.std() == pytest.approx(likely, rel=0.01)
    uniform = rng.uniform(-hole, hole, 400000) - rng.uniform(-spigot, spigot, 400000)
    assert worst * 0.97 < np.abs(uniform).max() <= worst


def test_bonded_joint_by_hand() -> None:
    """Steel to steel, 8 by 10 at 0.03: area 80π mm²; 15·0.8/3 = 4 to 30·1/2 = 15 N/mm²."""
    thin = compounds()[0]
    joint = bond(thin, 8.0, 10.0, 0.03, (metal("mild steel"), metal("silver steel")))
    assert joint is not None
    assert joint.shear_mpa == pytest.approx((4.0, 15.0))
    assert joint.axial_n == pytest.approx((320.0 * math.pi, 1200.0 * math.pi))
    assert joint.torque_nm == pytest.approx((1.28 * math.pi, 4.8 * math.pi))


def test_bond_of_unknown_metal_is_wider_both_ways() -> None:
    thin = compounds()[0]
    known = bond(thin, 8.0, 10.0, 0.03, (metal("mild steel"), metal("brass")))
    unknown = bond(thin, 8.0, 10.0, 0.03, (metal("mild steel"), None))
    assert known is not None
    assert unknown is not None
    assert unknown.axial_n[0] < known.axial_n[0]
    assert unknown.axial_n[1] > known.axial_n[1]


def test_gap_tells_the_kind_and_takes_strength() -> None:
    thin = compounds()[0]
    assert gap_share(thin, 0.05) == 1.0
    assert gap_share(thin, 0.10) == pytest.approx(0.7)  # half way from 0.05 to 0.15: half way from 1 to 0.4
    assert gap_share(thin, 0.16) is None
    assert bond(thin, 8.0, 10.0, 0.005, (None, None)) is None
    assert [getattr(compound_for(gap), "kind", None) for gap in (0.005, 0.03, 0.2, 0.4, 0.6)] == [
        None, "thin retaining compound", "gap-filling retaining compound", "two-part epoxy", None]  # fmt: skip


def test_both_loads_at_once_lie_on_the_ellipse() -> None:
    joint = bond(compounds()[0], 8.0, 10.0, 0.03, (None, None))
    assert joint is not None
    for angle in (0.0, 0.4, 1.1, math.pi / 2):
        force, torque = joint.axial_n[0] * math.cos(angle) / 2.0, joint.torque_nm[0] * math.sin(angle) / 2.0
        assert used(joint, force, torque, False)[1] == pytest.approx(0.5)
    assert used(joint, joint.axial_n[0] * 9.0, joint.torque_nm[0] / 3.0, True)[1] == pytest.approx(1.0 / 3.0)


def test_thrust_of_a_screw() -> None:
    """Work done in one turn: 2π·T = F·P + friction along the helix; M6, 2 N·m, μ 0.1 and 0.2."""
    m6 = find_thread("M6")
    assert m6 is not None
    low, high = screw_thrust_n(m6, 2.0)
    for thrust, friction in ((high, 0.1), (low, 0.2)):
        work = thrust * 1.0 + thrust * friction / math.cos(math.radians(30.0)) * math.pi * (6.0 - 0.649519)
        assert work == pytest.approx(2.0 * math.pi * 2000.0, rel=1e-6)


def test_facing_a_lever_round() -> None:
    assert face_off_mm(1.0, 90.0) == pytest.approx(0.25)
    assert face_off_mm(25.4 / 20, 45.0) == pytest.approx(25.4 / 160)
    assert face_off_mm(1.0, -90.0) == pytest.approx(0.75)  # 90 degrees back is 270 further


def test_where_it_then_comes_tight_by_monte_carlo() -> None:
    rng = np.random.default_rng(3)
    faced, judged, pitch, wanted = 0.01, 3.0, 1.0, 70.0
    worst, likely = clocked_error_deg(pitch, faced, judged)
    angle = wanted + rng.normal(0.0, judged / 2.0, 400000)
    off = np.array([face_off_mm(pitch, 1.0)]) * angle + rng.normal(0.0, faced / 2.0, 400000)
    comes = 360.0 * off / pitch - wanted
    assert 2.0 * comes.std() == pytest.approx(likely, rel=0.01)
    assert worst == pytest.approx(6.6)
