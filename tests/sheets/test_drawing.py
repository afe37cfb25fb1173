from __future__ import annotations

import math

import numpy as np
import pytest
from fontTools.ttLib import TTFont
from shapely.geometry import LineString, Point, Polygon

from handwheel.job.records import Unit
from handwheel.sheets.callouts import Callout, Placer, Span, place_callouts, place_spans
from handwheel.sheets.collide import collisions, rects_meet, segment_meets, text_rect
from handwheel.sheets.fonts import font_folder, text_width_mm, wrapped
from handwheel.sheets.numbers import limits
from handwheel.sheets.places import locate, station
from handwheel.sheets.primitives import Line, Page, Text
from handwheel.sheets.shading import hatch, stipple
from handwheel.sheets.view import corners, radius_at
from tests.sheets.made import ball_points, lever, pin

L_SHAPE = [(0.0, 0.0), (30.0, 0.0), (30.0, 8.0), (12.0, 8.0), (12.0, 20.0), (0.0, 20.0)]


def test_hatching_is_the_polygon_cut_by_lines_at_45_degrees() -> None:
    spacing = 2.0
    ours = sum(math.dist(s[:2], s[2:]) for s in hatch([L_SHAPE], spacing).lines)
    shape, theirs = Polygon(L_SHAPE), 0.0
    for k in range(-40, 80):
        c = k * spacing * math.sqrt(2.0)
        theirs += shape.intersection(LineString([(-100.0, c + 100.0), (100.0, c - 100.0)])).length
    assert ours == pytest.approx(theirs, abs=0.3)
    assert theirs > 150.0


def test_hatch_lines_and_dots_lie_inside() -> None:
    shape, hole = Polygon(L_SHAPE), Polygon([(2.0, 2.0), (10.0, 2.0), (10.0, 6.0), (2.0, 6.0)])
    for a, b, c, d in hatch([L_SHAPE], 1.5).lines:
        assert shape.buffer(1e-6).covers(LineString([(a, b), (c, d)]))
    dots = stipple([L_SHAPE], [list(hole.exterior.coords)[:-1]], 1.0).points
    assert len(dots) > 200
    assert all(shape.buffer(1e-6).covers(Point(p)) and not hole.buffer(-1e-6).contains(Point(p)) for p in dots)


@pytest.mark.parametrize(("text", "bold"), [("Ø 0.5625 in", True), ("1 7/16 ± 0.001", False), ("toward the headstock", True)])
def test_text_width_is_the_font_files(text: str, bold: bool) -> None:
    font = TTFont(f"{font_folder()}/IBMPlexSans-{'Bold' if bold else 'Regular'}.ttf")
    units = sum(font["hmtx"][font.getBestCmap()[ord(ch)]][0] for ch in text)
    wanted = units / font["head"].unitsPerEm * 9.0 * 25.4 / 72.0
    assert text_width_mm(text, 9.0, bold) == pytest.approx(wanted, abs=0.01)


@pytest.mark.parametrize("figure", ["2 11/16 in", "0.5 mm", "Ø 12.7 mm", "3 turns", "81 1/2 div"])
def test_a_figure_is_not_parted_from_its_fraction_or_unit(figure: str) -> None:
    for width in range(30, 60):
        lines = wrapped(f"bar sawn to {figure} and {figure} again, then {figure}", float(width), 10.0)
        assert sum(line.count(figure) for line in lines) == 3, lines


def test_wrapped_lines_fit_and_lose_nothing() -> None:
    text = "carriage stop set by touching the blank, then the end; averyveryverylongwordindeed"
    lines = wrapped(text, 25.0, 10.0)
    assert all(text_width_mm(line, 10.0) <= 25.0 for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


def test_printed_limits_never_widen() -> None:
    # 14.27 mm is 0.561811 in, 14.30 mm 0.562992 in
    assert limits(14.27, 14.30, Unit.INCH) == "0.5619 to 0.5629 in"


def test_a_segment_meets_a_box_as_shapely_says() -> None:
    rng = np.random.default_rng(7)
    rect = (2.0, 3.0, 6.0, 5.0)
    box = Polygon([(2.0, 3.0), (6.0, 3.0), (6.0, 5.0), (2.0, 5.0)])
    for x0, y0, x1, y1 in rng.uniform(0.0, 9.0, (400, 4)):
        assert segment_meets(rect, (x0, y0, x1, y1)) == box.intersects(LineString([(x0, y0), (x1, y1)]))


def test_collisions_are_found() -> None:
    a, b = Text(10.0, 10.0, "0.500 in", 9.0), Text(14.0, 10.0, "1.000 in", 9.0)
    page = Page(50.0, 50.0, "", (5.0, 5.0, 40.0, 40.0), (a, b, Line(12.0, 0.0, 12.0, 20.0), Text(44.0, 30.0, "out", 9.0)))
    said = {(c.text, c.with_what.split(" (")[0]) for c in collisions(page)}
    assert ("0.500 in", "1.000 in") in said
    assert ("0.500 in", "a line") in said
    assert ("out", "the frame") in said


def test_crowded_dimensions_never_meet() -> None:
    placer = Placer(-40.0, 120.0, -10.0, 10.0)
    spans = [Span(f"{k + 1}.2345 in", 0.0, 4.0 + 5.0 * k, 8.0, 8.0) for k in range(9)]
    spans += [Span("0.0625 in", 30.0, 31.5, 8.0, 8.0), Span("0.125 in", 31.5, 34.7, 8.0, 8.0)]
    place_spans(placer, spans)
    place_callouts(placer, [Callout(f"Ø 0.{k}125 in", 3.0 * k, -5.0, boxed=k % 2 == 0) for k in range(14)])
    page = Page(200.0, 200.0, "", (-60.0, -80.0, 240.0, 240.0), tuple(placer.items))
    assert collisions(page) == []
    shown = [i for i in placer.items if isinstance(i, Text)]
    assert len(shown) + len(placer.balloons) >= 18
    rects = [text_rect(t) for t in shown]
    assert not any(rects_meet(a, b) for k, a in enumerate(rects) for b in rects[k + 1 :])


def test_places_of_phrases() -> None:
    part = pin()
    tenon = locate(part, "tenon diameter")
    assert tenon is not None
    assert (tenon.kind, tenon.r) == ("surface", 3.175)
    assert 25.4 < tenon.z0 < 38.1
    length = locate(part, "left end to body right")
    assert length is not None
    assert (length.z0, length.z1) == (0.0, 25.4)
    assert station(lever(), "hub centre") == 7.14375
    hub = locate(lever(), "hub diameter")
    assert hub is not None
    assert (hub.sign, hub.r) == ("ball Ø ", 7.14375)
    assert locate(part, "hub centre to elsewhere") is None


def test_corners_are_corners_and_not_chords() -> None:
    profile = np.array(ball_points(7.14375, 3.175, 50.8))
    meets = 7.14375 + math.sqrt(7.14375**2 - 3.175**2)
    assert [round(z, 4) for z, _ in corners(profile)] == [0.0, round(meets, 4), 50.8]
    assert radius_at(profile, 7.14375) == pytest.approx(7.14375, abs=0.002)
    assert radius_at(profile, 60.0) == 0.0
