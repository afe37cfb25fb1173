"""Slips that drawings are typed with, offered where putting one right makes the whole set agree.

Each slip is a way in which one number could have come to stand there; none is offered unless the drawing, sized again
with it put right, has nothing wrong that was not wrong for another reason.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from handwheel.base.tolerance import EQUAL_MM
from handwheel.drawing.group import Given, Group
from handwheel.drawing.shape import NoSense
from handwheel.drawing.spoken import INCH_MM, named, typed, unit_of
from handwheel.drawing.trial import Baseline, Changes, tried, with_size
from handwheel.job.records import DrawnDimension, Measure, Point, Size, Unit, Where

TWICE = {
    Size.DIAMETER: "a radius",
    Size.LEFT_DIAMETER: "a radius",
    Size.RIGHT_DIAMETER: "a radius",
    Size.DIAMETER_AT: "a radius",
    Size.PITCH_CIRCLE: "a radius",
    Size.ACROSS_FLATS: "'{feature} from axis'",
    Size.INCLUDED_ANGLE: "'{feature} angle to axis'",
    Size.TAPER: "on the radius",
}
"""What a number of this size is when the true one is twice as much."""
HALF = {
    Size.DIAMETER: "twice the diameter",
    Size.LEFT_DIAMETER: "twice the diameter",
    Size.RIGHT_DIAMETER: "twice the diameter",
    Size.RADIUS: "a diameter",
    Size.FROM_AXIS: "'{feature} across flats'",
    Size.ANGLE_TO_AXIS: "'{feature} included angle'",
    Size.TAPER: "twice the taper",
}
"""The same where the true one is half as much."""
INCHES = tuple(Fraction(1, n) for n in (64, 32, 16, 8, 4)) + (Fraction(1, 10),)
MOST_OFFERED = 3
NEAR = 0.35
"""Where a range would do, a slip fits only if what is missing is at least this part of what it puts right."""
SCALE = 1
"""Slips of this rank and above make a size several times too large or small."""
_NUMBER = re.compile(r"(?<![\d/])\d*\.?\d+(?![\d/])")


@dataclass(frozen=True)
class Slip:
    """A dimension as it would stand with the slip put right, and the words for it; the lower rank the likelier."""

    given: Given
    right: DrawnDimension
    words: str
    rank: int


def fitting_slips(
    group: Group,
    members: Sequence[Given],
    base: Baseline,
    apart: Changes,
    *,
    part: str,
    needed: Mapping[int, float],
    beyond: Mapping[int, tuple[float, int]],
) -> list[Slip]:
    """The slips that put it right, likeliest first.

    `needed`: the number each member would need; `beyond`: the bound past which its number would do, and on which side.
    Members in neither are tried with every slip.
    """
    slack = 2.0 * sum(g.place for g in members) + 2.0 * EQUAL_MM
    found: list[Slip] = []
    for given in members:
        for slip in _slips(group, given, part):
            size = float(slip.right.value.number.value)
            coarse = float(slip.right.value.number.place)
            is_same_phrase = slip.right.phrase is given.dimension.phrase
            if is_same_phrase and given.index in needed and abs(size - needed[given.index]) > slack + coarse:
                continue
            bound, way = beyond.get(given.index, (size, 1))
            if is_same_phrase and (size - bound) * way < 0.0:
                continue
            if is_same_phrase and given.index in beyond and abs(bound - given.nominal) < NEAR * abs(size - given.nominal):
                continue
            is_range = is_same_phrase and given.index not in needed
            if is_range and slip.rank >= SCALE and not _is_nearer(group, given, size):
                continue
            if base.is_restored(tried(group, {**apart, given.index: slip.right})):
                found.append(slip)
    return sorted(found, key=lambda s: s.rank)[:MOST_OFFERED]


def _is_nearer(group: Group, given: Given, size: float) -> bool:
    """Whether the size put right is of the order of the part's other sizes, as the typed one is not."""
    measure = given.dimension.phrase.size.measure
    others = sorted(
        abs(g.nominal)
        for g in group.givens
        if g is not given and g.part == given.part and g.nominal and g.dimension.phrase.size.measure is measure
    )
    if len(others) < 2:
        return False
    middle = others[len(others) // 2]
    return abs(math.log(abs(size) / middle)) < 0.5 * abs(math.log(abs(given.nominal) / middle))


def _slips(group: Group, given: Given, part: str) -> Iterator[Slip]:
    """Every slip that the dimension could be, put right."""
    value, name = given.dimension.value, named(given, part)
    if value.follow is not None or given.nominal == 0.0:
        return
    feature = given.dimension.phrase.feature
    said = f"the {typed(value)} of '{name}'"
    size, measure, nominal = given.dimension.phrase.size, given.dimension.phrase.size.measure, given.nominal

    def made(factor: float, words: str, rank: int) -> Slip:
        return Slip(given, with_size(given, nominal * factor, factor), words, rank)

    if size in TWICE:
        yield made(2.0, f"{said} is {TWICE[size].format(feature=feature)}", 0)
    if size in HALF:
        yield made(0.5, f"{said} is {HALF[size].format(feature=feature)}", 0)
    if measure is Measure.LENGTH:
        if unit_of(value, group.job.units) is Unit.MM:
            yield made(float(INCH_MM), f"{said} is in inches", 1)
        else:
            yield made(1.0 / float(INCH_MM), f"{said} is in millimetres", 1)
    yield from _digits(given, said)
    yield from _other_ends(group, given, name)


def _digits(given: Given, said: str) -> Iterator[Slip]:
    """The decimal point one place on, and two digits that stand the wrong way round."""
    text = typed(given.dimension.value)
    number = _NUMBER.search(text)
    if number is None or "/" in text or float(number.group()) == 0.0:
        return
    digits, unit = number.group(), given.nominal / float(number.group())
    if "in" not in text.split() and ":" not in text:
        for factor in (10.0, 0.1):
            words = f"the decimal point of {said.removeprefix('the ')} stands one place too far"
            yield Slip(given, with_size(given, given.nominal * factor, factor), words + (" left" if factor > 1 else " right"), 2)
    for i in range(len(digits) - 1):
        j = i + 2 if digits[i + 1] == "." else i + 1
        if j < len(digits) and digits[i] != "." and digits[i] != digits[j]:
            swapped = digits[:i] + digits[j] + digits[i + 1 : j] + digits[i] + digits[j + 1 :]
            words = f"{said} should read {text.replace(digits, swapped, 1)}, two digits the other way round"
            yield Slip(given, with_size(given, float(swapped) * unit), words, 3)


def common_fraction(group: Group, off_mm: float, slack: float) -> str:
    """The common fraction of an inch, or whole millimetres, that a length is off by to within `slack`; '' for none."""
    inches = [(float(f * INCH_MM), f"{f} in" if f.denominator != 10 else "0.1 in") for f in INCHES]
    metric = [(1.0, "1 mm"), (10.0, "10 mm")]
    steps = [*metric, *inches] if group.job.units is Unit.MM else [*inches, *metric]
    return next((w for amount, w in steps if abs(abs(off_mm) - amount) <= min(slack, 0.02 * amount)), "")


def _other_ends(group: Group, given: Given, name: str) -> Iterator[Slip]:
    """Measured to the other end of a feature."""
    phrase = given.dimension.phrase
    if phrase.size is not Size.DISTANCE or phrase.start is None or phrase.end is None:
        return
    for is_start, point in ((True, phrase.start), (False, phrase.end)):
        other = _other_end(point)
        if other is None:
            continue
        moved = replace(phrase, start=other) if is_start else replace(phrase, end=other)
        fixed = moved.end if is_start else moved.start
        if fixed is not None and (fixed.where, fixed.feature, fixed.part) == (other.where, other.feature, other.part):
            continue
        try:
            group.measured(moved, given.part)
        except NoSense:
            continue
        words = f"'{name}' is measured {'from' if is_start else 'to'} {other.feature} {other.where.value}"
        yield Slip(given, replace(given.dimension, phrase=moved), words, 4)


def _other_end(point: Point) -> Point | None:
    swapped = {Where.LEFT: Where.RIGHT, Where.RIGHT: Where.LEFT, Where.MOUTH: Where.BOTTOM, Where.BOTTOM: Where.MOUTH}
    return replace(point, where=swapped[point.where]) if point.where in swapped and point.feature else None
