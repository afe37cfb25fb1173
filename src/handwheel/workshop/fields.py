"""One mapping of a workshop file, read key by key: each value by its sort, every fault noted with its place.

A key that is asked for and not there, or reads badly, is noted and stands in as zero or an empty text, so that
reading goes on to the next fault; nothing is built from a file with faults. `close` notes the keys nobody asked for.
"""

from __future__ import annotations

from collections.abc import Sequence as Several
from fractions import Fraction

from handwheel.job.numbers import read_quantity, scale_of
from handwheel.job.records import Measure, Number, Unit
from handwheel.job.tokens import Cursor, tokenise
from handwheel.job.wrong import Complaints, Wrong, did_you_mean, quoted
from handwheel.job.yamltext import Entry, Mapping, Node, Scalar, Sequence

UNKNOWN = "unknown"
MOST_MM = 100_000.0
_YES, _NO = ("yes", "true"), ("no", "false")
_WANTED = {Measure.LENGTH: "a length", Measure.ANGLE: "an angle", Measure.RATIO: "a plain number"}
_LIKE = {Measure.LENGTH: "write it like 3 1/2 in or 90 mm", Measure.ANGLE: "write it like 60 deg",
         Measure.RATIO: "write it without a unit"}  # fmt: skip


class Fields:
    """A mapping and what has been asked of it. `what` is what it describes, for the messages."""

    def __init__(self, node: Node, complaints: Complaints, units: Unit, what: str) -> None:
        self.complaints = complaints
        self.units = units
        self.what = what
        self.span = node.span
        self.asked: list[str] = []
        self.mapping = node if isinstance(node, Mapping) else Mapping((), node.span)
        if not isinstance(node, Mapping):
            complaints.add("workshop-shape", node.span, f"{what} is not written as keys and values",
                           "write 'key: value', one a line")  # fmt: skip
            self.asked = ["*"]

    def entry(self, key: str, is_needed: bool = True) -> Entry | None:
        """The entry of that key. Noted as missing where it is needed; None also where `unknown` is allowed and said."""
        self.asked.append(key)
        found = self.mapping.get(key)
        if found is None and is_needed and "*" not in self.asked:
            self.complaints.add("workshop-key-missing", self.span, f"{self.what} has no '{key}'",
                                f"add '{key}:'")  # fmt: skip
        if found is not None and not is_needed and isinstance(found.value, Scalar) and found.value.text == UNKNOWN:
            return None
        return found

    def close(self) -> None:
        """Note every key that was not asked for."""
        if "*" in self.asked:
            return
        for entry in self.mapping.entries:
            if entry.key.text not in self.asked:
                self.complaints.add("workshop-key-unknown", entry.key.span,
                                    f"{quoted(entry.key.text)} is no key of {self.what}",
                                    did_you_mean(entry.key.text, self.asked))  # fmt: skip

    def scalar(self, entry: Entry | None) -> Scalar | None:
        """The entry's value as one text."""
        if entry is None:
            return None
        if isinstance(entry.value, Scalar) and entry.value.text:
            return entry.value
        self.complaints.add("workshop-shape", entry.value.span, f"'{entry.key.text}' of {self.what} is not one text",
                            "write one value after the colon")  # fmt: skip
        return None

    def text(self, key: str, is_needed: bool = True) -> str:
        """A text; '' where it is left out."""
        scalar = self.scalar(self.entry(key, is_needed))
        return scalar.text if scalar else ""

    def choice(self, key: str, words: Several[str]) -> str:
        """One of the words; the first stands in for a fault."""
        scalar = self.scalar(self.entry(key))
        if scalar is None or scalar.text in words:
            return scalar.text if scalar else words[0]
        self.complaints.add("workshop-word-unknown", scalar.span,
                            f"{quoted(scalar.text)} cannot be '{key}' of {self.what}",
                            did_you_mean(scalar.text, words))  # fmt: skip
        return words[0]

    def yes_or_none(self, key: str) -> bool | None:
        """Yes or no; None where it is unknown or left out."""
        scalar = self.scalar(self.entry(key, False))
        if scalar is None:
            return None
        if scalar.text not in _YES + _NO:
            self.complaints.add("workshop-word-unknown", scalar.span, f"{quoted(scalar.text)} is neither yes nor no",
                                "write yes, no or unknown")  # fmt: skip
        return scalar.text in _YES

    def length(self, key: str, *, is_zero_good: bool = False) -> float:
        """A length that must be known. [mm]"""
        return self._number(key, Measure.LENGTH, True, is_zero_good) or 0.0

    def length_or_none(self, key: str, *, is_zero_good: bool = True) -> float | None:
        """A length; None where it is unknown or left out. [mm]"""
        return self._number(key, Measure.LENGTH, False, is_zero_good)

    def angle(self, key: str) -> float:
        """An angle that must be known. [deg]"""
        return self._number(key, Measure.ANGLE, True, False) or 0.0

    def angle_or_none(self, key: str) -> float | None:
        """An angle; None where it is unknown or left out. [deg]"""
        return self._number(key, Measure.ANGLE, False, False)

    def plain(self, key: str, unit: str = "") -> float:
        """A number that must be known; `unit` may be written after it."""
        return self._number(key, Measure.RATIO, True, False, unit) or 0.0

    def plain_or_none(self, key: str, unit: str = "") -> float | None:
        """A number; None where it is unknown or left out; `unit` may be written after it."""
        return self._number(key, Measure.RATIO, False, False, unit)

    def whole(self, key: str) -> int:
        """A whole number above zero."""
        value = self.plain(key)
        if value != int(value):
            entry = self.mapping.get(key)
            span = entry.value.span if entry else self.span
            self.complaints.add("workshop-out-of-range", span, f"'{key}' of {self.what} is not a whole number",
                                "write a whole number")  # fmt: skip
        return int(value)

    def items(self, key: str, is_needed: bool = True) -> tuple[Node, ...]:
        """The items of a list; () where it is left out."""
        entry = self.entry(key, is_needed)
        if entry is None:
            return ()
        if isinstance(entry.value, Sequence):
            return entry.value.items
        self.complaints.add("workshop-shape", entry.value.span, f"'{key}' of {self.what} is not a list",
                            "write '[…, …]', or one item a line with '- ' before it")  # fmt: skip
        return ()

    def scalars(self, key: str, is_needed: bool = True) -> tuple[Scalar, ...]:
        """The items of a list of texts."""
        found = []
        for item in self.items(key, is_needed):
            if isinstance(item, Scalar):
                found.append(item)
            else:
                self.complaints.add("workshop-shape", item.span, f"an item of '{key}' is not one text",
                                    "write one value to an item")  # fmt: skip
        return tuple(found)

    def lengths(self, key: str, is_needed: bool = True) -> tuple[float, ...]:
        """A list of lengths above zero. [mm]"""
        return tuple(self.read(s, Measure.LENGTH, False) or 0.0 for s in self.scalars(key, is_needed))

    def read(self, scalar: Scalar, measure: Measure, is_zero_good: bool, unit: str = "") -> float | None:
        """A scalar as a number of that measure; None with the fault noted."""
        number = exact(scalar, measure, self.units, self.complaints, unit)
        if number is None:
            return None
        if (number.value == 0 and not is_zero_good) or float(number.value) > MOST_MM:
            self.complaints.add("workshop-out-of-range", scalar.span, f"{quoted(scalar.text)} cannot be so",
                                f"write a size above zero, and not above {MOST_MM:.0f}")  # fmt: skip
        return float(number.value)

    def in_order(self, low: float, high: float, key: str) -> None:
        """Note a least above its greatest."""
        if low > high:
            entry = self.mapping.get(key)
            self.complaints.add("workshop-out-of-range", entry.value.span if entry else self.span,
                                f"the least of {self.what} is above its greatest", "change one of the two")  # fmt: skip

    def _number(self, key: str, measure: Measure, is_needed: bool, is_zero_good: bool, unit: str = "") -> float | None:
        scalar = self.scalar(self.entry(key, is_needed))
        if scalar is None:
            return None
        if scalar.text == UNKNOWN:
            self.complaints.add("workshop-must-be-known", scalar.span, f"'{key}' of {self.what} cannot be left unknown",
                                "measure it and write it here")  # fmt: skip
            return None
        return self.read(scalar, measure, is_zero_good, unit)


def exact(scalar: Scalar, measure: Measure, units: Unit, complaints: Complaints, unit: str = "") -> Number | None:
    """The scalar's number, exact, or None with the fault noted at the place inside the text."""
    text = scalar.text
    if unit and text.endswith(unit):
        text = text.removesuffix(unit).rstrip()
    try:
        cursor = Cursor(text, tokenise(text))
        number = read_quantity(cursor, scale_of(units), measure).number
        if cursor.peek() is not None:
            raise Wrong("value-unreadable", cursor.offset(), f"{quoted(cursor.rest())} follows a value that is whole",
                        "delete it")  # fmt: skip
        if number.measure is not measure:
            raise Wrong("workshop-measure", 0, f"{quoted(scalar.text)} is not {_WANTED[measure]}", _LIKE[measure])
    except Wrong as wrong:
        complaints.add_wrong(wrong, scalar)
        return None
    return number


def signed_mm(scalar: Scalar, units: Unit, complaints: Complaints) -> float:
    """A coordinate, which may have a minus before it. [mm]"""
    is_minus = scalar.text.startswith(("-", "\N{MINUS SIGN}"))
    rest = scalar.text[1:].lstrip() if is_minus else scalar.text
    skipped = len(scalar.text) - len(rest)
    number = exact(scalar.piece(skipped, len(scalar.text)), Measure.LENGTH, units, complaints)
    value = number.value if number else Fraction(0)
    return float(-value if is_minus else value) + 0.0
