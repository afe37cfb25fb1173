"""Measures handwheel beside what one would otherwise pick, in one run, and prints a table.

    python benchmarks/run.py [--quick]

Needs the test extra (SciPy). Nothing is asserted: a time is a fact about one machine on one day, the ratios carry
further. README.md beside this file says how each row is measured.
"""

from __future__ import annotations

import argparse
import platform
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import making
import numpy as np
import scale
import sizing

ROOT = Path(__file__).resolve().parents[1]
DEMO = ROOT / "examples" / "tapping-stand.yaml"


def median_s(work: Callable[[], object], times: int) -> float:
    """Median wall time of the work, once warmed. [s]"""
    work()
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def processor_s(work: Callable[[], object], times: int) -> float:
    """Least processor time of the work, once warmed: what other work on the machine disturbs least. [s]"""
    work()
    taken = []
    for _ in range(times):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return min(taken)


def row(name: str, seconds: float, beside: str = "") -> None:
    print(f"| {name} | {seconds * 1000:,.1f} | {beside} |", flush=True)


def head(title: str) -> None:
    print(f"\n**{title}**\n\n| what | ms | beside |\n| --- | ---: | --- |")


def solve_all(solve: Callable[[sizing.System], object], systems: list[sizing.System]) -> list[object]:
    return [solve(system) for system in systems]


def search_all(search: Callable[[sizing.System], object], systems: list[sizing.System]) -> list[object]:
    return [search(system) for system in systems]


def solver(times: int) -> None:
    """One example's equations after another, all methods from one start, to one tolerance."""
    for path in sorted((ROOT / "examples").glob("*.yaml")):
        systems = sizing.systems(path)
        count = sum(system.size for system in systems)
        head(f"{path.name}: {count} unknowns in {len(systems)} tied groups, same equations and start")
        least = 0.0
        for method, solve in sizing.METHODS.items():
            ends = [solve(system) for system in systems]
            left = max(float(np.abs(system.residual(end)).max()) for system, end in zip(systems, ends, strict=True))
            taken = processor_s(partial(solve_all, solve, systems), times)
            least = least or taken
            row(method, taken, f"{taken / least:.1f} times the first; residual left {left:.0e}")
        least = 0.0
        for method, search in sizing.EVERY.items():
            shapes = sum(len(search(system)) for system in systems)
            taken = processor_s(partial(search_all, search, systems), times)
            least = least or taken
            row(f"every shape: {method}", taken, f"{taken / least:.1f} times; {shapes} shapes found")


def commands(times: int) -> None:
    """Whole commands, each in a process of its own."""
    head("commands, each a fresh process")
    python = [sys.executable, "-c", "pass"]
    bare = median_s(lambda: subprocess.run(python, check=True), times)
    row("Python alone", bare)
    row_of(["size", str(DEMO)], "handwheel size, the demo", bare, times)
    with tempfile.TemporaryDirectory() as folder:
        row_of(["make", str(DEMO), "--out", folder], "handwheel make, the demo, PDF and all", bare, times)
    scipy = [sys.executable, "-c", "from scipy.optimize import least_squares"]
    taken = median_s(lambda: subprocess.run(scipy, check=True), times)
    row("importing SciPy's least_squares, for comparison", taken, f"{taken / bare:.1f} times Python alone")


def row_of(words: list[str], name: str, bare: float, times: int) -> None:
    command = [sys.executable, "-m", "handwheel", *words]
    status = subprocess.run(command, capture_output=True, check=False).returncode
    taken = median_s(lambda: subprocess.run(command, capture_output=True, check=False), times)
    note = "" if status == 0 else f"; exit status {status}"
    row(name, taken, f"{taken / bare:.1f} times Python alone{note}")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="three measurements of each instead of eleven")
    times = 3 if parser.parse_args().quick else 11
    print(f"Python {platform.python_version()}, {platform.machine()}, {times} times after a warm-up")
    solver(times)
    few = max(3, times // 3)
    head("large jobs")
    scale.large(row, processor_s, few)
    head("one dimension edited")
    scale.edit(row, processor_s, times)
    head("many copies made at random within their limits")
    scale.copies(row, processor_s, DEMO)
    gallery = [ROOT / "gallery" / f"{name}.yaml" for name in ("engine-fittings", "twenty-parts")]
    head("metal left, beside a polygon difference at every position of the tool")
    making.stages(row, processor_s, ROOT / "gallery" / "jack-and-lever.yaml")
    head("large jobs with their sheets")
    making.large_jobs(row, gallery, (25, 50, 100))
    head("pages as PDF")
    making.pdf(row, processor_s, gallery[0])
    commands(times)


if __name__ == "__main__":
    main()
