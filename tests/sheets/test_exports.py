"""Files for other programs: the DXF read back by ezdxf, the STL by trimesh, against closed forms worked out here."""

from __future__ import annotations

import io
import math
from pathlib import Path

import ezdxf
import numpy as np
import pytest
import trimesh
from ezdxf.document import Drawing as Document

from handwheel.cli.main import main
from handwheel.drawing.records import SolvedPart
from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.route import plan_job
from handwheel.sheets import exports, meshacross
from handwheel.sheets.dxf import part_dxf, stage_dxf
from handwheel.sheets.exports import dxf_files, stl_files
from handwheel.sheets.mesh import CHORD_MM, corners_around, revolved, stl
from handwheel.stages.finished import finished_section
from handwheel.stages.metal import round_bar
from handwheel.workshop.read import built_in_workshop

HEAD = "handwheel: 1\njob: Exports\nunits: mm\nparts:\n"
KNOB = HEAD + """  knob:
    material: free-cutting mild steel
    outside:
      - ball: grip
      - cylinder: stem
    inside:
      from right:
        - {hole: socket}
    dimensions:
      grip diameter: 20
      stem diameter: 10
      stem length: 12
      socket diameter: 5
      socket depth: 8
"""
SPINDLE = HEAD + """  spindle:
    material: free-cutting mild steel
    outside:
      - cylinder: journal
      - {fillet: root, size: R 2 mm}
      - cylinder: head
      - {groove: clip, in: journal}
    dimensions:
      journal diameter: 12
      journal length: 30
      head diameter: 24
      head length: 6
      left end to clip left: 4
      clip width: 2
      clip diameter: 10
"""
BLOCK = HEAD + """  boss:
    material: free-cutting mild steel
    outside:
      - cylinder: body
    across:
      ITEMS
    dimensions:
      body diameter: 20
      overall length: 30
      SIZES
"""


def solved(text: str) -> SolvedPart:
    job, faults = read_job(text.encode(), "job.yaml")
    assert job is not None, faults
    drawing = size_job(job)
    assert not drawing.faults, drawing.faults
    return drawing.parts[0]


def read_back(data: bytes) -> Document:
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    assert document.dxfversion == "AC1009"
    assert not document.audit().has_errors
    return document


def solid(data: bytes) -> trimesh.Trimesh:
    mesh = trimesh.load(io.BytesIO(data), file_type="stl")
    assert isinstance(mesh, trimesh.Trimesh)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    return mesh


def stl_of(text: str) -> trimesh.Trimesh:
    job, faults = read_job(text.encode(), "job.yaml")
    assert job is not None, faults
    drawing = size_job(job)
    assert not drawing.faults, drawing.faults
    files, left_out = stl_files(drawing, plan_job(drawing, built_in_workshop(Unit.MM)))
    assert left_out == ()
    return solid(files[f"{drawing.parts[0].name}.stl"])


def arcs(document: Document) -> list[tuple[float, float, float, float, float]]:
    found = document.modelspace().query("ARC")
    return sorted((a.dxf.center.x, a.dxf.center.y, a.dxf.radius, a.start_point.x, a.end_point.x) for a in found)


def test_a_ball_is_an_arc_from_its_neck_to_its_pole() -> None:
    # neck of Ø 10 on a ball of Ø 20: sqrt(100 - 25) from the centre, which lies 10 from the left end
    neck = 10.0 + math.sqrt(75.0)
    upper, lower = sorted(read_back(part_dxf(solved(KNOB))).modelspace().query("ARC"), key=lambda a: -a.start_point.y)
    for arc in (upper, lower):
        assert (arc.dxf.center.x, arc.dxf.center.y, arc.dxf.radius) == pytest.approx((10.0, 0.0, 10.0), abs=1e-8)
    assert tuple(upper.start_point)[:2] == pytest.approx((neck, 5.0), abs=1e-6)
    assert tuple(upper.end_point)[:2] == pytest.approx((0.0, 0.0), abs=1e-6)
    assert tuple(lower.start_point)[:2] == pytest.approx((0.0, 0.0), abs=1e-6)
    assert tuple(lower.end_point)[:2] == pytest.approx((neck, -5.0), abs=1e-6)


def test_a_fillet_bends_into_the_metal_and_a_groove_is_cut_out_of_its_line() -> None:
    document = read_back(part_dxf(solved(SPINDLE)))
    fillets = sorted(document.modelspace().query("ARC"), key=lambda a: -a.dxf.center.y)
    middle = fillets[0].dxf.center
    assert (middle.x, middle.y, fillets[0].dxf.radius) == pytest.approx((30.0, 8.0, 2.0), abs=1e-6)
    ends = {(round(p.x, 6), round(p.y, 6)) for p in (fillets[0].start_point, fillets[0].end_point)}
    assert ends == {(30.0, 6.0), (32.0, 8.0)}
    drawn = {tuple(sorted(((round(e.dxf.start.x, 6), round(e.dxf.start.y, 6)), (round(e.dxf.end.x, 6), round(e.dxf.end.y, 6)))))
             for e in document.modelspace().query('LINE[layer=="OUTSIDE"]')}  # fmt: skip
    for side in (1.0, -1.0):
        for a, b in (((0, 6), (4, 6)), ((4, 6), (4, 5)), ((4, 5), (6, 5)), ((6, 5), (6, 6)), ((6, 6), (30, 6)),
                     ((32, 8), (32, 12)), ((32, 12), (38, 12)), ((38, 12), (38, 0))):  # fmt: skip
            assert tuple(sorted(((float(a[0]), side * a[1] + 0.0), (float(b[0]), side * b[1] + 0.0)))) in drawn


def test_outlines_are_closed_end_to_end() -> None:
    """Every end of a line or arc of the outside and the holes meets another end, or lies on the axis."""
    for text in (KNOB, SPINDLE):
        found = []
        for e in read_back(part_dxf(solved(text))).modelspace().query("LINE ARC"):
            if e.dxf.layer not in ("OUTSIDE", "HOLES"):
                continue
            a, b = (e.dxf.start, e.dxf.end) if e.dxftype() == "LINE" else (e.start_point, e.end_point)
            found += [(a.x, a.y), (b.x, b.y)]
        points = np.array(found)
        assert len(points) > 10
        for k, (x, y) in enumerate(points):
            others = np.delete(points, k, axis=0)
            assert abs(y) < 1e-9 or np.hypot(others[:, 0] - x, others[:, 1] - y).min() < 1e-6, (x, y)


def test_layers_are_named_and_on() -> None:
    layers = read_back(part_dxf(solved(KNOB))).layers
    for name in ("OUTSIDE", "HOLES", "CENTRE-LINE", "THREADS", "ACROSS", "METAL-LEFT", "GRIP"):
        assert layers.get(name).is_on()


def test_a_stage_is_two_closed_polylines_about_the_axis() -> None:
    job, _ = read_job(SPINDLE.encode(), "job.yaml")
    assert job is not None
    drawing = size_job(job)
    plan = plan_job(drawing, built_in_workshop(Unit.MM)).parts[0]
    for stage in plan.stages:
        polylines = list(read_back(stage_dxf(stage)).modelspace().query('POLYLINE[layer=="METAL-LEFT"]'))
        assert [p.is_closed for p in polylines] == [True, True]
        z = [v.dxf.location.x for v in polylines[0].vertices]
        r = [v.dxf.location.y for v in polylines[0].vertices]
        assert min(r) >= 0.0
        assert [-v.dxf.location.y for v in polylines[1].vertices] == pytest.approx(r)
        assert (min(z), max(z)) == pytest.approx((stage.after.outer[0, 0], stage.after.outer[-1, 0]))


def test_chords_of_a_mesh_lie_within_a_hundredth_of_the_circle() -> None:
    for radius in (0.004, 0.5, 3.0, 12.0, 60.0):
        count = corners_around(radius)
        assert radius * (1.0 - math.cos(math.pi / count)) <= CHORD_MM + 1e-12
        assert count % 4 == 0


def inscribed(radius: float) -> float:
    """Area of the polygon drawn for a circle by that of the circle."""
    n = corners_around(radius)
    return math.sin(2 * math.pi / n) / (2 * math.pi / n)


def test_a_bar_is_a_prism_of_its_polygon() -> None:
    mesh = solid(stl(revolved(round_bar(20.0, -3.0, 40.0)), "bar"))
    assert mesh.volume == pytest.approx(math.pi * 100.0 * 43.0 * inscribed(10.0), rel=1e-6)
    assert mesh.bounds[:, 0] == pytest.approx([-3.0, 40.0])


def test_a_ball_with_a_stem_and_a_hole_by_closed_form() -> None:
    # ball less its cap, and stem less the hole: 8 deep of full diameter, then a point of 118 deg
    h = 10.0 + math.sqrt(75.0)
    ball = math.pi * h * h * (30.0 - h) / 3.0
    stem = math.pi * 25.0 * 12.0
    hole = math.pi * 2.5**2 * (8.0 + 2.5 / math.tan(math.radians(59.0)) / 3.0)
    mesh = stl_of(KNOB)
    assert mesh.volume == pytest.approx((ball + stem - hole) * inscribed(10.0), rel=2e-4)
    assert mesh.bounds[1, 0] == pytest.approx(h + 12.0, abs=1e-4)


def test_a_body_of_fillet_and_groove_by_pappus() -> None:
    corner = math.pi * 64 * 2 - 2 * math.pi * (8 - 8 / (3 * math.pi)) * math.pi  # less a quarter circle of 2 about Ø 16
    wanted = math.pi * (36 * 30 + 144 * 6) - math.pi * (36 - 25) * 2 + corner
    assert stl_of(SPINDLE).volume == pytest.approx(wanted * inscribed(12.0), rel=2e-4)


@pytest.mark.parametrize(
    ("item", "sizes", "gone"),
    [
        ("- {flat: key, on: body}", "key from axis: 8\n      key left to right end: 30\n      key length: 12",
         12 * (100 * math.acos(0.8) - 8 * 6)),
        ("- {square: drive, on: body}", "drive across flats: 16\n      left end to drive left: 0\n      drive length: 10",
         10 * 4 * (100 * math.acos(0.8) - 8 * 6)),
        ("- {hexagon: hex, on: body}", "hex across flats: 18\n      left end to hex left: 5\n      hex length: 10",
         10 * 6 * (100 * math.acos(0.9) - 9 * math.sqrt(19.0))),
        ("- {holes: studs, face: right, count: 3}",
         "studs diameter: 3\n      studs pitch circle diameter: 12\n      studs depth: 6",
         3 * math.pi * 2.25 * (6 + 1.5 / math.tan(math.radians(59)) / 3)),
        ("- {slot: way, on: body}", "way width: 4\n      way length: 14\n      way depth: 6\n      left end to way left: 8",
         None),
    ],
)  # fmt: skip
def test_what_lies_across_is_taken_out(item: str, sizes: str, gone: float | None) -> None:
    text = BLOCK.replace("ITEMS", item).replace("SIZES", sizes)
    mesh = stl_of(text)
    if gone is None:  # a bar of 10 by 4 and a round of 4, from the surface of a circle of 20 down to 4 above its middle
        steps = np.linspace(-2.0, 2.0, 20001)
        width = 10.0 + 2.0 * np.sqrt(4.0 - steps**2)
        gone = float(np.trapezoid((np.sqrt(100.0 - steps**2) - 4.0) * width, steps))
    whole = math.pi * 100 * 30 * inscribed(10.0)
    assert whole - mesh.volume == pytest.approx(gone, rel=0.012)


def test_a_leaning_hole_through_the_axis() -> None:
    """A cylinder across a cylinder at a lean: the volume of the one square to it, divided by the cosine of the lean."""
    square = BLOCK.replace("ITEMS", "- {hole: eye, on: body, through: yes}").replace(
        "SIZES", "eye diameter: 6\n      left end to eye centre: 15")  # fmt: skip
    leaning = square.replace("through: yes", "through: yes, leaning: 20 deg")
    y = np.linspace(-3.0, 3.0, 200001)
    gone = float(np.trapezoid(4.0 * np.sqrt(9.0 - y**2) * np.sqrt(100.0 - y**2), y))
    whole = math.pi * 100 * 30 * inscribed(10.0)
    assert whole - stl_of(square).volume == pytest.approx(gone, rel=0.005)
    assert whole - stl_of(leaning).volume == pytest.approx(gone / math.cos(math.radians(20.0)), rel=0.005)


@pytest.mark.parametrize(("diameter", "flats"), [("11.547", "10"), ("11.55", "10"), ("9.24", "8"), ("11.54", "10")])
def test_a_hexagon_that_reaches_just_to_the_surface_has_sharp_corners(diameter: str, flats: str) -> None:
    text = BLOCK.replace("ITEMS", "- {hexagon: hex, on: body}").replace("SIZES", f"hex across flats: {flats}")
    mesh = stl_of(text.replace("body diameter: 20", f"body diameter: {diameter}"))
    assert mesh.volume == pytest.approx(math.sqrt(3.0) / 2.0 * float(flats) ** 2 * 30.0, rel=1e-6)
    assert mesh.bounds[1] == pytest.approx([30.0, float(flats) / 2.0, float(flats) / math.sqrt(3.0)], abs=1e-5)


def test_faces_that_end_at_a_shoulder_leave_no_mark_in_it() -> None:
    text = HEAD + """  stud:
    material: free-cutting mild steel
    outside:
      - cylinder: rim
      - cylinder: body
    across:
      - {hexagon: hex, on: body}
    dimensions:
      rim diameter: 24
      rim length: 4
      body diameter: 11.55
      body length: 15
      hex across flats: 10
"""
    wanted = math.pi * 144 * 4 * inscribed(12.0) + math.sqrt(3.0) / 2.0 * 100 * 15
    assert stl_of(text).volume == pytest.approx(wanted, rel=1e-6)


def test_without_the_library_the_mesh_is_round_and_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    text = BLOCK.replace("ITEMS", "- {hole: eye, on: body, through: yes}").replace(
        "SIZES", "eye diameter: 6\n      left end to eye centre: 15")  # fmt: skip
    monkeypatch.setattr(exports, "has_solids", lambda: False)
    job, _ = read_job(text.encode(), "job.yaml")
    assert job is not None
    drawing = size_job(job)
    files, left_out = stl_files(drawing, plan_job(drawing, built_in_workshop(Unit.MM)))
    assert solid(files["boss.stl"]).volume == pytest.approx(math.pi * 100 * 30 * inscribed(10.0), rel=1e-6)
    assert left_out == ("boss: its mesh is without eye: install handwheel[mesh] for what lies across",)
    assert meshacross.has_solids()


def test_make_writes_them_only_when_asked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = tmp_path / "knob.yaml"
    job.write_text(KNOB)
    assert main(["make", str(job), "--out", str(tmp_path / "plain")]) == 0
    assert main(["make", str(job), "--out", str(tmp_path / "all"), "--dxf", "--mesh"]) == 0
    assert capsys.readouterr().out == ""
    plain = {p.name for p in (tmp_path / "plain").iterdir()}
    more = {p.name for p in (tmp_path / "all").iterdir()} - plain
    stages = {p.removesuffix(".svg") for p in plain if p.endswith(".svg")}
    assert {f"{s}.dxf" for s in stages} | {"knob.dxf", "knob.stl"} <= more
    assert len([p for p in more if p.endswith(".stl")]) == 2
    assert not any(p.endswith((".dxf", ".stl")) for p in plain)
    assert len(finished_section(solved(KNOB)).outer) > 4
    assert dxf_files.__doc__
