"""Every habit of the workshop is printed once with whose it is."""

from __future__ import annotations

from handwheel.job.records import Unit
from handwheel.sheets.habits import habit_text, put_habits
from handwheel.sheets.paper import Composer, SheetMeta
from handwheel.sheets.primitives import Text
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import Habit


def test_every_habit_is_printed_with_whose_it_is() -> None:
    workshop = built_in_workshop(Unit.INCH)
    paper = Composer("Job", SheetMeta("job.yaml", "2026-01-01", "1"), True)
    paper.start("last page")
    put_habits(paper, workshop, Unit.INCH)
    said = " ".join(item.text for page in paper.finished() for item in page.items if isinstance(item, Text))
    assert "common practice, no source:" in said
    for name in workshop.habits:
        assert name in said, name


def test_a_length_is_said_in_the_job_s_unit_and_a_share_as_it_is() -> None:
    """0.508 mm is 0.020 in exactly."""
    assert habit_text(Habit("ball end allowance", 0.508, "mm", "yours"), Unit.INCH) == "ball end allowance 0.020 in"
    assert habit_text(Habit("capability angle", 0.05, "deg", "yours"), Unit.MM) == "capability angle 0.05°"
    assert habit_text(Habit("grip share", 1.0, "times the diameter", "yours"), Unit.MM) == "grip share 1 times the diameter"
