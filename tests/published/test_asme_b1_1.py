"""Unified threads UNC and UNF: ASME B1.1 basic dimensions, inches to four decimals.

Provenance of each row is in data/asme_b1_1.json: 'found' in print or on a page, or 'memory' of the
standard; the notes say which fields of a row were recalled (the tapping drills mostly).
Tolerance one in the last place, because tables round both ways.
"""

from __future__ import annotations

from typing import Any

import pytest
from thread_rows import check_row, name_of, rows_of

ROWS = rows_of("asme_b1_1")


def test_rows_are_there() -> None:
    assert len(ROWS) == 30


@pytest.mark.parametrize("row", ROWS, ids=name_of)
def test_sizes(row: dict[str, Any]) -> None:
    check_row(row)
