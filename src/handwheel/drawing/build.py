"""A part's features as unknowns: which numbers each kind brings, and what a cut or flat covers."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.drawing.shape import CONES, Across, Cut, Feature, Inside, Outside, Shape, Unknowns
from handwheel.job.records import (
    AcrossFeature,
    AcrossKind,
    CutIn,
    CutInKind,
    InsideKind,
    OutsideFeature,
    OutsideKind,
    Part,
    Phrase,
    Side,
    Size,
    Where,
)


def build_shape(part: Part, unknowns: Unknowns, phrases: Sequence[Phrase]) -> Shape:
    """The part's unknowns. `phrases` are its dimensions: what they name decides what a cut or flat covers."""
    name = part.name
    stations = [0]
    for k in range(len(part.outside)):
        stations.append(unknowns.add(name, "station", "", k + 1))
    features: dict[str, Feature] = {}
    outside = []
    for i, source in enumerate(part.outside):
        link = _build_outside(source, i, stations, unknowns, name)
        outside.append(link)
        features[source.name] = link
    inside: list[Inside] = []
    for items, end, way in ((part.inside_left, 0, 1), (part.inside_right, stations[-1], -1)):
        mouth = end
        for hole in items:
            bottom = unknowns.add(name, "bottom", hole.name)
            tapers = hole.is_cone or hole.kind is InsideKind.COUNTERSINK
            rb = unknowns.add(name, "bottom radius" if tapers else "radius", hole.name)
            rm = unknowns.add(name, "mouth radius", hole.name) if tapers else rb
            found = Inside(hole, mouth, bottom, rm, rb, end, way)
            inside.append(found)
            features[hole.name] = found
            mouth = bottom
    shape = Shape(part, stations, outside, inside, features, {})
    for left, right in zip(outside, outside[1:], strict=False):
        if left.is_curve and right.is_curve and (left.rc or right.rc):
            closed = Side.RIGHT in left.source.flat | left.source.tangent
            closed = closed or Side.LEFT in right.source.flat | right.source.tangent
            if not closed and not any(_is_corner(x.source) for x in (left, right)):
                shape.meeting[left.index] = unknowns.add(name, "meeting radius", left.source.name)
    for cut in part.cut_in:
        features[cut.name] = _build_cut(cut, shape, unknowns, phrases)
    for across in part.across:
        features[across.name] = _build_across(across, shape, unknowns, phrases)
    return shape


def _build_outside(source: OutsideFeature, i: int, stations: list[int], unknowns: Unknowns, part: str) -> Outside:
    link = Outside(source, i, stations[i], stations[i + 1])
    if source.kind is OutsideKind.BALL:
        ends = {Side.LEFT: i == 0, Side.RIGHT: i == len(stations) - 2}
        link.poles = frozenset(s for s, free in ends.items() if free and s not in source.flat)
    if source.kind is OutsideKind.CYLINDER:
        link.rl = link.rr = unknowns.add(part, "radius", source.name)
    elif source.kind in CONES:
        link.rl = unknowns.add(part, "left radius", source.name)
        link.rr = unknowns.add(part, "right radius", source.name)
    else:
        link.bulge = 1 if source.kind in (OutsideKind.BALL, OutsideKind.ROUND) else -1
        link.zc = unknowns.add(part, "centre", source.name)
        if source.kind is not OutsideKind.BALL:
            link.rc = unknowns.add(part, "centre radius", source.name)
        link.big = unknowns.add(part, "arc radius", source.name)
    return link


def _is_corner(link: OutsideFeature) -> bool:
    return link.kind is OutsideKind.FILLET or (link.kind is OutsideKind.ROUND and link.is_edge)


def has_extent(name: str, phrases: Sequence[Phrase]) -> bool:
    """Whether any dimension speaks of the feature's left, right, length or width."""
    for phrase in phrases:
        if phrase.feature == name and phrase.size in (Size.LENGTH, Size.WIDTH):
            return True
        for point in (phrase.start, phrase.end):
            if point is not None and point.feature == name and point.where in (Where.LEFT, Where.RIGHT):
                return True
    return False


def _build_cut(cut: CutIn, shape: Shape, unknowns: Unknowns, phrases: Sequence[Phrase]) -> Cut:
    host = shape.find(cut.host)
    part = shape.part.name
    if cut.kind is not CutInKind.GROOVE and not has_extent(cut.name, phrases):
        if isinstance(host, Outside):
            return Cut(cut, host.zl, host.zr, 0)
        if isinstance(host, Inside):
            low, high = (host.mouth, host.bottom) if host.way > 0 else (host.bottom, host.mouth)
            return Cut(cut, low, high, 0)
    zl = unknowns.add(part, "cut left", cut.name)
    zr = unknowns.add(part, "cut right", cut.name)
    floor = unknowns.add(part, "floor radius", cut.name) if cut.kind is CutInKind.GROOVE else 0
    return Cut(cut, zl, zr, floor)


def _build_across(across: AcrossFeature, shape: Shape, unknowns: Unknowns, phrases: Sequence[Phrase]) -> Across:
    part, name = shape.part.name, across.name

    def new(word: str) -> int:
        return unknowns.add(part, word, name)

    kind = across.kind
    sizes: dict[str, int] = {}
    on_face = across.face is not None
    zc = None if on_face else new("centre")
    found = Across(across, zc, sizes)
    if kind in (AcrossKind.HOLE, AcrossKind.HOLES):
        sizes["radius"] = new("radius")
        if not across.is_through and not across.into:
            sizes["depth"] = new("depth")
        if kind is AcrossKind.HOLES:
            sizes["pitch circle radius"] = new("pitch circle radius")
        return found
    if kind is not AcrossKind.SLOT or not (across.is_through or across.into):  # a slot right through has no floor
        sizes["from axis"] = new("from axis")
    if kind is AcrossKind.SLOT:
        sizes["width"] = new("width")
    host = shape.features.get(across.on)
    given = _extent_words(name, phrases)
    if given or kind is AcrossKind.SLOT:  # without ends of its own a flat covers what it is on, a slot does not
        found.zl, found.zr = new("cut left"), new("cut right")
    elif isinstance(host, Outside) and not on_face:
        found.zl, found.zr = host.zl, host.zr
    return found


def _extent_words(name: str, phrases: Sequence[Phrase]) -> bool:
    lengthwise = [p for p in phrases if not (p.feature == name and p.size is Size.WIDTH)]
    return has_extent(name, lengthwise)
