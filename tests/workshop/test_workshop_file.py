"""A reader's own workshop: the guide's example, and every fault with its whole line and place."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handwheel.job.records import Unit
from handwheel.workshop.read import read_workshop
from handwheel.workshop.stores import known_habits

ROOT = Path(__file__).resolve().parents[2]
GUIDE = (ROOT / "docs" / "workshop.md").read_text(encoding="utf-8")
EXAMPLE = re.findall(r"^```yaml\n(.*?)^```", GUIDE, re.MULTILINE | re.DOTALL)[0]


def faults_of(text: str) -> list[str]:
    workshop, faults = read_workshop(text.encode(), "shed.yaml")
    assert (workshop is None) == bool(faults)
    return [f"{fault.id} {fault.line()}" for fault in faults]


def changed(old: str, new: str) -> str:
    assert EXAMPLE.count(old) == 1, old
    return EXAMPLE.replace(old, new)


def test_the_guides_example_is_whole() -> None:
    workshop, faults = read_workshop(EXAMPLE.encode(), "shed.yaml")
    assert faults == ()
    assert workshop is not None
    assert not workshop.is_example
    assert workshop.name == "The shed"
    assert workshop.units is Unit.INCH
    assert workshop.lathe.centre_height_mm == pytest.approx(63.5)
    assert workshop.lathe.speeds_rpm == (100, 250, 600, 1500)
    assert workshop.lathe.swing_over_cross_slide_mm is None
    assert workshop.lathe.has_screwed_chuck is True
    assert workshop.lathe.wheels["cross slide"].backlash_mm == pytest.approx(0.1016)
    assert workshop.lathe.wheels["carriage"].travel_mm is None
    assert workshop.chucks[0].greatest_rpm == 1800
    assert workshop.chucks[1].greatest_rpm is None
    assert workshop.chucks[1].sizes_mm == pytest.approx([s / 16 * 25.4 for s in (2, 3, 4, 5, 6)])
    assert workshop.tools[0].outline_mm[1] == pytest.approx((7.62, 4.318))
    assert workshop.ball_tool is not None
    assert workshop.ball_tool.worked_by == "flats"
    assert workshop.ball_tool.ranges_mm[1] == pytest.approx((7.9375, 19.05))
    assert [b.as_named for b in workshop.bars[:3]] == ["round 1/4 in", "round 3/8 in", "round 1/2 in"]
    assert workshop.bars[0].length_mm == pytest.approx(304.8)
    assert [m.surface_speed_m_min for m in workshop.materials] == [pytest.approx(30.48), None]


def test_habits_say_whose_they_are() -> None:
    workshop, _ = read_workshop(EXAMPLE.encode(), "shed.yaml")
    assert workshop is not None
    assert workshop.habit("chuck clearance") == pytest.approx(3.175)
    assert workshop.habits["chuck clearance"].whose == "yours"
    assert workshop.habit("saw kerf") == 2.0
    assert workshop.habits["saw kerf"].whose == "common practice, no source"


def test_the_guide_lists_every_habit_with_its_value() -> None:
    rows = dict(re.findall(r"^\| `([^`]+)` \| ([0-9.]+) ", GUIDE, re.MULTILINE))
    assert {name: float(value) for name, value in rows.items()} == {n: r["value"] for n, r in known_habits().items()}


def test_a_bare_number_takes_the_files_unit() -> None:
    workshop, _ = read_workshop(EXAMPLE.replace("units: inch", "units: mm").encode(), "shed.yaml")
    assert workshop is not None
    assert workshop.lathe.centre_height_mm == 2.5
    assert workshop.lathe.wheels["cross slide"].backlash_mm == pytest.approx(0.1016)  # 4 thou keeps its own


# old text, new text, from where in the new text the fault is placed, the fault without its place
BAD = [
    ("units: inch\n", "units: furlong\n", "furlong",
     "workshop-word-unknown 'furlong' cannot be 'units' of the workshop; known here: inch, mm"),
    ("handwheel workshop: 1", "handwheel workshop: 7", "7",
     "workshop-version version '7' is not known; write 'handwheel workshop: 1'"),
    ("centre height: 2 1/2", "centre height: unknown", "unknown",
     "workshop-must-be-known 'centre height' of the lathe cannot be left unknown; measure it and write it here"),
    ("centre height: 2 1/2", "centre height: 2-1/2", "2-1/2",
     "hyphen-in-number '2-1/2' could be a sum; write '2 1/2' for the mixed number, '2 - 1/2' for the sum"),
    ("between centres: 10", "between centres: 10 deg", "10",
     "workshop-measure '10 deg' is not a length; write it like 3 1/2 in or 90 mm"),
    ("between centres: 10", "between centres: 0", "0",
     "workshop-out-of-range '0' cannot be so; write a size above zero, and not above 100000"),
    ("      reads: radius", "      reads: radious", "radious",
     "workshop-word-unknown 'radious' cannot be 'reads' of the cross slide's wheel; did you mean 'radius'?"),
    ("      divisions: 50", "      divisions: 50.5", "50.5",
     "workshop-out-of-range 'divisions' of the cross slide's wheel is not a whole number; write a whole number"),
    ("      smallest part: 1/2\n      sense", "      smallest part: 2\n      sense", "2\n",
     "workshop-out-of-range the smallest part of a division is more than a division; "
     "write 1 for whole lines, 1/2 for half of one"),
    ("screwed chuck: yes", "screwed chuck: perhaps", "perhaps",
     "workshop-word-unknown 'perhaps' is neither yes nor no; write yes, no or unknown"),
    ("    least: 1/16\n", "    least: 3\n", "3",
     "workshop-out-of-range the least of this three-jaw is above its greatest; change one of the two"),
    ("sizes: [1/8, 3/16, 1/4, 5/16, 3/8]", "sizes: 1/8", "1/8",
     "workshop-shape 'sizes' of this collet is not a list; write '[…, …]', or one item a line with '- ' before it"),
    ("  - parting: parting tool", "  - partng: parting tool", "partng",
     "workshop-word-unknown 'partng' is no kind of lathe tool; did you mean 'parting'?"),
    ("[[0, 0], [0.3, 0.17], [0.3, 0.5], [0, 0.5]]", "[[0, 0], [0.3, 0.5], [0.3, 0.17], [0, 0.5]]", "[[",
     "workshop-outline the outline of this knife tool is not convex; go round it in one direction, without hollows"),
    ("[[0, 0], [0.3, 0.17], [0.3, 0.5], [0, 0.5]]", "[[0, 0], [0.3, 0.17]]", "[[",
     "workshop-outline the outline of this knife tool has fewer than three points; "
     "go round the cutting end point by point"),
    ("[[0, 0], [0.3, 0.17], [0.3, 0.5], [0, 0.5]]", "[[0, 0.1], [0.3, 0.17], [0.3, 0.5], [0, 0.5]]", "[[",
     "workshop-outline the outline of this knife tool does not touch r = 0 with its cutting edge; "
     "measure r from the point or edge that is touched off"),
    ("threads: [2 BA, M5]}\ndies", "threads: [2 BA, M55]}\ndies", "M55",
     "workshop-thread-unknown 'M55' is not a thread the tables hold; "
     "write it like M6, 1/4-20 UNC, 2 BA, 1/4 BSF or 1/4 x 40 ME"),
    ("1/16 to 1/2 by 1/64", "1/16 to 1/2", "1/16",
     "workshop-sizes '1/16 to 1/2' has no step; write it like '1/16 to 1/2 by 1/64', or list the sizes"),
    ("1/16 to 1/2 by 1/64", "1/16 to 1/2 by 1/6x", "x",
     "value-unreadable 'x' follows a value that is whole; delete it"),
    ("No. 1 to No. 60", "No. 60 to No. 1", "No. 60",
     "workshop-sizes 'No. 60 to No. 1' is no run of drills; "
     "number drills run from No. 1 to No. 97, letters from A to Z"),
    ("surface speed: 100 ft/min", "surface speed: 100", "100",
     "workshop-measure '100' is not a surface speed; write it like 30 m/min or 100 ft/min, or unknown"),
    ("  chuck clearance: 1/8", "  chuck clearence: 1/8", "chuck",
     "workshop-key-unknown 'chuck clearence' is no key of the habits; did you mean 'chuck clearance'?"),
    ("  - three-jaw: 3 in three-jaw chuck", "  - three-jaw: collet set", "- three",
     "workshop-name-twice two of the chucks are called 'collet set'; name each apart"),
]  # fmt: skip


def place_in(text: str, index: int) -> str:
    """LINE:COLUMN of a character, both from 1."""
    before = text[:index].split("\n")
    return f"{len(before)}:{len(before[-1]) + 1}"


IDS = [f"{row[3].split()[0]}-{i}" for i, row in enumerate(BAD)]


@pytest.mark.parametrize(("old", "new", "at", "fault"), BAD, ids=IDS)
def test_fault(old: str, new: str, at: str, fault: str) -> None:
    text = changed(old, new)
    place = place_in(text, EXAMPLE.index(old) + new.rindex(at))
    fault_id, message = fault.split(" ", 1)
    assert faults_of(text) == [f"{fault_id} shed.yaml:{place}: {message}"]


def test_a_key_misspelt_is_also_a_key_missing() -> None:
    assert faults_of(changed("name: The shed", "nome: The shed")) == [
        "workshop-key-missing shed.yaml:1:1: the workshop has no 'name'; add 'name:'",
        "workshop-key-unknown shed.yaml:2:1: 'nome' is no key of the workshop; did you mean 'name'?",
    ]


def test_every_fault_at_once_in_file_order() -> None:
    text = EXAMPLE
    for old, new, *_ in (BAD[0], BAD[3], BAD[12], BAD[21]):
        assert text.count(old) == 1
        text = text.replace(old, new)
    found = [line.split()[0] for line in faults_of(text)]
    assert found == [
        "workshop-word-unknown", "hyphen-in-number", "workshop-word-unknown", "workshop-key-unknown",
    ]  # fmt: skip


def test_not_a_mapping() -> None:
    assert [line.split()[0] for line in faults_of("- a\n- b\n")] == ["workshop-shape"]
    assert [line.split()[0] for line in faults_of("")] == ["empty-file"]
    assert [line.split()[0] for line in faults_of("a: &x 1\n")][0] in ("anchor", "workshop-key-missing")


@pytest.mark.parametrize("name", sorted(known_habits()))
def test_any_habit_may_be_written(name: str) -> None:
    row = known_habits()[name]
    unit = {"mm": " mm", "deg": " deg", "diameters": " diameters"}.get(row["unit"], "")
    text = EXAMPLE[: EXAMPLE.index("habits:")] + f"habits:\n  {name}: 0.125{unit}\n"
    workshop, faults = read_workshop(text.encode(), "shed.yaml")
    assert faults == ()
    assert workshop is not None
    assert (workshop.habits[name].value, workshop.habits[name].whose) == (0.125, "yours")


def test_no_edit_of_one_line_brings_it_down() -> None:
    """Any line taken out, cut short or doubled gives a workshop or faults with places, never an exception."""
    lines = EXAMPLE.splitlines(keepends=True)
    for i, line in enumerate(lines):
        for instead in ("", line[: len(line) // 2] + "\n", line * 2, line.replace("1", "-1"), line.replace(": ", ":")):
            text = "".join([*lines[:i], instead, *lines[i + 1 :]])
            workshop, faults = read_workshop(text.encode(), "shed.yaml")
            assert (workshop is None) == bool(faults)
            assert all(f.span.line >= 1 and f.what and f.do for f in faults)
