"""The benchmarks still run, and their methods still solve the same equations; how quickly is not asked here."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize("example", ["ball-arm", "tapping-stand"])
def test_every_method_solves_the_same_equations(example: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(ROOT / "benchmarks"))
    sys.modules.pop("sizing", None)
    import sizing

    for system in sizing.systems(ROOT / "examples" / f"{example}.yaml"):
        for name, solve in sizing.METHODS.items():
            assert np.abs(system.residual(solve(system))).max() < 1e-8, name
        step = 1e-6
        slopes = system.jacobian(system.start)
        for place in range(system.size):
            ahead, behind = system.start.copy(), system.start.copy()
            ahead[place] += step
            behind[place] -= step
            measured = (system.residual(ahead) - system.residual(behind)) / (2 * step)
            assert slopes[:, place] == pytest.approx(measured, abs=1e-5, rel=1e-5)


def test_a_job_of_many_parts_is_sized(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(ROOT / "benchmarks"))
    sys.modules.pop("sizing", None)
    import sizing

    assert len(sizing.size(sizing.read(sizing.many(3).encode())).parts) == 3


@pytest.mark.parametrize("example", ["ball-arm", "tapping-stand"])
def test_every_method_finds_the_same_shapes(example: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(ROOT / "benchmarks"))
    sys.modules.pop("sizing", None)
    import sizing

    for system in sizing.systems(ROOT / "examples" / f"{example}.yaml"):
        found = {name: search(system) for name, search in sizing.EVERY.items()}
        first = next(iter(found.values()))
        assert first
        for name, shapes in found.items():
            assert len(shapes) == len(first), name
            for x in shapes:
                assert min(np.abs(x - y).max() for y in first) < 1e-6, name
