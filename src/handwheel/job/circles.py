"""Circles among things that follow one another: sizes, and items square to each other."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from typing import TypeVar

from handwheel.job.records import DrawnDimension, Job, Phrase, Point
from handwheel.job.wrong import Complaints

_T = TypeVar("_T", bound=Hashable)


def circles(follows: Mapping[_T, Sequence[_T]]) -> list[tuple[_T, ...]]:
    """Each circle once, beginning at its first member in the mapping's order; one that follows itself is one too."""
    found: list[tuple[_T, ...]] = []
    done: set[_T] = set()
    order = {each: number for number, each in enumerate(follows)}
    for first in follows:
        if first in done:
            continue
        trail: dict[_T, int] = {first: 0}
        paths = [iter(follows[first])]
        while paths:
            after = next(paths[-1], None)
            if after is None:
                paths.pop()
                done.add(trail.popitem()[0])
            elif after in trail:
                names = list(trail)[trail[after] :]
                start = names.index(min(names, key=order.__getitem__))
                found.append((*names[start:], *names[:start]))
            elif after in follows and after not in done:
                trail[after] = len(trail)
                paths.append(iter(follows[after]))
    return found


def complain_circles(job: Job, complaints: Complaints) -> None:
    """Sizes that follow one another in a circle, also over parts: none of them is ever given."""
    written: dict[tuple[object, ...], tuple[str, DrawnDimension]] = {}
    follows: dict[tuple[object, ...], list[tuple[object, ...]]] = {}
    over = [("", d) for assembly in job.assemblies for d in assembly.dimensions]
    for part, dimension in [*((p.name, d) for p in job.parts for d in p.dimensions), *over]:
        follow = dimension.value.follow
        if follow is not None and not dimension.value.auxiliary:
            key = _key(dimension.phrase, part)
            written.setdefault(key, (part, dimension))
            follows.setdefault(key, []).append(_key(follow.phrase, part))
    for circle in circles(follows):
        names = [_called(*written[key], len({written[each][0] for each in circle}) > 1) for key in circle]
        first = written[circle[0]][1]
        complaints.part = written[circle[0]][0]
        complaints.add(
            "follow-circle",
            first.value.span,
            f"sizes follow one another in a circle: {' follows '.join((*names, names[0]))}",
            "give one of them a size of its own",
            [written[key][1].phrase.text for key in circle],
            [written[key][1].value.span for key in circle[1:]],
        )
    complaints.part = ""


def _key(phrase: Phrase, part: str) -> tuple[object, ...]:
    """What makes two phrases the same size of the same part, in whichever order its points stand."""
    own = phrase.part or part
    ends = frozenset(_point(point, own) for point in (phrase.start, phrase.end) if point is not None)
    return (phrase.size, own, phrase.feature, phrase.at and _point(phrase.at, own), ends)


def _point(point: Point, part: str) -> tuple[object, ...]:
    return (point.where, frozenset({point.feature, point.meets}), point.offset_mm, point.part or part)


def _called(part: str, dimension: DrawnDimension, is_over_parts: bool) -> str:
    return f"'{dimension.phrase.text} of {part}'" if is_over_parts and part else f"'{dimension.phrase.text}'"
