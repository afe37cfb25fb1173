"""Threads as procedures, and what is answered to one who only asks."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handwheel.plan.records import Stage
from handwheel.setups.asking import thread_asked
from handwheel.setups.of import procedure_of
from handwheel.setups.threading import die_steps, tap_steps, thread_procedure
from handwheel.tables.threads import find_thread
from tests.plan.test_route_rules import METRIC, planned
from tests.plan.test_threads_and_joints import CAP, SCREW


def stages(text: str) -> list[Stage]:
    return [stage for part in planned(text, METRIC).parts for stage in part.stages]


@pytest.mark.parametrize(("text", "subject"), [(SCREW, "die"), (CAP.replace("LONG", "30"), "tap")])
def test_each_has_its_procedure_with_the_operations_own_figures(text: str, subject: str) -> None:
    found = [(s, p) for s in stages(text) if (p := thread_procedure(s, METRIC)) is not None]
    assert [p.subject for _, p in found] == [subject]
    stage, procedure = found[0]
    assert [(f.head, f.value) for f in procedure.figures] == list(stage.operation.figures)
    assert len({step.head for step in procedure.steps}) == len(procedure.steps) >= 2
    assert procedure_of(stage, METRIC) == procedure


def test_a_refused_operation_has_none() -> None:
    stage = next(s for s in stages(SCREW) if s.operation.kind == "thread")
    assert thread_procedure(replace(stage, operation=replace(stage.operation, refused="no die")), METRIC) is None


@pytest.mark.parametrize(("screwed", "words"), [(True, "no reverse under power"), (None, "no reverse under power"),
                                                (False, "stop before the spindle is reversed")])  # fmt: skip
def test_no_reverse_on_a_chuck_that_may_unscrew(screwed: bool | None, words: str) -> None:
    shop = replace(METRIC, lathe=replace(METRIC.lathe, has_screwed_chuck=screwed))
    for steps in (die_steps(shop), tap_steps(shop)):
        assert any(words in step.text for step in steps)


def test_a_thread_asked_of() -> None:
    thread = find_thread("M6")
    assert thread is not None
    steps, figures = thread_asked(thread, True, 9.0, METRIC)
    told = {f.head: f.value for f in figures}
    assert steps == tap_steps(METRIC)
    assert told["drill to"].startswith("15.000 mm")  # 9 + 4 + 2
    _, through = thread_asked(thread, True, None, METRIC)
    assert "drill to" not in {f.head for f in through}
    _, outside = thread_asked(thread, False, 9.0, METRIC)
    assert {f.head: f.value for f in outside}["blank"].startswith("Ø 5.900 mm")
