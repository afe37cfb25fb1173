"""What is loose and how, and that every dimension offered does fix it."""

from __future__ import annotations

import re

import pytest

from handwheel.drawing.records import State
from tests.drawing.faulty import CYLINDERS, DIAMETERS, the_fault
from tests.drawing.jobs import part, sized

FULL = [*DIAMETERS[:3], "a1 length: 10", "b1 length: 20", "c1 length: 5"]


@pytest.mark.parametrize(
    ("gone", "named"),
    [("a1 diameter", {"a1": "diameter"}), ("b1 length", {"b1": "length"}), ("c1 diameter", {"c1": "diameter"})],
)
def test_one_gone_is_loose_in_its_feature_and_so_said(gone: str, named: dict[str, str]) -> None:
    found = part(CYLINDERS[:3], [line for line in FULL if not line.startswith(gone)])
    assert found.state is State.UNDER_DIMENSIONED
    fault = the_fault(found, "too-few-dimensions")
    assert set(fault.phrases) == set(named)
    for name, how in named.items():
        assert f"'{name}' ({how})" in fault.what
    assert fault.do.startswith(f"give '{gone}'")


def test_every_offer_alone_fixes_it() -> None:
    lines = [*DIAMETERS[:3], "a1 length: 10", "overall length: 50"]
    fault = the_fault(part(CYLINDERS[:3], lines), "too-few-dimensions")
    offers = re.findall(r"'([^']+)'", fault.do)
    assert offers[:2] == ["b1 length", "c1 length"]
    for offer in offers:
        size = 30 if offer.startswith("left end") else 18
        assert part(CYLINDERS[:3], [*lines, f"{offer}: {size}"]).state is State.FULLY_DIMENSIONED, offer


def test_two_gone_apart_are_offered_apart_and_any_choice_fixes_both() -> None:
    lines = [*DIAMETERS[:2], "a1 length: 10", "overall length: 50"]
    fault = the_fault(part(CYLINDERS[:3], lines), "too-few-dimensions")
    assert "2 short" in fault.what
    assert set(fault.phrases) == {"b1", "c1"}
    one, two = (re.findall(r"'([^']+)'", half) for half in fault.do.split(", and "))
    sizes = {"b1 length": 15, "c1 length": 12, "left end to b1 right": 31, "c1 diameter": 9}
    for first in one:
        for second in two:
            found = part(CYLINDERS[:3], [*lines, f"{first}: {sizes[first]}", f"{second}: {sizes[second]}"])
            assert found.state is State.FULLY_DIMENSIONED, (first, second)


def test_two_that_hang_together_are_offered_as_a_pair() -> None:
    outside = ["ball: b", "hollow: h", "cylinder: c"]
    lines = ["c diameter: 10", "c length: 20", "h diameter at h centre: 8", "left end to h centre: 24"]
    fault = the_fault(part(outside, lines), "too-few-dimensions")
    assert "2 short" in fault.what
    assert {"b", "h"} >= set(fault.phrases) >= {"b"}
    assert fault.do.count("'") == 4
    assert " and " in fault.do


@pytest.mark.parametrize("kind", ["cone", "hole place", "groove place", "groove floor"])
def test_other_ways_to_be_loose(kind: str) -> None:
    cone = ["cone: c", "cylinder: d"]
    cross = "    across:\n      - {hole: x, on: b1, through: yes}"
    groove = ["cylinder: a1", "cylinder: b1", "{groove: g, in: b1}"]
    grooved = [*DIAMETERS[:2], "a1 length: 10", "b1 length: 20", "g width: 2"]
    drawing, name, how, offer = {
        "cone": (part(cone, ["c left diameter: 9", "c length: 20", "d diameter: 5", "d length: 4"]), "c", "angle", "right dia"),
        "hole place": (part(CYLINDERS[:3], [*FULL, "x diameter: 3"], more=cross), "x", "place", "x centre"),
        "groove place": (part(groove, [*grooved, "g diameter: 18"]), "g", "place", "g left"),
        "groove floor": (part(groove, [*grooved, "b1 left to g left: 3"]), "g", "diameter", "g diameter"),
    }[kind]
    fault = the_fault(drawing, "too-few-dimensions")
    assert fault.phrases == (name,)
    assert how in fault.what
    assert offer in fault.do


def test_a_hole_carried_along_is_not_itself_loose() -> None:
    cross = "    across:\n      - {hole: x, on: b1, through: yes}"
    lines = [*DIAMETERS[:3], "b1 length: 20", "overall length: 50", "x diameter: 3", "b1 left to x centre: 10"]
    assert set(the_fault(part(CYLINDERS[:3], lines, more=cross), "too-few-dimensions").phrases) == {"a1", "c1"}


def test_a_word_that_would_do_is_offered() -> None:
    holes = "    across:\n      - {holes: studs, face: left, count: 2}"
    lines = [*DIAMETERS[:1], "a1 length: 10", "studs diameter: 2", "studs pitch circle diameter: 6"]
    fault = the_fault(part(CYLINDERS[:1], lines, more=holes), "too-few-dimensions")
    assert fault.phrases == ("studs",)
    assert "'studs depth'" in fault.do
    assert "'through: yes' at 'studs'" in fault.do
    mended = part(CYLINDERS[:1], lines, more=holes.replace("count: 2", "count: 2, through: yes"))
    assert mended.state is State.FULLY_DIMENSIONED


def test_tied_parts_are_both_loose_and_either_may_be_given() -> None:
    text = """handwheel: 1
job: tied
units: mm
parts:
  pin:
    outside: [cylinder: shank]
    dimensions: {shank length: 40}
  cap:
    outside: [cylinder: top]
    dimensions: {top diameter: twice shank diameter of pin, top length: 5}
"""
    found = sized(text)
    assert {(f.part, f.phrases) for f in found.faults} == {("pin", ("shank",)), ("cap", ("top",))}
    assert all("one dimension is missing" in f.what for f in found.faults)
    mended = sized(text.replace("shank length: 40", "shank length: 40, shank diameter: 8"))
    assert mended.state is State.FULLY_DIMENSIONED
