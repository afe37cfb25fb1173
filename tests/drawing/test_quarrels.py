"""Dimensions that contradict each other: the planted set and no other is named, told apart, and cured as said."""

from __future__ import annotations

import math
import random

import pytest

from handwheel.drawing.records import State
from tests.drawing.faulty import CYLINDERS, DIAMETERS, ending, faults_by_phrases, the_fault
from tests.drawing.jobs import part, sized


@pytest.mark.parametrize("seed", range(30))
def test_planted_chain_quarrel_is_named_and_deleting_any_of_it_ends_it(seed: int) -> None:
    dice = random.Random(7100 + seed)
    lengths = [dice.randint(5, 40) for _ in range(5)]
    first, last = sorted(dice.sample(range(6), 2))
    ends = ["left end", *(f"{n}1 right" for n in "abcde")]
    phrase = f"{ends[first]} to {ends[last]}"
    off = dice.choice([-3, -2, 2, 3])
    lines = [*DIAMETERS, *(f"{n}1 length: {size}" for n, size in zip("abcde", lengths, strict=True))]
    lines.append(f"{phrase}: {sum(lengths[first:last]) + off}")
    dice.shuffle(lines)
    found = part(CYLINDERS, lines)
    assert found.state is State.CONTRADICTORY
    fault = the_fault(found, "dimensions-quarrel")
    planted = {phrase, *(f"{n}1 length" for n in "abcde"[first:last])}
    assert set(fault.phrases) == planted
    assert f"off by {abs(off)} mm" in fault.what
    assert ending(CYLINDERS, lines) == planted
    assert f"'{phrase}' were {sum(lengths[first:last])}" in fault.do


def test_two_independent_quarrels_of_one_chain_are_told_apart() -> None:
    lines = [*DIAMETERS, "a1 length: 10", "b1 length: 20", "left end to b1 right: 33", "c1 length: 7", "d1 length: 9"]
    lines += ["c1 left to d1 right: 12", "e1 length: 5"]
    found = faults_by_phrases(part(CYLINDERS, lines))
    assert set(found) == {
        frozenset({"a1 length", "b1 length", "left end to b1 right"}),
        frozenset({"c1 length", "d1 length", "c1 left to d1 right"}),
    }
    for phrases, fault in found.items():
        assert ("3 mm" if "a1 length" in phrases else "4 mm") in fault.what


def test_diameters_and_lengths_quarrel_apart() -> None:
    lines = [*DIAMETERS[:2], "a1 radius: 5.5", "a1 length: 10", "b1 length: 20", "overall length: 33"]
    found = faults_by_phrases(part(CYLINDERS[:2], lines))
    assert set(found) == {frozenset({"a1 diameter", "a1 radius"}), frozenset({"a1 length", "b1 length", "overall length"})}


def test_the_one_dimension_that_two_others_speak_against() -> None:
    lines = [*DIAMETERS[:3], "a1 length: 10", "left end to b1 right: 30", "b1 length: 21", "c1 length: 5"]
    lines += ["a1 right to b1 right: 20"]
    found = part(CYLINDERS[:3], lines)
    assert set(the_fault(found, "dimensions-quarrel").phrases) == {"b1 length"} == ending(CYLINDERS[:3], lines)
    assert "'b1 length' were 20" in found.faults[0].do


def test_quarrels_that_overlap_name_only_what_ends_both() -> None:
    # a1 is 1 too long by 'left end to b1 right' and by the overall length; b1 alone could be short by the same
    lines = [*DIAMETERS[:3], "a1 length: 11", "b1 length: 20", "c1 length: 5"]
    lines += ["left end to b1 right: 30", "overall length: 35"]
    found = part(CYLINDERS[:3], lines)
    fault = the_fault(found, "dimensions-quarrel")
    assert set(fault.phrases) == {"a1 length", "b1 length"} == ending(CYLINDERS[:3], lines)


def test_cure_has_the_decimals_typed() -> None:
    lines = [*DIAMETERS[:2], "a1 length: 10.25", "b1 length: 20.125", "overall length: 31.0"]
    fault = the_fault(part(CYLINDERS[:2], lines), "dimensions-quarrel")
    # 31.0 - 20.125 = 10.875 and 31.0 - 10.25 = 20.75, in the places typed
    assert "'overall length' were 30.4" in fault.do
    assert "'b1 length' were 20.750" in fault.do


def test_cure_is_in_the_unit_and_fractions_typed() -> None:
    lines = ["a1 diameter: 1/2", "b1 diameter: 3/8", "a1 length: 1 1/4", "b1 length: 20 mm", "overall length: 2 1/4"]
    fault = the_fault(part(CYLINDERS[:2], lines, units="inch"), "dimensions-quarrel")
    # 20 mm is 0.7874 in; 2 1/4 - 1 1/4 = 1 in = 25.4 mm; 2 1/4 - 0.7874 = 1.4626
    assert "'b1 length' were 25.4 mm" in fault.do
    assert "'a1 length' were 1.4626" in fault.do
    fault = the_fault(part(CYLINDERS[:2], [*lines[:3], "b1 length: 7/8", lines[4]], units="inch"), "dimensions-quarrel")
    assert "off by 1/8 in" in fault.what
    assert "'a1 length' were 1 3/8" in fault.do


def test_taper_against_its_diameters_and_length() -> None:
    lines = ["c left diameter: 20", "c right diameter: 15", "c length: 50", "c taper: 1 in 8", "d diameter: 8"]
    lines += ["d length: 12"]
    outside = ["cone: c", "cylinder: d"]
    fault = the_fault(part(outside, lines), "dimensions-quarrel")
    planted = {"c left diameter", "c right diameter", "c length", "c taper"}
    assert set(fault.phrases) == planted == ending(outside, lines)
    assert "'c taper' were 1 in 10" in fault.do  # 5 in 50
    assert "'c length' were 40" in fault.do  # 5 times 8


def test_lengths_that_disagree_through_a_ball() -> None:
    # the ball of 20 meets the neck of 12 at 8 from its centre: 18 + 30 = 48
    outside = ["ball: b", "cylinder: s", "cylinder: t"]
    lines = ["b diameter: 20", "s diameter: 12", "s length: 30", "left end to s right: 50", "t diameter: 5", "t length: 9"]
    fault = the_fault(part(outside, lines), "dimensions-quarrel")
    # a neck of no diameter would reach to 20 + 30 = 50 as well, but that is no neck
    assert set(fault.phrases) - {"s diameter"} == {"b diameter", "s length", "left end to s right"}
    assert "2 mm" in fault.what
    assert "'s length' were 32" in fault.do
    # R + sqrt(R^2 - 36) = 20 at R = 10.9
    assert "'b diameter' were 21.8" in fault.do


def test_lengths_that_disagree_through_a_taper_on_a_ball() -> None:
    # cone carried on to the ball's centre 12 across, 1 in 20 a side: it meets the ball of 20 where r = 6 - z/20
    half, slope = 6.0, 1.0 / 20.0
    meeting = (half * slope + math.sqrt((1 + slope**2) * 100 - half**2)) / (1 + slope**2)
    right = 12 - 2 * slope * (meeting + 40)
    outside = ["ball: b", "cone: s"]
    lines = ["b diameter: 20", "s diameter at b centre: 12", "s taper: 1 in 10", "s length: 40"]
    good = part(outside, [*lines, f"s right diameter: {right:.6f}"])
    assert good.state is State.OVER_DIMENSIONED
    bad = [*lines, f"s right diameter: {right + 0.5:.6f}"]
    fault = the_fault(part(outside, bad), "dimensions-quarrel")
    assert set(fault.phrases) == ending(outside, bad)
    assert {"s right diameter", "s taper", "s length", "s diameter at b centre"} <= set(fault.phrases)


TIED = """handwheel: 1
job: tied
units: mm
parts:
  lever:
    outside:
      - cylinder: hub
      - cylinder: shank
    dimensions:
      hub diameter: 20
      hub length: 15
      shank diameter: 10
      shank length: 40
  knob:
    outside:
      - cylinder: grip
    dimensions:
      grip diameter: same as shank diameter of lever
{more}
      grip length: 20
  washer:
    outside:
      - cylinder: ring
    dimensions:
      ring diameter: 30
      ring length: 2
assemblies:
  both:
    seats:
      - grip left of knob on shank right of lever
    dimensions:
      hub left of lever to grip right of knob: {over}
"""


def test_tied_parts_name_the_part() -> None:
    found = sized(TIED.format(more="      grip radius: 6", over=75))
    (fault,) = [f for f in found.faults if f.id == "dimensions-quarrel"]
    assert fault.part == "knob"
    assert set(fault.phrases) == {"grip diameter", "grip radius", "shank diameter of lever"}
    assert [p.name for p in found.parts] == ["washer"]


def test_assembly_quarrel_names_every_part_and_is_apart_from_the_other() -> None:
    found = sized(TIED.format(more="      grip radius: 6", over=78))
    named = faults_by_phrases(found)
    over = "hub left of lever to grip right of knob"
    assert set(named) == {
        frozenset({"grip diameter", "grip radius", "shank diameter of lever"}),
        frozenset({over, "hub length of lever", "shank length of lever", "grip length of knob"}),
    }
    (fault,) = [f for p, f in named.items() if over in p]
    assert "off by 3 mm" in fault.what
    assert "'grip length of knob' were 23" in fault.do


def test_repeat_that_agrees_says_nothing_of_a_quarrel_elsewhere() -> None:
    lines = [*DIAMETERS[:3], "a1 length: 10", "b1 length: 20", "left end to b1 right: 30", "c1 length: 5"]
    found = part(CYLINDERS[:3], [*lines, "c1 radius: 7"])
    assert set(the_fault(found, "dimensions-quarrel").phrases) == {"c1 diameter", "c1 radius"}
    (notice,) = [n for n in found.notices if n.id == "repeated-dimension"]
    assert set(notice.phrases) == {"a1 length", "b1 length", "left end to b1 right"}
    assert "exactly" in notice.what


def test_of_repeats_that_agree_the_last_written_is_left_out() -> None:
    lines = [*DIAMETERS[:2], "a1 length: 10.0", "b1 length: 20.0", "overall length: 30.0"]
    (notice,) = part(CYLINDERS[:2], lines).notices
    assert notice.phrases[0] == "overall length"
    (notice,) = part(CYLINDERS[:2], [*lines[:2], lines[4], lines[2], lines[3]]).notices
    assert notice.phrases[0] == "b1 length"
