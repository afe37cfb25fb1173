"""A habit is printed as one the sheets were worked out with: so each must be one that the planner really uses."""

from __future__ import annotations

from pathlib import Path

import pytest

from handwheel.job.records import Unit
from handwheel.workshop.read import built_in_workshop

PLAN = Path(__file__).resolve().parents[2] / "src" / "handwheel" / "plan"
SOURCE = "".join(path.read_text(encoding="utf-8") for path in PLAN.rglob("*.py"))


@pytest.mark.parametrize("name", sorted(built_in_workshop(Unit.MM).habits))
def test_habit_is_used(name: str) -> None:
    assert f'"{name}"' in SOURCE or f"'{name}'" in SOURCE
