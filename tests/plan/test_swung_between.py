"""Balls between two necks, and domes, swung: places and angles by circles worked out here, room for the bit by shapely."""

from __future__ import annotations

import json
import math
from pathlib import Path
from random import Random
from typing import Any

import pytest
import shapely

from handwheel.setups.form import BallMeasures
from handwheel.setups.inverse import ball_errors
from tests.examples.runs import command

HANDLE = """\
handwheel: 1
job: Handle
units: mm
parts:
  handle:
    material: free-cutting mild steel
    outside:
      - cylinder: root
      - ball: boss
      - cylinder: nose
    dimensions:
      root diameter: 10
      root length: {root}
      boss diameter: 18 ± 0.05
      nose diameter: 9
      boss right to right end: 8
"""
CAP = """\
handwheel: 1
job: Cap
units: mm
parts:
  cap:
    material: brass
    outside:
      - cylinder: body
      - {ball: top, dome: yes}
    dimensions:
      body diameter: 20
      body length: 15
      top radius: 16
"""
BIT_MM, BIT_HALF_DEG = 4.76, 20.0
"""The built-in metric ball tool's bit, as its workshop file has it."""


def entries(tmp_path: Path, text: str) -> dict[str, Any]:
    job = tmp_path / "job.yaml"
    job.write_text(text, "utf-8")
    status, _, said = command("make", str(job), "--out", str(tmp_path / "out"))
    assert status == 0, said
    part: dict[str, Any] = next(iter(json.loads((tmp_path / "out" / "job.json").read_text("utf-8"))["parts"].values()))
    return part


def of_kind(part: dict[str, Any], kind: str) -> list[dict[str, Any]]:
    return [entry for entry in part["route"] if entry["kind"] == kind]


def figures(entry: dict[str, Any]) -> dict[str, str]:
    return {one["figure"]: one["text"] for one in entry["procedure"]["figures"]}


def test_a_ball_between_necks_is_swung_from_neck_to_neck(tmp_path: Path) -> None:
    part = entries(tmp_path, HANDLE.format(root=14))
    assert not of_kind(part, "curve")
    [ball] = of_kind(part, "ball")
    fore = math.degrees(math.acos(math.sqrt(9.0**2 - 4.5**2) / 9.0))
    aft = 180.0 - math.degrees(math.acos(math.sqrt(9.0**2 - 5.0**2) / 9.0))
    told = figures(ball)
    assert told["swing, from level at the tailstock"] == f"{fore:.1f}° to {aft:.1f}°, neck to neck"
    # touched at radius 9.5 on the blank, then on the end, 8 beyond the meeting with the nose
    carry = math.sqrt(9.0**2 - 4.5**2) + 8.0 - 9.5
    assert told["carry of the carriage after the end"].startswith(f"{carry:.3f} mm")
    assert told["carry of the carriage after the end"].endswith("toward the headstock")
    carriage = next(r for r in ball["readings"] if r["wheel"] == "carriage")
    assert carriage["exact_mm"] == pytest.approx(carry + 0.5, abs=1e-6)
    assert "centre to pole" not in told
    assert "no pole, no pip" in told


def test_the_swing_leaves_the_ball_and_the_bit_has_room(tmp_path: Path) -> None:
    part = entries(tmp_path, HANDLE.format(root=14))
    [ball] = of_kind(part, "ball")
    after = shapely.Polygon(ball["outline_mm"])
    centre = 14.0 + math.sqrt(9.0**2 - 5.0**2)
    for k in range(1, 60):
        angle = math.radians(30.5 + (146.0 - 30.5) * k / 60)
        z, r = centre + 9.0 * math.cos(angle), 9.0 * math.sin(angle)
        assert after.exterior.distance(shapely.Point(z, r)) < 0.002
    half, tall = BIT_MM / 2.0, BIT_MM / 2.0 / math.tan(math.radians(BIT_HALF_DEG))
    inner, outer = 9.0 + tall, 9.0 + tall + 6.0
    bit = shapely.Polygon([(9.0, 0.0), (inner, half), (outer, half), (outer, -half), (inner, -half)])
    for angle in (30.0, 90.0, 180.0 - math.degrees(math.asin(5.0 / 9.0))):
        swung = shapely.affinity.translate(shapely.affinity.rotate(bit, angle, origin=(0.0, 0.0)), centre, 0.0)
        assert after.buffer(-0.05).intersection(swung).area < 1e-6, angle


def test_where_the_bit_has_no_room_the_ball_is_stepped_off(tmp_path: Path) -> None:
    close = HANDLE.replace("- cylinder: root", "- cylinder: flange\n      - cylinder: root").replace(
        "root diameter: 10", "flange diameter: 19\n      flange length: 12\n      root diameter: 10")  # fmt: skip
    part = entries(tmp_path, close.format(root=3))
    assert of_kind(part, "curve")
    assert not of_kind(part, "ball")


def test_a_dome_is_set_from_the_body_under_it(tmp_path: Path) -> None:
    part = entries(tmp_path, CAP)
    [ball] = of_kind(part, "ball")
    screw = next(r for r in ball["readings"] if r["wheel"] == "ball tool")
    assert screw["way"] == "out"
    assert "Ø 20.000 mm" in screw["zero"]
    assert 10.0 + screw["moves_mm"] == pytest.approx(16.0, abs=0.0125)  # half a line of a 1 mm screw with 40 lines
    assert screw["makes"]["working_low_mm"] is None
    told = figures(ball)
    assert f"{16.0 - math.sqrt(16.0**2 - 10.0**2):.2f} mm" in told["dome"]
    assert "equator" not in told


def measured(radius: float, height: float, place: float, wanted: float, gauge: float, draw: Random) -> BallMeasures:
    """Swung above and below, numerically: of all swing angles that stand over a station the one that cuts deepest."""

    def diameter(station: float) -> float:
        level = math.acos((station - place) / radius)
        return 2.0 * min(abs(height + radius * math.sin(level)), abs(height + radius * math.sin(-level)))

    near, far = -wanted * math.sqrt(0.5), wanted * math.sqrt(0.5)
    equator = max(diameter(place + radius * k / 500.0) for k in range(-100, 101))
    return BallMeasures(*(size + draw.uniform(-gauge, gauge) for size in (equator, diameter(near), diameter(far))))


@pytest.mark.parametrize("seed", range(20))
def test_a_mistake_at_a_ball_without_a_pole_is_found_again(seed: int) -> None:
    """Equator and both sides tell height, radius and stop, within three standard uncertainties; the cross slide is named."""
    draw = Random(seed)
    height, place, over = draw.uniform(-0.15, 0.15), draw.uniform(-0.1, 0.1), draw.uniform(-0.1, 0.1)
    gauges = dict.fromkeys(("equator", "near", "far"), 0.003)
    found = ball_errors(measured(9.0 + over, height, place, 9.0, 0.003, draw), 9.0, gauges)
    assert found.cannot_tell == ("cross",)
    for likely, true in ((found.height, abs(height)), (found.radius, 9.0 + over), (found.centre, place)):
        assert likely is not None
        assert abs(likely.mm - true) <= 3.0 * likely.uncertainty_mm + 1e-4
