"""What sizes as made come to: what moved with them, what is out of limits, and the ways on. mm, degrees or ratio."""

from __future__ import annotations

from dataclasses import dataclass

from handwheel.job.records import Job, Measure

Ranges = tuple[tuple[int, int], ...]
"""Copies as runs of numbers, first and last."""


@dataclass(frozen=True, slots=True)
class Size:
    """A size with the limits it has to keep; `part` is "" for one of an assembly."""

    part: str
    phrase: str
    measure: Measure
    value: float
    low: float
    high: float

    @property
    def beyond(self) -> float:
        """How far outside its limits, 0 inside; a hair of rounding does not count."""
        off = max(self.low - self.value, self.value - self.high)
        return off if off > 1e-6 else 0.0

    @property
    def is_under(self) -> bool:
        """Whether it lies below its low limit."""
        return self.value < self.low - 1e-6


@dataclass(frozen=True, slots=True)
class Measured:
    """A size as made beside the drawing's: its limits are the drawing's, with what it follows as it is made.

    `is_drawn`: the phrase is a dimension of the drawing; else it follows from others, and low and high are what
    they allow. `may_be_cut`: metal is still there, so that it can be brought inside.
    """

    size: Size
    copy: int
    drawn: float
    is_drawn: bool
    may_be_cut: bool = False


@dataclass(frozen=True, slots=True)
class Moved:
    """A size that is no longer the drawing's. `why`: the measured phrases behind it.

    `is_drawn`: a dimension of the drawing, limits the drawing's; else low and high are what the drawing allows.
    `takes_up`: it gives way so that the measured sizes fit.
    """

    size: Size
    old: float
    why: tuple[str, ...]
    is_drawn: bool
    takes_up: bool = False


@dataclass(frozen=True, slots=True)
class WayOn:
    """A dimension not measured yet that could take something up: the value it needs and its own limits.

    `keeps`: the size it brings inside its limits, or back to the drawing's; `size.beyond` is 0 where it may.
    """

    keeps: str
    size: Size
    was: float


@dataclass(frozen=True, slots=True)
class Out:
    """A size outside its limits, or, where it is not drawn, outside what they allow; the ways on, those that may first."""

    size: Size
    is_measured: bool
    is_drawn: bool
    ways: tuple[WayOn, ...]


@dataclass(frozen=True, slots=True)
class AsMadeOutcome:
    """One set of copies that go together.

    `copies`: each part with the copies meant. `unused`: measured sizes that disagree with the others, as sentences.
    `cannot`: why no one shape has these sizes, "" when one has. `job`: those parts with the sizes to work to now.
    """

    copies: tuple[tuple[str, Ranges], ...]
    measured: tuple[Measured, ...]
    moved: tuple[Moved, ...]
    out: tuple[Out, ...]
    unused: tuple[str, ...]
    cannot: str
    job: Job
