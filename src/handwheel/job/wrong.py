"""How the reader carries faults: one raised inside a phrase or value, many collected with their places."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import TYPE_CHECKING, TypeVar

from handwheel.base.faults import Fault, Span

if TYPE_CHECKING:
    from handwheel.job.yamltext import Scalar

_T = TypeVar("_T")
_MOST_MENDED = 12


class Wrong(Exception):
    """Something wrong at an offset of a scalar's text; the reader turns it into a `Fault` with its place.

    `mend`, (from, to, instead): what to read there so that what follows can be read on; None where that would be
    a guess. `more`: what else is wrong in the same text.
    """

    def __init__(self, fault_id: str, at: int, what: str, do: str, mend: tuple[int, int, str] | None = None) -> None:
        super().__init__(what)
        self.fault_id = fault_id
        self.at = at
        self.what = what
        self.do = do
        self.mend = mend
        self.more: tuple[Wrong, ...] = ()

    def mended(self, text: str) -> str | None:
        """The text with what is wrong replaced by something of the same length; None where it cannot be."""
        if self.mend is None:
            return None
        start, end, instead = self.mend
        new = text[:start] + instead[: end - start].ljust(end - start) + text[end:]
        return None if new == text else new


_HANG_ON_SORT = frozenset(
    {"length-wanted", "angle-wanted", "taper-wanted", "angle-unit", "angle-too-large", "tolerance-measure",
     "size-not-positive", "class-on-angle", "follow-measure", "stock-form"}
)  # fmt: skip
"""Faults that hang on what an amount is; behind a mended one they could be of the mending."""


def read_on(text: str, read: Callable[[str], _T]) -> _T:
    """What `read` makes of the text; where it raises `Wrong`, all that is wrong with the text is raised at once.

    What can be mended is mended and the text read again, so each fault behind it is found too.
    """
    found: dict[tuple[str, int], Wrong] = {}
    for _ in range(_MOST_MENDED):
        try:
            result = read(text)
        except Wrong as wrong:
            new = {
                (each.fault_id, each.at): each
                for each in (wrong, *wrong.more)
                if (each.fault_id, each.at) not in found and not (found and each.fault_id in _HANG_ON_SORT)
            }
            found |= new
            mended = next((m for m in (each.mended(text) for each in new.values()) if m is not None), None)
            if mended is None:
                break
            text = mended
        else:
            if not found:
                return result
            break
    raise every_wrong(list(found.values()))


def every_wrong(wrongs: Sequence[Wrong]) -> Wrong:
    """All of them (at least one) as one to raise."""
    first = wrongs[0]
    first.more = tuple(wrongs[1:])
    return first


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

    def add_wrong(self, wrong: Wrong, scalar: Scalar, phrases: Iterable[str] = ()) -> None:
        """Note one raised inside a scalar, and what else is wrong with it."""
        for one in (wrong, *wrong.more):
            self.add(one.fault_id, scalar.at(one.at), one.what, one.do, phrases)


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """What to do about a word not known: the nearest known one, or the list of them."""
    names: Sequence[str] = sorted(set(known))
    near = nearest(word, names)
    if near:
        return f"did you mean '{near}'?"
    if not names:
        return "there are none here to choose from"
    listed = ", ".join(names[:12]) + (", …" if len(names) > 12 else "")
    return f"known here: {listed}"


def nearest(word: str, known: Iterable[str], least: float = 0.6) -> str:
    """The known word most like this one, capitals and small letters alike; '' where none is at all like it."""
    names = sorted(set(known))
    if not word or word in names:
        return word
    low = {name.lower(): name for name in reversed(names)}
    near = get_close_matches(word[:80].lower(), low, n=1, cutoff=least) or [
        name for name in low if len(word) > 2 and name.startswith(word.lower())
    ]
    return low[near[0]] if near else ""


def quoted(text: str) -> str:
    """A piece of the file's text in quotes, cut short where it is long, on one line."""
    flat = " ".join(text.split())
    return f"'{flat}'" if len(flat) <= 60 else f"'{flat[:57]}…'"
