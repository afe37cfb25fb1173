"""The shape of the source: small modules, each with its opening paragraph; layers kept; only cli touches files."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src" / "handwheel"
MODULES = sorted(SOURCE.rglob("*.py"))
LONGEST_MODULE = 400
LONGEST_FUNCTION = 60


def name_of(path: Path) -> str:
    return path.relative_to(SOURCE).as_posix()


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_module_is_small_and_says_what_it_is(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) < LONGEST_MODULE
    assert ast.get_docstring(ast.parse(text)), "no docstring at the module's top"


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_functions_are_short(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    long = {
        node.name: body_lines(node)
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and body_lines(node) >= LONGEST_FUNCTION
    }
    assert long == {}


def body_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines of a function's body, its docstring apart."""
    body = node.body[1:] if ast.get_docstring(node) and len(node.body) > 1 else node.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1


def imports(tree: ast.Module) -> set[str]:
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            found.add(node.module.split(".")[0])
    return found


INNER = [path for path in MODULES if not name_of(path).startswith("cli/")]
TOUCHING = {"socket", "subprocess", "shutil", "tempfile", "http", "urllib", "sqlite3", "webbrowser"}


@pytest.mark.parametrize("path", INNER, ids=name_of)
def test_only_cli_touches_the_world(path: Path) -> None:
    """No file opened, nothing printed, no exit: all that is for the command line."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    called = {
        node.func.id for node in ast.walk(tree) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    }
    assert not called & {"open", "print", "input", "exit", "quit"}
    assert not imports(tree) & TOUCHING


def test_heavy_libraries_are_not_imported_at_the_top() -> None:
    """typst is wanted for a PDF alone; shapely and scipy are the tests' own, never the program's."""
    for path in MODULES:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        top = imports(ast.Module([n for n in tree.body if isinstance(n, ast.Import | ast.ImportFrom)], []))
        assert not top & {"typst"}, name_of(path)
        assert not imports(tree) & {"scipy", "shapely", "mpmath"}, name_of(path)


def test_layers_hold(monkeypatch: pytest.MonkeyPatch) -> None:
    """A package imports only those below it (pyproject.toml has the order)."""
    from importlinter.cli import EXIT_STATUS_SUCCESS, lint_imports

    monkeypatch.chdir(ROOT)
    assert lint_imports(no_cache=True) == EXIT_STATUS_SUCCESS


def test_the_layers_are_all_the_packages() -> None:
    import tomllib

    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    layers = {name.split(".")[1] for name in settings["tool"]["importlinter"]["contracts"][0]["layers"]}
    assert layers == {path.parent.name for path in SOURCE.glob("*/__init__.py")}
