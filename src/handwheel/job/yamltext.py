"""Bytes to a tree of frozen nodes with their places: the subset of YAML 1.2 that a job or workshop file may use.

It knows nothing of parts or phrases. Every scalar is its text as typed. It works on the parser's events, so what
the subset leaves out (anchors, tags, block scalars, ...) is met where it stands and becomes a fault there, and
reading goes on. Columns and lines count from 1.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeAlias

import yaml

from handwheel.base.faults import Fault, Span
from handwheel.job.wrong import Complaints, quoted
from handwheel.job.yamlfaults import line_of, not_closed, syntax_fault, torn_line

if TYPE_CHECKING:
    from collections.abc import Iterator

MOST_BYTES = 5_000_000
"""A text longer than this is not read."""
MOST_DEEP = 20
"""Mappings and sequences nested deeper than this are not read."""


@dataclass(frozen=True, slots=True)
class Scalar:
    """A one-line text. `columns` gives each character's column where quoting shifts them, else they follow on."""

    text: str
    span: Span
    is_quoted: bool = False
    columns: tuple[int, ...] = ()
    end: int = 0

    def at(self, offset: int) -> Span:
        """The place in the file of the character at `offset` of the text."""
        if not self.columns:
            return Span(self.span.file, self.span.line, self.span.column + offset)
        column = self.columns[min(max(offset, 0), len(self.columns) - 1)]
        return Span(self.span.file, self.span.line, column)

    def piece(self, begin: int, end: int) -> Scalar:
        """A piece of the text, with its places."""
        columns = tuple(self.at(i).column for i in range(begin, end + 1))
        return Scalar(self.text[begin:end], self.at(begin), self.is_quoted, columns)


@dataclass(frozen=True, slots=True)
class Entry:
    """One `key: value` of a mapping."""

    key: Scalar
    value: Node


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys and values in the order written, each key once."""

    entries: tuple[Entry, ...]
    span: Span

    def get(self, key: str) -> Entry | None:
        """The entry with that key, if written."""
        return next((entry for entry in self.entries if entry.key.text == key), None)


@dataclass(frozen=True, slots=True)
class Sequence:
    """Items in the order written."""

    items: tuple[Node, ...]
    span: Span


Node: TypeAlias = Scalar | Mapping | Sequence

_ODD = re.compile("[^\t\n\r\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")
_TAB = re.compile(r"^[ ]*\t[ \t]*(?=[^ \t\r\n#])", re.MULTILINE)


def parse_tree(data: bytes, file: str) -> tuple[Node | None, tuple[Fault, ...]]:
    """The file's tree, or None and why. With faults the tree may still be there, to find more faults in."""
    complaints = Complaints()
    text = decode(data, file, complaints)
    if text is None:
        return None, tuple(complaints.found)
    node = Builder(text, file, complaints).build()
    return node, tuple(complaints.found)


def decode(data: bytes, file: str, complaints: Complaints) -> str | None:
    """The text without its byte order mark and with plain line ends, or None where it is not text."""
    start = Span(file, 1, 1)
    if len(data) > MOST_BYTES:
        complaints.add(
            "file-too-large",
            start,
            f"the file is {len(data)} bytes long, more than {MOST_BYTES}",
            "split the job over several files",
        )
        return None
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        complaints.add("not-utf8", start, "the file is UTF-16, not UTF-8", "save it as UTF-8")
        return None
    data = data.removeprefix(b"\xef\xbb\xbf")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        good = data[: error.start].decode("utf-8")
        complaints.add(
            "not-utf8",
            _place(good, len(good), file),
            f"byte 0x{data[error.start]:02X} is not UTF-8 text",
            "save the file as UTF-8",
        )
        return None
    odd = _ODD.search(text)
    if odd:
        complaints.add(
            "not-text",
            _place(text, odd.start(), file),
            f"the character U+{ord(odd[0]):04X} has no place in a job file",
            "delete it",
        )
        return None
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    tabs = list(_TAB.finditer(text))
    for tab in tabs:
        complaints.add(
            "tab", _place(text, tab.start() + tab[0].index("\t"), file), "a tab indents this line", "indent with blanks"
        )
    return None if tabs else text


def _place(text: str, index: int, file: str) -> Span:
    """The place of the character at `index`."""
    before = text[:index].replace("\r\n", "\n").replace("\r", "\n")
    return Span(file, before.count("\n") + 1, len(before) - before.rfind("\n"))


class Builder:
    """Builds the tree from the parser's events; every rule of the subset is checked as its event passes.

    `torn_at`: the line to blame where the text has no structure from there on, else 0.
    """

    def __init__(self, text: str, file: str, complaints: Complaints) -> None:
        # A tab between two things is as good as a blank, and not every parser of YAML knows it.
        self.text = text.replace("\t", " ")
        self.file = file
        self.complaints = complaints
        self.lines = self.text.split("\n")
        self.documents = 0
        self.torn_at = 0
        self._wrapped_at = 0

    def build(self) -> Node | None:
        """The first document's node."""
        loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
        stack: list[tuple[Any, list[Any]]] = []
        root: Node | None = None
        try:
            for event in self._events(loader):
                if isinstance(event, (yaml.MappingStartEvent, yaml.SequenceStartEvent)):
                    self._check_marks(event)
                    stack.append((event, []))
                    if len(stack) > MOST_DEEP:
                        self.complaints.add(
                            "too-deep", self._span(event), f"nested more than {MOST_DEEP} deep", "write it flatter"
                        )
                        return None
                    continue
                node = self._closed(event, stack)
                if node is None:
                    continue
                if stack:
                    stack[-1][1].append(node)
                else:
                    root = root or node
        except (yaml.YAMLError, RecursionError) as error:
            self._torn(error, [event for event, _ in stack])
            return None
        if root is None or (isinstance(root, Scalar) and not root.text):
            self.complaints.add(
                "empty-file", Span(self.file, 1, 1), "there is nothing in the file", "begin it with 'handwheel: 1'"
            )
            return None
        return root

    def _torn(self, error: Exception, opened: list[Any]) -> None:
        """The text has no structure from here on: what is still open, a text of several lines, or this place."""
        open_flow = next((event for event in reversed(opened) if event.flow_style), None)
        if open_flow is not None and self._span(open_flow).line < line_of(error):
            # What is open swallows the next line into its last text, which is no fault of that text.
            self.complaints.found = [f for f in self.complaints.found if f.id != "several-lines"]
            span = self._span(open_flow)
            self.torn_at = span.line
            self.complaints.found.append(not_closed(isinstance(open_flow, yaml.MappingStartEvent), span))
        elif self._wrapped_at:
            self.torn_at = self._wrapped_at
        else:
            self.torn_at = torn_line(error)
            self.complaints.found.append(syntax_fault(error, self.lines, self.file))

    def _events(self, loader: Any) -> Iterator[Any]:
        """The events of the first document; a directive or a second document is a fault."""
        for event in yaml.parse(self.text, Loader=loader):
            if isinstance(event, yaml.DocumentStartEvent):
                self.documents += 1
                if self.documents == 2:
                    self.complaints.add(
                        "second-document", self._span(event), "a second document begins here", "keep one job to a file"
                    )
                    return
                if event.version or event.tags:
                    self.complaints.add(
                        "directive", Span(self.file, 1, 1), "a '%' directive has no place here", "delete the line"
                    )
            yield event

    def _closed(self, event: Any, stack: list[tuple[Any, list[Any]]]) -> Node | None:
        """The node that this event completes, if any."""
        if isinstance(event, yaml.ScalarEvent):
            self._check_marks(event)
            return self._scalar(event)
        if isinstance(event, yaml.AliasEvent):
            self.complaints.add(
                "alias",
                self._span(event),
                f"'*{event.anchor}' is an alias, which is not read",
                "write the text out, or put it in quotes",
            )
            span = self._span(event)
            return Scalar("", span)
        if isinstance(event, yaml.SequenceEndEvent):
            start, items = stack.pop()
            return Sequence(tuple(items), self._span(start))
        if isinstance(event, yaml.MappingEndEvent):
            start, items = stack.pop()
            return self._mapping(items, self._span(start))
        return None

    def _span(self, event: Any) -> Span:
        return Span(self.file, event.start_mark.line + 1, event.start_mark.column + 1)

    def _check_marks(self, event: Any) -> None:
        """Anchors and tags are faults."""
        if event.anchor:
            self.complaints.add(
                "anchor", self._span(event), f"'&{event.anchor}' is an anchor, which is not read", "delete it"
            )
        if event.tag:
            self.complaints.add(
                "tag",
                self._span(event),
                f"{quoted(event.tag)} is a tag, which is not read",
                "delete it, or put the text in quotes",
            )

    def _scalar(self, event: Any) -> Scalar:
        span = self._span(event)
        self._wrapped_at = 0
        if event.style in ("|", ">"):
            self.complaints.add(
                "block-scalar", span, f"'{event.style}' begins a text of several lines", "write it on one line"
            )
        elif event.end_mark.line != event.start_mark.line:
            # What follows such a text seldom fits; a text that is one line too long is then to blame.
            self._wrapped_at = span.line
            self.complaints.add(
                "several-lines",
                span,
                "this text runs over several lines",
                "write it on one line, or check the indentation of the next line",
            )
        text: str = event.value
        escaped = _ODD.search(text) or re.search("[\r\n]", text if event.style == '"' and not self._wrapped_at else "")
        if escaped:
            self.complaints.add(
                "not-text", span, f"the character U+{ord(escaped[0]):04X} has no place in a job file", "delete its escape"
            )
            text = " ".join(_ODD.sub(" ", text).split())
        end = event.end_mark.column + 1
        if self._wrapped_at:
            last = len(self.lines[span.line - 1]) + 1
            columns = tuple(min(span.column + offset, last) for offset in range(len(text) + 1))
            return Scalar(text, span, event.style in ("'", '"'), columns, last)
        if event.style not in ("'", '"'):
            return Scalar(text, span, False, (), end)
        line = self.lines[span.line - 1]
        source = line[span.column : event.end_mark.column - 1]
        if source == text:
            return Scalar(text, Span(span.file, span.line, span.column + 1), True, (), end)
        columns = _quoted_columns(source, span.column + 1, len(text), event.style)
        return Scalar(text, Span(span.file, span.line, span.column + 1), True, columns, end)

    def _mapping(self, items: list[Node], span: Span) -> Mapping:
        entries: list[Entry] = []
        seen: dict[str, Span] = {}
        for key, value in zip(items[::2], items[1::2], strict=False):
            if not isinstance(key, Scalar):
                self.complaints.add("key-not-text", key.span, "a key must be a plain text", "write 'key: value'")
                continue
            if key.text == "<<" and not key.is_quoted:
                self.complaints.add(
                    "merge-key",
                    key.span,
                    "'<<' merges mappings, which is not read",
                    "write the entries out, or use 'like:' for a part",
                )
                continue
            if key.text in seen:
                self.complaints.add(
                    "key-twice",
                    key.span,
                    f"{quoted(key.text)} is written twice (first on line {seen[key.text].line})",
                    "keep one of them",
                    (),
                    (seen[key.text],),
                )
                continue
            seen[key.text] = key.span
            self._check_emptied(key, value)
            entries.append(Entry(key, value))
        return Mapping(tuple(entries), span)

    def _check_emptied(self, key: Scalar, value: Node) -> None:
        """A value that `#` turned into a comment is a fault that says so."""
        if not isinstance(value, Scalar) or value.text or value.is_quoted:
            return
        rest = self.lines[key.span.line - 1][key.end - 1 :]
        found = re.match(r"\s*:\s*(#\s*(\S*).*)", rest)
        if not found:
            return
        column = key.end + found.start(1)
        number = re.match(r"[0-9]+", found[2])
        do = f"write 'No. {number[0]} drill'" if number else "write a value before it"
        self.complaints.add(
            "emptied-by-hash",
            Span(self.file, key.span.line, column),
            f"{quoted(key.text)} is empty: '#' begins a comment, so {quoted(found[1])} is not read",
            do,
            (key.text,),
        )


_ESCAPE = re.compile(r"\\(?:x..|u.{4}|U.{8}|.)|''|.", re.DOTALL)


def _quoted_columns(source: str, first: int, length: int, style: str) -> tuple[int, ...]:
    """The column of each character of a quoted text, counting an escape as the place where it begins."""
    columns: list[int] = []
    index = 0
    while index < len(source) and len(columns) < length:
        columns.append(first + index)
        found = _ESCAPE.match(source, index)
        step = len(found[0]) if found else 1
        is_escape = source[index] == "\\" if style == '"' else source[index : index + 2] == "''"
        index += step if is_escape else 1
    columns.append(first + index)
    return tuple(columns)
