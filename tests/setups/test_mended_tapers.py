"""Mistakes in the set-up of a taper attachment and of a step-off chart, mended by what is told; and a tool's height by three
diameters, or that they cannot tell.

The attachment's bar pushes the slide through its play; the metal is what the tool's point leaves at each place along.
"""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
from numpy.typing import NDArray

from handwheel.job.records import Unit
from handwheel.plan.taperways import run_up_mm
from handwheel.readings.charts import chart_reading
from handwheel.setups.answers import taper_words
from handwheel.setups.predicted import taper_out_words
from handwheel.setups.taperasked import hollow_words
from handwheel.setups.tapercorrect import correct_by_two_diameters, hollow_by_three_diameters
from handwheel.setups.tapers import Taper

from ..plan.test_taper_ways import DRIFT, only, tapering, without

GAUGE, LIMIT = 0.002, 0.02
LARGE, SMALL, LENGTH = 20.0, 16.0, 80.0  # 1 in 20
WANTED = math.degrees(math.atan(0.025))
PLAY = 0.05


def radii(angle: float, small: float, run_up: float) -> NDArray[np.float64]:
    """Radius at each place from the small end after one cut begun so far beyond it, the play not taken up before. The tool is
    set to `small` with the play against it, as it lies once the bar pushes."""
    z = np.linspace(-run_up, LENGTH, 8001)
    bar = (z + run_up) * math.tan(math.radians(angle))
    pushed = np.maximum.accumulate(np.maximum(0.0, bar - PLAY))
    at_small = max(0.0, run_up * math.tan(math.radians(angle)) - PLAY)
    return np.interp(np.linspace(0.0, LENGTH, 801), z, small / 2.0 + pushed - at_small)


def at(metal: NDArray[np.float64], z: float) -> float:
    return 2.0 * float(np.interp(z, np.linspace(0.0, LENGTH, 801), metal))


def changed(angle: float, scale: str, told: str) -> float:
    """The bar set over by what is told of that scale."""
    found = re.search(rf"([\d.]+) {scale} (more|less)", told)
    assert found is not None, told
    by = float(found[1]) * (1.0 if found[2] == "more" else -1.0)
    per = 24.0 if scale == "in per foot" else 200.0
    return math.degrees(math.atan(math.tan(math.radians(angle)) + by / per))


@pytest.mark.parametrize("off", [0.2, -0.2, 0.04, -0.04])
@pytest.mark.parametrize("scale", ["in per foot", "mm in 100 mm"])
def test_an_attachment_set_wrong_is_mended_by_its_scale(off: float, scale: str) -> None:
    rng = np.random.default_rng(int(1000 * off) + 500 + len(scale))
    run_up = run_up_mm(WANTED, PLAY) + 2.0
    angle, near, far = WANTED + off, 4.0, 76.0
    for _ in range(2):
        metal = radii(angle, SMALL + 0.6, run_up)
        large, small = (at(metal, z) + float(rng.uniform(-GAUGE, GAUGE)) for z in (far, near))
        correction = correct_by_two_diameters(WANTED, large, small, far - near, GAUGE)
        if not correction.is_told:
            break
        angle = changed(angle, scale, "\n".join(taper_words(correction, Unit.MM, far - near)))
    metal = radii(angle, SMALL + 0.2, run_up)
    over = at(metal, near) + float(rng.uniform(-GAUGE, GAUGE)) - (SMALL + near / 20.0)
    metal = radii(angle, SMALL + 0.2 - over, run_up)
    for z in (0.0, 40.0, LENGTH):
        assert at(metal, z) == pytest.approx(SMALL + z / 20.0, abs=LIMIT)


@pytest.mark.parametrize("off", [0.2, -0.2, 0.04, -0.04])
def test_unmended_it_is_outside(off: float) -> None:
    metal = radii(WANTED + off, SMALL, run_up_mm(WANTED, PLAY) + 2.0)
    assert abs(at(metal, LENGTH) - LARGE) > LIMIT


def test_begun_at_the_work_its_end_comes_parallel_for_as_long_as_is_told() -> None:
    metal = radii(WANTED, SMALL, 0.0)
    parallel = run_up_mm(WANTED, PLAY)
    assert at(metal, parallel - 0.1) == pytest.approx(at(metal, 0.0), abs=1e-9)
    assert at(metal, parallel + 0.5) > at(metal, 0.0) + 0.02
    assert LARGE - at(metal, LENGTH) == pytest.approx(2.0 * PLAY, abs=1e-6)


def test_what_play_makes_is_told() -> None:
    """Small end over by twice the play, parallel for play / tan: as the metal above has it."""
    small, _, parallel = taper_out_words(Taper(LARGE, SMALL, LENGTH), 0.0, 0.0, Unit.MM, PLAY)
    metal = radii(WANTED, SMALL, 0.0)
    assert small.startswith(f"small end: {at(metal, 0.0) + LARGE - at(metal, LENGTH) - SMALL:.2f} mm")
    assert parallel.startswith(f"parallel from the small end for {PLAY / 0.025:.2f} mm")
    assert len(taper_out_words(Taper(LARGE, SMALL, LENGTH), 0.0, 0.0, Unit.MM)) == 2


@pytest.mark.parametrize("touch", [0.12, -0.12, 0.04, -0.04])
def test_a_chart_whose_zero_is_out_is_mended_at_its_first_line(touch: float) -> None:
    """Zero taken `touch` wrong on the radius: the first line, stopped short, measures out by twice that; half goes on zero."""
    shop = without("top slide")
    operation = tapering(only(DRIFT % (4, 70), shop))
    chart, reading = operation.chart, chart_reading(operation, shop)
    assert chart is not None
    assert reading is not None
    short = shop.habit("last cut")
    assert f"Stop the first line {short:.3f} mm of Ø short, measure" in chart.note
    rng = np.random.default_rng(int(1000 * touch) + 500)
    first = reading.rows[0]
    measured = first.leaves_mm + short + 2.0 * touch + float(rng.uniform(-GAUGE, GAUGE))
    zero = touch - (measured - (first.leaves_mm + short)) / 2.0
    for row in reading.rows:
        true = row.leaves_mm / 2.0
        assert true + zero == pytest.approx(true, abs=LIMIT / 2.0)
        assert true + touch != pytest.approx(true, abs=LIMIT / 2.0)
    assert 2.0 * abs(touch) < short + 0.01  # the first line, stopped short, is not under size when the zero is out


def three(height: float, large: float, small: float) -> tuple[float, float, float]:
    """Diameters at both ends and midway of a side turned by a tool off height, the path straight in its own plane."""
    big, little = (math.sqrt(d * d / 4.0 - height * height) for d in (large, small))
    return large, 2.0 * math.hypot((big + little) / 2.0, height), small


@pytest.mark.parametrize("height", [0.8, -0.8, 1.2])
def test_three_diameters_tell_a_tool_far_off_height_but_not_which_way(height: float) -> None:
    found = hollow_by_three_diameters(*three(height, 20.0, 10.0), 0.001)
    assert found.is_told
    assert found.height_mm == pytest.approx(abs(height), rel=0.12)
    assert "above or below cannot be told" in hollow_words(found, 15.0, Unit.MM)


def test_on_a_slow_taper_they_seldom_tell() -> None:
    """1 in 20 over 40, half a millimetre off height: y² s² / 8 r³ = 0.00004, far below a micrometer."""
    found = hollow_by_three_diameters(*three(0.5, 20.0, 18.0), 0.004)
    assert not found.is_told
    assert "these cannot tell a tool off height by less than" in hollow_words(found, 19.0, Unit.MM)


def test_the_least_height_they_would_show_is_where_they_begin_to() -> None:
    least = hollow_by_three_diameters(*three(0.0, 20.0, 10.0), 0.002).least_height_mm
    assert not hollow_by_three_diameters(*three(0.8 * least, 20.0, 10.0), 0.002).is_told
    assert hollow_by_three_diameters(*three(1.2 * least, 20.0, 10.0), 0.002).is_told


def test_three_diameters_spread_as_many_trials_do() -> None:
    rng = np.random.default_rng(3)
    exact = three(1.0, 20.0, 10.0)
    trials = [hollow_by_three_diameters(*(d + rng.uniform(-0.003, 0.003) for d in exact), 0.003) for _ in range(6000)]
    assert np.std([t.mm for t in trials]) == pytest.approx(trials[0].uncertainty_mm, rel=0.03)


def test_a_side_that_is_round_is_not_put_down_to_height() -> None:
    large, middle, small = three(0.0, 20.0, 10.0)
    words = hollow_words(hollow_by_three_diameters(large, middle + 0.05, small, 0.002), middle, Unit.MM)
    assert "no tool height makes that" in words
    words = hollow_words(hollow_by_three_diameters(large, middle - 1.0, small, 0.002), middle, Unit.MM)
    assert "more than a tool's height makes" in words
