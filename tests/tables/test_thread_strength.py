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


@pytest.mark.parametrize(("name", "area"), [("M6", 20.1), ("M8", 36.6), ("M10", 58.0), ("M12", 84.3), ("M20", 245.0)])
def test_stress_area_as_printed(name: str, area: float) -> None:
    """ISO 898-1, table of nominal stress areas, from memory."""
    thread = find_thread(name)
    assert thread is not None
    assert stress_area_mm2(thread) == pytest.approx(area, abs=0.06 if area < 100 else 0.5)


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
