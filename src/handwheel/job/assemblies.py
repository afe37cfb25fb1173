"""The entry `assemblies`: seats, and dimensions over several parts."""

from __future__ import annotations

from handwheel.job.entries import Options, as_mapping, as_scalar, as_sequence
from handwheel.job.names import check_name
from handwheel.job.partread import read_dimension
from handwheel.job.phrases import Reader
from handwheel.job.records import Assembly, DrawnDimension, Seat
from handwheel.job.tokens import Cursor, tokenise
from handwheel.job.wrong import Complaints, Wrong, quoted
from handwheel.job.yamltext import Entry, Scalar


def read_assemblies(options: Options, reader: Reader) -> tuple[Assembly, ...]:
    """Every assembly; `reader` has no part of its own, so each phrase names one."""
    entry = options.take("assemblies")
    mapping = as_mapping(entry.value, "assemblies", options.complaints) if entry else None
    found = [_assembly(one, options, reader) for one in (mapping.entries if mapping else ())]
    return tuple(one for one in found if one is not None)


def _assembly(entry: Entry, options: Options, reader: Reader) -> Assembly | None:
    complaints = options.complaints
    if not check_name(entry.key, "assembly", complaints):
        return None
    mapping = as_mapping(entry.value, entry.key.text, complaints)
    if mapping is None:
        return None
    own = Options(mapping, f"the assembly '{entry.key.text}'", complaints, options.bare)
    seats: list[Seat] = []
    dimensions: list[DrawnDimension] = []
    seats_entry, dimensions_entry = own.take("seats"), own.take("dimensions")
    for item in as_sequence(seats_entry.value, "seats", complaints) if seats_entry else ():
        scalar = as_scalar(item, "seats", complaints)
        seat = _seat(scalar, reader, complaints) if scalar else None
        if seat is not None:
            seats.append(seat)
    written = as_mapping(dimensions_entry.value, "dimensions", complaints) if dimensions_entry else None
    for one in written.entries if written else ():
        value = as_scalar(one.value, one.key.text, complaints)
        dimension = read_dimension(one.key, value, reader, complaints)
        if dimension is not None:
            dimensions.append(dimension)
    own.done(("seats", "dimensions"))
    if seats_entry is None:
        complaints.add(
            "seats-missing",
            entry.key.span,
            f"the assembly '{entry.key.text}' does not say how its parts sit",
            "add 'seats:' with 'POINT of PART on POINT of PART'",
        )
    return Assembly(entry.key.text, entry.key.span, tuple(seats), tuple(dimensions))


def _seat(scalar: Scalar, reader: Reader, complaints: Complaints) -> Seat | None:
    """seat := point of PART on point of PART."""
    try:
        cursor = Cursor(scalar.text, tokenise(scalar.text))
        moving = reader.point(cursor, scalar, False)
        if not cursor.take_if("on"):
            raise Wrong(
                "seat-unreadable",
                cursor.offset(),
                f"{quoted(scalar.text)} does not say what it sits on",
                "write 'POINT of PART on POINT of PART'",
            )
        fixed = reader.point(cursor, scalar)
        if moving.part == fixed.part:
            raise Wrong("seat-unreadable", 0, f"'{moving.part}' cannot sit on itself", "name two parts")
    except Wrong as wrong:
        complaints.add_wrong(wrong, scalar, (scalar.text,))
        return None
    return Seat(moving, fixed, scalar.span)
