"""What is made to its mate's size as made: the sum at the machine, and its place after the mate in the order of work.

Of a mating pair the one made by a fixed tool comes first, and the other is turned to what it measures (common practice).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from handwheel.drawing.records import Drawing
from handwheel.job.records import Size
from handwheel.plan.names import said
from handwheel.plan.records import Move, Operation, PartPlan, Stage, Step, Sum
from handwheel.workshop.records import Workshop

HOLE_MADE = ("drill", "ream", "bore")
BY_THE_SUM = "the last cut goes by the mate as measured, in the sums below, and may leave these limits"


@dataclass(frozen=True, slots=True)
class Suited:
    """A diameter that is turned to what its mate measures.

    part, phrase: what is turned. mate, of: the mate's part and phrase. why: for what, in words, or "".
    less_mm: the mate's size less what is wanted; below nought it is to be larger. within_mm: how far off it may come, each
    way; None where nothing is left of that, or not known. how: how the mate is measured, in words, or "".
    """

    part: str
    phrase: str
    mate: str
    of: str
    less_mm: float
    why: str = ""
    within_mm: float | None = None
    how: str = ""


def error_mm(shop: Workshop, way: str, size_mm: float) -> float | None:
    """Of the best gauge at hand for a size `inside` or `outside`, plus or minus; None where there is none. [mm]"""
    fitting = [g.error_mm for g in shop.gauges if way in g.measures and g.least_mm <= size_mm <= g.greatest_mm]
    return min(fitting, default=None)


def suited_by_words(drawing: Drawing) -> Iterator[Suited]:
    """Diameters drawn `to suit` a diameter of another part."""
    for part in drawing.job.parts:
        for drawn in part.dimensions:
            follow = drawn.value.follow
            if follow is None or not follow.to_suit or drawn.phrase.size is not Size.DIAMETER:
                continue
            if follow.phrase.size is not Size.DIAMETER or follow.phrase.part in ("", part.name):
                continue
            of = f"{follow.phrase.feature} diameter"
            tolerance = drawn.value.tolerance
            low, high = (float(tolerance.lower), float(tolerance.upper)) if tolerance and not tolerance.iso286 else (0.0, 0.0)
            less = -float(drawn.value.number.value) - (low + high) / 2.0
            yield Suited(part.name, drawn.phrase.text, follow.phrase.part, of, less, "", (high - low) / 2.0 or None)


def with_suited(plans: Mapping[str, PartPlan], suited: Suited, shop: Workshop) -> dict[str, PartPlan]:
    """The plans with the sum at the operation that makes the size, after the mate's; as they are where none makes it."""
    found, own, mate = dict(plans), plans.get(suited.part), plans.get(suited.mate)
    at = None if own is None else _made_at(own, suited.phrase)
    if own is None or at is None:
        return found
    stage = own.stages[at]
    after = () if mate is None else _mate_made(mate, suited.of)
    changed = replace(stage, operation=_with_sums(stage.operation, suited, after, shop))
    found[suited.part] = replace(own, stages=(*own.stages[:at], changed, *own.stages[at + 1:]))
    return found


def _made_at(plan: PartPlan, phrase: str) -> int | None:
    """The last stage that makes a size."""
    found = [k for k, s in enumerate(plan.stages) if any(m.makes and m.makes.phrase == phrase for m in s.operation.moves)]
    return found[-1] if found else None


def _mate_made(plan: PartPlan, of: str) -> tuple[tuple[str, int], ...]:
    """The operation that gives the mate its size, by part and number."""
    name = of.rsplit(" ", 1)[0]
    found = [s.operation.number for s in plan.stages if name in s.operation.features and s.operation.kind in HOLE_MADE]
    at = _made_at(plan, of)
    if not found and at is not None:
        found = [plan.stages[at].operation.number]
    return ((plan.part, found[-1]),) if found else ()


def _with_sums(operation: Operation, suited: Suited, after: tuple[tuple[str, int], ...], shop: Workshop) -> Operation:
    name = suited.of.removesuffix(" diameter")
    measured = ", ".join(filter(None, (f"{name} of {suited.mate} as measured{suited.how}", suited.why)))
    within = "" if suited.within_mm is None else f", ± {said(shop.units, suited.within_mm)}"
    first = Sum(measured, suited.less_mm, f"{suited.phrase} to turn{within}", "", True)
    sums = tuple(_carried(s, suited.phrase) for s in operation.sums)
    makes = next(m for m in reversed(operation.moves) if m.makes and m.makes.phrase == suited.phrase)
    if makes.makes is not None and not any(s.carried for s in sums):
        sums += (Sum(_as_measured(suited.phrase), makes.makes.value_mm, "take off the diameter", makes.wheel, False, None, True),)
    moves = tuple(_told(m, suited.phrase) for m in operation.moves)
    waits = (*operation.after_sizes, *(a for a in after if a not in operation.after_sizes))
    return replace(operation, sums=(first, *sums), moves=moves, after_sizes=waits)


def _carried(asked: Sum, phrase: str) -> Sum:
    """The sum for the last cut, which takes what the mate's sum came to instead of the drawing's size."""
    return replace(asked, carried=True, limits_mm=None) if asked.measured == _as_measured(phrase) else asked


def _as_measured(phrase: str) -> str:
    return f"{phrase} as measured"


def _told(move: Move, phrase: str) -> Move:
    if move.makes is None or move.makes.phrase != phrase:
        return move
    return replace(move, note="; ".join(filter(None, (BY_THE_SUM, move.note))))


def with_late_told(plans: tuple[PartPlan, ...], order: Sequence[Step], shop: Workshop) -> tuple[PartPlan, ...]:
    """The plans with what to do at each operation that the order of work brings before the mate it is made to."""
    place = {(step.part, step.number): k for k, step in enumerate(order)}

    def told(stage: Stage) -> Stage:
        operation = stage.operation
        own = place.get((operation.part, operation.number), -1)
        late = [f"{part} {number}" for part, number in operation.after_sizes if place.get((part, number), -1) > own]
        if not late:
            return stage
        left = said(shop.units, shop.habit("rough allowance"))
        note = (f"{', '.join(late)} is made after this, for each waits for the other: leave {left} on the diameter here, and "
                "bring it to size by the sum when the mate is made and measured")  # fmt: skip
        return replace(stage, operation=replace(operation, note="; ".join(filter(None, (operation.note, note)))))

    return tuple(replace(plan, stages=tuple(map(told, plan.stages))) for plan in plans)
