"""Shapes that cannot be: the dimensions that make them so, by how much each misses, and what would do."""

from __future__ import annotations

import math
import re

import pytest

from handwheel.drawing.records import Drawing, State
from tests.drawing.faulty import CYLINDERS, DIAMETERS, faults_by_phrases, the_fault
from tests.drawing.jobs import part

HOLE = "    inside:\n      from left:\n        - hole: h"
TWO = list(CYLINDERS[:2])
LENGTHS = ["a1 length: 10", "b1 length: 20"]


def told(drawing: Drawing) -> dict[str, tuple[str, float]]:
    """The bound told for each dimension of the only fault: `more than` or `less than`, and the size."""
    do = the_fault(drawing, "no-such-shape").do
    found = re.findall(r"'([^']+)' (more than|less than) ([\d./ ]+?) (?:mm|in|deg)", do)
    return {phrase: (word, float(size)) for phrase, word, size in found}


def test_ball_that_does_not_reach_its_neck() -> None:
    lines = ["b diameter: 10", "s diameter: 12", "s length: 20", "k diameter: 5", "overall length: 50"]
    found = part(["ball: b", "cylinder: s", "cylinder: k"], lines)
    assert set(the_fault(found, "no-such-shape").phrases) == {"b diameter", "s diameter"}
    assert told(found) == {
        "b diameter": ("more than", pytest.approx(12, abs=0.01)),
        "s diameter": ("less than", pytest.approx(10, abs=0.01)),
    }
    assert "'b diameter' is 2 mm too small" in found.faults[0].what


def test_ball_that_its_cone_passes_by() -> None:
    # r = 11 - z tan 10 passes the centre at 11 cos 10
    lines = ["b diameter: 20", "c diameter at b centre: 22", "c right diameter: 3", "c angle to axis: 10 deg"]
    found = part(["ball: b", "cone: c"], lines)
    fault = the_fault(found, "no-such-shape")
    assert set(fault.phrases) == {"b diameter", "c diameter at b centre", "c angle to axis"}
    near = math.cos(math.radians(10))
    assert told(found) == {
        "b diameter": ("more than", pytest.approx(22 * near, rel=1e-3)),
        "c diameter at b centre": ("less than", pytest.approx(20 / near, rel=1e-3)),
        "c angle to axis": ("more than", pytest.approx(math.degrees(math.acos(10 / 11)), rel=1e-3)),
    }


def test_length_below_nothing() -> None:
    found = part(CYLINDERS[:3], [*DIAMETERS[:3], "a1 length: 30", "b1 length: 30", "overall length: 50"])
    assert told(found) == {"a1 length": ("less than", 20), "b1 length": ("less than", 20), "overall length": ("more than", 60)}
    assert "'c1' would be -10 mm long" in found.faults[0].what


@pytest.mark.parametrize("by", [0.1, 7.5])
def test_just_past_the_bound_told_there_is_a_shape_and_just_short_there_is_none(by: float) -> None:
    lines = [*DIAMETERS[:3], "a1 length: 30", "b1 length: 30", f"overall length: {60 - by}"]
    bounds = told(part(CYLINDERS[:3], lines))
    assert len(bounds) == 3
    for phrase, (word, size) in bounds.items():
        rest = [line for line in lines if not line.startswith(phrase)]
        for way, state in ((1, State.FULLY_DIMENSIONED), (-1, State.CONTRADICTORY)):
            shift = 0.01 * way * (1 if word == "more than" else -1)
            assert part(CYLINDERS[:3], [*rest, f"{phrase}: {size + shift}"]).state is state, (phrase, way)


def test_two_that_cannot_be_are_told_apart() -> None:
    lines = [*DIAMETERS, "a1 length: 10", "left end to b1 right: 5", "c1 length: 7", "c1 left to d1 right: 3", "e1 length: 4"]
    named = faults_by_phrases(part(CYLINDERS, lines))
    assert set(named) == {
        frozenset({"a1 length", "left end to b1 right"}),
        frozenset({"c1 length", "c1 left to d1 right"}),
    }


def test_two_balls_that_do_not_reach_are_told_apart() -> None:
    outside = ["ball: b", "cylinder: s", "cylinder: k", "cylinder: m", "ball: c"]
    lines = ["b diameter: 10", "s diameter: 12", "s length: 20", "c diameter: 11", "m diameter: 14", "m length: 20"]
    named = faults_by_phrases(part(outside, [*lines, "k diameter: 30", "k length: 10"]))
    assert set(named) == {frozenset({"b diameter", "s diameter"}), frozenset({"c diameter", "m diameter"})}


def test_a_shape_that_cannot_be_beside_a_quarrel_and_a_size_too_few() -> None:
    lines = [*DIAMETERS[:4], "a1 length: 10", "left end to b1 right: 5", "c1 length: 7", "c1 radius: 7", "d1 length: 4"]
    found = part(CYLINDERS, [*lines, "e1 length: 6"])
    assert found.state is State.CONTRADICTORY
    assert set(faults_by_phrases(found)) == {
        frozenset({"a1 length", "left end to b1 right"}),
        frozenset({"c1 diameter", "c1 radius"}),
        frozenset({"e1"}),
    }


@pytest.mark.parametrize(
    ("lines", "named", "words"),
    [
        (["h diameter: 11", "h depth: 5"], {"a1 diameter": ("more than", 11), "h diameter": ("less than", 10)}, "wider than"),
        (["h diameter: 5", "h depth: 34"], {"a1 length": ("more than", 14), "b1 length": ("more than", 24),
                                           "h depth": ("less than", 30)}, "beyond the other end"),
    ],
)  # fmt: skip
def test_holes_that_their_part_cannot_hold(lines: list[str], named: dict[str, tuple[str, float]], words: str) -> None:
    found = part(TWO, [*DIAMETERS[:2], *LENGTHS, *lines], more=HOLE)
    assert told(found) == named
    assert words in found.faults[0].what


def test_a_hole_deep_enough_to_reach_where_the_part_is_thin() -> None:
    lines = ["a1 diameter: 20", "b1 diameter: 8", "a1 length: 30", "b1 length: 30", "h diameter: 10", "h depth: 40"]
    assert told(part(TWO, lines, more=HOLE)) == {
        "b1 diameter": ("more than", 10),
        "a1 length": ("more than", 40),
        "h diameter": ("less than", 8),
        "h depth": ("less than", 30),
    }
    assert part(TWO, [*lines[:5], "h depth: 29"], more=HOLE).state is State.FULLY_DIMENSIONED


@pytest.mark.parametrize(
    ("outside", "lines", "named", "words"),
    [
        (["{chamfer: tip, size: 3 mm x 45 deg}", "cylinder: a1"], ["a1 diameter: 20", "overall length: 2.5"],
         {"tip length": ("less than", 2.5), "overall length": ("more than", 3)}, "'a1' would be -0.5 mm long"),
        (["cylinder: a1", "{fillet: f, size: R 8 mm}", "cylinder: b1"],
         ["a1 diameter: 10", "b1 diameter: 20", "a1 length: 10", "overall length: 40"],
         {"f radius": ("less than", 5), "a1 diameter": ("less than", 4), "b1 diameter": ("more than", 26)}, "3 mm above"),
        (["cylinder: a1", "cylinder: b1", "{groove: g, in: b1}"],
         [*DIAMETERS[:2], *LENGTHS, "g diameter: 22", "g width: 2", "b1 left to g left: 3"],
         {"b1 diameter": ("more than", 22), "g diameter": ("less than", 20)}, "-1 mm deep"),
        (["cylinder: a1", "cylinder: b1", "{groove: g, in: b1}"],
         [*DIAMETERS[:2], *LENGTHS, "g diameter: 18", "g width: 2", "b1 left to g left: 19"],
         {"b1 length": ("more than", 21), "g width": ("less than", 1), "b1 left to g left": ("less than", 18)}, "1 mm beyond"),
        (["cylinder: a1", "cylinder: b1", "{groove: g, in: b1}"],
         [*DIAMETERS[:2], *LENGTHS, "g depth: 11", "g width: 2", "b1 left to g left: 4"],
         {"b1 diameter": ("more than", 22), "g depth": ("less than", 10)}, "floor of 'g' would be -1 mm"),
    ],
)  # fmt: skip
def test_what_has_no_room(
    outside: list[str], lines: list[str], named: dict[str, tuple[str, float]], words: str
) -> None:
    found = part(outside, lines)
    assert found.state is State.CONTRADICTORY
    assert told(found) == named
    assert words in found.faults[0].what


def test_a_fillet_between_surfaces_of_one_size_has_no_corner() -> None:
    outside = ["cylinder: a1", "{fillet: root, size: R 1 mm}", "cylinder: b1"]
    found = part(outside, ["a1 diameter: 12", "b1 diameter: 12", "a1 length: 10", "b1 length: 12"])
    assert found.state is State.CONTRADICTORY
    fault = the_fault(found, "no-such-shape")
    assert set(fault.phrases) == {"a1 diameter", "b1 diameter"}
    assert "no corner for 'root'" in fault.what
    assert "12 mm across" in fault.what


def test_threads_said_to_be_flush_quarrel_by_themselves() -> None:
    found = part(["{cylinder: a, thread: M8, flush: right}", "{cylinder: b, thread: M6}"], ["a length: 10", "b length: 10"])
    assert found.state is State.CONTRADICTORY
    fault = the_fault(found, "no-such-shape")
    assert set(fault.phrases) == {"a", "b"}
    assert "thread M8" in fault.what


def test_what_stays_impossible_whatever_is_loose_is_still_told() -> None:
    found = part(CYLINDERS[:3], ["a1 diameter: 10", "a1 length: 30", "b1 length: 30", "overall length: 50", "c1 diameter: 4"])
    assert found.state is State.CONTRADICTORY
    assert {f.id for f in found.faults} == {"no-such-shape", "too-few-dimensions"}
    (fault,) = [f for f in found.faults if f.id == "no-such-shape"]
    assert set(fault.phrases) == {"a1 length", "b1 length", "overall length"}
