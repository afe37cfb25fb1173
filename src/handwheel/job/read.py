"""A whole job file to a `Job`, every fault at once and in file order."""

from __future__ import annotations

from handwheel.base.faults import Fault, Span, in_file_order
from handwheel.job.ask import read_question
from handwheel.job.asmade import read_as_made
from handwheel.job.assemblies import read_assemblies
from handwheel.job.circles import complain_circles
from handwheel.job.entries import Options, as_mapping
from handwheel.job.numbers import scale_of
from handwheel.job.partread import (
    Draft,
    finish,
    in_like_order,
    read_draft,
    settle,
    take_from,
    take_general_tolerance,
)
from handwheel.job.phrases import Reader
from handwheel.job.records import GeneralTolerance, Job, Part, Unit
from handwheel.job.wrong import Complaints, quoted
from handwheel.job.yamlon import holds_without, parse_on
from handwheel.job.yamltext import Mapping

__all__ = ["read_job", "read_question", "read_tree"]

JOB_KEYS = ("handwheel", "job", "units", "workshop", "general tolerance", "parts", "assemblies", "as made")
VERSION = "1"


def read_job(data: bytes, file: str) -> tuple[Job | None, tuple[Fault, ...]]:
    """The job that a file's bytes say.

    Parameters
        data: the file as it is; UTF-8, with or without a byte order mark, any line ends.
        file: what the file is called in faults.
    Returns
        The job, or None where there are faults; every fault found, in file order.
    """
    tree, faults, is_torn = parse_on(data, file)
    complaints = Complaints(list(faults))
    job: Job | None = None
    if isinstance(tree, Mapping) and is_torn:
        of_the_rest = Complaints()
        read_tree(tree, file, of_the_rest)
        complaints.found += [fault for fault in of_the_rest.found if holds_without(fault)]
    elif isinstance(tree, Mapping):
        job = read_tree(tree, file, complaints)
    elif tree is not None and not is_torn:
        complaints.add(
            "mapping-wanted", tree.span, "a job file is made of 'key: value'", "begin it with 'handwheel: 1'"
        )
    found = in_file_order(complaints.found)
    return (None if found else job), found


def read_tree(tree: Mapping, file: str, complaints: Complaints) -> Job:
    """The job that a whole tree says; faults go to `complaints`."""
    units = _units(tree, complaints)
    bare = scale_of(units)
    options = Options(tree, "the job", complaints, bare)
    _check_version(options, file)
    name = options.text("job")
    if tree.get("job") is None:
        complaints.add("key-missing", tree.span, "the job has no name", "add 'job: NAME'")
    options.take("units")
    workshop = options.scalar("workshop")
    general = take_general_tolerance(options, units)
    drafts = _drafts(options, units)
    parts, reader = _parts(drafts, options)
    assemblies = read_assemblies(options, reader)
    as_made = read_as_made(options, {d.name: d.quantity for d in drafts.values()}, reader)
    complaints.part = ""
    options.done(JOB_KEYS)
    job = Job(
        name,
        file,
        units,
        parts,
        assemblies,
        workshop.text.strip() if workshop else "",
        workshop.span if workshop else None,
        general or GeneralTolerance(None, "m"),
        as_made,
    )
    complain_circles(job, complaints)
    return job


def _check_version(options: Options, file: str) -> None:
    """`handwheel: 1` says what the file is."""
    entry = options.mapping.get("handwheel")
    if entry is None:
        options.complaints.add(
            "key-missing",
            Span(file, options.mapping.span.line, options.mapping.span.column),
            "the file does not say that it is a job file",
            "begin it with 'handwheel: 1'",
        )
        return
    scalar = options.scalar("handwheel")
    if scalar is not None and scalar.text.strip() != VERSION:
        options.complaints.add(
            "version-unknown",
            scalar.span,
            f"{quoted(scalar.text)} is no version of the job file known here",
            f"write 'handwheel: {VERSION}'",
        )


def _units(tree: Mapping, complaints: Complaints) -> Unit:
    """`units: inch` or `units: mm`; needed first, as every bare number hangs on it."""
    entry = tree.get("units")
    if entry is None:
        complaints.add("key-missing", tree.span, "the job does not say its units", "add 'units: inch' or 'units: mm'")
        return Unit.MM
    text = getattr(entry.value, "text", "")
    if text in (Unit.MM.value, Unit.INCH.value):
        return Unit(text)
    near = "inch" if text.lower().startswith(("in", '"', "imp")) else "mm" if text.lower().startswith("m") else ""
    do = f"write 'units: {near}'" if near else "write 'units: inch' or 'units: mm'"
    complaints.add("units-unknown", entry.value.span, f"{quoted(text)} is not a unit for a whole job", do)
    return Unit.INCH if near == "inch" else Unit.MM


def _drafts(options: Options, units: Unit) -> dict[str, Draft]:
    """Each part's own entries."""
    complaints = options.complaints
    entry = options.take("parts")
    if entry is None:
        complaints.add("key-missing", options.mapping.span, "the job has no parts", "add 'parts:'")
        return {}
    mapping = as_mapping(entry.value, "parts", complaints)
    drafts: dict[str, Draft] = {}
    for one in mapping.entries if mapping else ():
        draft = read_draft(one, complaints, options.bare, units)
        if draft is not None:
            drafts[draft.name] = draft
    complaints.part = ""
    return drafts


def _parts(drafts: dict[str, Draft], options: Options) -> tuple[tuple[Part, ...], Reader]:
    """The parts in the order written, and the reader for phrases that name their part."""
    complaints = options.complaints
    order = in_like_order(drafts, complaints)
    for draft, base in order:
        take_from(draft, base, complaints)
    known = {name: draft.senses() for name, draft in drafts.items()}
    for draft, base in order:
        settle(draft, base, Reader(known, draft.name, options.bare, may_name_part=False), complaints)
    complaints.part = ""
    return tuple(finish(draft) for draft in drafts.values()), Reader(known, "", options.bare)
