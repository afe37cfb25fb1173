"""Limits of pipe threads, ISO 228-1, millimetres, typed from memory of its table: a check of typing and of the sums."""

from __future__ import annotations

import pytest

from handwheel.tables.threadlimits import thread_limits
from handwheel.tables.threads import find_thread

ROWS = [
    # major least and greatest, effective least (A) and greatest, effective greatest of the nut, minor of the nut
    ("1/8 BSP", 9.514, 9.728, 9.040, 9.147, 9.254, 8.566, 8.848),
    ("1/4 BSP", 12.907, 13.157, 12.176, 12.301, 12.426, 11.445, 11.890),
    ("1/2 BSP", 20.671, 20.955, 19.651, 19.793, 19.935, 18.631, 19.172),
    ("1 BSP", 32.889, 33.249, 31.590, 31.770, 31.950, 30.291, 30.931),
]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row[0])
def test_limits(row: tuple[str, float, float, float, float, float, float, float]) -> None:
    thread = find_thread(row[0])
    assert thread is not None
    screw, nut, coarse = (thread_limits(thread, cls) for cls in ("G A", "G", "G B"))
    assert screw is not None
    assert nut is not None
    assert coarse is not None
    sizes = (screw.major_low_mm, screw.major_high_mm, screw.effective_low_mm, screw.effective_high_mm,
             nut.effective_high_mm, nut.minor_low_mm, nut.minor_high_mm)  # fmt: skip
    assert sizes == pytest.approx(row[1:], abs=0.0011)
    assert screw.effective_high_mm - coarse.effective_low_mm == pytest.approx(2 * (row[4] - row[3]), abs=0.0011)
    assert thread_limits(thread, "6g") is None
