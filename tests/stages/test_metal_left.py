"""Cuts against polygon differences by shapely, and volumes against Pappus's theorem."""

import math
import random

import numpy as np
import pytest
from shapely import Polygon, box
from stages_shapes import area_of, convex, disc, placements, swept

from handwheel.base.tolerance import CHORD_MM
from handwheel.stages.fold import fold
from handwheel.stages.metal import apply, ends, outline, round_bar, tube, volume_mm3
from handwheel.stages.records import Bore, Cutter, NoCut, Section, Sweep, Swing, Truncate

NO_TOOL = Cutter("none", "none", np.zeros((1, 2)))
SEEDS = range(25)


def mirrored(section: Section) -> Section:
    return Section(section.outer[::-1] * [-1, 1], section.inner[::-1] * [-1, 1])


def random_path(rng: random.Random, low: float, high: float) -> np.ndarray:
    points = [(rng.uniform(-3, 43), rng.uniform(low, high))]
    for _ in range(rng.randint(1, 6)):
        z, r = points[-1]
        way = rng.random()
        points.append((z if way < 0.25 else rng.uniform(-3, 43), r if way > 0.75 else rng.uniform(low, high)))
    return np.array(points)


@pytest.mark.parametrize("seed", SEEDS)
def test_outside_sweep_is_the_polygon_difference(seed: int) -> None:
    rng = random.Random(seed)
    cutter, path = convex(rng, 3.0), random_path(rng, 3.0, 12.0)
    after = apply(round_bar(20, 0, 40), Sweep(path), Cutter("tool", "tool", cutter))
    ours, bar = area_of(outline(after)), box(0, 0, 40, 10)
    assert ours.symmetric_difference(bar - swept(cutter, path, 1)).area < 1e-7
    assert ours.intersection(placements(cutter, path, 60)).area < 1e-7


@pytest.mark.parametrize("seed", SEEDS)
def test_inside_sweep_is_the_polygon_difference(seed: int) -> None:
    rng = random.Random(1000 + seed)
    cutter, path = convex(rng, 3.0), random_path(rng, 0.5, 8.5)
    after = apply(round_bar(20, 0, 40), Sweep(path, inside=True), Cutter("bar", "boring", cutter))
    toward_axis = cutter * [1, -1]
    ours, bar = area_of(outline(after)), box(0, 0, 40, 10)
    assert ours.symmetric_difference(bar - swept(toward_axis, path, -1)).area < 1e-7
    assert ours.intersection(placements(toward_axis, path, 60)).area < 1e-7


@pytest.mark.parametrize("seed", SEEDS)
def test_a_row_of_cuts_and_its_mirror_image(seed: int) -> None:
    rng = random.Random(2000 + seed)
    cuts = [(Sweep(random_path(rng, 5.0, 12.0)), Cutter("tool", "tool", convex(rng, 2.0))) for _ in range(4)]
    cuts.append((Bore(np.array([[-1.0, 2.0], [20.0, 2.0], [21.2, 0.0]])), NO_TOOL))
    stages = list(fold(round_bar(20, 0, 40), cuts))
    expected = box(0, 0, 40, 10)
    for cut, cutter in cuts[:-1]:
        assert isinstance(cut, Sweep)
        expected = expected - swept(cutter.outline, cut.path, 1)
    expected = expected - Polygon([(-1, 0), (-1, 2), (20, 2), (21.2, 0)])
    assert area_of(outline(stages[-1][1])).symmetric_difference(expected).area < 1e-6

    other = round_bar(20, -40, 0)
    for cut, cutter in cuts:
        back = (Sweep(cut.path * [-1, 1]) if isinstance(cut, Sweep) else Bore(cut.profile[::-1] * [-1, 1]))
        other = apply(other, back, Cutter("tool", "tool", cutter.outline * [-1, 1]))
    assert area_of(outline(mirrored(other))).symmetric_difference(area_of(outline(stages[-1][1]))).area < 1e-7
    for before, after in stages:
        assert area_of(outline(after)).difference(area_of(outline(before))).area < 1e-7


@pytest.mark.parametrize("seed", SEEDS)
def test_volume_by_pappus(seed: int) -> None:
    rng = random.Random(3000 + seed)
    section = apply(tube(20, 4, 0, 40), Sweep(random_path(rng, 5.0, 12.0)), Cutter("t", "t", convex(rng, 2.0)))
    half = area_of(outline(section))
    assert volume_mm3(section) == pytest.approx(2 * math.pi * half.centroid.y * half.area, rel=1e-9)


def test_volume_of_a_ball() -> None:
    ball = apply(apply(round_bar(12, -6, 7), Swing(0, 6, 0, 90), NO_TOOL), Swing(0, 6, 90, 180), NO_TOOL)
    # chords lie within the ball by at most CHORD_MM, so the volume by at most the area times that
    exact = 4 / 3 * math.pi * 6**3
    assert exact - 4 * math.pi * 36 * CHORD_MM < volume_mm3(ball) < exact


@pytest.mark.parametrize(("start", "end"), [(0, 130), (20, 130), (0, 90), (180, 40), (50, 90)])
def test_swing_takes_what_stands_outside_the_circle(start: float, end: float) -> None:
    after = apply(round_bar(16, -20, 20), Swing(3, 7, start, end), NO_TOOL)
    low, high = sorted((3 + 7 * math.cos(math.radians(start)), 3 + 7 * math.cos(math.radians(end))))
    gone = box(low, 0, high, 50) - disc(3, 7)
    if start == 0:
        gone = gone.union(box(10, 0, 50, 50))
    if start == 180:
        gone = gone.union(box(-50, 0, -4, 50))
    expected = box(-20, 0, 20, 8) - gone
    ours = area_of(outline(after))
    assert expected.difference(ours).area < 25 * CHORD_MM
    assert ours.difference(expected).area < 1e-4


def test_truncate_and_no_cut() -> None:
    bar = round_bar(10, -3, 50)
    assert ends(apply(bar, Truncate(0, 48.5), NO_TOOL)) == (0, 48.5)
    assert ends(apply(bar, Truncate(-9, 48.5), NO_TOOL)) == (-3, 48.5)
    assert apply(bar, NoCut(), NO_TOOL) is bar


def test_facing_with_a_narrow_tool_drops_what_it_cuts_off() -> None:
    knife = Cutter("knife", "knife", np.array([[0, 0], [0.5, 0], [1, 8], [0, 8]]))
    after = apply(round_bar(10, 0, 50), Sweep(np.array([[45, 6], [45, 0]])), knife)
    assert ends(after) == (0, 45)
    assert volume_mm3(after) == pytest.approx(math.pi * 25 * 45, rel=1e-12)


@pytest.mark.parametrize(("parted_at", "left"), [(30.0, (0.0, 30.0)), (10.0, (12.0, 50.0))])
def test_cut_through_the_heavier_piece_is_left(parted_at: float, left: tuple[float, float]) -> None:
    blade = Cutter("blade", "parting", np.array([[0, 0], [2, 0], [2, 15], [0, 15]]))
    after = apply(round_bar(10, 0, 50), Sweep(np.array([[parted_at, 6], [parted_at, 0]])), blade)
    assert ends(after) == pytest.approx(left, abs=1e-9)
    assert area_of(outline(after)).area == pytest.approx(5 * (left[1] - left[0]), abs=1e-9)


def test_a_tool_without_outline_or_width_takes_nothing() -> None:
    bar = round_bar(10, 0, 50)
    assert apply(bar, Sweep(np.array([[30, 3], [40, 3]])), Cutter("", "", np.zeros((0, 2)))) is bar
    assert apply(bar, Sweep(np.array([[30, 6], [30, 3]])), NO_TOOL) is bar


def test_a_round_nose_leaves_its_own_radius_in_the_corner() -> None:
    angles = np.linspace(0, 2 * math.pi, 721)[:-1]
    nose = Cutter("round nose", "round-nose", np.column_stack([np.cos(angles), 1 + np.sin(angles)]))
    after = apply(round_bar(20, 0, 40), Sweep(np.array([[45, 6], [21, 6], [21, 12]])), nose)
    # a fillet of radius 1 stands in the square corner at z 20, r 6: (1 - pi/4) of a square millimetre
    assert area_of(outline(after)).area == pytest.approx(20 * 10 + 20 * 6 + 1 - math.pi / 4, abs=2e-3)


def test_nothing_left_is_an_error() -> None:
    with pytest.raises(ValueError, match="no metal"):
        apply(round_bar(10, 0, 5), Truncate(6, 9), NO_TOOL)
    with pytest.raises(ValueError, match="no metal"):
        apply(round_bar(10, 0, 5), Bore(np.array([[-1, 6], [9, 6]])), NO_TOOL)
    with pytest.raises(ValueError, match="no metal"):
        round_bar(10, 5, 5)


@pytest.mark.parametrize(("profiles", "area"), [
    ([[[0, 2], [8, 2]]], 40 * 10 - 16),
    ([[[32, 2], [40, 2]]], 40 * 10 - 16),
    ([[[0, 2], [8, 2]], [[32, 3], [40, 3]]], 40 * 10 - 16 - 24),
    ([[[-1, 2], [41, 2]]], 40 * 10 - 80),
    ([[[0, 10], [5, 5], [10, 0]]], 40 * 10 - 50),
])
def test_outline_of_bored_work_is_simple(profiles: list[list[list[float]]], area: float) -> None:
    section = round_bar(20, 0, 40)
    for profile in profiles:
        section = apply(section, Bore(np.array(profile, dtype=float)), NO_TOOL)
    assert area_of(outline(section)).area == pytest.approx(area, abs=1e-9)


def test_solid_outline_starts_and_ends_on_the_axis() -> None:
    assert outline(round_bar(10, 0, 4)) == [[0, 0], [0, 5], [4, 5], [4, 0], [0, 0]]
