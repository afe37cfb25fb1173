"""What sizes as made come to, in words; for the terminal and for the sheets alike."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from handwheel.drawing.asmaderecords import AsMadeOutcome, Measured, Moved, Out, Ranges, Size, WayOn
from handwheel.job.records import Measure, Unit
from handwheel.readings.words import PLACES, fixed, in_unit, unit_name
from handwheel.sheets.numbers import limits

WIDE = 80
STAYS = "What is not listed stays as drawn. What is not measured counts as not yet made."


@dataclass(frozen=True, slots=True)
class Told:
    """One set of copies in words. `measured` and `moved`: rows with a head; `out`: each trouble with its ways on."""

    title: str
    measured: tuple[tuple[str, ...], ...]
    moved: tuple[tuple[str, ...], ...]
    out: tuple[tuple[str, tuple[str, ...]], ...]
    remarks: tuple[str, ...]


def told(outcome: AsMadeOutcome, unit: Unit) -> Told:
    """A set of copies in words, lengths in the job's unit."""
    remarks = [f"{text}; measure again." for text in outcome.unused]
    if outcome.cannot:
        remarks.append(f"Not worked out again, these sizes give no one shape: {outcome.cannot}. Measure again, or one more.")
    else:
        remarks.append(STAYS)
    measured: list[tuple[str, ...]] = [("size", "as made", "drawn", "")]
    measured += [_measured_row(m, unit) for m in outcome.measured]
    moved: list[tuple[str, ...]] = [("size", "now", "was", "because of")]
    moved += [_moved_row(m, unit) for m in outcome.moved]
    return Told(
        title=", ".join(copy_text(part, runs) for part, runs in outcome.copies),
        measured=tuple(measured) if outcome.measured else (),
        moved=tuple(moved) if outcome.moved else (),
        out=tuple((_out_text(o, unit, outcome.measured), _ways(o, unit)) for o in outcome.out),
        remarks=tuple(remarks),
    )


def copy_text(part: str, runs: Ranges) -> str:
    """'lever 2', 'lever 1, 3 to 8'."""
    said = [str(a) if a == b else f"{a} to {b}" for a, b in runs]
    return f"{part} {', '.join(said)}"


def value_text(value: float, measure: Measure, unit: Unit) -> str:
    """A size to the last place that is shown."""
    if measure is Measure.ANGLE:
        return f"{fixed(value, 4)}°"
    if measure is Measure.RATIO:
        return f"1 in {fixed(1 / value, 3)}" if value else "no taper"
    return f"{fixed(in_unit(value, unit), PLACES[unit])} {unit_name(unit)}"


def _name(size: Size) -> str:
    return f"{size.phrase} of {size.part}" if size.part else size.phrase


def _beyond(size: Size, unit: Unit, is_drawn: bool = True) -> str:
    side = "under" if size.is_under else "over"
    off = f"{fixed(size.beyond, 6)}"
    if size.measure is not Measure.RATIO:
        off = value_text(size.beyond, size.measure, unit)
    if is_drawn:
        return f"{off} {side} the {'low' if size.is_under else 'high'} limit"
    return f"{off} {side} {'the least' if size.is_under else 'the most'} that the drawing allows"


def _measured_row(made: Measured, unit: Unit) -> tuple[str, ...]:
    size = made.size
    verdict = "inside its limits" if made.is_drawn else "inside what the drawing allows"
    if size.beyond:
        verdict = _beyond(size, unit, made.is_drawn)
    return (_name(size), *(value_text(v, size.measure, unit) for v in (size.value, made.drawn)), verdict)


def _moved_row(moved: Moved, unit: Unit) -> tuple[str, ...]:
    size = moved.size
    why = ", ".join(moved.why)
    why += "; gives way" if moved.takes_up else ""
    if moved.is_drawn and size.measure is Measure.LENGTH and not size.beyond and size.high > size.low:
        why += f"; drawn limits {limits(size.low, size.high, unit)}"
    elif size.beyond:
        why += "; out of limits, see below"
    return (_name(size), *(value_text(v, size.measure, unit) for v in (size.value, moved.old)), why)


def _out_text(out: Out, unit: Unit, measured: Iterable[Measured]) -> str:
    size = out.size
    text = f"{_name(size)} {'is' if out.is_measured else 'comes to'} {value_text(size.value, size.measure, unit)}"
    text += f", {_beyond(size, unit, out.is_drawn)}"
    if any(m.may_be_cut and m.size == size for m in measured):
        return f"{text}; the metal is still there: it may be brought inside"
    return text


def _ways(out: Out, unit: Unit) -> tuple[str, ...]:
    if not out.ways:
        return () if out.is_measured else ("no way on: no dimension that is left could take it up",)
    return tuple(_way(way, unit, out.size.phrase) for way in out.ways)


def _way(way: WayOn, unit: Unit, trouble: str) -> str:
    size = way.size
    may = "may" if not size.beyond else f"may not: {_beyond(size, unit)}"
    value, was = (value_text(v, size.measure, unit) for v in (size.value, way.was))
    keeps = "" if way.keeps == trouble else f" would bring '{way.keeps}' back"
    return f"way on: {_name(size)} at {value}, not {was},{keeps or ' would bring it in'}: {may}"


def as_made_lines(outcomes: Sequence[AsMadeOutcome], unit: Unit, part: str | None = None) -> list[str]:
    """Lines for a person, at most 80 wide; `part`: only the sets with that part."""
    lines: list[str] = []
    for outcome in outcomes:
        if part is not None and part not in dict(outcome.copies):
            continue
        words = told(outcome, unit)
        lines += [f"As made: {words.title}", *_rows(words.measured)]
        if words.moved:
            lines += ["  worked out again:", *_rows(words.moved)]
        if words.out:
            lines.append("  out of limits:")
        for text, ways in words.out:
            lines += [*_wrapped(text, 4), *(line for way in ways for line in _wrapped(way, 6))]
        lines += [*(line for remark in words.remarks for line in _wrapped(remark, 2)), ""]
    return lines


def _wrapped(text: str, indent: int) -> list[str]:
    blanks = " " * indent
    return textwrap.wrap(text, WIDE, initial_indent=blanks, subsequent_indent=f"{blanks}  ", break_on_hyphens=False)


def _rows(rows: Sequence[tuple[str, ...]]) -> list[str]:
    """Columns, the last cell on a line of its own where it does not fit beside."""
    lines: list[str] = []
    widths = [max(len(row[i]) for row in rows) for i in range(3)] if rows else []
    for row in rows:
        line = "    " + "  ".join(c.ljust(w) for c, w in zip(row, widths, strict=False))
        if len(line) + 2 + len(row[3]) <= WIDE:
            lines.append(f"{line}  {row[3]}".rstrip())
        else:
            lines += [line.rstrip(), *_wrapped(row[3], 6)]
    return lines
