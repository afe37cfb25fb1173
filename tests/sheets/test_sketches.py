"""The pictures of set-ups: each drawn by itself at several widths; nothing meets anything, letters tie to figures, to scale."""

from __future__ import annotations

import math
from functools import cache

import pytest

from handwheel.cli.load import load_job, size_with
from handwheel.cli.make import load_workshop
from handwheel.plan.route import plan_job
from handwheel.setups.of import procedure_of
from handwheel.setups.records import Procedure, Sketch
from handwheel.sheets.collide import collisions
from handwheel.sheets.primitives import Circle, LineType, Page, Polyline, Text
from handwheel.sheets.sketches.draw import DRAW, sketch_picture
from tests.sheets.test_examples import EXAMPLES

DEMO = next(path for path in EXAMPLES if path.stem == "tapping-stand")


@cache
def procedures() -> tuple[Procedure, ...]:
    job = load_job(str(DEMO))
    drawing, _ = size_with(job, (), None)
    shop = load_workshop(job)
    found = (procedure_of(stage, shop) for part in plan_job(drawing, shop).parts for stage in part.stages)
    return tuple(one for one in found if one is not None)


def drawn() -> list[Sketch]:
    return [sketch for one in procedures() for sketch in one.sketches]


def test_the_demonstration_job_shows_all_but_the_bore() -> None:
    assert {sketch.name for sketch in drawn()} >= set(DRAW) - {"blue in a bore"}


@pytest.mark.parametrize("width", [43.0, 46.0, 60.0, 84.0])
def test_nothing_meets_anything(width: float) -> None:
    for sketch in drawn():
        for says_figures in (True, False):
            picture = sketch_picture(sketch, width, 20.0, says_figures)
            page = Page(width, picture.height, "", (0.0, -0.01, width + 0.01, picture.height + 0.02), picture.items)
            assert picture.width <= width + 1e-9, sketch.name
            assert collisions(page) == [], sketch.name


def test_every_letter_stands_for_a_figure_of_its_set_up() -> None:
    for one in procedures():
        heads, steps = {figure.head for figure in one.figures}, {step.head for step in one.steps}
        for sketch in one.sketches:
            assert sketch.step in steps, sketch.name
            texts = [item.text for item in sketch_picture(sketch, 46.0, 20.0, False).items if isinstance(item, Text)]
            letters = {text for text in texts if len(text) == 1}
            assert letters <= set(sketch.keys), sketch.name
            for letter in letters:
                assert sketch.keys[letter] in heads, (sketch.name, letter)


def test_the_ball_and_its_blank_are_to_one_scale() -> None:
    """The start circle against the ball's: both as chords on the paper, their ratio that of the sizes."""
    for sketch in (s for s in drawn() if s.name == "touch and start"):
        items = sketch_picture(sketch, 43.0, 20.0, False).items
        arcs = {i.kind: i.points for i in items if isinstance(i, Polyline) and i.kind in (LineType.PHANTOM, LineType.HIDDEN)}
        reach = {kind: math.dist(points[0], points[-1]) for kind, points in arcs.items()}
        wanted = sketch.sizes["farthest"] / sketch.sizes["radius"]
        assert reach[LineType.HIDDEN] / reach[LineType.PHANTOM] == pytest.approx(wanted)
        assert wanted > 1.0
        assert any(isinstance(i, Circle) for i in items)
