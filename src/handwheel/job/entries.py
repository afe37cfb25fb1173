"""Reading a mapping's options one by one, each key known or a fault; shared by jobs and workshops.

An `Options` takes the keys it is asked for; what is left at the end is unknown and becomes a fault.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from handwheel.job.names import choose, yes_or_no
from handwheel.job.numbers import Scale
from handwheel.job.records import Measure, Side, ThreadCall
from handwheel.job.values import read_plain
from handwheel.job.wrong import Complaints, Wrong, did_you_mean, nearest, quoted
from handwheel.job.yamltext import Entry, Mapping, Node, Scalar, Sequence
from handwheel.tables.threadlimits import class_fault, with_usual_class
from handwheel.tables.threads import find_thread, known_designations

_SIDES = {"left": frozenset({Side.LEFT}), "right": frozenset({Side.RIGHT}), "both": frozenset({Side.LEFT, Side.RIGHT})}


def kind_of(node: Node) -> str:
    """What a node is, in plain words."""
    if isinstance(node, Mapping):
        return "a set of 'key: value'"
    return "a list" if isinstance(node, Sequence) else "a text"


def _is_told(node: Node, complaints: Complaints) -> bool:
    """Whether an empty value already has its fault: emptied by '#', or an alias."""
    told = ("emptied-by-hash", "alias")
    return any(f.id in told and f.span.line == node.span.line for f in complaints.found)


def as_mapping(node: Node, what: str, complaints: Complaints) -> Mapping | None:
    """The node as a mapping; a fault where it is something else. An empty text counts as an empty mapping."""
    if isinstance(node, Mapping):
        return node
    if isinstance(node, Scalar) and not node.text and not node.is_quoted:
        if _is_told(node, complaints):
            return None
        complaints.add(
            "nothing-written", node.span, f"nothing is written under '{what}'", "write its entries, or delete it"
        )
        return None
    complaints.add(
        "mapping-wanted",
        node.span,
        f"'{what}' needs entries 'key: value', not {kind_of(node)}",
        "write them below it, indented",
    )
    return None


def as_sequence(node: Node, what: str, complaints: Complaints) -> tuple[Node, ...]:
    """The node's items; a fault where it is no list."""
    if isinstance(node, Sequence):
        return node.items
    if isinstance(node, Scalar) and not node.text and not node.is_quoted:
        if _is_told(node, complaints):
            return ()
        complaints.add(
            "nothing-written", node.span, f"nothing is written under '{what}'", "write its items, or delete it"
        )
    else:
        complaints.add(
            "list-wanted", node.span, f"'{what}' needs a list, not {kind_of(node)}", "begin each item with '- '"
        )
    return ()


def as_scalar(node: Node, what: str, complaints: Complaints) -> Scalar | None:
    """The node as a text; a fault where it is something else or empty."""
    if not isinstance(node, Scalar):
        complaints.add(
            "text-wanted", node.span, f"'{what}' needs one value, not {kind_of(node)}", "write it on the same line"
        )
        return None
    if not node.text.strip():
        if not _is_told(node, complaints):
            complaints.add("value-missing", node.span, f"'{what}' has no value", "write one, or delete the line")
        return None
    return node


class Options:
    """The entries of one mapping, taken by key."""

    def __init__(self, mapping: Mapping, what: str, complaints: Complaints, bare: Scale) -> None:
        self.mapping = mapping
        self.what = what
        self.complaints = complaints
        self.bare = bare
        self.left = {entry.key.text: entry for entry in mapping.entries}

    def take(self, key: str) -> Entry | None:
        """The entry, which is then known."""
        return self.left.pop(key, None)

    def scalar(self, key: str) -> Scalar | None:
        """The entry's text."""
        entry = self.take(key)
        return as_scalar(entry.value, key, self.complaints) if entry else None

    def text(self, key: str) -> str:
        """The entry's text, or ''."""
        scalar = self.scalar(key)
        return " ".join(scalar.text.split()) if scalar else ""

    def sides(self, key: str) -> frozenset[Side]:
        """`left`, `right` or `both`."""
        scalar = self.scalar(key)
        word = choose(scalar, tuple(_SIDES), self.complaints) if scalar else ""
        return _SIDES.get(word, frozenset())

    def side(self, key: str) -> Side | None:
        """`left` or `right`."""
        word = self.word(key, ("left", "right"))
        return Side(word) if word else None

    def word(self, key: str, words: tuple[str, ...]) -> str:
        """One of the words, or ''."""
        scalar = self.scalar(key)
        return choose(scalar, words, self.complaints) if scalar else ""

    def flag(self, key: str) -> bool:
        """`yes` or `no`; no where it is not written."""
        scalar = self.scalar(key)
        return yes_or_no(scalar, self.complaints) if scalar else False

    def whole(self, key: str, default: int, least: int = 1, most: int = 10_000) -> int:
        """A whole number."""
        scalar = self.scalar(key)
        if scalar is None:
            return default
        text = scalar.text.strip()
        if not (text.isascii() and text.isdigit()) or len(text) > 9 or not least <= int(text) <= most:
            self.complaints.add(
                "whole-number",
                scalar.span,
                f"{quoted(text)} is not a whole number from {least} to {most}",
                "write one, like 3",
            )
            return default
        return int(text)

    def angle_deg(self, key: str, default: Fraction, may_be_negative: bool = False, most: int = 361) -> Fraction:
        """An angle with its unit."""
        scalar = self.scalar(key)
        if scalar is None:
            return default
        try:
            value = read_plain(scalar, self.bare, Measure.ANGLE, may_be_negative).value
            if not may_be_negative and not 0 < value <= 180:
                raise Wrong("angle-too-large", 0, f"'{key}' lies between 0 and 180 deg", "check it")
            if abs(value) >= most:
                raise Wrong("angle-too-large", 0, f"'{key}' lies below {most} deg", "check it")
        except Wrong as wrong:
            self.complaints.add_wrong(wrong, scalar, (key,))
            return default
        return value

    def length_mm(self, key: str) -> Fraction | None:
        """A length, or None where it is not written. [mm]"""
        scalar = self.scalar(key)
        if scalar is None:
            return None
        try:
            return read_plain(scalar, self.bare, Measure.LENGTH).value
        except Wrong as wrong:
            self.complaints.add_wrong(wrong, scalar, (key,))
            return None

    def thread(self, key: str, *, is_nut: bool) -> ThreadCall | None:
        """A thread the tables know, of a class that its standard gives for a screw or a nut."""
        scalar = self.scalar(key)
        if scalar is None:
            return None
        text = " ".join(scalar.text.split())
        thread = find_thread(text) if len(text) <= 60 else None
        if thread is None:
            near = nearest(text, known_designations(), 0.75)
            example = "write it like 'M6', 'M8 x 1-6g', '1/4-20 UNC', '2 BA', '1/4 BSW' or '1/4 x 40 ME'"
            do = f"did you mean '{near}'?" if near else example
            what = f"the thread {quoted(text)} is not in the tables"
            self.complaints.add("thread-unknown", scalar.span, what, do)
            return None
        if wrong := class_fault(thread, is_nut):
            self.complaints.add("thread-class", scalar.span, wrong, f"write '{with_usual_class(thread, is_nut)}', or one it has")
            return None
        return ThreadCall(text, scalar.span)

    def done(self, known: Iterable[str]) -> None:
        """What is left is unknown: a fault each."""
        for entry in self.left.values():
            self.complaints.add(
                "key-unknown",
                entry.key.span,
                f"{self.what} has no {quoted(entry.key.text)}",
                did_you_mean(entry.key.text, known),
            )
        self.left = {}
