"""Whitworth and British Standard Fine threads: BS 84, inches to four decimals.

Provenance of each row is in data/bs84.json: 'found' in print or on a page, or 'memory' of the
standard; the notes say which fields of a row were recalled (the tapping drills mostly).
Tables differ among themselves by 0.0001, so the tolerance is 0.0002.
"""

from __future__ import annotations

from typing import Any

import pytest
from thread_rows import check_row, name_of, rows_of

ROWS = rows_of("bs84")


def test_rows_are_there() -> None:
    assert len(ROWS) == 26


@pytest.mark.parametrize("row", ROWS, ids=name_of)
def test_sizes(row: dict[str, Any]) -> None:
    check_row(row)
