"""What the hand does: each move in turns and divisions of that workshop's own wheel."""

from __future__ import annotations

from dataclasses import dataclass

from handwheel.plan.records import Makes


@dataclass(frozen=True, slots=True)
class CutRow:
    """One cut of a list, from the reading's own zero. kind: 'rough', 'measure', 'last' or 'spring'. moves_mm: what the
    line really moves the slide; leaves_mm: the diameter that line leaves. [mm]"""

    number: int
    kind: str
    turns: int
    divisions: float
    unit: str
    moves_mm: float
    exact_mm: float
    leaves_mm: float


@dataclass(frozen=True, slots=True)
class ChartRow:
    """One line of a step-off chart: the wheel along and the cross slide, each from its zero, and the diameter cut. [mm]"""

    number: int
    along: tuple[int, float]
    in_: tuple[int, float]
    along_mm: float
    in_mm: float
    leaves_mm: float


@dataclass(frozen=True, slots=True)
class ChartReading:
    """A step-off chart dialled. along_wheel, in_unit, along_unit: which wheel, its smallest graduation. left_mm: most metal
    that these lines leave above the curve. `cannot`: why there are no lines, else ""."""

    feature: str
    along_wheel: str
    along_unit: str
    in_unit: str
    zero_along: str
    zero_in: str
    rows: tuple[ChartRow, ...]
    left_mm: float
    note: str
    cannot: str = ""


@dataclass(frozen=True, slots=True)
class Reading:
    """One act of the hand. `turns` whole turns, then `divisions` (to the smallest part worth dialling) of `unit`.

    moves_mm: the slide's move really made; exact_mm: the move wanted; both on the radius for cross slide and ball tool.
    `approach`: from which side the line is come up to. `text`: the whole reading as a sentence. `is_dialled` False:
    this workshop has no such wheel, `text` says to measure and the figures mean nothing. `cuts`: how the move is divided,
    `cuts_note` what holds for all of them.
    """

    operation: int
    part: str
    wheel: str
    way: str
    zero: str
    turns: int
    divisions: float
    unit: str
    moves_mm: float
    exact_mm: float
    text: str
    approach: str = ""
    makes: Makes | None = None
    note: str = ""
    is_dialled: bool = True
    cuts: tuple[CutRow, ...] = ()
    cuts_note: str = ""

    @property
    def error_mm(self) -> float:
        """What the move really made misses the wanted one by; above zero: past it. [mm]"""
        return self.moves_mm - self.exact_mm


@dataclass(frozen=True, slots=True)
class StripRow:
    """One row of the strip beside a sum: an amount to take off and what that is on the wheel."""

    amount_mm: float
    amount_text: str
    wheel_text: str


@dataclass(frozen=True, slots=True)
class Strip:
    """Turns an amount to take off into turns and divisions of one wheel."""

    wheel: str
    per_side: bool
    rows: tuple[StripRow, ...]
