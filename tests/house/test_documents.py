"""The pages of the project: links resolve, commands and faults are told, Start is two commands, nothing slips in."""

from __future__ import annotations

import ast
import contextlib
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src" / "handwheel"
COMMANDS = ("make", "size", "ask", "change", "open")
TEXT_ENDINGS = {".py", ".md", ".yaml", ".yml", ".toml", ".json", ".txt", ".css", ".typ", ".js", ".html", ".cfg", ""}
SKIPPED = {".venv", ".git", "out", "build", "dist", "__pycache__", ".hypothesis"}

LINK = re.compile(r"\[[^\]]*\]\(([^)\s]+)\)")
FENCE = re.compile(r"^```([^\n]*)\n(.*?)^```", re.MULTILINE | re.DOTALL)


HERE = Path(__file__)


def project_files() -> list[Path]:
    """Every text file of the project, none that was made."""
    found = []
    for path in sorted(ROOT.rglob("*")):
        inside = path.relative_to(ROOT).parts
        is_made = any(p in SKIPPED or p.endswith((".egg-info", "_cache", " sheets")) for p in inside)
        if path.is_file() and not is_made and path.suffix in TEXT_ENDINGS:
            found.append(path)
    return found


def pages() -> list[Path]:
    return [path for path in project_files() if path.suffix == ".md"]


def without_fences(text: str) -> str:
    return FENCE.sub("", text)


def headings(text: str) -> set[str]:
    """The anchors that a page's headings make."""
    found = set()
    for title in re.findall(r"^#+ (.+)$", without_fences(text), re.MULTILINE):
        plain = re.sub(r"[^\w\- ]", "", title.replace("`", "").lower())
        found.add(plain.strip().replace(" ", "-"))
    return found


@pytest.mark.parametrize("page", pages(), ids=lambda p: p.relative_to(ROOT).as_posix())
def test_links_resolve(page: Path) -> None:
    for target in LINK.findall(without_fences(page.read_text(encoding="utf-8"))):
        if re.match(r"[a-z]+:", target):
            continue
        place, _, anchor = target.partition("#")
        there = (page.parent / place).resolve() if place else page
        assert there.exists(), f"{page.name} links to {target}, which is not there"
        if anchor:
            known = headings(there.read_text(encoding="utf-8"))
            assert anchor in known, f"{page.name}: no heading #{anchor} in {place}"


def test_start_is_exactly_two_commands() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    start = re.split(r"^## ", text, flags=re.MULTILINE)
    section = next(part for part in start if part.startswith("Start\n"))
    fenced = [body.strip() for _, body in FENCE.findall(section)]
    assert fenced == ["python3 start.py", "python3 start.py test"]


def test_readme_opens_with_the_job_in_one_paragraph() -> None:
    blocks = (ROOT / "README.md").read_text(encoding="utf-8").split("\n\n")
    assert blocks[0].startswith("# ")
    assert len(blocks[1].split()) > 60
    assert blocks[2] == "## Start"


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_is_told(command: str) -> None:
    told = "\n".join(path.read_text(encoding="utf-8") for path in [ROOT / "README.md", *(ROOT / "docs").rglob("*.md")])
    assert re.search(rf"`?handwheel {command}\b", told)


def test_commands_are_those_the_program_offers(capsys: pytest.CaptureFixture[str]) -> None:
    """So that the list above cannot fall behind: what --help offers is what is told."""
    from handwheel.cli.main import main

    with contextlib.suppress(SystemExit):
        main(["--help"])
    printed = capsys.readouterr()
    helped = printed.out + printed.err
    offered = re.findall(r"^ {4}(\w+) {2,}\S", helped, re.MULTILINE)
    assert sorted(offered) == sorted(COMMANDS), helped


TELLS_A_FAULT = re.compile(r"fault|notice|wrong|complain", re.IGNORECASE)
FAULT_ID = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


def ids_in_source() -> dict[str, str]:
    """Fault and notice ids as written in the source, with a module that uses each."""
    found: dict[str, str] = {}
    for path in SOURCE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                found |= dict.fromkeys(ids_in_call(node), path.name)
    return found


def ids_in_call(node: ast.Call) -> list[str]:
    """The id that a call makes a fault or notice with: its first argument, or `id=`, or `fault_id=`."""
    callee = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
    is_telling = TELLS_A_FAULT.search(callee) or (callee == "add" and len(node.args) > 2)
    given = [*node.args[:1], *(k.value for k in node.keywords if k.arg in ("id", "fault_id"))]
    words = [n.value for n in given if isinstance(n, ast.Constant) and isinstance(n.value, str)]
    return [word for word in words if is_telling and FAULT_ID.fullmatch(word)]


def test_ids_are_found_in_the_source() -> None:
    """So that the next check has something to look at."""
    assert len(ids_in_source()) > 10


def test_every_fault_is_told() -> None:
    told = "".join(page.read_text(encoding="utf-8") for page in (ROOT / "docs").glob("faults*.md"))
    untold = {name: module for name, module in ids_in_source().items() if f"`{name}`" not in told}
    assert untold == {}


def test_architecture_names_every_package() -> None:
    text = (ROOT / "docs" / "architecture.md").read_text(encoding="utf-8")
    rows = set(re.findall(r"^\| `(\w+)` \|", text, re.MULTILINE))
    packages = {path.parent.name for path in SOURCE.glob("*/__init__.py")}
    assert rows == packages


def test_glossary_has_one_meaning_each_in_order() -> None:
    text = (ROOT / "docs" / "glossary.md").read_text(encoding="utf-8")
    words = [row.lower() for row in re.findall(r"^\| ([^|]+?) \| [^|]+ \|$", text, re.MULTILINE)][2:]
    assert len(words) > 50
    assert len(words) == len(set(words))


def test_decisions_are_numbered_without_a_gap() -> None:
    numbers = [int(path.name[:4]) for path in sorted((ROOT / "docs" / "decisions").glob("*.md"))]
    assert numbers == list(range(1, len(numbers) + 1))


FORBIDDEN = {
    "a package index's host": re.compile(r"pypi\W{1,2}org|pythonhost\w+|npmjs\W|crates\W{1,2}io"),
    "a path of one machine": re.compile(r"(?<![\w.])/(?:work|home|root|Users)/\w"),
    "talk about how the text was made": re.compile(r"transcript\b|\bAI\b|language model", re.IGNORECASE),
}


@pytest.mark.parametrize("what", FORBIDDEN)
def test_no_file_holds(what: str) -> None:
    found = []
    for path in project_files():
        if path == HERE:
            continue
        text = path.read_text(encoding="utf-8", errors="replace")
        found += [f"{path.relative_to(ROOT).as_posix()}: {hit.group()}" for hit in FORBIDDEN[what].finditer(text)]
    assert found == []


def test_licence_is_whole() -> None:
    text = (ROOT / "LICENSE").read_text(encoding="utf-8")
    assert "Apache License" in text
    assert "END OF TERMS AND CONDITIONS" in text
