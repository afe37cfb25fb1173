"""The items under `outside`, `inside` and `across` as features, with the sizes written at them."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from handwheel.base.faults import Span
from handwheel.job.entries import Options, as_mapping, as_sequence
from handwheel.job.names import check_name
from handwheel.job.numbers import Scale, read_quantity
from handwheel.job.phrasewords import starts_size
from handwheel.job.records import (
    CutIn,
    CutInKind,
    InsideFeature,
    InsideKind,
    Measure,
    OutsideFeature,
    OutsideKind,
    Side,
)
from handwheel.job.senses import ACROSS, CUT_IN, INSIDE, OUTSIDE, UNKNOWN, Sense, inside_sense
from handwheel.job.tokens import Cursor, tokenise
from handwheel.job.wrong import Complaints, Wrong, did_you_mean, nearest, quoted
from handwheel.job.yamltext import Mapping, Node, Scalar

OUTSIDE_OPTIONS: dict[str, tuple[str, ...]] = {
    "cylinder": ("flush", "thread", "knurl"),
    "cone": ("flush", "narrow"),
    "ball": ("flat", "tangent", "dome"),
    "hollow": ("flat", "tangent"),
    "round": ("flat", "tangent", "size"),
    "chamfer": ("flush", "narrow", "size"),
    "fillet": ("tangent", "size"),
}
INSIDE_OPTIONS: dict[str, tuple[str, ...]] = {
    "hole": ("finish", "bottom", "point", "through", "thread"),
    "counterbore": ("finish", "bottom", "point", "through", "thread"),
    "bore": ("finish", "bottom", "point", "through", "cone", "flush", "thread"),
    "countersink": (),
}
CUT_IN_OPTIONS: dict[str, tuple[str, ...]] = {"groove": ("in",), "knurl": ("in", "kind"), "thread": ("in", "kind")}
_ANGLE_WORDS = {"deg", "degree", "degrees", "°"}
FINISHES = ("drilled", "reamed", "bored")


@dataclass(frozen=True, slots=True)
class Inline:
    """A size written at a feature: the phrase it stands for and its value, each with its places."""

    feature: str
    phrase: Scalar
    value: Scalar


@dataclass
class Section:
    """The items of one list: features in order, what can be said of each, the sizes written at them."""

    features: list[OutsideFeature | InsideFeature] = field(default_factory=list)
    cut_in: list[CutIn] = field(default_factory=list)
    inline: list[Inline] = field(default_factory=list)
    senses: dict[str, Sense] = field(default_factory=dict)
    spans: dict[str, Span] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Item:
    """One item of a list: its kind's word, its name, and its options still to be taken."""

    kind: str
    name: str
    span: Span
    options: Options


def read_item(
    node: Node, where: str, kinds: dict[str, Sense], complaints: Complaints, bare: Scale, section: Section
) -> Item | None:
    """An item `{kind: name, options}`; None with a fault where it is not one.

    The name of an item of no known kind is still entered, so that its dimensions are not faults as well.
    """
    if isinstance(node, Scalar) and node.text.split(" ")[0] in kinds:
        complaints.add(
            "item-form", node.span, f"{quoted(node.text)} has no name", f"write '- {node.text.split(' ')[0]}: NAME'"
        )
        return None
    mapping = as_mapping(node, where, complaints)
    if mapping is None or not mapping.entries:
        if mapping is not None:
            complaints.add("item-form", node.span, f"an item under '{where}' is empty", "write '- KIND: NAME'")
        return None
    first = mapping.entries[0]
    kind = first.key.text
    if kind not in kinds:
        _complain_kind(mapping, where, kinds, complaints)
        for entry in (e for e in mapping.entries if isinstance(e.value, Scalar)):
            section.senses.setdefault(entry.value.text if isinstance(entry.value, Scalar) else "", UNKNOWN)
        return None
    if not isinstance(first.value, Scalar):
        complaints.add(
            "name-missing",
            first.value.span,
            f"the {kind}'s name is missing",
            f"write '- {kind}: NAME', the rest below or beside it",
        )
        return None
    if not check_name(first.value, "feature", complaints):
        return None
    options = Options(mapping, f"the {kind} '{first.value.text}'", complaints, bare)
    options.take(kind)
    return Item(kind, first.value.text, first.value.span, options)


def _complain_kind(mapping: Mapping, where: str, kinds: dict[str, Sense], complaints: Complaints) -> None:
    """Why an item's first key is no kind."""
    first = mapping.entries[0].key
    later = next((e.key.text for e in mapping.entries[1:] if e.key.text in kinds), None)
    homes = [name for name, has in (("outside", OUTSIDE), ("inside", INSIDE), ("across", ACROSS)) if first.text in has]
    if later:
        complaints.add(
            "kind-first",
            first.span,
            f"the item begins with {quoted(first.text)}, not with its kind",
            f"write '{later}: …' first",
        )
    elif homes:
        complaints.add(
            "kind-elsewhere",
            first.span,
            f"a {first.text} is not written under '{where}'",
            f"write it under '{homes[0]}'",
        )
    else:
        complaints.add(
            "kind-unknown",
            first.span,
            f"{quoted(first.text)} is no kind of feature under '{where}'",
            did_you_mean(first.text, kinds),
        )


def take_inline(item: Item, section: Section) -> None:
    """Take the keys that are sizes: `length: 0.200` on `tenon` stands for `tenon length`."""
    complaints = item.options.complaints
    for key, entry in list(item.options.left.items()):
        if starts_size(key):
            item.options.take(key)
            if isinstance(entry.value, Scalar):
                phrase = _joined(item.name, entry.key)
                section.inline.append(Inline(item.name, phrase, entry.value))
            else:
                complaints.add("text-wanted", entry.value.span, f"'{key}' needs one value", "write it on the same line")


def _joined(name: str, key: Scalar) -> Scalar:
    """`NAME KEY` as a scalar whose places are the key's."""
    columns = (key.span.column,) * (len(name) + 1) + tuple(key.at(i).column for i in range(len(key.text) + 1))
    return Scalar(f"{name} {key.text}", key.span, False, columns)


def add_names(section: Section, item: Item, sense: Sense) -> bool:
    """Enter the item's name; a fault where the list has it already."""
    if item.name in section.spans:
        line = section.spans[item.name].line
        item.options.complaints.add(
            "name-twice",
            item.span,
            f"'{item.name}' is the name of two features (first on line {line})",
            "rename one of them",
            (item.name,),
            (section.spans[item.name],),
        )
        return False
    section.senses[item.name] = sense
    section.spans[item.name] = item.span
    return True


def read_outside(node: Node, complaints: Complaints, bare: Scale) -> Section:
    """The chain of the outside, left to right, and what is cut into it."""
    section = Section()
    for one in as_sequence(node, "outside", complaints):
        item = read_item(one, "outside", OUTSIDE | CUT_IN, complaints, bare, section)
        if item is None:
            continue
        if item.kind in CUT_IN:
            read_cut_in(item, section, False)
            continue
        feature = _outside(item, section)
        if add_names(section, item, OUTSIDE[item.kind]):
            section.features.append(feature)
    _check_neighbours([f for f in section.features if isinstance(f, OutsideFeature)], node, complaints)
    return section


def _outside(item: Item, section: Section) -> OutsideFeature:
    """One link of the chain."""
    options, known = item.options, OUTSIDE_OPTIONS[item.kind]
    has = {key: key in known for key in ("flush", "tangent", "flat", "dome", "narrow", "thread", "knurl", "size")}
    is_edge = item.kind == "round" and "size" in options.left
    feature = OutsideFeature(
        OutsideKind(item.kind),
        item.name,
        item.span,
        options.sides("flush") if has["flush"] else frozenset(),
        options.sides("tangent") if has["tangent"] else frozenset(),
        options.sides("flat") if has["flat"] else frozenset(),
        options.flag("dome") if has["dome"] else False,
        options.side("narrow") if has["narrow"] else None,
        options.thread("thread", is_nut=False) if has["thread"] else None,
        _knurl(options, "knurl") if has["knurl"] else "",
        is_edge,
    )
    if has["size"]:
        _take_size(item, section)
    take_inline(item, section)
    options.done([*known, *(s.value for s in OUTSIDE[item.kind].sizes)])
    return feature


def _take_size(item: Item, section: Section) -> None:
    """`size: 0.5 mm x 45 deg` of a chamfer, `size: R 1 mm` of a fillet or round."""
    scalar = item.options.scalar("size")
    if scalar is None:
        return
    key = Scalar("", scalar.span)
    if item.kind != "chamfer":
        section.inline.append(Inline(item.name, _named(item.name, "radius", key), scalar))
        return
    try:
        tokens = tokenise(scalar.text)
    except Wrong as wrong:
        item.options.complaints.add_wrong(wrong, scalar)
        return
    cross = next((t for t in tokens if t.low == "x"), None)
    if cross is None:
        item.options.complaints.add(
            "chamfer-size",
            scalar.span,
            f"{quoted(scalar.text)} does not say the chamfer's angle",
            "write it like '0.5 mm x 45 deg', along the axis x angle to the axis",
        )
        return
    before, after = ([t.low for t in tokens if (t.start < cross.start) is side] for side in (True, False))
    if _ANGLE_WORDS & set(before) and not _ANGLE_WORDS & set(after):
        swapped = f"{scalar.text[cross.end :].strip()} x {scalar.text[: cross.start].strip()}"
        what = f"{quoted(scalar.text)} has the chamfer's angle first"
        item.options.complaints.add("chamfer-size", scalar.span, what, f"write {quoted(swapped)}")
        return
    section.inline.append(Inline(item.name, _named(item.name, "length", key), scalar.piece(0, cross.start)))
    section.inline.append(
        Inline(item.name, _named(item.name, "angle to axis", key), scalar.piece(cross.end, len(scalar.text)))
    )


def _named(name: str, words: str, key: Scalar) -> Scalar:
    """A phrase that `size` stands for; every place in it is the size's."""
    text = f"{name} {words}"
    return Scalar(text, key.span, False, (key.span.column,) * (len(text) + 1))


def _knurl(options: Options, key: str) -> str:
    """`straight 0.8 mm` or `diamond 1 mm`."""
    scalar = options.scalar(key)
    if scalar is None:
        return ""
    text = " ".join(scalar.text.split())
    try:
        cursor = Cursor(scalar.text, tokenise(scalar.text))
        is_known = (cursor.take_if("straight") or cursor.take_if("diamond")) and cursor.peek() is not None
        pitch = read_quantity(cursor, options.bare, Measure.LENGTH).number if is_known else None
        if pitch is None or pitch.measure is not Measure.LENGTH or pitch.value <= 0 or cursor.peek() is not None:
            kind = nearest(cursor.tokens[0].low if cursor.tokens else "", ("straight", "diamond"))
            do = f"write '{kind} 0.8 mm'" if kind else "write 'straight 0.8 mm' or 'diamond 1 mm'"
            raise Wrong("knurl-form", 0, f"{quoted(text)} is not a knurl", do)
    except Wrong as wrong:
        options.complaints.add_wrong(wrong, scalar)
        return ""
    return text


def read_cut_in(item: Item, section: Section, is_inside: bool) -> None:
    """A groove, knurl or thread cut into a feature; its host is looked up when the part is whole."""
    options = item.options
    host = options.text("in")
    if not host:
        options.complaints.add(
            "cut-in-host",
            item.span,
            f"the {item.kind} '{item.name}' does not say what it is cut into",
            "add 'in: FEATURE'",
        )
    what = _knurl(options, "kind") if item.kind == "knurl" else ""
    thread = options.thread("kind", is_nut=is_inside) if item.kind == "thread" else None
    if item.kind != "groove" and not what and thread is None and options.mapping.get("kind") is None:
        example = "kind: M6" if item.kind == "thread" else "kind: straight 0.8 mm"
        options.complaints.add(
            "cut-in-kind", item.span, f"the {item.kind} '{item.name}' does not say its kind", f"add '{example}'"
        )
    take_inline(item, section)
    options.done([*CUT_IN_OPTIONS[item.kind], *(s.value for s in CUT_IN[item.kind].sizes)])
    if add_names(section, item, CUT_IN[item.kind]):
        text = what or (thread.designation if thread else "")
        section.cut_in.append(CutIn(CutInKind(item.kind), item.name, item.span, host, is_inside, text, thread))


def _check_neighbours(chain: list[OutsideFeature], node: Node, complaints: Complaints) -> None:
    """`flush` and `tangent` need a neighbour there; `flush` one that is straight."""
    arcs = (OutsideKind.BALL, OutsideKind.HOLLOW, OutsideKind.ROUND)
    for index, feature in enumerate(chain):
        for word, sides in (("flush", feature.flush), ("tangent", feature.tangent)):
            for side in sorted(sides):
                other = index + (1 if side is Side.RIGHT else -1)
                span = _option_span(node, feature, word)
                if not 0 <= other < len(chain):
                    complaints.add(
                        f"{word}-at-end",
                        span,
                        f"'{feature.name}' has no neighbour on its {side.value}",
                        f"delete '{word}' there",
                        (feature.name,),
                    )
                elif word == "flush" and chain[other].kind in arcs:
                    complaints.add(
                        "flush-beside-arc",
                        span,
                        f"'{feature.name}' cannot be flush with the {chain[other].kind.value} '{chain[other].name}'",
                        "delete 'flush': their surfaces meet by themselves",
                        (feature.name, chain[other].name),
                    )


def _option_span(node: Node, feature: OutsideFeature, word: str) -> Span:
    """The place of an option's value."""
    for item in getattr(node, "items", ()):
        if isinstance(item, Mapping) and item.entries and item.entries[0].value.span == feature.span:
            entry = item.get(word)
            if entry:
                return entry.value.span
    return feature.span


def read_inside(node: Node, entered: Side, complaints: Complaints, bare: Scale) -> Section:
    """The holes entered from one end, in the order in which they are entered."""
    section = Section()
    for one in as_sequence(node, f"from {entered.value}", complaints):
        item = read_item(one, "inside", INSIDE_KINDS | CUT_IN, complaints, bare, section)
        if item is None:
            continue
        if item.kind in CUT_IN:
            read_cut_in(item, section, True)
            continue
        feature, sense = _inside(item, entered, section)
        if add_names(section, item, sense):
            section.features.append(feature)
    return section


INSIDE_KINDS = {kind.value: INSIDE[kind.value] for kind in InsideKind}


def _inside(item: Item, entered: Side, section: Section) -> tuple[InsideFeature, Sense]:
    """One hole on the axis."""
    options, known = item.options, INSIDE_OPTIONS[item.kind]

    def has(key: str) -> bool:
        return key in known

    bottom = options.word("bottom", ("drilled", "flat")) if has("bottom") else ""
    is_flat = bottom == "flat" if bottom else item.kind in ("counterbore", "bore")
    feature = InsideFeature(
        InsideKind(item.kind),
        item.name,
        item.span,
        entered,
        options.word("finish", FINISHES) if has("finish") else "",
        is_flat,
        options.angle_deg("point", Fraction(118)) if has("point") else Fraction(118),
        options.flag("through") if has("through") else False,
        options.flag("cone") if has("cone") else False,
        options.sides("flush") if has("flush") else frozenset(),
        None,
        options.thread("thread", is_nut=True) if has("thread") else None,
    )
    take_inline(item, section)
    sense = inside_sense(feature)
    options.done([*known, *(s.value for s in sense.sizes)])
    return feature, sense
