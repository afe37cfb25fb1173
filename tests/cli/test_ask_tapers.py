"""Tapers asked about without a job: by an attachment, by three diameters, by a standard's name."""

from __future__ import annotations

import math
import re
from importlib import resources
from pathlib import Path

import pytest

from handwheel.cli.main import main

CONE = ["ask", "cone", "left diameter: 20", "taper: 1:20", "length: 80", "narrow: right"]
OWNED = ("  taper attachment: {greatest angle: 8 deg, length: 250, reads: inches per foot, line: 1/8, play: 0.05, "
         "cut by: cross slide}\n"
         "  beside the centre: {barrel: 30, centre: 30, post: 60, shank: [10, 12]}\n")  # fmt: skip


def told(capsys: pytest.CaptureFixture[str], words: list[str]) -> str:
    assert main(words) == 0
    return re.sub(r"\s+", " ", capsys.readouterr().out)


@pytest.fixture
def shop(tmp_path: Path) -> str:
    plain = resources.files("handwheel.workshop").joinpath("data", "metric.yaml").read_text(encoding="utf-8")
    path = tmp_path / "shop.yaml"
    path.write_text(plain.replace("  tailstock set over: 8\n", f"  tailstock set over: 8\n{OWNED}"), encoding="utf-8")
    return str(path)


def test_a_long_cone_is_told_by_the_attachment(capsys: pytest.CaptureFixture[str], shop: str) -> None:
    """80 of slope and more does not go in 60 of travel; 1 in 20 is 0.600 in per foot, 4.8 lines of an eighth."""
    text = told(capsys, [*CONE, "--ask", "how to set", "--workshop", shop])
    assert "How to set, taper attachment:" in text
    assert "why not the top slide: its slope of 80.025 mm is longer than the top slide's travel of 60.000 mm" in text
    assert "0.600 in per foot on its scale: 4.80 lines of 0.125" in text
    assert "start 2.00 mm (0.0787 in) or more beyond the work" in text


def test_a_short_one_by_the_top_slide_with_the_reach_beside_a_centre(capsys: pytest.CaptureFixture[str], shop: str) -> None:
    """Barrel 15 + 3 clear less the end's 9, and 60 of post at atan(1/40): (9 + 60 sin) / cos = 10.50."""
    text = told(capsys, ["ask", "cone", "left diameter: 20", "taper: 1:20", "length: 40", "narrow: right", "--ask", "how to set",
                         "--workshop", shop])  # fmt: skip
    assert "How to set, taper:" in text
    assert "tool past the tailstock, its centre in use: stands out of its post by 10.503 mm or more" in text


def test_three_diameters(capsys: pytest.CaptureFixture[str]) -> None:
    said = ["large diameter: 20", "small diameter: 16.2", "apart: 76", "gauge error: 0.004"]
    text = told(capsys, [*CONE, *(w for s in [*said, "middle diameter: 18.1"] for w in ("--measured", s))])
    assert "side straight within 0.003 mm" in text
    assert "cannot tell a tool off height by less than" in text
    text = told(capsys, [*CONE, *(w for s in [*said, "middle diameter: 18.0"] for w in ("--measured", s))])
    assert "side 0.05 mm (0.002 in) hollow" in text
    # the correction on an attachment's scale: 3.8 on 76 is 1 in 20 already
    assert "no correction shows" in text


def test_the_correction_on_an_attachment_s_scale(capsys: pytest.CaptureFixture[str]) -> None:
    """4.2 on 76 where 3.8 is wanted: 12·0.4/76 in per foot and 100·0.4/76 mm in 100 too much."""
    said = ["large diameter: 20", "small diameter: 15.8", "apart: 76", "gauge error: 0.004"]
    text = told(capsys, [*CONE, *(w for s in said for w in ("--measured", s))])
    assert f"taper attachment's scale: {12 * 0.4 / 76:.4f} in per foot less, or {100 * 0.4 / 76:.4f} mm in 100 mm less" in text


@pytest.mark.parametrize(("name", "says"), [
    ("metric 80", "large end, at the gauge line 3.1496 in 80.000 mm"), ("7/24 No. 40", "1.7500 in 44.450 mm"),
    ("taper pin 6 mm", "small end 0.2362 in 6.000 mm"), ("1:10", "ISO 1119, series 1")])  # fmt: skip
def test_standard_series(capsys: pytest.CaptureFixture[str], name: str, says: str) -> None:
    assert says in told(capsys, ["ask", "taper", f"standard: {name}"])


BORE = ["ask", "bore", "cone: yes", "left diameter: 20", "taper: 1:20", "depth: 38"]


def test_a_tapering_bore_is_set_measured_and_foreseen_as_one(capsys: pytest.CaptureFixture[str]) -> None:
    """20 at the mouth, 18.1 at 38: a plug with a line; 0.03 too much at the bottom is half of it over 38 on each side."""
    text = told(capsys, [*BORE, "--ask", "how to set"])
    assert "How to set, taper:" in text
    assert "a plug turned to the taper, with a line where it measures Ø 20.00 mm" in text
    assert "mouth left 0.50 mm (0.0197 in) under" in text
    said = ["large diameter: 20", "small diameter: 18.13", "apart: 38", "gauge error: 0.002"]
    text = told(capsys, [*BORE, *(w for s in said for w in ("--measured", s))])
    off = math.degrees(math.atan(0.95 / 38) - math.atan(0.935 / 38))
    assert f"set {off:.4f}°" in text
    assert "steeper" in text
    text = told(capsys, [*BORE, "--out-by", "angle: 0.1 deg"])
    assert f"small end: {2 * 38 * (math.tan(math.atan(0.025) + math.radians(0.1)) - 0.025):.3f} mm" in text
