"""Good files spoilt at random, each spoilt text known again by its seed and number, and what must hold of reading it."""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from handwheel.base.faults import Fault, Remark
from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.workshop.read import read_workshop

ROOT = Path(__file__).parents[2]
JOB, WORKSHOP = "job", "workshop"

ODD = [*"{}[]:,#&*!|>'\"%@`-+/.0159 xRm½°±\n\t<é(~?\\=;_$", "\r\n", "\ufeff", "\x00", "\u2028", "−", "∅", "×", "′", "″"]
NUMBERS = ["0", "1", "-1", "25,4", "1-7/16", "1/0", "0.0001", "1e9", "9" * 12, "9" * 40, "7/16", "1 1/2", ".5", "5.", "½"]
UNITS = ["mm", "in", '"', "thou", "deg", "min", "°", "cm", "ft", "rpm", "W", "per ft", "in 20", ": 20"]
WORDS = [
    "left", "right", "both", "centre", "middle", "end", "mouth", "bottom", "point", "apex", "to", "at", "of", "on",
    "same as", "half of", "twice", "to suit", "diameter", "radius", "length", "width", "depth", "taper", "angle to axis",
    "included angle", "overall length", "meets", "across flats", "from axis", "pitch", "cylinder", "cone", "ball",
    "hollow", "round", "chamfer", "fillet", "hole", "bore", "groove", "thread", "knurl", "flush", "tangent", "flat",
    "dome", "narrow", "through", "yes", "no", "M6", "h7", "H7", "± 0.1", "+0.1 -0", "+0 -0.1", "unknown", "like", "parts",
    "<<: *a", "&a", "!!str", "---", "...", "null", "(", ")",
]  # fmt: skip
PIECE = re.compile(r"[^\W\d_]+|[0-9./]+|\s+|.", re.DOTALL)
NUMBER = re.compile(r"[0-9]*\.?[0-9]+(?:/[0-9]+)?")
UNIT = re.compile(r"(?<=[0-9 ])(?:mm|in|thou|deg|rpm)\b|\"|°")
WORD = re.compile(r"[^\W\d_]{2,}")

Edit = Callable[[str, random.Random], str]


@dataclass(frozen=True, slots=True)
class Source:
    """A good file: its name, its text, and which reader reads it."""

    name: str
    text: str
    kind: str


def good_files() -> list[Source]:
    """The examples, the guide's jobs, and the workshops built in."""
    jobs = [*sorted((ROOT / "examples").glob("*.yaml")), *sorted((Path(__file__).parent / "data").glob("*.yaml"))]
    guide = (ROOT / "docs" / "job-file.md").read_text(encoding="utf-8")
    shops = sorted((ROOT / "src" / "handwheel" / "workshop" / "data").glob("*.yaml"))
    return [
        *(Source(path.name, path.read_text(encoding="utf-8"), JOB) for path in jobs),
        *(Source(f"guide {n}", text, JOB) for n, text in enumerate(re.findall(r"^```yaml\n(.*?)^```", guide, re.M | re.S))),
        *(Source(path.name, path.read_text(encoding="utf-8"), WORKSHOP) for path in shops),
    ]


def _span(text: str, chance: random.Random, most: int) -> tuple[int, int]:
    start = chance.randrange(len(text) + 1)
    return start, min(len(text), start + chance.randint(1, most))


def _characters(text: str, chance: random.Random) -> str:
    start, end = _span(text, chance, 8)
    what = chance.randrange(5)
    if what == 0:
        return text[:start] + text[end:]
    if what == 1:
        return text[:end] + text[start:]
    if what == 2:
        return text[:start] + text[start:end][::-1] + text[end:]
    if what == 3:
        return text[:start] + chance.choice(ODD) + text[start:]
    return text[:start] + chance.choice(ODD) + text[start + 1 :]


def _lines(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    what = chance.randrange(6)
    if what == 0:
        del lines[one]
    elif what == 1:
        lines.insert(other, lines[one])
    elif what == 2:
        lines[one], lines[other] = lines[other], lines[one]
    elif what == 3:
        lines[one] = " " * chance.randint(1, 6) + lines[one]
    elif what == 4:
        lines[one] = lines[one][chance.randint(1, 4) :] if lines[one].startswith(" ") else lines[one].strip()
    else:
        lines[one : one + 2] = [" ".join(lines[one : one + 2])]
    return "\n".join(lines)


def _pieces(text: str, chance: random.Random) -> str:
    pieces = PIECE.findall(text)
    one, other = chance.randrange(len(pieces)), chance.randrange(len(pieces))
    what = chance.randrange(4)
    if what == 0:
        del pieces[one]
    elif what == 1:
        pieces.insert(other, pieces[one])
    elif what == 2:
        pieces[one], pieces[other] = pieces[other], pieces[one]
    else:
        pieces[one] = pieces[other]
    return "".join(pieces)


def _instead(pattern: re.Pattern[str], others: list[str]) -> Edit:
    """Something of that sort replaced by another such thing, from the list or from the text itself."""

    def edit(text: str, chance: random.Random) -> str:
        found = list(pattern.finditer(text))
        if not found:
            return text
        one = chance.choice(found)
        other = chance.choice(found)[0] if chance.random() < 0.4 else chance.choice(others)
        return text[: one.start()] + other + text[one.end() :]

    return edit


def _cut(text: str, chance: random.Random) -> str:
    return text[: chance.randrange(len(text) + 1)]


EDITS: list[Edit] = [
    _characters, _characters, _lines, _lines, _pieces, _pieces, _instead(NUMBER, NUMBERS), _instead(NUMBER, NUMBERS),
    _instead(UNIT, UNITS), _instead(WORD, WORDS), _instead(WORD, WORDS), _cut,
]  # fmt: skip


def spoilt(sources: list[Source], seed: int, number: int) -> tuple[Source, bytes]:
    """The spoilt text of that seed and number, always the same: one to four edits, now and then of the bytes."""
    chance = random.Random(f"{seed}:{number}")
    source = chance.choice(sources)
    text = source.text
    for _ in range(chance.choice((1, 1, 1, 2, 2, 3, 4))):
        edit = chance.choice(EDITS)
        if edit is not _cut or chance.random() < 0.1:
            text = edit(text, chance) or "\n"
    data = text.encode()
    if chance.random() < 0.03:
        place = chance.randrange(len(data) + 1)
        data = data[:place] + bytes([chance.randrange(256)]) + data[place + chance.randint(0, 1) :]
    if chance.random() < 0.03:
        data = data.replace(b"\n", b"\r\n")
    return source, data


def check(source: Source, data: bytes, and_size: bool) -> str:
    """Read, and size where asked; an outcome that must not be is an `AssertionError`. Gives the outcome's name."""
    if source.kind == WORKSHOP:
        workshop, faults = read_workshop(data, "w.yaml")
        assert (workshop is None) == bool(faults)
        _check_faults(faults, data, "w.yaml")
        return "faults" if faults else "good"
    job, faults = read_job(data, "j.yaml")
    assert (job is None) == bool(faults)
    _check_faults(faults, data, "j.yaml")
    if job is None:
        return "faults"
    if and_size:
        drawing = size_job(job)
        _check_remarks([*drawing.faults, *drawing.notices], data, "j.yaml")
        return f"good, {drawing.state}"
    return "good"


def _check_faults(faults: tuple[Fault, ...], data: bytes, file: str) -> None:
    _check_remarks(list(faults), data, file)
    assert list(faults) == sorted(faults, key=lambda f: (f.span, f.id))
    assert len(set(faults)) == len(faults)


def _check_remarks(remarks: list[Remark], data: bytes, file: str) -> None:
    """Each has its place in the file, a what and a do, on one line."""
    if not remarks:
        return
    text = data.removeprefix(b"\xef\xbb\xbf").decode("utf-8", errors="replace")
    lines = re.split(r"\r\n|\r|\n", text)
    for remark in remarks:
        assert remark.span.file == file, remark
        assert 1 <= remark.span.line <= len(lines), remark
        assert 1 <= remark.span.column <= len(lines[remark.span.line - 1]) + 1, remark
        assert re.fullmatch(r"[a-z0-9]+(?:-[a-z0-9]+)*", remark.id), remark
        assert remark.what, remark
        assert remark.do, remark
        assert len(remark.line().splitlines()) == 1, remark
