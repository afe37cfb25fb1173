"""Fits, joints and clocking for one who only asks: against the amateur table's own sums, ISO 286-2 and Lamé by hand."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest

from handwheel.job.records import Unit
from handwheel.setups.clocking import clocked_words
from handwheel.setups.fits import Half, amateur_mate_mm, fit_asked, mate_asked, reamed_asked
from handwheel.setups.jointasked import Measured, joint_asked
from handwheel.tables.threads import Thread, find_thread
from handwheel.workshop.read import built_in_workshop

METRIC = built_in_workshop(Unit.MM)
THOU = 0.0254


def numbers(words: str) -> list[float]:
    return [float(n) for n in re.findall(r"\d+(?:\.\d+)?", words)]


def line(lines: tuple[str, ...], start: str) -> str:
    return next(text for text in lines if text.startswith(start))


def thread(designation: str) -> Thread:
    found = find_thread(designation)
    assert found is not None
    return found


def test_a_spigot_is_told_as_its_diameter() -> None:
    """Amateur table, thou of allowance at 1 in of hole: shrink 0.5 + 1.5, slide -0.3 - 0.45. ISO 286-2 at 25.4 mm:
    H7 +21 0, g6 -7 -20, p6 +35 +22."""
    told = {f.head: f.value for f in fit_asked(Half(25.4, True), METRIC)}
    assert told["shrink"].startswith(f"spigot Ø {25.4 + 2.0 * THOU:.3f} mm, {2.0 * THOU:.3f} mm larger than the hole")
    assert told["slide"].startswith(f"spigot Ø {25.4 - 0.75 * THOU:.3f} mm, {0.75 * THOU:.3f} mm smaller")
    assert "common practice, no source" in told["whose"]
    assert numbers(told["ISO 286 H7/g6"]) == pytest.approx([25.4, 25.421, 25.380, 25.393, 0.007, 0.041])
    assert told["ISO 286 H7/p6"].endswith("0.035 mm tight to 0.001 mm tight")


def test_a_hole_is_told_for_a_spigot_of_its_class() -> None:
    """ISO 286-2 at 12 mm: h7 -18 0; G7 +24 +6; S7 -21 -39 (all um)."""
    told = {f.head: f.value for f in fit_asked(Half(12.0, False, "h7"), METRIC)}
    # hole such that hole + allowance of that hole is the spigot
    hole = numbers(told["shrink"])[0]
    assert hole + (0.5 + 1.5 * hole / 25.4) * THOU == pytest.approx(12.0, abs=6e-4)
    assert told["shrink"].startswith("hole Ø")
    assert numbers(told["ISO 286 G7/h7"]) == pytest.approx([12.006, 12.024, 11.982, 12.0, 0.006, 0.042])
    assert numbers(told["ISO 286 S7/h7"])[-2:] == pytest.approx([0.039, 0.003])


def test_a_class_off_the_basis_is_paired_with_the_basis() -> None:
    assert [f.head for f in fit_asked(Half(12.0, False, "g6"), METRIC) if "ISO" in f.head] == [
        "ISO 286 H7/g6", "ISO 286 H8/g6"]  # fmt: skip
    assert [f.head for f in fit_asked(Half(12.0, True, "F8"), METRIC) if "ISO" in f.head] == [
        "ISO 286 F8/h6", "ISO 286 F8/h7"]  # fmt: skip


def test_the_mate_of_a_hole_as_measured() -> None:
    """Hole 8.013 ± 0.004; H7/g6 at 8 mm leaves 5 to 29 um (H7 +15 0, g6 -5 -14): 8.013 - 0.029 + 0.004 to
    8.013 - 0.005 - 0.004."""
    lines = mate_asked(Half(8.0, True), 8.013, 0.004, METRIC)
    assert numbers(line(lines, "slide"))[0] == pytest.approx(8.013 - (0.3 + 0.45 * 8.013 / 25.4) * THOU, abs=6e-4)
    assert numbers(line(lines, "bonded"))[:2] == pytest.approx([7.977, 7.989])  # gap 0.02 to 0.04
    assert numbers(line(lines, "as H7/g6"))[-2:] == pytest.approx([7.988, 8.004])
    assert "takes up the whole" in line(mate_asked(Half(8.0, True), 8.013, 0.02, METRIC), "bonded")


@pytest.mark.parametrize("is_hole", [True, False])
def test_limits_keep_the_fit_wherever_the_measured_half_lies(is_hole: bool) -> None:
    """Monte Carlo over the gauge's error and the mate's limits: the gap stays in H7/f7's 13 to 43 um at 8 mm, and fills it."""
    rng = np.random.default_rng(5)
    told = line(mate_asked(Half(8.0, is_hole, "H7" if is_hole else "f7"), 8.007, 0.006, METRIC),
                "as H7/f7")  # fmt: skip
    low, high = numbers(told)[-2:]
    own, mate = 8.007 + rng.uniform(-0.006, 0.006, 50000), rng.uniform(low, high, 50000)
    gap = own - mate if is_hole else mate - own
    assert 0.013 - 1e-9 <= gap.min() < 0.0145
    assert 0.0415 < gap.max() <= 0.043 + 1e-9


def test_a_measured_reamer() -> None:
    """Reamer 8.004 ± 0.002, cutting up to 0.01 over: hole 8.002 to 8.016."""
    lines = reamed_asked(Half(8.0, True), 8.004, 0.002, METRIC)
    assert numbers(lines[0])[:2] == pytest.approx([8.002, 8.016])
    # gap 0.02 to 0.04 at both ends of that: 8.016 - 0.04 to 8.002 - 0.02
    assert numbers(line(lines, "bonded"))[:2] == pytest.approx([7.976, 7.982])


def test_pressed_together_over_the_gauges_error() -> None:
    """8.03 in 8.013, each ± 0.002: 0.013 to 0.021 tight; Lamé, equal ends, textbook constants of brass and steel."""
    lines = joint_asked(Measured(8.013, 8.03, 0.002, 10.0, "brass", "silver steel", 20.0), METRIC)
    wide = (400.0 + 8.013**2) / (400.0 - 8.013**2)
    low, high = (t / 8.013 / ((wide + 0.34) / 97000.0 + 0.71 / 205000.0) for t in (0.013, 0.021))
    assert numbers(line(lines, "pressed"))[:4] == pytest.approx([0.013, 0.021, low, high], abs=0.6)
    hub = numbers(line(lines, "hub at"))
    assert hub[0] == pytest.approx(high * wide, abs=0.6)
    # greatest difference of the principal stresses at the bore: 2 p D² / (D² - d²)
    assert hub[-3] == pytest.approx(high * 2.0 * 400.0 / (400.0 - 8.013**2), abs=0.6)
    area = math.pi * 8.013 * 10.0
    assert numbers(line(lines, "force"))[:2] == pytest.approx([0.07 * low * area / 1e3, 0.2 * high * area / 1e3], rel=0.05)
    heat = (0.021 + 0.008013) / 8.013
    assert numbers(line(lines, "heat"))[0] == pytest.approx(heat / 2.05e-5, abs=0.6)
    cold = numbers(line(lines, "or cold"))
    assert cold[0] == pytest.approx(heat / 1.2e-5, abs=0.6)
    assert cold[-1] == pytest.approx((heat - 38.0 * 1.2e-5) / 2.05e-5, abs=0.6)


def test_heat_and_cold_by_marching_the_sizes() -> None:
    """Warm the hub and cool the spigot by the answer in small steps; hole less spigot then is the room asked for."""
    lines = joint_asked(Measured(12.0, 12.02, 0.0, 15.0, "aluminium alloy", "mild steel", 30.0), METRIC)
    hub_k, hole, spigot = numbers(line(lines, "or cold"))[-1], 12.0, 12.02
    for _ in range(1000):
        hole *= 1.0 + 2.35e-5 * hub_k / 1000.0
        spigot *= 1.0 - 1.2e-5 * 38.0 / 1000.0
    assert hole - spigot == pytest.approx(0.012, abs=2e-4)


def test_a_hollow_spigot_closes_and_metals_must_be_known() -> None:
    hollow = Measured(12.0, 12.02, 0.001, 15.0, "mild steel", "brass", 30.0, 8.0)
    assert line(joint_asked(hollow, METRIC), "the spigot's bore closes")
    assert "not known" in joint_asked(replace(hollow, hub=""), METRIC)[0]
    assert "no wall" in joint_asked(replace(hollow, outside_mm=11.0), METRIC)[0]
    assert "not told apart" in joint_asked(replace(hollow, spigot_mm=12.001), METRIC)[0]


def test_bonded_together_with_loads() -> None:
    """Steel in steel, 8 by 10, gap 0.03: 15·0.8/3 = 4 to 30/2 = 15 N/mm² over 80π mm²; 300 N and 1 N·m at once."""
    joint = Measured(8.0, 7.97, 0.0, 10.0, "mild steel", "silver steel", push_n=300.0, torque_nm=1.0)
    lines = joint_asked(joint, METRIC)
    area = 80.0 * math.pi
    assert numbers(line(lines, "may hold"))[:2] == pytest.approx([4.0 * area, 15.0 * area], abs=0.6)
    share = [math.hypot(300.0 / (tau * area), 1000.0 / (tau * area * 4.0)) for tau in (15.0, 4.0)]
    assert numbers(line(lines, "the load uses"))[:2] == pytest.approx(share, abs=6e-3)
    shoulder = line(joint_asked(replace(joint, has_shoulder=True), METRIC), "the load uses")
    assert numbers(shoulder)[:2] == pytest.approx([1000.0 / (tau * area * 4.0) for tau in (15.0, 4.0)], abs=6e-3)
    assert "may be more than it holds" in line(joint_asked(replace(joint, torque_nm=5.0), METRIC), "the load uses")


def test_a_compound_that_is_not_known_has_no_strength() -> None:
    joint = Measured(8.0, 7.97, 0.0, 10.0, "mild steel", "mild steel", push_n=100.0)
    lines = joint_asked(joint, replace(METRIC, compounds=None))
    assert "no strength" in line(lines, "compound")
    assert not [text for text in lines if text.startswith("may hold")]
    assert "not known" in lines[-1]
    assert "none at hand" in line(joint_asked(joint, replace(METRIC, compounds=())), "compound")


@pytest.mark.parametrize(("name", "on", "off"), [("M6", 90.0, 0.25), ("M6", -90.0, 0.75), ("M8 LH", 45.0, 1.25 / 8.0)])
def test_clocking_on_the_users_wheel(name: str, on: float, off: float) -> None:
    """Pitch × angle / 360 off the seat; the example's top slide moves 0.02 mm a division."""
    lines = clocked_words(thread(name), on, 3.0, METRIC)
    slide = METRIC.lathe.wheels["top slide"]
    face = line(lines, "face").replace(" 1/2", ".5").replace(" 1/4", ".25")
    told = numbers(face)
    turns, divisions = (told[1], told[2]) if "turn" in face else (0.0, told[1])
    assert told[0] == pytest.approx(off, abs=6e-4)
    assert turns * slide.lead_mm + divisions * slide.lead_mm / slide.divisions == pytest.approx(off, abs=1e-3)
    assert ("anticlockwise" in lines[0]) == name.endswith("LH")
    first = numbers(line(lines, "first cut"))[0]
    assert first < told[0]
    assert first == pytest.approx(off * (1.0 - 10.0 / (on % 360.0)), abs=6e-4)


def test_past_its_place_a_washer_brings_it_back() -> None:
    """M6 40° past: 320° on, or a washer thicker by 40/360 of the pitch."""
    told = line(clocked_words(thread("M6"), -40.0, None, METRIC), "40° past")
    assert numbers(told)[1:] == pytest.approx([320.0, 40.0 / 360.0], abs=6e-4)
    assert "nothing is faced off" in clocked_words(thread("M6"), 0.0, None, METRIC)[-1]


@pytest.mark.parametrize("name", ["push", "shrink", "large clearance"])
def test_the_mate_of_the_mate_is_itself(name: str) -> None:
    spigot = amateur_mate_mm(name, 10.0, True)
    assert spigot is not None
    assert amateur_mate_mm(name, spigot, False) == pytest.approx(10.0)
    assert amateur_mate_mm("wringing", 10.0, True) is None
    assert amateur_mate_mm("wringing", 10.0, False) is None
