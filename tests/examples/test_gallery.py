"""The gallery: every part is planned, its stages hold, and its sizes are those worked out by hand beside the drawings."""

from __future__ import annotations

import json
import math
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from shapely.geometry import Polygon

from tests.examples.runs import ROOT, SLACK_MM, command

INCH = 25.4

# Worked out by hand from the words of the drawings; the balls and tapers by the relations in the comments.
SIZES_MM = {
    "as-described": {
        "clip left to right end of drum shaft": 43.044,
        "clip diameter of drum shaft": 14 - 2 * INCH / 32,
        "drum right to right end of drum shaft": 45.425,
        "left end to small centre of ball lever": 5 / 16 * INCH,
        "left end to big centre of ball lever": 77.7875,
        "overall length of ball lever": 88.7875,
        # the stem carried on is 12 and 8 mm at centres 69.85 apart; where it meets a ball of radius R:
        # R² - x² = (r0 + x·slope)², x from the ball's centre
        "left end to stem left of ball lever": 14.677,
        "left end to stem right of ball lever": 68.398,
        "seat from axis of ball lever": math.sqrt(11**2 - 7**2),
        "shank length of saw arbor": 57.150,
        "shank left diameter of saw arbor": 16.1925,
        "left end to neck right of saw arbor": 61.675,
        "body diameter of piston": 28.5242,
        "left end to pin centre of piston": 16.056,
        "skirt depth of piston": 28.031,
    },
    "jack-and-lever": {
        # a dome of radius 25 on Ø 20: 25 - sqrt(25² - 10²)
        "overall length of jack screw": 40 + 3 + 14 + 25 - math.sqrt(25**2 - 10**2),
        "shank left diameter of cone arbor": 17.78 - 52 / 20,
        "seat from axis of lock lever": math.sqrt(9**2 - 5.5**2),
        "overall length of lock lever": 9 + 42 + 6,
    },
    "taper-fit": {
        # 1 in 20 over 40, over 38
        "nose right diameter of plug": 20 - 40 / 20,
        "seat left diameter of socket": 20 - 38 / 20,
    },
    "engine-fittings": {
        "top-ring diameter of piston": 24 - 2 * 1.2,
        "skirt depth of piston": 20 - 4,
        # a cone from Ø 5 to Ø 1 at 60° included: 2 / tan 30°
        "seat length of valve spindle": 2 / math.tan(math.radians(30)),
        "overall length of domed cap": 12 + 12 - math.sqrt(12**2 - 8**2),
        # a countersink of 120° from Ø 10 to Ø 6: 2 / tan 60°
        "cup depth of gland": 2 / math.tan(math.radians(60)),
    },
}

JOBS = sorted(SIZES_MM)


@cache
def made(job: str) -> tuple[int, str, dict[str, Any]]:
    """Exit status, what was said, and job.json."""
    with tempfile.TemporaryDirectory(prefix="handwheel ") as folder:
        out = Path(folder) / "out"
        status, _, said = command("make", str(ROOT / "gallery" / f"{job}.yaml"), "--out", str(out))
        return status, said, json.loads((out / "job.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("job", JOBS)
def test_every_part_is_planned(job: str) -> None:
    status, said, found = made(job)
    assert status == 0, said
    for part in found["parts"].values():
        assert len(part["route"]) > 3
        assert not any(entry.get("refused") for entry in part["route"])


@pytest.mark.parametrize("job", JOBS)
def test_metal_only_goes_and_ends_as_drawn(job: str) -> None:
    for name, part in made(job)[2]["parts"].items():
        stages = [Polygon(entry["outline_mm"]) for entry in part["route"]]
        for before, after in zip(stages, stages[1:], strict=False):
            assert after.difference(before.buffer(SLACK_MM)).area < SLACK_MM, name
        finished = Polygon(part["outline_mm"])
        assert stages[-1].difference(finished.buffer(SLACK_MM)).area < SLACK_MM, name
        assert finished.difference(stages[-1].buffer(SLACK_MM)).area < SLACK_MM, name


@pytest.mark.parametrize("job", JOBS)
def test_everything_across_is_made(job: str) -> None:
    from tests.variants import read

    parts = read((ROOT / "gallery" / f"{job}.yaml").read_text(encoding="utf-8"))["parts"]
    for name, part in parts.items():
        drawn = [next(iter(item.values())) for item in part.get("across", [])]
        assert sorted(made(job)[2]["parts"][name]["route"][-1]["across"]) == sorted(drawn)


@pytest.mark.parametrize("job", JOBS)
def test_sizes_worked_out_by_hand(job: str) -> None:
    wanted = SIZES_MM[job]
    asks = [word for phrase in wanted for word in ("--ask", phrase)]
    status, printed, said = command("size", str(ROOT / "gallery" / f"{job}.yaml"), "--json", *asks)
    assert status == 0, said
    found = {answer["ask"]: answer["value_mm"] for answer in json.loads(printed)["answers"]}
    assert found == pytest.approx(wanted, abs=6e-4)


def test_the_levers_lean_and_sweep_is_in_the_job() -> None:
    entries = made("as-described")[2]["parts"]["ball lever"]["route"]
    leaning = [e for e in entries if e["axis"] != "part"]
    assert [e["kind"] for e in leaning] == ["face", "centre", "drill", "ream"]
    assert {e["axis"]["leaning_deg"] for e in leaning} == {18.0}
    assert all("stand clear" in e["caution"] for e in leaning)


def test_plug_and_socket_are_cut_at_one_setting() -> None:
    """Both in one set-up, the socket going in to grow; 1.432° is atan(1 / 40)."""
    parts = made("taper-fit")[2]["parts"]
    plug = next(e for e in parts["plug"]["route"] if e["kind"] == "taper")
    socket = next(e for e in parts["socket"]["route"] if e["kind"] == "bore")
    assert plug["set_up"] == socket["set_up"]
    cross = next(r for r in socket["readings"] if r["wheel"] == "cross slide")
    assert cross["way"] == "in"
    assert "never with the spindle backward in a screwed chuck" in socket["caution"]
