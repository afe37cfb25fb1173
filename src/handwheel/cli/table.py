"""Sizes and answers as lines of plain text for a person: the job's unit, then the other."""

from __future__ import annotations

from collections.abc import Iterable

from handwheel.drawing.records import Answer, Drawing, SolvedDimension, SolvedPart
from handwheel.job.records import Measure, Unit
from handwheel.readings.words import PLACES, fixed, in_unit, other, unit_name


def value_text(measure: Measure, value: float, units: Unit) -> str:
    """A value with its unit, the job's first: `0.5625 in`, `14.288 mm`, `2.5°`, `0.05000 (1 in 20.000)`."""
    if measure is Measure.ANGLE:
        return f"{fixed(value, 4)}°"
    if measure is Measure.RATIO:
        return f"{fixed(value, 5)} (1 in {fixed(1 / value, 3)})" if value else "0"
    return f"{fixed(in_unit(value, units), PLACES[units])} {unit_name(units)}"


def other_text(measure: Measure, value: float, units: Unit) -> str:
    """A length in the other unit; nothing for an angle or a taper."""
    if measure is not Measure.LENGTH:
        return ""
    return value_text(measure, value, other(units))


def part_lines(part: SolvedPart, units: Unit) -> list[str]:
    """The part's heading and one line a size, in columns: phrase, value, other unit, given or worked out."""
    material = f", {part.material}" if part.material else ""
    rows = [size_row(size, units) for size in part.dimensions]
    return [f"{part.name}: {part.quantity} off{material}", *columns(rows), ""]


def size_row(size: SolvedDimension, units: Unit) -> tuple[str, ...]:
    """One size's cells."""
    origin = f"given: {size.typed}" if size.given and size.typed else "given" if size.given else "worked out"
    measure = size.measure
    return (size.phrase, value_text(measure, size.value, units), other_text(measure, size.value, units), origin)


def answer_lines(answers: Iterable[Answer], units: Unit) -> list[str]:
    """One line an answer, with the least and the greatest that the drawing's limits allow."""
    rows = []
    for answer in answers:
        of = f" of {answer.part}" if answer.part else ""
        low, high = (value_text(answer.measure, value, units) for value in (answer.low, answer.high))
        value, beside = (f(answer.measure, answer.value, units) for f in (value_text, other_text))
        rows.append((f"{answer.ask}{of}", value, beside, f"the drawing allows {low} to {high}"))
    return columns(rows)


def columns(rows: Iterable[tuple[str, ...]]) -> list[str]:
    """The rows with their cells under each other, two blanks apart, indented by two."""
    table = list(rows)
    if not table:
        return []
    widths = [max(len(row[i]) for row in table) for i in range(len(table[0]))]
    return ["  " + "  ".join(cell.ljust(w) for cell, w in zip(row, widths, strict=True)).rstrip() for row in table]


def drawing_lines(drawing: Drawing, part: str | None) -> list[str]:
    """The whole answer of `size`: the parts asked for, then how the job is dimensioned."""
    units = drawing.job.units
    lines = [drawing.job.name, ""]
    for each in drawing.parts:
        if part is None or each.name == part:
            lines += part_lines(each, units)
    if part is None:
        for assembly in drawing.assemblies:
            rows = [size_row(size, units) for size in assembly.dimensions]
            lines += [f"{assembly.name}: assembly", *columns(rows), ""]
    return [*lines, f"The job is {drawing.state}."]
