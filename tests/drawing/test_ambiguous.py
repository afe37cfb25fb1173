"""Two shapes with the same dimensions: both told in sizes of their own, and what is offered does decide."""

from __future__ import annotations

import math
import re

import pytest

from handwheel.drawing.records import State
from tests.drawing.faulty import the_fault
from tests.drawing.jobs import part

HOLLOW = ["cylinder: j", "hollow: h", "cylinder: k"]
LINES = ["j diameter: 20", "k diameter: 16", "h radius: 15", "h diameter at h centre: 10", "j length: 10", "k length: 9"]


def test_both_shapes_are_told_by_their_sizes() -> None:
    fault = the_fault(part(HOLLOW, LINES), "ambiguous-shape")
    # arc's centre 20 from the axis: 10 from it at sqrt(125) from its middle on the left, 12 from it at sqrt(81)... 9
    left, right = math.sqrt(15**2 - 10**2), math.sqrt(15**2 - 12**2)
    assert f"'h length' is {left + right:.6g} mm in one and {left - right:.6g} mm in the other" in fault.what
    assert fault.phrases == ("h",)


@pytest.mark.parametrize("which", [1, -1])
def test_every_size_offered_decides(which: int) -> None:
    fault = the_fault(part(HOLLOW, LINES), "ambiguous-shape")
    length = math.sqrt(15**2 - 10**2) + which * 9
    sizes = {"h length": length, "overall length": 19 + length, "left end to h right": 10 + length}
    offers = re.findall(r"'([^']+)'", fault.do)
    assert set(offers) <= set(sizes)
    assert offers
    for offer in offers:
        found = part(HOLLOW, [*LINES, f"{offer}: {sizes[offer]:.6f}"])
        assert found.state is State.OVER_DIMENSIONED, offer
        assert found.part("it").length == pytest.approx(19 + length, abs=1e-5)


def test_narrowing_is_told_both_ways_with_its_sizes() -> None:
    lines = ["c taper: 1 in 20", "c left diameter: 20", "overall length: 40"]
    fault = the_fault(part(["cone: c"], lines), "narrowing-unknown")
    assert "'c right diameter' 22 mm" in fault.what
    assert "'c right diameter' 18 mm" in fault.what


def test_a_cone_whose_way_rests_on_sizes_found_is_told_both_ways_and_the_words_decide() -> None:
    outside = ["cylinder: c", "cone: k", "ball: b"]
    lines = ["c length: 20", "k length: 30", "b diameter: 15", "k included angle: 2 deg", "left end to b centre: 54"]
    lines.append("k meets c to left end: 200")
    fault = the_fault(part(outside, lines), "ambiguous-shape")
    assert {"k"} <= set(fault.phrases)
    for side in ("left", "right"):
        assert f"write 'narrow: {side}' at 'k'" in fault.do
        found = part(["cylinder: c", f"{{cone: k, narrow: {side}}}", "ball: b"], lines, "c diameter", "k right diameter")
        assert found.state is State.FULLY_DIMENSIONED
        c, right = (a.value for a in found.answers)
        # ends at 50, on the ball of 7.5 about 54; carried on to 200 left of the end it is as wide as the cylinder
        at_end = math.sqrt(7.5**2 - 4**2)
        assert right == pytest.approx(2 * at_end, abs=1e-6)
        way = 1 if side == "left" else -1
        assert c == pytest.approx(2 * (at_end - way * 250 * math.tan(math.radians(1))), abs=1e-6)


def test_inch_jobs_are_told_in_inches() -> None:
    lines = ["j diameter: 2", "k diameter: 1.6", "h radius: 1.5", "h diameter at h centre: 1", "j length: 1", "k length: 1"]
    fault = the_fault(part(HOLLOW, lines, units="inch"), "ambiguous-shape")
    assert f"{math.sqrt(1.25) + 0.9:.5g} in" in fault.what
    assert " mm" not in fault.what
