"""A mistake drawn at random, measured with gauges that err, put right by what the command answers: inside the limits.

The metal and the gauges are those of `bench_of_mistakes`. Each draw has its own seed; both signs of each mistake are
drawn. A round is one measurement, one question and what its words say.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from tests.setups.bench_of_mistakes import Ball, BallTool, Cone, Slide, asked, obey_ball, obey_cone

DRAWS = 40
LIMIT = 0.0125
"""Half of what a size may be out either way on the diameter, 0.025 mm: on the radius. [mm]"""
GAUGE = 0.002
WAYS = ("angle", "arc", "side", "bar", "tailstock")


def either(rng: np.random.Generator, least: float, most: float) -> float:
    return float(rng.choice([-1.0, 1.0]) * rng.uniform(least, most))


def ball_drawn(rng: np.random.Generator, radius: float, is_above_only: bool, has_end: bool) -> tuple[Ball, BallTool]:
    beside, square = (either(rng, 0.02, 0.12), either(rng, 0.0, 0.3)) if has_end else (0.0, 0.0)
    tool = BallTool(radius + 0.6 + float(rng.uniform(0.0, 0.2)), either(rng, 0.02, 0.15), beside, square,
                    either(rng, 0.02, 0.12), is_above_only)  # fmt: skip
    ball = Ball(radius, rng, GAUGE, radius + 1.0)
    ball.swing(tool)
    return ball, tool


def ball_rounds(ball: Ball, tool: BallTool, left_out: tuple[str, ...]) -> int:
    """Measured, asked and mended until the words say that nothing is left on; returns how many rounds."""
    said = ["swung: from above"] if tool.is_above_only else []
    moved: list[str] = []
    for number in range(1, 10):
        text = asked("ball", [f"diameter: {2 * ball.wanted}"], [*ball.measured(*left_out), *said, *moved])
        if "to size as far as" in text or "under: no screw" in text:
            return number
        moved = obey_ball(tool, text, tool.high + either(ball.rng, 0.0, 0.005))
        ball.swing(tool)
    raise AssertionError("still not to size")


@pytest.mark.parametrize(
    ("radius", "is_above_only", "left_out"),
    [(10.0, False, ()), (10.0, True, ()), (4.7625, False, ()), (12.7, True, ("pip",)), (10.0, False, ("pole", "pip")),
     (10.0, True, ("pole", "pip"))],
)  # fmt: skip
def test_a_ball_tool_set_wrong(radius: float, is_above_only: bool, left_out: tuple[str, ...]) -> None:
    """Height, cross slide, squareness, stop and screw out at once; a ball cut flat at its end has neither pole nor pip."""
    signs, rounds = set(), []
    for seed in range(DRAWS):
        ball, tool = ball_drawn(np.random.default_rng([seed, int(radius)]), radius, is_above_only, "pip" not in left_out)
        signs.add((tool.high > 0.0, tool.along > 0.0))
        rounds.append(ball_rounds(ball, tool, left_out))
        low, high = ball.form()
        assert -LIMIT < low <= high < LIMIT, (seed, low, high)
        assert ball.pip < 0.015, seed
    assert len(signs) == 4
    assert float(np.mean(rounds)) <= 5.0


def test_the_screw_alone_would_not_do() -> None:
    """The same draws with only the screw brought to the equator's size are outside, every one."""
    for seed in range(DRAWS):
        ball, tool = ball_drawn(np.random.default_rng([seed, 10]), 10.0, False, True)
        ball.swing(tool)
        middle = np.abs(ball.z) < 3.0
        tool.radius -= float(ball.metal[middle].max()) - 10.0
        ball.swing(tool)
        assert max(map(abs, ball.form())) > LIMIT, seed


def by_two_diameters(cone: Cone, _: float) -> list[str]:
    low, high = 0.05 * cone.z[-1], 0.95 * cone.z[-1]
    return [f"large diameter: {cone.read(cone.diameter(high)):.5f}", f"small diameter: {cone.read(cone.diameter(low)):.5f}",
            f"apart: {high - low:.5f}", f"gauge error: {GAUGE}"]  # fmt: skip


def by_rollers(cone: Cone, _: float) -> list[str]:
    roller, raised = 6.0, float(int(cone.z[-1] - 6.0))
    return [f"roller: {roller}", f"over rollers: {cone.read(cone.over_rollers(roller, 0.0)):.5f}",
            f"over rollers raised: {cone.read(cone.over_rollers(roller, raised)):.5f}", f"raised: {raised}",
            f"gauge error: {GAUGE}"]  # fmt: skip


def by_balls(cone: Cone, _: float) -> list[str]:
    large, small = round(cone.diameter(0.9 * cone.z[-1]), 1), round(cone.diameter(0.25 * cone.z[-1]), 1)
    proud = cone.read(large / 2.0 - cone.ball_at(large))
    return [f"large ball: {large}", f"small ball: {small}", f"large ball {'proud' if proud > 0 else 'sunk'}: {abs(proud):.5f}",
            f"small ball depth: {cone.read(cone.ball_at(small) - small / 2.0):.5f}", f"gauge error: {GAUGE}"]  # fmt: skip


def by_blue(cone: Cone, wanted: float) -> list[str]:
    """The thickest feeler of hundredths that goes in, twice, for the diameter; nothing goes in once it bears all along."""
    bears, gap = cone.gap(wanted)
    leaf = math.floor(gap / 2.0 / 0.01) * 0.01
    word = "blue in bore" if cone.is_bore else "blue"
    return [f"{word}: {bears}", f"gap: {2.0 * leaf:.3f}", f"apart: {cone.z[-1]:.5f}"] if leaf > 0.0 else []


@pytest.mark.parametrize(
    ("measure", "is_bore", "limit", "off_height"),
    [(by_two_diameters, False, LIMIT, 0.2), (by_rollers, False, LIMIT, 0.0), (by_balls, True, LIMIT, 0.0),
     (by_blue, False, 0.025, 0.0), (by_blue, True, 0.025, 0.0)],
)  # fmt: skip
def test_a_taper_set_wrong(
    measure: Callable[[Cone, float], list[str]], is_bore: bool, limit: float, off_height: float
) -> None:
    """Angle out (and tool off height), mended by any of the five figures told, finished by a size near the small end.

    With blue the ends may be out by what a feeler of 0.01 mm on each side does not show.
    """
    signs, ways = set(), set()
    for seed in range(DRAWS):
        rng = np.random.default_rng([seed, int(is_bore)])
        large, ratio = float(rng.uniform(12.0, 40.0)), float(rng.choice([5.0, 10.0, 12.0, 20.0, 30.0]))
        length = float(rng.uniform(20.0, min(80.0, 0.6 * large * ratio)))
        small, wanted = large - length / ratio, math.degrees(math.atan(0.5 / ratio))
        slide = Slide(wanted + either(rng, 0.05, 0.4), either(rng, 0.0, off_height))
        signs.add(slide.angle > wanted)
        way = str(rng.choice(WAYS))
        ways.add(way)
        cone = Cone(small, length, rng, GAUGE, is_bore)
        sayings = [f"left diameter: {large:.6f}", f"right diameter: {small:.6f}", f"length: {length:.6f}"]
        for _ in range(6):
            cone.cut_clean(slide)
            said = measure(cone, wanted)
            if not said or not obey_cone(slide, asked("cone", sayings, said), way):
                break
        for _ in range(2):
            over = cone.read(cone.diameter(0.05 * length)) - (small + 0.05 * length / ratio)
            cone.cut(slide, cone.over - (-over if is_bore else over))
        off = [cone.diameter(z) - small - z / ratio for z in (0.0, length / 2.0, length)]
        assert max(map(abs, off)) < limit, (seed, off)
    assert signs == {True, False}
    assert ways == set(WAYS)
