"""Random drawings of parts whose sizes are known: solving gives the part back, and so does its mirror image."""

from __future__ import annotations

import random

import pytest

from handwheel.drawing.records import SolvedPart, State
from tests.drawing.jobs import part


class Known:
    """A part of cylinders and cones, perhaps with a ball at its left end, every station and radius known."""

    def __init__(self, dice: random.Random) -> None:
        self.kinds, self.left, self.right, self.stations = [], [], [], [0.0]  # type: ignore[var-annotated]
        self.ball = dice.random() < 0.5
        for _ in range(dice.randint(2, 6)):
            self.kinds.append(dice.choice(["cylinder", "cone"]))
            first = dice.uniform(3, 9)
            self.left.append(first)
            self.right.append(first if self.kinds[-1] == "cylinder" else first * dice.uniform(0.4, 0.9))
            self.stations.append(self.stations[-1] + dice.uniform(8, 30))
        if self.ball:
            self.kinds[0] = "ball"
            if self.kinds[1] == "cone":
                self.left[1], self.right[1] = max(self.left[1], self.right[1]), min(self.left[1], self.right[1])
            big = self.left[1] * dice.uniform(1.15, 2.0)
            self.big = big
            length = big + (big**2 - self.left[1] ** 2) ** 0.5
            shift = length - self.stations[1]
            self.stations = [0.0, *(z + shift for z in self.stations[1:])]

    def points(self) -> list[tuple[str, float]]:
        found = [("left end", 0.0), ("right end", self.stations[-1])]
        found += [(f"f{k} right", self.stations[k + 1]) for k in range(len(self.kinds) - 1)]
        return found

    def drawing(self, dice: random.Random) -> list[str]:
        """Just enough dimensions, distances along a random tree of the points."""
        lines = []
        points = self.points()
        dice.shuffle(points)
        fixed = [points[0]]
        tied = {frozenset(("left end", "f0 right"))} if self.ball else set()
        if self.ball:
            # the ball's own length follows from its diameter and its neck's: those two points hang together
            a, b = ("left end", 0.0), ("f0 right", self.stations[1])
            fixed = [a, b]
        for point in points:
            if point in fixed:
                continue
            other = dice.choice(fixed)
            assert frozenset((point[0], other[0])) not in tied
            one, two = sorted([point, other], key=lambda p: p[1])
            if dice.random() < 0.2:
                one, two = two, one
            lines.append(f"{one[0]} to {two[0]}: {abs(two[1] - one[1])!r}")
            fixed.append(point)
        for k, kind in enumerate(self.kinds):
            if kind == "ball":
                lines.append(f"f{k} diameter: {2 * self.big!r}")
            elif kind == "cylinder":
                lines.append(f"f{k} diameter: {2 * self.left[k]!r}")
            else:
                lines += self.cone(k, dice)
        dice.shuffle(lines)
        return lines

    def cone(self, k: int, dice: random.Random) -> list[str]:
        slope = (self.right[k] - self.left[k]) / (self.stations[k + 1] - self.stations[k])
        ends = [f"f{k} left diameter: {2 * self.left[k]!r}", f"f{k} right diameter: {2 * self.right[k]!r}"]
        carried = 2 * (self.left[k] - slope * self.stations[k])
        if carried > 1 and k > 0:
            ends.append(f"f{k} diameter at left end: {carried!r}")
        return dice.sample(ends, 2)


@pytest.mark.parametrize("seed", range(200))
def test_a_known_part_comes_back(seed: int) -> None:
    dice = random.Random(seed)
    known = Known(dice)
    found = part([f"{kind}: f{k}" for k, kind in enumerate(known.kinds)], known.drawing(dice))
    assert found.state is State.FULLY_DIMENSIONED, [f.line() for f in found.faults]
    solved = found.part("it")
    for k, link in enumerate(solved.outside):
        assert link.right == pytest.approx(known.stations[k + 1], abs=1e-7)
        if known.kinds[k] != "ball":
            assert link.left_radius == pytest.approx(known.left[k], abs=1e-7)
            assert link.right_radius == pytest.approx(known.right[k], abs=1e-7)


def swapped(line: str) -> str:
    """The same dimension of the part seen from the other side."""
    return line.replace("left", "LEFT").replace("right", "left").replace("LEFT", "right")


@pytest.mark.parametrize("seed", range(40))
def test_the_mirror_image_has_the_mirrored_sizes(seed: int) -> None:
    dice = random.Random(1000 + seed)
    known = Known(dice)
    lines = known.drawing(dice)
    outside = [f"{kind}: f{k}" for k, kind in enumerate(known.kinds)]
    one: SolvedPart = part(outside, lines).part("it")
    two: SolvedPart = part(outside[::-1], [swapped(line) for line in lines]).part("it")
    assert two.length == pytest.approx(one.length, abs=1e-7)
    for a, b in zip(one.outside, two.outside[::-1], strict=True):
        assert (b.left, b.right) == (
            pytest.approx(one.length - a.right, abs=1e-7),
            pytest.approx(one.length - a.left, abs=1e-7),
        )
        assert (b.left_radius, b.right_radius) == (
            pytest.approx(a.right_radius, abs=1e-7),
            pytest.approx(a.left_radius, abs=1e-7),
        )
