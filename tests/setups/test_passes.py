"""The passes of a ball tool: the blank's reach by shapely, and each reading followed by hand on a drawn screw."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from fractions import Fraction

import pytest
from shapely.geometry import LineString, Point

from handwheel.job.records import Unit
from handwheel.setups.passes import Blank, blank_of, pass_radii_mm, passes, ranges_for
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import BallTool

RADIUS, OVER, NECK = 10.0, 0.5, -8.0
TOP = RADIUS + OVER
LEG = (2 - math.sqrt(2)) * TOP
OUTLINE = [(-20.0, 6.0), (NECK, 6.0), (NECK, TOP), (TOP - LEG, TOP), (TOP, TOP - LEG), (TOP, 0.0)]
INCH = built_in_workshop(Unit.INCH)
TOOL = INCH.ball_tool
assert TOOL is not None


def test_the_reach_of_a_blank_with_its_corner_off() -> None:
    blank = blank_of(OUTLINE, RADIUS, NECK, RADIUS)
    line = LineString([p for p in OUTLINE if p[0] >= NECK][1:])
    corners = [math.hypot(*p) for p in OUTLINE[2:]]
    assert blank.farthest_mm == pytest.approx(max(corners))
    assert blank.cleans_mm == pytest.approx(line.distance(Point(0.0, 0.0)), abs=1e-9)
    assert blank.cleans_mm == pytest.approx(TOP, abs=1e-9)
    assert blank.top_mm == pytest.approx(TOP)
    assert blank.end_mm == pytest.approx(TOP)


def test_a_corner_left_on_stands_root_two_away() -> None:
    blank = blank_of([(0.0, TOP), (TOP, TOP), (TOP, 0.0)], RADIUS, 0.0, RADIUS)
    assert blank.farthest_mm == pytest.approx(math.sqrt(2) * TOP)


def test_the_corner_at_the_relief_starts_the_tip_farther_out_than_the_chamfer() -> None:
    """With the corner off the chamfer's own edges stand TOP / cos 22.5° away, the relief's wall hypot(8, TOP)."""
    blank = blank_of(OUTLINE, RADIUS, NECK, RADIUS)
    assert blank.farthest_mm == pytest.approx(math.hypot(NECK, TOP))
    front = blank_of(OUTLINE, RADIUS, 0.0, RADIUS)
    assert front.farthest_mm == pytest.approx(TOP / math.cos(math.radians(22.5)))


def test_a_flat_at_the_end_is_no_part_of_the_ball() -> None:
    outline = [(NECK, TOP), (9.0, TOP), (9.0, 0.0)]
    assert blank_of(outline, RADIUS, NECK, 9.0).cleans_mm == pytest.approx(TOP)


def test_the_passes_are_equal_and_end_at_size() -> None:
    radii = pass_radii_mm(Blank(13.2, TOP, TOP, TOP), RADIUS, 1.0)
    assert len(radii) == 4 + 2  # 3.1 mm in cuts of at most 1, then 0.1 mm in two
    cuts = [a - b for a, b in zip((13.2, *radii), radii, strict=False)]
    assert cuts[:4] == pytest.approx([0.775] * 4)
    assert cuts[4:] == pytest.approx([0.05] * 2)
    assert radii[-1] == RADIUS


def followed(reading: str, lead: float, lines: int, zero: float) -> float:
    """The tip's radius after a reading, counted out on the screw."""
    turns = re.search(r"([\d ]*\d(?:/\d)?) turns?", reading)
    rest = re.search(r"([\d ]*\d(?:/\d)?) (?:divisions?|flats?)", reading)
    count = sum((Fraction(n) for n in turns[1].split()), Fraction(0)) if turns else Fraction(0)
    part = sum((Fraction(n) for n in rest[1].split()), Fraction(0)) if rest else Fraction(0)
    move = float(count + part / lines) * lead
    return zero + move if reading.startswith("out") else zero - move


@pytest.mark.parametrize("worked_by", ["divisions", "flats"])
def test_the_readings_followed_make_the_radii(worked_by: str) -> None:
    assert TOOL is not None
    lines = 25 if worked_by == "divisions" else 6
    tool = replace(TOOL, worked_by=worked_by, divisions=lines, smallest_part=0.5)
    blank = blank_of(OUTLINE, RADIUS, NECK, RADIUS)
    made = passes(blank, RADIUS, INCH, tool)
    assert [p.number for p in made] == list(range(1, len(made) + 1))
    for one in made:
        assert followed(one.reading, 0.635, lines, TOP) == pytest.approx(one.radius_mm, abs=1e-9)
        assert abs(one.radius_mm - one.exact_mm) <= 0.635 / lines / 4 + 1e-9
        assert one.reading.startswith("out") == (one.exact_mm > TOP)
        assert ("flat" in one.reading) or worked_by == "divisions" or "turn" in one.reading


def test_the_first_pass_that_cleans_the_ball_is_named_once() -> None:
    assert TOOL is not None
    blank = blank_of(OUTLINE, RADIUS, NECK, RADIUS)
    made = passes(blank, RADIUS, INCH, TOOL)
    named = [p for p in made if "cleans the whole ball" in p.note]
    assert len(named) == 1
    assert named[0].radius_mm <= TOP
    assert all(p.radius_mm > TOP for p in made if p.number < named[0].number)
    assert sum("stop and measure" in p.note for p in made) == 1


def a_tool(*ranges: tuple[float, float]) -> BallTool:
    assert TOOL is not None
    return replace(TOOL, ranges_mm=ranges)


@pytest.mark.parametrize(
    ("ranges", "expected"),
    [
        (((0.0, 12.0), (8.0, 20.0)), (1, 1, 1, 1)),
        (((0.0, 11.0), (10.5, 20.0)), (1, 1, 1, 0)),
        (((0.0, 11.0), (12.5, 20.0)), (1, None, 0, 0)),
        (((0.0, 14.0), (8.0, 20.0)), (0, 0, 0, 0)),
    ],
)
def test_the_head_changes_its_range_only_when_it_must(
    ranges: tuple[tuple[float, float], ...], expected: tuple[int | None, ...]
) -> None:
    assert ranges_for((13.0, 12.0, 11.0, 10.0), a_tool(*ranges)) == expected


def test_after_a_change_of_range_the_zero_is_the_last_cut() -> None:
    made = passes(blank_of(OUTLINE, RADIUS, NECK, RADIUS), RADIUS, INCH, a_tool((0.0, 11.0), (10.5, 20.0)))
    changed = next(k for k, p in enumerate(made) if "other range" in p.note)
    zero = made[changed - 1].radius_mm
    assert followed(made[changed].reading, 0.635, 25, zero) == pytest.approx(made[changed].radius_mm, abs=1e-9)


def test_beyond_the_head_is_said() -> None:
    made = passes(blank_of(OUTLINE, RADIUS, NECK, RADIUS), RADIUS, INCH, a_tool((0.0, 11.0)))
    assert "beyond the head's ranges" in made[0].note
