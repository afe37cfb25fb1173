"""Every move of a plan as a reading of this workshop's own wheels.

It knows wheels and moves, nothing of shapes. Moves are cumulative from their zero, so each is rounded by itself.
"""

from __future__ import annotations

from collections.abc import Iterator

from handwheel.base.tolerance import EQUAL_MM
from handwheel.job.records import Unit
from handwheel.plan.records import Makes, Move, Operation, PartPlan, Plan
from handwheel.readings.cutlists import cut_rows, cuts_note, cuts_text
from handwheel.readings.dial import BALL_TOOL, dial, unit_of, wheel_of
from handwheel.readings.records import Reading
from handwheel.readings.words import is_shown, length_text, limits_text, turns_text
from handwheel.workshop.records import Handwheel, Workshop

Readings = dict[tuple[str, int], tuple[Reading, ...]]

BACK = {
    "in": ("back off", "come in again"),
    "out": ("go back in", "come out again"),
    "toward the headstock": ("draw back", "come up again toward the headstock"),
    "toward the tailstock": ("go back", "come up again toward the tailstock"),
}
TOWARD_WORK = ("in", "toward the headstock")
ON_THE_RADIUS = ("cross slide", BALL_TOOL)


def readings_of(plan: Plan, workshop: Workshop) -> Readings:
    """The readings of every operation that can be done, by part and operation number.

    A refused operation and all after it in that part have none; nor has any operation of a part refused as a whole.
    """
    found: Readings = {}
    for part in plan.parts:
        for operation in workable(part):
            found[part.part, operation.number] = tuple(
                reading_of(move, operation, workshop) for move in operation.moves
            )
    return found


def workable(part: PartPlan) -> Iterator[Operation]:
    """The operations up to the first refused one; none when the part is refused and no operation says where."""
    operations = [stage.operation for stage in part.stages]
    if part.refused and not any(operation.refused for operation in operations):
        return
    for operation in operations:
        if operation.refused:
            return
        yield operation


def reading_of(move: Move, operation: Operation, workshop: Workshop) -> Reading:
    """One move in turns and divisions; without such a wheel, a text that says to measure directly."""
    wheel = wheel_of(workshop, move.wheel)
    if wheel is None or wheel.divisions < 1:
        return measured_directly(move, operation, workshop.units)
    turns, divisions, moves_mm = dial(move.exact_mm, wheel)
    unit = unit_of(wheel)
    note = ". ".join(filter(None, (move.note.rstrip("."), missed_by(move, moves_mm, workshop.units))))
    cuts, told = cut_rows(move, wheel), cuts_note(move, workshop.units)
    said = sentence(move, wheel, turns_text(turns, divisions, unit), workshop.units, is_at_zero=moves_mm == 0.0)
    return Reading(
        operation=operation.number,
        part=operation.part,
        wheel=move.wheel,
        way=move.way,
        zero=move.zero,
        turns=turns,
        divisions=divisions,
        unit=unit,
        moves_mm=moves_mm,
        exact_mm=move.exact_mm,
        text=" ".join(filter(None, (said, cuts_text(cuts, workshop.units), told))),
        approach=approach(move.way, wheel, workshop.units),
        makes=move.makes,
        note=note,
        cuts=cuts,
        cuts_note=told,
    )


def measured_directly(move: Move, operation: Operation, units: Unit) -> Reading:
    """The reading that is none: what to make, to be measured, because the workshop has no such wheel."""
    made = made_text(move.makes, units) if move.makes else f"move {length_text(move.exact_mm, units)}"
    text = (
        f"{move.wheel.capitalize()} {move.way}: this workshop has no {move.wheel} wheel to read, "
        f"so measure directly, {move.zero}: {made}."
    )
    return Reading(
        operation.number, operation.part, move.wheel, move.way, move.zero, 0, 0.0, "", 0.0, move.exact_mm, text,
        makes=move.makes, note=move.note, is_dialled=False,
    )  # fmt: skip


def sentence(move: Move, wheel: Handwheel, turns: str, units: Unit, is_at_zero: bool) -> str:
    """The reading in the order in which the hand meets it: wheel, way, whole turns, final line, zero, what it makes."""
    if is_at_zero:
        begin = f"{move.wheel.capitalize()} at zero {move.zero}"
    else:
        sense = hand(move.way, wheel)
        begin = f"{move.wheel.capitalize()} {move.way}{f', {sense},' if sense else ''} {turns} from zero {move.zero}"
    return f"{begin}: {made_text(move.makes, units)}." if move.makes else f"{begin}."


def hand(way: str, wheel: Handwheel) -> str:
    """`clockwise` or `anticlockwise` for that way, '' when the wheel's sense is not known.

    A length slide's `in` is toward the headstock.
    """
    senses = {"clockwise in": True, "clockwise out": False}
    if wheel.sense not in senses or way not in BACK:
        return ""
    return "clockwise" if senses[wheel.sense] == (way in TOWARD_WORK) else "anticlockwise"


def made_text(makes: Makes, units: Unit) -> str:
    """`Ø 0.5625 in (14.288 mm), hub diameter, cut between Ø 0.5615 and ..., by the micrometer`."""
    sign = "Ø" if makes.is_diameter else ""
    words = [length_text(makes.value_mm, units, sign), makes.phrase]
    if makes.working_low_mm is not None and makes.working_high_mm is not None:
        words.append(f"cut {limits_text(makes.working_low_mm, makes.working_high_mm, units, sign)}")
    if makes.gauge:
        words.append(f"check with {makes.gauge}")
    return ", ".join(words)


def approach(way: str, wheel: Handwheel, units: Unit) -> str:
    """From which side the line is come up to, and what to do when past it."""
    back, again = BACK.get(way, ("go back", "come up again"))
    lost = "" if wheel.backlash_mm is None else f", {length_text(wheel.backlash_mm, units)} on this screw,"
    return f"come up to the line going {way}; if past it, {back} past the lost motion{lost} and {again}"


def missed_by(move: Move, moves_mm: float, units: Unit) -> str:
    """What the nearest line makes when it is not the exact move, and whether that leaves the working limits."""
    error_mm = moves_mm - move.exact_mm
    if not is_shown(error_mm, units):
        return ""
    makes = move.makes
    if makes is None or not makes.is_diameter or move.wheel not in ON_THE_RADIUS or move.way not in ("in", "out"):
        words = f"The nearest line is {length_text(abs(error_mm), units)} {'past' if error_mm > 0 else 'short'}."
        if makes is None or makes.working_low_mm is None or makes.working_high_mm is None:
            return words
        room_mm = min(makes.value_mm - makes.working_low_mm, makes.working_high_mm - makes.value_mm)
        return words if abs(error_mm) <= room_mm else f"{words} That may leave the working limits: measure."
    made_mm = makes.value_mm + (2 if move.grows else -2) * error_mm
    words = f"The nearest line makes {length_text(made_mm, units, 'Ø')}."
    if makes.working_low_mm is None or makes.working_high_mm is None:
        return words
    if makes.working_low_mm - EQUAL_MM <= made_mm <= makes.working_high_mm + EQUAL_MM:
        return words
    return f"{words} That is outside the working limits: measure, and finish between the lines."
