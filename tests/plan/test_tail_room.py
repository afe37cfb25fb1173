"""A tool beside the tailstock's centre: post and barrel as polygons, and a shank as a textbook's cantilever."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from shapely.affinity import rotate, translate
from shapely.geometry import Polygon, box

from handwheel.job.records import Unit
from handwheel.plan.tailroom import BENDS, HEAD, STEEL_GPA, AtTheEnd, drop_mm, reach_figures, stands_out_mm
from handwheel.tables.cutting import cutting_of
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import TailstockRoom, Workshop

METRIC = built_in_workshop(Unit.MM)
ROOM = TailstockRoom(30.0, 45.0, 60.0, (10.0, 12.0))


def with_room(room: TailstockRoom | None) -> Workshop:
    return replace(METRIC, lathe=replace(METRIC.lathe, tailstock_room=room))


def post(at: AtTheEnd, out: float, post_mm: float) -> Polygon:
    """The post from above, z along, x toward the operator; the tool's point at the origin's radius, slide turned with it."""
    plain = box(-40.0, out, post_mm, out + 60.0)
    turned = rotate(plain, -at.angle_deg if at.is_in else at.angle_deg, origin=(0.0, 0.0))
    return translate(turned, 0.0, at.radius_mm)


@pytest.mark.parametrize("is_in", [True, False])
@pytest.mark.parametrize("angle", [1.5, 8.0, 30.0])
@pytest.mark.parametrize("radius", [4.0, 9.0])
def test_out_so_far_the_post_just_clears_the_barrel(is_in: bool, angle: float, radius: float) -> None:
    at = AtTheEnd(radius, angle, is_in, 8.0)
    barrel, centre, post_mm, clear = 30.0, 30.0, 70.0, 3.0
    out = stands_out_mm(at, barrel, centre, post_mm, clear)
    keep_out = box(8.0 + centre, -barrel / 2 - clear, 400.0, barrel / 2 + clear)
    assert post(at, out + 1e-6, post_mm).intersection(keep_out).area < 1e-4
    if out > 0.05:
        assert post(at, out - 0.05, post_mm).intersects(keep_out)


def test_a_narrow_post_or_a_long_centre_needs_nothing() -> None:
    at = AtTheEnd(5.0, 2.0, True, 0.0)
    assert stands_out_mm(at, 30.0, 45.0, 30.0, 3.0) == 0.0
    assert stands_out_mm(at, 30.0, 45.0, 60.0, 3.0) > 0.0


def test_what_a_shank_bends_by_a_textbook_s_cantilever() -> None:
    """F L³ / 3EI of 10 × 12, I = w h³ / 12, with a half and twice the force; shear adds under a twentieth this far out."""
    cutting = cutting_of("free-cutting mild steel")
    assert cutting is not None
    force = cutting.force_n(0.125, 0.05)
    bends = force * 40.0**3 / (3.0 * STEEL_GPA * 1e3 * 10.0 * 12.0**3 / 12.0)
    low, high = drop_mm(40.0, (10.0, 12.0), cutting, 0.125, 0.05)
    assert high / low == pytest.approx(4.0)
    assert math.sqrt(low * high) == pytest.approx(bends, rel=0.08)
    assert math.sqrt(low * high) > bends


def test_what_is_not_known_is_said_with_what_to_measure() -> None:
    at = AtTheEnd(5.0, 2.0, True, 0.0)
    for room in (None, replace(ROOM, barrel_mm=None)):
        told = dict(reach_figures(at, with_room(room), None))
        assert told[HEAD].startswith("not known; try it by hand")
        assert "the barrel's diameter" in told[HEAD]
        assert BENDS not in told
    told = dict(reach_figures(at, with_room(replace(ROOM, shank_mm=None)), cutting_of("brass")))
    assert told[BENDS].startswith("not known: the tool's shank")


def test_never_a_word_of_leave() -> None:
    told = " ".join(text for _, text in reach_figures(AtTheEnd(5.0, 2.0, True, 0.0), with_room(ROOM), cutting_of("brass")))
    assert "mm or more" in told
    assert not {"safe", "enough", "ok", "fine"} & set(told.lower().replace(",", " ").split())
