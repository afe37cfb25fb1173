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


@pytest.mark.parametrize(("kind", "sizes"), [("levers", 6), ("shafts", 40), ("stack", 10)])
def test_a_large_job_is_sized_and_an_edit_of_it(kind: str, sizes: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(ROOT / "benchmarks"))
    for name in ("sizing", "jobs", "scale"):
        sys.modules.pop(name, None)
    import jobs
    import scale
    import sizing

    job = sizing.read(getattr(jobs, kind)(5).encode())
    assert len(job.parts[0].dimensions) == sizes + (kind == "stack")
    assert len(sizing.size(job).parts) == 5
    if kind != "stack":
        again = scale.size_again(scale.size_again(None, job), scale.edited(job, 2))
        assert again.sized_anew == (job.parts[2].name,)


@pytest.mark.parametrize("example", ["ball-arm", "tapping-stand"])
def test_what_any_method_finds_is_among_the_shapes_found(example: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(ROOT / "benchmarks"))
    sys.modules.pop("sizing", None)
    import sizing

    for system in sizing.systems(ROOT / "examples" / f"{example}.yaml"):
        found = {name: search(system) for name, search in sizing.EVERY.items()}
        first = next(iter(found.values()))
        assert first
        for k, x in enumerate(first):
            assert np.abs(system.residual(x)).max() < 1e-8
            assert all(np.abs(x - y).max() > 1e-4 for y in first[:k])
        for name, shapes in found.items():
            assert shapes, name
            for x in shapes:
                assert min(np.abs(x - y).max() for y in first) < 1e-6, name


def test_positions_one_after_another_leave_no_more_than_a_micrometre(monkeypatch: pytest.MonkeyPatch) -> None:
    """A 45° point leaves ridges half a step high, going along; a square nose may go its own width."""
    monkeypatch.syspath_prepend(str(ROOT / "benchmarks"))
    sys.modules.pop("making", None)
    import making

    point = np.array([[0.0, 0.0], [4.0, 4.0], [-4.0, 4.0]])
    start, end = np.array([0.0, 0.0]), np.array([20.0, 0.0])
    assert making.greatest_step(point, start, end) == pytest.approx(2.0 * making.CUSP_MM, rel=0.01)
    square = np.array([[0.0, 0.0], [3.0, 0.0], [3.0, 9.0], [0.0, 9.0]])
    assert making.greatest_step(square, start, end) == pytest.approx(3.0, abs=0.01)


def test_a_job_of_many_parts_is_made_of_those_that_can_be(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(ROOT / "benchmarks"))
    sys.modules.pop("making", None)
    import making
    import sizing

    job = sizing.read(making.many([ROOT / "gallery" / "engine-fittings.yaml"], 12).encode())
    assert len(job.parts) == 12
    assert len({part.name for part in job.parts}) == 12
