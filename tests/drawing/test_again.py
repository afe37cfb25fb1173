"""Sizing again after an edit gives what sizing from nothing gives, and solves only what the edit reaches."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

import pytest

from handwheel.drawing.again import size_again
from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Job

HEAD = ["handwheel: 1", "job: many", "units: mm", "parts:"]


def lever(n: int, tenon: str) -> list[str]:
    return [
        f"  lever-{n}:",
        "    outside: [{ball: hub}, {cone: shank}, {cylinder: tenon}]",
        "    dimensions:",
        f"      hub diameter: {12 + 0.1 * n:.1f}",
        "      shank diameter at hub centre: 8",
        "      shank right diameter: 6.5",
        f"      tenon diameter: {tenon}",
        "      tenon length: 6",
        f"      overall length: {30 + n}",
    ]


def read(lines: list[str]) -> Job:
    job, faults = read_job("\n".join(lines).encode(), "test.yaml")
    assert job is not None, [f.line() for f in faults]
    return job


def job_of_eight() -> list[str]:
    lines = list(HEAD)
    for n in range(8):
        lines += lever(n, f"same as tenon diameter of lever-{n - 1}" if n % 4 == 2 else "5")
    return lines


def edited(job: Job, dice: random.Random) -> Job:
    """One dimension of one part changed, left out, or the general tolerance."""
    k = dice.randrange(len(job.parts))
    part = job.parts[k]
    if dice.random() < 0.1:
        return replace(job, general_tolerance=replace(job.general_tolerance, iso2768=dice.choice("fmc")))
    i = dice.randrange(len(part.dimensions))
    dimensions = list(part.dimensions)
    if dice.random() < 0.2:
        del dimensions[i]
    else:
        value = dimensions[i].value
        number = replace(value.number, value=value.number.value + Fraction(dice.randint(-9, 9), 100))
        dimensions[i] = replace(dimensions[i], value=replace(value, number=number))
    part = replace(part, dimensions=tuple(dimensions))
    return replace(job, parts=(*job.parts[:k], part, *job.parts[k + 1 :]))


@pytest.mark.parametrize("seed", range(4))
def test_random_edits_one_after_another(seed: int) -> None:
    dice = random.Random(seed)
    job = read(job_of_eight())
    sized = size_again(None, job)
    assert sized.drawing == size_job(job)
    for _ in range(5):
        job = edited(job, dice)
        sized = size_again(sized, job)
        assert sized.drawing == size_job(job)


def test_only_tied_parts_are_solved() -> None:
    lines = job_of_eight()
    first = size_again(None, read(lines))
    assert len(first.sized_anew) == 8
    changed = [line.replace("overall length: 31", "overall length: 41") for line in lines]
    again = size_again(first, read(changed))
    assert set(again.sized_anew) == {"lever-1", "lever-2"}
    assert again.drawing.part("lever-1").length == pytest.approx(41.0)


def test_a_part_read_again_but_alike_is_not_solved() -> None:
    lines = job_of_eight()
    assert size_again(size_again(None, read(lines)), read(lines)).sized_anew == ()


def test_a_part_added_and_one_taken_away() -> None:
    before = size_again(None, read(job_of_eight()))
    more = read([*job_of_eight(), *lever(9, "4")])
    again = size_again(before, more)
    assert again.sized_anew == ("lever-9",)
    fewer = size_again(again, replace(more, parts=more.parts[:-1]))
    assert fewer.sized_anew == ()
    assert [p.name for p in fewer.drawing.parts] == [f"lever-{n}" for n in range(8)]
