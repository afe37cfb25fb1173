"""No text of a laid-out page meets another text or a line, or leaves its frame: every gallery job and example, A4 and Letter."""

from __future__ import annotations

from pathlib import Path

import pytest

from handwheel.sheets.collide import collisions
from tests.sheets.whole.jobs import laid_out

ROOT = Path(__file__).resolve().parents[2]
JOBS = sorted([*(ROOT / "gallery").glob("*.yaml"), *(ROOT / "examples").glob("*.yaml")])


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("job", JOBS, ids=lambda path: path.stem)
def test_nothing_on_a_page_meets_anything(job: Path, paper: str) -> None:
    pages = laid_out(job.read_text("utf-8"), paper)
    assert pages
    met = [(page.subject, found) for page in pages for found in collisions(page)]
    assert met == []
