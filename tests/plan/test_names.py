"""The line a blank is sawn to: rules are divided in thirty-seconds of an inch, or millimetres (common practice, no source)."""

import pytest

from handwheel.job.records import Unit
from handwheel.plan.names import line_text


@pytest.mark.parametrize(
    ("units", "length_mm", "line"),
    [
        (Unit.INCH, 67.953, "2 11/16 in"),  # 2.6753 in lies between 2 21/32 = 2.65625 and 2 11/16 = 2.6875
        (Unit.INCH, 25.4, "1 in"),
        (Unit.INCH, 0.5, "1/32 in"),
        (Unit.INCH, 50.8001, "2 1/32 in"),
        (Unit.MM, 67.953, "68 mm"),
        (Unit.MM, 68.0, "68 mm"),
        (Unit.MM, 68.01, "69 mm"),
    ],
)
def test_a_blank_is_sawn_to_the_next_line_of_a_rule(units: Unit, length_mm: float, line: str) -> None:
    assert line_text(units, length_mm) == line
