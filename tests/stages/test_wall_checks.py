"""The least wall of a section against shapely's distance between polygons, and by hand."""

import math

import numpy as np
import pytest
from shapely import LineString, Polygon

from handwheel.stages.athand import Root
from handwheel.stages.case import Case, CheckContext
from handwheel.stages.check_wall import least_wall, to_the_roots, wall_left
from handwheel.stages.metal import apply, round_bar
from handwheel.stages.records import Bore, Cutter, Holding, Section, Sweep

DRILL = Cutter("drill", "drill", np.zeros((1, 2)))
BLADE = Cutter("parting tool", "parting", np.array([[0, 0], [2, 0], [2, 15], [0, 15]], dtype=float))
JAWS = Holding("three-jaw", "three-jaw", 0.0, 15.0, "stock", "right", 15.0, 40.0, 10.0)
BAR = round_bar(20, 0, 50)


def blind(bar: Section, radius: float, bottom: float, end: float = 50.0, point: float = 0.0) -> Section:
    return apply(bar, Bore(np.array([[bottom - point, 0.0], [bottom, radius], [end, radius]])), DRILL)


def grooved(section: Section, z: float, floor: float) -> Section:
    return apply(section, Sweep(np.array([[z, 12.0], [z, floor]])), BLADE)


def by_shapely(section: Section) -> float:
    """Distance from the hole to the outside of the part with its closed end."""
    tip = float(section.inner[section.inner[:, 1] <= 1e-6, 0].max())
    inner = Polygon([[tip, 0.0], *section.inner[section.inner[:, 1] > 1e-6].tolist(), [section.inner[-1, 0], 0.0]])
    outer = LineString([[section.outer[0, 0], 0.0], *section.outer.tolist()])
    return float(inner.distance(outer))


def test_solid_metal_has_no_wall() -> None:
    assert least_wall(BAR, 1.0)[0] == math.inf


@pytest.mark.parametrize(("section", "wall"), [
    (blind(BAR, 7.0, 20.0), 3.0),  # beside the hole
    (blind(BAR, 7.0, 2.0), 2.0),  # behind a flat bottom
    (blind(BAR, 4.0, 5.0, point=2.4), 2.6),  # behind a point
    (grooved(blind(BAR, 5.0, 20.0), 30.0, 6.5), 1.5),  # to a groove's floor over the hole
    (grooved(blind(BAR, 5.0, 20.0), 16.0, 4.0), 2.0),  # from a groove's side at 18 to the bottom
    (grooved(blind(BAR, 5.0, 20.0), 17.0, 6.0), math.sqrt(2.0)),  # corner of the groove (19,6) to the hole's (20,5)
])  # fmt: skip
def test_least_wall_by_hand_and_by_shapely(section: Section, wall: float) -> None:
    assert least_wall(section, 1.0)[0] == pytest.approx(wall, abs=1e-9)
    assert by_shapely(section) == pytest.approx(wall, abs=1e-9)


def test_between_two_blind_holes_and_behind_a_step() -> None:
    both = apply(blind(BAR, 4.0, 27.0), Bore(np.array([[0.0, 4.0], [25.5, 4.0]])), DRILL)
    assert least_wall(both, 1.0)[::2] == (pytest.approx(1.5), "between two holes")
    stepped = apply(apply(BAR, Bore(np.array([[0.0, 3.0], [50.0, 3.0]])), DRILL),
                    Bore(np.array([[0.8, 8.5], [50.0, 8.5]])), DRILL)  # fmt: skip
    assert least_wall(stepped, 1.0)[0] == pytest.approx(0.8)
    assert least_wall(stepped, 1.0)[2] == "behind the step in the hole"


def test_the_lip_of_a_countersink_is_no_wall() -> None:
    sunk = apply(blind(BAR, 4.0, 20.0), Bore(np.array([[44.2, 4.0], [50.0, 9.8]])), DRILL)
    # 1 mm from the end the countersink is at 8.8: 1.2 of metal
    assert least_wall(sunk, 1.0)[0] == pytest.approx(1.2, abs=1e-9)


def test_a_stub_beyond_the_finished_end_has_no_wall() -> None:
    thin = blind(BAR, 9.5, 46.0)
    assert least_wall(thin, 1.0)[0] == pytest.approx(0.5)
    assert least_wall(thin, 1.0, (0.0, 45.0))[0] > 1.0


def _looked_at(before: Section, after: Section, least: float | None) -> tuple[str, bool] | None:
    context = CheckContext("pin", 20, 2.0, 10.0, 1.0, 3.0, 4.0, least_wall_mm=least)
    cut = Bore(after.inner)
    found = wall_left(Case(before, after, after, JAWS, DRILL, cut, context))
    return None if found is None else (found.fault, found.is_warning)


def test_the_check_warns_once_where_the_wall_is_made_thin() -> None:
    thin = blind(BAR, 9.4, 20.0)
    found = _looked_at(BAR, thin, 1.0)
    assert found is not None
    assert "0.600 mm of metal left beside the hole" in found[0]
    assert found[1]
    assert _looked_at(thin, thin, 1.0) == ("", False)  # said already
    assert _looked_at(BAR, blind(BAR, 8.9, 20.0), 1.0) == ("", False)
    assert _looked_at(BAR, BAR, 1.0) is None
    assert _looked_at(BAR, thin, None) is None


def test_threads_count_to_their_roots() -> None:
    """M20 x 2.5 over a bore of Ø 14: its root is Ø 16.933 by ISO 68-1 (d - 1.226869 P), 1.466 of wall instead of 3; M16 in a
    blind hole drilled Ø 14: 2 instead of 3."""
    bored = blind(BAR, 7.0, 20.0)
    screw = Root(30.0, 50.0, (20.0 - 1.226869 * 2.5) / 2.0)
    assert least_wall(to_the_roots(bored, (screw,)), 1.0)[0] == pytest.approx((20.0 - 1.226869 * 2.5) / 2.0 - 7.0)
    nut = Root(24.0, 50.0, 8.0, is_inside=True)
    assert least_wall(to_the_roots(bored, (nut,)), 1.0)[0] == pytest.approx(2.0)
    assert least_wall(to_the_roots(BAR, (nut,)), 1.0)[0] == math.inf  # not drilled yet
    assert least_wall(to_the_roots(bored, ()), 1.0)[0] == pytest.approx(3.0)


def test_many_random_sections_against_shapely() -> None:
    """Blind holes of two diameters with a point, and grooves outside clear of the mouth."""
    rng = np.random.default_rng(7)
    smallest = []
    for _ in range(150):
        wide, narrow = rng.uniform(3.0, 8.0), rng.uniform(1.0, 3.0)
        step, bottom = rng.uniform(25.0, 40.0), rng.uniform(6.0, 20.0)
        section = blind(blind(BAR, narrow, bottom, point=rng.uniform(0.0, 2.0)), wide, step)
        for _ in range(int(rng.integers(0, 3))):
            section = grooved(section, rng.uniform(2.0, 42.0), rng.uniform(wide + 0.3, 9.9))
        expected = by_shapely(section)
        assert least_wall(section, 1.0)[0] == pytest.approx(expected, abs=1e-9)
        smallest.append(expected)
    assert np.ptp(smallest) > 2.0
