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
from handwheel.tables.pressfit import interference_for_mm, press_fit

ROWS = {row["id"]: row for row in rows_of("press_fits")}


def test_rows_are_there() -> None:
    assert sorted(ROWS) == ["fits_press-s001", "fits_press-s002"]


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


def test_tight_fit_of_a_shaft_and_hole() -> None:
    """H7 and s6 at 50 mm have the example's deviations, +25 0 and +59 +43 um."""
    row = ROWS["fits_press-s002"]
    gap = iso_gap_mm(row["inputs"]["nominal_mm"], "H7", "s6")
    assert gap is not None
    assert gap[0] == pytest.approx(-row["expected"]["max_interference_mm"], abs=1e-9)
    assert gap[1] == pytest.approx(-row["expected"]["min_interference_mm"], abs=1e-9)
