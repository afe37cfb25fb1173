"""The set-ups of the demonstration job: on their pages, and their figures against the metal that stands before them."""

from __future__ import annotations

import math
import re
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import LineString, Point, Polygon

from handwheel.cli.load import load_job, size_with
from handwheel.cli.make import load_workshop
from handwheel.job.records import Unit
from handwheel.plan.records import Plan
from handwheel.plan.route import plan_job
from handwheel.readings.of import readings_of, workable
from handwheel.setups.balls import ball_figures
from handwheel.setups.of import procedure_of
from handwheel.setups.passes import Blank
from handwheel.setups.records import Procedure
from handwheel.sheets.make import make_pages
from handwheel.sheets.paper import SheetMeta
from handwheel.sheets.primitives import Page, Text, TickBox
from handwheel.stages.records import Swing
from handwheel.workshop.records import Workshop

DEMO = Path(__file__).parents[2] / "examples" / "tapping-stand.yaml"


@cache
def made() -> tuple[Plan, Workshop, tuple[Page, ...]]:
    drawing, _ = size_with(load_job(str(DEMO)), (), None)
    shop = load_workshop(drawing.job)
    plan = plan_job(drawing, shop)
    pages = make_pages(drawing, plan, dict(readings_of(plan, shop)), shop, SheetMeta(DEMO.name, "2026-11-25", "1"))
    return plan, shop, tuple(pages)


def stages(kind: str) -> list[tuple[object, Procedure]]:
    plan, shop, _ = made()
    found = []
    for part in plan.parts:
        done = {operation.number for operation in workable(part)}
        for stage in part.stages:
            if stage.operation.kind == kind and stage.operation.number in done:
                procedure = procedure_of(stage, shop)
                assert procedure is not None, stage.operation.number
                found.append((stage, procedure))
    return found


def inches(words: str) -> float:
    return float(words.split()[0])


def test_every_ball_has_its_procedure_from_the_metal_before_it() -> None:
    """Start: the farthest corner of the metal ahead of the neck. Clean: the largest circle that lies in that metal."""
    balls = stages("ball")
    assert len(balls) >= 5
    for stage, procedure in balls:
        cut = stage.operation.cut  # type: ignore[attr-defined]
        assert isinstance(cut, Swing)
        outer = [(z - cut.centre, r) for z, r in stage.before.outer]  # type: ignore[attr-defined]
        sign = 1.0 if stage.operation.holding.toward_tailstock == "right" else -1.0  # type: ignore[attr-defined]
        ahead = [(sign * u, r) for u, r in outer]
        neck = min(sign * cut.radius * math.cos(math.radians(a)) for a in (cut.from_deg, cut.to_deg))
        metal = Polygon([*ahead, (ahead[-1][0], -1.0), (ahead[0][0], -1.0)])
        figures = {f.head: f.value for f in procedure.figures}
        clean = inches(figures["cleans the whole ball from radius"]) * 25.4
        angles = np.radians(np.linspace(0.5, math.degrees(math.acos(neck / clean)) - 0.5, 300))
        assert all(metal.buffer(0.002).contains(Point(clean * math.cos(a), clean * math.sin(a))) for a in angles)
        larger = clean + 0.05
        angles = np.radians(np.linspace(0.5, math.degrees(math.acos(neck / larger)) - 0.5, 300))
        assert not all(metal.contains(Point(larger * math.cos(a), larger * math.sin(a))) for a in angles)
        makes = next(m.makes for m in stage.operation.moves if m.wheel == "ball tool")  # type: ignore[attr-defined]
        height = inches(figures["height error that uses up the limits"]) * 25.4
        assert 2 * height == pytest.approx((makes.working_high_mm - makes.working_low_mm) / 2, abs=0.003)
        farthest = max(math.hypot(u, r) for u, r in ahead if u > neck - 1e-6)
        top = inches(figures["radius with the tip on the blank"]) * 25.4
        assert inches(figures["back out before it swings"]) * 25.4 == pytest.approx(farthest - top, abs=0.003)
        line = LineString(ahead)
        assert top == pytest.approx(line.intersection(LineString([(0.0, 0.1), (0.0, 100.0)])).y, abs=0.002)


@pytest.mark.parametrize(("end", "words"), [(11.0, "0.50 mm (0.0197 in) toward the headstock"), (10.5, "none"),
                                            (10.0, "0.50 mm (0.0197 in) toward the tailstock")])  # fmt: skip
def test_the_carry_of_the_stop(end: float, words: str) -> None:
    """Touched at the end with the radius of the top, the axis stands end - top from where it belongs, toward the end."""
    figures = {f.head: f.value for f in ball_figures(Blank(13.0, 10.5, 10.5, end), 10.0, Unit.MM)}
    assert figures["carry of the carriage after the end"] == words


def test_every_taper_has_the_figures_of_its_angle() -> None:
    tapers = stages("taper")
    assert tapers
    for stage, procedure in tapers:
        angle = next(s.value for s in stage.operation.settings if s.layer == "slide angle")  # type: ignore[attr-defined]
        figures = {f.head: f.value for f in procedure.figures}
        side = inches(figures["on the slide's side (tangent)"])
        bar = inches(figures["along a true bar (sine)"])
        assert side == pytest.approx(2.0 * math.tan(math.radians(angle)), abs=0.00005)
        assert bar == pytest.approx(2.0 * math.sin(math.radians(angle)), abs=0.00005)
        told = re.search(r"which sets ([\d.]+)°", figures["sine bar"])
        assert told is not None
        half_a_step = math.degrees(0.00005 / 5.0 / math.cos(math.radians(angle)))
        assert float(told[1]) == pytest.approx(angle, abs=half_a_step + 0.00006)
        radii = [r for _, r in stage.operation.cut.path]  # type: ignore[attr-defined]
        length = (max(radii) - min(radii)) / math.tan(math.radians(angle)) / 25.4
        off = math.atan(math.tan(math.radians(angle)) + 0.001 / 2 / length) - math.radians(angle)
        words = next(value for head, value in figures.items() if head.startswith("end diameters' difference"))
        assert float(words.split("′")[0]) == pytest.approx(math.degrees(off) * 60, abs=0.006)
        assert inches(words.split(": ")[1]) == pytest.approx(2.0 * off, abs=0.00006)


def test_the_pages_carry_them() -> None:
    plan, _, pages = made()
    words = [[item.text for item in page.items if isinstance(item, Text)] for page in pages]
    heads = [text for page in words for text in page if "how it is set, in this order" in text]
    assert any(h.startswith("Ball tool") for h in heads)
    assert any(h.startswith("Taper") for h in heads)
    boxes = [item.name for page in pages for item in page.items if isinstance(item, TickBox) and " pass " in item.name]
    assert len(boxes) == len(set(boxes))
    copies = {part.part: part.quantity for part in made()[0].parts}
    assert len(boxes) == sum(len(p.passes) * copies[s.operation.part] for s, p in stages("ball"))  # type: ignore[attr-defined]
    assert {p.part for p in plan.parts} >= {name.split(" pass ")[0].rsplit(" ", 1)[0] for name in boxes}
