"""BA threads: BS 93, mm; pitch and diameter exact, the others printed to 0.005.

Provenance of each row is in data/bs93.json: 'found' in print or on a page, or 'memory' of the
standard; the notes say which fields of a row were recalled (the tapping drills mostly).
"""

from __future__ import annotations

from typing import Any

import pytest
from thread_rows import check_row, name_of, rows_of

ROWS = rows_of("bs93")


def test_rows_are_there() -> None:
    assert len(ROWS) == 10


@pytest.mark.parametrize("row", ROWS, ids=name_of)
def test_sizes(row: dict[str, Any]) -> None:
    check_row(row)
