"""Places in a text and the faults and notices that point at them.

A fault says what is wrong with the input and what to do; a notice says what was noticed in an input that is
good enough to work from. Both are plain records; this module knows nothing of jobs or drawings.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A place in a text file; line and column count from 1."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class Remark:
    """What a fault and a notice have in common.

    `id` is stable kebab-case, documented in docs/faults.md; `phrases` names only the dimensions or features
    concerned, in the job file's words; `others` are further places concerned.
    """

    id: str
    span: Span
    what: str
    do: str
    part: str = ""
    phrases: tuple[str, ...] = ()
    others: tuple[Span, ...] = ()

    def line(self) -> str:
        """The one line for a person: `FILE:LINE:COLUMN: what is wrong; what to do`."""
        return f"{self.span}: {self.what}; {self.do}"


@dataclass(frozen=True, slots=True)
class Fault(Remark):
    """The input is wrong: nothing is written, exit status 2."""


@dataclass(frozen=True, slots=True)
class Notice(Remark):
    """The input is good enough, and this was noticed."""


def in_file_order(faults: list[Fault]) -> tuple[Fault, ...]:
    """The faults sorted by place, each once."""
    return tuple(sorted(dict.fromkeys(faults), key=lambda f: (f.span, f.id)))
