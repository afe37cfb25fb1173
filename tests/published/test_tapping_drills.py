"""Tapping drills and the thread they leave, against printed tables.

Metric: ISO 2306, coarse found on public pages to M30, the rest and the fine ones from memory. G: sizes found on two public pages.
Percentages of inch drills: drill tables of ASME B1.1 sizes, from memory; they count by three quarters of the sharp triangle
(0.75 H twice on the diameter). BSW and BSF: a public page says of the sizes of BS 1157 that they leave 77 to 87 % of full thread.
"""

from __future__ import annotations

import pytest

from handwheel.tables.load import table
from handwheel.tables.threadcutting import percent_of_thread
from handwheel.tables.threads import find_thread

COARSE = [("M1", 0.75), ("M1.1", 0.85), ("M1.2", 0.95), ("M1.4", 1.1), ("M1.6", 1.25), ("M1.8", 1.45), ("M2", 1.6),
          ("M2.2", 1.75), ("M2.5", 2.05), ("M3", 2.5), ("M3.5", 2.9), ("M4", 3.3), ("M4.5", 3.7), ("M5", 4.2),
          ("M6", 5.0), ("M7", 6.0), ("M8", 6.8), ("M9", 7.8), ("M10", 8.5), ("M11", 9.5), ("M12", 10.2),
          ("M14", 12.0), ("M16", 14.0), ("M18", 15.5), ("M20", 17.5), ("M22", 19.5), ("M24", 21.0), ("M27", 24.0),
          ("M30", 26.5), ("M33", 29.5), ("M36", 32.0), ("M39", 35.0), ("M42", 37.5), ("M45", 40.5), ("M48", 43.0),
          ("M52", 47.0), ("M56", 50.5), ("M60", 54.5), ("M64", 58.0), ("M68", 62.0)]  # fmt: skip
FINE = [("M2.5 x 0.35", 2.15), ("M3 x 0.35", 2.65), ("M4 x 0.5", 3.5), ("M5 x 0.5", 4.5), ("M6 x 0.75", 5.2), ("M8 x 0.75", 7.2),
        ("M8 x 1", 7.0), ("M10 x 0.75", 9.2), ("M10 x 1", 9.0), ("M10 x 1.25", 8.8), ("M12 x 1", 11.0), ("M12 x 1.25", 10.8),
        ("M12 x 1.5", 10.5), ("M14 x 1.5", 12.5), ("M16 x 1", 15.0), ("M16 x 1.5", 14.5), ("M18 x 1.5", 16.5), ("M18 x 2", 16.0),
        ("M20 x 1.5", 18.5), ("M20 x 2", 18.0), ("M22 x 1.5", 20.5), ("M24 x 1.5", 22.5), ("M24 x 2", 22.0), ("M27 x 2", 25.0),
        ("M30 x 1.5", 28.5), ("M30 x 2", 28.0), ("M30 x 3", 27.0), ("M33 x 2", 31.0), ("M36 x 1.5", 34.5), ("M36 x 3", 33.0),
        ("M42 x 3", 39.0), ("M48 x 3", 45.0), ("M48 x 4", 44.0), ("M52 x 4", 48.0)]  # fmt: skip
PIPE = [("1/16", 6.8), ("1/8", 8.8), ("1/4", 11.8), ("3/8", 15.25), ("1/2", 19.0), ("5/8", 21.0), ("3/4", 24.5), ("7/8", 28.25),
        ("1", 30.75), ("1 1/4", 39.5), ("1 3/4", 51.0), ("2", 57.0)]  # fmt: skip
# G1 1/2: the two pages print 45 and 45.5, the shared row 45.25; not counted here
INCH = [("No. 0-80 UNF", 81), ("No. 2-56 UNC", 69), ("No. 4-40 UNC", 71), ("No. 6-32 UNC", 78), ("No. 8-32 UNC", 69),
        ("No. 10-24 UNC", 75), ("No. 10-32 UNF", 76), ("1/4-20 UNC", 75), ("1/4-28 UNF", 80), ("5/16-18 UNC", 77),
        ("5/16-24 UNF", 75), ("3/8-16 UNC", 77), ("3/8-24 UNF", 79), ("7/16-14 UNC", 75), ("7/16-20 UNF", 72), ("1/2-13 UNC", 78),
        ("1/2-20 UNF", 72), ("9/16-12 UNC", 72), ("9/16-18 UNF", 65), ("5/8-11 UNC", 79), ("5/8-18 UNF", 65), ("3/4-10 UNC", 72),
        ("3/4-16 UNF", 77), ("7/8-9 UNC", 76), ("7/8-14 UNF", 67), ("1-8 UNC", 77), ("1-12 UNF", 72)]  # fmt: skip


@pytest.mark.parametrize(("name", "drill"), [*COARSE, *FINE, *((f"{size} BSP", drill) for size, drill in PIPE)])
def test_size(name: str, drill: float) -> None:
    thread = find_thread(name)
    assert thread is not None
    assert thread.tapping_drill_mm == pytest.approx(drill, abs=1e-9)


@pytest.mark.parametrize(("name", "percent"), INCH)
def test_percentage_as_drill_tables_count(name: str, percent: int) -> None:
    thread = find_thread(name)
    assert thread is not None
    assert thread.tapping_drill_mm is not None
    found = percent_of_thread(thread, thread.tapping_drill_mm)
    assert found.flat_root == pytest.approx(percent, abs=0.55)
    # the other conventions of the same hole: the nut's depth is 5/8 H, the screw's 17/24 H, the sharp triangle H
    assert found.nut_depth * 0.625 == pytest.approx(found.sharp_v, rel=1e-9)
    assert found.screw_depth * 17 / 24 == pytest.approx(found.sharp_v, rel=1e-9)
    assert found.flat_root is not None
    assert found.flat_root * 0.75 == pytest.approx(found.sharp_v, rel=1e-9)


@pytest.mark.parametrize("series", ["BSW", "BSF"])
def test_whitworth_drills_leave_what_their_table_says(series: str) -> None:
    """1 1/2 BSF at 34.5 mm leaves 88.5 % and is outside what the page says; its own table prints that drill."""
    for size in table("threads")[series]:
        thread = find_thread(f"{size} {series}")
        assert thread is not None
        if thread.tapping_drill_mm is not None and (size, series) != ("1 1/2", "BSF"):
            assert 76.5 <= percent_of_thread(thread, thread.tapping_drill_mm).nut_depth <= 87.5, size
