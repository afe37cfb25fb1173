"""One dimension too few in one place and one too many in another: too few, with a notice; never a contradiction."""

from itertools import product
from math import hypot, radians, tan

import pytest

from handwheel.drawing.records import State
from tests.drawing.jobs import sized

NEEDLE = """handwheel: 1
job: Needle
units: mm
general tolerance: ± 0.02
parts:
  needle:
    outside:
      - cylinder: shank
      - {{cone: tip, flush: left}}
    dimensions:
      shank diameter: 3
      tip angle to axis: 5 deg
      tip right diameter: 0.8
      tip right to tip apex: {apex:.9f}
"""
PEG = """handwheel: 1
job: Peg
units: mm
general tolerance: ± 0.1
parts:
  peg:
    outside:
      - cylinder: body
      - cone: tip
    dimensions:
      body diameter: 20
      body length: 30
      tip left diameter: 16
      tip right diameter: 10
      tip length: 4 ± 0.2
"""


def test_a_repeat_beside_what_is_loose() -> None:
    """The apex lies 0.4 / tan 5 deg beyond the tip's end, whatever the shank's length, which is lacking."""
    drawing = sized(NEEDLE.format(apex=0.4 / tan(radians(5))))
    assert drawing.state is State.UNDER_DIMENSIONED
    assert [f.id for f in drawing.faults] == ["too-few-dimensions"]
    assert "shank" in drawing.faults[0].phrases
    assert any("tip right to tip apex" in n.phrases for n in drawing.notices)


def test_a_quarrel_beside_what_is_loose() -> None:
    drawing = sized(NEEDLE.format(apex=0.4 / tan(radians(5)) + 1.0))
    assert drawing.state is State.CONTRADICTORY
    named = {p for f in drawing.faults if f.id != "too-few-dimensions" for p in f.phrases}
    assert named == {"tip right to tip apex", "tip angle to axis", "tip right diameter"}


def test_slope_length() -> None:
    """The hypotenuse of length and half the difference of the diameters; its limits at the corners."""
    (answer,) = sized(PEG, "slope length of tip").answers
    corners = [
        hypot(4 + a * 0.2, (6 + (b - c) * 0.1) / 2) for a, b, c in product((-1, 1), repeat=3)
    ]  # fmt: skip
    assert answer.value == pytest.approx(5.0, abs=1e-9)
    assert (answer.low, answer.high) == pytest.approx((min(corners), max(corners)), abs=1e-9)


def test_an_arc_has_no_slope_length() -> None:
    text = PEG.replace("- cone: tip", "- ball: tip").split("      tip left")[0] + "      tip diameter: 24\n"
    drawing = sized(text, "slope length of tip", "slope length of body")
    assert [a.value for a in drawing.answers] == pytest.approx([30.0])
    assert "no slope length" in drawing.questions_unanswered[0].what
