"""A size in inches that only millimetres would make fit: told with the lathe's own numbers, and nothing else is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.workshop.beyond import beyond_the_lathe
from handwheel.workshop.read import built_in_workshop

LATHE = replace(built_in_workshop(Unit.INCH).lathe, centre_height_mm=100.0, between_centres_mm=400.0)


def told(units: str, *lines: str, outside: str = "[{cylinder: body}, {cone: nose}, {hollow: neck}, {ball: hub}]") -> list[str]:
    text = f"handwheel: 1\njob: J\nunits: {units}\nparts:\n  pin:\n    outside: {outside}\n    dimensions:\n"
    job, faults = read_job((text + "".join(f"      {line}\n" for line in lines)).encode(), "j.yaml")
    assert job is not None, faults
    return [notice.line() for notice in beyond_the_lathe(job, LATHE)]


def test_a_diameter_is_held_against_the_swing_and_a_length_against_the_bed() -> None:
    assert told("inch", "body diameter: 12", "body length: 16", "overall length: 380", "hub radius: 3.95") == [
        "j.yaml:8:22: 'body diameter' is 12 in, more than the 7.874 in (200 mm) that swing over the bed; "
        "did you mean mm?",
        "j.yaml:9:20: 'body length' is 16 in, more than the 15.75 in (400 mm) that go between the centres; "
        "did you mean mm?",
        "j.yaml:10:23: 'overall length' is 380 in, more than the 15.75 in (400 mm) that go between the centres; "
        "did you mean mm?",
        "j.yaml:11:19: 'hub radius' is 3.95 in, more than the 7.874 in (200 mm) that swing over the bed; "
        "did you mean mm?"]


@pytest.mark.parametrize("line", [
    "body diameter: 7 7/8 - 0.002", "body length: 15.7", "body diameter: 300 mm", "body diameter: 250",
    "neck radius: 20", "body left to nose apex: 30", "body length: (30)", "body diameter: same as nose left diameter + 12",
    "nose included angle: 60 deg", "nose taper: 1 in 20"])  # fmt: skip
def test_what_fits_or_would_not_fit_in_millimetres_either_is_not_told(line: str) -> None:
    assert told("inch", line) == []


def test_in_a_job_in_millimetres_only_what_says_inches() -> None:
    assert told("mm", "body diameter: 300", "body length: 500") == []
    assert told("mm", "body diameter: 20 in", "body length: 20\"") == [
        "j.yaml:8:22: 'body diameter' is 20 in, more than the 7.874 in (200 mm) that swing over the bed; "
        "did you mean mm?",
        "j.yaml:9:20: 'body length' is 20 in, more than the 15.75 in (400 mm) that go between the centres; "
        "did you mean mm?"]
