"""Twenty parts as they are described across a bench, typed in: nearly all planned with stages that hold, and what is
refused is refused for a reason that is true."""

from __future__ import annotations

import json
import math
import re
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from shapely.geometry import Polygon

from handwheel.job.records import Unit
from handwheel.workshop.read import built_in_workshop
from tests.examples.runs import ROOT, SLACK_MM, command
from tests.variants import read

FILE = ROOT / "gallery" / "twenty-parts.yaml"
NAMES = list(read(FILE.read_text(encoding="utf-8"))["parts"])
REFUSED = ("finial",)
"""What the example workshop cannot make."""
PLANNED = [name for name in NAMES if name not in REFUSED]


@cache
def made() -> dict[str, Any]:
    """The parts of job.json."""
    with tempfile.TemporaryDirectory(prefix="handwheel ") as folder:
        status, _, said = command("make", str(FILE), "--out", folder)
        assert status == 1, said
        parts: dict[str, Any] = json.loads((Path(folder) / "job.json").read_text(encoding="utf-8"))["parts"]
        return parts


def test_at_least_eighteen_of_twenty_are_planned() -> None:
    refused = [n for n, part in made().items() if any(entry.get("refused") for entry in part["route"])]
    assert len(NAMES) == 20
    assert tuple(refused) == REFUSED


@pytest.mark.parametrize("name", PLANNED)
def test_metal_only_goes_and_ends_as_drawn(name: str) -> None:
    part = made()[name]
    stages = [Polygon(entry["outline_mm"]) for entry in part["route"]]
    assert len(stages) > 4
    for before, after in zip(stages, stages[1:], strict=False):
        assert after.difference(before.buffer(SLACK_MM)).area == 0.0
    finished = Polygon(part["outline_mm"])
    assert stages[-1].difference(finished.buffer(SLACK_MM)).area < 1e-6
    assert all(finished.difference(stage.buffer(SLACK_MM)).area == 0.0 for stage in stages)
    assert stages[0].area > finished.area


@pytest.mark.parametrize("name", PLANNED)
def test_everything_across_is_made_and_every_dimension_is_there(name: str) -> None:
    part, drawn = made()[name], read(FILE.read_text(encoding="utf-8"))["parts"][name]
    assert sorted(part["route"][-1]["across"]) == sorted(next(iter(i.values())) for i in drawn.get("across", []))
    assert set(drawn.get("dimensions", {})) <= {d["phrase"] for d in part["dimensions"]}


def test_the_finials_base_does_stand_in_the_bits_way() -> None:
    """The swing ends where the ball of Ø 10 meets the neck of Ø 5. There the bit lies along the radius, its lower flank
    half its width below; carried back to the base's face it stands inside the base."""
    tool = built_in_workshop(Unit.MM).ball_tool
    assert tool is not None
    end = math.asin(2.5 / 5.0)
    to_face = (4.0 + 12.0 + 5.0 * math.cos(end)) - 4.0
    flank = to_face * math.tan(end) - tool.bit_width_mm / 2.0 / math.cos(end)
    into = 14.0 / 2.0 - flank
    assert into > 0.0
    entry = next(e for e in made()["finial"]["route"] if e.get("refused"))
    assert not entry.get("readings")
    said = re.search(r"goes (\d+\.\d+) mm into the finished part at (\d+\.\d+) mm", entry["refused"])
    assert said is not None, entry["refused"]
    # the corner reaches in by `into` measured square to the axis; measured square to the flank it is less
    assert into * math.cos(end) - 0.002 <= float(said.group(1)) <= into + 0.002
    assert float(said.group(2)) == pytest.approx(4.0, abs=0.01)
