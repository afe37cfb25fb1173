"""How the reader carries faults: one raised inside a phrase or value, many collected with their places."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches

from handwheel.base.faults import Fault, Span


class Wrong(Exception):
    """Something wrong at an offset of a scalar's text; the reader turns it into a `Fault` with its place."""

    def __init__(self, fault_id: str, at: int, what: str, do: str) -> None:
        super().__init__(what)
        self.fault_id = fault_id
        self.at = at
        self.what = what
        self.do = do


@dataclass
class Complaints:
    """The faults found so far. `part` is written into each fault added while it stands."""

    found: list[Fault] = field(default_factory=list)
    part: str = ""

    def add(
        self, fault_id: str, span: Span, what: str, do: str, phrases: Iterable[str] = (), others: Iterable[Span] = ()
    ) -> None:
        """Note one fault."""
        self.found.append(Fault(fault_id, span, what, do, self.part, tuple(phrases), tuple(others)))

    def add_wrong(self, wrong: Wrong, span: Span, phrases: Iterable[str] = ()) -> None:
        """Note one raised inside a scalar, already placed at `span`."""
        self.add(wrong.fault_id, span, wrong.what, wrong.do, phrases)


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """What to do about a word not known: the nearest known one, or the list of them."""
    names: Sequence[str] = sorted(set(known))
    near = get_close_matches(word[:80], names, n=1, cutoff=0.6) or [
        name for name in names if name.lower() == word.lower() or (len(word) > 2 and name.startswith(word.lower()))
    ]
    if near:
        return f"did you mean '{near[0]}'?"
    if not names:
        return "there are none here to choose from"
    listed = ", ".join(names[:12]) + (", …" if len(names) > 12 else "")
    return f"known here: {listed}"


def quoted(text: str) -> str:
    """A piece of the file's text in quotes, cut short where it is long, on one line."""
    flat = " ".join(text.split())
    return f"'{flat}'" if len(flat) <= 60 else f"'{flat[:57]}…'"
