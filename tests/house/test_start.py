"""start.py: what it says when a piece is missing, and that it does not set up twice."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def start(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """start.py as a module, its folder a temporary one with a blank in its name."""
    spec = importlib.util.spec_from_file_location("start", ROOT / "start.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    here = tmp_path / "a folder"
    (here / ".venv").mkdir(parents=True)
    (here / "pyproject.toml").write_text("[project]\n", encoding="utf-8")
    monkeypatch.setattr(module, "HERE", here)
    monkeypatch.setattr(module, "VENV", here / ".venv")
    monkeypatch.setattr(module, "STAMP", here / ".venv" / "stamp.txt")
    return module


def test_an_old_python_is_told_which_to_get(start: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 9, 2))
    with pytest.raises(start.Missing, match=r"needs Python 3\.11 or newer and this is Python 3\.9\.2; install a newer"):
        start.need_python()


def test_a_missing_ensurepip_names_the_package(start: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(start, "answers", lambda command: "ensurepip" not in command[-1])
    package = f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"
    with pytest.raises(start.Missing, match=f"without its module ensurepip; .*{package}"):
        start.need_python()


@pytest.mark.parametrize(
    ("said", "cure"),
    [
        ("WARNING: Retrying: Temporary failure in name resolution\nERROR: No matching distribution found", "index"),
        ("ERROR: Could not find a version of x\nnote: no fault of pip", "Could not find a version of x"),
        ("OSError: [Errno 28] No space left on device", "disk is full"),
        ("ERROR: something of another kind", "something of another kind"),
    ],
)
def test_why_pip_failed_says_the_cure(start: ModuleType, said: str, cure: str) -> None:
    told = start.why_pip_failed(said)
    assert cure in told
    assert told.endswith("then run start.py again")


def test_a_stamp_stands_until_the_project_changes(start: ModuleType) -> None:
    assert not start.is_installed("")
    start.STAMP.write_text(start.stamp_for("") + "\n", encoding="utf-8")
    assert start.is_installed("")
    assert not start.is_installed("test"), "the tests need more than the program does"
    start.STAMP.write_text(start.stamp_for("test") + "\n", encoding="utf-8")
    assert start.is_installed("")
    (start.HERE / "pyproject.toml").write_text("[project]\nname = 'x'\n", encoding="utf-8")
    assert not start.is_installed("test")


def test_an_unknown_word_is_refused(start: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert start.main(["tset"]) == 2
    assert "python3 start.py [test]" in capsys.readouterr().err


def test_it_needs_the_standard_library_alone() -> None:
    import ast

    tree = ast.parse((ROOT / "start.py").read_text(encoding="utf-8"))
    for node in ast.walk(tree):
        names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
        names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        assert all(name.split(".")[0] in sys.stdlib_module_names for name in names)
