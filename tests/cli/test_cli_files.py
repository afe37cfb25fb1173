"""A folder of sheets is written whole or not at all, and an input that cannot be read says so in one line."""

import os
from pathlib import Path

import pytest

from handwheel.cli.files import read_input, write_all
from handwheel.cli.wrong import InputWrong

NEW = {"a.svg": b"new a", "index.html": b"new page", "sheets.pdf": b"new pdf"}


def held(monkeypatch, name: str) -> None:
    """os.replace onto that file fails, as it does where a viewer holds it open."""
    real = os.replace

    def replace(source, target):
        if Path(target).name == name:
            raise PermissionError(13, "Permission denied", str(target))
        real(source, target)

    monkeypatch.setattr(os, "replace", replace)


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_writes_all_and_touches_nothing_else(tmp_path):
    (tmp_path / "my notes.txt").write_bytes(b"keep")
    write_all(tmp_path, NEW)
    assert contents(tmp_path) == NEW | {"my notes.txt": b"keep"}


def test_makes_a_folder_with_blanks_in_its_name(tmp_path):
    write_all(tmp_path / "tapping stand sheets" / "first go", NEW)
    assert contents(tmp_path / "tapping stand sheets" / "first go") == NEW


@pytest.mark.parametrize("name", list(NEW))
def test_a_file_held_open_leaves_everything_as_it_was(tmp_path, monkeypatch, name):
    before = {"a.svg": b"old a", "sheets.pdf": b"old pdf", "index.html": b"old page"}
    for each, data in before.items():
        (tmp_path / each).write_bytes(data)
    held(monkeypatch, name)
    with pytest.raises(InputWrong) as raised:
        write_all(tmp_path, NEW)
    assert contents(tmp_path) == before
    (fault,) = raised.value.faults
    assert fault.line() == (
        f"{tmp_path / name}:1:1: the file cannot be replaced, another program may hold it open; "
        "nothing has been changed; close it in the viewer and make again"
    )


def test_a_first_make_that_fails_leaves_no_files(tmp_path, monkeypatch):
    held(monkeypatch, "sheets.pdf")
    with pytest.raises(InputWrong):
        write_all(tmp_path / "out", NEW)
    assert not (tmp_path / "out").exists()


def test_what_cannot_be_put_back_is_named(tmp_path, monkeypatch):
    (tmp_path / "a.svg").write_bytes(b"old a")
    real, calls = os.replace, []

    def replace(source, target):
        calls.append(target)
        if len(calls) > 1:
            raise PermissionError(13, "Permission denied", str(target))
        real(source, target)

    monkeypatch.setattr(os, "replace", replace)
    with pytest.raises(InputWrong) as raised:
        write_all(tmp_path, {"a.svg": b"new a", "b.svg": b"new b"})
    assert "these are already the new ones: a.svg" in raised.value.faults[0].what


def test_a_disk_that_is_full_leaves_everything_as_it_was(tmp_path, monkeypatch):
    (tmp_path / "a.svg").write_bytes(b"old a")
    real = Path.write_bytes

    def write_bytes(self, data):
        if self.name.startswith(".sheets.pdf"):
            real(self, data[:2])
            raise OSError(28, "No space left on device")
        return real(self, data)

    monkeypatch.setattr(Path, "write_bytes", write_bytes)
    with pytest.raises(InputWrong, match="No space left"):
        write_all(tmp_path, NEW)
    assert contents(tmp_path) == {"a.svg": b"old a"}


def test_the_folder_is_a_file(tmp_path):
    (tmp_path / "out").write_bytes(b"a file")
    with pytest.raises(InputWrong) as raised:
        write_all(tmp_path / "out", NEW)
    assert "the folder cannot be made" in raised.value.faults[0].what
    assert (tmp_path / "out").read_bytes() == b"a file"


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("nothing.yaml", "there is no such file"),
        ("folder", "this is a folder"),
        ("a\0b.yaml", "the file cannot be read"),
    ],
)
def test_inputs_that_cannot_be_read(tmp_path, name, expected):
    (tmp_path / "folder").mkdir()
    with pytest.raises(InputWrong) as raised:
        read_input(str(tmp_path / name))
    assert raised.value.faults[0].what.startswith(expected)


def test_a_file_without_permission(tmp_path, monkeypatch):
    def refuse(self, mode):
        raise PermissionError(13, "Permission denied", str(self))

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(InputWrong) as raised:
        read_input(str(tmp_path / "job.yaml"))
    assert raised.value.faults[0].what == "the file cannot be read (Permission denied)"
