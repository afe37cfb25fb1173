"""A part worked from another datum: shares by hand, and no part inside the working limits outside the drawing."""

from __future__ import annotations

import itertools

import pytest

from handwheel.drawing.datum import Transfer, candidates, from_datum, point_text, worked_to
from handwheel.drawing.records import Drawing
from handwheel.drawing.size import size_job
from handwheel.job.ask import read_question
from handwheel.job.read import read_job
from handwheel.job.records import Measure, Phrase, Point, Where
from tests.drawing.jobs import sized

STEPS = """handwheel: 1
job: Steps
units: mm
general tolerance: ± 0.2
parts:
  pin:
    outside:
      - cylinder: head
      - cylinder: body
      - cylinder: tip
    dimensions:
      head diameter: 20
      body diameter: 16 +0 -0.05
      tip diameter: 10
      head length: 5 ± 0.1
      body length: 30 ± 0.06
      tip length: 12 ± 0.2
"""
LEFT = Point(Where.LEFT_END)


def held(phrase: Phrase) -> float:
    return {Measure.LENGTH: 0.05, Measure.ANGLE: 0.05, Measure.RATIO: 0.002}[phrase.size.measure]


def limits(found: Transfer | None) -> dict[str, tuple[float, float | None]]:
    assert found is not None
    return {s.phrase: (s.value, s.half) for s in found.sizes}


def phrases(drawing: Drawing, *texts: str) -> list[Phrase]:
    read = [read_question(t, drawing.job, drawing.parts[0].name) for t in texts]
    assert all(isinstance(r, Phrase) for r in read)
    return [r for r in read if isinstance(r, Phrase)]


def test_from_the_left_end_by_hand() -> None:
    # a = head, b - a = body, c - b = tip: body ± 0.06 is shared by a and b, 0.03 each; then tip leaves c 0.17
    found = from_datum(sized(STEPS), "pin", LEFT, held)
    seen = limits(found)
    assert seen["left end to head right"] == pytest.approx((5.0, 0.03))
    assert seen["left end to body right"] == pytest.approx((35.0, 0.03))
    assert seen["left end to right end"] == pytest.approx((47.0, 0.17))
    assert seen["body diameter"] == pytest.approx((15.975, 0.025))  # one-sided: aimed at its middle
    assert found is not None
    assert found.even == pytest.approx(0.6)
    assert found.tight == ("body length",)


def test_a_better_datum_is_told() -> None:
    # from head right: 5, 30, 42; body alone 0.06, head 0.1, tip 0.2 less 0.06
    found = from_datum(sized(STEPS), "pin", LEFT, held)
    assert found is not None
    assert found.ranking[0] == ("head right", pytest.approx(1.2))
    assert dict(found.ranking)["left end"] == pytest.approx(0.6)
    best = limits(from_datum(sized(STEPS), "pin", Point(Where.RIGHT, "head"), held))
    assert best["head right to left end"] == pytest.approx((5.0, 0.1))
    assert best["head right to body right"] == pytest.approx((30.0, 0.06))
    assert best["head right to right end"] == pytest.approx((42.0, 0.14))


def test_dimensions_named_displace_those_with_the_most_tolerance() -> None:
    # overall in place of the tip: 0.2 >= overall + head + body
    drawing = sized(STEPS)
    found = worked_to(drawing, "pin", phrases(drawing, "overall length"), held)
    seen = limits(found)
    assert "tip length" not in seen
    whole, head, body = (seen[k][1] or 0.0 for k in ("overall length", "head length", "body length"))
    assert whole + head + body == pytest.approx(0.2)
    assert body == pytest.approx(0.06)
    assert whole == pytest.approx(head) == pytest.approx(0.07)
    assert worked_to(drawing, "pin", phrases(drawing, "overall length", "left end to right end"), held) is None


def test_a_depth_across_the_axis_stays_as_drawn() -> None:
    # the groove: 1.5 ± 0.1 deep toward the axis, its left face 10 ± 0.1 from body left, its width 3 ± 0.1
    groove = STEPS.replace("    dimensions:\n", "      - {groove: clip, in: body}\n    dimensions:\n      clip depth: 1.5 ± 0.1\n"
                           "      body left to clip left: 10 ± 0.1\n      clip width: 3 ± 0.1\n")  # fmt: skip
    found = from_datum(sized(groove), "pin", Point(Where.RIGHT, "head"), held)
    seen = limits(found)
    assert seen["clip depth"] == pytest.approx((1.5, 0.1))
    assert seen["head right to clip left"] == pytest.approx((10.0, 0.1))
    assert seen["clip width"] == pytest.approx((3.0, 0.1))


TAPER = """handwheel: 1
job: Taper
units: mm
general tolerance: ± 0.2
parts:
  plug:
    outside:
      - cone: nose
      - cylinder: body
    dimensions:
      nose right diameter: 20
      nose left diameter: 18 ± 0.05
      nose taper: 1 in 20
      body diameter: 25
      body length: 10
"""


def test_a_diameter_through_a_taper_allows_twenty_times_along() -> None:
    # left diameter = right - length / 20: with the right one exact 18 ± 0.05 allows 40 ± 1 along
    exact = sized(TAPER.replace("right diameter: 20", "right diameter: 20 ± 0"))
    seen = limits(worked_to(exact, "plug", phrases(exact, "nose length"), held))
    assert seen["nose length"] == pytest.approx((40.0, 1.0), abs=1e-6)


BALL = """handwheel: 1
job: Ball
units: mm
general tolerance: ± 0.2
parts:
  arm:
    outside:
      - ball: hub
      - cone: shank
      - cylinder: tenon
    dimensions:
      hub diameter: 16
      shank diameter at hub centre: 10 ± 0.1
      shank right diameter: 7 ± 0.1
      hub centre to shank right: 40 ± 0.3
      tenon diameter: 5
      tenon length: 6 ± 0.1
"""
BALL_LIMITS = {"hub centre to shank right": (39.7, 40.3), "tenon length": (5.9, 6.1), "hub diameter": (15.8, 16.2)}
STEP_LIMITS = {"head length": (4.9, 5.1), "body length": (29.94, 30.06), "tip length": (11.8, 12.2)}


@pytest.mark.parametrize(("text", "allowed"), [(STEPS, STEP_LIMITS), (BALL, BALL_LIMITS)], ids=["steps", "ball"])
def test_no_part_inside_the_working_limits_is_outside_the_drawing(
    text: str, allowed: dict[str, tuple[float, float]]
) -> None:
    """At every corner of the working limits from every datum, the part typed in from its working sizes alone."""
    drawing = sized(text)
    part = drawing.parts[0].name
    head, _, tail = text.partition("    dimensions:\n")
    assert tail
    tried = 0
    for point in candidates(drawing.job, part):
        found = from_datum(drawing, part, point, held)
        if found is None:
            continue
        tried += 1
        moving = [s for s in found.sizes if s.half and (not s.given or s.phrase == "hub diameter")]
        for signs in itertools.product((-1, 1), repeat=len(moving)):
            sign = {s.phrase: k for s, k in zip(moving, signs, strict=True)}
            lines = "".join(
                f"      {s.phrase}: {s.value + sign.get(s.phrase, 0) * (s.half or 0.0):.9f} mm\n" for s in found.sizes
            )
            job, faults = read_job((head + "    dimensions:\n" + lines).encode(), "x.yaml")
            assert job is not None, [f.line() for f in faults]
            asks = [(a, read_question(a, job, part)) for a in allowed]
            made = size_job(job, [(a, p) for a, p in asks if isinstance(p, Phrase)])
            assert len(made.answers) == len(allowed), point_text(point)
            for answer in made.answers:
                low, high = allowed[answer.ask]
                assert low - 1e-6 <= answer.value <= high + 1e-6, (point_text(point), answer.ask, answer.value)
    assert tried >= 4
