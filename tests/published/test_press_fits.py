"""Interference fits: worked examples of Bhandari, Design of Machine Elements, examples 22.6 and 3.3.

Provenance 'found' in a collection of the textbook's worked results. In example 22.6 the stress limit is taken at the
jacket's bore in tension, so the pressure is that limit over (D² + d²)/(D² - d²), and the two tubes are of one steel.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from thread_rows import rows_of

from handwheel.tables.allowances import iso_gap_mm
from handwheel.tables.metals import metal_of
from handwheel.tables.pressfit import holds, interference_for_mm, press_fit, rise_to_slip_on_k

ROWS = {row["id"]: row for row in rows_of("press_fits")}


def test_rows_are_there() -> None:
    assert {i for i, row in ROWS.items() if "computed" not in row["note"]} == {
        "fits_press-s001", "fits_press-s002", "fits_press-h001"}  # fmt: skip
    assert len(ROWS) == 10


def test_compound_tube() -> None:
    row = ROWS["fits_press-s001"]
    given, wanted = row["inputs"], row["expected"]
    steel = metal_of("mild steel")
    assert steel is not None
    steel = replace(steel, e_mpa=float(given["E_MPa"]))
    sizes = given["interface_dia_mm"], given["jacket_od_mm"], given["tube_id_mm"]
    interference = interference_for_mm(wanted["contact_pressure_MPa"], *sizes, steel, steel)
    assert interference == pytest.approx(wanted["diametral_interference_mm"], abs=1e-5)
    fit = press_fit(*sizes, wanted["diametral_interference_mm"], steel, steel)
    assert fit is not None
    assert fit.hub_hoop_mpa == pytest.approx(given["max_principal_stress_MPa"], abs=0.01)
    assert fit.pressure_mpa == pytest.approx(wanted["contact_pressure_MPa"], abs=0.01)
    assert fit.shaft_bore_hoop_mpa == pytest.approx(-102.6, abs=0.05)  # the row's note


@pytest.mark.parametrize("which", ["fits_press-s002", "fits_press-h001"])
def test_tight_fit_of_a_shaft_and_hole(which: str) -> None:
    """H7 and s6 at 50 mm have the example's deviations, +25 0 and +59 +43 um; at 20 mm +21 0 and +48 +35."""
    row = ROWS[which]
    gap = iso_gap_mm(row["inputs"]["nominal_mm"], "H7", "s6")
    assert gap is not None
    assert gap[0] == pytest.approx(-row["expected"]["max_interference_mm"], abs=1e-9)
    assert gap[1] == pytest.approx(-row["expected"]["min_interference_mm"], abs=1e-9)


def test_a_sleeve_by_the_growth_of_its_bore() -> None:
    """[computed] The pressure that opens a 200/350 bore by 0.2 mm, and the push round a hollow shaft's bore."""
    row = ROWS["fits_press-s003"]
    given, wanted = row["inputs"], row["expected"]
    steel = metal_of("mild steel")
    assert steel is not None
    steel = replace(steel, e_mpa=1000.0 * given["sleeve_E_GPa"], poisson=given["sleeve_nu"])
    stiff = replace(steel, e_mpa=1e15)  # all the interference then goes into the sleeve
    fit = press_fit(given["sleeve_id_mm"], given["sleeve_od_mm"], 0.0, given["bore_growth_dia_mm"], steel, stiff)
    assert fit is not None
    assert fit.pressure_mpa == pytest.approx(wanted["contact_pressure_MPa"], rel=0.002)
    assert fit.hub_hoop_mpa == pytest.approx(wanted["sleeve_bore_hoop_MPa"], rel=0.002)
    sizes = given["sleeve_id_mm"], given["sleeve_od_mm"], given["shaft_id_mm"]
    both = press_fit(*sizes, interference_for_mm(fit.pressure_mpa, *sizes, steel, steel), steel, steel)
    assert both is not None
    assert both.shaft_bore_hoop_mpa == pytest.approx(wanted["shaft_bore_hoop_MPa"], rel=0.002)


@pytest.mark.parametrize("which", ["fits_press-s004", "fits_press-s005", "fits_press-s006"])
def test_pressure_force_and_torque(which: str) -> None:
    """[computed] Steel, brass and aluminium hubs on a solid steel shaft."""
    given, wanted = ROWS[which]["inputs"], ROWS[which]["expected"]
    steel = metal_of("mild steel")
    assert steel is not None
    hub = replace(steel, e_mpa=given["hub_E_MPa"], poisson=given["hub_nu"])
    shaft = replace(steel, e_mpa=given["shaft_E_MPa"], poisson=given["shaft_nu"])
    sizes = given["interface_dia_mm"], given["hub_od_mm"], given["shaft_bore_mm"]
    fit = press_fit(*sizes, given["diametral_interference_mm"], hub, shaft)
    assert fit is not None
    assert fit.pressure_mpa == pytest.approx(wanted["contact_pressure_MPa"], rel=0.002)
    assert fit.hub_hoop_mpa == pytest.approx(wanted["hub_bore_hoop_MPa"], rel=0.002)
    force, torque = holds(fit.pressure_mpa, sizes[0], given["length_mm"], given["friction"])
    assert (force, torque) == pytest.approx((wanted["press_force_N"], wanted["torque_Nm"]), rel=0.002)


@pytest.mark.parametrize("which", ["fits_press-s007", "fits_press-s008", "fits_press-s009"])
def test_heat_to_slip_on(which: str) -> None:
    """[computed] Interference and room over expansion and diameter."""
    given, wanted = ROWS[which]["inputs"], ROWS[which]["expected"]
    rise = rise_to_slip_on_k(given["diameter_mm"], given["interference_mm"], given["assembly_clearance_mm"],
                             given["expansion_per_K"])  # fmt: skip
    assert rise == pytest.approx(wanted["temperature_rise_K"], abs=0.01)
