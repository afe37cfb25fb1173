"""Edits of sizes: one given, one taken out, one measured on a copy."""

from __future__ import annotations

from dataclasses import dataclass

from handwheel.base.faults import Span
from handwheel.job.phrases import Reader, phrase_key
from handwheel.job.records import DrawnValue, Phrase
from handwheel.job.splice import Source, Splice, added, in_flow, replaced, taken_out
from handwheel.job.splicecheck import is_same, without_made, without_size
from handwheel.job.values import read_value
from handwheel.job.written import (
    LISTS,
    Opened,
    Written,
    copy_of,
    entries_of,
    items_of,
    sizes_made,
    sizes_of,
    sizes_over,
)
from handwheel.job.wrong import Complaints, Wrong, did_you_mean, quoted
from handwheel.job.yamltext import Entry, Mapping, Node, Scalar


@dataclass(frozen=True, slots=True)
class SetSize:
    """A size of a part, or over an assembly: changed where it is written there, else added."""

    where: Scalar
    phrase: Scalar
    value: Scalar

    @property
    def place(self) -> Span:
        """Where it was said."""
        return self.phrase.span

    def pieces(self, opened: Opened, complaints: Complaints) -> tuple[Splice, ...]:
        """The value's text, or a new line."""
        phrase = _phrase(opened, self.where, self.phrase, complaints)
        if phrase is None or _value(self.value, phrase, _reader(opened, self.where), complaints) is None:
            return ()
        one, is_clear = _the_one(_sizes(opened, self.where.text), self.phrase, phrase, complaints)
        if one is not None:
            return (_revalued(opened, one, self.value.text),)
        return (self._added(opened),) if is_clear else ()

    def _added(self, opened: Opened) -> Splice:
        path = _path(opened, self.where.text)
        key = " ".join(self.phrase.text.split())
        sizes = opened.entry(*path, "dimensions")
        if sizes is not None and isinstance(sizes.value, Mapping):
            return added(opened.source, sizes, sizes.value, (key,), self.value.text, opened.step)
        holder = opened.entry(*path)
        assert holder is not None
        assert isinstance(holder.value, Mapping)
        return added(opened.source, holder, holder.value, ("dimensions", key), self.value.text, opened.step)

    def holds(self, old: Opened, new: Opened) -> bool:
        """Only that size is another, in the part and in what is made like it."""
        phrase = _phrase(new, self.where, self.phrase, Complaints())
        if phrase is None or not _is_same_but(old, new, self.where.text, phrase):
            return False
        found = _found(_sizes(new, self.where.text), phrase)
        return self.value.text in [one.value.text.strip() for one in found]


@dataclass(frozen=True, slots=True)
class DropSize:
    """A size taken out of a part or an assembly, with the comment behind it."""

    where: Scalar
    phrase: Scalar

    @property
    def place(self) -> Span:
        """Where it was said."""
        return self.phrase.span

    def pieces(self, opened: Opened, complaints: Complaints) -> tuple[Splice, ...]:
        """Its line, or its place between brackets."""
        phrase = _phrase(opened, self.where, self.phrase, complaints)
        if phrase is None:
            return ()
        sizes = _sizes(opened, self.where.text)
        one, is_clear = _the_one(sizes, self.phrase, phrase, complaints)
        if one is None:
            if is_clear:
                what = f"{quoted(phrase.text)} is not written in {quoted(self.where.text)}"
                complaints.add("size-not-written", self.phrase.span, what, _instead(opened, self.where.text, phrase))
            return ()
        home = _home(opened, self.where.text, one)
        if home is None:
            complaints.add(
                "size-joined",
                self.phrase.span,
                f"{quoted(phrase.text)} is written together with another size",
                "take it out of the file by hand",
            )
            return ()
        return taken_out(opened.source, *home)

    def holds(self, old: Opened, new: Opened) -> bool:
        """Only that size is gone, or again what the part it is like has."""
        phrase = _phrase(new, self.where, self.phrase, Complaints())
        if phrase is None or not _is_same_but(old, new, self.where.text, phrase):
            return False
        before, after = (len(_found(_sizes(o, self.where.text), phrase)) for o in (old, new))
        return after == before - 1


@dataclass(frozen=True, slots=True)
class SetMade:
    """A size measured on a copy of a part; what was measured before stays as a comment on the line."""

    copy: Scalar
    phrase: Scalar
    value: Scalar

    @property
    def place(self) -> Span:
        """Where it was said."""
        return self.copy.span

    def pieces(self, opened: Opened, complaints: Complaints) -> tuple[Splice, ...]:
        """The measured value, and where there was one the comment that keeps it."""
        copy = copy_of(opened, self.copy.text)
        if copy is None:
            do = did_you_mean(self.copy.text, opened.parts)
            complaints.add("part-unknown", self.copy.span, f"there is no part {quoted(self.copy.text)}", do)
            return ()
        reader = opened.reader_of(copy[0])
        phrase = _read(self.phrase, reader, complaints)
        value = _value(self.value, phrase, reader, complaints) if phrase else None
        if phrase is None or value is None:
            return ()
        if value.follow is not None or value.tolerance is not None or value.auxiliary:
            complaints.add(
                "as-made-value",
                self.value.span,
                "a size as made is one measured number",
                "write it alone, without tolerance",
                (phrase.text,),
            )
            return ()
        return self._pieces(opened, copy, phrase)

    def _pieces(self, opened: Opened, copy: tuple[str, int], phrase: Phrase) -> tuple[Splice, ...]:
        copies = [e for e in entries_of(opened.entry("as made")) if copy_of(opened, e.key.text) == copy]
        found = [s for e in copies for s in _found(sizes_made(opened, copy[0], e.key.text), phrase)]
        if found:
            old = found[-1].value
            if old.text.strip() == self.value.text:
                return ()
            kept = f"{phrase.text} was {old.text.strip()}"
            return _revalued(opened, found[-1], self.value.text), _remarked(opened, old, kept)
        key, made = " ".join(self.phrase.text.split()), opened.entry("as made")
        name = " ".join(self.copy.text.split())
        holder, path = (copies[-1], (key,)) if copies else (made, (name, key))
        if holder is None:
            return (added(opened.source, None, opened.tree, ("as made", name, key), self.value.text, opened.step),)
        assert isinstance(holder.value, Mapping)
        return (added(opened.source, holder, holder.value, path, self.value.text, opened.step),)

    def holds(self, old: Opened, new: Opened) -> bool:
        """Only that measured size is another."""
        copy = copy_of(new, self.copy.text)
        phrase = _read(self.phrase, new.reader_of(copy[0]), Complaints()) if copy else None
        if copy is None or phrase is None:
            return False
        key = phrase_key(phrase)
        found = [m for m in new.job.as_made if (m.part, m.copy) == copy and phrase_key(m.dimension.phrase) == key]
        is_there = bool(found) and found[-1].dimension.value.text.strip() == self.value.text
        return is_there and is_same(without_made(old.job, *copy, key), without_made(new.job, *copy, key))


def _path(opened: Opened, where: str) -> tuple[str, str]:
    """Where the part or assembly of that name stands."""
    return ("parts" if where in opened.parts else "assemblies", where)


def _reader(opened: Opened, where: Scalar) -> Reader:
    return opened.reader_of(where.text) if where.text in opened.parts else opened.reader


def _sizes(opened: Opened, where: str) -> list[Written]:
    return sizes_of(opened, where) if where in opened.parts else sizes_over(opened, where)


def _phrase(opened: Opened, where: Scalar, phrase: Scalar, complaints: Complaints) -> Phrase | None:
    """The phrase as read in its part or assembly; None, with a fault, where either is not there."""
    known = [*opened.parts, *(a.name for a in opened.job.assemblies)]
    if where.text not in known:
        what = f"there is no part or assembly {quoted(where.text)}"
        complaints.add("part-unknown", where.span, what, did_you_mean(where.text, known))
        return None
    if known.count(where.text) > 1:
        what = f"{quoted(where.text)} is the name of a part and of an assembly"
        complaints.add("name-of-two", where.span, what, "rename one of them first")
        return None
    return _read(phrase, _reader(opened, where), complaints)


def _read(phrase: Scalar, reader: Reader, complaints: Complaints) -> Phrase | None:
    try:
        return reader.phrase(phrase)
    except Wrong as wrong:
        complaints.add_wrong(wrong, phrase, (phrase.text,))
        return None


def _value(value: Scalar, phrase: Phrase, reader: Reader, complaints: Complaints) -> DrawnValue | None:
    try:
        return read_value(value, phrase.size, reader)
    except Wrong as wrong:
        complaints.add_wrong(wrong, value, (phrase.text,))
        return None


def _found(sizes: list[Written], phrase: Phrase) -> list[Written]:
    """The sizes that are the phrase's; of several spellings the one spelled like it."""
    key = phrase_key(phrase)
    found = [size for size in sizes if phrase_key(size.phrase) == key]
    return [size for size in found if size.phrase.text == phrase.text] or found


def _the_one(
    sizes: list[Written], said: Scalar, phrase: Phrase, complaints: Complaints
) -> tuple[Written | None, bool]:
    """The size that is meant, if it is written; and whether that is clear, a fault where it is not."""
    found = _found(sizes, phrase)
    if len(found) > 1:
        lines = ", ".join(str(size.value.span.line) for size in found)
        complaints.add(
            "size-twice",
            said.span,
            f"{quoted(phrase.text)} is written {len(found)} times (lines {lines})",
            "take all but one out of the file by hand",
            (phrase.text,),
        )
        return None, False
    return (found[0] if found else None), True


def _instead(opened: Opened, where: str, phrase: Phrase) -> str:
    """What to do about a size that is not written there: the part it is taken over from, or the nearest phrase."""
    for base in opened.parts if where in opened.parts else ():
        if where in opened.likes(base) and _found(sizes_of(opened, base), phrase):
            return f"it is that of {quoted(base)}, take it out there"
    return did_you_mean(phrase.text, [size.phrase.text for size in _sizes(opened, where)])


def _revalued(opened: Opened, size: Written, text: str) -> Splice:
    return replaced(opened.source, size.value, text, in_flow(opened.source, opened.tree, size.value))


def _home(opened: Opened, where: str, size: Written) -> tuple[Entry, Mapping, Entry] | None:
    """The entry that holds the size's mapping, that mapping, and the size's entry in it."""
    path = _path(opened, where)
    holders: list[tuple[Entry | None, tuple[Node, ...]]] = [
        (holder, items_of(holder)) for one in LISTS for holder in [opened.entry(*path, *one)]
    ]
    sizes = opened.entry(*path, "dimensions")
    holders.append((sizes, (sizes.value,) if sizes else ()))
    for holder, nodes in holders:
        for node in nodes:
            for entry in node.entries if holder and isinstance(node, Mapping) else ():
                if entry.value is size.value and holder is not None and isinstance(node, Mapping):
                    return holder, node, entry
    return None


def _is_same_but(old: Opened, new: Opened, where: str, phrase: Phrase) -> bool:
    """Whether the jobs differ at most in that size of the part and of what is made like it."""
    owners = old.likes(where) if where in old.parts else frozenset({where})
    key = phrase_key(phrase)
    return is_same(without_size(old.job, owners, key), without_size(new.job, owners, key))


def _remarked(opened: Opened, value: Scalar, text: str) -> Splice:
    """A remark at the end of the value's line, behind the comment that is there."""
    source = opened.source
    line = value.span.line
    last = max(source.end(one) for one in _scalars(opened.tree) if one.span.line == line)
    start, stop, _ = source.line_span(line)
    at = start + len(source.text[start:stop].rstrip())
    return Splice(at, at, f"; {text}" if _has_comment(source, line, last) else f"  # {text}")


def _has_comment(source: Source, line: int, last: int) -> bool:
    return source.comment(line, last) is not None


def _scalars(node: Node) -> list[Scalar]:
    """Every text below a node, keys too."""
    if isinstance(node, Scalar):
        return [node]
    if isinstance(node, Mapping):
        return [one for e in node.entries for one in (e.key, *_scalars(e.value))]
    return [one for item in node.items for one in _scalars(item)]
