"""The command `change`: what it prints, what it writes, and that it writes all or nothing."""

from __future__ import annotations

import os
import re
import stat
from pathlib import Path

import pytest

from handwheel.cli import change as command
from handwheel.cli.changeoptions import OPTIONS
from handwheel.cli.files import write_over
from handwheel.cli.main import main
from handwheel.cli.wrong import InputWrong

ROOT = Path(__file__).parents[2]
STAND = (ROOT / "examples" / "tapping-stand.yaml").read_bytes()
SIZE = ("--size", "lock lever", "hub diameter: 5/8")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "stand.yaml"
    path.write_bytes(STAND.replace(b"\n", b"\r\n"))
    path.chmod(0o640)
    return path


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    status = main(["change", *words])
    out, err = capsys.readouterr()
    return status, out, err


def test_a_size_is_changed_in_the_file_and_its_line_printed(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = run(capsys, str(job), *SIZE)
    line = 1 + STAND.decode().split("\n").index("      hub diameter: 11/16 ± 0.002")
    assert (status, err) == (0, "")
    assert out == f"{line:5} -       hub diameter: 11/16 ± 0.002\n{line:5} +       hub diameter: 5/8\n"
    assert job.read_bytes() == STAND.replace("11/16 ± 0.002".encode(), b"5/8").replace(b"\n", b"\r\n")
    assert os.name != "posix" or stat.S_IMODE(job.stat().st_mode) == 0o640
    assert [path.name for path in job.parent.iterdir()] == ["stand.yaml"]


def test_show_writes_nothing(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before, when = job.read_bytes(), job.stat().st_mtime_ns
    status, out, _ = run(capsys, str(job), *SIZE, "--show")
    assert (status, out.count("\n"), job.read_bytes(), job.stat().st_mtime_ns) == (0, 2, before, when)
    assert run(capsys, str(job), "--part", "lock lever", "quantity: 2")[:2] == (0, "the file says so already\n")
    assert job.stat().st_mtime_ns == when


def test_every_option_in_the_order_typed(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, _, err = run(
        capsys, str(job), "--rename", "lock lever", "shank", "arm", "--size", "lock lever", "arm right diameter: 9/32 ± 0.01",
        "--without", "lever knob", "socket depth", "--made", "lock lever 2", "hub diameter: 0.687", "--part", "feed arm",
        "stock: round 5/8", "--job", "general tolerance: ± 0.004", "--rename-part", "lock lever", "big lever",
        "--rename-assembly", "long lever", "pair", "--item", "arm collar", "rim", "cone: lip",
        "--option", "lever knob", "socket", "finish: bored", "--without-item", "feed arm", "tip")  # fmt: skip
    assert (status, err) == (0, "")
    text = STAND.decode()
    lever, rest = text[text.index("  lock lever:"):text.index("  lever knob:")], text[text.index("  lever knob:"):]
    lever = lever.replace("shank", "arm").replace("9/32", "9/32 ± 0.01").replace(" lock lever", " big lever", 1)
    lever = lever.replace("like: lock lever", "like: big lever")
    for old, new in (("shank right diameter of", "arm right diameter of"), ("on shank right of lock", "on arm right of lock"),
                     ("on shank right of short", "on arm right of short"), (" lock lever", " big lever"),
                     ("short big lever", "short lock lever"), ("  long lever:", "  pair:"),
                     ("      socket depth: 0.225\n", ""), ("finish: reamed", "finish: bored")):
        rest = rest.replace(old, new)
    head = text[:text.index("  lock lever:")].replace("± 0.005", "± 0.004").replace(
        "    note: sheet 2, item 4\n", "    stock: round 5/8\n    note: sheet 2, item 4\n").replace(
        "      - cylinder: rim\n", "      - cylinder: rim\n      - cone: lip\n").replace(
        "      - {chamfer: tip, size: 0.5 mm x 45 deg}\n", "")
    made = "\nas made:\n  big lever 2:\n    hub diameter: 0.687\n"
    assert job.read_bytes().decode().replace("\r\n", "\n") == head + lever + rest + made
    assert b"\n" not in job.read_bytes().replace(b"\r\n", b"")


def test_the_route_found_is_written_out_and_found_again(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = run(capsys, str(job), "--rename", "lever knob", "bulb", "grip", "--route", "lever knob")
    assert (status, err) == (0, "")
    lines = [line[8:] for line in out.splitlines() if " + " in line]
    start = lines.index("    route:")
    found = [line.strip() for line in lines[start + 1 :] if line.startswith("      - ")]
    assert found[0].startswith("- {hold: ")
    assert len(found) > 3
    assert not any("bulb" in line for line in found)
    again = job.read_bytes()
    assert run(capsys, str(job), "--route", "lever knob")[:2] == (0, "the file says so already\n")
    assert job.read_bytes() == again
    text = again.decode().replace("\r\n", "\n")
    named = STAND.decode().replace("bulb", "grip", 4)
    at = named.index("\n  short lever knob:")
    assert text.startswith(named[:at].replace("ball: bulb", "ball: grip"))


def test_a_route_that_cannot_be_made_is_told_and_nothing_written(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = job.read_bytes()
    status, out, err = run(capsys, str(job), "--size", "arm collar", "rim diameter: 30", "--route", "arm collar")
    assert (status, out, job.read_bytes()) == (1, "", before)
    assert err.startswith("arm collar: cannot be made in ")
    told = "--route:1:1: there is no part 'arm color'; did you mean 'arm collar'?\n"
    assert run(capsys, str(job), "--route", "arm color") == (2, "", told)


@pytest.mark.parametrize(("words", "told"), [
    (("--size", "lock lever", "hub diameter 5/8", "--size", "lock lever", "hub diameter:  5,8", *SIZE),
     "--size:1:1: 'hub diameter 5/8' is not 'PHRASE: VALUE'; write it like 'hub diameter: 3/4'\n"),
    (("--size", "lock lever", " hub diameter:  5,8", *SIZE, "--rename-part", "lok lever", "x"),
     "--size:1:17: '5,8' has a comma in it; write '5.8'\n"
     "--rename-part:1:1: there is no part 'lok lever'; did you mean 'lock lever'?\n"),
    ((), "command line:1:1: nothing is said to be changed; see handwheel change --help\n"),
])  # fmt: skip
def test_faults_are_all_told_and_nothing_is_written(
    job: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], told: str
) -> None:
    before = job.read_bytes()
    assert run(capsys, str(job), *words) == (2, "", told)
    assert job.read_bytes() == before


def test_a_file_with_faults_is_not_changed(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job.write_bytes(STAND.replace(b"units: inch", b"units: ell"))
    status, out, err = run(capsys, str(job), *SIZE)
    assert (status, out) == (2, "")
    assert err.startswith(f"{job}:6:8: 'ell' is not a unit")
    assert run(capsys, str(job.parent / "none.yaml"), *SIZE)[0] == 2


@pytest.mark.skipif(os.name != "posix", reason="links need a permission of their own elsewhere")
def test_a_link_stays_a_link_and_a_file_changed_meanwhile_is_left(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    link = job.with_name("link.yaml")
    link.symlink_to(job)
    assert run(capsys, str(link), *SIZE)[0] == 0
    assert link.is_symlink()
    assert b"hub diameter: 5/8\r\n" in job.read_bytes()
    kept = job.read_bytes()
    with pytest.raises(InputWrong, match="changed by another program meanwhile"):
        write_over(str(job), kept + b"#", b"new")
    assert job.read_bytes() == kept


def test_a_file_that_cannot_be_replaced_is_left_whole(
    job: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_: object, __: object) -> None:
        raise PermissionError(13, "held")

    before = job.read_bytes()
    monkeypatch.setattr(os, "replace", refuse)
    status, _, err = run(capsys, str(job), *SIZE)
    assert status == 2
    assert "cannot be replaced" in err
    assert job.read_bytes() == before
    assert [path.name for path in job.parent.iterdir()] == ["stand.yaml"]


def test_the_guide_tells_every_option() -> None:
    guide = (ROOT / "docs" / "changing.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| `(--[a-z-]+)([^`]*)` \|", guide, re.MULTILINE)
    assert [(name, words.replace('"', "").strip()) for name, words in rows] == [
        (name, " ".join(words)) for name, words, _ in OPTIONS]
    assert command.changed_lines(b"a\nb\n", b"a\nc\nb\n") == ["    2 + c"]
