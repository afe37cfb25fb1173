"""Reading on behind a place where a file has no structure, so that the faults further down are told as well.

The lines to blame are left out, with those indented under them, and the rest is read again. What is then found
wrong is told only where it cannot come of the lines left out.
"""

from __future__ import annotations

from handwheel.base.faults import Fault
from handwheel.job.wrong import Complaints
from handwheel.job.yamltext import Builder, Node, decode

MOST_PLACES = 40
"""After so many places without structure the file is taken for something else, and reading stops."""

_OF_TEXT = ("not-yaml", "several-lines")
_OF_WHAT_IS_NOT_THERE = frozenset(
    {"key-missing", "nothing-written", "value-missing", "mapping-wanted", "list-wanted", "text-wanted", "item-form",
     "empty-file", "name-missing", "outside-missing", "feature-unknown", "part-unknown", "part-missing",
     "no-such-size", "no-such-point", "kind-first", "flush-at-end", "tangent-at-end", "flush-beside-arc",
     "cut-in-host", "cut-in-kind", "across-place", "seats-missing", "copy-unknown", "several-lines",
     "route-holds-nothing", "route-hold-form", "route-place-unknown"}
)  # fmt: skip


def parse_on(data: bytes, file: str) -> tuple[Node | None, tuple[Fault, ...], bool]:
    """The file's tree, or None; the faults of its text; and whether lines had to be left out of the tree."""
    complaints = Complaints()
    text = decode(data, file, complaints)
    if text is None:
        return None, tuple(complaints.found), False
    lines = text.split("\n")
    found: dict[Fault, None] = {}
    is_torn = False
    left_out = range(0)
    for _ in range(MOST_PLACES):
        one = Complaints()
        builder = Builder("\n".join(lines), file, one)
        node = builder.build()
        again = is_torn and builder.torn_at and not any(line.strip() for line in lines[left_out.stop : builder.torn_at - 1])
        found |= dict.fromkeys(f for f in one.found if not is_torn or f.id not in (*_OF_TEXT * again, "empty-file"))
        if not builder.torn_at:
            return node, tuple(found), is_torn
        is_torn = True
        left_out = _leave_out(lines, builder.torn_at)
        if not left_out:
            break
    return None, tuple(found), True


def holds_without(fault: Fault) -> bool:
    """Whether a fault stands whatever was on the lines left out."""
    return fault.id not in _OF_WHAT_IS_NOT_THERE


def _leave_out(lines: list[str], number: int) -> range:
    """Empty that line and those indented under it; which they were, none where there was nothing to empty."""
    index = number - 1
    if index >= len(lines) or not lines[index].strip():
        return range(0)
    indent = _indent(lines[index])
    lines[index] = ""
    for after in range(index + 1, len(lines)):
        line = lines[after].strip()
        if line and not line.startswith(("#", "]", "}")) and _indent(lines[after]) <= indent:
            return range(index, after)
        lines[after] = ""
    return range(index, len(lines))


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))
