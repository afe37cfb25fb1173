"""Threads as procedures, and what is answered to one who only asks."""

from __future__ import annotations

import math
import re
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


def test_asked_of_a_blind_hole_the_tailstocks_turns_for_each_tap() -> None:
    """M6, 9 deep: 9 + lead + 2 pitches + d / (2 tan 59 deg), d the basic minor; that workshop's barrel goes 2 mm a turn of 40."""
    thread = find_thread("M6")
    assert thread is not None
    _, figures = thread_asked(thread, True, 9.0, METRIC)
    told = {f.head: f.value for f in figures}
    point = (6.0 - 1.25 * math.sqrt(3.0) / 2.0) / 2.0 / math.tan(math.radians(59.0))
    for head, lead in (("tailstock, the tap at hand", 4.0), ("tailstock, a bottoming tap last", 1.5)):
        lines = round((9.0 + lead + 2.0 + point) / 2.0 * 40.0)
        turns, rest = divmod(lines, 40)
        words = f"{turns} turns and {rest} divisions" if rest else f"{turns} turns exactly"
        assert told[head].startswith(words)
        assert f"{9.0 + lead + 2.0 + point:.3f} mm" in told[head]


def test_asked_of_engagement_it_is_told_by_metal() -> None:
    """At least what a mild steel screw wants in the strongest of the kind; a weaker kind never wants less."""
    thread = find_thread("M6")
    assert thread is not None
    _, figures = thread_asked(thread, True, None, METRIC)
    told = next(f.value for f in figures if f.head == "engagement")
    ranges = [tuple(map(float, pair)) for pair in re.findall(r"(\d+\.\d+) to (\d+\.\d+) mm", told)]
    assert len(ranges) == 3
    assert all(low < high for low, high in ranges)
    assert ranges[0][1] <= ranges[1][1] <= ranges[2][1]  # steel, brass, aluminium


def test_a_class_that_is_not_drawn_is_said_to_be_the_usual() -> None:
    for text, head, said in (("M6", "effective diameter, 6g", "no class drawn"), ("M6-5g6g", "effective diameter, 5g6g", ""),
                             ("1/4 BSF", "effective diameter, BS 84 medium", "no class drawn"),
                             ("1/4 x 40 ME", "effective diameter, BS 84 medium", "no limits of its own"),
                             ("2 BA close", "effective diameter, BS 93 close", "")):
        thread = find_thread(text)
        assert thread is not None
        _, figures = thread_asked(thread, False, None, METRIC)
        told = {f.head: f.value for f in figures}
        assert said in told[head]
        assert ("(" in told[head]) == bool(said)


@pytest.mark.parametrize(("screwed", "words"), [(True, "unscrews this chuck"), (None, "unscrews a screwed chuck"), (False, "")])
def test_left_hand_is_the_other_way_about(screwed: bool | None, words: str) -> None:
    """Common practice: a lathe runs with its top toward the worker; a left-hand die or tap wants it the other way."""
    shop = replace(METRIC, lathe=replace(METRIC.lathe, has_screwed_chuck=screwed))
    for steps in (die_steps(shop, is_left_hand=True), tap_steps(shop, is_left_hand=True)):
        assert steps[0].head == "left-hand"
        assert "going away from you" in steps[0].text
        assert words in steps[0].text
        assert ("unscrews" in steps[0].text) == bool(words)
    left = next(s for s in stages(SCREW.replace("M6", "M6 LH")) if s.operation.kind == "thread")
    if left.operation.cutter.kind == "die":
        found = thread_procedure(left, METRIC)
        assert found is not None
        assert found.subject == "left-hand die"


@pytest.mark.parametrize("screwed", [True, None, False])
def test_each_thread_by_die_has_its_caution(screwed: bool | None) -> None:
    shop = replace(METRIC, lathe=replace(METRIC.lathe, has_screwed_chuck=screwed))
    operation = next(s.operation for p in planned(SCREW, shop).parts for s in p.stages if s.operation.kind == "thread")
    assert "by hand or at the slowest speed" in operation.caution
    assert ("no reverse under power without the chuck's lock" in operation.caution) == (screwed is not False)
