"""Orders with the same set-ups: fewer swings of the slide, never against what has to come first; held against all orders."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest

from handwheel.plan.bench import NO_CUTTER
from handwheel.plan.records import Operation, Setting, Why
from handwheel.plan.sequence import Run
from handwheel.plan.slideorder import Visit, fewest_swings
from handwheel.stages.records import Holding, NoCut

HELD = Holding("chuck", "three-jaw", 0.0, 10.0, "stock", "right", 10.0)


def operation(part: str, number: int, angle: float | None) -> Operation:
    settings = () if angle is None else (Setting("slide angle", f"at {angle}", "", angle, "deg"),)
    return Operation(number=number, part=part, kind="taper", set_up="", holding=HELD, cutter=NO_CUTTER, cut=NoCut(),
                     datum_point="", datum_mm=0.0, why=Why("", (), ""), caution="", settings=settings)  # fmt: skip


Rows = list[tuple[str, int, float | None]]


def case(
    rows: Rows, after: dict[int, tuple[tuple[str, int], ...]] | None = None
) -> tuple[list[Visit], dict[tuple[str, int], Operation]]:
    """A visit a row; `after`: by row, what it waits for."""
    waits = after or {}
    visits = [(f"k{i}", (Run(row[0], f"k{i}", (row[1],), (), waits.get(i, ())),)) for i, row in enumerate(rows)]
    return visits, {(part, number): operation(part, number, angle) for part, number, angle in rows}


def swings(order: tuple[Visit, ...], operations: dict[tuple[str, int], Operation]) -> int:
    angles = [s.value for _, runs in order for run in runs for n in run.numbers for s in operations[run.part, n].settings]
    return sum(a != b for a, b in zip(angles, angles[1:], strict=False))


def holds(order: tuple[Visit, ...]) -> bool:
    """Each part's numbers rise, and what is waited for has been."""
    seen: dict[str, int] = {}
    done: set[tuple[str, int]] = set()
    for _, (run,) in order:
        if run.numbers[0] < seen.get(run.part, 0) or not set(run.after_sizes) <= done:
            return False
        seen[run.part] = run.numbers[0]
        done.add((run.part, run.numbers[0]))
    return True


def test_two_parts_at_one_angle_come_together() -> None:
    visits, operations = case([("plug", 10, 1.4), ("steep", 10, 20.0), ("socket", 10, 1.4)])
    found = fewest_swings(visits, operations)
    assert swings(found, operations) == 1
    assert holds(found)


def test_what_must_come_first_does() -> None:
    rows: Rows = [("a", 10, 1.0), ("b", 10, 2.0), ("a", 20, 1.0)]
    visits, operations = case(rows, {2: (("b", 10),)})
    found = fewest_swings(visits, operations)
    assert holds(found)
    assert swings(found, operations) == 1  # b may go before both


def test_nothing_is_moved_where_no_angle_comes_twice() -> None:
    visits, operations = case([("a", 10, 1.0), ("b", 10, None), ("c", 10, 2.0)])
    assert fewest_swings(visits, operations) == tuple(visits)


@pytest.mark.parametrize("seed", range(40))
def test_against_every_order(seed: int) -> None:
    """Seven visits of three parts: never worse than found, always allowed, and nearly always the least of all orders."""
    rng = np.random.default_rng(seed)
    numbers = {"a": 0, "b": 0, "c": 0}
    rows: Rows = []
    for _ in range(7):
        part = str(rng.choice(list(numbers)))
        numbers[part] += 10
        angle = rng.choice([0.0, 1.4, 20.0])
        rows.append((part, numbers[part], float(angle) if angle else None))
    visits, operations = case(rows)
    found = fewest_swings(visits, operations)
    assert holds(found)
    assert sorted(v[0] for v in found) == sorted(v[0] for v in visits)
    least = min(swings(order, operations) for order in permutations(visits) if holds(order))
    assert least <= swings(found, operations) <= min(swings(tuple(visits), operations), least + 1)
