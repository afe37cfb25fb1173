"""A sound drawing with some of its dimensions replaced by sizes that follow from them: what was replaced must come back."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from handwheel.cli.main import main
from tests.drawings.closed_forms import expected
from tests.drawings.planted import dimensions, text_of

INCH = 25.4
SOUND = expected()
Replaced = dict[str, float]

OTHERWISE: list[tuple[str, Replaced, list[str]]] = [
    ("03-crank-handle", {"shank diameter at big centre": 15 / 32 * INCH}, ["shank left diameter"]),
    ("03-crank-handle", {"big centre to small centre": 69.85}, ["overall length"]),
    ("03-crank-handle", {"big left diameter": 0.375 * INCH}, ["big left to big centre"]),
    ("03-crank-handle", {"small diameter": 12.7}, ["eye centre to right end"]),
    (
        "03-crank-handle",
        {"shank diameter at big centre": 15 / 32 * INCH, "shank diameter at small centre": 5 / 16 * INCH},
        ["shank left diameter", "small left diameter"],
    ),
    ("04-domed-stop", {"crown diameter": 40}, ["crown length"]),
    ("04-domed-stop", {"foot length": 1.6}, ["foot diameter"]),
    ("05-swan-neck-knob", {"neck radius": 8}, ["overall length"]),
    ("05-swan-neck-knob", {"base diameter": 12}, ["neck left diameter"]),
    ("05-swan-neck-knob", {"grip diameter": 25}, ["neck length"]),
    ("06-idle-jet", {"seat included angle": 60}, ["seat length"]),
    ("06-idle-jet", {"feed diameter": 2.5}, ["feed point to right end"]),
    ("13-ball-lever", {"hub diameter": 22}, ["seat from axis"]),
    ("13-ball-lever", {"arm diameter at knob centre": 8}, ["arm angle to axis"]),
    ("14-poppet-valve", {"throat radius": 10}, ["throat length"]),
    ("16-barrel-grip", {"barrel diameter at barrel centre": 22}, ["barrel radius"]),
    ("20-metering-needle", {"tip angle to axis": 5}, ["right end to tip apex"]),
    ("41-ball-in-the-middle", {"neck included angle": 4}, ["neck diameter at finial centre"]),
    ("41-ball-in-the-middle", {"finial diameter": 11}, ["neck right diameter"]),
    ("41-ball-in-the-middle", {"post diameter": 9, "foot diameter": 24}, ["sweep left diameter", "land width"]),
    ("45-meeting-lines", {"upper included angle": 30}, ["upper left diameter"]),
    ("45-meeting-lines", {"boss length": 6.35}, ["upper apex to left end"]),
    ("45-meeting-lines", {"lower included angle": 40}, ["lower apex to right end"]),
    ("51-two-balls-and-a-hollow", {"neck radius": 30}, ["neck diameter at neck centre"]),
    ("51-two-balls-and-a-hollow", {"big diameter": 24}, ["neck left diameter"]),
    (
        "51-two-balls-and-a-hollow",
        {"small diameter": 16, "neck radius": 30},
        ["neck diameter at neck centre", "neck left diameter"],
    ),
    ("52-tangent-cone", {"shank included angle": 12}, ["shank length of handle"]),
    ("52-tangent-cone", {"hub diameter": 30}, ["hub centre to shank apex of handle"]),
    ("54-acorn", {"dish radius": 19.05}, ["dish diameter at left end + 0.2 in of acorn"]),
    ("56-holes-of-all-kinds", {"studs pitch": 21}, ["studs pitch circle diameter"]),
]


def otherwise(name: str, replaced: Replaced, given: list[str]) -> tuple[str, str]:
    """The part, and the drawing dimensioned otherwise."""
    first = next(line for line in dimensions(name) if line.phrase in replaced)
    gone = {line.number for line in dimensions(name) if line.part == first.part and line.phrase in replaced}
    lines = [line for number, line in enumerate(text_of(name)) if number not in gone]
    place = lines.index("    dimensions:", lines.index(f"  {first.part}:")) + 1
    for phrase in given:
        key = next(k for k in SOUND[name][phrase] if k.startswith("value"))
        unit = {"value_mm": " mm", "value_deg": " deg", "value_ratio": ""}[key]
        lines.insert(place, f"      {phrase.removesuffix(f' of {first.part}')}: {SOUND[name][phrase][key]:.9f}{unit}")
    return first.part, "\n".join(lines) + "\n"


@pytest.mark.parametrize(
    ("name", "replaced", "given"), OTHERWISE, ids=[f"{n}: {', '.join(g)}" for n, _, g in OTHERWISE]
)
def test_dimensioned_otherwise(
    name: str, replaced: Replaced, given: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    part, text = otherwise(name, replaced, given)
    path = tmp_path / "otherwise.yaml"
    path.write_text(text, encoding="utf-8")
    asks = [word for phrase in replaced for word in ("--ask", f"{phrase} of {part}")]
    status = main(["size", str(path), "--json", *asks])
    seen = capsys.readouterr()
    found = json.loads(seen.out)
    assert (status, found["state"]) == (0, "fully dimensioned"), seen.err
    for answer, wanted in zip(found["answers"], replaced.values(), strict=True):
        key = next(k for k in answer if k.startswith("value"))
        assert answer[key] == pytest.approx(wanted, abs=1e-5), answer["ask"]
