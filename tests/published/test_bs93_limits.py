"""BA threads: the whole table of basic sizes as a handbook prints it from BS 93:1951, and limits by the formulae printed with it.

Found on a public page of the handbook, and the formulae again on one of BS 93:2008, annex B. Millimetres. No table of limits was
found: they are reckoned here from those formulae.
"""

from __future__ import annotations

import pytest

from handwheel.tables.threadlimits import class_of, thread_limits
from handwheel.tables.threads import find_thread

# number, pitch, major, effective, minor
TABLE = """
0 1.00 6.00 5.400 4.80
1 0.90 5.30 4.760 4.22
2 0.81 4.70 4.215 3.73
3 0.73 4.10 3.660 3.22
4 0.66 3.60 3.205 2.81
5 0.59 3.20 2.845 2.49
6 0.53 2.80 2.480 2.16
7 0.48 2.50 2.210 1.92
8 0.43 2.20 1.940 1.68
9 0.39 1.90 1.665 1.43
10 0.35 1.70 1.490 1.28
11 0.31 1.50 1.315 1.13
12 0.28 1.30 1.130 0.96
13 0.25 1.20 1.050 0.90
14 0.23 1.00 0.860 0.72
15 0.21 0.90 0.775 0.65
16 0.19 0.79 0.675 0.56
"""
# memory of the table of the sizes below BS 93's: number, major, pitch
SMALLER = [(17, 0.70, 0.17), (18, 0.62, 0.15), (19, 0.54, 0.14), (20, 0.48, 0.12), (21, 0.42, 0.11), (22, 0.37, 0.098),
           (23, 0.33, 0.089), (24, 0.29, 0.080), (25, 0.25, 0.072)]  # fmt: skip
ROWS = [line.split() for line in TABLE.strip().splitlines()]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row[0]} BA")
def test_basic_sizes(row: list[str]) -> None:
    thread = find_thread(f"{row[0]} BA")
    assert thread is not None
    ours = (thread.pitch_mm, thread.major_mm, thread.pitch_diameter_mm, thread.minor_internal_mm)
    assert ours == pytest.approx([float(text) for text in row[1:]], abs=1e-9)


@pytest.mark.parametrize(("number", "major", "pitch"), SMALLER)
def test_sizes_below_the_standards(number: int, major: float, pitch: float) -> None:
    thread = find_thread(f"{number} BA")
    assert thread is not None
    assert (thread.major_mm, thread.pitch_mm) == (major, pitch)
    assert find_thread("26 BA") is None


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row[0]} BA")
def test_limits_by_the_formulae(row: list[str]) -> None:
    number, (p, major, effective, minor) = int(row[0]), (float(text) for text in row[1:])
    thread = find_thread(f"{number} BA")
    assert thread is not None
    assert (class_of(thread, is_nut=False), class_of(thread, is_nut=True)) == ("normal", "normal nut")
    screw, nut, close = (thread_limits(thread, cls) for cls in ("normal", "normal nut", "close"))
    assert screw is not None
    assert nut is not None
    allowance, crest = (0.025, 0.20 * p) if number <= 10 else (0.0, 0.25 * p)
    ours = (screw.major_high_mm, screw.major_low_mm, screw.effective_high_mm, screw.effective_low_mm)
    top, pitch = major - allowance, effective - allowance
    assert ours == pytest.approx((top, top - crest, pitch, pitch - 0.10 * p - 0.025), abs=0.00051)
    ours = (nut.effective_low_mm, nut.effective_high_mm, nut.minor_low_mm, nut.minor_high_mm)
    assert ours == pytest.approx((effective, effective + 0.12 * p + 0.03, minor, minor + 0.375 * p), abs=0.00051)
    assert (close is not None) == (number <= 10)
    if close is not None:
        ours = (close.major_high_mm, close.major_low_mm, close.effective_high_mm, close.effective_low_mm)
        assert ours == pytest.approx((major, major - 0.15 * p, effective, effective - 0.08 * p - 0.02), abs=0.00051)
