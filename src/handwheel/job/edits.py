"""A job file changed in one thing after another, each read again: the job with just that change, or nothing changes.

Every word of an edit is a scalar with its own place, so that what is wrong with it is told where it was said.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from handwheel.base.faults import Fault, Span
from handwheel.job.splice import Splice, spliced
from handwheel.job.written import Opened, open_job
from handwheel.job.wrong import Complaints
from handwheel.job.yamltext import Scalar


class Edit(Protocol):
    """One change of a job file."""

    @property
    def place(self) -> Span:
        """Where it was said."""

    def pieces(self, opened: Opened, complaints: Complaints) -> tuple[Splice, ...]:
        """What to replace; nothing, and a fault, where it cannot be done."""

    def holds(self, old: Opened, new: Opened) -> bool:
        """Whether the file read again is the old job with this change and no other."""


def said(text: str, place: str = "change", line: int = 1, column: int = 1) -> Scalar:
    """A word of an edit, on one line, with the place that faults name."""
    plain = " ".join(text.splitlines())
    lead = len(plain) - len(plain.lstrip())
    return Scalar(plain.strip(), Span(place, line, column + lead))


def change_job(data: bytes, file: str, edits: Sequence[Edit]) -> tuple[bytes | None, tuple[Fault, ...]]:
    """The file with every edit, in the order given; or None and every fault found.

    Parameters
        data: the file as it is; a job that is read without faults.
        file: what the file is called in faults.
        edits: each is made in the text that the one before it left.
    """
    opened, faults = open_job(data, file)
    if opened is None:
        return None, faults
    found: list[Fault] = []
    for edit in edits:
        complaints = Complaints()
        pieces = edit.pieces(opened, complaints)
        if complaints.found or not pieces:
            found += complaints.found
            continue
        tried = spliced(opened.source, pieces)
        new, why = open_job(tried, file)
        if new is None:
            what = f"the job could not be read after it: {why[0].what}"
            found.append(Fault("change-refused", edit.place, what, why[0].do))
        elif not edit.holds(opened, new):
            what = "it would change more of the job than it says"
            found.append(Fault("change-refused", edit.place, what, "write it into the file by hand"))
        else:
            data, opened = tried, new
    return (None if found else data), tuple(found)
