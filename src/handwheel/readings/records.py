"""What the hand does: each move in turns and divisions of that workshop's own wheel."""

from __future__ import annotations

from dataclasses import dataclass

from handwheel.plan.records import Makes


@dataclass(frozen=True, slots=True)
class Reading:
    """One act of the hand. `turns` whole turns, then `divisions` (to the smallest part worth dialling) of `unit`.

    moves_mm: the slide's move really made; exact_mm: the move wanted; both on the radius for cross slide and ball tool.
    `approach`: from which side the line is come up to. `text`: the whole reading as a sentence. `is_dialled` False:
    this workshop has no such wheel, `text` says to measure and the figures mean nothing.
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
