"""Exit statuses and what goes where, whatever lies behind: one line, never a traceback."""

import pytest

import handwheel.cli.main as command_line
from handwheel.cli.main import main


def run(capsys, *words: str) -> tuple[int, str, str]:
    status = main(words)
    told = capsys.readouterr()
    return status, told.out, told.err


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ((), "the following arguments are required: COMMAND"),
        (("shape", "job.yaml"), "invalid choice: 'shape'"),
        (("make",), "the following arguments are required: JOB"),
        (("make", "job.yaml", "--paper", "a0"), "invalid choice: 'a0'"),
        (("size", "job.yaml", "--loud"), "unrecognized arguments: --loud"),
        (("open", "job.yaml", "--port", "x"), "invalid int value: 'x'"),
    ],
)
def test_a_wrong_command_line_is_one_line(capsys, words, expected):
    status, out, err = run(capsys, *words)
    assert (status, out) == (2, "")
    assert err.startswith("command line:1:1: ")
    assert expected in err
    assert err.count("\n") == 1


def test_help_is_an_answer(capsys):
    status, out, err = run(capsys, "--help")
    assert (status, err) == (0, "")
    assert all(command in out for command in ("make", "size", "ask", "open"))


@pytest.mark.parametrize("command", ["make", "size", "open"])
def test_a_job_file_that_is_not_there(capsys, tmp_path, command):
    path = tmp_path / "no such job.yaml"
    status, out, err = run(capsys, command, str(path))
    assert (status, out) == (2, "")
    assert err == f"{path}:1:1: there is no such file; give the path of a file\n"
    assert list(tmp_path.iterdir()) == []


def test_a_fault_of_our_own_is_one_line_and_status_three(capsys, monkeypatch):
    def broken(argv):
        raise RuntimeError("two\nlines")

    monkeypatch.setattr(command_line, "_run", broken)
    monkeypatch.delenv("HANDWHEEL_TRACEBACK", raising=False)
    status, out, err = run(capsys, "size", "job.yaml")
    assert (status, out) == (3, "")
    assert err.startswith("handwheel: ")
    assert "RuntimeError: two lines" in err
    assert err.count("\n") == 1


def test_a_developer_may_see_the_whole_of_it(monkeypatch):
    def broken(argv):
        raise RuntimeError("here")

    monkeypatch.setattr(command_line, "_run", broken)
    monkeypatch.setenv("HANDWHEEL_TRACEBACK", "1")
    with pytest.raises(RuntimeError, match="here"):
        main(["size", "job.yaml"])


def test_stopped_by_hand(capsys, monkeypatch):
    def stopped(argv):
        raise KeyboardInterrupt

    monkeypatch.setattr(command_line, "_run", stopped)
    assert run(capsys, "size", "job.yaml") == (2, "", "stopped\n")
