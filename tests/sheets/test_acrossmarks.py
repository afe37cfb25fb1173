"""Flats, slots, squares, hexagons and holes on a face stand on the part's drawing where the drawing's sizes put them."""

from __future__ import annotations

import math

import pytest

from handwheel.drawing.records import SolvedPart
from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.sheets.acrossmarks import across_marks
from handwheel.sheets.places import locate
from handwheel.sheets.primitives import Item, Line, LineType
from handwheel.sheets.view import View
from handwheel.stages.finished import finished_section

HEAD = "handwheel: 1\njob: Marks\nunits: mm\nparts:\n  p:\n"
BALL = HEAD + """\
    outside: [{ball: hub, diameter: 22}, {cylinder: shank, diameter: 10, length: 40}]
    across:
      - {flat: seat, on: hub, leaning: 18 deg}
    dimensions: {seat from axis: 8}
"""
SQUARED = HEAD + """\
    outside: [{cylinder: tang, diameter: 10, length: 12}, {cylinder: body, diameter: 20, length: 30}]
    across: [{KIND: key, on: tang}]
    dimensions: {key across flats: 7.5}
"""
FACE = HEAD + """\
    outside: [{cylinder: rim, diameter: 40, length: 6}, {cylinder: boss, diameter: 20, length: 14}]
    across: [{holes: ring, face: left, count: 4, through: yes}]
    dimensions: {ring diameter: 5, ring pitch circle diameter: 30}
"""
SCALE = 2.0


def marks(text: str) -> tuple[SolvedPart, list[Item], View]:
    job, faults = read_job(text.encode(), "marks.yaml")
    assert job is not None, faults
    drawing = size_job(job)
    assert drawing.faults == ()
    part = drawing.parts[0]
    view = View(0.0, part.length, SCALE)
    return part, across_marks(part, finished_section(part), view), view


def test_a_leaning_flat_is_a_chord_of_its_ball() -> None:
    part, items, view = marks(BALL)
    (line,) = [i for i in items if isinstance(i, Line)]
    assert math.hypot(line.x1 - line.x0, line.y1 - line.y0) == pytest.approx(2 * math.sqrt(11**2 - 8**2) * SCALE)
    # square to a direction 18 degrees to the right of straight up, 8 mm from the ball's centre
    centre = view.x(11.0)
    for x, y in ((line.x0, line.y0), (line.x1, line.y1)):
        along = (x - centre) * math.sin(math.radians(18.0)) - y * math.cos(math.radians(18.0))
        assert along == pytest.approx(8.0 * SCALE)
        assert math.hypot(x - centre, y) == pytest.approx(11.0 * SCALE)
    place = locate(part, "seat from axis")
    assert place is not None
    assert place.sign == "flat from axis "


def test_a_square_has_its_diagonals() -> None:
    _, items, _ = marks(SQUARED.replace("KIND", "square"))
    edges = [i for i in items if isinstance(i, Line) and i.kind is LineType.EDGE]
    assert sorted(i.y0 for i in edges) == pytest.approx([-3.75 * SCALE, 3.75 * SCALE])
    slanted = [i for i in items if isinstance(i, Line) and i.kind is LineType.THIN]
    assert len(slanted) == 2
    assert {(i.x0, i.x1) for i in slanted} == {(0.0, 12.0 * SCALE)}


def test_a_hexagon_shows_two_edges_half_a_corner_apart() -> None:
    _, items, _ = marks(SQUARED.replace("KIND", "hexagon"))
    # seen on a corner: its edges lie at a quarter of the distance over corners, which is the flats' by 2 / sqrt 3
    assert sorted(i.y0 for i in items if isinstance(i, Line)) == pytest.approx(
        [s * 7.5 * 2 / math.sqrt(3) / 4 * SCALE for s in (-1, 1)])


def test_holes_on_a_face_lie_on_their_circle_and_go_through_their_flange() -> None:
    part, items, _ = marks(FACE)
    centres = [i for i in items if isinstance(i, Line) and i.kind is LineType.CENTRE]
    assert sorted(i.y0 for i in centres) == pytest.approx([-15.0 * SCALE, 15.0 * SCALE])
    walls = [i for i in items if isinstance(i, Line) and i.kind is LineType.HIDDEN]
    assert sorted(i.y0 / SCALE for i in walls) == pytest.approx([-17.5, -12.5, 12.5, 17.5])
    assert all(i.x1 == pytest.approx(6.0 * SCALE, abs=0.2) for i in walls)
    place = locate(part, "ring diameter")
    assert place is not None
    assert place.sign == "4 holes Ø "
