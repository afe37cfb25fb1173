"""What is done and left: a box a copy a set-up, the same on the page and on a narrow screen."""

from __future__ import annotations

import re
from collections import Counter
from html import unescape

from handwheel.sheets.primitives import TickBox
from handwheel.sheets.setups import runs
from handwheel.sheets.whole.done import done_html, due_of
from tests.sheets.whole.jobs import STAND, laid_out, planned, shaft_job


def wanted(text: str) -> set[tuple[str, int, str]]:
    """Part, copy and set-up of every line of the running order."""
    _, plan, _ = planned(text)
    return {(step.part, copy, step.set_up) for step in plan.order for copy in step.copies}


def test_every_copy_passes_every_set_up_of_its_part() -> None:
    for text in (STAND, shaft_job(quantity=12)):
        _, plan, _ = planned(text)
        due = due_of(runs(plan))
        assert {(d.part, copy, d.key) for d in due for copy in d.copies} == wanted(text)


def test_the_page_has_each_box_once() -> None:
    for text in (STAND, shaft_job(quantity=12)):
        boxes = Counter(i.name for page in laid_out(text) for i in page.items
                        if isinstance(i, TickBox) and " through set-up " in i.name)
        _, plan, _ = planned(text)
        due = due_of(runs(plan))
        assert set(boxes) == {d.name(copy) for d in due for copy in d.copies}
        assert set(boxes.values()) == {1}


def test_the_narrow_screen_has_the_same_boxes() -> None:
    _, plan, _ = planned(STAND)
    due = due_of(runs(plan))
    found = [unescape(n) for n in re.findall(r'data-tick="([^"]*)"', done_html(runs(plan)))]
    assert sorted(found) == sorted(d.name(copy) for d in due for copy in d.copies)


def test_nothing_to_do_nothing_to_tick() -> None:
    assert done_html(()) == ""
