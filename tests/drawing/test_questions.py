"""Questions of every sort, against closed forms, every corner of the limits, and a general error-propagation library."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product
from math import atan, cos, degrees, pi, radians, sin, sqrt, tan

import pytest
from uncertainties import UFloat, ufloat
from uncertainties import umath as um

from handwheel.drawing.records import Answer
from tests.drawing.jobs import part, sized
from tests.drawing.lever import LEVER

INCH = 25.4
HOLES = "    inside:\n      from left:\n        - countersink: k\n        - hole: h\n      from right:\n        - bore: b\n"
TWO = """handwheel: 1
job: test
units: mm
general tolerance: ± 0.1
parts:
  pin:
    outside:
      - cylinder: stem
    dimensions:
      stem diameter: 8 -0.02 -0.05
      stem length: 30
  bush:
    outside:
      - cylinder: body
    inside:
      from left:
        - bore: way
          through: yes
    dimensions:
      body diameter: 14
      body length: 20
      way diameter: 8 +0.03 -0
"""


def one(answers: tuple[Answer, ...]) -> Answer:
    (answer,) = answers
    return answer


def three_sigma(nominal: float, lower: float, upper: float) -> UFloat:
    """A size whose limits are three standard deviations to either side of their middle."""
    return ufloat(nominal + (lower + upper) / 2, (upper - lower) / 6)


# a cylinder, a cone and a ball, with a countersunk hole from the left and a bore from the right
CONE = ["cylinder: c", "cone: t", "ball: s"]
CONE_SIZES = [
    "c diameter: 20", "c length: 30", "t left diameter: 16", "t right diameter: 10", "t length: 25", "s diameter: 18",
    "k diameter: 10", "k included angle: 90 deg", "h diameter: 6", "h depth: 20", "b diameter: 4", "b depth: 5",
]  # fmt: skip
TIP = 3 / tan(radians(59))
BALL = 55 + sqrt(81 - 25)
PHRASES: dict[str, float] = {
    "overall length": BALL + 9,
    "c diameter": 20,
    "c radius": 10,
    "c length": 30,
    "t taper": 6 / 25,
    "t included angle": 2 * degrees(atan(3 / 25)),
    "t angle to axis": degrees(atan(3 / 25)),
    "t half angle": degrees(atan(3 / 25)),
    "t left diameter": 16,
    "t diameter at t centre": 13,
    "t diameter at t right + 1/4 in": 10 - 6.35 * 6 / 25,
    "t diameter at t right - 5 mm": 10 + 5 * 6 / 25,
    "t diameter at left end": 16 + 30 * 6 / 25,
    "t apex to t right": 5 / (3 / 25),
    "t left to t apex": 8 / (3 / 25),
    "left end to t middle": 42.5,
    "right end to left end": BALL + 9,
    "s centre to left end": BALL,
    "s left to t right + 2 mm": 2,
    "s left diameter": 10,
    "t meets c to left end": 30 - 2 / (3 / 25),
    "c meets t to left end": 30 - 2 / (3 / 25),
    "t meets s to left end": 55,
    "k left diameter": 10,
    "k depth": 2,
    "h mouth to left end": 2,
    "h bottom to left end": 20,
    "h length": 18,
    "h point to left end": 20 + TIP,
    "k apex to left end": 5,
    "k meets h to k mouth": 2,
    "b left to right end": 5,
    "b mouth to right end": 0,
    "b bottom to h point": BALL + 9 - 5 - 20 - TIP,
    "left end + 1/4 in to c right - 5 mm": 30 - 5 - 6.35,
}


@pytest.mark.parametrize("phrase", PHRASES)
def test_every_phrase_of_a_part(phrase: str) -> None:
    found = part(CONE, CONE_SIZES, phrase, more=HOLES)
    assert not found.faults
    assert not found.questions_unanswered
    assert one(found.answers).value == pytest.approx(PHRASES[phrase], abs=1e-8)


def test_two_curves_carried_on_meet_beyond_where_they_end() -> None:
    # a hollow of 60 about (z, r) = (zh, rh) through (a + 10 cos 30, 5) and (b - 15 cos, 6): the balls of 10 and 15
    found = part(
        ["ball: a", "hollow: h", "ball: b"],
        ["a diameter: 20", "b diameter: 30", "h radius: 60", "a centre to b centre: 40", "h left diameter: 10"]
        + ["h right diameter: 12"],
        "a meets h to left end", "b meets h to left end", "left end to h centre", "h diameter at h centre",
    )  # fmt: skip
    left, right = 10 + 10 * cos(radians(30)), 50 - sqrt(225 - 36)
    # the centre: on the bisector of the chord from (left, 5) to (right, 6), away from the axis
    z, r, chord = (left + right) / 2, 5.5, sqrt((right - left) ** 2 + 1)
    away = sqrt(3600 - chord**2 / 4)
    centre = (z - away / chord, r + away * (right - left) / chord)
    values = [a.value for a in found.answers]
    assert values == pytest.approx([left, right, centre[0], 2 * (centre[1] - 60)], abs=1e-8)


def test_what_does_not_meet_says_so() -> None:
    found = part(
        ["ball: a", "cylinder: c", "ball: b"],
        ["a diameter: 20", "b diameter: 30", "c diameter: 6", "a centre to b centre: 60"],
        "a meets b to left end", "a meets c to left end",
    )  # fmt: skip
    (fault,) = found.questions_unanswered
    assert fault.id == "no-answer"
    assert fault.phrases == ("a meets b to left end",)
    assert "'a' and 'b', carried on, do not meet" in fault.what
    assert one(found.answers).value == pytest.approx(10 + sqrt(100 - 9), abs=1e-9)


def test_a_pitch_and_what_lies_across() -> None:
    across = "    across:\n      - holes: r\n        face: left\n        count: 6\n      - flat: f\n        on: c\n"
    across += "        count: 2\n"
    found = part(
        ["cylinder: c"],
        ["c diameter: 60", "c length: 20", "r diameter: 5", "r pitch circle diameter: 40", "r depth: 8"]
        + ["f from axis: 25", "f length: 10", "left end to f left: 10"],
        "r pitch", "f across flats", "f width", "f depth", "f centre to left end", "r radius", more=across,
    )  # fmt: skip
    values = [a.value for a in found.answers]
    assert values == pytest.approx([40 * sin(pi / 6), 50, 2 * sqrt(900 - 625), 5, 15, 2.5], abs=1e-8)


def test_a_clearance_between_parts_that_nothing_ties() -> None:
    found = sized(TWO, "way diameter of bush - stem diameter of pin", "stem diameter of pin + 0.01")
    clearance, more = found.answers
    assert (clearance.value, clearance.low, clearance.high) == pytest.approx((0.0, 0.02, 0.08), abs=1e-9)
    by_hand = three_sigma(8, 0, 0.03) - three_sigma(8, -0.05, -0.02)
    assert clearance.statistical_low == pytest.approx(by_hand.n - 3 * by_hand.s, abs=1e-9)
    assert clearance.statistical_high == pytest.approx(by_hand.n + 3 * by_hand.s, abs=1e-9)
    assert [(c.part, c.phrase) for c in clearance.contributors] == [
        ("bush", "way diameter"), ("pin", "stem diameter")]
    assert [c.share for c in clearance.contributors] == pytest.approx([0.03, 0.03])
    assert [c.percent for c in clearance.contributors] == pytest.approx([50, 50])
    assert (more.value, more.low, more.high) == pytest.approx((8.01, 7.96, 7.99), abs=1e-9)


def test_a_difference_of_tied_sizes_moves_with_both_at_once() -> None:
    # the grip's flat is the shank's end: their difference has no limits of its own but what the tie allows
    found = sized(LEVER, "grip left diameter of knob - shank right diameter of lever")
    answer = one(found.answers)
    assert (answer.value, answer.low, answer.high) == pytest.approx((0, 0, 0), abs=1e-12)


def near_cone(ball: float, across: float, small: float, apart: float) -> float:
    r0, r1, big = across / 2, small / 2, ball / 2
    u = (r0 - r1) / apart
    return (r0 * u + sqrt((r0 * u) ** 2 + (1 + u * u) * (big * big - r0 * r0))) / (1 + u * u)


def near_cone_um(ball: UFloat, across: UFloat, small: UFloat, apart: UFloat) -> UFloat:
    r0, r1, big = across / 2, small / 2, ball / 2
    u = (r0 - r1) / apart
    return (r0 * u + um.sqrt((r0 * u) ** 2 + (1 + u * u) * (big * big - r0 * r0))) / (1 + u * u)


def test_a_sum_worst_case_statistical_and_who_contributes() -> None:
    limits = [(20, -0.1, 0.1), (12, -0.1, 0.3), (6, -0.2, 0.0), (70, -1.0, 1.0)]
    found = part(
        ["ball: b", "cone: c"],
        ["b diameter: 20 ± 0.1", "c diameter at b centre: 12 +0.3 -0.1", "c right diameter: 6 +0 -0.2"]
        + ["b centre to c right: 70 ± 1"],
        "b centre to b right - c right diameter + 1/4 in",
    )

    def size(b: float, a: float, s: float, d: float) -> float:
        return near_cone(b, a, s, d) - s + 6.35

    answer = one(found.answers)
    corners = [size(*corner) for corner in product(*((n + lo, n + hi) for n, lo, hi in limits))]
    assert answer.value == pytest.approx(size(20, 12, 6, 70), abs=1e-9)
    assert (answer.low, answer.high) == pytest.approx((min(corners), max(corners)), abs=1e-8)
    sizes = [three_sigma(*one) for one in limits]
    by_library = near_cone_um(*sizes) - sizes[2] + 6.35
    assert answer.statistical_low == pytest.approx(by_library.n - 3 * by_library.s, abs=1e-8)
    assert answer.statistical_high == pytest.approx(by_library.n + 3 * by_library.s, abs=1e-8)
    parts = {name: 6 * sigma for name, sigma in zip(
        ("b diameter", "c diameter at b centre", "c right diameter", "b centre to c right"),
        (by_library.error_components()[s] for s in sizes), strict=True)}  # fmt: skip
    found_shares = {c.phrase: c.share for c in answer.contributors}
    assert found_shares == pytest.approx(parts, abs=1e-8)
    assert sum(c.percent for c in answer.contributors) == pytest.approx(100)
    shares = [c.share for c in answer.contributors]
    assert shares == sorted(shares, reverse=True)


def test_what_cannot_be_added() -> None:
    from handwheel.base.faults import Fault
    from handwheel.job.ask import read_question
    from handwheel.job.read import read_job

    job, _ = read_job(LEVER.encode(), "test.yaml")
    assert job is not None
    lines = {
        "hub diameter of lever - shank included angle of lever":
            "--ask:1:24: 'shank included angle of lever' is not a length, as the size before it is; "
            "add and take away sizes of one sort",
        "hub diameter of lever + 2 deg": "--ask:1:25: what is added is not a length; write a length",
        "hub diameter of lever so that tenon length of lever":
            "--ask:1:52: 'so that' needs 'is VALUE' at its end; write 'X so that Y is VALUE'",
        "hub diameter of lever so that tenon length of lever is 2 deg":
            "--ask:1:56: this is not a length; write a length",
        "hub diameter of lever - tenon diameter of lever so that tenon length of lever is 2":
            "--ask:1:1: only one size can be sought; name one size before 'so that'",
        "volume of spoon": "--ask:1:11: there is no part 'spoon'; known here: knob, lever, short lever",
    }  # fmt: skip
    for ask, line in lines.items():
        fault = read_question(ask, job, None)
        assert isinstance(fault, Fault)
        assert fault.line() == line


def test_one_size_so_that_another_comes_out() -> None:
    found = part(
        ["ball: b", "cone: c"],
        ["b diameter: 20 ± 0.1", "c diameter at b centre: 12", "c right diameter: 6", "b centre to c right: 70"],
        "b diameter so that b centre to b right is 9.5",
        "c right diameter so that c taper is 1 in 20",
        "c right diameter so that c included angle is 4 deg",
        "b centre to c right so that c taper is 1 in 10",
    )
    assert not found.questions_unanswered
    ball, taper, angle, apart = found.answers
    # on the cone 9.5 from the centre
    assert ball.value == pytest.approx(2 * sqrt(9.5**2 + (6 - 9.5 * 3 / 70) ** 2), abs=1e-8)
    assert ball.present == pytest.approx(20)
    assert (ball.low, ball.high) == pytest.approx((ball.value - 0.1, ball.value + 0.1), abs=1e-8)
    assert one(ball.details).value == pytest.approx(9.5, abs=1e-8)
    assert one(ball.details).low < 9.5 < one(ball.details).high
    assert taper.value == pytest.approx(12 - 70 / 20, abs=1e-8)
    assert angle.value == pytest.approx(12 - 2 * 70 * tan(radians(2)), abs=1e-8)
    assert apart.value == pytest.approx(60, abs=1e-8)


def test_a_clearance_is_asked_for_between_parts() -> None:
    ask = "tenon diameter of lever so that socket diameter of knob - tenon diameter of lever is 0.002"
    answer = one(sized(LEVER, ask).answers)
    assert answer.value == pytest.approx((5 / 32 - 0.002) * INCH, abs=1e-9)
    assert answer.present == pytest.approx(5 / 32 * INCH)
    # 5/32 H7 and h7 are 12 micrometres wide (ISO 286-2, over 3 up to 6 mm)
    clearance = one(answer.details)
    assert (clearance.low, clearance.high) == pytest.approx((0.002 * INCH, 0.002 * INCH + 0.024), abs=1e-9)


def test_over_an_assembly() -> None:
    ask = "hub centre of lever to grip centre of knob so that hub left to shank right of lever is 2 1/4"
    answer = one(sized(LEVER, ask).answers)
    # the grip's centre is sqrt(R2 - r2) beyond its flat, which sits on the shank's end
    grip = sqrt((3 / 16) ** 2 - (1 / 8) ** 2)
    assert answer.value == pytest.approx((2.25 - 9 / 32 + grip) * INCH, abs=1e-8)
    assert answer.present == pytest.approx(2.125 * INCH)


def test_a_size_that_is_free_is_fixed_by_what_is_wanted() -> None:
    found = part(
        ["cylinder: c", "cylinder: d"], ["c diameter: 20", "c length: 40"],
        "d length so that overall length is 60", "d diameter so that c diameter - d diameter is 3",
    )  # fmt: skip
    assert [a.value for a in found.answers] == pytest.approx([20, 17], abs=1e-8)
    assert [a.present for a in found.answers] == [None, None]
    assert all("it is free in the drawing: this value fixes it" in a.notes for a in found.answers)


REFUSED: dict[str, str] = {
    "c left diameter so that c left to left end is 50": "'c left to left end' cannot be 50 mm: it can reach ",
    "b diameter so that c taper is 1 in 10": "'c taper' does not move with 'b diameter of it'",
    "c taper so that c right diameter is 5": "'c taper of it' is worked out, not given",
    "b radius so that overall length is 50": "'b radius of it' is worked out, not given",
}


def test_what_cannot_be_reached_says_what_can() -> None:
    sizes = ["b diameter: 20", "c left diameter: 12", "c right diameter: 6", "c length: 70"]
    asks = ["c left diameter so that c left to left end is 50", "b diameter so that c taper is 1 in 10",
            "c taper so that c right diameter is 5", "b radius so that overall length is 50"]  # fmt: skip
    found = part(["ball: b", "cone: c"], sizes, *asks)
    assert not found.answers
    for fault, ask in zip(found.questions_unanswered, asks, strict=True):
        assert fault.id == "no-answer"
        assert REFUSED[ask] in fault.what, fault.line()
    # from a cone nearly as wide as the ball, which then sits on it as a shallow cap, to one that comes to nothing
    what = found.questions_unanswered[0].what.partition("reach ")[2]
    least, most = (float(text.split(" mm")[0]) for text in what.split(" to ")[:2])
    assert 9 < least < 10
    assert 19.9 < most <= 20


def test_a_size_that_follows_another_is_asked_of_that() -> None:
    ask = "grip left diameter of knob so that overall length of knob is 0.3"
    (fault,) = sized(LEVER, ask).questions_unanswered
    assert "follows 'shank right diameter of lever'" in fault.what
    assert "'shank right diameter of lever'" in fault.do


def test_a_part_that_lacks_dimensions_answers_what_is_not_loose() -> None:
    found = part(
        ["cylinder: c", "cone: d"], ["c diameter: 20 ± 0.1", "c length: 40", "d left diameter: 15"],
        "c diameter", "left end to d left", "c radius - d left diameter", "overall length", "d taper", "volume",
        "section at c middle", "section at d middle",
    )  # fmt: skip
    assert [a.value for a in found.answers] == pytest.approx([20, 40, -5, 100 * pi], abs=1e-9)
    assert (found.answers[0].low, found.answers[0].high) == pytest.approx((19.9, 20.1))
    assert all("does not hang on what is loose" in a.notes[0] for a in found.answers)
    assert len(found.questions_unanswered) == 4
    assert all("'d'" in f.what and f.id == "no-answer" for f in found.questions_unanswered)


def test_a_quarrel_has_no_answer_and_says_why() -> None:
    found = part(["cylinder: c"], ["c diameter: 20", "c radius: 11", "c length: 40"], "c length")
    assert not found.answers
    (fault,) = found.questions_unanswered
    assert "c radius" in fault.what


SECTIONS: list[tuple[str, list[tuple[str, dict[str, float]]]]] = [
    ("section at c middle", [("", {"outside diameter": 20, "hole diameter": 6, "wall": 7})]),
    ("section at left end + 1 mm", [("", {"outside diameter": 20, "hole diameter": 8, "wall": 6})]),
    ("section at h bottom + 1 mm",
     [("", {"outside diameter": 20, "hole diameter": 6 - 2 * tan(radians(59)), "wall": 7 + tan(radians(59))})]),
    ("section at c right", [("left", {"outside diameter": 20}), ("right", {"outside diameter": 16})]),
    ("section at t middle", [("", {"outside diameter": 13})]),
    ("section at s centre", [("", {"outside diameter": 18})]),
    ("section at right end - 5 mm",
     [("left", {"outside diameter": 2 * sqrt(81 - 16)}),
      ("right", {"outside diameter": 2 * sqrt(81 - 16), "hole diameter": 4, "wall": sqrt(65) - 2})]),
    ("section at left end", [("", {"outside diameter": 20, "hole diameter": 10, "wall": 5})]),
]  # fmt: skip


@pytest.mark.parametrize(("ask", "expected"), SECTIONS, ids=[s[0] for s in SECTIONS])
def test_the_section_at_a_station(ask: str, expected: list[tuple[str, dict[str, float]]]) -> None:
    found = part(CONE, CONE_SIZES, ask, more=HOLES)
    assert [a.side for a in found.answers] == [side for side, _ in expected]
    for answer, (_, sizes) in zip(found.answers, expected, strict=True):
        assert {d.ask: d.value for d in answer.details} == pytest.approx(sizes, abs=1e-8)
        hole = sizes.get("hole diameter", 0.0)
        assert answer.value == pytest.approx(pi / 4 * (sizes["outside diameter"] ** 2 - hole**2), abs=1e-7)
        assert answer.measure == "area"


def test_a_section_has_limits_and_lies_on_the_part() -> None:
    found = part(
        ["cone: c"], ["c left diameter: 20 ± 0.2", "c right diameter: 10 ± 0.1", "c length: 50 ± 0.5"],
        "section at left end + 10 mm", "section at right end + 10 mm",
    )  # fmt: skip
    answer = one(found.answers)

    def area(left: float, right: float, length: float) -> float:
        return pi / 4 * (left + (right - left) * 10 / length) ** 2

    corners = [area(*c) for c in product((19.8, 20.2), (9.9, 10.1), (49.5, 50.5))]
    assert (answer.low, answer.high) == pytest.approx((min(corners), max(corners)), abs=1e-7)
    (fault,) = found.questions_unanswered
    assert "lies off the metal: it is 60 mm from the left end" in fault.what


def test_a_groove_is_in_the_section() -> None:
    groove = ["cylinder: c", "{groove: g, in: c}"]
    sizes = ["c diameter: 20", "c length: 40", "g width: 3", "g depth: 2", "left end to g left: 10"]
    found = part(groove, sizes, "section at g middle", "volume", "surface area")
    section, volume, surface = found.answers
    assert one(section.details).value == pytest.approx(16, abs=1e-9)
    assert volume.value == pytest.approx(pi * (100 * 37 + 64 * 3), abs=1e-7)
    assert surface.value == pytest.approx(pi * (20 * 37 + 16 * 3 + 2 * 100 + 2 * (100 - 64)), abs=1e-7)


def corners_of(fn: Callable[..., float], *limits: tuple[float, float]) -> tuple[float, float]:
    found = [fn(*corner) for corner in product(*limits)]
    return min(found), max(found)


def test_mass_takes_the_density_of_the_words_of_the_material() -> None:
    job = TWO.replace("  pin:\n", "  pin:\n    material: free-cutting mild steel, bright\n")
    job = job.replace("  bush:\n", "  bush:\n    material: phosphor bronze\n")
    found = sized(job, "mass of pin", "mass of bush", "volume of pin")
    steel, bronze, volume = found.answers
    assert steel.value == pytest.approx(pi * 16 * 30 * 7.85e-3, rel=1e-9)  # EN 1993-1-2: 7850 kg/m3
    low, high = corners_of(lambda d, n: pi / 4 * d * d * n, (7.95, 7.98), (29.9, 30.1))
    assert (volume.low, volume.high) == pytest.approx((low, high), rel=1e-9)
    # EN 1991-1-1, table A.4: bronze 83 to 85 kN/m3
    hollow = pi / 4 * (14**2 - 8**2) * 20
    assert bronze.value == pytest.approx(hollow * 84e-6 / 9.80665 * 1000, rel=1e-4)
    assert bronze.low < hollow * 83e-6 / 9.80665 * 1000 < bronze.value
    assert any("bronze" in note for note in bronze.notes)


@pytest.mark.parametrize(("material", "said"), [
    ("", "the part names no material"),
    ("material: acetal", "no density is known for 'acetal'"),
    ("material: steel or brass", "no density is known for 'steel or brass'"),
])  # fmt: skip
def test_no_mass_where_the_material_is_not_known(material: str, said: str) -> None:
    job = TWO.replace("  pin:\n", f"  pin:\n    {material}\n" if material else "  pin:\n")
    found = sized(job, "mass of pin", "stem length of pin")
    assert len(found.answers) == 1
    (fault,) = found.questions_unanswered
    assert said in fault.what
    assert "cast iron" in fault.do


def test_a_distance_whose_limits_pass_through_nothing() -> None:
    # the groove's middle lies 0.1 from the other shoulder, and the limits move it to either side
    found = part(
        ["cylinder: c", "cylinder: d"],
        ["c diameter: 20", "d diameter: 16", "c length: 30 ± 0.2", "overall length: 60.1 ± 0.3", "h diameter: 4"]
        + ["h depth: 30.1 ± 0.1"],
        "h bottom to c right", "c right to h bottom", more="    inside:\n      from left:\n        - bore: h\n",
    )  # fmt: skip
    for answer in found.answers:
        assert (answer.value, answer.low, answer.high) == pytest.approx((0.1, 0.0, 0.4), abs=1e-9)


def test_a_place_left_of_the_left_end_is_said_from_there() -> None:
    found = part(
        ["hollow: h", "cylinder: c"],
        ["h radius: 20", "h left diameter: 20", "h right diameter: 16", "h length: 5", "c length: 5"],
        "left end to h centre",
    )  # fmt: skip
    # its centre: 20 from (0, 10) and (5, 8), away from the axis
    chord = sqrt(25 + 4)
    z = 2.5 + sqrt(400 - chord**2 / 4) * 2 / chord
    assert one(found.answers).value == pytest.approx(z, abs=1e-9)
    mirrored = part(
        ["hollow: h", "cylinder: c"],
        ["h radius: 20", "h left diameter: 16", "h right diameter: 20", "h length: 5", "c length: 5"],
    )  # fmt: skip
    (there,) = mirrored.parts
    size = next(d for d in there.dimensions if "h centre" in d.phrase)
    assert (size.phrase, size.value) == ("h centre to left end", pytest.approx(z - 5, abs=1e-9))


def test_a_slot_does_not_cover_what_it_is_on() -> None:
    more = "    across:\n      - slot: x\n        on: c\n"
    sizes = ["c diameter: 20", "c length: 40", "x width: 3", "x from axis: 6", "x centre to right end: 10"]
    found = part(["cylinder: c"], sizes, "x width", "x length", more=more)
    assert found.state == "under-dimensioned"
    assert [f.phrases for f in found.faults] == [("x",)]
    assert one(found.answers).value == pytest.approx(3)
