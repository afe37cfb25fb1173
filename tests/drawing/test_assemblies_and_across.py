"""Parts put together, and what is cut into a part or lies across it; expected values by hand."""

from __future__ import annotations

from math import pi, sin, sqrt

import pytest

from handwheel.drawing.records import Arc, State
from tests.drawing.jobs import part, sized, values

TWO = """handwheel: 1
job: two
units: mm
parts:
  a:
    outside: [{{cylinder: body}}, {{cylinder: stud}}]
    dimensions: {{body diameter: 20, stud diameter: 10, body length: 30, overall length: 50}}
  b:
    outside: [{{cylinder: stem}}, {{cylinder: cap}}]
    inside:
      from {end}: [{{hole: well}}]
    dimensions: {{stem diameter: 18, stem length: 30, cap diameter: 25, well diameter: 10, well depth: 18}}
assemblies:
  both:
    seats:
      - {seat}
    dimensions:
      left end of a to {far} end of b: 75
"""


def test_a_part_lies_as_drawn_where_that_fits_the_seat() -> None:
    text = TWO.format(end="left", seat="stem left of b on body right of a", far="right")
    found = sized(text, "overall length of b", "right end of a to well bottom of b")
    assert found.assemblies[0].direction == {"a": 1, "b": 1}
    assert values(found) == [pytest.approx(45), pytest.approx(2)]
    assert found.assemblies[0].left_end["b"] == pytest.approx(30)


def test_a_part_is_turned_round_where_the_seat_needs_it() -> None:
    text = TWO.format(end="right", seat="cap right of b on body right of a", far="left")
    found = sized(text, "overall length of b", "right end of a to well bottom of b", "left end of a to cap left of b")
    assert found.assemblies[0].direction == {"a": 1, "b": -1}
    assert values(found) == [pytest.approx(45), pytest.approx(2), pytest.approx(45)]


def test_a_chain_of_followers_through_three_parts() -> None:
    text = """handwheel: 1
job: three
units: mm
parts:
  a:
    outside: [{cylinder: rod}]
    dimensions: {rod diameter: twice bar diameter of c, rod length: 10}
  b:
    outside: [{cylinder: tube}]
    dimensions: {tube diameter: same as rod diameter of a + 0.5, tube length: 20}
  c:
    outside: [{cylinder: bar}]
    dimensions: {bar diameter: 6 ± 0.1, bar length: 30}
"""
    found = sized(text, "tube diameter of b")
    (answer,) = found.answers
    assert (answer.value, answer.low, answer.high) == (
        pytest.approx(12.5),
        pytest.approx(12.3),
        pytest.approx(12.7),
    )
    assert set(answer.sources) == {"tube diameter", "rod diameter of a", "bar diameter of c"}


def test_across_the_axis() -> None:
    found = part(
        ["cylinder: flange", "cylinder: body", "{cylinder: tip, thread: M8}"],
        ["flange diameter: 60", "flange length: 10", "body diameter: 24", "body length: 20", "tip length: 15"]
        + ["bolts diameter: 6", "bolts pitch: 22", "spanner across flats: 20", "cross diameter: 3"]
        + ["tip right to cross centre: 4", "seat across flats: 50", "key width: 5", "key depth: 3"]
        + ["key length: 6", "left end to key left: 2"],
        "bolts pitch circle diameter",
        "tip diameter",
        "left end to cross centre",
        "key from axis",
        "left end to key centre",
        "seat width",
        more="    across:\n      - {holes: bolts, face: left, count: 6, through: yes}\n"
        "      - {hexagon: spanner, on: body}\n      - {hole: cross, on: tip, through: yes}\n"
        "      - {flat: seat, on: flange, count: 2}\n      - {slot: key, on: flange}",
    )
    expected = [22 / sin(pi / 6), 8, 41, 27, 5, 2 * sqrt(30**2 - 25**2)]
    assert values(found) == [pytest.approx(e, abs=1e-9) for e in expected]
    solved = {a.name: a for a in found.part("it").across}
    assert solved["spanner"].sizes["across flats"] == pytest.approx(20)
    assert solved["cross"].centre == pytest.approx(41)


def test_groove_and_its_record() -> None:
    found = part(
        ["cylinder: rod", "{groove: clip, in: rod}"],
        ["rod diameter: 14", "overall length: 60", "clip width: 1.6", "clip depth: 0.8", "clip right to right end: 5"],
        "clip diameter",
        "left end to clip left",
    )
    assert values(found) == [pytest.approx(12.4), pytest.approx(53.4)]
    (clip,) = found.part("it").cut_in
    assert (clip.left, clip.right, clip.floor_radius) == (
        pytest.approx(53.4),
        pytest.approx(55),
        pytest.approx(6.2),
    )


def test_surfaces_join_end_to_end() -> None:
    found = part(
        ["ball: b", "cone: c", "hollow: h", "cylinder: k"],
        ["b diameter: 20", "c diameter at b centre: 12", "c right diameter: 8", "b centre to c right: 40"]
        + ["h radius: 15", "k diameter: 12", "h length: 9", "k length: 5"],
    )
    assert found.state is State.FULLY_DIMENSIONED, [f.line() for f in found.faults]
    links = found.part("it").outside
    for one, two in zip(links, links[1:], strict=False):
        assert one.right == pytest.approx(two.left, abs=1e-9)
        assert one.right_radius == pytest.approx(two.left_radius, abs=1e-9)
    assert links[0].left_radius == 0.0
    for link in links:
        for piece in link.surface:
            if isinstance(piece, Arc):
                for z, r in ((piece.z0, piece.r0), (piece.z1, piece.r1)):
                    assert sqrt((z - piece.zc) ** 2 + (r - piece.rc) ** 2) == pytest.approx(piece.radius, abs=1e-6)


def test_question_between_parts_that_nothing_puts_together_has_no_answer_and_the_others_do() -> None:
    text = TWO.format(end="left", seat="stem left of b on body right of a", far="right")
    text = text[: text.index("assemblies")].replace("well depth: 18", "well depth: 18, cap length: 9")
    found = sized(text, "left end of a to left end of b", "overall length of b")
    assert [a.value for a in found.answers] == [pytest.approx(39)]
    assert len(found.questions_unanswered) == 1
