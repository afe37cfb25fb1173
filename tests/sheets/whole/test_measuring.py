"""The inspection report: every drawn size is there, with a gauge that serves or what it follows from."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handwheel.sheets.primitives import Box
from handwheel.sheets.whole.measuring import assembly_lines, gauge_of, part_lines
from handwheel.sheets.whole.report import how_said
from tests.sheets.whole.jobs import STAND, laid_out, planned, shaft_job, texts


def test_every_drawn_size_has_a_line() -> None:
    drawing, plan, shop = planned(STAND)
    plans = {p.part: p for p in plan.parts}
    for part in drawing.parts:
        lines = part_lines(part, plans[part.name], shop)
        assert {d.phrase for d in part.dimensions if d.given} <= {line.phrase for line in lines}
    assert [(name, count) for name, count, _ in assembly_lines(drawing, plan, shop)] == [
        ("arm with its collar", 3), ("long lever", 2), ("short lever", 1)]


def test_what_no_gauge_reaches_follows_from_what_one_does() -> None:
    drawing, plan, shop = planned(STAND)
    lines = {line.phrase: line for line in part_lines(drawing.part("lock lever"), None, shop)}
    away = lines["shank diameter at hub centre"]
    assert not away.is_direct
    assert set(away.follows) == {"shank right diameter", "shank left diameter", "shank length"}
    assert lines["hub diameter"].is_direct
    over = {line.phrase: line for _, _, found in assembly_lines(drawing, plan, shop) for line in found}
    centres = over["hub centre of lock lever to bulb centre of lever knob"]
    assert not centres.is_direct
    assert "left end to shank right of lock lever" in centres.follows
    assert over["grip left of feed arm to rim right of arm collar"].is_direct


def test_limits_are_the_drawing_s() -> None:
    drawing, _, shop = planned(STAND)
    lines = {line.phrase: line for line in part_lines(drawing.part("lock lever"), None, shop)}
    inch = 25.4
    assert (lines["hub diameter"].low, lines["hub diameter"].high) == pytest.approx(
        ((11 / 16 - 0.002) * inch, (11 / 16 + 0.002) * inch))
    # 0.205 +0 -0.005
    assert (lines["tenon length"].low, lines["tenon length"].high) == pytest.approx((0.200 * inch, 0.205 * inch))
    # 3/16 in h7: ISO 286-2, over 3 up to 6 mm, 12 micrometres
    assert (lines["tenon diameter"].low, lines["tenon diameter"].high) == pytest.approx((4.7505, 4.7625))


def test_the_coarsest_gauge_that_serves() -> None:
    _, _, shop = planned(STAND)
    outside = frozenset({"outside"})
    # a caliper good to 0.0012 in serves limits 0.0096 in apart and more: a quarter of half of them
    assert gauge_of(outside, 10.0, 10.0, 10.0 + 0.0097 * 25.4, shop).startswith("caliper")
    assert gauge_of(outside, 10.0, 10.0, 10.0 + 0.0095 * 25.4, shop).startswith("micrometer")
    assert "coarse" in gauge_of(outside, 10.0, 10.0, 10.003, shop)
    assert gauge_of(outside, 900.0, 899.0, 901.0, shop) == ""


def test_the_report_says_how_many_times_the_gauge_s_error_the_limits_are() -> None:
    """The hub's ± 0.002 in over the micrometer's error, as its workshop file gives it."""
    drawing, _, shop = planned(STAND)
    line = next(one for one in part_lines(drawing.part("lock lever"), None, shop) if one.phrase == "hub diameter")
    gauge = next(g for g in shop.gauges if line.gauge.startswith(g.name))
    assert line.ratio == pytest.approx(0.002 * 25.4 / gauge.error_mm)
    assert "(1:" not in how_said(line)  # more than ten times
    assert how_said(replace(line, ratio=4.25)) == f"{line.gauge} (1:4.3)"


@pytest.mark.parametrize("quantity", [1, 4, 5, 30])
def test_a_box_for_every_copy_of_every_measured_size(quantity: int) -> None:
    text = shaft_job(quantity=quantity)
    drawing, plan, shop = planned(text)
    plans = {p.part: p for p in plan.parts}
    wanted = sum(p.quantity * sum(line.is_direct for line in part_lines(p, plans[p.name], shop)) for p in drawing.parts)
    boxes = [i for page in laid_out(text) if "Inspection report" in page.subject or "Part" not in page.subject
             for i in page.items if isinstance(i, Box) and (round(i.width, 3), round(i.height, 3)) == (12.7, 6.4)]
    assert wanted > 0
    assert len(boxes) == wanted


def test_threads_are_measured_by_their_mate() -> None:
    said = [t for page in laid_out(STAND) if "Inspection" in page.subject for t in texts(page)]
    assert "screw thread" in said
    assert "its mate, or a screw gauge" in said
