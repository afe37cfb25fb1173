"""What lies across is drawn where the drawing's sizes put it: in section, as seen from outside, flats with diagonals.

Expected places are worked out here from circles and chords alone; areas by shapely.
"""

from __future__ import annotations

import io
import math

import ezdxf
import numpy as np
import pytest
from shapely.geometry import LineString, box

from handwheel.drawing.records import SolvedPart
from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.across.shapes import shapes_of
from handwheel.plan.route import plan_job
from handwheel.sheets.acrossbody import body_across, needs_section
from handwheel.sheets.dxf import part_dxf, stage_dxf
from handwheel.sheets.places import locate
from handwheel.sheets.primitives import Hatch, Item, Line, LineType, Polyline
from handwheel.sheets.stagepic import with_half_section
from handwheel.sheets.view import View
from handwheel.stages.finished import finished_section
from handwheel.workshop.read import built_in_workshop

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
CROSSED = HEAD + """\
    outside: [{cylinder: body, diameter: 16, length: 50}]
    across:
      - {hole: pin, on: body, through: yes}
      - {hole: grub, on: body, around: AROUND, bottom: flat}
    dimensions: {pin diameter: 5, left end to pin centre: 15, grub diameter: 4, left end to grub centre: 35, grub depth: 4}
"""
SCALE = 2.0


def marks(text: str) -> tuple[SolvedPart, list[Item]]:
    """The part and its picture, left end at x 0, y downward from the axis."""
    job, faults = read_job(text.encode(), "marks.yaml")
    assert job is not None, faults
    drawing = size_job(job)
    assert drawing.faults == ()
    part = drawing.parts[0]
    section = finished_section(part)
    shapes = shapes_of(part, section)
    return part, body_across(section, shapes, View(0.0, part.length, SCALE), needs_section(shapes), 1.0)


def runs(items: list[Item], *kinds: LineType) -> list[np.ndarray]:
    """Lines and polylines of these types as (n, 2), back in the part's z and up. [mm]"""
    found = []
    for item in items:
        if isinstance(item, Line) and item.kind in kinds:
            found.append(np.array([(item.x0, -item.y0), (item.x1, -item.y1)]) / SCALE)
        elif isinstance(item, Polyline) and item.kind in kinds:
            found.append(np.array(item.points) * (1.0, -1.0) / SCALE)
    return found


def test_a_hole_in_the_section_is_open_between_its_walls_and_its_mouth_is_the_true_curve() -> None:
    _, items = marks(CROSSED.replace("AROUND", "90 deg"))
    walls = [r for r in runs(items, LineType.OUTLINE) if len(r) == 2 and abs(r[0][0] - r[1][0]) < 1e-6]
    for z in (12.5, 17.5):
        wall = next(w for w in walls if abs(w[0][0] - z) < 0.01 and w[:, 1].max() > 1.0)
        assert sorted(wall[:, 1]) == pytest.approx([0.0, 8.0], abs=1e-6)
    hatched = [line for item in items if isinstance(item, Hatch) for line in item.lines]
    opening = box(12.5 * SCALE, -8 * SCALE, 17.5 * SCALE, 0.0).buffer(-0.03)
    assert hatched
    assert not any(LineString([line[:2], line[2:]]).intersects(opening) for line in hatched)
    # two cylinders that cross: at u from the hole's axis its mouth stands sqrt(R² - (r² - u²)) from the part's axis
    mouths = [r for r in runs(items, LineType.OUTLINE, LineType.EDGE) if len(r) > 5 and 12.4 < r[:, 0].min() < 12.6]
    assert {np.sign(m[0, 1]) for m in mouths} == {1.0, -1.0}
    for mouth in mouths:
        assert np.abs(mouth[:, 1]) == pytest.approx(np.sqrt(64.0 - (2.5**2 - (mouth[:, 0] - 15.0) ** 2).clip(0.0)), abs=0.01)
    hidden = runs(items, LineType.HIDDEN)
    assert {round(float(r[0][0]), 2) for r in hidden} == {12.5, 17.5}
    assert all(r[:, 1].max() <= 1e-9 for r in hidden)


def test_a_hole_that_faces_the_reader_is_a_circle_in_the_outside_half_and_dashed_from_behind() -> None:
    near = runs(marks(CROSSED.replace("AROUND", "90 deg"))[1], LineType.EDGE)
    circle = next(r for r in near if len(r) > 5 and r[:, 0].min() > 32.0)
    assert np.hypot(circle[:, 0] - 35.0, circle[:, 1]) == pytest.approx(2.0, abs=0.01)
    assert circle[:, 1].max() == pytest.approx(0.0, abs=1e-6)
    behind = marks(CROSSED.replace("AROUND", "270 deg"))[1]
    assert not [r for r in runs(behind, LineType.EDGE) if len(r) > 5 and r[:, 0].min() > 32.0]
    hidden = next(r for r in runs(behind, LineType.HIDDEN) if len(r) > 5)
    assert np.hypot(hidden[:, 0] - 35.0, hidden[:, 1]) == pytest.approx(2.0, abs=0.01)


def test_a_leaning_flat_is_a_chord_of_its_ball() -> None:
    part, items = marks(BALL)
    # square to a direction 18 degrees to the right of straight up, 8 mm from the ball's centre, 2 sqrt(11² - 8²) long
    turn = math.radians(18.0)
    outline = np.vstack([r for r in runs(items, LineType.OUTLINE) if r[:, 1].max() > 0.1])
    along = (outline[:, 0] - 11.0) * math.sin(turn) + outline[:, 1] * math.cos(turn)
    beside = (outline[:, 0] - 11.0) * math.cos(turn) - outline[:, 1] * math.sin(turn)
    half = math.sqrt(11**2 - 8**2)
    on_ball = np.abs(np.hypot(outline[:, 0] - 11.0, outline[:, 1]) - 11.0) < 0.02
    flat = np.abs(along - 8.0) < 0.005
    assert beside[flat].min() == pytest.approx(-half, abs=0.15)
    assert beside[flat].max() == pytest.approx(half, abs=0.15)
    assert along[on_ball].max() < 8.01
    place = locate(part, "seat from axis")
    assert place is not None
    assert place.sign == "flat from axis "


def test_a_square_has_its_diagonals() -> None:
    _, items = marks(SQUARED.replace("KIND", "square"))
    # corners stay round: half across them on a Ø 10 is sqrt(5² - 3.75²) at a flat
    half = math.sqrt(5.0**2 - 3.75**2)
    ends = np.vstack(runs(items, LineType.THIN))
    far = ends[np.abs(ends[:, 1]) > 0.1]
    assert len(far) == 4
    assert np.abs(far[:, 1]) == pytest.approx(half, abs=0.001)
    outline = np.vstack(runs(items, LineType.OUTLINE))
    middle = outline[(outline[:, 0] > 1.0) & (outline[:, 0] < 11.0)]
    assert np.abs(middle[:, 1]) == pytest.approx(3.75, abs=0.001)


def test_a_hexagon_shows_two_edges_half_a_corner_apart_and_its_corners_as_outline() -> None:
    _, items = marks(SQUARED.replace("KIND", "hexagon"))
    # seen on a corner: edges at a quarter of the distance over corners, which is the flats' by 2 / sqrt 3
    corner = 7.5 / math.sqrt(3.0)
    edges = [r for r in runs(items, LineType.EDGE) if np.ptp(r[:, 0]) > 5.0]
    places = {round(float(np.abs(r[:, 1]).max()), 2) for r in edges}
    assert places == {round(corner / 2, 2), round(corner, 2)}  # the other two faces run out to the outline
    outline = np.vstack(runs(items, LineType.OUTLINE))
    middle = outline[(outline[:, 0] > 1.0) & (outline[:, 0] < 11.0)]
    assert np.abs(middle[:, 1]) == pytest.approx(corner, abs=0.001)


def test_holes_on_a_face_lie_on_their_circle_and_go_through_their_flange() -> None:
    part, items = marks(FACE)
    centres = runs(items, LineType.CENTRE)
    assert sorted(float(r[0][1]) for r in centres) == pytest.approx([-15.0, 15.0])
    cut = [r for r in runs(items, LineType.OUTLINE) if abs(r[0][1] - r[-1][1]) < 1e-6 and 12 < r[0][1] < 18]
    assert sorted(float(r[0][1]) for r in cut) == pytest.approx([12.5, 17.5], abs=0.01)
    dashed = [r for r in runs(items, LineType.HIDDEN) if np.ptp(r[:, 0]) > 1.0]
    assert sorted(float(r[0][1]) for r in dashed) == pytest.approx([-17.5, -12.5], abs=0.01)
    assert all(r[:, 0].max() == pytest.approx(6.0, abs=0.1) for r in [*cut, *dashed])
    place = locate(part, "ring diameter")
    assert place is not None
    assert place.sign == "4 holes Ø "


def test_a_stage_has_what_is_made_by_then_and_no_more() -> None:
    job, _ = read_job(CROSSED.replace("AROUND", "90 deg").encode(), "marks.yaml")
    assert job is not None
    plan = plan_job(size_job(job), built_in_workshop(Unit.MM))
    stages = plan.parts[0].stages
    made = [s.operation.across_made for s in stages]
    assert sum(made, ()) == ("pin", "grub")
    seen: set[str] = set()
    for stage, names in zip(stages, made, strict=True):
        seen |= set(names)
        assert {shape.name for shape in stage.off_axis} == seen
    both = with_half_section(stages[-1], Unit.MM, 150.0)
    assert any(isinstance(item, Hatch) for item in both.items)


def test_a_dxf_has_the_cuts_in_section_and_of_a_stage_those_made() -> None:
    job, _ = read_job(CROSSED.replace("AROUND", "90 deg").encode(), "marks.yaml")
    assert job is not None
    drawing = size_job(job)
    plan = plan_job(drawing, built_in_workshop(Unit.MM))

    def walls(data: bytes) -> list[float]:
        lines = ezdxf.read(io.StringIO(data.decode())).modelspace().query('LINE[layer=="ACROSS-SHAPE"]')
        return sorted({round(line.dxf.start.x, 2) for line in lines if abs(line.dxf.start.x - line.dxf.end.x) < 1e-6
                       and abs(line.dxf.start.y - line.dxf.end.y) > 7.0})  # fmt: skip

    assert walls(part_dxf(drawing.parts[0])) == [12.5, 17.5]
    assert walls(stage_dxf(plan.parts[0].stages[-1])) == [12.5, 17.5]
    assert walls(stage_dxf(plan.parts[0].stages[2])) == []
