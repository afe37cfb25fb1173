"""The items under `across`: what is not round about the axis."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from fractions import Fraction

from handwheel.job.circles import circles
from handwheel.job.entries import Options, as_sequence
from handwheel.job.features import FINISHES, Section, add_names, read_item, take_inline
from handwheel.job.numbers import Scale
from handwheel.job.phrases import Reader
from handwheel.job.records import AcrossFeature, AcrossKind
from handwheel.job.senses import ACROSS
from handwheel.job.tokens import Cursor, tokenise
from handwheel.job.wrong import Complaints, Wrong, did_you_mean
from handwheel.job.yamltext import Node, Scalar

_PLACED = ("on", "at", "leaning", "around", "square to", "face")
_BORED = ("through", "into", "thread", "finish", "bottom")
ACROSS_OPTIONS: dict[str, tuple[str, ...]] = {
    "hole": (*_PLACED, *_BORED),
    "holes": ("face", "count", "first at", "around", "on", *_BORED),
    "flat": (*_PLACED, "count"),
    "slot": (*_PLACED, "through", "into", "count"),
    "square": _PLACED,
    "hexagon": _PLACED,
}


@dataclass
class AcrossSection(Section):
    """The items of `across`; points and references are looked up when the part is whole."""

    across: list[AcrossFeature] = field(default_factory=list)
    at: dict[str, Scalar] = field(default_factory=dict)
    references: list[tuple[str, str, Scalar]] = field(default_factory=list)


def read_across(node: Node, complaints: Complaints, bare: Scale) -> AcrossSection:
    """All items across."""
    section = AcrossSection()
    for one in as_sequence(node, "across", complaints):
        item = read_item(one, "across", ACROSS, complaints, bare, section)
        if item is None:
            continue
        options, known = item.options, ACROSS_OPTIONS[item.kind]
        feature = AcrossFeature(AcrossKind(item.kind), item.name, item.span)
        feature = _placed(feature, options, known, section)
        feature = _bored(feature, options, known)
        take_inline(item, section)
        options.done([*known, *(s.value for s in ACROSS[item.kind].sizes)])
        _check_placed(feature, options, complaints)
        if add_names(section, item, ACROSS[item.kind]):
            section.across.append(feature)
    return section


def _placed(feature: AcrossFeature, options: Options, known: tuple[str, ...], section: AcrossSection) -> AcrossFeature:
    """Where it is and which way it faces."""
    words = {"on": "", "into": "", "square to": ""}
    for key in words:
        scalar = options.scalar(key) if key in known else None
        if scalar is not None:
            words[key] = scalar.text.strip()
            section.references.append((feature.name, key, scalar))
    at = options.scalar("at") if "at" in known else None
    if at is not None:
        section.at[feature.name] = at
    zero = Fraction(0)
    return replace(
        feature,
        on=words["on"],
        into=words["into"],
        square_to=words["square to"],
        leaning_deg=options.angle_deg("leaning", zero, True, 90) if "leaning" in known else zero,
        around_deg=options.angle_deg("around", zero, True) if "around" in known else zero,
        face=options.side("face") if "face" in known else None,
        count=options.whole("count", 1, 1, 360) if "count" in known else 1,
        first_at_deg=options.angle_deg("first at", zero, True) if "first at" in known else zero,
    )


def _bored(feature: AcrossFeature, options: Options, known: tuple[str, ...]) -> AcrossFeature:
    """What a hole has."""
    return replace(
        feature,
        is_through=options.flag("through") if "through" in known else False,
        thread=options.thread("thread", is_nut=True) if "thread" in known else None,
        finish=options.word("finish", FINISHES) if "finish" in known else "",
        is_flat_bottomed=(options.word("bottom", ("drilled", "flat")) == "flat") if "bottom" in known else False,
    )


def _check_placed(feature: AcrossFeature, options: Options, complaints: Complaints) -> None:
    """A ring of holes needs its face and count; anything else a feature, a face or another item to go by."""
    has = options.mapping.get
    if feature.kind is AcrossKind.HOLES:
        for key, example in (("face", "face: right"), ("count", "count: 6")):
            if has(key) is None:
                complaints.add(
                    "across-place",
                    feature.span,
                    f"the holes '{feature.name}' have no {key}",
                    f"add '{example}'",
                    (feature.name,),
                )
    elif not any(has(key) for key in ("on", "face", "square to")):
        complaints.add(
            "across-place",
            feature.span,
            f"the {feature.kind.value} '{feature.name}' does not say what it is on",
            "add 'on: FEATURE'",
            (feature.name,),
        )


def settle_across(
    section: AcrossSection, features: dict[str, set[str]], reader: Reader, complaints: Complaints
) -> tuple[AcrossFeature, ...]:
    """The items with their points read and their references looked up; `features` by group."""
    groups = {
        "on": features["outside"],
        "square to": features["across"],
        "into": features["inside"] | features["across"] | features["outside"],
    }
    for name, key, scalar in section.references:
        known = groups[key] - {name}
        if scalar.text.strip() not in known:
            group = {"on": "outside ", "square to": "across "}.get(key, "")
            complaints.add(
                "feature-unknown",
                scalar.span,
                f"there is no {group}feature '{scalar.text.strip()}' here",
                did_you_mean(scalar.text, known),
            )
    _check_square(section, complaints)
    settled = []
    for feature in section.across:
        scalar_at = section.at.get(feature.name)
        if scalar_at is not None:
            try:
                cursor = Cursor(scalar_at.text, tokenise(scalar_at.text))
                feature = replace(feature, at=reader.point(cursor, scalar_at))
            except Wrong as wrong:
                complaints.add_wrong(wrong, scalar_at, (feature.name,))
        settled.append(feature)
    return tuple(settled)


def _check_square(section: AcrossSection, complaints: Complaints) -> None:
    """Items square to one another in a circle have no direction."""
    follows = {name: scalar for name, key, scalar in section.references if key == "square to"}
    for circle in circles({name: [scalar.text.strip()] for name, scalar in follows.items()}):
        if len(circle) > 1:
            names = " square to ".join(f"'{name}'" for name in (*circle, circle[0]))
            complaints.add(
                "square-circle",
                follows[circle[0]].span,
                f"'square to' goes round in a circle: {names}",
                "give one of them 'around' and 'at'",
                circle,
                [follows[name].span for name in circle[1:]],
            )
