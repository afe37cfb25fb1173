"""A text changed at a place: what is replaced, put in or taken out, and not one byte beside it.

The places are the tree's own (`yamltext`). Line ends, byte order mark, comments and quotes are never rewritten, because
nothing is printed anew: each function gives the pieces to replace, and `spliced` puts them into the bytes. It knows
nothing of parts or phrases.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from handwheel.base.faults import Span
from handwheel.job.yamltext import Entry, Mapping, Node, Scalar, Sequence, parse_tree

FIRST = -2
"""Before the first entry or item."""
MARK = b"\xef\xbb\xbf"
_BREAK = re.compile(r"\r\n|\r|\n")
_BETWEEN = re.compile(r"(?:[\s,]|#[^\r\n]*)*")
"""What may stand between the last entry of a flow list and its closing bracket."""
_COMMENT = re.compile(r"(?:(?<=\s)|^)#", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Splice:
    """The characters from `start` up to `end` give way to `text`."""

    start: int
    end: int
    text: str


@dataclass(frozen=True)
class Source:
    """A file's text as it is, without its byte order mark, and where its lines begin."""

    text: str
    has_mark: bool

    @cached_property
    def starts(self) -> tuple[int, ...]:
        """Where each line begins."""
        return (0, *(found.end() for found in _BREAK.finditer(self.text)))

    @cached_property
    def line_end(self) -> str:
        """The first line's end, which new lines take where their neighbour has none."""
        found = _BREAK.search(self.text)
        return found[0] if found else "\n"

    def offset(self, span: Span) -> int:
        """The character at that place."""
        return self.starts[span.line - 1] + span.column - 1

    def line_at(self, offset: int) -> int:
        """The line, from 1, of that character."""
        return bisect_right(self.starts, offset)

    def line_span(self, line: int) -> tuple[int, int, str]:
        """Where a line begins, where its text ends, and its line end ('' on the last)."""
        start = self.starts[line - 1]
        stop = self.starts[line] if line < len(self.starts) else len(self.text)
        found = _BREAK.search(self.text, start, stop)
        return start, found.start() if found else stop, found[0] if found else ""

    def is_flow(self, node: Node) -> bool:
        """Whether a mapping or sequence is written between brackets."""
        return not isinstance(node, Scalar) and self.text[self.offset(node.span) :][:1] in ("{", "[")

    def bounds(self, scalar: Scalar) -> tuple[int, int]:
        """Where a scalar's text begins and ends, inside its quotes and without outer blanks."""
        text = scalar.text
        first = len(text) - len(text.lstrip())
        return self.offset(scalar.at(first)), self.offset(scalar.at(max(len(text.rstrip()), first)))

    def end(self, node: Node) -> int:
        """Where a node ends: behind its closing quote or bracket."""
        if isinstance(node, Scalar):
            return self.offset(node.at(len(node.text))) + node.is_quoted
        children = node.items if isinstance(node, Sequence) else [entry.value for entry in node.entries]
        begin = self.offset(node.span)
        last = self.end(children[-1]) if children else begin + 1
        if not self.is_flow(node):
            return last
        found = _BETWEEN.match(self.text, last)
        return (found.end() if found else last) + 1

    def comment(self, line: int, after: int) -> int | None:
        """Where the line's comment begins, `after` being behind the last text of a node on it."""
        _, stop, _ = self.line_span(line)
        found = _COMMENT.search(self.text, after, stop)
        return found.start() if found else None


def source_of(data: bytes) -> Source:
    """The text of a file that `parse_tree` has read without faults."""
    return Source(data.removeprefix(MARK).decode("utf-8"), data.startswith(MARK))


def spliced(source: Source, splices: Iterable[Splice]) -> bytes:
    """The file with every piece replaced. Raises ValueError where two pieces overlap."""
    pieces: list[str] = []
    done = 0
    for one in sorted(dict.fromkeys(splices), key=lambda s: (s.start, s.end)):
        if one.start < done or one.end < one.start:
            raise ValueError(f"pieces overlap at {one.start}")
        pieces += [source.text[done : one.start], one.text]
        done = one.end
    pieces.append(source.text[done:])
    return (MARK if source.has_mark else b"") + "".join(pieces).encode("utf-8")


def spelled(text: str, in_flow: bool, is_key: bool = False) -> str:
    """The text as it can stand in the file: plain where that reads back as the same text, else in quotes."""
    shape = ("{{{0}: k}}" if in_flow else "{0}: k") if is_key else ("{{k: {0}}}" if in_flow else "k: {0}")
    tree, faults = parse_tree(shape.format(text).encode(), "")
    if not faults and isinstance(tree, Mapping) and len(tree.entries) == 1:
        entry = tree.entries[0]
        found = entry.key if is_key else entry.value
        if isinstance(found, Scalar) and found.text == text and not found.is_quoted:
            return text
    return "'" + text.replace("'", "''") + "'"


def replaced(source: Source, scalar: Scalar, text: str, in_flow: bool) -> Splice:
    """A scalar's text replaced; its quotes stay, and are put on only where the new text needs them."""
    start, end = source.bounds(scalar)
    if not scalar.is_quoted:
        return Splice(start, end, spelled(text, in_flow))
    quote = source.text[source.offset(scalar.span) - 1]
    if scalar.columns and quote not in "'\"":
        quote = source.text[_opening(source, scalar)]
    escaped = text.replace("'", "''") if quote == "'" else text.replace("\\", "\\\\").replace('"', '\\"')
    return Splice(start, end, escaped)


def _opening(source: Source, scalar: Scalar) -> int:
    """The opening quote of the text that a piece of a quoted scalar belongs to: the nearest before it."""
    start = source.starts[scalar.span.line - 1]
    before = source.text[start : source.offset(scalar.span)]
    return start + max(before.rfind("'"), before.rfind('"'))


def in_flow(source: Source, root: Node, wanted: Node) -> bool:
    """Whether a node stands inside brackets."""

    def looked(node: Node, inside: bool) -> bool | None:
        if node is wanted:
            return inside
        inside = inside or source.is_flow(node)
        if isinstance(node, Scalar):
            return None
        children = node.items if isinstance(node, Sequence) else [e.value for e in node.entries]
        return next((found for c in children if (found := looked(c, inside)) is not None), None)

    return bool(looked(root, False))


def lines_after(source: Source, line: int, lines: Iterable[str]) -> Splice:
    """New lines below a line, ending as it ends; a file without a last line end stays without."""
    _, stop, ending = source.line_span(line)
    if ending:
        at = stop + len(ending)
        return Splice(at, at, "".join(one + ending for one in lines))
    return Splice(stop, stop, "".join(source.line_end + one for one in lines))


def lines_out(source: Source, first: int, last: int) -> Splice:
    """Whole lines taken out; a file without a last line end stays without."""
    start = source.line_span(first)[0]
    _, stop, ending = source.line_span(last)
    if not ending and first > 1:
        _, before, _ = source.line_span(first - 1)
        return Splice(before, stop, "")
    return Splice(start, stop + len(ending), "")


def added(
    source: Source, holder: Entry | None, mapping: Mapping, path: tuple[str, ...], value: str, step: int, at: int = -1
) -> Splice:
    """An entry put into a mapping. Of a `path` of several keys each stands in the one before it.

    `holder` is the entry whose value the mapping is, None for the whole file; `step` how far a block is indented below
    its key. In block style the entry comes after the mapping's entry number `at`, -1 for the last, FIRST for before
    all; between brackets always at the end.
    """
    entries = mapping.entries
    if source.is_flow(mapping):
        *outer, last = [spelled(key, True, True) for key in path]
        text = "".join(f"{key}: {{" for key in outer) + f"{last}: {spelled(value, True)}" + "}" * len(outer)
        end = source.end(entries[-1].value) if entries else source.offset(mapping.span) + 1
        return Splice(end, end, f", {text}" if entries else text)
    lines = block_lines(path, value, mapping.span.column - 1, step)
    if at == FIRST and holder is not None:
        return lines_after(source, holder.key.span.line, lines)
    line = source.line_at(source.end(entries[at].value) - 1)
    if holder is not None or at != -1:
        return lines_after(source, line, lines)
    above = source.line_span(max(entries[-1].key.span.line - 1, 1))
    apart = [""] if not source.text[above[0] : above[1]].strip() else []
    return lines_after(source, _last_line(source, line), apart + lines)


def pair_added(source: Source, pair: Mapping, key: str, value: str) -> Splice:
    """An entry put into a single `key: value` of a list between brackets, which so far has no braces."""
    begin, end = source.offset(pair.span), source.end(pair)
    text = f"{spelled(key, True, True)}: {spelled(value, True)}"
    return Splice(begin, end, f"{{{source.text[begin:end]}, {text}}}")


def _last_line(source: Source, line: int) -> int:
    """The last line with anything on it, where only comments follow `line`; else `line` itself."""
    last = line
    for number in range(line + 1, len(source.starts) + 1):
        start, stop, _ = source.line_span(number)
        text = source.text[start:stop].strip()
        if text and not text.startswith("#"):
            return line
        last = number if text else last
    return last


def item_added(source: Source, holder: Entry, items: Sequence, at: int, text: str) -> Splice:
    """An item `text` put into a list after its item number `at`, FIRST for before all."""
    if source.is_flow(items):
        text = text if text.startswith("{") else f"{{{text}}}"
        if not items.items or at == FIRST:
            start = source.offset(items.span) + 1
            return Splice(start, start, f"{text}, " if items.items else text)
        end = source.end(items.items[at])
        return Splice(end, end, f", {text}")
    line = holder.key.span.line if at == FIRST else source.line_at(source.end(items.items[at]) - 1)
    return lines_after(source, line, [" " * (items.span.column - 1) + f"- {text}"])


def block_set(source: Source, holder: Entry, key: str, lines: tuple[str, ...], step: int) -> tuple[Splice, ...] | None:
    """A whole block under `key` of the holder's mapping, its lines indented from there; the former one goes.

    None where that mapping stands between brackets and has no room for a block.
    """
    mapping = holder.value
    if not isinstance(mapping, Mapping) or source.is_flow(mapping):
        return None
    indent = mapping.span.column - 1
    block = [" " * indent + f"{key}:", *(" " * (indent + step) + line if line else "" for line in lines)]
    old = mapping.get(key)
    last = source.line_at(source.end((old or mapping.entries[-1]).value) - 1)
    if old is None:
        return (lines_after(source, last, block),)
    return lines_out(source, old.key.span.line, last), lines_after(source, last, block)


def block_lines(path: tuple[str, ...], value: str, indent: int, step: int) -> list[str]:
    """The lines of an entry in block style."""
    heads = [" " * (indent + step * i) + spelled(key, False, True) + ":" for i, key in enumerate(path)]
    heads[-1] += f" {spelled(value, False)}"
    return heads


def taken_out(source: Source, holder: Entry, home: Mapping | Sequence, one: Entry | Node) -> tuple[Splice, ...]:
    """An entry or item with the comment behind it; `holder` is the entry whose value its mapping or list is.

    In block style its lines go; where it is the only one, `{}` or `[]` is left behind the holder's key.
    """
    node = one.value if isinstance(one, Entry) else one
    first_node: Node = one.key if isinstance(one, Entry) else node
    start = source.offset(first_node.span) - (isinstance(first_node, Scalar) and first_node.is_quoted)
    end = source.end(node)
    first, last = source.line_at(start), source.line_at(end - 1)
    count = len(home.entries) if isinstance(home, Mapping) else len(home.items)
    if source.is_flow(home) or not _is_alone(source, first, last, start, end):
        return (_flow_out(source, count, start, end),)
    out = lines_out(source, first, last)
    if count > 1:
        return (out,)
    colon = source.text.index(":", source.end(holder.key)) + 1
    return Splice(colon, colon, " {}" if isinstance(home, Mapping) else " []"), out


def _is_alone(source: Source, first: int, last: int, start: int, end: int) -> bool:
    """Whether nothing but a comment shares the lines of what stands from `start` to `end`."""
    before = source.text[source.line_span(first)[0] : start].strip()
    behind = source.text[end : source.line_span(last)[1]].strip()
    return before in ("", "?", "-") and (not behind or behind.startswith("#"))


def _flow_out(source: Source, count: int, start: int, end: int) -> Splice:
    """One of `count` between brackets: its whole line where it has one for itself, else it and a comma beside it."""
    text = source.text
    first, last = source.line_at(start), source.line_at(end - 1)
    comma = re.compile(r"[ \t]*,[ \t]*").match(text, end)
    behind = comma.end() if comma else end
    if comma and _is_alone(source, first, last, start, behind):
        return lines_out(source, first, last)
    if comma:
        return Splice(start, behind, "")
    line_start = source.line_span(first)[0]
    before = re.search(r"[ \t]*,[ \t]*$", text[line_start:start]) if count > 1 else None
    return Splice(line_start + before.start() if before else start, end, "")
