"""What a part, feature or assembly may be called."""

from __future__ import annotations

import re

from handwheel.job.wrong import Complaints, did_you_mean, quoted
from handwheel.job.yamltext import Scalar

RESERVED = frozenset(
    [
        "left",
        "right",
        "centre",
        "center",
        "middle",
        "end",
        "mouth",
        "bottom",
        "point",
        "apex",
        "to",
        "at",
        "of",
        "on",
        "in",
        "same",
        "as",
        "diameter",
        "radius",
        "length",
        "width",
        "depth",
        "angle",
        "taper",
        "overall",
        "across",
        "flats",
        "from",
        "axis",
        "pitch",
        "circle",
        "included",
        "meets",
        "half",
        "twice",
        "suit",
        "true",
        "false",
        "null",
    ]
)
"""Words of the phrase language: no name has one in it."""

_FEATURE = re.compile(r"[^\W\d_][^\W_]*(?:-[^\W_]+)*")
_PART = re.compile(r"[^\W\d_][^\W_]*(?:[- ][^\W_]+)*")


def check_name(scalar: Scalar, what: str, complaints: Complaints) -> bool:
    """Whether the scalar can be the name of a `what` (part, feature or assembly); a fault where it cannot."""
    may_have_blanks = what != "feature"
    name = scalar.text
    form = _PART if may_have_blanks else _FEATURE
    if not name:
        complaints.add("name-missing", scalar.span, f"a {what} has no name", "write one, beginning with a letter")
        return False
    if not form.fullmatch(name) or len(name) > 60 or any(c.isnumeric() and not c.isdecimal() for c in name):
        plain = re.sub(r"[\W_]+", " " if may_have_blanks else "-", name).strip("- 0123456789")[:60]
        blanks = ", single blanks" if may_have_blanks else ""
        do = f"letters, digits, hyphens{blanks}, a letter first" + (f": '{plain}'" if form.fullmatch(plain) else "")
        complaints.add("name-form", scalar.span, f"{quoted(name)} cannot be a {what}'s name", do)
        return False
    taken = next((word for word in name.lower().split() if word in RESERVED), None)
    if taken:
        complaints.add(
            "name-reserved",
            scalar.span,
            f"'{taken}' is a word of the phrases, so no {what}'s name",
            "choose another name",
        )
        return False
    return True


def yes_or_no(scalar: Scalar, complaints: Complaints) -> bool:
    """`yes`, `true`, `no`, `false`; anything else a fault."""
    word = scalar.text.lower()
    if word not in ("yes", "true", "no", "false"):
        complaints.add("yes-or-no", scalar.span, f"{quoted(scalar.text)} is neither yes nor no", "write 'yes' or 'no'")
    return word in ("yes", "true")


def choose(scalar: Scalar, words: tuple[str, ...], complaints: Complaints) -> str:
    """One of `words`, or '' and a fault."""
    if scalar.text in words:
        return scalar.text
    complaints.add(
        "word-unknown",
        scalar.span,
        f"{quoted(scalar.text)} is not one of {', '.join(words)}",
        did_you_mean(scalar.text, words),
    )
    return ""
