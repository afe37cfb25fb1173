"""Parallel pipe threads G: ISO 228-1, mm to three decimals.

Provenance of each row is in data/iso228.json: 'found' in print or on a page, or 'memory' of the
standard; the notes say which fields of a row were recalled (the tapping drills mostly).
Tolerance one in the last place, because tables round both ways.
"""

from __future__ import annotations

from typing import Any

import pytest
from thread_rows import check_row, name_of, rows_of

ROWS = rows_of("iso228")


def test_rows_are_there() -> None:
    assert len(ROWS) == 9


@pytest.mark.parametrize("row", ROWS, ids=name_of)
def test_sizes(row: dict[str, Any]) -> None:
    check_row(row)
