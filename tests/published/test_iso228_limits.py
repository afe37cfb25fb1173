"""Pipe threads: the whole table of ISO 228-1, sizes and tolerances, millimetres, found on a public page that copies it.

G 2 1/4 to G 6 have wider tolerances of the effective diameter and of the major than G 2 of the same pitch.
"""

from __future__ import annotations

import pytest

from handwheel.tables.threadlimits import class_of, thread_limits
from handwheel.tables.threads import find_thread

# size, threads to the inch, pitch, depth, major, effective, minor
# tolerances: nut's effective, screw's A and B, nut's minor, screw's major
TABLE = """
1/16|28 0.907 0.581 7.723 7.142 6.561 0.107 0.107 0.214 0.282 0.214
1/8|28 0.907 0.581 9.728 9.147 8.566 0.107 0.107 0.214 0.282 0.214
1/4|19 1.337 0.856 13.157 12.301 11.445 0.125 0.125 0.25 0.445 0.25
3/8|19 1.337 0.856 16.662 15.806 14.95 0.125 0.125 0.25 0.445 0.25
1/2|14 1.814 1.162 20.955 19.793 18.631 0.142 0.142 0.284 0.541 0.284
5/8|14 1.814 1.162 22.911 21.749 20.587 0.142 0.142 0.284 0.541 0.284
3/4|14 1.814 1.162 26.441 25.279 24.117 0.142 0.142 0.284 0.541 0.284
7/8|14 1.814 1.162 30.201 29.039 27.877 0.142 0.142 0.284 0.541 0.284
1|11 2.309 1.479 33.249 31.77 30.291 0.18 0.18 0.36 0.64 0.36
1 1/8|11 2.309 1.479 37.897 36.418 34.939 0.18 0.18 0.36 0.64 0.36
1 1/4|11 2.309 1.479 41.91 40.431 38.952 0.18 0.18 0.36 0.64 0.36
1 1/2|11 2.309 1.479 47.803 46.324 44.845 0.18 0.18 0.36 0.64 0.36
1 3/4|11 2.309 1.479 53.746 52.267 50.788 0.18 0.18 0.36 0.64 0.36
2|11 2.309 1.479 59.614 58.135 56.656 0.18 0.18 0.36 0.64 0.36
2 1/4|11 2.309 1.479 65.71 64.231 62.752 0.217 0.217 0.434 0.64 0.434
2 1/2|11 2.309 1.479 75.184 73.705 72.226 0.217 0.217 0.434 0.64 0.434
2 3/4|11 2.309 1.479 81.534 80.055 78.576 0.217 0.217 0.434 0.64 0.434
3|11 2.309 1.479 87.884 86.405 84.926 0.217 0.217 0.434 0.64 0.434
3 1/2|11 2.309 1.479 100.33 98.851 97.372 0.217 0.217 0.434 0.64 0.434
4|11 2.309 1.479 113.03 111.551 110.072 0.217 0.217 0.434 0.64 0.434
4 1/2|11 2.309 1.479 125.73 124.251 122.772 0.217 0.217 0.434 0.64 0.434
5|11 2.309 1.479 138.43 136.951 135.472 0.217 0.217 0.434 0.64 0.434
5 1/2|11 2.309 1.479 151.13 149.651 148.172 0.217 0.217 0.434 0.64 0.434
6|11 2.309 1.479 163.83 162.351 160.872 0.217 0.217 0.434 0.64 0.434
"""
ROWS = [(line.split("|")[0], [float(text) for text in line.split("|")[1].split()]) for line in TABLE.strip().splitlines()]


@pytest.mark.parametrize(("size", "row"), ROWS, ids=lambda v: v if isinstance(v, str) else "")
def test_sizes_and_limits(size: str, row: list[float]) -> None:
    tpi, pitch, depth, major, effective, minor, nut_width, a_width, b_width, minor_width, crest = row
    thread = find_thread(f"G{size} A")
    assert thread is not None
    assert (class_of(thread, is_nut=False), class_of(thread, is_nut=True)) == ("G A", "G")
    assert 25.4 / thread.pitch_mm == pytest.approx(tpi)
    basic = (thread.pitch_mm, thread.major_mm - thread.pitch_diameter_mm, thread.major_mm, thread.pitch_diameter_mm,
             thread.minor_internal_mm)  # fmt: skip
    assert basic == pytest.approx((pitch, depth, major, effective, minor), abs=0.0011)
    nut, fine, coarse = (thread_limits(thread, cls) for cls in ("G", "G A", "G B"))
    assert nut is not None
    assert fine is not None
    assert coarse is not None
    ours = (nut.effective_low_mm, nut.effective_high_mm, nut.minor_low_mm, nut.minor_high_mm, fine.effective_high_mm,
            fine.effective_low_mm, coarse.effective_low_mm, fine.major_high_mm, coarse.major_low_mm)  # fmt: skip
    wanted = (effective, effective + nut_width, minor, minor + minor_width, effective, effective - a_width, effective - b_width,
              major, major - crest)  # fmt: skip
    assert ours == pytest.approx(wanted, abs=0.0011)
    assert thread_limits(thread, "6g") is None
