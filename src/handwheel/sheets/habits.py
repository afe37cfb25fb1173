"""The maker's habits that the sheets were worked out with, each with whose it is: on the last page."""

from __future__ import annotations

from handwheel.job.records import Unit
from handwheel.readings.words import figure, unit_name
from handwheel.sheets.paper import DIM_PT, Composer, text_block
from handwheel.workshop.records import Habit, Workshop


def put_habits(paper: Composer, workshop: Workshop, unit: Unit) -> None:
    """A paragraph for each owner, under the last set-up where it fits."""
    by_owner: dict[str, list[Habit]] = {}
    for habit in workshop.habits.values():
        by_owner.setdefault(habit.whose, []).append(habit)
    blocks = [
        text_block(f"{whose}: " + "; ".join(habit_text(h, unit) for h in habits) + ".", paper.width, DIM_PT)
        for whose, habits in by_owner.items()
    ]
    paper.running = None
    paper.heading("Habits this was worked out with", sum(b.height for b in blocks) + 4.0)
    for block in blocks:
        paper.put(block, 1.0)
    paper.put(text_block("Change any of them in the workshop file.", paper.width, DIM_PT))


def habit_text(habit: Habit, unit: Unit) -> str:
    """Its name and value, lengths in the job's unit."""
    if habit.unit == "mm":
        return f"{habit.name} {figure(habit.value, unit)} {unit_name(unit)}"
    return f"{habit.name} {habit.value:g}" + ("°" if habit.unit == "deg" else f" {habit.unit}")
