"""The ways in which a part might be made, the plainest first: the list that the search goes through."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from handwheel.drawing.records import SolvedPart
from handwheel.job.records import OutsideKind, Side
from handwheel.plan.candidate import Candidate, holes_by_holding
from handwheel.plan.centres import ROOMS_MM, Between
from handwheel.plan.grips import on_centred_mandrel, on_mandrel, on_steady, protected, second_holdings
from handwheel.plan.running import leaves_too_much
from handwheel.plan.stock import Choice
from handwheel.plan.view import View, view
from handwheel.stages.records import Holding
from handwheel.workshop.records import Workshop

LONG = 4.0
"""From so many diameters of bar on a fixed steady is thought of: common practice, no source."""
LAST = 1000.0
"""Added to the score of a way that wants what is not at hand."""
LOST = 40.0
"""Added to the score of a way that leaves more run-out between two diameters than their limits: others go before it."""


def candidates(part: SolvedPart, shop: Workshop, bar: Choice) -> Iterator[Candidate]:
    """Candidates without a centre, the plainest first: the end with more to do from one holding before the other."""
    pairs: list[tuple[float, Candidate]] = []
    for toward in (Side.RIGHT, Side.LEFT):
        first = view(part, toward)
        for split in sorted(_splits(first)):
            seconds = [*second_holdings(first, shop, split, bar)] if split < len(first.links) else []
            found = [(0.0, second) for second in seconds[:2] + seconds[2:][-1:]]
            if not seconds or all(_loses(first, split, second, shop) for second in seconds):
                found += [(20.0, second) for second in protected(first, shop, split, bar)]
            found += [(30.0, second) for second in on_mandrel(first, shop, holes_by_holding(first)[0], split)]
            if first.length > LONG * bar.diameter:
                extra = 60.0 if "fixed" in shop.steadies else LAST
                found += [(extra, second) for second in on_steady(first, shop, split, bar)]
            for extra, second in found:
                lost = LOST if _loses(first, split, second, shop) else 0.0
                pairs.append((extra + lost + _score(first, split), Candidate(toward, split, second, False, False)))
            if split == 0:
                pairs.append((50.0 + _score(first, split), Candidate(toward, 0, None, False, False)))
        for second in on_centred_mandrel(first, shop, holes_by_holding(first)[0]):
            pairs.append((35.0, Candidate(toward, len(first.links), second, False, False)))
    pairs.sort(key=lambda p: p[0])
    for _, candidate in pairs:
        yield candidate


def _loses(first: View, split: int, second: Holding, shop: Workshop) -> bool:
    """Whether what has to run true is cut in two holdings of which the second runs out by too much."""
    near, far = holes_by_holding(first)
    here = {*(link.name for link in first.links[split:]), *(d.hole.name for d in near)}
    there = {*(link.name for link in first.links[:split]), *(d.hole.name for d in far)}
    return leaves_too_much(first.part, here, there, second, shop)


def _splits(first: View) -> set[int]:
    greatest = max(link.greatest for link in first.links)
    at = [i for i, link in enumerate(first.links) if link.greatest > greatest - 1e-6]
    count = len(first.links)
    return {s for s in (0, at[0], at[-1], at[-1] + 1, count - 1) if 0 <= s < count}


def _score(first: View, split: int) -> float:
    """Lower is tried first: necks that would have to be cut between larger diameters, in either holding; threads behind."""
    necks = 0
    for i, link in enumerate(first.links):
        outer = first.links[i + 1 :] if i >= split else first.links[:i]
        if link.kind is not OutsideKind.BALL and any(
            o.greatest > link.least + 1e-6 for o in outer if o.kind is not OutsideKind.CHAMFER
        ):
            necks += 1
        if link.feature.thread and any(o.greatest > link.least + 1e-6 for o in outer):
            necks += 3  # a die cannot get there
        if link.kind is OutsideKind.BALL and i not in (0, len(first.links) - 1):
            necks += 3
    return 10.0 * necks + split


def with_centres(slender: Sequence[Candidate], part: SolvedPart, shop: Workshop) -> Iterator[Candidate]:
    """The same with a centre, in a stub or as a cup on a ball, in the second holding, in the first, in both; with a hollow
    centre last where there is none at hand."""
    balls = {side for side in Side if view(part, side).links[-1].kind is OutsideKind.BALL}
    ways: Sequence[tuple[str, str]] = (
        ("", "stub"), ("", "cup"), ("stub", ""), ("cup", ""), ("stub", "stub"), ("cup", "cup"), ("stub", "cup"),
            ("cup", "stub"))  # fmt: skip
    if "hollow" not in shop.centres:
        ways = sorted(ways, key=lambda way: "cup" in way)
    for first, second in ways:
        for candidate in slender:
            cups = {side for side, what in ((candidate.toward, first), (candidate.toward.other, second)) if what == "cup"}
            if cups <= balls and (candidate.second is not None or not second):
                yield replace(candidate, centre_first=first == "stub", centre_second=second == "stub",
                              cup_first=first == "cup", cup_second=second == "cup")  # fmt: skip


def with_steady(slender: Sequence[Candidate]) -> Iterator[Candidate]:
    """The same with a centre in a stub and a travelling steady."""
    for first, second in ((False, True), (True, False), (True, True)):
        for candidate in slender:
            if candidate.second is not None or not second:
                yield replace(candidate, centre_first=first, centre_second=second, steady=True)


def between_centres(*, steady: bool) -> Iterator[Between]:
    """Between centres, either way round, with more or less room beside the dog."""
    for faced in (True, False):
        for room in ROOMS_MM:
            for toward in (Side.RIGHT, Side.LEFT):
                yield Between(toward, room, faced, steady)
