"""What stops a command: faults of the input, one line each, and how they are told."""

from __future__ import annotations

import sys
from collections.abc import Iterable

from handwheel.base.faults import Fault, Remark, Span

DONE, CANNOT, WRONG, OURS = 0, 1, 2, 3
"""Exit statuses: done; this workshop cannot; the input is wrong; a fault in handwheel itself."""


class InputWrong(Exception):
    """The input is wrong: exit status 2, one line per fault, nothing written."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("; ".join(fault.what for fault in self.faults))


def fault_at(fault_id: str, file: str, what: str, do: str) -> Fault:
    """A fault of a whole file or of the command line, at its first place."""
    return Fault(fault_id, Span(file, 1, 1), what, do)


def tell(remarks: Iterable[Remark]) -> None:
    """Each remark's one line, on standard error; once where parts that are alike have the same."""
    for line in dict.fromkeys(one_line(remark.line()) for remark in remarks):
        print(line, file=sys.stderr)


def one_line(text: str) -> str:
    """The text with every line break as a blank: a name may contain anything."""
    return " ".join(text.splitlines())
