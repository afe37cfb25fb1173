"""Distances with their sign, for their limits: a distance written positive may pass through nothing within them."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.drawing.ad import value_of
from handwheel.drawing.group import Group
from handwheel.drawing.junctions import Fn
from handwheel.drawing.limits import Extent
from handwheel.drawing.measures import signed_distance
from handwheel.job.records import Phrase, Size

NOTHING = 1e-9


def _signed(group: Group, phrase: Phrase, part: str) -> Fn | None:
    """From the first point to the second, positive to the right; None for what is no distance."""
    if phrase.size is not Size.DISTANCE or phrase.start is None or phrase.end is None:
        return None
    placed = group.across_parts(phrase, part)
    if placed is None:
        shape = group.shape(group.parts_of(phrase, part)[0])
        return lambda v: signed_distance(shape, phrase, v)
    own = phrase.part or part
    start, end = group.z_of(phrase.start, own, placed), group.z_of(phrase.end, own, placed)
    return lambda v: end(v) - start(v)


def is_backward(group: Group, phrase: Phrase, part: str, v: Sequence[float]) -> bool:
    """Whether a distance runs to the left as its points are written."""
    fn = _signed(group, phrase, part)
    return fn is not None and bool(value_of(fn(v)) < -NOTHING)


def straight(group: Group, phrase: Phrase, part: str, v: Sequence[float]) -> Fn:
    """What the phrase measures; a distance with the sign that makes it positive at `v`."""
    fn = _signed(group, phrase, part)
    if fn is None:
        return group.measured(phrase, part)
    distance = fn
    return (lambda w: -distance(w)) if is_backward(group, phrase, part, v) else distance


def fold(extent: Extent) -> None:
    """A distance whose limits pass through nothing: its least is nothing, its greatest the farther of the two."""
    if extent.low < 0.0:
        extent.low, extent.high = 0.0, max(extent.high, -extent.low)
    extent.value, extent.mid = abs(extent.value), abs(extent.mid)
