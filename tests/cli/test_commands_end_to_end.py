"""The four commands on small jobs, from bytes on disk to what is printed, written and returned."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader

from handwheel.cli.main import main

PIN = """\
handwheel: 1
job: Pin Ø ½
units: inch
parts:
  pin:
    quantity: 2
    outside:
      - cylinder: head
      - cylinder: stem
    dimensions:
      head diameter: 1/2
      head length: 0.250 ± 0.002
      stem diameter: 0.312 ± 0.002
      overall length: 1 1/4 ± 0.004
"""
TWO = PIN + """\
  long pin:
    like: pin
    dimensions:
      overall length: 2
"""
INCH = 25.4


@pytest.fixture
def job(tmp_path):
    """Writes a job file, in a folder with blanks in its name, and gives its path."""
    folder = tmp_path / "my jobs"
    folder.mkdir()

    def write(text: str | bytes, name: str = "a pin.yaml") -> str:
        path = folder / name
        path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
        return str(path)

    return write


@pytest.fixture
def run(capsys, monkeypatch):
    monkeypatch.delenv("HANDWHEEL_TRACEBACK", raising=False)

    def command(*words: str) -> tuple[int, str, str]:
        status = main(words)
        told = capsys.readouterr()
        return status, told.out, told.err

    return command


def lines_are_faults(err: str) -> bool:
    return all(len(line.split(":", 3)) == 4 and line.split(":")[1].isdigit() for line in err.splitlines())


@pytest.mark.parametrize(
    "data",
    [
        PIN.encode("utf-8"),
        PIN.replace("\n", "\r\n").encode("utf-8"),
        b"\xef\xbb\xbf" + PIN.encode("utf-8"),
        b"\xef\xbb\xbf" + PIN.replace("\n", "\r\n").encode("utf-8"),
    ],
    ids=["plain", "CRLF", "BOM", "BOM and CRLF"],
)
def test_size_as_json_whatever_the_line_ends(job, run, data):
    status, out, err = run("size", job(data), "--ask", "stem length", "--json")
    assert (status, err) == (0, "")
    whole = json.loads(out)
    assert set(whole) == {"job", "state", "faults", "notices", "answers"}
    assert (whole["job"], whole["state"]) == ("Pin Ø ½", "fully dimensioned")
    (answer,) = whole["answers"]
    more = {"statistical_low_mm", "statistical_high_mm", "contributors"}
    assert set(answer) == {"ask", "part", "value_mm", "low_mm", "high_mm"} | more
    assert all(set(one) == {"part", "phrase", "share_mm", "percent"} for one in answer["contributors"])
    assert answer["contributors"]
    assert answer["value_mm"] == pytest.approx(INCH, abs=1e-6)
    assert answer["low_mm"] == pytest.approx((1 - 0.006) * INCH, abs=1e-6)
    assert answer["high_mm"] == pytest.approx((1 + 0.006) * INCH, abs=1e-6)


def test_size_for_a_person(job, run):
    status, out, err = run("size", job(PIN), "--ask", "stem length")
    assert (status, err) == (0, "")
    rows = [line.split() for line in out.splitlines()]
    assert ["head", "diameter", "0.5000", "in", "12.700", "mm", "given:", "1/2"] in rows
    assert "The job is fully dimensioned." in out
    assert ["nominal", "1.0000", "in", "25.400", "mm"] in rows
    assert ["worst", "case", "0.9940", "to", "1.0060", "in", "25.248", "to", "25.552", "mm"] in rows


def test_a_question_with_no_answer_leaves_the_others_answered(job, run):
    path = job(PIN)
    status, out, err = run("size", path, "--json", "--ask", "knob diameter", "--ask", "stem diameter")
    whole = json.loads(out)
    assert status == 2
    assert [answer["ask"] for answer in whole["answers"]] == ["stem diameter"]
    assert len(whole["faults"]) == 1
    assert "knob" in whole["faults"][0]["what"]
    assert set(whole["faults"][0]) == {"part", "phrases", "what", "do"}
    assert err.count("\n") == 1


def test_which_part_a_question_is_asked_of(job, run):
    path = job(TWO)

    def asked(*words: str) -> list[tuple[str | None, float]]:
        status, out, _ = run("size", path, "--json", *words)
        assert status == 0
        return [(a.get("part"), round(a["value_mm"] / INCH, 9)) for a in json.loads(out)["answers"]]

    assert asked("--ask", "overall length of long pin") == [(None, 2.0)]
    assert asked("--part", "long pin", "--ask", "overall length") == [("long pin", 2.0)]
    assert asked("--ask", "overall length") == [("pin", 1.25), ("long pin", 2.0)]


def test_a_phrase_that_names_the_part_of_one_point_only(job, run):
    path = job(TWO)
    status, out, err = run("size", path, "--json", "--ask", "head left of pin to right end")
    assert (status, json.loads(out)["answers"]) == (2, [])
    assert "says of one point only" in err
    status, out, _ = run("size", path, "--part", "pin", "--json", "--ask", "head left of pin to right end")
    assert status == 0
    assert json.loads(out)["answers"][0]["value_mm"] == pytest.approx(1.25 * INCH, abs=1e-6)


def test_ask_without_a_question_shows_every_size(run):
    status, out, err = run("ask", "ball", "diameter: 20", "flat: left", "left diameter: 12")
    assert (status, err) == (0, "")
    rows = [line.split() for line in out.splitlines()]
    assert ["length", "18.000", "mm", "0.7087", "in", "=", "45/64", "+", "0.0055", "follows"] in rows  # 10 + sqrt(64)


def test_a_part_that_is_not_there(job, run):
    path = job(PIN)
    status, out, err = run("size", path, "--part", "nail")
    assert (status, out, err) == (2, "", f"{path}:1:1: there is no part 'nail'; the parts are: pin\n")


@pytest.mark.parametrize(
    ("change", "state"),
    [
        (("      stem diameter: 0.312 ± 0.002\n", ""), "under-dimensioned"),
        (("dimensions:\n", "dimensions:\n      stem length: 1.100\n"), "contradictory"),
    ],
)
def test_a_drawing_that_is_wrong(job, run, change, state):
    path = job(PIN.replace(*change))
    status, out, err = run("size", path, "--json")
    assert status == 2
    assert json.loads(out)["state"] == state
    assert err
    assert lines_are_faults(err.replace(path, "job"))
    status, out, err = run("make", path)
    assert (status, out) == (2, "")
    assert lines_are_faults(err.replace(path, "job"))
    assert os.listdir(Path(path).parent) == ["a pin.yaml"]


def test_a_repeat_that_agrees_is_made(job, run):
    status, out, _ = run("size", job(PIN.replace("dimensions:\n", "dimensions:\n      stem length: 1.000\n")), "--json")
    whole = json.loads(out)
    assert (status, whole["state"]) == (0, "over-dimensioned")
    assert whole["notices"]


def test_a_file_that_is_wrong_tells_every_fault_in_json_too(job, run):
    path = job(PIN.replace("1/2", "1-1/2").replace("0.312", "7,9"))
    status, out, err = run("size", path, "--json")
    whole = json.loads(out)
    assert status == 2
    assert (whole["state"], whole["answers"], len(whole["faults"])) == (None, [], 2)
    assert [line.split(": ")[0] for line in err.splitlines()] == [f"{path}:11:22", f"{path}:13:22"]


@pytest.mark.parametrize("data", [b"", b"\xff\xfe\x00", b"- a list\n", b"handwheel: 1\njob: &a x\n", b"{" * 300])
@pytest.mark.parametrize("command", ["size", "make"])
def test_what_is_no_job_file_is_the_inputs_fault(job, run, data, command):
    status, out, err = run(command, job(data))
    assert (status, out) == (2, "")
    assert err
    assert "Traceback" not in err


def test_ask_of_one_feature(run):
    words = ("left diameter: 3/4", "taper: 1 in 20", "length: 2", "narrow: right", "--units", "inch")
    status, out, err = run("ask", "cone", *words, "--ask", "right diameter", "--ask", "included angle")
    assert (status, err) == (0, "")
    rows = [line.split() for line in out.splitlines()]
    assert out.splitlines()[-1] == "Bare numbers are read as inch; --units chooses."
    assert ["nominal", "0.6500", "in", "16.510", "mm"] in rows  # 3/4 - 2/20
    assert ["nominal", "2.8642°"] in rows  # 2 atan(1/40)


def test_ask_of_what_is_no_feature(run):
    status, out, err = run("ask", "banana", "length: 2")
    assert (status, out) == (2, "")
    assert "banana" in err


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A job made once into the folder beside it, which held something of the maker's own."""
    folder = tmp_path_factory.mktemp("bench jobs")
    path = folder / "a pin.yaml"
    path.write_text(PIN, encoding="utf-8")
    sheets = folder / "a pin sheets"
    sheets.mkdir()
    (sheets / "notes.txt").write_text("mine", encoding="utf-8")
    assert main(["make", str(path)]) == 0
    return path, sheets


def test_make_writes_beside_the_job_file_and_keeps_what_is_there(made):
    path, sheets = made
    names = {each.name for each in sheets.iterdir()}
    assert {"index.html", "sheets.pdf", "job.json", "notes.txt"} <= names
    assert any(name.endswith(".svg") for name in names)
    assert not any(name.startswith(".") for name in names)
    assert (sheets / "notes.txt").read_text(encoding="utf-8") == "mine"
    assert path.read_text(encoding="utf-8") == PIN


def test_job_json_follows_the_readings_to_the_sizes(made):
    whole = json.loads((made[1] / "job.json").read_text(encoding="ascii"))
    assert (whole["handwheel"], whole["example_workshop"]) == (1, True)
    route = whole["parts"]["pin"]["route"]
    assert route[0]["kind"] == "stock"
    readings = [reading for entry in route for reading in entry["readings"]]
    assert readings
    for reading in readings:
        assert reading["unit"] in ("division", "turn", "flat")
        assert abs(reading["moves_mm"] - reading["exact_mm"]) < 0.1
        assert reading["text"].endswith(".")


def test_make_is_quiet_on_standard_output_and_says_where(made, run, tmp_path):
    status, out, err = run("make", str(made[0]), "--out", str(tmp_path / "other place"))
    assert (status, out) == (0, "")
    assert f"the sheets are in {tmp_path / 'other place'}" in err
    assert "example workshop" in err


@pytest.mark.parametrize(("paper", "wide_pt"), [("a4", 595.28), ("letter", 612.0)])
def test_paper(made, run, tmp_path, paper, wide_pt):
    assert run("make", str(made[0]), "--out", str(tmp_path / "out"), "--paper", paper)[0] == 0
    page = PdfReader(tmp_path / "out" / "sheets.pdf").pages[0]
    assert float(page.mediabox.width) == pytest.approx(wide_pt, abs=0.5)


def test_a_sheet_held_open_by_a_viewer(made, run, monkeypatch):
    before = {each.name: each.read_bytes() for each in made[1].iterdir()}
    real = os.replace

    def replace(source, target):
        if Path(target).name == "sheets.pdf":
            raise PermissionError(13, "Permission denied", str(target))
        real(source, target)

    monkeypatch.setattr(os, "replace", replace)
    status, out, err = run("make", str(made[0]), "--paper", "letter")
    assert (status, out) == (2, "")
    assert err.count("\n") == 1
    assert "sheets.pdf" in err
    assert "close it in the viewer" in err
    assert {each.name: each.read_bytes() for each in made[1].iterdir()} == before


def test_what_this_workshop_cannot_make(job, run, tmp_path):
    path = job(PIN.replace("head diameter: 1/2", "head diameter: 30").replace("1 1/4 ± 0.004", "50"))
    status, out, err = run("make", path, "--out", str(tmp_path / "out"))
    assert (status, out) == (1, "")
    assert "pin" in err
    assert "cannot be made" in err
    route = json.loads((tmp_path / "out" / "job.json").read_text(encoding="ascii"))["parts"]["pin"]["route"]
    refused = [bool(entry.get("refused")) for entry in route]
    assert any(refused)
    assert not any(entry["readings"] for entry in route[refused.index(True) :])


def test_a_workshop_named_by_the_job_is_looked_for_beside_it(job, run):
    path = job(PIN.replace("units: inch\n", "units: inch\nworkshop: my shop.yaml\n"))
    status, out, err = run("make", path)
    assert (status, out) == (2, "")
    assert err == f"{Path(path).parent / 'my shop.yaml'}:1:1: there is no such file; give the path of a file\n"


def test_a_console_that_lacks_signs(job):
    text = PIN.replace("Pin Ø ½", "Pin Ø ½ ⌀ 大")
    words = [sys.executable, "-m", "handwheel", "size", job(text)]
    environment = {**os.environ, "PYTHONIOENCODING": "cp1252", "PYTHONUTF8": "0"}
    done = subprocess.run(words, capture_output=True, env=environment, timeout=60, check=False)
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.decode("cp1252").splitlines()[0] == "Pin Ø ½ ? ?"


def test_json_is_plain_on_any_console(job):
    words = [sys.executable, "-m", "handwheel", "size", "--json", job(PIN)]
    environment = {**os.environ, "PYTHONIOENCODING": "ascii"}
    done = subprocess.run(words, capture_output=True, env=environment, timeout=60, check=False)
    assert done.returncode == 0
    assert json.loads(done.stdout.decode("ascii"))["job"] == "Pin Ø ½"


def test_size_does_not_load_what_only_sheets_need(job):
    code = (
        "import sys; from handwheel.cli.main import main; main(['size', sys.argv[1], '--json']); "
        "sys.exit(','.join(m for m in ('typst', 'scipy', 'handwheel.plan', 'handwheel.workshop', 'handwheel.stages') "
        "if m in sys.modules) or 0)"
    )
    done = subprocess.run([sys.executable, "-c", code, job(PIN)], capture_output=True, timeout=60, check=False)
    assert (done.returncode, done.stderr) == (0, b"")


def test_a_reader_that_leaves_early_is_no_fault(job):
    words = [sys.executable, "-m", "handwheel", "size", job(PIN)]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        process.stdout.close()
        err = process.stderr.read()
        assert process.wait(timeout=60) == 0
    assert err == b""


def test_open_shows_the_page_until_told_to_stop_and_writes_nothing(job, run, monkeypatch):
    served = []

    def serve_once(self, *_):
        served.append(self.server_address[0])
        raise KeyboardInterrupt

    monkeypatch.setattr("http.server.ThreadingHTTPServer.serve_forever", serve_once)
    path = job(PIN)
    before = sorted(Path(path).parent.iterdir())
    status, out, err = run("open", path)
    assert (status, out, served) == (0, "", ["127.0.0.1"])
    assert "the page is at http://127.0.0.1:" in err
    assert sorted(Path(path).parent.iterdir()) == before


def test_open_of_a_missing_file_serves_nothing(run, monkeypatch, tmp_path):
    monkeypatch.setattr("http.server.ThreadingHTTPServer.serve_forever", lambda self, *_: pytest.fail("served"))
    status, out, err = run("open", str(tmp_path / "none.yaml"))
    assert (status, out) == (2, "")
    assert err == f"{tmp_path / 'none.yaml'}:1:1: there is no such file; give the path of a file\n"


def test_progress_only_where_someone_watches(made, run, monkeypatch, tmp_path):
    assert "planning" not in run("make", str(made[0]), "--out", str(tmp_path / "one"))[2]
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    told = run("make", str(made[0]), "--out", str(tmp_path / "two"))[2].splitlines()
    assert told[:4] == ["reading and sizing ...", "planning pin ...", "reading the wheels ...", "drawing the sheets ..."]
