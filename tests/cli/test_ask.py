"""`handwheel ask`: every kind of feature, every size that follows against closed forms, the lines read back in a job."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import atan, degrees, pi, radians, sin, tan
from pathlib import Path

import pytest

from handwheel.cli.main import main
from handwheel.drawing.size import size_job
from handwheel.job.ask import read_question
from handwheel.job.read import read_job
from handwheel.job.records import Phrase

BODY = "  it:\n    outside:\n      - cylinder: body\n"


@dataclass(frozen=True)
class Case:
    """What is said, and what follows: mm, degrees, or diameter per length."""

    kind: str
    said: tuple[str, ...]
    follows: dict[str, float]
    beside: tuple[str, ...] = ("body diameter: 60", "body length: 80")
    outside: tuple[str, ...] = ("cylinder: body",)


ALONE: tuple[str, ...] = ()
CASES = [
    Case("cylinder", ("diameter: 12", "length: 30"), {"diameter": 12, "length": 30}, ALONE, ALONE),
    Case("cylinder", ("thread: M6", "length: 30"), {"diameter": 6, "length": 30}, ALONE, ALONE),
    Case("cone", ("left diameter: 20", "taper: 1 in 20", "length: 40", "narrow: right"),
         {"right diameter": 18, "included angle": 2 * degrees(atan(1 / 40)), "angle to axis": degrees(atan(1 / 40)),
          "taper": 0.05}, ALONE, ALONE),
    Case("cone", ("left diameter: 20", "right diameter: 14", "angle to axis: 10 deg"),
         {"length": 3 / tan(radians(10)), "taper": 2 * tan(radians(10)), "included angle": 20}, ALONE, ALONE),
    Case("ball", ("diameter: 20", "flat: left", "left diameter: 12"),
         {"length": 18, "radius": 10, "left to centre": 8}, ALONE, ALONE),
    Case("hollow", ("radius: 20", "left diameter: 30", "right diameter: 30", "length: 12"),
         {"diameter": 40, "left to centre": 6}, ALONE, ALONE),
    Case("round", ("radius: 20", "left diameter: 30", "right diameter: 30", "length: 12"),
         {"diameter": 40, "left to centre": 6}, ALONE, ALONE),
    Case("round", ("size: R 3 mm",), {"radius": 3, "diameter": 6, "length": 3}),
    Case("chamfer", ("size: 0.5 mm x 45 deg", "left diameter: 10", "narrow: left"),
         {"right diameter": 11, "length": 0.5, "taper": 2, "included angle": 90}, ALONE, ALONE),
    Case("fillet", ("radius: 3",), {"radius": 3, "diameter": 6, "length": 3},
         ("body diameter: 20", "body length: 10", "far diameter: 40", "far length: 10"), ("cylinder: body",)),
    Case("hole", ("diameter: 6", "depth: 20"),
         {"diameter": 6, "length": 20, "mouth to point": 20 + 3 / tan(radians(59))}),
    Case("hole", ("diameter: No. 7 drill", "through: yes"), {"diameter": 0.201 * 25.4}),
    Case("hole", ("thread: M6", "depth: 12", "bottom: flat"), {"diameter": 4.917, "depth": 12}),
    Case("bore", ("diameter: 1 in", "depth: 2 in"), {"diameter": 25.4, "depth": 50.8}),
    Case("bore", ("cone: yes", "left diameter: 20", "taper: 1 in 10", "depth: 30"),
         {"right diameter": 17, "included angle": 2 * degrees(atan(0.05)), "length": 30}),
    Case("counterbore", ("diameter: 12", "depth: 4"), {"diameter": 12, "depth": 4}),
    Case("countersink", ("diameter: 10", "included angle: 90 deg"), {"depth": 5, "angle to axis": 45, "taper": 2}),
    Case("groove", ("width: 2", "depth: 1.5", "diameter: 17"), {"width": 2, "depth": 1.5, "diameter": 17},
         ("body diameter: 20", "body length: 80", "left end to it left: 10")),
    Case("groove", ("width: 2", "diameter: 17"), {"width": 2, "diameter": 17},
         ("body diameter: 20", "body length: 80", "left end to it left: 10")),
    Case("knurl", ("kind: diamond 1 mm", "length: 10", "diameter: 20"), {"length": 10, "diameter": 20},
         ("body length: 80", "left end to it left: 10")),
    Case("thread", ("kind: 1/4-20 UNC", "length: 10"), {"length": 10},
         ("body diameter: 6.35", "body length: 80", "left end to it left: 10")),
    Case("flat", ("from axis: 8", "length: 10"), {"from axis": 8, "length": 10},
         ("body diameter: 20", "body length: 80", "left end to it left: 10")),
    Case("slot", ("width: 3", "from axis: 5", "length: 10"), {"width": 3, "from axis": 5, "length": 10},
         ("body diameter: 20", "body length: 80", "left end to it left: 10")),
    Case("square", ("across flats: 12",), {"from axis": 6}, ("body diameter: 20", "body length: 80")),
    Case("hexagon", ("from axis: 6",), {"across flats": 12}, ("body diameter: 20", "body length: 80")),
    Case("holes", ("face: right", "count: 6", "diameter: 3", "pitch circle diameter: 40", "through: yes"),
         {"pitch": 40 * sin(pi / 6), "pitch circle diameter": 40}),
]  # fmt: skip
IDS = [f"{case.kind}: {', '.join(case.said)}" for case in CASES]


def size_in(line: str) -> float:
    """The size of a line of the table: mm, degrees, or a ratio."""
    for pattern in (r"(-?[\d.]+) mm\b", r"(-?[\d.]+)°", r"1 in [\d.]+ +([\d.]+)"):
        found = re.search(pattern, line)
        if found:
            return float(found[1])
    raise AssertionError(line)


def answered(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, list[str], str]:
    status = main(["ask", *words])
    told = capsys.readouterr()
    assert all(len(line) <= 80 for line in told.out.splitlines()), told.out
    return status, told.out.splitlines(), told.err


@pytest.mark.parametrize("case", CASES, ids=IDS)
def test_every_size_that_follows(case: Case, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = answered(capsys, case.kind, *case.said)
    assert (status, err) == (0, "")
    assert out[0] == f"{case.kind}:"
    for phrase, value in case.follows.items():
        line = next(line for line in out if line.startswith(f"  {phrase}  "))
        assert size_in(line) == pytest.approx(value, abs=6e-4)
    assert not any("body" in line or "beyond" in line for line in out[: out.index("")])


def job_of(lines: list[str], case: Case) -> str:
    """A job with the pasted lines in it, and what the feature needs beside it."""
    start = lines.index(next(line for line in lines if line.startswith("To paste"))) + 1
    pasted = ["  " + line for line in lines[start : lines.index(lines[-1])]]
    outside = [f"      - {one}" for one in case.outside]
    made, sizes = [], []
    into = made
    for line in pasted:
        if line.startswith("    dimensions:"):
            into = sizes
        elif line.startswith("    outside:"):
            made += ["    outside:", *outside]
        else:
            into.append(line)
    if "    outside:" not in made:
        made = ["    outside:", *outside, *made]
    if case.kind == "fillet":
        made.append("      - cylinder: far")
    text = ["handwheel: 1", "job: read back", "units: mm", "parts:", "  bit:", *made, "    dimensions:", *sizes]
    return "\n".join([*text, *(f"      {one}" for one in case.beside)]) + "\n"


@pytest.mark.parametrize("case", CASES, ids=IDS)
def test_the_lines_to_paste_read_back(case: Case, capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = answered(capsys, case.kind, *case.said)
    text = job_of(out, case)
    job, faults = read_job(text.encode(), "pasted.yaml")
    assert job is not None, (text, [f.line() for f in faults])
    questions = []
    for phrase in case.follows:
        is_distance = phrase.endswith(("to point", "to centre"))
        said = " to ".join(f"it {point}" for point in phrase.split(" to ")) if is_distance else f"it {phrase}"
        question = read_question(said, job, "bit")
        assert isinstance(question, Phrase), question
        questions.append((said, question))
    drawing = size_job(job, questions)
    assert not drawing.questions_unanswered, [f.line() for f in (*drawing.faults, *drawing.questions_unanswered)]
    assert [a.value for a in drawing.answers] == pytest.approx(list(case.follows.values()), abs=6e-4)
    assert not drawing.faults, [f.line() for f in drawing.faults]


def test_a_cone_that_could_narrow_either_way(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("cone", "left diameter: 3/4", "taper: 1 in 20", "length: 2 1/4", "--units", "inch")
    status, out, err = answered(capsys, *words)
    assert (status, err) == (0, "")
    rights = [line.split() for line in out if line.startswith("  right diameter")]
    # 3/4 less, or more, than 2 1/4 / 20
    assert [row[2:4] for row in rights] == [["0.6375", "in"], ["0.8625", "in"]]
    assert [row[5:8] for row in rights] == [["41/64", "-", "0.0031"], ["55/64", "+", "0.0031"]]
    assert "Read as narrowing to the right. With 'narrow: left' these differ:" in out
    assert "      narrow: right" in out
    status, said, _ = answered(capsys, *words[:4], "narrow: left", *words[4:])
    assert status == 0
    assert [line.split()[2] for line in said if line.startswith("  right diameter")] == ["0.8625"]


@pytest.mark.parametrize(
    ("said", "figure"),
    [
        (("left diameter: 3/4", "taper: 1 in 20", "length: 2 1/4", "narrow: right"), "0.6375 in"),  # 3/4 - 2.25/20
        (("left diameter: 20", "taper: 1 in 20", "length: 40", "narrow: right"), "18.000 mm"),
        (("left diameter: 3/4 in", "taper: 1 in 20", "length: 2 1/4 in", "narrow: right"), "0.6375 in"),
        (("left diameter: 15/2 mm", "taper: 1 in 20", "length: 10", "narrow: right"), "7.000 mm"),
        (("left diameter: 1", "taper: 1 in 20", "length: 2\u00bd", "narrow: right"), "0.8750 in"),
    ],
)
def test_a_bare_fraction_means_inches(said: tuple[str, ...], figure: str, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = answered(capsys, "cone", *said)
    assert status == 0
    line = next(line for line in out if line.startswith("  right diameter"))
    assert line.split("  ")[2].strip() == figure


def test_a_ball_with_an_end_diameter_is_cut_flat_there(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = answered(capsys, "ball", "diameter: 22", "left diameter: 14")
    assert (status, err) == (0, "")
    line = next(line for line in out if line.startswith("  left to centre"))
    assert size_in(line) == pytest.approx(8.485, abs=6e-4)  # sqrt(11^2 - 7^2)
    assert "An end diameter was said, so the ball is read as cut flat there: 'flat: left'." in out
    assert "      flat: left" in out


def test_a_size_without_a_tolerance_says_none_is_known(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = answered(capsys, "cylinder", "diameter: 0.3", "length: 20", "--ask", "diameter")
    assert "  limits       no tolerance known for what it rests on" in out  # ISO 2768-1 begins at 0.5 mm


def test_a_thread_tells_its_basic_sizes(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = answered(capsys, "thread", "kind: M6", "length: 10")
    rows = {line.strip().rpartition("  ")[0].rpartition("  ")[0].strip(): line for line in out}
    # ISO 724: M6 5.350, 4.917; its tapping drill 5.0
    for name, size in (("major diameter", "6.000 mm"), ("effective diameter", "5.350 mm"),
                       ("minor diameter of the nut", "4.917 mm"), ("tapping drill", "5.000 mm")):  # fmt: skip
        assert size in rows[name]


def test_too_little_said_answers_what_follows_and_says_what_is_loose(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = answered(capsys, "chamfer", "size: 0.5 mm x 45 deg")
    assert status == 2
    assert any(line.startswith("  included angle  90.0000°") for line in out)
    assert not any("left diameter" in line for line in out)
    assert "still loose" in err


def test_questions_of_the_feature(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = answered(
        capsys, "ball", "diameter: 20 ± 0.1", "--ask", "volume", "--ask", "section at centre + 6 mm",
        "--ask", "diameter - 2 mm", "--ask", "diameter so that length is 1 in",
    )  # fmt: skip
    assert (status, err) == (0, "")
    rows = [line.split() for line in out]
    assert ["nominal", f"{4000 / 3 * pi:.5g}", "mm3"] in [row[:3] for row in rows]
    assert ["nominal", f"{64 * pi:.5g}", "mm2"] in [row[:3] for row in rows]
    assert ["nominal", "18.000", "mm"] in [row[:3] for row in rows]
    assert ["nominal", "25.400", "mm"] in [row[:3] for row in rows]
    assert ["now", "20.000", "mm", "0.7874", "in"] in rows


def test_a_question_that_hangs_on_more_than_was_said(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = answered(capsys, "hole", "diameter: 6", "depth: 20", "--ask", "volume", "--ask", "diameter")
    assert status == 2
    assert err == "--ask:1:1: 'volume' hangs on more than was said of the feature; ask it of a job\n"
    assert out[0] == "diameter"


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (("hole", "diametre: 3"), "ask:1:1: 'diametre' is no size and no option of a hole; did you mean 'diameter'?"),
        (("hole", "diameter 3"), "ask:1:1: 'diameter 3' is not 'PHRASE: VALUE'; write it like 'left diameter: 3/4'"),
        (("hole", "diameter: 3,5"), "ask:1:11: '3,5' has a comma in it; write '3.5'"),
        (("hole", "taper: 1 in 20"), "ask:1:1: a hole has no taper; write 'it diameter'"),
        (("kone", "length: 2"), "ask:1:1: 'kone' is no kind of feature; did you mean 'cone'?"),
    ],
)
def test_what_is_said_wrong(words: tuple[str, ...], line: str, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = answered(capsys, *words)
    assert (status, out) == (2, [])
    assert err == line + "\n"


def test_the_guide_is_run(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every command of docs/questions.md prints what the page shows."""
    page = (Path(__file__).parents[2] / "docs" / "questions.md").read_text(encoding="utf-8")
    job = re.search(r"```yaml\n(.*?)```", page, re.DOTALL)
    assert job is not None
    monkeypatch.chdir(tmp_path)
    Path("lever.yaml").write_text(job[1], encoding="utf-8")
    blocks = re.findall(r"```console\n\$ handwheel (.*?)\n(.*?)```", page, re.DOTALL)
    assert len(blocks) >= 8
    for command, shown in blocks:
        words = [a or b for a, b in re.findall(r'"([^"]*)"|(\S+)', command)]
        main(words)
        told = capsys.readouterr()
        printed = told.out + told.err
        for piece in shown.split("...\n"):
            assert piece in printed, (command, printed)
