"""A thread's tolerance class as it is written behind a designation, and the record of its limits."""

from __future__ import annotations

import re
from dataclasses import dataclass

_LEFT_HAND = re.compile(r"[\s-]+LH$", re.IGNORECASE)
_ENDS = re.compile(
    r"(?:\s*-\s*|\s+|(?<=\d)(?=[AB]$))"
    r"(?P<one>(?:\d[efghGH]){1,2}|[123][AB]|close|medium|free|normal|[AB])"
    r"(?:\s*/\s*(?P<other>(?:\d[efghGH]){1,2}|[123][AB]|close|medium|free|normal))?"
    r"(?:\s+class)?(?:\s*-\s*(?P<length>[SNL]))?$"
)


@dataclass(frozen=True, slots=True)
class ThreadLimits:
    """Limits of a screw or a nut. [mm] A screw's root and a nut's major diameter have no second limit: None."""

    cls: str
    is_nut: bool
    major_low_mm: float | None
    major_high_mm: float | None
    effective_low_mm: float
    effective_high_mm: float
    minor_low_mm: float | None
    minor_high_mm: float | None


@dataclass(frozen=True, slots=True)
class Written:
    """A designation taken apart: its thread alone, the classes as written, one or two of them, `S`, `N` or `L`, its hand."""

    plain: str
    classes: tuple[str, ...]
    length: str
    is_left_hand: bool


def taken_apart(text: str) -> Written:
    """A designation's thread, classes, length of engagement and hand.

    Parameters
        text: single blanks. A class stands behind as the standards write it: `M6-6g`, `M6 - 5g6g`, `M10-6H/6g`,
            `M20-7g6g-L`, `1/4-20 UNC-3A`, `1/4 BSW medium`, `2 BA close`, `G1/4 A`; `LH` last, after a blank or a hyphen.
    """
    rest = _LEFT_HAND.sub("", text)
    found = _ENDS.search(rest)
    if found is None:
        return Written(rest, (), "", rest != text)
    classes = tuple(cls for cls in (found["one"], found["other"]) if cls)
    return Written(rest[: found.start()], classes, found["length"] or "", rest != text)


def is_nuts_class(cls: str, series: str) -> bool | None:
    """Whether a class as written is for a nut; None where it is for both, or says nothing of it."""
    if cls[-1] in "GH":
        return True
    if cls[-1] in "efgh" and cls[0].isdigit():
        return False
    if cls[0] in "123" and cls[-1] in "AB":
        return cls[-1] == "B"
    if series == "BSP":
        return False
    return {"free": False, "normal": None if series == "BA" else True}.get(cls)
