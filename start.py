"""Sets handwheel up beside this file and runs it; needs Python alone, nothing installed.

    python3 start.py         set up, make the sheets of the example job, say where they are
    python3 start.py test    set up with what the tests need, run every check

Only the standard library is used here, since nothing else is there yet. Where a piece is missing it says which and
what to do. Setting up is skipped when it was done before for this pyproject.toml and this Python.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
VENV = HERE / ".venv"
STAMP = VENV / "handwheel-installed.txt"
DEMO = Path("examples") / "tapping-stand.yaml"
SHEETS = Path("out") / "tapping-stand"
OLDEST = (3, 11)
USE = "python3 start.py [test]"


class Missing(Exception):
    """Something this computer lacks; the text says what and how to mend it."""


def say(text: str) -> None:
    """A line for a person, on standard error, at once, on any console."""
    coding = sys.stderr.encoding or "ascii"
    print(text.encode(coding, "replace").decode(coding), file=sys.stderr, flush=True)


def venv_python() -> Path:
    """The Python of the environment beside this file, whether it is there or not."""
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def answers(command: list[str]) -> bool:
    """Whether the command can be run and ends well."""
    try:
        return subprocess.run(command, capture_output=True, check=False).returncode == 0
    except OSError:
        return False


def need_python() -> None:
    """Python new enough, with venv and ensurepip."""
    if sys.version_info < OLDEST:
        found = ".".join(str(n) for n in sys.version_info[:3])
        raise Missing(
            f"handwheel needs Python {OLDEST[0]}.{OLDEST[1]} or newer and this is Python {found}; install a newer one "
            "(on Debian or Ubuntu: sudo apt install python3.11 python3.11-venv), then run start.py with it, "
            "for example: python3.11 start.py"
        )
    for module in ("venv", "ensurepip"):
        if not answers([sys.executable, "-c", f"import {module}"]):
            raise Missing(
                f"this Python comes without its module {module}; on Debian or Ubuntu: sudo apt install "
                f"python{sys.version_info[0]}.{sys.version_info[1]}-venv; elsewhere install Python from its own "
                "installer, which has it; then run start.py again"
            )


def make_venv() -> None:
    """An environment with a Python and pip that work; one that is broken is made again."""
    if answers([str(venv_python()), "-m", "pip", "--version"]):
        return
    need_python()
    say("Making an environment in .venv ...")
    command = [sys.executable, "-m", "venv", "--clear", str(VENV)]
    made = subprocess.run(command, capture_output=True, text=True, errors="replace", check=False)
    if made.returncode != 0:
        raise Missing(
            f"an environment could not be made in {VENV.name}: {last_line(made.stdout + made.stderr)}; see that the "
            "folder can be written to and the disk has room (about 600 MB), then run start.py again"
        )


def last_line(text: str) -> str:
    """The last line that tells of an error, else the last with anything on it."""
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    errors = [line.partition("ERROR:")[2].strip() for line in lines if line.startswith("ERROR:")]
    return (errors or lines or ["no reason given"])[-1]


def stamp_for(extra: str) -> str:
    """What the environment was set up from: any difference sets it up again."""
    digest = hashlib.sha256((HERE / "pyproject.toml").read_bytes()).hexdigest()
    return f"{digest} {sys.version_info[0]}.{sys.version_info[1]} {HERE} [{extra}]"


def is_installed(extra: str) -> bool:
    """Whether it was set up before from the same; what the tests need includes what the program needs."""
    try:
        found = STAMP.read_text(encoding="utf-8").strip()
    except OSError:
        return False
    return found in (stamp_for(extra), stamp_for("test"))


def install(extra: str) -> None:
    """The project and what it needs, into the environment."""
    make_venv()
    if is_installed(extra):
        return
    say("Installing handwheel and what it needs (a minute or two the first time) ...")
    what = f"{HERE}[{extra}]" if extra else str(HERE)
    command = [str(venv_python()), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--editable", what]
    done = subprocess.run(command, capture_output=True, text=True, errors="replace", check=False, cwd=HERE)
    if done.returncode != 0:
        raise Missing(why_pip_failed(done.stdout + done.stderr))
    STAMP.write_text(stamp_for(extra) + "\n", encoding="utf-8")


def why_pip_failed(output: str) -> str:
    """pip's failure in a line, with the cure."""
    low = output.lower()
    unreachable = (
        "connection", "name resolution", "no matching distribution", "could not find a version",
        "timed out", "proxy", "ssl",
    )
    if "no space left" in low:
        return "the disk is full; make room (about 600 MB), then run start.py again"
    if any(word in low for word in unreachable):
        return (
            f"pip cannot fetch what handwheel needs from its package index: {last_line(output)}; connect to the "
            "network, or point pip at an index or a folder of wheels you can reach (pip config set global.index-url, "
            "or the variable PIP_FIND_LINKS), then run start.py again"
        )
    return f"pip could not install handwheel: {last_line(output)}; mend that, then run start.py again"


def run(program: str, *words: str) -> int:
    """A program of the environment, in this folder, its output straight through."""
    path = venv_python().with_name(program + (".exe" if os.name == "nt" else ""))
    environment = os.environ | {"PYTHONUTF8": "1"}
    return subprocess.run([str(path), *words], cwd=HERE, env=environment, check=False).returncode


def demo() -> int:
    """The sheets of the example job."""
    install("")
    code = run("handwheel", "make", str(DEMO), "--out", str(SHEETS))
    if code == 0:
        say(f"\nThe sheets are in {HERE / SHEETS}:")
        say(f"  open {SHEETS / 'index.html'} in a browser, or print {SHEETS / 'sheets.pdf'}.")
    return code


def test() -> int:
    """Every check; the tests last, so that the last line is their count. 0 only when all are clean."""
    install("test")
    checks = {
        "lint": ("ruff", "check", "."),
        "types": ("mypy",),
        "layers": ("lint-imports", "--no-cache"),
    }
    failed = []
    for name, words in checks.items():
        say(f"{name}:")
        if run(*words) != 0:
            failed.append(name)
    if failed:
        say(f"not clean: {', '.join(failed)} (see above); the tests still run")
    say("tests:")
    code = run("pytest", "-n", "2", "--dist", "loadgroup")
    return code or (1 if failed else 0)


def main(words: list[str]) -> int:
    """0 when all went well."""
    jobs = {(): demo, ("test",): test}
    job = jobs.get(tuple(words))
    if job is None:
        say(f"start.py: '{' '.join(words)}' is not a word it knows; use: {USE}")
        return 2
    try:
        return job()
    except Missing as missing:
        say(f"start.py: {missing}")
        return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
