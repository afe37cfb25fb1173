"""Sizes as lines of plain text for a person: the job's unit, then the other."""

from __future__ import annotations

from collections.abc import Iterable

from handwheel.cli.units import other_text, value_text
from handwheel.drawing.records import Drawing, SolvedDimension, SolvedPart
from handwheel.job.records import Unit
from handwheel.readings.words import other


def part_lines(part: SolvedPart, units: Unit) -> list[str]:
    """The part's heading and one line a size, in columns: phrase, value, other unit, given or worked out."""
    material = f", {part.material}" if part.material else ""
    rows = [size_row(size, units) for size in part.dimensions]
    return [f"{part.name}: {part.quantity} off{material}", *columns(rows), ""]


def size_row(size: SolvedDimension, units: Unit) -> tuple[str, ...]:
    """One size's cells."""
    origin = f"given: {size.typed}" if size.given and size.typed else "given" if size.given else "worked out"
    measure = size.measure
    return (size.phrase, value_text(measure, size.value, units), other_text(measure, size.value, other(units)), origin)


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
