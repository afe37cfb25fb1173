"""Edits of a part's entries of one line, and of a whole block."""

from __future__ import annotations

from dataclasses import dataclass, replace

from handwheel.base.faults import Span
from handwheel.job.partread import PART_KEYS
from handwheel.job.splice import FIRST, Splice, added, block_set, in_flow, replaced
from handwheel.job.splicecheck import is_same, without_word
from handwheel.job.written import Opened
from handwheel.job.wrong import Complaints, did_you_mean, quoted
from handwheel.job.yamltext import Mapping, Scalar

PART_WORDS = ("quantity", "material", "stock", "note", "general tolerance")
JOB_WORDS = ("job", "workshop", "general tolerance")
_JOB_ORDER = ("handwheel", "job", "units", "workshop", "general tolerance", "parts")
_TAKEN_OVER = ("material", "general tolerance")


@dataclass(frozen=True, slots=True)
class SetWord:
    """A one-line entry of a part, or of the job where `part` is empty: changed where it is written, else added."""

    part: Scalar
    key: Scalar
    value: Scalar

    @property
    def place(self) -> Span:
        """Where it was said."""
        return self.key.span

    def pieces(self, opened: Opened, complaints: Complaints) -> tuple[Splice, ...]:
        """The value's text, or a new line among its like."""
        is_part = bool(self.part.text)
        words = PART_WORDS if is_part else JOB_WORDS
        if self.key.text not in words:
            what = f"{quoted(self.key.text)} is not a word of {'a part' if is_part else 'the job'} that can be set"
            complaints.add("key-unknown", self.key.span, what, did_you_mean(self.key.text, words))
        if is_part and self.part.text not in opened.parts:
            what = f"there is no part {quoted(self.part.text)}"
            complaints.add("part-unknown", self.part.span, what, did_you_mean(self.part.text, opened.parts))
        if not self.value.text:
            complaints.add("value-missing", self.value.span, f"{quoted(self.key.text)} has no value", "write one")
        if complaints.found:
            return ()
        source, entry = opened.source, opened.entry(*self._path(), self.key.text)
        if entry is not None and isinstance(entry.value, Scalar):
            return (replaced(source, entry.value, self.value.text, in_flow(source, opened.tree, entry.value)),)
        holder = opened.entry(*self._path()) if is_part else None
        mapping = holder.value if holder else opened.tree
        assert isinstance(mapping, Mapping)
        at = _place_among(mapping, self.key.text, PART_KEYS if is_part else _JOB_ORDER)
        return (added(source, holder, mapping, (self.key.text,), self.value.text, opened.step, at),)

    def _path(self) -> tuple[str, ...]:
        return ("parts", self.part.text) if self.part.text else ()

    def holds(self, old: Opened, new: Opened) -> bool:
        """Only that word is another, in the part and where it is taken over from it."""
        part, key = self.part.text, self.key.text
        owners = frozenset[str]()
        if part:
            owners = old.likes(part) if key in _TAKEN_OVER else frozenset({part})
        entry = new.entry(*self._path(), key)
        is_there = entry is not None and isinstance(entry.value, Scalar) and entry.value.text.strip() == self.value.text
        return is_there and is_same(without_word(old.job, owners, key), without_word(new.job, owners, key))


def _place_among(mapping: Mapping, key: str, order: tuple[str, ...]) -> int:
    """The number of the last entry that stands before `key` in the usual order, FIRST where none does."""
    before = order[: order.index(key)]
    return max((i for i, entry in enumerate(mapping.entries) if entry.key.text in before), default=FIRST)


@dataclass(frozen=True, slots=True)
class SetBlock:
    """A whole entry of a part, such as `dimensions`, written anew from lines; the former one goes."""

    part: Scalar
    key: Scalar
    lines: tuple[str, ...]

    @property
    def place(self) -> Span:
        """Where it was said."""
        return self.key.span

    def pieces(self, opened: Opened, complaints: Complaints) -> tuple[Splice, ...]:
        """The block's lines."""
        holder = opened.entry("parts", self.part.text)
        if holder is None:
            what = f"there is no part {quoted(self.part.text)}"
            complaints.add("part-unknown", self.part.span, what, did_you_mean(self.part.text, opened.parts))
            return ()
        found = block_set(opened.source, holder, self.key.text, self.lines, opened.step)
        if found is None:
            what = f"the part {quoted(self.part.text)} is written between brackets, with no room for a block"
            complaints.add("no-room-for-block", self.part.span, what, "write the part's entries on lines of their own")
        return found or ()

    def holds(self, old: Opened, new: Opened) -> bool:
        """Only that part, and what is made like it, is another."""
        owners = old.likes(self.part.text)
        before, after = (
            replace(opened.job, parts=tuple(p for p in opened.job.parts if p.name not in owners)) for opened in (old, new)
        )
        return is_same(before, after) and [p.name for p in old.job.parts] == [p.name for p in new.job.parts]
