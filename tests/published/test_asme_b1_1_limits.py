"""Limits of unified threads, classes 2A, 2B and 3B: ASME B1.1, inches to four decimals, typed from memory of its tables.

A nut's minor diameter is printed to three decimals from No. 6 up in classes 1B and 2B: half the last place is allowed.
"""

from __future__ import annotations

import pytest

from handwheel.tables.threadlimits import thread_limits
from handwheel.tables.threads import find_thread

SCREWS = [
    ("No. 4-40 UNC", (0.1061, 0.1112), (0.0925, 0.0950)),
    ("No. 8-32 UNC", (0.1571, 0.1631), (0.1399, 0.1428)),
    ("1/4-20 UNC", (0.2408, 0.2489), (0.2127, 0.2164)),
    ("3/8-24 UNF", (0.3667, 0.3739), (0.3430, 0.3468)),
    ("1/2-13 UNC", (0.4876, 0.4985), (0.4435, 0.4485)),
    ("1-8 UNC", (0.9830, 0.9980), (0.9100, 0.9168)),
]
NUTS = [
    ("No. 4-40 UNC", (0.0958, 0.0991), (0.0849, 0.0939)),
    ("No. 8-32 UNC", (0.1437, 0.1475), (0.130, 0.139)),
    ("1/4-20 UNC", (0.2175, 0.2224), (0.196, 0.207)),
    ("3/8-24 UNF", (0.3479, 0.3528), (0.330, 0.340)),
    ("1/2-13 UNC", (0.4500, 0.4565), (0.417, 0.434)),
    ("1-8 UNC", (0.9188, 0.9276), (0.865, 0.890)),
]


@pytest.mark.parametrize(("name", "major", "effective"), SCREWS)
def test_screw(name: str, major: tuple[float, float], effective: tuple[float, float]) -> None:
    thread = find_thread(name)
    assert thread is not None
    limits = thread_limits(thread, "2A")
    assert limits is not None
    assert limits.major_low_mm == pytest.approx(25.4 * major[0], abs=1e-6)
    assert limits.major_high_mm == pytest.approx(25.4 * major[1], abs=1e-6)
    assert limits.effective_low_mm == pytest.approx(25.4 * effective[0], abs=1e-6)
    assert limits.effective_high_mm == pytest.approx(25.4 * effective[1], abs=1e-6)


@pytest.mark.parametrize(("name", "effective", "minor"), NUTS)
def test_nut(name: str, effective: tuple[float, float], minor: tuple[float, float]) -> None:
    thread = find_thread(name)
    assert thread is not None
    limits = thread_limits(thread, "2B")
    assert limits is not None
    assert limits.effective_low_mm == pytest.approx(25.4 * effective[0], abs=1e-6)
    assert limits.effective_high_mm == pytest.approx(25.4 * effective[1], abs=1e-6)
    assert limits.minor_low_mm == pytest.approx(25.4 * minor[0], abs=25.4 * 0.00055)
    assert limits.minor_high_mm == pytest.approx(25.4 * minor[1], abs=25.4 * 0.00055)


def test_finer_class_of_the_nut() -> None:
    thread = find_thread("1/4-20 UNC")
    assert thread is not None
    limits = thread_limits(thread, "3B")
    assert limits is not None
    assert limits.effective_high_mm == pytest.approx(25.4 * 0.2211, abs=1e-6)
    assert limits.minor_high_mm == pytest.approx(25.4 * 0.2067, abs=1e-6)
