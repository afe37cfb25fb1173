"""The readings followed by hand: from the zero each names, by the move each really makes, to the size each says it makes.

Only job.json is looked at. The diameter touched is looked for in the outline before; the station reached, in the outlines.
"""

from __future__ import annotations

import re
from typing import Any

import pytest
import shapely

from tests.examples.runs import CASES, made

TOUCHED = re.compile(r"Ø (\d+\.\d+) (in|mm)")
SAID_MM = {"in": 0.00005 * 25.4 + 1e-6, "mm": 0.0005 + 1e-6}
"""Half of the last digit in which a zero is said. [mm]"""
DRAWN_MM = 0.02
"""A size aimed at lies at the middle of its limits, the outline at the size as typed: they may be this far apart. [mm]"""


def cross_slide(entry: dict[str, Any]) -> list[tuple[dict[str, Any], float, float]]:
    found = []
    for reading in entry.get("readings", []):
        touched = TOUCHED.search(reading["zero"])
        if reading["wheel"] in ("cross slide", "ball tool") and reading["way"] == "in" and touched and reading["makes"]:
            scale = 25.4 if touched.group(2) == "in" else 1.0
            found.append((reading, float(touched.group(1)) * scale, SAID_MM[touched.group(2)]))
    return found


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_in_from_the_diameter_touched_gives_the_diameter_made(example: str, variant: str) -> None:
    followed = 0
    for name, _, route in made(example, variant).routes():
        for entry in route:
            for reading, touched, said in cross_slide(entry):
                reached = touched - 2.0 * reading["moves_mm"]
                stated = 2.0 * abs(reading["moves_mm"] - reading["exact_mm"])
                where = f"{name} {entry['number']}: {reading['text']}"
                assert abs(reached - reading["makes"]["value_mm"]) <= stated + said, where
                followed += 1
    assert followed > 0 or made(example, variant).status == 1


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_the_diameter_touched_is_there_before_the_cut(example: str, variant: str) -> None:
    for name, _, route in made(example, variant).routes():
        for before, entry in zip(route, route[1:], strict=False):
            diameters = {2.0 * r for _, r in before["outline_mm"]}
            for reading, touched, said in cross_slide(entry):
                if reading["wheel"] == "cross slide":
                    near = min(abs(touched - d) for d in diameters)
                    assert near <= said + DRAWN_MM, f"{name} {entry['number']}: Ø {touched:.3f} mm is not there to touch"


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_along_from_the_datum_reaches_a_shoulder_of_the_stage(example: str, variant: str) -> None:
    for name, _, route in made(example, variant).routes():
        for entry in route:
            if entry.get("kind") not in ("turn", "groove") or not entry.get("readings"):
                continue
            toward = 1.0 if entry["toward_tailstock"] == "right" else -1.0
            stations = [z for z, _ in entry["outline_mm"]]
            for reading in entry["readings"]:
                if reading["wheel"] not in ("carriage", "top slide"):
                    continue
                reached = entry["datum"]["z_mm"] - toward * reading["moves_mm"]
                stated = abs(reading["moves_mm"] - reading["exact_mm"])
                near = min(abs(reached - z) for z in stations)
                assert near <= stated + 0.15, f"{name} {entry['number']}: {reading['text']}"


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_cuts_from_the_one_zero_leave_what_they_say_and_end_at_the_reading(example: str, variant: str) -> None:
    for name, _, route in made(example, variant).routes():
        for entry in route:
            for reading, touched, said in cross_slide(entry):
                before = 0.0
                for cut in reading.get("cuts", []):
                    where = f"{name} {entry['number']}: {cut}"
                    assert abs(touched - 2.0 * cut["moves_mm"] - cut["leaves_mm"]) <= said, where
                    assert cut["moves_mm"] > before or cut["kind"] == "spring", where
                    before = cut["moves_mm"]
                if reading.get("cuts"):
                    assert before == reading["moves_mm"], f"{name} {entry['number']}"


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_a_step_off_chart_stands_clear_of_the_part_and_leaves_what_it_says(example: str, variant: str) -> None:
    """Set by the corner nearest the headstock, nothing else in the figures: those are followed to a point of the section."""
    for name, part, route in made(example, variant).routes():
        outline = shapely.Polygon(part["outline_mm"])
        for entry in route:
            chart = entry.get("step_off")
            if chart is None or "figures" in chart["note"] or "tailstock" in chart["note"]:
                continue
            toward = 1.0 if entry["toward_tailstock"] == "right" else -1.0
            for line in chart["lines"]:
                z = entry["datum"]["z_mm"] - toward * line["along"]["moves_mm"]
                corner = shapely.Point(z, line["leaves_mm"] / 2.0)
                where = f"{name} {entry['number']}: {line}"
                assert not outline.buffer(-0.01).contains(corner), where
                assert outline.distance(corner) < 0.3, where


TURNED = re.compile(r"(out|in)(?: (\d+) turns?)?(?: exactly)?(?: and)?(?: (\d+))?( 1/2)?(?: divisions?)?")
BALL_SCREWS = ((25.4 / 40, 25), (1.0, 40))
"""Leads and lines of the built-in inch and metric ball tools' screws, as their workshop files have them. [mm]"""


def screw_mm(text: str, lead_mm: float, lines: int) -> float:
    """What a reading moves the tip, in being less."""
    told = TURNED.match(text)
    assert told is not None, text
    way, turns, whole, half = told.groups()
    return (1.0 if way == "out" else -1.0) * lead_mm * (int(turns or 0) + (int(whole or 0) + (0.5 if half else 0.0)) / lines)


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_ball_passes_from_the_touch_end_at_the_drawn_radius(example: str, variant: str) -> None:
    for name, part, route in made(example, variant).routes():
        drawn = {size["phrase"]: size.get("value_mm") for size in part["dimensions"]}
        for entry in route:
            passes = entry.get("procedure", {}).get("passes", [])
            where = f"{name} {entry['number']}"
            radii = [one["exact_mm"] for one in passes]
            assert radii == sorted(radii, reverse=True), where
            if passes:
                assert 2.0 * radii[-1] == pytest.approx(drawn[f"{entry['why']['features'][0]} diameter"], abs=DRAWN_MM), where
            for one, then in zip(passes, passes[1:], strict=False):
                if "touch" in then["note"] or "range" in then["note"]:
                    continue
                moved = then["radius_mm"] - one["radius_mm"]
                assert any(
                    abs(screw_mm(then["text"], *screw) - screw_mm(one["text"], *screw) - moved) < 1e-6 for screw in BALL_SCREWS
                ), f"{where}: {one['text']}; {then['text']}"
