"""Limits of metric threads, 6g and 6H: ISO 965-1 and -2, millimetres to three decimals.

Provenance of each row is in data/iso965.json: 'found' on a public page, or 'memory' of the standard; notes say which
fields of a row were recalled. The standard itself sets a few values aside from its formula (screw of 2.8 to 5.6 mm with
0.5 mm pitch; minor diameter at 0.5, 1 and 2.5 mm; major at 4 mm): rows M3, M18, M22, M36 show it.
"""

from __future__ import annotations

from typing import Any

import pytest
from thread_rows import rows_of

from handwheel.tables.threadlimits import thread_limits
from handwheel.tables.threads import find_thread

ROWS = rows_of("iso965")
OURS = {
    "major_min_mm": "major_low_mm", "major_max_mm": "major_high_mm", "pitch_dia_min_mm": "effective_low_mm",
    "pitch_dia_max_mm": "effective_high_mm", "minor_min_mm": "minor_low_mm", "minor_max_mm": "minor_high_mm",
}  # fmt: skip


def test_rows_are_there() -> None:
    assert (len(ROWS), sum(len(row["expected"]) for row in ROWS)) == (33, 132)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['inputs']['thread']}-{row['inputs']['class']}")
def test_limits(row: dict[str, Any]) -> None:
    thread = find_thread(row["inputs"]["thread"].replace("x", " x "))
    assert thread is not None
    limits = thread_limits(thread, row["inputs"]["class"])
    assert limits is not None
    for key, printed in row["expected"].items():
        assert getattr(limits, OURS[key]) == pytest.approx(printed, abs=1e-9), key
