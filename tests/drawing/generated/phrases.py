"""Every phrase the contract allows of a generated part, each with its closed form."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from tests.drawing.generated.shape import BULGE, Made, Part

Fn = Callable[[Made], Any]
PARALLEL = 1e-9
"""Slopes no farther apart than this are the same but for rounding."""


@dataclass(frozen=True)
class Phrase:
    """A phrase, its closed form and its kind of number: mm, deg or ratio. `plain`: one a drawing would have first."""

    text: str
    fn: Fn
    unit: str = "mm"
    plain: bool = True
    angled: str = ""

    def value(self, made: Made) -> float:
        """At the real values."""
        return float(np.real(self.fn(made)).flat[0])


def points(part: Part) -> list[tuple[str, Fn]]:
    """Every named point of the part, with its station."""
    count = len(part.links)
    found: list[tuple[str, Fn]] = [
        ("left end", lambda m: m.station(0)),
        ("right end", lambda m: m.station(count)),
    ]
    for i, link in enumerate(part.links):
        found.append((f"{link.name} left", lambda m, i=i: m.station(i)))
        found.append((f"{link.name} right", lambda m, i=i: m.station(i + 1)))
        found.append((f"{link.name} middle", lambda m, i=i: (m.station(i) + m.station(i + 1)) / 2))
        if link.kind in ("ball", "hollow", "round"):
            found.append((f"{link.name} centre", lambda m, i=i: m.circle(i)[0]))
        if link.kind in ("cone", "chamfer"):
            found.append((f"{link.name} apex", lambda m, i=i: m.station(i) - m.end(i, -1) / m.slope(i)))
    for i, one in enumerate(part.links):
        for j, two in enumerate(part.links):
            straight = one.kind == "cone" and two.kind in ("cone", "cylinder") and i != j
            if straight and (two.kind == "cylinder" or i < j):
                found.append((f"{one.name} meets {two.name}", lambda m, i=i, j=j: _meeting(m, i, j)))
    for i, hole in enumerate(part.holes):
        found.append((f"{hole.name} mouth", lambda m, i=i: m.mouth(i)))
        found.append((f"{hole.name} bottom", lambda m, i=i: m.bottom(i)))
        if hole.drilled:
            found.append((f"{hole.name} point", lambda m, i=i: m.tip(i)))
    for groove in part.grooves:
        for word, where in (("zl", "left"), ("zr", "right")):
            found.append((f"{groove.name} {where}", lambda m, p=groove.numbers[word]: m.x[p]))
    return found


def _meeting(made: Made, i: int, j: int) -> Any:
    """Where two straight surfaces, carried on, meet; not a number where they are one or do not (0/0 by rounding)."""
    u, w = made.slope(i), made.slope(j)
    one, two = made.end(i, -1) - u * made.station(i), made.end(j, -1) - w * made.station(j)
    with np.errstate(all="ignore"):
        return np.where(np.abs(np.real(u - w)) > PARALLEL, (two - one) / (u - w), np.nan)


def _size(x: Any) -> Any:
    return np.where(np.real(x) < 0, -x, x)


def sizes(part: Part) -> Iterator[Phrase]:
    """Sizes of single features."""
    count = len(part.links)
    yield Phrase("overall length", lambda m: m.station(count) - m.station(0))
    for i, link in enumerate(part.links):
        name = link.name
        yield Phrase(f"{name} length", lambda m, i=i: m.station(i + 1) - m.station(i), plain=link.kind not in BULGE)
        if link.kind == "cylinder":
            yield Phrase(f"{name} diameter", lambda m, i=i: 2 * m.end(i, 1))
            yield Phrase(f"{name} radius", lambda m, i=i: m.end(i, 1), plain=False)
        elif link.kind in ("cone", "chamfer"):
            yield from _cone(name, i)
        else:
            yield Phrase(f"{name} radius", lambda m, i=i: m.circle(i)[2])
            yield Phrase(f"{name} diameter", lambda m, i=i: 2 * m.circle(i)[2])
            for side, word in ((-1, "left"), (1, "right")):
                k = i if side < 0 else i + 1
                if part.joins[k] != "pole" and link.kind in ("ball", "hollow", "round"):
                    fn = lambda m, i=i, side=side: 2 * m.end(i, side)  # noqa: E731
                    yield Phrase(f"{name} {word} diameter", fn, plain=part.joins[k] == "flat")
    for i in range(len(part.holes)):
        yield from _hole(part, i)
    for groove in part.grooves:
        zl, zr, floor = (groove.numbers[w] for w in ("zl", "zr", "floor"))
        yield Phrase(f"{groove.name} width", lambda m, a=zl, b=zr: m.x[b] - m.x[a])
        yield Phrase(f"{groove.name} diameter", lambda m, f=floor: 2 * m.x[f])
        yield Phrase(f"{groove.name} depth", lambda m, f=floor, h=groove.host: m.end(h, 1) - m.x[f])


def _cone(name: str, i: int) -> Iterator[Phrase]:
    def slope(m: Made) -> Any:
        return _size(m.slope(i))

    yield Phrase(f"{name} left diameter", lambda m: 2 * m.end(i, -1))
    yield Phrase(f"{name} right diameter", lambda m: 2 * m.end(i, 1))
    yield Phrase(f"{name} angle to axis", lambda m: np.degrees(1) * np.arctan(slope(m)), "deg", angled=name)
    yield Phrase(f"{name} included angle", lambda m: np.degrees(2) * np.arctan(slope(m)), "deg", angled=name)
    yield Phrase(f"{name} taper", lambda m: 2 * slope(m), "ratio", angled=name)


def _hole(part: Part, i: int) -> Iterator[Phrase]:
    hole = part.holes[i]
    name, way, count = hole.name, hole.way, len(part.links)
    cone = "rb" in hole.numbers
    if not cone:
        yield Phrase(f"{name} diameter", lambda m: 2 * m.hole_radii(i)[0])
        yield Phrase(f"{name} radius", lambda m: m.hole_radii(i)[0], plain=False)
    if cone or hole.kind == "countersink":
        ways = ("left", "right") if way > 0 else ("right", "left")
        for k in (0, 1) if cone else ():
            yield Phrase(f"{name} {ways[k]} diameter", lambda m, k=k: 2 * m.hole_radii(i)[k])

        def slope(m: Made) -> Any:
            rm, rb = m.hole_radii(i)
            return (rm - rb) / ((m.bottom(i) - m.mouth(i)) * way)

        yield Phrase(f"{name} included angle", lambda m: np.degrees(2) * np.arctan(slope(m)), "deg")
    end = 0 if way > 0 else count
    yield Phrase(f"{name} depth", lambda m: (m.bottom(i) - m.station(end)) * way)
    yield Phrase(f"{name} length", lambda m: (m.bottom(i) - m.mouth(i)) * way)


def distances(part: Part, made: Made, random: Any, how_many: int) -> Iterator[Phrase]:
    """P to Q of points drawn at random, P the left one, some moved by a stated amount."""
    named = points(part)
    weights = [0.25 if "meets" in n or "apex" in n else 1.0 for n, _ in named]
    for _ in range(how_many):
        one, two = random.choices(named, weights, k=2)
        gap = float(np.real(two[1](made) - one[1](made)).flat[0])
        if not np.isfinite(gap) or abs(gap) < 0.3 or abs(gap) > 500:
            continue
        if gap < 0:
            one, two = two, one
        text, (a, b) = f"{one[0]} to {two[0]}", (one[1], two[1])
        if random.random() < 0.1:
            yield Phrase(f"{one[0]} - 5 mm to {two[0]}", lambda m, a=a, b=b: b(m) - a(m) + 5, plain=False)
        else:
            yield Phrase(text, lambda m, a=a, b=b: b(m) - a(m))


def across(part: Part, made: Made, random: Any, how_many: int) -> Iterator[Phrase]:
    """F diameter at P, F carried on where it does not reach."""
    named = points(part)
    links = [i for i, k in enumerate(part.links) if k.kind in ("cone", "ball", "hollow", "round")]
    for _ in range(how_many if links else 0):
        i, (where, at) = random.choice(links), random.choice(named)
        name = part.links[i].name
        if where.startswith(name + " ") and "centre" not in where and "middle" not in where:
            continue  # its own ends are its end diameters
        with np.errstate(all="ignore"):
            value = float(np.real(2 * made.radius_at(i, at(made))).flat[0])
        if not np.isfinite(value) or not 1.0 < value < 200:
            continue
        if part.links[i].kind != "cone" and _steep(made, i, at):
            continue
        yield Phrase(f"{name} diameter at {where}", lambda m, i=i, at=at: 2 * m.radius_at(i, at(m)), plain=False)


def _steep(made: Made, i: int, at: Fn) -> bool:
    centre, _, big = made.circle(i)
    return bool(np.abs(np.real(at(made) - centre)).flat[0] > 0.9 * np.real(big).flat[0])


def pool(part: Part, made: Made, random: Any) -> list[Phrase]:
    """Phrases to draw from."""
    found = [*sizes(part), *distances(part, made, random, 60), *across(part, made, random, 12)]
    keep: dict[str, Phrase] = {}
    for phrase in found:
        with np.errstate(all="ignore"):
            value = phrase.value(made)
        low = {"mm": 0.2, "deg": 0.5, "ratio": 0.01}[phrase.unit]
        if np.isfinite(value) and low < value < 600:
            keep[phrase.text] = phrase
    return list(keep.values())
