"""`handwheel ask … --ask "how to set"` and `--measured`: the figures against closed forms, each fault with its place."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

from handwheel.cli.main import main

BALL = ["ask", "ball", "diameter: 3/4"]
CONE = ["ask", "cone", "left diameter: 3/4", "taper: 1 in 20", "length: 2", "narrow: right"]


def measured(*said: str) -> list[str]:
    return [word for one in said for word in ("--measured", one)]


def told(capsys: pytest.CaptureFixture[str], argv: list[str], status: int = 0) -> str:
    assert main(argv) == status
    captured = capsys.readouterr()
    assert all(len(line) <= 80 for line in captured.out.splitlines()), captured.out
    return " ".join((captured.out if status == 0 else captured.err).split())


def test_how_to_set_a_taper(capsys: pytest.CaptureFixture[str]) -> None:
    text = told(capsys, [*CONE, "--ask", "how to set"])
    half = math.atan(0.025)
    assert f"{math.degrees(half):.3f}° (1° 26′)" in text
    assert "on the slide's side (tangent): 0.050 in (1.27 mm) in 2.000 in (50.80 mm) of the carriage" in text
    assert "Example workshop" in text


def test_the_sine_bar_of_the_workshop_named(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Five inches times sin 1.4321° is 0.12496 in: the block 0.125, asin 0.025; the 36-piece set has none, and lays 0.1 under."""
    source = Path(__file__).parents[2] / "src/handwheel/workshop/data/inch.yaml"
    shop = tmp_path / "shop.yaml"
    shop.write_text(source.read_text("utf-8").replace("36-piece inch", "81-piece inch"), "utf-8")
    angle = f"{math.degrees(math.asin(0.025)):.4f}°"
    text = told(capsys, [*CONE, "--ask", "how to set", "--workshop", str(shop)])
    assert f"sine bar: on 5.000 in (127.00 mm): 0.125 in, which sets {angle}" in text
    assert "Example workshop" not in text
    text = told(capsys, [*CONE, "--ask", "how to set"])
    stack = re.search(r"127\.00 mm\): ([\d. +]+) = 0.2250 in under one roller, 0.1 under the other, which sets ([\d.]+°)", text)
    assert stack is not None
    assert sum(map(float, stack[1].split("+"))) == pytest.approx(0.225)
    assert stack[2] == angle


def test_how_to_set_a_ball(capsys: pytest.CaptureFixture[str]) -> None:
    """Blank 40 thou over on the diameter: radius 0.395; its corner, left on, stands the root of two away."""
    text = told(capsys, [*BALL, "--ask", "how to set"])
    assert "radius with the tip on the blank: 0.395 in" in text
    assert f"back out before it swings: {0.395 * (math.sqrt(2) - 1):.4f} in" in text
    assert f"side diameters, from the centre: {0.375 * math.sqrt(0.5):.4f} in" in text
    assert "in 20 divisions: creep" in text


def test_a_ball_measured(capsys: pytest.CaptureFixture[str]) -> None:
    """Made up by hand: radius 0.3760, axis 0.0010 off height, stop 0.0005 toward the tailstock, tip 0.002 beside."""
    rho, h, zc, e, at = 0.3760, 0.0010, 0.0005, 0.002, 0.375 * math.sqrt(0.5)
    equator = 2 * math.hypot(e, rho - h)
    near, far = (2 * math.hypot(e, math.sqrt(rho**2 - (side * at - zc) ** 2) - h) for side in (-1, 1))
    said = measured(f"equator: {equator:.6f}", f"headstock side: {near:.6f}", f"free side: {far:.6f}",
                    f"pole: {zc + math.sqrt(rho**2 - h**2):.6f}", "pip: 0.004", "gauge error: 0.00005")  # fmt: skip
    text = told(capsys, [*BALL, *said])
    assert "radius: 0.001 in (0.025 mm), give or take" in text
    assert "carriage stop: 0.0005 in (0.013 mm), give or take" in text
    assert "to be moved toward the headstock" in text
    assert "swing axis: 0.001 in (0.025 mm), give or take" in text
    assert "cross slide: 0.002 in (0.051 mm), give or take" in text
    assert text.count("direction unknown") == 2


def test_what_cannot_be_told_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    text = told(capsys, [*BALL, *measured("equator: 0.7512", "gauge error: 0.0001")])
    assert "cannot be told from these: height of the swing axis, radius of the tip, place of the stop, cross slide" in text


def test_a_second_measurement_says_which_way(capsys: pytest.CaptureFixture[str]) -> None:
    """Twice the height after the move: the wrong way, so back by move and amount together."""
    rho, h = 0.3760, 0.0020
    side = 2 * (math.sqrt(rho**2 - 0.5 * 0.375**2) - h)
    said = measured(f"equator: {2 * (rho - h):.6f}", f"headstock side: {side:.6f}", f"free side: {side:.6f}",
                    "gauge error: 0.00005", "height moved: 0.001", "height before: 0.001")  # fmt: skip
    text = told(capsys, [*BALL, *said])
    assert "the move was the wrong way (at least 99 chances in 100): go 0.002 in (0.051 mm) back" in text


@pytest.mark.parametrize(
    ("high", "words"), [(0.002, "above the lathe's axis: lower it"), (-0.002, "below the lathe's axis: raise it")])
def test_swung_from_above_the_way_is_told(capsys: pytest.CaptureFixture[str], high: float, words: str) -> None:
    rho = 0.3760
    side = 2 * (math.sqrt(rho**2 - 0.5 * 0.375**2) + high)
    said = measured(f"equator: {2 * (rho + high):.6f}", f"headstock side: {side:.6f}", f"free side: {side:.6f}",
                    "gauge error: 0.00005", "swung: from above")  # fmt: skip
    assert words in told(capsys, [*BALL, *said])


def test_a_cone_measured(capsys: pytest.CaptureFixture[str]) -> None:
    """0.098 over 1.9 is 1.4773°, 0.0452° too steep: 0.0016 on an arc of two inches."""
    said = measured("large diameter: 0.75", "small diameter: 0.652", "apart: 1.9", "gauge error: 0.0002")
    text = told(capsys, [*CONE, *said])
    turned = math.degrees(math.atan(0.098 / 3.8))
    assert f"turned: {turned:.4f}°" in text
    assert f"set {turned - math.degrees(math.atan(0.025)):.4f}° (2.7′) shallower" in text
    assert "the pivot: 0.0016 in" in text


def test_blue_on_a_cone(capsys: pytest.CaptureFixture[str]) -> None:
    text = told(capsys, [*CONE, *measured("blue: small end", "gap: 0.002")])
    assert f"turned: {math.degrees(math.atan(0.025 - 0.0005)):.4f}°" in text
    assert "steeper" in text


def test_what_an_error_makes_of_a_ball(capsys: pytest.CaptureFixture[str]) -> None:
    """Height 0.002 swung above and below: 0.004 off the equator, 0.002 off the radius there, the pole right within 6 in 10^6."""
    text = told(capsys, [*BALL, "--out-by", "height: -0.002"])
    assert "equator: 0.004 in (0.102 mm) under, 0.746 in" in text
    assert f"pole: right, {math.sqrt(0.375**2 - 0.002**2):.3f} in" in text or "pole: 0.000 in" in text
    assert "surface, on the radius: from 0.002 in (0.051 mm) under" in text
    text = told(capsys, [*BALL, "--out-by", "height: 0.002", "--out-by", "cross: 0.001", "--out-by", "swung: from above"])
    assert "equator: 0.004 in (0.102 mm) over, 0.754 in" in text
    assert f"pip: {2 * math.hypot(0.002, 0.001):.4f} in" in text


def test_what_an_error_makes_of_a_taper(capsys: pytest.CaptureFixture[str]) -> None:
    """Steep by 0.1°: 2 L (tan 1.5321° - tan 1.4321°) under at the small end."""
    text = told(capsys, [*CONE, "--out-by", "angle: 0.1 deg"])
    under = 4.0 * (math.tan(math.atan(0.025) + math.radians(0.1)) - 0.025)
    assert f"small end: {under:.4f}".rstrip("0") in text
    text = told(capsys, [*CONE, "--out-by", "tool height: 0.060"])
    small = 2 * math.hypot(math.sqrt(0.375**2 - 0.06**2) - 0.05, 0.06)
    assert f"small end: {small - 0.65:.4f} in" in text


def test_a_plug_over_rollers(capsys: pytest.CaptureFixture[str]) -> None:
    """Half-inch rollers beside a plug of 1.5° and 0.7 in at its small end, then raised one inch: by plane geometry."""
    angle = math.radians(1.5)
    low = 0.7 + 0.5 * (1 + math.tan(angle) + 1 / math.cos(angle))
    high = low + 2 * math.tan(angle)
    said = measured("roller: 0.5", f"over rollers: {low:.6f}", f"over rollers raised: {high:.6f}", "raised: 1")
    text = told(capsys, [*CONE, *said])
    assert "small end, at the plate: Ø 0.700 in" in text
    assert "turned: 1.5000° to the axis; wanted 1.4321°" in text
    assert f"set {1.5 - math.degrees(math.atan(0.025)):.4f}°" in text


@pytest.mark.parametrize("sunk", [True, False])
def test_a_bore_by_two_balls(capsys: pytest.CaptureFixture[str], sunk: bool) -> None:
    """Sine of the half angle: a quarter of an eighth over the centres' distance; made up at 1.5°."""
    proud = -0.05 if sunk else 0.05
    apart = 0.0625 / math.sin(math.radians(1.5))
    depth = apart - 0.3125 + 0.375 - proud
    said = measured("large ball: 3/4", "small ball: 5/8", f"large ball {'sunk' if sunk else 'proud'}: 0.05",
                    f"small ball depth: {depth:.6f}", "gauge error: 0.0005")  # fmt: skip
    text = told(capsys, [*CONE, *said])
    spread = math.degrees(2 * math.tan(math.radians(1.5)) / apart * 0.0005 * math.sqrt(2 / 3))
    assert f"turned: 1.5000° to the axis, give or take {spread:.4f}°" in text
    mouth = 2 * (0.375 / math.cos(math.radians(1.5)) + (0.375 - proud) * math.tan(math.radians(1.5)))
    assert f"mouth: Ø {mouth:.4f}".rstrip("0") in text


def test_blue_in_a_bore_is_the_other_way_round(capsys: pytest.CaptureFixture[str]) -> None:
    assert "shallower" in told(capsys, [*CONE, *measured("blue: large end", "gap: 0.002")])
    assert "steeper" in told(capsys, [*CONE, *measured("blue in bore: large end", "gap: 0.002")])


def test_a_standard_taper(capsys: pytest.CaptureFixture[str]) -> None:
    text = told(capsys, ["ask", "taper", "standard: Morse 2", "--ask", "how to set"])
    assert text.startswith("No. 2 Morse: taper 1 in 20.02")
    assert "large end, at the gauge line 0.7000 in 17.780 mm" in text
    assert "angle to the axis: 1.431°" in text
    assert "taper-unknown" not in text


@pytest.mark.parametrize(
    ("argv", "line"),
    [
        ([*BALL, *measured("girth: 0.75")], "--measured:1:1: 'girth: 0.75' is nothing that is measured here;"),
        ([*BALL, *measured("gauge error: 0.001", "equator: wide")], "--measured:2:10: "),
        ([*BALL, *measured("equator: 0.75")], "--measured:1:1: 'gauge error' was not said; the words are: equator,"),
        ([*BALL, *measured("gauge error: 0.001")], "--measured:1:1: no size was measured; "),
        ([*BALL, *measured("swung: sideways")], "write 'swung: from above' or 'swung: above and below'"),
        ([*CONE, *measured("large diameter: 0.75")], "--measured:1:1: 'small diameter' was not said;"),
        ([*CONE, *measured("blue: middle")], "write 'blue: large end' or 'blue: small end'"),
        (["ask", "fillet", "radius: 3", *measured("equator: 1")],
         "--measured:1:1: nothing measured on a fillet says how it was set; measure a ball"),
        (["ask", "cylinder", "diameter: 3/4", "length: 1", *measured("equator: 1")],
         "--measured:1:1: 'equator: 1' is nothing that is measured here;"),
        (["ask", "cylinder", "thread: M6", "length: 10", *measured("judged to: 3 deg")],
         "--measured:1:1: 'short by' was not said; the words are: short by, past by, judged to"),
        (["ask", "cylinder", "thread: M6", "length: 10", *measured("short by: 3 deg", "past by: 2 deg")],
         "--measured:1:1: 'short by' and 'past by' cannot both be;"),
        (["ask", "hole", "diameter: 8", "depth: 10", *measured(
            "diameter: 8.02", "gauge error: 0.001", "spigot: 8", "length: 9", "compound: jam")],
         "--measured:1:1: 'jam' is no kind of compound; write thin retaining compound,"),
        (["ask", "fillet", "radius: 3", "--ask", "how to set"], "--ask:1:1: no set-up can be told of this fillet; "),
        (["ask", "fillet", "radius: 3", "--out-by", "height: 1"], "--out-by:1:1: no set-up of a fillet is known; "),
        ([*BALL, "--out-by", "tool height: 0.01"], "--out-by:1:1: 'tool height: 0.01' is no error of this set-up;"),
        ([*BALL, "--out-by", "height: -deep"], "--out-by:1:10: "),
        ([*BALL, "--out-by", "radius: -0.370"], "--out-by:1:1: what that makes cannot be worked out; "),
        (["ask", "taper", "standard: No. 9 Mors"], "taper:1:1: no table holds the taper 'No. 9 Mors'; "),
        (["ask", "taper", "size: 3"], "taper:1:1: 'size: 3' is not 'standard: NAME'; "),
        ([*BALL, "--ask", "how to set", "--workshop", "nowhere.yaml"], "nowhere.yaml:1:1: "),
    ],
)  # fmt: skip
def test_faults(capsys: pytest.CaptureFixture[str], argv: list[str], line: str) -> None:
    assert line in told(capsys, argv, status=2)


def test_how_a_thread_is_set(capsys: pytest.CaptureFixture[str]) -> None:
    text = told(capsys, ["ask", "hole", "thread: M6", "depth: 9", "--ask", "how to set"])
    assert "How to set, tap:" in text
    assert "drill to: 15.000 mm full diameter" in text  # 9 + a lead of 4 pitches + 2
    assert "minor diameter, 6H: 4.917 to 5.153 mm" in text  # ISO 965-2
    assert "effective diameter, 6g 5.212 mm to 5.324 mm" in text


def test_how_a_screw_is_set_in_inches(capsys: pytest.CaptureFixture[str]) -> None:
    text = told(capsys, ["ask", "cylinder", "thread: 1/4-20 UNC", "length: 3/4", "--ask", "how to set"])
    assert "blank: Ø 0.2450 in, within 0.2408 to 0.2489 in (2A)" in text  # ASME B1.1
    assert "75 % as inch drill tables count" in text


def test_fits_of_a_hole_and_a_spigot_for_it_as_measured(capsys: pytest.CaptureFixture[str]) -> None:
    hole = ["ask", "hole", "diameter: 8", "depth: 10"]
    # thou: 0.15 + 0.35 an inch of diameter
    assert "push: spigot Ø 7.993 mm, 0.007 mm smaller than the hole" in told(capsys, [*hole, "--ask", "how to set"])
    text = told(capsys, [*hole, *measured("diameter: 8.013", "gauge error: 0.004")])
    assert "bonded: spigot 7.977 to 7.989 mm" in text
    more = ("spigot: 8.03", "outside: 20", "length: 10", "hub: brass", "shaft: silver steel")
    text = told(capsys, [*hole, *measured("diameter: 8.013", "gauge error: 0.004", *more)])
    assert "pressed: 0.009 to 0.025 mm tight" in text  # 0.017, each half ± 0.004
    spigot = ["ask", "cylinder", "diameter: 12 h7", "length: 30"]
    assert "slide: hole Ø 12.013 mm, 0.013 mm larger than the spigot" in told(capsys, [*spigot, "--ask", "how to set"])
    loads = ("hole: 12.02", "length: 10", "hub: brass", "shaft: mild steel", "push: 100 N", "torque: 0.5 N·m")
    text = told(capsys, [*spigot, *measured("diameter: 11.99", "gauge error: 0.001", *loads)])
    assert "gap 0.028 to 0.032 mm on the diameter" in text
    # least: 15 N/mm² · 0.5 for brass / 3, over 120.2π mm²; 100 N and 500/6.01 N round about
    assert "the load uses" in text


def test_a_lever_that_is_tight_at_the_wrong_angle(capsys: pytest.CaptureFixture[str]) -> None:
    lever = ["ask", "cylinder", "thread: M6", "length: 10"]
    assert "face 0.250 mm off the seat" in told(capsys, [*lever, *measured("short by: 90 deg")])
    assert "face 0.750 mm off the seat" in told(capsys, [*lever, *measured("past by: 90 deg")])
