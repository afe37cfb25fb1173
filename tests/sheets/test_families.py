"""Parts done alike side by side: nothing is lost, doubled or moved before what it waits for."""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from handwheel.cli.load import load_job, size_with
from handwheel.cli.make import load_workshop
from handwheel.plan.records import Plan
from handwheel.plan.route import plan_job
from handwheel.readings.of import readings_of
from handwheel.readings.records import Reading
from handwheel.sheets.bunches import bunches
from handwheel.sheets.families import beginning, factored, families, in_common, said_by_all
from handwheel.sheets.make import make_pages
from handwheel.sheets.paper import SheetMeta
from handwheel.sheets.primitives import Page, TickBox
from handwheel.sheets.setups import can_be_read, runs

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.yaml"))


@cache
def made(path: Path) -> tuple[Plan, dict[tuple[str, int], tuple[Reading, ...]], tuple[Page, ...]]:
    job = load_job(str(path))
    drawing, _ = size_with(job, (), None)
    shop = load_workshop(job)
    plan = plan_job(drawing, shop)
    readings = dict(readings_of(plan, shop))
    pages = make_pages(drawing, plan, readings, shop, SheetMeta(path.name, "2026-11-25", "1"))
    return plan, readings, tuple(pages)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_act_of_every_copy_has_one_box(path: Path) -> None:
    plan, readings, pages = made(path)
    boxes = Counter(i.name for page in pages for i in page.items if isinstance(i, TickBox))
    wanted = {
        f"{step.part} {step.number} act {k + 1} copy {copy}"
        for step in plan.order
        for k in range(len(readings.get((step.part, step.number), ())))
        for copy in step.copies
    }
    assert wanted
    assert {name for name in boxes if " act " in name} == wanted
    assert set(boxes.values()) == {1}


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_a_part_keeps_its_own_order_and_what_it_waits_for_comes_first(path: Path) -> None:
    plan, readings, _ = made(path)
    readable = can_be_read(plan)
    done: list[tuple[str, int]] = []
    waits: dict[tuple[str, int], tuple[str, ...]] = {}
    for bunch in bunches(runs(plan), readings, readable):
        for run in bunch:
            for family in families(run, readings, readable):
                for group in family:
                    for stage in group.stages:
                        done.append((group.part, stage.operation.number))
                        waits[done[-1]] = stage.operation.after_parts
    assert sorted(set(done)) == sorted({(s.part, s.number) for s in plan.order})
    for part in {name for name, _ in done}:
        planned = [s.number for s in plan.order if s.part == part]
        assert [n for name, n in done if name == part] == planned
    for place, key in enumerate(done):
        assert not [later for later in done[place:] if later[0] in waits[key] and later[0] != key[0]]


def test_texts_that_differ_in_a_word_are_said_once() -> None:
    assert in_common(["by the grip, left", "by the hub, left"]) == "by the grip / hub, left"
    assert in_common(["the same", "the same"]) == "the same"
    assert in_common(["one two", "one two three"]) is None
    assert in_common(["a b c d e", "f g h i j"]) is None


def test_a_zero_is_split_before_its_sign() -> None:
    zeros = ["touched on the work, Ø 0.5 in", "touched on the work, Ø 0.7 in"]
    assert beginning(zeros) == ("touched on the work", ["Ø 0.5 in", "Ø 0.7 in"])
    assert beginning(["the end", "the end"]) == ("the end", ["", ""])


def test_lists_and_notes_say_what_is_common_once() -> None:
    assert factored("collet for Ø 1 in; collet for Ø 2 in") == "collet for Ø 1 in, Ø 2 in"
    assert factored("vice; hand") == "vice; hand"
    assert said_by_all(["Lock it. Past by 1.", "Lock it. Short by 2."]) == ("Lock it", ["Past by 1", "Short by 2"])
