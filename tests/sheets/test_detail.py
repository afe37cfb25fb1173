"""What would be too small to read is drawn again at a larger scale, with its own dimensions."""

from __future__ import annotations

import pytest

from handwheel.job.records import Unit
from handwheel.sheets.cardpic import card_picture, part_view
from handwheel.sheets.detail import details_of
from handwheel.sheets.places import locate
from handwheel.sheets.primitives import Line, LineType, Polyline, Text
from tests.sheets.whole.jobs import planned, shaft_job


def test_a_narrow_groove_is_drawn_again_where_it_is_read() -> None:
    drawing, plan, _ = planned(shaft_job())
    shaft = drawing.part("shaft")
    view, _, _ = part_view(shaft, plan.parts[0], 138.0, 40.0)
    clip = next(c for c in shaft.cut_in if c.name == "clip")
    # 1.1 mm wide, its right... left edge 5 mm before the body's right, which lies 30 mm from the end of 120
    assert (clip.left, clip.right) == pytest.approx((85.0, 86.1))
    assert (clip.right - clip.left) * view.scale < 2.0
    (detail,) = details_of(shaft, view, [(clip.left, clip.right)])
    assert detail.low < clip.left < clip.right < detail.high
    assert 1.1 * view.scale * detail.times >= 8.0


def test_its_dimensions_stand_in_the_detail_to_scale() -> None:
    drawing, plan, _ = planned(shaft_job())
    shaft = drawing.part("shaft")
    view, _, _ = part_view(shaft, plan.parts[0], 174.0 - 36.0, 40.0)
    picture, rest = card_picture(shaft, plan.parts[0], Unit.MM, 174.0, 40.0)
    assert rest == []
    said = [i.text for i in picture.items if isinstance(i, Text)]
    (title,) = [t for t in said if t.endswith("times as large")]
    times = float(title.split()[1])
    (width,) = [i for i in picture.items if isinstance(i, Text) and i.text == "1.1 +0.1 -0"]
    (floor,) = [i for i in picture.items if isinstance(i, Text) and "10.5 ± 0.05" in i.text]
    heading = next(i for i in picture.items if isinstance(i, Text) and i.text == title)
    assert width.y > heading.y
    assert floor.y > heading.y
    lanes = [i for i in picture.items if isinstance(i, Line) and i.y0 == i.y1 and i.kind is LineType.THIN and i.y0 > heading.y]
    spans = [abs(i.x1 - i.x0) for i in lanes]
    groove = 1.1 * view.scale * times
    edges = [i for i in picture.items if isinstance(i, Polyline) and i.kind is LineType.OUTLINE
             and min(y for _, y in i.points) > heading.y]  # fmt: skip
    steps = [b[0] - a[0] for e in edges for a, b in zip(e.points, e.points[1:], strict=False)]
    assert any(s == pytest.approx(groove, abs=1e-6) for s in steps)
    assert any(s >= groove - 1e-6 for s in spans)


def test_what_is_large_enough_is_not_drawn_again() -> None:
    drawing, plan, _ = planned(shaft_job())
    cap = drawing.part("cap")
    view, section, _ = part_view(cap, plan.parts[1], 80.0, 40.0)
    assert section is not None
    assert details_of(cap, view, [(0.0, 20.0)]) == []


def test_grooves_have_places_on_the_drawing() -> None:
    drawing, _, _ = planned(shaft_job())
    shaft = drawing.part("shaft")
    width, floor = locate(shaft, "clip width"), locate(shaft, "clip diameter")
    assert width is not None
    assert floor is not None
    assert (width.z0, width.z1) == pytest.approx((85.0, 86.1))
    assert (floor.z0, floor.r) == pytest.approx((85.55, 5.25))
