"""Finished sections of parts written out by hand, against closed forms and shapely."""

import math
import random

import numpy as np
import pytest
from shapely import Point, Polygon, box
from stages_shapes import area_of, disc

from handwheel.base.faults import Span
from handwheel.base.tolerance import CHORD_MM
from handwheel.drawing.records import Arc, Line, SolvedFeature, SolvedHole, SolvedPart
from handwheel.job.records import InsideFeature, InsideKind, OutsideFeature, OutsideKind, Side
from handwheel.stages.finished import finished_section, flatten
from handwheel.stages.metal import apply, outline, round_bar
from handwheel.stages.records import Cutter, Swing

HERE = Span("job.yaml", 1, 1)
NO_TOOL = Cutter("none", "none", np.zeros((1, 2)))


def feature(kind: OutsideKind, *pieces: Line | Arc) -> SolvedFeature:
    first, last = pieces[0], pieces[-1]
    return SolvedFeature(OutsideFeature(kind, "f", HERE), first.z0, last.z1, first.r0, last.r1, pieces)


def hole(kind: InsideKind, side: Side, mouth: float, bottom: float, tip: float, *radii: float) -> SolvedHole:
    return SolvedHole(InsideFeature(kind, "h", HERE, side), mouth, bottom, tip, radii[0], radii[-1])


def part(length: float, outside: list[SolvedFeature], left: list[SolvedHole], right: list[SolvedHole]) -> SolvedPart:
    return SolvedPart("p", HERE, 1, "", "", "", length, tuple(outside), tuple(left), tuple(right), (), (), ())


def test_steps_cone_and_holes_from_both_ends() -> None:
    outside = [
        feature(OutsideKind.CYLINDER, Line(0, 8, 10, 8)),
        feature(OutsideKind.CONE, Line(10, 6, 30, 4)),
        feature(OutsideKind.CYLINDER, Line(30, 4, 35, 4)),
    ]
    left = [hole(InsideKind.COUNTERSINK, Side.LEFT, 0, 1, 1, 4, 3), hole(InsideKind.HOLE, Side.LEFT, 1, 8, 9.8, 3)]
    right = [hole(InsideKind.BORE, Side.RIGHT, 35, 31, 31, 2)]
    ours = area_of(outline(finished_section(part(35, outside, left, right))))
    expected = Polygon([(0, 0), (0, 8), (10, 8), (10, 6), (30, 4), (35, 4), (35, 0)])
    expected -= Polygon([(-1, 0), (0, 0), (0, 4), (1, 3), (8, 3), (9.8, 0)])
    expected -= box(31, 0, 36, 2)
    assert ours.symmetric_difference(expected).area < 1e-9


def test_through_hole_meets_one_from_the_other_end() -> None:
    outside = [feature(OutsideKind.CYLINDER, Line(0, 8, 20, 8))]
    left = [hole(InsideKind.HOLE, Side.LEFT, 0, 15, 15, 2)]
    right = [hole(InsideKind.COUNTERBORE, Side.RIGHT, 20, 15, 15, 5)]
    ours = area_of(outline(finished_section(part(20, outside, left, right))))
    expected = Polygon([(0, 2), (0, 8), (20, 8), (20, 5), (15, 5), (15, 2)])
    assert ours.symmetric_difference(expected).area < 1e-9


@pytest.mark.parametrize("seed", range(30))
def test_chords_keep_to_the_arc(seed: int) -> None:
    rng = random.Random(seed)
    radius, bulges = rng.uniform(0.3, 60.0), rng.random() < 0.5
    right, left = sorted(rng.uniform(0.0, math.pi) for _ in range(2))
    way = 1 if bulges else -1

    def point(angle: float) -> tuple[float, float]:
        return 5 + radius * math.cos(angle), 70 + way * radius * math.sin(angle)

    points = flatten([Arc(*point(left), *point(right), 5, 70, radius, bulges)])
    np.testing.assert_allclose([points[0], points[-1]], [point(left), point(right)], atol=1e-12)
    np.testing.assert_allclose(np.hypot(points[:, 0] - 5, points[:, 1] - 70), radius, rtol=1e-12)
    middles = 0.5 * (points[1:] + points[:-1])
    assert (radius - np.hypot(middles[:, 0] - 5, middles[:, 1] - 70)).max() <= CHORD_MM
    assert (way * (points[1:-1, 1] - 70) >= -1e-12).all()
    assert (np.diff(points[:, 0]) >= 0).all()


@pytest.mark.parametrize("seed", range(10))
def test_ball_as_drawn_is_the_ball_as_swung(seed: int) -> None:
    rng = random.Random(seed)
    radius, centre, neck = rng.uniform(3, 12), rng.uniform(20, 30), rng.uniform(100, 160)
    at = math.radians(neck)
    z, r = centre + radius * math.cos(at), radius * math.sin(at)
    drawn = flatten([Line(0, r, z, r), Arc(z, r, centre + radius, 0, centre, 0, radius, True)])
    swung = apply(round_bar(2 * radius + 1, 0, 60), Swing(centre, radius, 0, neck), NO_TOOL).outer
    ball = drawn[1:]
    np.testing.assert_allclose(swung[-len(ball):], ball, atol=1e-9)


def test_ball_and_hollow_against_discs() -> None:
    # a ball of radius 6 at 54 on a neck of radius 4, and a hollow of radius 5 sunk 1 mm into radius 8
    meet, half = math.sqrt(36 - 16), 3.0
    outside = [
        feature(OutsideKind.CYLINDER, Line(0, 8, 20, 8)),
        feature(OutsideKind.HOLLOW, Arc(20, 8, 20 + 2 * half, 8, 20 + half, 12, 5, False)),
        feature(OutsideKind.CYLINDER, Line(20 + 2 * half, 8, 40, 8)),
        feature(OutsideKind.CYLINDER, Line(40, 4, 54 - meet, 4)),
        feature(OutsideKind.BALL, Arc(54 - meet, 4, 60, 0, 54, 0, 6, True)),
    ]
    ours = area_of(outline(finished_section(part(60, outside, [], []))))
    expected = box(0, 0, 40, 8) - Point(23, 12).buffer(5, quad_segs=4000)
    expected = expected.union(box(40, 0, 54 - meet, 4)).union(disc(54, 6).intersection(box(54 - meet, 0, 90, 9)))
    # arc length times the greatest distance between chord and arc
    assert ours.symmetric_difference(expected).area < 40 * CHORD_MM
