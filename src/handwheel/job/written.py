"""Where a job file writes what: each size of a part, and every place that names a part, a feature or an assembly.

A name is found where the reader found it, in the places of its phrases; the text is never searched, so a word that
only looks like the name is not met.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from handwheel.base.faults import Fault, Span
from handwheel.job.numbers import scale_of
from handwheel.job.partread import read_draft
from handwheel.job.phrases import Reader
from handwheel.job.read import read_job, read_tree
from handwheel.job.records import Job, Phrase, Point, Where
from handwheel.job.routeread import ENDS, HOLD, STOCK
from handwheel.job.senses import senses_of
from handwheel.job.splice import Source, source_of
from handwheel.job.tokens import Cursor, Token, tokenise
from handwheel.job.values import read_value
from handwheel.job.wrong import Complaints
from handwheel.job.yamltext import Entry, Mapping, Node, Scalar, Sequence, parse_tree

_POINTING = ("in", "on", "into", "square to")
"""An item's options whose value is a feature's name."""


LISTS = (("outside",), ("inside", "from left"), ("inside", "from right"), ("across",))
"""Where a part's lists of features stand."""


@dataclass(frozen=True, slots=True)
class Mention:
    """A name in the file, from `start` up to `end` (same line). `what` is feature, part or assembly."""

    what: str
    part: str
    name: str
    start: Span
    end: Span


@dataclass(frozen=True, slots=True)
class Written:
    """A size as written: its phrase, the scalars of phrase and value, and whether it stands at its feature."""

    phrase: Phrase
    key: Scalar
    value: Scalar
    is_inline: bool


@dataclass(frozen=True)
class Opened:
    """A job file without faults, with all that an edit needs of it."""

    source: Source
    tree: Mapping
    job: Job
    reader: Reader

    @cached_property
    def parts(self) -> dict[str, Entry]:
        """Each part's entry, by name."""
        return {entry.key.text: entry for entry in entries_of(self.tree.get("parts"))}

    @cached_property
    def like(self) -> dict[str, str]:
        """The part that each part is made like, where it is like one."""
        found = {name: as_text(_under(entry, "like")) for name, entry in self.parts.items()}
        return {name: like for name, like in found.items() if like}

    @property
    def step(self) -> int:
        """How far the file indents a block below its key."""
        parts = self.tree.get("parts")
        deep = parts.value.span.column - self.tree.span.column if parts else 0
        is_block = parts is not None and not self.source.is_flow(parts.value) and not self.source.is_flow(self.tree)
        return deep if is_block and deep > 0 else 2

    def reader_of(self, part: str) -> Reader:
        """The reader of a part's own phrases."""
        return replace(self.reader, own=part, may_name_part=False)

    def entry(self, *path: str) -> Entry | None:
        """The entry under those keys."""
        if path[:1] == ("parts",) and len(path) > 1:
            found = self.parts.get(path[1])
            return _under(found, *path[2:])
        return _under(self.tree.get(path[0]), *path[1:]) if path else None

    def likes(self, part: str) -> frozenset[str]:
        """The part and all that are made like it, or like one of those."""
        found = {part}
        for name in self.parts:
            trail: list[str] = []
            one: str | None = name
            while one is not None and one not in found:
                trail.append(one)
                one = self.like.get(one)
            if one is not None:
                found.update(trail)
        return frozenset(found)


def _under(entry: Entry | None, *path: str) -> Entry | None:
    """The entry that the keys lead to below an entry."""
    for key in path:
        node = entry.value if entry else None
        entry = node.get(key) if isinstance(node, Mapping) else None
    return entry


def as_text(entry: Entry | None) -> str:
    """The text of an entry of one line, '' where there is none."""
    return entry.value.text.strip() if entry and isinstance(entry.value, Scalar) else ""


def open_job(data: bytes, file: str) -> tuple[Opened | None, tuple[Fault, ...]]:
    """The job that a file's bytes say, ready to be edited; or its faults."""
    tree, faults = parse_tree(data, file)
    complaints = Complaints()
    job = read_tree(tree, file, complaints) if isinstance(tree, Mapping) and not faults else None
    if job is None or complaints.found or not isinstance(tree, Mapping):
        return None, read_job(data, file)[1]
    reader = Reader({part.name: senses_of(part) for part in job.parts}, "", scale_of(job.units))
    return Opened(source_of(data), tree, job, reader), ()


def sizes_of(opened: Opened, part: str) -> list[Written]:
    """The sizes written in a part itself: at its features, then under `dimensions`."""
    draft = read_draft(opened.parts[part], Complaints(), opened.reader.bare, opened.job.units)
    reader = opened.reader_of(part)
    if draft is None:
        return []
    inline = [i for key in sorted(draft.own) for i in draft.sections[key].inline]
    found = [Written(reader.phrase(i.phrase), i.phrase, i.value, True) for i in inline]
    return found + _written(draft.written, reader)


def sizes_over(opened: Opened, assembly: str) -> list[Written]:
    """The sizes written over an assembly."""
    entry = opened.entry("assemblies", assembly, "dimensions")
    return _written(entries_of(entry), opened.reader)


def sizes_made(opened: Opened, part: str, copy: str) -> list[Written]:
    """The measured sizes of a copy, by its key under `as made`."""
    return _written(entries_of(opened.entry("as made", copy)), opened.reader_of(part))


def _written(entries: tuple[Entry, ...], reader: Reader) -> list[Written]:
    return [Written(reader.phrase(e.key), e.key, e.value, False) for e in entries if isinstance(e.value, Scalar)]


def entries_of(entry: Entry | None) -> tuple[Entry, ...]:
    """The entries below an entry."""
    return entry.value.entries if entry and isinstance(entry.value, Mapping) else ()


def items_of(entry: Entry | None) -> tuple[Node, ...]:
    """The items below an entry."""
    return entry.value.items if entry and isinstance(entry.value, Sequence) else ()


def copy_of(opened: Opened, key: str) -> tuple[str, int] | None:
    """The part and copy that a key under `as made` means; a part made once needs no number."""
    text = " ".join(key.split())
    name, _, number = text.rpartition(" ")
    if name in opened.parts and number.isascii() and number.isdigit():
        return name, int(number)
    return (text, 1) if text in opened.parts else None


def mentions(opened: Opened) -> list[Mention]:
    """Every place that names a part, a feature or an assembly, in no order."""
    found: list[Mention] = []
    for entry in entries_of(opened.entry("parts")):
        part = entry.key.text
        found.append(_whole("part", "", entry.key))
        like = _under(entry, "like")
        if like is not None and isinstance(like.value, Scalar):
            found.append(_whole("part", "", like.value))
        found += _in_part(opened, part)
    for entry in entries_of(opened.entry("assemblies")):
        found.append(_whole("assembly", "", entry.key))
        for seat in items_of(opened.entry("assemblies", entry.key.text, "seats")):
            found += _in_seat(opened, seat)
        for size in sizes_over(opened, entry.key.text):
            found += _in_size(opened.reader, size)
    for entry in entries_of(opened.entry("as made")):
        copy = copy_of(opened, entry.key.text)
        if copy is not None:
            lead = len(entry.key.text) - len(entry.key.text.lstrip())
            found.append(_piece("part", "", entry.key, lead, lead + len(copy[0]), copy[0]))
            for size in sizes_made(opened, copy[0], entry.key.text):
                found += _in_size(opened.reader_of(copy[0]), size)
    return found


def items_written(opened: Opened, part: str) -> list[tuple[Entry, Sequence, int, str]]:
    """The items of a part's own lists: the list's entry, the list, the item's number in it and its name."""
    found = []
    for path in LISTS:
        holder = opened.entry("parts", part, *path)
        if holder is None or not isinstance(holder.value, Sequence):
            continue
        for number, item in enumerate(holder.value.items):
            first = item.entries[0].value if isinstance(item, Mapping) and item.entries else None
            if isinstance(first, Scalar):
                found.append((holder, holder.value, number, first.text))
    return found


def _in_part(opened: Opened, part: str) -> Iterator[Mention]:
    reader = opened.reader_of(part)
    for item in (one for path in LISTS for one in items_of(opened.entry("parts", part, *path))):
        if not isinstance(item, Mapping):
            continue
        for index, entry in enumerate(item.entries):
            value = entry.value
            if not isinstance(value, Scalar):
                continue
            if index == 0 or entry.key.text in _POINTING:
                yield _whole("feature", part, value)
            elif entry.key.text == "at":
                cursor = Cursor(value.text, tokenise(value.text))
                yield from _in_points(reader, value, [reader.point(cursor, value)], 0)
    for size in sizes_of(opened, part):
        yield from _in_size(reader, size)
    yield from _in_route(opened, part)


def _in_route(opened: Opened, part: str) -> Iterator[Mention]:
    """The features that a part's written route is done to and held by."""
    for item in items_of(opened.entry("parts", part, "route")):
        first = item.entries[0] if isinstance(item, Mapping) and item.entries else None
        if first is None or not isinstance(first.value, Scalar):
            continue
        text = first.value.text
        begin = text.find(" on ") + 4 if first.key.text == HOLD else len(text) - len(text.lstrip())
        name = text[begin:].strip()
        if first.key.text == HOLD and name != STOCK or first.key.text != "support" and name not in ENDS:
            begin += len(text[begin:]) - len(text[begin:].lstrip())
            yield _piece("feature", part, first.value, begin, begin + len(name), name)


def _in_size(reader: Reader, size: Written) -> Iterator[Mention]:
    """The names in a phrase and in the phrase that its value follows."""
    yield from _in_phrase(reader, size.key, size.phrase)
    follow = read_value(size.value, size.phrase.size, reader).follow
    if follow is not None:
        yield from _in_phrase(replace(reader, may_name_part=True), size.value, follow.phrase)


def _in_phrase(reader: Reader, scalar: Scalar, phrase: Phrase) -> Iterator[Mention]:
    begin = _token_at(scalar, phrase.span)
    if phrase.feature and begin is not None:
        yield from _token(scalar, begin, phrase.part or reader.own)
    points = [point for point in (phrase.at, phrase.start, phrase.end) if point is not None]
    yield from _in_points(reader, scalar, points, begin.start if begin else 0)


def _in_points(reader: Reader, scalar: Scalar, points: list[Point], begin: int) -> Iterator[Mention]:
    """The features of points, and every part's name behind `of` from `begin` on."""
    tokens = tokenise(scalar.text)
    for point in points:
        first = _token_at(scalar, point.span) if point.span and point.feature else None
        if first is None:
            continue
        part = point.part or reader.own
        yield from _token(scalar, first, part)
        if point.where is Where.MEETS:
            yield from _token(scalar, tokens[tokens.index(first) + 2], part)
    cursor = Cursor(scalar.text, tokens)
    naming = replace(reader, may_name_part=True)
    while (token := cursor.peek()) is not None:
        if token.start < begin or token.low != "of":
            cursor.take()
            continue
        word = cursor.index + 1
        name = naming.of_part(cursor)
        yield _piece("part", "", scalar, tokens[word].start, tokens[cursor.index - 1].end, name)


def _in_seat(opened: Opened, seat: Node) -> Iterator[Mention]:
    if not isinstance(seat, Scalar):
        return
    cursor = Cursor(seat.text, tokenise(seat.text))
    moving = opened.reader.point(cursor, seat, False)
    cursor.take()
    yield from _in_points(opened.reader, seat, [moving, opened.reader.point(cursor, seat)], 0)


def _token_at(scalar: Scalar, span: Span) -> Token | None:
    """The token that begins at that place."""
    return next((t for t in tokenise(scalar.text) if scalar.at(t.start) == span), None)


def _token(scalar: Scalar, token: Token, part: str) -> Iterator[Mention]:
    """A feature's name, unless it is only implied by where the size is written and has no letters of its own."""
    one = _piece("feature", part, scalar, token.start, token.end, token.text)
    if one.start != one.end:
        yield one


def _whole(what: str, part: str, scalar: Scalar) -> Mention:
    text = scalar.text
    lead = len(text) - len(text.lstrip())
    return _piece(what, part, scalar, lead, len(text.rstrip()), text.strip())


def _piece(what: str, part: str, scalar: Scalar, begin: int, end: int, name: str) -> Mention:
    return Mention(what, part, name, scalar.at(begin), scalar.at(end))
