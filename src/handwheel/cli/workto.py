"""`size --from POINT` and `size --work-to PHRASE`: a part worked to other dimensions than the drawn ones."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from handwheel.base.faults import Fault
from handwheel.cli.load import is_good, load_job, size_with
from handwheel.cli.table import columns
from handwheel.cli.units import value_text
from handwheel.cli.wrong import DONE, WRONG, InputWrong, fault_at, tell
from handwheel.drawing.datum import Capability, Transfer, WorkingSize, from_datum, worked_to
from handwheel.drawing.records import Drawing
from handwheel.job.ask import read_question
from handwheel.job.records import Job, Measure, Phrase, Point, Unit
from handwheel.plan.tight import held_by
from handwheel.sheets.jsonfigures import VALUE_KEY, Json, figure
from handwheel.sheets.numbers import limits
from handwheel.workshop.records import Workshop


def work_to(path: str, part: str | None, point: str | None, phrases: Sequence[str], as_json: bool) -> int:
    """Print the part's working dimensions with their limits; returns the exit status."""
    from handwheel.cli.make import load_workshop
    from handwheel.sheets.sizejson import text

    job = load_job(path)
    drawing, _ = size_with(job, (), part)
    if not is_good(drawing):
        tell(drawing.faults)
        return WRONG
    name = part or (job.parts[0].name if len(job.parts) == 1 else "")
    if not name:
        raise InputWrong([fault_at("part-missing", "--from", "it does not say of which part", "choose with --part")])
    shop = load_workshop(job)
    found = _found(drawing, name, point, phrases, held_by(shop))
    if as_json:
        sys.stdout.write(text(transfer_json(found)))
    else:
        print("\n".join(transfer_lines(found, point, shop, job.units)))
    return DONE


def _found(drawing: Drawing, part: str, point: str | None, phrases: Sequence[str], able: Capability) -> Transfer:
    if point is not None:
        found = from_datum(drawing, part, read_point(drawing.job, part, point), able)
        wrong, do = f"lengths from '{point}' do not fix '{part}'", "try another point"
    else:
        read = [read_question(text, drawing.job, part) for text in phrases]
        faults = [r for r in read if isinstance(r, Fault)]
        odd = [t for t, r in zip(phrases, read, strict=True) if not isinstance(r, Fault | Phrase)]
        faults += [fault_at("no-such-size", "--work-to", f"'{t}' is no dimension to work to", "name one size") for t in odd]
        if faults:
            raise InputWrong(faults)
        found = worked_to(drawing, part, [r for r in read if isinstance(r, Phrase)], able)
        wrong, do = f"these dimensions say nothing new of '{part}', or have no sense there", "name sizes that follow"
    if found is None:
        raise InputWrong([fault_at("cannot-work-to", "--from" if point else "--work-to", wrong, do)])
    return found


def read_point(job: Job, part: str, text: str) -> Point:
    """A point of the part in the job file's words. Raises InputWrong."""
    end = "left end" if "right end" in text else "right end"
    read = read_question(f"{text} to {end}", job, part)
    if isinstance(read, Fault):
        raise InputWrong([fault_at(read.id, "--from", read.what, read.do)])
    start = getattr(read, "start", None)
    if not isinstance(start, Point) or start.part not in ("", part):
        raise InputWrong([fault_at("no-such-size", "--from", f"'{text}' is no point of '{part}'", "name one of its points")])
    return start


def transfer_lines(found: Transfer, point: str | None, shop: Workshop, units: Unit) -> list[str]:
    """The working dimensions with their limits, the tight one, and the other datums."""
    rows = [_row(size, units) for size in found.sizes if not (size.given and size.half == 0.0)]
    lines = [f"{found.part}, lengths from {point}:" if point else f"{found.part}, worked to:", *columns(rows)]
    if found.even is not None:
        by = f", set by {', '.join(found.tight)}" if found.tight else ""
        lines.append(f"The tightest gets {found.even:.2f} of the ± that {shop.name} holds{by}.")
    if found.even is not None and found.even < 1.0:
        lines.append("This workshop does not hold it so: take another datum, or fit and measure.")
    if found.ranking:
        lines += ["The same from each point:", *columns((name, f"{even:.2f}") for name, even in found.ranking)]
    return lines


def _row(size: WorkingSize, units: Unit) -> tuple[str, ...]:
    value = value_text(size.measure, size.value, units)
    if size.half is None:
        return (size.phrase, value, "", "no limits drawn")
    half = f"± {size.half:.4f}°" if size.measure is Measure.ANGLE else f"± {size.half:.6f}"
    if size.measure is Measure.LENGTH:
        half = limits(size.value - size.half, size.value + size.half, units)
    held = "as drawn" if size.given and size.held_by == size.phrase else f"held by {size.held_by}" if size.held_by else ""
    return (size.phrase, value, half, held)


def transfer_json(found: Transfer) -> Json:
    """The same in JSON."""
    return {
        "part": found.part,
        "sizes": [_size_json(size) for size in found.sizes],
        "least_share": None if found.even is None else figure(found.even),
        "tight": list(found.tight),
        "datums": [{"point": name, "least_share": figure(even)} for name, even in found.ranking],
    }


def _size_json(size: WorkingSize) -> Json:
    unit = VALUE_KEY[size.measure]
    half = None if size.half is None else figure(size.half)
    return {
        "phrase": size.phrase,
        f"value_{unit}": figure(size.value),
        f"plus_or_minus_{unit}": half,
        "held_by": size.held_by,
        "as_drawn": size.given,
    }
