"""Questions put together from any words: an answer or a fault with a place, never an exception."""

from math import isfinite
from random import Random

import pytest

from handwheel.base.faults import Fault
from handwheel.drawing.size import size_job
from handwheel.job.ask import read_question
from handwheel.job.onefeature import KINDS, hosts_of, read_one_feature, split_sayings
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.job.wrong import Complaints
from tests.drawing.lever import LEVER

WORDS = [
    "hub", "shank", "tenon", "grip", "socket", "left", "right", "centre", "middle", "mouth", "bottom", "point",
    "apex", "meets", "diameter", "radius", "length", "depth", "taper", "to", "at", "of", "knob", "lever", "+",
    "-", "so", "that", "is", "section", "at", "volume", "mass", "surface", "area", "1/4", "in", "2", "mm", "3",
    "deg", "1", "in", "20", "overall", "end", "included", "angle", ":", ",", "(", ")", "½", "#", "±", "No.",
    "7", "drill", "short", "lever",
]
SHAPES = (
    "{f} {s} of {p}", "{f} {w} to {f} {w} of {p}", "{f} diameter at {f} {w} of {p}", "section at {f} {w} of {p}",
    "{f} {s} of {p} - {f} {s} of {p}", "{f} meets {f} to {f} {w} of {p}", "{f} {w} + 1/4 in to {f} {w} of {p}",
    "{f} {s} of {p} so that {f} {w} to {f} {w} of {p} is 1/2", "{f} {w} of {p} to {f} {w} of {p}",
    "slope length of {f} of {p}", "slope length of {f}", "slope length of {f} {w} of {p}", "slope length",
)  # fmt: skip
FEATURES = {"lever": ("hub", "shank", "tenon"), "knob": ("grip", "socket"), "short lever": ("hub", "shank", "tenon")}
SIZES = ("diameter", "radius", "length", "depth", "taper", "included angle", "left diameter", "right diameter")
PLACES = ("left", "right", "centre", "middle", "mouth", "bottom", "point", "apex")


def question(rng: Random) -> str:
    if rng.random() < 0.4:
        return " ".join(rng.choice(WORDS) for _ in range(rng.randint(1, 9)))
    text, part = rng.choice(SHAPES), rng.choice(sorted(FEATURES))
    for slot, words in (("{f}", FEATURES[part]), ("{s}", SIZES), ("{w}", PLACES), ("{p}", (part,))):
        while slot in text:
            text = text.replace(slot, rng.choice(words), 1)
    return text


@pytest.mark.parametrize("seed", range(6))
def test_any_question(seed: int) -> None:
    rng = Random(seed)
    job, _ = read_job(LEVER.encode(), "test.yaml")
    assert job is not None
    questions = []
    for _ in range(150):
        text = question(rng)
        read = read_question(text, job, rng.choice(("lever", "knob", None)))
        if isinstance(read, Fault):
            assert (read.span.file, read.span.line) == ("--ask", 1)
            assert 1 <= read.span.column <= len(text) + 1
        else:
            questions.append((text, read))
    drawing = size_job(job, questions)
    answered = {a.ask for a in drawing.answers}
    refused = {f.phrases[0] for f in drawing.questions_unanswered}
    assert len(drawing.answers) + len(drawing.questions_unanswered) >= len(questions)
    assert answered
    assert refused
    for answer in drawing.answers:
        assert all(isfinite(x) for x in (answer.value, answer.low, answer.high))
        assert answer.low <= answer.high
        assert answer.statistical_low is not None
        assert answer.statistical_high is not None
        assert answer.low <= answer.statistical_low <= answer.statistical_high <= answer.high


VALUES = ("3/4", "20", "1 in 20", "30 deg", "M6", "left", "yes", "R 2", "0", "-1", "7,5", "No. 7 drill", "drilled", "∅ 5")
KEYS = (*SIZES, "narrow", "flat", "size", "thread", "kind", "width", "from axis", "across flats", "face", "count",
        "left to right", "mouth to bottom", "through", "point", "banana", "")  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_any_feature_said(kind: str) -> None:
    rng = Random(kind)
    for _ in range(25):
        said = [f"{rng.choice(KEYS)}: {rng.choice(VALUES)}" for _ in range(rng.randint(1, 4))]
        for host in hosts_of(kind, split_sayings(kind, said, Complaints()))[:2]:
            job, faults = read_one_feature(kind, said, Unit.MM, host)
            if job is None or faults:
                assert all(1 <= f.span.line <= len(said) and f.span.column >= 1 for f in faults), faults
                continue
            size_job(job)
