"""What is wrong with a drawing, and that only the dimensions and features concerned are named."""

from __future__ import annotations

import pytest

from handwheel.drawing.records import Drawing, State
from tests.drawing.jobs import part

THREE = ["cylinder: a1", "cylinder: b1", "cylinder: c1"]
DIAMETERS = ["a1 diameter: 10", "b1 diameter: 20", "c1 diameter: 12"]


def only_fault(drawing: Drawing) -> tuple[str, set[str], str]:
    assert len(drawing.faults) == 1, [f.line() for f in drawing.faults]
    fault = drawing.faults[0]
    return fault.id, set(fault.phrases), fault.line()


def test_too_few_names_what_is_loose_and_offers_what_would_fix_it() -> None:
    found = part(THREE, [*DIAMETERS, "a1 length: 10", "overall length: 50"])
    assert found.state is State.UNDER_DIMENSIONED
    kind, phrases, line = only_fault(found)
    assert kind == "too-few-dimensions"
    assert phrases == {"b1", "c1"}
    assert "'b1 length'" in line
    assert "'a1 length'" not in line
    assert not found.parts


def test_missing_diameter_is_named() -> None:
    found = part(["ball: b", "cylinder: s"], ["b diameter: 20", "overall length: 50"])
    assert found.state is State.UNDER_DIMENSIONED
    _, phrases, line = only_fault(found)
    assert "s" in phrases
    assert "'s diameter'" in line


def test_repeat_that_agrees_is_a_notice_with_the_amount() -> None:
    found = part(THREE, [*DIAMETERS, "a1 length: 10.33", "b1 length: 20.33", "c1 length: 5", "overall length: 35.7"])
    assert found.state is State.OVER_DIMENSIONED
    assert not found.faults
    (notice,) = [n for n in found.notices if n.id == "repeated-dimension"]
    assert set(notice.phrases) == {"a1 length", "b1 length", "c1 length", "overall length"}
    assert "0.04 mm" in notice.what
    assert found.part("it").length == pytest.approx(35.66, abs=1e-9)  # the coarsest typed is the one left out


@pytest.mark.parametrize(("overall", "state"), [("35.2", State.CONTRADICTORY), ("35.1", State.OVER_DIMENSIONED)])
def test_half_the_last_place_is_the_bound(overall: str, state: State) -> None:
    # 35.14 against 35.1: off by 0.04; against 35.2 by 0.06 of half 0.1
    found = part(THREE, [*DIAMETERS, "a1 length: 10.04", "b1 length: 20.10", "c1 length: 5", f"overall length: {overall}"])
    assert found.state is state


def test_whole_numbers_are_exact_and_quarrel() -> None:
    dimensions = [*DIAMETERS, "a1 length: 10", "b1 length: 20", "c1 length: 5", "overall length: 36"]
    found = part([*THREE, "cylinder: d1"], [*dimensions, "d1 diameter: 5", "left end to c1 right: 34", "d1 length: 1"])
    assert found.state is State.CONTRADICTORY
    _, phrases, line = only_fault(found)
    assert phrases == {"left end to c1 right"}  # 35 by the lengths, and by the overall length less the last
    assert "1 mm" in line
    assert "'left end to c1 right' were 35" in line


def test_quarrel_names_the_smallest_set() -> None:
    dimensions = [*DIAMETERS, "a1 length: 10", "b1 length: 20", "left end to b1 right: 31", "overall length: 60"]
    found = part(THREE, dimensions)
    assert found.state is State.CONTRADICTORY
    _, phrases, _ = only_fault(found)
    assert phrases == {"a1 length", "b1 length", "left end to b1 right"}


def test_ball_too_small_for_its_neck_names_the_two_diameters() -> None:
    dimensions = ["b diameter: 10", "s diameter: 12", "s length: 20", "k diameter: 5", "overall length: 50"]
    found = part(["ball: b", "cylinder: s", "cylinder: k"], dimensions)
    assert found.state is State.CONTRADICTORY
    kind, phrases, _ = only_fault(found)
    assert kind == "no-such-shape"
    assert phrases == {"b diameter", "s diameter"}


def test_negative_length_names_what_makes_it() -> None:
    found = part(THREE, [*DIAMETERS, "a1 length: 30", "b1 length: 30", "overall length: 50"])
    assert found.state is State.CONTRADICTORY
    kind, phrases, line = only_fault(found)
    assert kind == "no-such-shape"
    assert phrases == {"a1 length", "b1 length", "overall length"}
    assert "-10 mm" in line


def test_narrowing_that_nothing_decides() -> None:
    dimensions = ["c taper: 1 in 20", "c left diameter: 20", "overall length: 40"]
    found = part(["cone: c"], dimensions)
    assert found.state is State.AMBIGUOUS
    assert only_fault(found)[0] == "narrowing-unknown"
    found = part(["{cone: c, narrow: right}"], dimensions, "c right diameter")
    assert found.answers[0].value == pytest.approx(18, abs=1e-9)
    found = part(["{cone: c, narrow: left}"], dimensions, "c right diameter")
    assert found.answers[0].value == pytest.approx(22, abs=1e-9)


def test_two_shapes_are_both_told() -> None:
    dimensions = ["j diameter: 20", "k diameter: 16", "h radius: 15", "h diameter at h centre: 10"]
    found = part(["cylinder: j", "hollow: h", "cylinder: k"], [*dimensions, "j length: 10", "k length: 9"])
    assert found.state is State.AMBIGUOUS
    _, phrases, line = only_fault(found)
    assert "h" in phrases
    # the arc's centre is 20 from the axis: it is 10 across 11.18034 from its middle and 8 across at 9, on either side
    assert "30.1803 mm" in line
    assert "12.1803 mm" in line


def test_auxiliary_is_checked_and_not_used() -> None:
    dimensions = [*DIAMETERS, "a1 length: 10", "b1 length: 20", "overall length: 50"]
    good = part(THREE, [*dimensions, "c1 length: (20)"])
    assert good.state is State.FULLY_DIMENSIONED
    assert not good.notices
    bad = part(THREE, [*dimensions, "c1 length: (20.5)"])
    assert bad.state is State.FULLY_DIMENSIONED
    assert [(n.id, n.phrases) for n in bad.notices] == [("auxiliary-off", ("c1 length",))]
    assert "0.5 mm" in bad.notices[0].what


def test_a_ball_as_wide_as_its_neck_is_fully_dimensioned_though_the_equations_are_singular() -> None:
    found = part(["ball: b", "cylinder: s"], ["b diameter: 20", "s diameter: 20", "overall length: 50"], "b length")
    assert found.state is State.FULLY_DIMENSIONED
    assert found.answers[0].value == pytest.approx(10, abs=1e-6)
    assert [n.id for n in found.notices] == ["limits-without-shape"]


def test_cone_that_passes_its_ball_by_names_what_makes_it() -> None:
    # 11 from the axis at the ball's centre, 10 deg: 11 cos 10 = 10.83 from the centre of a ball of 10
    dimensions = ["b diameter: 20", "c diameter at b centre: 22", "c right diameter: 3", "c angle to axis: 10 deg"]
    found = part(["ball: b", "cone: c"], dimensions)
    assert found.state is State.CONTRADICTORY
    kind, phrases, _ = only_fault(found)
    assert kind == "no-such-shape"
    assert {"b diameter", "c diameter at b centre"} <= phrases
