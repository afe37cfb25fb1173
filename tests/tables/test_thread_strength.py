"""Engagement and stripping against the shear areas integrated over the thread's own profile."""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad
from shapely.geometry import LineString, Polygon

from handwheel.tables.threads import find_thread
from handwheel.tables.threadstrength import HAND_CUT, engagement, shear_areas_mm2, stress_area_mm2


def tooth_width(name: str, diameter: float) -> float:
    """Width of the screw's tooth at a diameter, cut out of its drawn triangle with shapely. [mm]"""
    thread = find_thread(name)
    assert thread is not None
    half = thread.pitch_mm / 2.0 / math.tan(math.radians(thread.angle_deg / 2.0))  # sharp height
    centre = thread.pitch_diameter_mm / 2.0
    wide, low = thread.pitch_mm / 2, centre - half / 2
    tooth = Polygon([(-wide, low), (wide, low), (0.0, centre + half / 2)])
    return float(tooth.intersection(LineString([(-10.0, diameter / 2), (10.0, diameter / 2)])).length)


@pytest.mark.parametrize(("name", "hole", "major"), [("M6", 5.0, 5.9), ("1/4-20 UNC", 5.1, 6.3), ("2 BA", 3.9, 4.68)])
def test_shear_areas(name: str, hole: float, major: float) -> None:
    thread = find_thread(name)
    assert thread is not None
    nut, screw = shear_areas_mm2(thread, hole, major)
    turns = 1.0 / thread.pitch_mm
    around = quad(lambda _: 0.5, 0.0, 2.0 * math.pi)[0]  # π
    assert nut == pytest.approx(turns * around * major * (thread.pitch_mm - tooth_width(name, major)), rel=1e-9)
    assert screw == pytest.approx(turns * around * hole * tooth_width(name, hole), rel=1e-9)


# ISO 898-1, nominal stress areas, from memory
METRIC = [("M3", 5.03), ("M3.5", 6.78), ("M4", 8.78), ("M5", 14.2), ("M6", 20.1), ("M7", 28.9), ("M8", 36.6), ("M10", 58.0),
          ("M12", 84.3), ("M14", 115.0), ("M16", 157.0), ("M18", 192.0), ("M20", 245.0), ("M22", 303.0), ("M24", 353.0),
          ("M27", 459.0), ("M30", 561.0), ("M33", 694.0), ("M36", 817.0), ("M39", 976.0), ("M8 x 1", 39.2), ("M10 x 1", 64.5),
          ("M12 x 1.5", 88.1), ("M20 x 1.5", 272.0)]  # fmt: skip
# ASME B1.1, tensile stress areas, square inches: the eight smallest found on a public page of a handbook, the rest from memory.
# They are printed from diameters already rounded: one in the third figure is allowed
UNIFIED = [("No. 1-64 UNC", 0.00263), ("No. 2-56 UNC", 0.00370), ("No. 3-48 UNC", 0.00487), ("No. 4-40 UNC", 0.00604),
           ("No. 5-40 UNC", 0.00796), ("No. 6-32 UNC", 0.00909), ("No. 8-32 UNC", 0.0140), ("No. 10-24 UNC", 0.0175),
           ("1/4-20 UNC", 0.0318), ("5/16-18 UNC", 0.0524), ("3/8-16 UNC", 0.0775), ("1/2-13 UNC", 0.1419), ("3/4-10 UNC", 0.334),
           ("1-8 UNC", 0.606), ("1/4-28 UNF", 0.0364), ("3/8-24 UNF", 0.0878), ("1/2-20 UNF", 0.1599)]  # fmt: skip


@pytest.mark.parametrize(("name", "area"), METRIC)
def test_stress_area_as_printed(name: str, area: float) -> None:
    thread = find_thread(name)
    assert thread is not None
    assert stress_area_mm2(thread) == pytest.approx(area, abs=0.006 if area < 10 else 0.06 if area < 100 else 0.6)


@pytest.mark.parametrize(("name", "area"), UNIFIED)
def test_unified_stress_area_as_printed(name: str, area: float) -> None:
    thread = find_thread(name)
    assert thread is not None
    last = 1e-5 if area < 0.01 else 1e-4 if area < 0.2 else 1e-3
    assert stress_area_mm2(thread) / 25.4**2 == pytest.approx(area, abs=1.51 * last)


def test_shear_areas_at_the_limits() -> None:
    """FED-STD-H28 and ASME B1.1, appendix on strength: for each inch of engagement of 1/2-13 UNC 2A with 2B

    screw: pi n Kmax (1/2n + 0.57735 (Es min - Kn max)), nut: pi n Dmin (1/2n + 0.57735 (Ds min - En max)), sizes as printed.
    """
    n, ds_min, es_min, kn_max, en_max = 13, 0.4876, 0.4435, 0.434, 0.4565
    screw = math.pi * n * kn_max * (0.5 / n + 0.57735 * (es_min - kn_max))
    nut = math.pi * n * ds_min * (0.5 / n + 0.57735 * (ds_min - en_max))
    thread = find_thread("1/2-13 UNC")
    assert thread is not None
    ours = shear_areas_mm2(thread, 25.4 * kn_max, 25.4 * ds_min, (25.4 * en_max, 25.4 * es_min))
    assert [area / 25.4 for area in ours] == pytest.approx([nut, screw], rel=1e-6)


def test_engagement_is_where_screw_and_thread_go_together() -> None:
    thread = find_thread("M6")
    assert thread is not None
    found = engagement(thread, 400.0, 200.0, 5.0, 5.9)
    assert found is not None
    nut, _ = shear_areas_mm2(thread, 5.0, 5.9)
    assert found.strips == "nut"
    assert nut * found.low_mm * 0.58 * 200.0 == pytest.approx(found.breaks_n, rel=1e-9)
    assert found.high_mm == pytest.approx(HAND_CUT * found.low_mm)


def test_a_bigger_hole_wants_more_once_the_screw_strips() -> None:
    thread = find_thread("M6")
    assert thread is not None
    tight, loose = engagement(thread, 400.0, 900.0, 5.0, 5.9), engagement(thread, 400.0, 900.0, 5.4, 5.9)
    assert tight is not None
    assert loose is not None
    assert (tight.strips, loose.strips) == ("screw", "screw")
    assert loose.low_mm > 1.3 * tight.low_mm
    assert engagement(thread, 400.0, 900.0, 6.0, 5.9) is None
