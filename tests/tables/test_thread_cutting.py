"""Drills, blanks and depths of threads against closed forms worked out apart from the code."""

from __future__ import annotations

import math

import pytest

from handwheel.tables.metriclimits import metric_tolerance_um, rounded_um
from handwheel.tables.threadcutting import (
    blind_tap,
    die_lead_mm,
    drill_choices,
    hole_for_percent_mm,
    percent_of_thread,
    sharp_height_mm,
    undercut_mm,
)
from handwheel.tables.threadlimits import thread_limits, usual_class
from handwheel.tables.threads import Thread, find_thread


def thread(name: str) -> Thread:
    found = find_thread(name)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("name", "hole", "nut", "screw", "sharp"),
    [
        # 60 degrees: depths 5/8 H, 17/24 H and H with H = 0.8660254 P, each twice
        ("M6", 5.0, 1.0 / 1.0825318, 1.0 / 1.2268693, 1.0 / 1.7320508),
        ("M8", 6.8, 1.2 / (1.25 * 1.0825318), 1.2 / (1.25 * 1.2268693), 1.2 / (1.25 * 1.7320508)),
        # Whitworth: 0.640327 P for both, H = 0.960491 P
        ("1/4 BSW", 5.1, 1.25 / (1.27 * 1.280654), 1.25 / (1.27 * 1.280654), 1.25 / (1.27 * 1.920982)),
        # BA: 0.6 P for both, H = 1.13634 P
        ("0 BA", 5.1, 0.9 / 1.2, 0.9 / 1.2, 0.9 / 2.27268),
    ],
)
def test_percentage_under_each_convention(name: str, hole: float, nut: float, screw: float, sharp: float) -> None:
    found = percent_of_thread(thread(name), hole)
    assert found.nut_depth == pytest.approx(100.0 * nut, abs=1e-3)
    assert found.screw_depth == pytest.approx(100.0 * screw, abs=1e-3)
    assert found.sharp_v == pytest.approx(100.0 * sharp, abs=1e-3)


@pytest.mark.parametrize(
    ("name", "drill_in", "printed"),
    [("1/4-20 UNC", 0.2010, 75), ("1/2-13 UNC", 27 / 64, 78), ("3/8-16 UNC", 5 / 16, 77), ("No. 8-32 UNC", 0.1360, 69),
     ("No. 10-24 UNC", 0.1495, 75)],
)  # fmt: skip
def test_percentage_as_inch_drill_tables_print_it(name: str, drill_in: float, printed: int) -> None:
    """Handbook tables of tapping drills, typed from memory: No. 7, 27/64, 5/16, No. 29, No. 25."""
    found = percent_of_thread(thread(name), 25.4 * drill_in)
    assert found.flat_root == pytest.approx(printed, abs=0.6)
    assert percent_of_thread(thread("2 BA"), 4.0).flat_root is None


@pytest.mark.parametrize("name", ["M6", "1/4-20 UNC", "2 BA", "3/8 BSF"])
@pytest.mark.parametrize("percent", [50.0, 65.0, 75.0])
def test_hole_for_a_percentage_gives_it_back(name: str, percent: float) -> None:
    assert percent_of_thread(thread(name), hole_for_percent_mm(thread(name), percent)).screw_depth == pytest.approx(percent)


def test_percentage_of_a_hole_that_varies() -> None:
    """A drill that cuts 0.05 to 0.1 over: percentage falls by 100 times that over the depth twice, whatever the hole."""
    m5 = thread("M5")
    fall = percent_of_thread(m5, 4.2).nut_depth - percent_of_thread(m5, 4.3).nut_depth
    assert fall == pytest.approx(100.0 * 0.1 / (0.8 * 1.0825318), abs=1e-3)


def test_only_drills_that_leave_a_thread_worth_having() -> None:
    drills = [(f"{size:g} mm", size) for size in (4.0, 4.1, 4.2, 4.3, 4.5, 4.6, 4.9)]
    limits = thread_limits(thread("M5"), "6H")
    assert limits is not None
    assert limits.minor_low_mm == pytest.approx(4.134)
    assert limits.minor_high_mm == pytest.approx(4.334)
    found = drill_choices(thread("M5"), drills, (4.134, 4.334))
    assert [(c.diameter_mm, c.is_within) for c in found] == [(4.2, True), (4.3, True), (4.5, False)]
    assert [c.is_within for c in drill_choices(thread("M5"), drills, None)] == [None] * 3


def test_lead_and_undercut_reach_the_root() -> None:
    m6 = thread("M6")
    root = 6.0 - 17.0 / 12.0 * math.sqrt(3.0) / 2.0
    assert die_lead_mm(m6) == pytest.approx((6.0 - root) / 2.0)
    assert undercut_mm(m6) == pytest.approx((1.5, root))


def test_depths_of_a_blind_hole() -> None:
    depths = blind_tap(thread("M6"), 9.0, 4.0, 118.0)
    assert depths.tap_to_mm == pytest.approx(13.0)
    assert depths.drill_to_mm == pytest.approx(15.0)
    minor = 6.0 - 1.25 * math.sqrt(3.0) / 2.0
    assert depths.point_to_mm == pytest.approx(15.0 + 0.300430 * minor, abs=1e-5)  # 0.3004 d at 118 degrees


def test_sharp_height() -> None:
    assert sharp_height_mm(thread("M8")) == pytest.approx(1.25 * 0.8660254)
    assert sharp_height_mm(thread("1/2 BSW")) == pytest.approx(25.4 / 12 * 0.960491, abs=1e-6)


def test_rounding_is_to_the_preferred_series() -> None:
    assert [rounded_um(v) for v in (26.0, 78.3, 99.0, 121.0, 155.8, 198.0)] == [26.0, 80.0, 100.0, 118.0, 160.0, 200.0]


def test_what_a_series_has_not_is_none() -> None:
    assert thread_limits(thread("2 BA"), "6g") is None
    assert thread_limits(thread("12 BA"), "close") is None
    assert thread_limits(thread("20 BA"), "normal") is None
    assert thread_limits(thread("1/4 BSW"), "normal") == thread_limits(thread("1/4 BSW"), "normal nut")
    assert thread_limits(thread("1/4 BSW"), "2A") is None
    assert thread_limits(thread("8-32 UNC"), "1A") is None
    assert usual_class(thread("0.800 in x 36 tpi 55 deg"), False) is None
    assert thread_limits(thread("M1"), "6H") is None
    assert thread_limits(thread("M3"), "8g") is None
    assert thread_limits(thread("M6"), "2A") is None
    assert metric_tolerance_um("Td2", 6.0, 0.77, 6) is None
    assert metric_tolerance_um("Td", 6.0, 1.0, 5) is None


def test_a_screw_never_touches_its_nut_at_any_size() -> None:
    for name in ("M2", "M6", "M10 x 1", "M24", "1/4-20 UNC", "3/4-10 UNC", "1/4-28 UNF", "1/4 BSW", "3/16 BSF", "2 BA"):
        screw, nut = thread(name), thread(name)
        outside = thread_limits(screw, str(usual_class(screw, False)))
        inside = thread_limits(nut, str(usual_class(nut, True)))
        assert outside is not None
        assert inside is not None
        assert outside.effective_high_mm < inside.effective_low_mm
        assert outside.major_high_mm is not None
        assert inside.major_low_mm is not None
        assert outside.major_high_mm < inside.major_low_mm
