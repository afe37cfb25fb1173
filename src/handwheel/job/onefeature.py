"""A part of one feature said on the command line in the job file's words, any kind of feature.

The sayings become the tree of a small job file, so that they mean exactly what they would mean there. What is not
a link of the outside is put into a plain cylinder, several times as large as anything said of it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from handwheel.base.faults import Fault, Span
from handwheel.job.acrossread import ACROSS_OPTIONS
from handwheel.job.ask import IT, SAID
from handwheel.job.features import CUT_IN_OPTIONS, INSIDE_OPTIONS, OUTSIDE_OPTIONS
from handwheel.job.names import RESERVED
from handwheel.job.read import read_tree
from handwheel.job.records import Job, Unit
from handwheel.job.senses import ACROSS, CUT_IN, INSIDE, OUTSIDE, Sense
from handwheel.job.wrong import Complaints, did_you_mean, quoted
from handwheel.job.yamltext import Entry, Mapping, Node, Scalar
from handwheel.job.yamltext import Sequence as Items

PART = "part"
HOST = "body"
BEYOND = "beyond"
INSIDE_KINDS = tuple(kind for kind in INSIDE if " " not in kind)
KINDS = (*OUTSIDE, *INSIDE_KINDS, *CUT_IN, *(kind for kind in ACROSS if kind not in INSIDE_KINDS))
_FIGURES = re.compile(r"\d+(?:\.\d*)?|\.\d+")
_ENDS = ("left end", "right end")


@dataclass(frozen=True, slots=True)
class Said:
    """One saying `KEY: VALUE`, each with its place: the line is the saying's number."""

    key: Scalar
    value: Scalar
    is_option: bool


def options_of(kind: str) -> tuple[str, ...]:
    """The options that a feature of that kind can have, but those that name another feature."""
    found = {**ACROSS_OPTIONS, **OUTSIDE_OPTIONS, **INSIDE_OPTIONS, **CUT_IN_OPTIONS}.get(kind, ())
    return tuple(key for key in found if key not in ("in", "on", "at", "into", "square to"))


def sense_of(kind: str) -> Sense:
    """What can be said of a feature of that kind."""
    return {**ACROSS, **CUT_IN, **INSIDE, **OUTSIDE}[kind]


def read_one_feature(
    kind: str, sayings: Sequence[str], units: Unit, host: Sequence[str] = ()
) -> tuple[Job | None, tuple[Fault, ...]]:
    """A job of one part, `part`, with the feature `it`, said as `PHRASE: VALUE` without the feature's name.

    Parameters
        kind: `cone`, `hole`, `groove`, any kind of the job file.
        sayings: `left diameter: 3/4`, or an option of the kind such as `narrow: left`; fault line n is saying n.
        units: how a bare number is read.
        host: which sizes to give what it is put into, one of `hosts_of`.
    """
    complaints = Complaints(part=PART)
    start = Span(SAID, 1, 1)
    if kind not in KINDS:
        complaints.add("kind-unknown", start, f"{quoted(kind)} is no kind of feature", did_you_mean(kind, KINDS))
        return None, tuple(complaints.found)
    said = split_sayings(kind, sayings, complaints)
    job = read_tree(_tree(kind, said, units, host), SAID, complaints)
    found = tuple(sorted(dict.fromkeys(complaints.found), key=lambda f: (f.span, f.id)))
    return (None if found else job), found


def split_sayings(kind: str, sayings: Sequence[str], complaints: Complaints) -> list[Said]:
    """The sayings with their places; a fault for each that is not `PHRASE: VALUE`."""
    found: list[Said] = []
    for number, saying in enumerate(sayings, 1):
        text = saying.replace("\n", " ").replace("\r", " ")
        key, colon, value = text.partition(":")
        if not colon or not key.strip():
            what = f"{quoted(text)} is not 'PHRASE: VALUE'"
            complaints.add("saying-form", Span(SAID, number, 1), what, "write it like 'left diameter: 3/4'")
            continue
        lead, gap = len(key) - len(key.lstrip()), len(value) - len(value.lstrip())
        words = Scalar(key.strip(), Span(SAID, number, lead + 1))
        amount = Scalar(value.strip(), Span(SAID, number, len(key) + 2 + gap))
        is_option = words.text in options_of(kind)
        if not is_option and words.text.split()[0].lower() not in (*RESERVED, IT):
            what = f"{quoted(words.text)} is no size and no option of a {kind}"
            known = (*options_of(kind), *(str(size) for size in sense_of(kind).sizes))
            complaints.add("phrase-unreadable", words.span, what, did_you_mean(words.text, known))
            continue
        found.append(Said(words if is_option else _named(words), amount, is_option))
    return found


def _named(words: Scalar) -> Scalar:
    """`left diameter` as `it left diameter`, `mouth to bottom` as `it mouth to it bottom`; places stay the typed."""
    pieces = re.split(r"(\s+to\s+|\s+at\s+)", words.text) if "to axis" not in words.text else [words.text]
    text, columns, offset = "", [], 0
    for piece in pieces:
        here = words.span.column + offset
        first, _, rest = piece.strip().partition(" ")
        is_joint = first in ("to", "at") and not rest
        if not is_joint and first.lower() in RESERVED and first.lower() != "overall" and piece.strip() not in _ENDS:
            text += f"{IT} "
            columns += [here] * (len(IT) + 1)
        text += piece
        columns += range(here, here + len(piece))
        offset += len(piece)
    return Scalar(text, words.span, False, (*columns, words.span.column + offset))


def hosts_of(kind: str, said: Sequence[Said]) -> tuple[tuple[str, ...], ...]:
    """Which sizes of what the feature is put into to give, the most first; each is to be tried in turn."""
    if _is_alone(kind, said):
        return ((),)
    lines = [f"{HOST} diameter", f"{HOST} length"]
    if kind == "fillet":
        lines += [f"{BEYOND} diameter", f"{BEYOND} length"]
    elif kind in CUT_IN:
        lines.append(f"left end to {IT} left")
    elif kind in ACROSS and kind not in INSIDE_KINDS and not any(one.key.text == "face" for one in said):
        lines.append(f"left end to {IT} centre")
    return tuple(kept for count in range(len(lines), -1, -1) for kept in combinations(lines, count))


def _is_alone(kind: str, said: Sequence[Said]) -> bool:
    """Whether the feature can stand for a whole part."""
    is_edge = kind == "round" and any(one.key.text == "size" for one in said)
    return kind in OUTSIDE and kind != "fillet" and not is_edge


def _tree(kind: str, said: Sequence[Said], units: Unit, host: Sequence[str]) -> Mapping:
    """The job file of the sayings."""
    options = [(one.key, one.value) for one in said if one.is_option]
    sizes = [(one.key, one.value) for one in said if not one.is_option]
    large = _large(said)
    for phrase in host:
        amount = 4 * large if phrase.startswith(BEYOND) else large / 2 if " to " in phrase else large
        sizes.append((_text(phrase), _text(f"{float(amount):.3f} in")))
    part = [*_items(kind, [(kind, IT), *options]), ("dimensions", sizes)]
    whole = [("handwheel", "1"), ("job", PART), ("units", str(units)), ("parts", [(PART, part)])]
    made = _node(whole)
    assert isinstance(made, Mapping)
    return made


def _items(kind: str, item: list[tuple[object, object]]) -> list[tuple[str, object]]:
    """The part's lists of features: the item, with what it is put into."""
    host, given = [("cylinder", HOST)], {getattr(key, "text", key) for key, _ in item}
    if kind == "fillet":
        return [("outside", [host, item, [("cylinder", BEYOND)]])]
    if kind == "round" and "size" in given:
        return [("outside", [host, item])]
    if kind in OUTSIDE:
        return [("outside", [item])]
    if kind in INSIDE_KINDS:
        return [("outside", [host]), ("inside", [("from left", [item])])]
    if kind in CUT_IN:
        return [("outside", [host, [*item, ("in", HOST)]])]
    return [("outside", [host]), ("across", [item if "face" in given else [*item, ("on", HOST)]])]


def lines_to_paste(kind: str, sayings: Sequence[str], units: Unit) -> list[str]:
    """The feature and its sizes as lines of a part in a job file."""
    said = split_sayings(kind, sayings, Complaints())
    options = [f"{one.key.text}: {_written(one.value.text)}" for one in said if one.is_option]
    if kind in CUT_IN:
        options.append(f"in: {HOST}")
    elif kind in ACROSS and kind not in INSIDE_KINDS and not any(one.startswith("face:") for one in options):
        options.append(f"on: {HOST}")
    section = {True: ["    outside:"], False: ["    across:"]}[kind in OUTSIDE or kind in CUT_IN]
    margin = "      "
    if kind in INSIDE_KINDS:
        section, margin = ["    inside:", "      from left:"], "        "
    lines = [f"    # bare numbers are {units}", *section, f"{margin}- {kind}: {IT}"]
    lines += [f"{margin}  {option}" for option in options]
    sizes = [f"      {one.key.text}: {_written(one.value.text)}" for one in said if not one.is_option]
    return [*lines, *(["    dimensions:", *sizes] if sizes else [])]


def _written(value: str) -> str:
    """A value as a scalar of the job file, in quotes where it would be read as something else."""
    is_plain = value and value[0] not in "'\"[]{}>|*&!%#`@,?:-" and not re.search(r":\s|\s#|:$", value)
    return value if is_plain else "'" + value.replace("'", "''") + "'"


def _large(said: Sequence[Said]) -> Fraction:
    """Inches larger than anything said, for what the feature is put into."""
    figures = [Fraction(f) for one in said for f in _FIGURES.findall(one.value.text)[:6] if len(f) <= 7]
    return 8 * sum(figures, Fraction(1))


def _text(text: str) -> Scalar:
    return Scalar(text, Span(SAID, 1, 1), False, (1,) * (len(text) + 1))


def _node(made: object) -> Node:
    """Pairs as a mapping, other lists as a sequence, text as a scalar."""
    if isinstance(made, Scalar):
        return made
    if isinstance(made, str):
        return _text(made)
    assert isinstance(made, list)
    start = Span(SAID, 1, 1)
    if made and isinstance(made[0], list):
        return Items(tuple(_node(one) for one in made), start)
    entries = tuple(Entry(key if isinstance(key, Scalar) else _text(key), _node(value)) for key, value in made)
    return Mapping(entries, start)
