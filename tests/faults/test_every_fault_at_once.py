"""Several faults in one key, one value, one file: each told at its place; and what is sound brings none with it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handwheel.job.read import read_job

ROOT = Path(__file__).parents[2]
HEAD = ("handwheel: 1\njob: J\nunits: inch\nparts:\n  pin:\n    outside:\n      - cylinder: body\n      - cone: nose\n"
        "    dimensions:\n")
GUIDE = re.findall(r"^```yaml\n(.*?)^```", (ROOT / "docs" / "job-file.md").read_text(encoding="utf-8"), re.M | re.S)
GOOD = [*GUIDE, *(p.read_text(encoding="utf-8") for p in sorted((ROOT / "examples").glob("*.yaml")))]

SEVERAL: list[tuple[str, list[str]]] = [
    ("body diameter: 25,4 ± 0,1",
     ["22: '25,4' has a comma in it; write '25.4'", "29: '0,1' has a comma in it; write '0.1'"]),
    ("body diameter: R 1-7/16 +0,02 -0,01",
     ["22: 'R' gives a radius, but the phrase asks for a diameter; write the size without 'R', or the phrase with "
      "'radius'",
      "24: '1-7/16' could be a sum; write '1 7/16' for the mixed number, '1 - 7/16' for the sum",
      "32: '0,02' has a comma in it; write '0.02'", "38: '0,01' has a comma in it; write '0.01'"]),
    ("bdy left to nose rigth: 1-1/2",
     ["7: there is no feature 'bdy' here; did you mean 'body'?", "24: 'rigth' is not a size or point; did you mean "
      "'right'?", "31: '1-1/2' could be a sum; write '1 1/2' for the mixed number, '1 - 1/2' for the sum"]),
    ("body lft to nse right: 1/0",
     ["12: 'lft' is not a size or point; did you mean 'left'?", "19: there is no feature 'nse' here; did you mean "
      "'nose'?", "30: 1/0 divides by nothing; check the fraction"]),
    ("bdy diameter at nse apex: 1",
     ["7: there is no feature 'bdy' here; did you mean 'body'?", "23: there is no feature 'nse' here; did you mean "
      "'nose'?"]),
    ("body diameter: same as bdy diameter - 0,1 ± 0,2",
     ["30: there is no feature 'bdy' here; did you mean 'body'?", "45: '0,1' has a comma in it; write '0.1'",
      "51: '0,2' has a comma in it; write '0.2'"]),
    ("body diameter: to suit bdy diameter of pn - 0,002",
     ["46: there is no part 'pn'; did you mean 'pin'?", "51: '0,002' has a comma in it; write '0.002'"]),
    ("body taper: 2 inhc ± 0,1",
     ["7: a cylinder has no taper; write 'body diameter'", "21: 'inhc' is not a unit here; did you mean 'inch'?",
      "28: '0,1' has a comma in it; write '0.1'"]),
    ("body diameter: -25,4 q7",
     ["22: a size is written without a sign before it; delete the '-'", "23: '25,4' has a comma in it; write '25.4'",
      "28: 'q7' is not a tolerance class; write one like 'h7' or 'H7'"]),
    ("nose taper: 1,5 in 20,5",
     ["19: '1,5' has a comma in it; write '1.5'", "26: '20,5' has a comma in it; write '20.5'"]),
]


@pytest.mark.parametrize(("line", "told"), SEVERAL, ids=[line for line, _ in SEVERAL])
def test_all_that_is_wrong_with_one_line(line: str, told: list[str]) -> None:
    _, faults = read_job(f"{HEAD}      {line}\n".encode(), "j.yaml")
    assert [fault.line() for fault in faults] == [f"j.yaml:10:{each}" for each in told]


TORN = HEAD + """      body length: 25,4
      body diameter: 1: 2
      nose taper: 1,5 in 20
    qantity: 2
  cap: {outside: [{cylinder: rim}
  lid:
    outside:
      - {cylinder: edge, lenght: 1}
    note: 'open
    stok: round 1
zonk: 1
"""


def test_reading_goes_on_behind_a_place_without_structure() -> None:
    _, faults = read_job(TORN.encode(), "j.yaml")
    assert [fault.line() for fault in faults] == [
        "j.yaml:10:20: '25,4' has a comma in it; write '25.4'",
        "j.yaml:11:23: a ':' stands where none can; check the indentation, or put the text in quotes",
        "j.yaml:12:19: '1,5' has a comma in it; write '1.5'",
        "j.yaml:13:5: the part 'pin' has no 'qantity'; did you mean 'quantity'?",
        "j.yaml:14:18: the brackets are not closed; write ']' or a ',' between the items",
        "j.yaml:17:26: the cylinder 'edge' has no 'lenght'; did you mean 'length'?",
        "j.yaml:18:11: the quotes are not closed; close them on the same line",
        "j.yaml:19:5: the part 'lid' has no 'stok'; did you mean 'stock'?",
        "j.yaml:20:1: the job has no 'zonk'; known here: as made, assemblies, general tolerance, handwheel, job, parts, "
        "units, workshop",
    ]


def broken(line: str) -> set[str]:
    """The line with its structure broken in each of many ways."""
    indent, text = line[: len(line) - len(line.lstrip())], line.strip()
    return {
        f"{line}: x: y", line.replace(":", "", 1), f" {line}", line.removeprefix(" "), f"{indent}{{{text}", f"{line} [",
        re.sub(r": (?=\S)", ": '", line, count=1), re.sub(r": (?=\S)", ": @", line, count=1), line.replace("}", "", 1),
        line.replace("{", "", 1), line.replace("- ", "", 1),
    } - {line}  # fmt: skip


@pytest.mark.parametrize("number", range(len(GOOD)))
def test_one_broken_line_brings_no_fault_of_what_the_sound_lines_say(number: int) -> None:
    lines = GOOD[number].split("\n")
    tried = 0
    for index, line in enumerate(lines):
        if not line.strip() or line.strip().startswith("#"):
            continue
        for other in sorted(broken(line)):
            text = "\n".join([*lines[:index], other, *lines[index + 1:]])
            _, faults = read_job(text.encode(), "j.yaml")
            if not {"not-yaml", "several-lines"} & {fault.id for fault in faults}:
                continue
            tried += 1
            # A line moved out of its place may show only where the next one of its sort stands, and then alone.
            is_near = {fault.span.line for fault in faults} <= {index, index + 1, index + 2}
            is_one = [fault.id in ("not-yaml", "several-lines") for fault in faults] == [True]
            assert is_near or is_one, (other, [fault.line() for fault in faults])
    assert tried > 40
