"""The general arrangement: names, seats and dimensions of every assembly, at their places."""

from __future__ import annotations

import pytest

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.sheets.primitives import Hatch, Line
from handwheel.sheets.whole.arrangepic import arrangement_picture, letters
from handwheel.sheets.whole.assembled import placed_parts
from tests.sheets.whole.jobs import STAND, laid_out, page_of, planned, shaft_job, texts


def test_every_name_seat_and_dimension_of_the_stand_is_there() -> None:
    said = texts(page_of(laid_out(STAND), "General arrangement"))
    for name in ("feed arm", "arm collar", "lock lever", "lever knob", "short lock lever", "short lever knob"):
        assert name in said
    assert {"seat A", "seat B", "seat C"} <= set(said)
    assert {"2 1/32", "1 29/32", "1 9/16"} <= set(said)


def test_a_dimension_spans_the_scaled_distance() -> None:
    drawing, _, _ = planned(STAND)
    drawn = next(a for a in drawing.job.assemblies if a.name == "long lever")
    solved = next(a for a in drawing.assemblies if a.name == "long lever")
    picture, rest = arrangement_picture(solved, drawn, placed_parts(solved, drawing), ["A"], drawing.job.units, 174.0, 40.0)
    assert rest == []
    level = [i for i in picture.items if isinstance(i, Line) and abs(i.y0 - i.y1) < 1e-9 and i.kind.value == "thin"]
    longest = sorted(abs(i.x1 - i.x0) for i in level)[-2:]
    # 1 29/32 in between the centres; the whole is that and half of 11/16 and of 7/16 in: 1.90625, 2.46875
    assert longest[0] / longest[1] == pytest.approx(1.90625 / 2.46875, rel=1e-6)


def test_only_hollow_parts_are_cut_open() -> None:
    drawing, _, _ = planned(shaft_job())
    solved, drawn = drawing.assemblies[0], drawing.job.assemblies[0]
    picture, _ = arrangement_picture(solved, drawn, placed_parts(solved, drawing), ["A"], drawing.job.units, 174.0, 30.0)
    assert sum(isinstance(i, Hatch) for i in picture.items) == 1


def test_no_assembly_no_page() -> None:
    text = shaft_job()
    text = text[: text.index("assemblies:")]
    assert not any("arrangement" in page.subject for page in laid_out(text))


def test_letters_are_told_apart() -> None:
    many = letters(60)
    assert len(set(many)) == 60
    assert not {"I", "O"} & set(many)


def test_a_part_turned_end_for_end_keeps_its_shape() -> None:
    job, faults = read_job(shaft_job().replace("rim right of cap on tail right", "rim left of cap on tail left").encode(), "j")
    assert job is not None, faults
    drawing = size_job(job)
    assembly = drawing.assemblies[0]
    assert assembly.direction["cap"] == -1
    cap = next(p for p in placed_parts(assembly, drawing) if p.part.name == "cap")
    # faces together at z = 0, the cap to the left of it, its 14 mm hole open to the far left
    assert (cap.low, cap.high) == pytest.approx((-20.0, 0.0))
    inner = cap.section.inner
    assert inner[0, 1] == pytest.approx(4.0)
    assert inner[-1, 1] == pytest.approx(0.0)
