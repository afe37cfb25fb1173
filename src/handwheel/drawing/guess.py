"""Where the search for a shape starts: rough numbers from the sizes that are written, scattered for further starts."""

from __future__ import annotations

import random
from typing import TypeAlias

from handwheel.drawing.shape import Across, Cut, Outside, Shape
from handwheel.job.records import OutsideKind, Size

DIAMETERS = (Size.DIAMETER, Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER, Size.DIAMETER_AT, Size.ACROSS_FLATS)


def known_sizes(shape: Shape) -> dict[tuple[str, Size], float]:
    """Sizes written as plain numbers, by feature and size word (radii as diameters)."""
    found: dict[tuple[str, Size], float] = {}
    for dimension in shape.part.dimensions:
        if dimension.value.follow is not None or dimension.value.auxiliary:
            continue
        size, value = dimension.phrase.size, float(dimension.value.number.value)
        if size is Size.RADIUS:
            size, value = Size.DIAMETER, 2.0 * value
        found.setdefault((dimension.phrase.feature, size), value)
    return found


def spread_radius(shape: Shape, sizes: dict[tuple[str, Size], float]) -> dict[str, float]:
    """A rough radius for every outside feature, taken from its neighbours where nothing is written."""
    rough: dict[str, float] = {}
    for link in shape.outside:
        name = link.source.name
        values = [sizes[name, s] for s in DIAMETERS if (name, s) in sizes]
        if link.is_curve and link.source.kind is not OutsideKind.BALL:
            values = [sizes[name, s] for s in (Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER) if (name, s) in sizes]
        if values:
            rough[name] = sum(values) / len(values) / 2.0
    names = [link.source.name for link in shape.outside]
    for i, name in enumerate(names):
        if name not in rough:
            beside = [rough[n] for n in names[max(0, i - 1) : i + 2] if n in rough]
            rough[name] = sum(beside) / len(beside) if beside else 0.0
    common = [r for r in rough.values() if r > 0]
    usual = sum(common) / len(common) if common else 5.0
    return {name: r if r > 0 else usual for name, r in rough.items()}


Rough: TypeAlias = tuple[dict[tuple[str, Size], float], dict[str, float]]
"""Written sizes and rough radii."""


def rough_sizes(shape: Shape) -> Rough:
    """What a guess starts from, the same for every scattering."""
    sizes = known_sizes(shape)
    return sizes, spread_radius(shape, sizes)


def first_guess(shape: Shape, x: list[float], dice: random.Random | None, known: Rough | None = None) -> None:
    """Fill the shape's places in x; with dice, scattered."""
    sizes, rough = known or rough_sizes(shape)

    def throw(low: float, high: float) -> float:
        return 1.0 if dice is None else dice.uniform(low, high)

    usual = max(rough.values())
    overall = sizes.get(("", Size.OVERALL_LENGTH))
    z = 0.0
    for link in shape.outside:
        name, kind = link.source.name, link.source.kind
        r = rough[name] * throw(0.7, 1.3)
        length = sizes.get((name, Size.LENGTH))
        if length is None:
            share = overall / len(shape.outside) if overall else usual * 2.0
            length = 1.8 * r if kind is OutsideKind.BALL else share * throw(0.2, 3.0)
        x[link.zr] = z + length
        if link.is_curve:
            _guess_curve(link, x, z, length, r, sizes.get((name, Size.DIAMETER)), throw(0.3, 1.5))
        else:
            left, right = (sizes.get((name, s)) for s in (Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER))
            x[link.rl] = (left or (right / throw(0.4, 1.3) if right else 2.02 * r)) / 2.0
            if link.rr != link.rl:
                x[link.rr] = (right or (left * throw(0.4, 1.3) if left else 1.95 * r)) / 2.0
        z += length
    for index, place in shape.meeting.items():
        x[place] = rough[shape.outside[index].source.name]
    _guess_rest(shape, x, z, usual, throw)


def _guess_curve(link: Outside, x: list[float], z: float, length: float, r: float, dia: float | None, f: float) -> None:
    if link.source.kind is OutsideKind.BALL:
        x[link.big] = (dia or 2.0 * r) / 2.0
        x[link.zc] = z + length / 2.0
        return
    x[link.big] = dia / 2.0 if dia else length * f
    x[link.zc] = z + length / 2.0
    x[link.rc] = r - link.bulge * x[link.big] * 0.9


def _guess_rest(shape: Shape, x: list[float], z: float, usual: float, throw: object) -> None:
    for i, hole in enumerate(shape.inside):
        x[hole.bottom] = x[hole.mouth] + hole.way * z * 0.1
        x[hole.rb] = usual * 0.5 / (1.0 + 0.1 * i)
        x[hole.rm] = usual * 0.55 / (1.0 + 0.1 * i) if hole.rm != hole.rb else x[hole.rb]
    for feature in shape.features.values():
        if isinstance(feature, Cut) and feature.source.name:
            host = shape.features[feature.source.host]
            if isinstance(host, Outside):
                if feature.zl != host.zl:
                    x[feature.zl] = x[host.zl] * 0.7 + x[host.zr] * 0.3
                if feature.zr != host.zr:
                    x[feature.zr] = x[host.zl] * 0.3 + x[host.zr] * 0.7
            if feature.floor:
                x[feature.floor] = usual * 0.7
        if isinstance(feature, Across):
            if feature.zc is not None:
                x[feature.zc] = z * 0.5
            for place in feature.sizes.values():
                x[place] = usual * 0.5
    x[0] = 0.0
