"""Questions, and a part of one feature said on the command line in the job file's words."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.base.faults import Fault, Span, in_file_order
from handwheel.job.features import OUTSIDE_OPTIONS, read_outside
from handwheel.job.numbers import scale_of
from handwheel.job.partread import read_dimension
from handwheel.job.phrases import Reader
from handwheel.job.records import Job, OutsideFeature, Part, Phrase, Unit
from handwheel.job.senses import OUTSIDE, senses_of
from handwheel.job.wrong import Complaints, Wrong, did_you_mean, quoted
from handwheel.job.yamltext import Entry, Mapping, Scalar
from handwheel.job.yamltext import Sequence as Items

ASK = "--ask"
SAID = "ask"
IT = "it"
PART = "part"


def read_question(text: str, job: Job, part: str | None) -> Phrase | Fault:
    """A question's phrase.

    Parameters
        text: the phrase as asked; it may end in `of PART`.
        part: the part it is about where it names none; None where the job has several and none was chosen.
    Returns
        The phrase, or the fault, placed at `--ask`, line 1.
    """
    known = {one.name: senses_of(one) for one in job.parts}
    span = Span(ASK, 1, 1)
    if part is not None and part not in known:
        return Fault("part-unknown", span, f"there is no part {quoted(part)}", did_you_mean(part, known), part)
    own = part or (job.parts[0].name if len(job.parts) == 1 else "")
    is_one = job.file == SAID and len(job.parts) == 1
    reader = Reader(known, own, scale_of(job.units), IT if is_one else "")
    line = text.replace("\n", " ").replace("\r", " ")
    try:
        return reader.phrase(Scalar(line, span))
    except Wrong as wrong:
        return Fault(wrong.fault_id, Span(ASK, 1, wrong.at + 1), wrong.what, wrong.do, own, (text,))


def read_one_feature(kind: str, sayings: Sequence[str], units: Unit) -> tuple[Job | None, tuple[Fault, ...]]:
    """A job of one part, `part`, with one outside feature, `it`, said as `PHRASE: VALUE` without the feature's name.

    Parameters
        kind: an outside kind, such as `cone`.
        sayings: `left diameter: 3/4`, or an option of the kind such as `narrow: left`; fault line n is saying n.
        units: how a bare number is read.
    """
    complaints = Complaints(part=PART)
    start = Span(SAID, 1, 1)
    if kind not in OUTSIDE:
        complaints.add("kind-unknown", start, f"{quoted(kind)} is no kind of feature", did_you_mean(kind, OUTSIDE))
        return None, tuple(complaints.found)
    bare = scale_of(units)
    entries, sizes = _split(kind, sayings, complaints)
    item = Mapping((Entry(Scalar(kind, start), Scalar(IT, start)), *entries), start)
    section = read_outside(Items((item,), start), complaints, bare)
    reader = Reader({PART: section.senses}, PART, bare, IT, may_name_part=False)
    dimensions = [read_dimension(i.phrase, i.value, reader, complaints) for i in section.inline]
    dimensions += [read_dimension(e.key, e.value, reader, complaints) for e in sizes if isinstance(e.value, Scalar)]
    found = in_file_order(complaints.found)
    part = Part(
        PART,
        start,
        tuple(f for f in section.features if isinstance(f, OutsideFeature)),
        tuple(d for d in dimensions if d is not None),
    )
    return (None if found else Job(PART, SAID, units, (part,))), found


def _split(kind: str, sayings: Sequence[str], complaints: Complaints) -> tuple[list[Entry], list[Entry]]:
    """The sayings that are options of the kind, and those that are dimensions."""
    options: list[Entry] = []
    sizes: list[Entry] = []
    for number, saying in enumerate(sayings, 1):
        text = saying.replace("\n", " ").replace("\r", " ")
        key, colon, value = text.partition(":")
        if not colon or not key.strip():
            complaints.add(
                "saying-form",
                Span(SAID, number, 1),
                f"{quoted(text)} is not 'PHRASE: VALUE'",
                "write it like 'left diameter: 3/4'",
            )
            continue
        lead, gap = len(key) - len(key.lstrip()), len(value) - len(value.lstrip())
        entry = Entry(
            Scalar(key.strip(), Span(SAID, number, lead + 1)),
            Scalar(value.strip(), Span(SAID, number, len(key) + 2 + gap)),
        )
        (options if entry.key.text in OUTSIDE_OPTIONS[kind] else sizes).append(entry)
    return options, sizes
