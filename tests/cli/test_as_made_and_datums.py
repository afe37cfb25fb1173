"""Sizes as made and other datums from the command line: what is printed, the JSON, the page of the sheets."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from handwheel.cli.main import main

JOB = """handwheel: 1
job: Pins
units: mm
general tolerance: ± 0.2
parts:
  pin:
    quantity: 2
    material: free-cutting mild steel
    outside:
      - cylinder: head
      - cylinder: body
    dimensions:
      head diameter: 20
      body diameter: 16
      head length: 5 ± 0.1
      body length: 30 ± 0.06
"""
MADE = JOB + "as made:\n  pin 2: {head length: 4.85, body diameter: 16.31}\n"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "pins.yaml"
    path.write_text(MADE)
    return path


def test_said_to_a_person(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["size", str(job)]) == 0
    said = capsys.readouterr().out.splitlines()
    start = said.index("As made: pin 2")
    assert said[start : said.index("", start)] == [
        "As made: pin 2",
        "    size                  as made    drawn",
        "    head length of pin    4.850 mm   5.000 mm   0.050 mm under the low limit",
        "    body diameter of pin  16.310 mm  16.000 mm  0.110 mm over the high limit",
        "  worked out again:",
        "    size                   now        was        because of",
        "    overall length of pin  34.850 mm  35.000 mm  head length of pin",
        "  out of limits:",
        "    head length of pin is 4.850 mm, 0.050 mm under the low limit",
        "      way on: body length of pin at 30.150 mm, not 30.000 mm, would bring",
        "        'overall length' back: may not: 0.090 mm over the high limit",
        "    body diameter of pin is 16.310 mm, 0.110 mm over the high limit; the metal",
        "      is still there: it may be brought inside",
        "  What is not listed stays as drawn. What is not measured counts as not yet",
        "    made.",
    ]
    assert max(len(line) for line in said) <= 80


def test_the_json(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["size", str(job), "--json"]) == 0
    (made,) = json.loads(capsys.readouterr().out)["as_made"]
    assert made["copies"] == {"pin": [[2, 2]]}
    assert [(m["phrase"], m["value_mm"], m["drawn_mm"], m["copy"], m["may_be_cut"]) for m in made["measured"]] == [
        ("head length", 4.85, 5.0, 2, False), ("body diameter", 16.31, 16.0, 2, True)
    ]  # fmt: skip
    assert [(m["phrase"], m["value_mm"], m["old_mm"], m["why"]) for m in made["moved"]] == [
        ("overall length", 34.85, 35.0, ["head length of pin"])
    ]
    head = made["out_of_limits"][0]
    assert (head["beyond_mm"], head["limit_low_mm"], head["limit_high_mm"]) == (0.05, 4.9, 5.1)
    (way,) = head["ways"]
    assert (way["phrase"], way["keeps"], way["may"]) == ("body length", "overall length", False)
    assert way["value_mm"] == pytest.approx(30.15, abs=1e-6)
    assert way["beyond_mm"] == pytest.approx(0.09, abs=1e-6)


def test_nothing_as_made_says_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "pins.yaml"
    path.write_text(JOB)
    assert main(["size", str(path), "--json"]) == 0
    assert "as_made" not in json.loads(capsys.readouterr().out)


def test_on_the_sheets_and_in_job_json(job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["make", str(job), "--out", str(tmp_path / "out")]) == 0
    capsys.readouterr()
    made = json.loads((tmp_path / "out" / "job.json").read_text())["as_made"]
    assert made[0]["moved"][0]["value_mm"] == 34.85
    page = (tmp_path / "out" / "index.html").read_text()
    assert 'aria-label="As made"' in page
    for text in ("pin 2", "34.850 mm", "0.050 mm under the low limit", "0.110 mm over the high limit"):
        assert text in page


def test_lengths_from_a_datum(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # body 30 ± 0.06 through two lengths from the left: 0.03 each; this workshop holds 0.05: 0.6
    assert main(["size", str(job), "--from", "left end"]) == 0
    said = [" ".join(line.split()) for line in capsys.readouterr().out.splitlines()]
    assert said[:3] == [
        "pin, lengths from left end:",
        "left end to right end 35.000 mm 34.970 to 35.030 mm held by body length",
        "left end to head right 5.000 mm 4.970 to 5.030 mm held by body length",
    ]
    assert "The tightest gets 0.60 of the ± that Example workshop, metric holds, set by body length." in said
    assert "head right 1.20" in said


def test_work_to_in_json(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["size", str(job), "--work-to", "overall length", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    sizes = {s["phrase"]: (s["value_mm"], s["plus_or_minus_mm"]) for s in found["sizes"]}
    assert set(sizes) == {"overall length", "body length", "head diameter", "body diameter"}  # in place of the head's
    assert sizes["overall length"] == (35.0, pytest.approx(0.05))  # head ± 0.1 is overall and body, 0.05 each
    assert sizes["body length"] == (30.0, pytest.approx(0.05))
    assert found["tight"] == ["head length"]


@pytest.mark.parametrize(
    ("options", "line"),
    [
        (["--work-to", "overall length", "--work-to", "left end to right end"],
         "--work-to:1:1: these dimensions say nothing new of 'pin', or have no sense there; name sizes that follow"),
        (["--from", "head centr"], "--from:1:1: 'centr' is not a size or point; did you mean 'centre'?"),
    ],
)  # fmt: skip
def test_what_cannot_be_worked_to(job: Path, options: list[str], line: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["size", str(job), *options]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.splitlines() == [line]
