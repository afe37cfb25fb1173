"""What a job draws is either made by some operation or refused with a reason that names it; never passed over."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.examples.runs import EXAMPLES, command, job_text, made
from tests.variants import read

PLAIN = """
handwheel: 1
job: One more thing
units: mm
parts:
  piece:
    material: free-cutting mild steel
    outside:
      - cylinder: body
      - cylinder: stem
      {outside}
    {more}
    dimensions:
      overall length: 40
      body length: 20
      body diameter: 16
      stem diameter: 8
      {sizes}
"""

THINGS = {
    "groove": ("- {groove: extra, in: stem, width: 2, diameter: 6}", "", "left end to extra left: 30"),
    "knurl in part of a surface": (
        "- {knurl: extra, in: body, kind: straight 0.8 mm, length: 8}", "", "left end to extra left: 5"),
    "thread on part of a surface": (
        "- {thread: extra, in: stem, kind: M8, length: 8}", "", "left end to extra left: 32"),
    "cross hole": ("", "across: [{hole: extra, on: body, at: body middle, through: yes, diameter: 3}]", ""),
    "leaning hole": (
        "", "across: [{hole: extra, on: body, at: body middle, through: yes, diameter: 3, leaning: 18 deg}]", ""),
    "tapped cross hole": ("", "across: [{hole: extra, on: body, at: body middle, through: yes, thread: M4}]", ""),
    "flat": ("", "across: [{flat: extra, on: stem}]", "extra from axis: 3"),
    "slot": (
        "", "across: [{slot: extra, on: body, width: 3}]",
        "extra from axis: 5\n      left end to extra centre: 10\n      extra length: 8"),
    "square": ("", "across: [{square: extra, on: stem}]", "extra across flats: 5.5"),
    "hexagon": ("", "across: [{hexagon: extra, on: body}]", "extra across flats: 13"),
    "holes in a face": (
        "", "across: [{holes: extra, face: left, count: 4, diameter: 2}]",
        "extra pitch circle diameter: 11\n      extra depth: 6"),
}  # fmt: skip


def features_of(part: dict[str, Any]) -> set[str]:
    items = list(part.get("outside", [])) + list(part.get("across", []))
    for entered in part.get("inside", {}).values():
        items += entered
    return {next(iter(item.values())) for item in items}


@pytest.mark.parametrize("example", EXAMPLES)
def test_every_feature_of_an_example_is_made(example: str) -> None:
    parts = read(job_text(example, "as drawn"))["parts"]
    for name, _, route in made(example, "as drawn").routes():
        drawn = parts[name] if "outside" in parts[name] else parts[parts[name]["like"]]
        served = {feature for entry in route for feature in entry.get("why", {}).get("features", [])}
        assert features_of(drawn) <= served, name


@pytest.mark.parametrize("thing", THINGS)
def test_one_more_thing_is_made_or_refused_by_name(thing: str, tmp_path: Path) -> None:
    outside, more, sizes = THINGS[thing]
    text = PLAIN.replace("{outside}", outside).replace("{more}", more).replace("{sizes}", sizes)
    path = tmp_path / "piece.yaml"
    path.write_text("\n".join(line for line in text.splitlines() if line.strip()) + "\n", encoding="utf-8")
    status, _, said = command("make", str(path), "--out", str(tmp_path / "out"))
    assert status in (0, 1), said
    route = json.loads((tmp_path / "out" / "job.json").read_text(encoding="utf-8"))["parts"]["piece"]["route"]
    served = {f for e in route for f in e.get("why", {}).get("features", []) if not e.get("refused")}
    if status == 0:
        assert "extra" in served
    else:
        assert "extra" in said
        assert any("extra" in entry.get("refused", "") for entry in route)
