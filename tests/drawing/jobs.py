"""Small jobs for the sizing tests: a part from lists of lines, read and sized."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.base.faults import Fault
from handwheel.drawing.records import Drawing
from handwheel.drawing.size import size_job
from handwheel.job.ask import read_question
from handwheel.job.read import read_job


def sized(text: str, *asks: str) -> Drawing:
    job, faults = read_job(text.encode(), "test.yaml")
    assert job is not None, [f.line() for f in faults]
    questions = []
    for ask in asks:
        phrase = read_question(ask, job, None)
        assert not isinstance(phrase, Fault), phrase
        questions.append((ask, phrase))
    return size_job(job, questions)


def part(
    outside: Sequence[str], dimensions: Sequence[str], *asks: str, more: str = "", units: str = "mm", tolerance: str = ""
) -> Drawing:
    lines = ["handwheel: 1", "job: test", f"units: {units}"]
    lines += [f"general tolerance: {tolerance}"] if tolerance else []
    lines += ["parts:", "  it:", "    outside:", *(f"      - {o}" for o in outside)]
    lines += [more] if more else []
    lines += ["    dimensions:", *(f"      {d}" for d in dimensions)]
    return sized("\n".join(lines) + "\n", *asks)


def values(drawing: Drawing) -> list[float]:
    assert not drawing.faults, [f.line() for f in drawing.faults]
    return [a.value for a in drawing.answers]
