"""The parts of a job file: their features, `like:` carried out, then their dimensions.

Features of every part come first, because a value may follow a size of any other part.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from handwheel.base.faults import Span
from handwheel.job.acrossread import AcrossSection, read_across, settle_across
from handwheel.job.entries import Options, as_mapping, as_scalar
from handwheel.job.features import Section, read_inside, read_outside
from handwheel.job.names import check_name
from handwheel.job.numbers import Scale
from handwheel.job.phrases import Reader, features_of, phrase_key
from handwheel.job.records import (
    AcrossFeature,
    DrawnDimension,
    DrawnStock,
    GeneralTolerance,
    InsideFeature,
    OutsideFeature,
    OutsideKind,
    Part,
    RouteStep,
    Side,
    Unit,
)
from handwheel.job.routeread import read_route
from handwheel.job.senses import Sense, across_senses
from handwheel.job.stock import read_stock
from handwheel.job.values import read_general_tolerance, read_value, wrong_in_any_case
from handwheel.job.wrong import Complaints, Wrong, did_you_mean
from handwheel.job.yamltext import Entry, Node, Scalar, Sequence

PART_KEYS = (
    "quantity",
    "material",
    "stock",
    "note",
    "general tolerance",
    "like",
    "outside",
    "inside",
    "across",
    "dimensions",
    "route",
)
_SECTIONS = ("outside", "from left", "from right", "across")


@dataclass
class Draft:
    """A part half read. `sections` by name, its own and those of the part it is like.

    `is_lost`: what it is like was not found, so nothing is said of its phrases as well.
    """

    name: str
    span: Span
    quantity: int = 1
    material: str = ""
    stock: str = ""
    stock_span: Span | None = None
    drawn_stock: DrawnStock | None = None
    note: str = ""
    general: GeneralTolerance | None = None
    like: Scalar | None = None
    sections: dict[str, Section] = field(default_factory=dict)
    own: frozenset[str] = frozenset()
    written: tuple[Entry, ...] = ()
    across: tuple[AcrossFeature, ...] = ()
    dimensions: list[tuple[str, DrawnDimension]] = field(default_factory=list)
    is_lost: bool = False
    written_route: Node | None = None
    route: tuple[RouteStep, ...] = ()

    def senses(self) -> dict[str, Sense]:
        """What can be said of each feature."""
        senses = {
            name: sense
            for key in _SECTIONS
            if key in self.sections
            for name, sense in self.sections[key].senses.items()
        }
        across, outside = self.sections.get("across"), self.sections.get("outside")
        if isinstance(across, AcrossSection) and outside is not None:
            balls = {f.name for f in outside.features if isinstance(f, OutsideFeature) and f.kind is OutsideKind.BALL}
            senses |= across_senses(across.across, balls)
        return senses


def read_draft(entry: Entry, complaints: Complaints, bare: Scale, units: Unit) -> Draft | None:
    """One part's own entries, without what it takes from another."""
    complaints.part = ""
    if not check_name(entry.key, "part", complaints):
        return None
    draft = Draft(entry.key.text, entry.key.span)
    complaints.part = draft.name
    mapping = as_mapping(entry.value, draft.name, complaints)
    if mapping is None:
        return draft
    options = Options(mapping, f"the part '{draft.name}'", complaints, bare)
    draft.quantity = options.whole("quantity", 1)
    draft.material = options.text("material")
    draft.note = options.text("note")
    draft.like = options.scalar("like")
    stock = options.scalar("stock")
    if stock is not None:
        draft.stock, draft.stock_span = " ".join(stock.text.split()), stock.span
        try:
            draft.drawn_stock = read_stock(stock, bare)
        except Wrong as wrong:
            complaints.add_wrong(wrong, stock)
    draft.general = take_general_tolerance(options, units)
    _take_sections(draft, options)
    dimensions = options.take("dimensions")
    if dimensions is not None:
        found = as_mapping(dimensions.value, "dimensions", complaints)
        draft.written = found.entries if found else ()
    route = options.take("route")
    draft.written_route = route.value if route is not None else None
    options.done(PART_KEYS)
    return draft


def take_general_tolerance(options: Options, units: Unit) -> GeneralTolerance | None:
    """The entry `general tolerance`, of the job or of a part."""
    scalar = options.scalar("general tolerance")
    if scalar is None:
        return None
    try:
        return read_general_tolerance(scalar, units, options.bare)
    except Wrong as wrong:
        options.complaints.add_wrong(wrong, scalar)
        return None


def _take_sections(draft: Draft, options: Options) -> None:
    """The entries `outside`, `inside` and `across`."""
    complaints, bare = options.complaints, options.bare
    outside, inside, across = options.take("outside"), options.take("inside"), options.take("across")
    if outside is not None:
        draft.sections["outside"] = read_outside(outside.value, complaints, bare)
        section = draft.sections["outside"]
        is_bare = isinstance(outside.value, Sequence) and not outside.value.items
        if is_bare or (section.cut_in and section.senses.keys() == {c.name for c in section.cut_in}):
            complaints.add(
                "outside-missing", draft.span, f"the part '{draft.name}' has no outside", "write its features"
            )
    elif draft.like is None:
        complaints.add(
            "outside-missing",
            draft.span,
            f"the part '{draft.name}' has no outside",
            "write 'outside:' with its features, or 'like:' another part",
        )
    mapping = as_mapping(inside.value, "inside", complaints) if inside is not None else None
    if mapping is not None:
        ends = Options(mapping, "'inside'", complaints, bare)
        for side in Side:
            entry = ends.take(f"from {side.value}")
            if entry is not None:
                draft.sections[f"from {side.value}"] = read_inside(entry.value, side, complaints, bare)
        ends.done(("from left", "from right"))
    if across is not None:
        draft.sections["across"] = read_across(across.value, complaints, bare)
    draft.own = frozenset(draft.sections)


def in_like_order(drafts: dict[str, Draft], complaints: Complaints) -> list[tuple[Draft, Draft | None]]:
    """Each part with the part it is like, that one first; a circle or an unknown name is a fault."""
    done: dict[str, Draft | None] = {}
    order: list[tuple[Draft, Draft | None]] = []
    for first in drafts.values():
        trail: list[Draft] = []
        draft: Draft | None = first
        while draft is not None and draft.name not in done:
            if draft in trail:
                _complain_circle(trail[trail.index(draft) :], complaints)
                break
            trail.append(draft)
            draft = _base(draft, drafts, complaints)
        is_circle = draft is not None and draft.name not in done
        for one in reversed(trail):
            base = None if is_circle or one.like is None else drafts.get(one.like.text.strip())
            done[one.name] = base
            order.append((one, base))
    return order


def _base(draft: Draft, drafts: dict[str, Draft], complaints: Complaints) -> Draft | None:
    if draft.like is None:
        return None
    name = draft.like.text.strip()
    if name not in drafts:
        complaints.part = draft.name
        complaints.add(
            "part-unknown",
            draft.like.span,
            f"there is no part '{name}'",
            did_you_mean(name, set(drafts) - {draft.name}),
        )
    return drafts.get(name)


def _complain_circle(circle: list[Draft], complaints: Complaints) -> None:
    first = min(circle, key=lambda d: d.span)
    assert first.like is not None
    complaints.part = first.name
    names = " like ".join(f"'{d.name}'" for d in (*circle, circle[0]))
    complaints.add(
        "like-circle",
        first.like.span,
        f"'like' goes round in a circle: {names}",
        "give one of them features of its own",
        (),
        tuple(d.like.span for d in circle if d.like and d is not first),
    )


def take_from(draft: Draft, base: Draft | None, complaints: Complaints) -> None:
    """Carry the sections of the part it is like over, and look for names written twice."""
    complaints.part = draft.name
    if base is not None:
        draft.sections = {**base.sections, **draft.sections}
        draft.material = draft.material or base.material
        draft.general = draft.general or base.general
    draft.is_lost = draft.like is not None and "outside" not in draft.sections
    seen: dict[str, Span] = {}
    for key in _SECTIONS:
        section = draft.sections.get(key)
        for name, span in (section.spans if section else {}).items():
            if name in seen:
                complaints.add(
                    "name-twice",
                    max(span, seen[name]),
                    f"'{name}' is the name of two features (first on line {min(span, seen[name]).line})",
                    "rename one of them",
                    (name,),
                    (min(span, seen[name]),),
                )
            seen.setdefault(name, span)


def settle(draft: Draft, base: Draft | None, reader: Reader, complaints: Complaints) -> None:
    """Read the dimensions, and look up what features refer to."""
    complaints.part = draft.name
    if draft.is_lost:
        return
    groups = _groups(draft)
    for key in draft.own:
        section = draft.sections[key]
        for cut in section.cut_in:
            home = groups["inside" if cut.is_inside else "outside"]
            if cut.host and cut.host not in home:
                complaints.add(
                    "feature-unknown",
                    cut.span,
                    f"'{cut.name}' is cut into '{cut.host}', which is not there",
                    did_you_mean(cut.host, home),
                    (cut.name,),
                )
    if draft.written_route is not None:
        draft.route = read_route(draft.written_route, _turned_features(draft), complaints, reader.bare)
    across = draft.sections.get("across")
    if isinstance(across, AcrossSection):
        draft.across = settle_across(across, groups, reader, complaints)
    own: list[tuple[str, DrawnDimension]] = []
    for key in (k for k in _SECTIONS if k in draft.own):
        for inline in draft.sections[key].inline:
            _add(own, key, read_dimension(inline.phrase, inline.value, reader, complaints))
    for entry in draft.written:
        value = as_scalar(entry.value, entry.key.text, complaints)
        _add(own, "", read_dimension(entry.key, value, reader, complaints))
    keys = {phrase_key(d.phrase) for _, d in own}
    senses = draft.senses()
    kept = [
        (key, d)
        for key, d in (base.dimensions if base else [])
        if key not in draft.own and phrase_key(d.phrase) not in keys and _stands(d, senses)
    ]
    draft.dimensions = kept + own


def _turned_features(draft: Draft) -> list[str]:
    """The names of what is made about the part's own axis."""
    found = [name for key in _SECTIONS if key != "across" and key in draft.sections for name in draft.sections[key].senses]
    return list(dict.fromkeys(found))


def _groups(draft: Draft) -> dict[str, set[str]]:
    """The names of the features, by group, without what is cut into them."""
    groups: dict[str, set[str]] = {"outside": set(), "inside": set(), "across": set()}
    for key, section in draft.sections.items():
        group = "inside" if key.startswith("from") else key
        groups[group] |= set(section.senses) - {c.name for c in section.cut_in}
    return groups


def _add(own: list[tuple[str, DrawnDimension]], key: str, dimension: DrawnDimension | None) -> None:
    if dimension is not None:
        own.append((key, dimension))


def _stands(dimension: DrawnDimension, senses: dict[str, Sense]) -> bool:
    """Whether a dimension taken from another part still has its features here."""
    phrase, follow = dimension.phrase, dimension.value.follow
    if phrase.feature and phrase.size not in senses.get(phrase.feature, Sense("", frozenset(), frozenset())).sizes:
        return False
    names = features_of(phrase)
    if (
        follow is not None
        and not follow.phrase.part
        and not any(p.part for p in (follow.phrase.start, follow.phrase.end) if p)
    ):
        names |= features_of(follow.phrase)
    return names <= senses.keys()


def read_dimension(key: Scalar, value: Scalar | None, reader: Reader, complaints: Complaints) -> DrawnDimension | None:
    """One `phrase: value`; None with its faults where either cannot be read."""
    try:
        phrase = reader.phrase(key)
    except Wrong as wrong:
        complaints.add_wrong(wrong, key, (key.text,))
        for each in wrong_in_any_case(value, reader) if value is not None else ():
            complaints.add_wrong(each, value or key, (key.text,))
        return None
    if value is None:
        return None
    try:
        return DrawnDimension(phrase, read_value(value, phrase.size, reader))
    except Wrong as wrong:
        complaints.add_wrong(wrong, value, (phrase.text,))
        return None


def finish(draft: Draft) -> Part:
    """The whole part."""
    sections = draft.sections
    outside = sections["outside"].features if "outside" in sections else []
    left, right = (sections[k].features if k in sections else [] for k in ("from left", "from right"))
    return Part(
        draft.name,
        draft.span,
        tuple(f for f in outside if isinstance(f, OutsideFeature)),
        tuple(d for _, d in draft.dimensions),
        draft.quantity,
        draft.material,
        draft.stock,
        draft.stock_span,
        draft.note,
        draft.general,
        tuple(f for f in left if isinstance(f, InsideFeature)),
        tuple(f for f in right if isinstance(f, InsideFeature)),
        tuple(c for k in _SECTIONS if k in sections for c in sections[k].cut_in),
        draft.across,
        draft.drawn_stock,
        draft.route,
    )
