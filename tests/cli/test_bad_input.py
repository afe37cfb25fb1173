"""Files that are no job files, given to `size` and `make`: exit 2, the whole of standard error, nothing written."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

HEAD = b"handwheel: 1\njob: J\nunits: mm\n"
PIN = b"parts:\n  pin:\n    outside:\n      - {cylinder: body, diameter: 10, length: 20}\n"
BOMB = b"a: &a [x, x]\nb: &b [*a, *a]\n"
NOT_A_JOB = ["1:1: the job does not say its units; add 'units: inch' or 'units: mm'",
             "1:1: the file does not say that it is a job file; begin it with 'handwheel: 1'",
             "1:1: the job has no name; add 'job: NAME'", "1:1: the job has no parts; add 'parts:'"]
KEYS = "known here: as made, assemblies, general tolerance, handwheel, job, parts, units, workshop"

CASES: list[tuple[str, bytes, list[str]]] = [
    ("empty", b"", ["1:1: there is nothing in the file; begin it with 'handwheel: 1'"]),
    ("only a byte order mark", b"\xef\xbb\xbf", ["1:1: there is nothing in the file; begin it with 'handwheel: 1'"]),
    ("blanks and comments", b"\n  \n# x\n", ["1:1: there is nothing in the file; begin it with 'handwheel: 1'"]),
    ("NUL", HEAD + b"note: a\x00b\n", ["4:8: the character U+0000 has no place in a job file; delete it"]),
    ("every byte", bytes(range(256)), ["3:115: byte 0x80 is not UTF-8 text; save the file as UTF-8"]),
    ("a program", b"\x7fELF\x02\x01\x01\x00", ["1:1: the character U+007F has no place in a job file; delete it"]),
    ("half a surrogate pair", b"job: \xed\xa0\x80\n", ["1:6: byte 0xED is not UTF-8 text; save the file as UTF-8"]),
    ("UTF-16", (HEAD + PIN).decode().encode("utf-16"), ["1:1: the file is UTF-16, not UTF-8; save it as UTF-8"]),
    ("fifty million bytes", b"a: 1\n" * 10_000_000,
     ["1:1: the file is 50000000 bytes long, more than 5000000; split the job over several files"]),
    ("brackets without end", b"[" * 100_000, ["1:1001: nested too deep; write it flatter"]),
    ("deep", b"".join(b" " * n + b"a:\n" for n in range(2000)), ["21:21: nested more than 20 deep; write it flatter"]),
    ("a tab", HEAD + b"parts:\n\tpin: 1\n", ["5:1: a tab indents this line; indent with blanks"]),
    ("aliases of aliases", BOMB, [
        *NOT_A_JOB, f"1:1: the job has no 'a'; {KEYS}",
        "1:4: '&a' is an anchor, which is not read; delete it", f"2:1: the job has no 'b'; {KEYS}",
        "2:4: '&b' is an anchor, which is not read; delete it",
        "2:8: '*a' is an alias, which is not read; write the text out, or put it in quotes",
        "2:12: '*a' is an alias, which is not read; write the text out, or put it in quotes"]),
    ("a list", b"- 1\n", ["1:1: a job file is made of 'key: value'; begin it with 'handwheel: 1'"]),
    ("a wrong unit and a comma", HEAD + PIN + b"    dimensions:\n      body diameter: 2 cm\n      body length: 25,4 mm\n",
     ["9:24: 'cm' is not a unit here; write it in mm", "10:20: '25,4' has a comma in it; write '25.4'"]),
    ("a mixed number with a hyphen and a drill emptied", HEAD + PIN +
     b"    dimensions:\n      body length: 1-7/16\"\n      body diameter: #7 drill\n",
     ["9:20: '1-7/16' could be a sum; write '1 7/16' for the mixed number, '1 - 7/16' for the sum",
      "10:22: 'body diameter' is empty: '#' begins a comment, so '#7 drill' is not read; write 'No. 7 drill'"]),
]  # fmt: skip


def run(*words: str, folder: Path) -> tuple[int, str, list[str]]:
    done = subprocess.run([sys.executable, "-m", "handwheel", *words], cwd=folder, capture_output=True, text=True,
                          timeout=120, check=False)
    return done.returncode, done.stdout, done.stderr.splitlines()


def under(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*")}


@pytest.mark.parametrize(("data", "told"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_a_bad_file_is_told_and_nothing_is_written(data: bytes, told: list[str], tmp_path: Path) -> None:
    (tmp_path / "j.yaml").write_bytes(data)
    lines = [f"j.yaml:{each}" for each in told]
    assert run("make", "j.yaml", "--out", "new", folder=tmp_path) == (2, "", lines)
    assert under(tmp_path) == {"j.yaml"}


@pytest.mark.parametrize("command", [["size"], ["make"], ["make", "--out", "new"]], ids=["size", "make", "make out"])
def test_a_folder_or_no_file_at_all(command: list[str], tmp_path: Path) -> None:
    (tmp_path / "j.yaml").mkdir()
    told = ["j.yaml:1:1: this is a folder; give the file inside it"]
    assert run(*command, "j.yaml", folder=tmp_path) == (2, "", told)
    assert run(*command, "k.yaml", folder=tmp_path) == (
        2, "", ["k.yaml:1:1: there is no such file; give the path of a file"])
    code, out, err = run(*command, "n" * 400, folder=tmp_path)
    assert (code, out, len(err)) == (2, "", 1)
    assert "the file cannot be read (File name too long)" in err[0]
    assert under(tmp_path) == {"j.yaml"}


@pytest.mark.parametrize("spell", [
    lambda data: data, lambda data: b"\xef\xbb\xbf" + data, lambda data: data.replace(b"\n", b"\r\n"),
    lambda data: data.rstrip(b"\n"), lambda data: data.replace(b"body, ", b"body,\t"),
    lambda data: data.replace(b"{", b"{\n          ").replace(b", ", b",\n          ")],
    ids=["plain", "byte order mark", "CRLF", "no line end at the end", "tab between", "over lines"])
def test_the_same_job_in_other_spellings(spell: object, tmp_path: Path) -> None:
    assert callable(spell)
    (tmp_path / "j.yaml").write_bytes(HEAD + PIN)
    (tmp_path / "k.yaml").write_bytes(spell(HEAD + PIN))
    plain = run("size", "j.yaml", folder=tmp_path)
    assert plain[0] == 0
    assert run("size", "k.yaml", folder=tmp_path)[:2] == plain[:2]
