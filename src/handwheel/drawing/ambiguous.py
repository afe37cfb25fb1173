"""Two shapes with the same dimensions: both described in the sizes that differ, and what would decide between them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from handwheel.base.faults import Fault
from handwheel.drawing.ad import Scalar
from handwheel.drawing.group import Given, Group
from handwheel.drawing.movements import sensitivities
from handwheel.drawing.settle import Settled
from handwheel.drawing.shape import NoSense, Outside, Shape, Vector
from handwheel.drawing.spoken import amount_text, named
from handwheel.drawing.suggest import offered_sizes, simple
from handwheel.drawing.trial import dimension_of, tried
from handwheel.job.records import Measure, OutsideFeature, OutsideKind, Phrase, Side, Size

DIFFERS = 1e-5
TOLD = 3
TRIED = 8


def ambiguity(settled: Settled) -> tuple[Fault, str]:
    """The fault for a group of which more than one shape fits, and the part that it is in."""
    group, one, two = settled.group, settled.v, settled.others[0]
    assert one is not None
    shape, apart = max(((s, _differing(group, s, one, two)) for s in group.shapes.values()), key=lambda f: len(f[1]))
    part, span = shape.part.name, shape.part.span
    told = "; ".join(f"'{p.text}' is {_text(group, p, a)} in one and {_text(group, p, b)} in the other"
                     for p, a, b in apart[:TOLD])
    many = "two shapes fit" if len(settled.others) == 1 else f"{len(settled.others) + 1} shapes fit"
    features = tuple(dict.fromkeys(p.feature for p, _, _ in apart if p.feature))
    deciding = [f"'{p.text}'" for p, a, b in apart[:TRIED] if _decides(settled, part, p, a, b)][:TOLD]
    words = list(_words(settled, shape, features))
    offers = ([f"give {' or '.join(deciding)} as well"] if deciding else []) + words
    do = ", or ".join(offers) or "give another size of it"
    return Fault("ambiguous-shape", span, f"{many}: {told}", do, part, features), part


def _differing(
    group: Group, shape: Shape, one: Sequence[float], two: Sequence[float]
) -> list[tuple[Phrase, float, float]]:
    """The usual sizes that the two shapes have differently, those of single features first."""
    found = []
    for phrase in offered_sizes(shape):
        try:
            measured = group.measured(phrase, shape.part.name)
            a, b = float(measured(one)), float(measured(two))
        except (NoSense, ZeroDivisionError):
            continue
        if abs(a - b) > DIFFERS:
            found.append((phrase, a, b))
    return sorted(found, key=lambda f: (f[0].size is Size.DISTANCE, f[0].size is Size.OVERALL_LENGTH))


def _text(group: Group, phrase: Phrase, size: float) -> str:
    return amount_text(size, phrase.size.measure, group.job.units)


def _decides(settled: Settled, part: str, phrase: Phrase, a: float, b: float) -> bool:
    """Whether the size, given as either shape has it, leaves one shape."""
    for size in (a, b):
        found = tried(settled.group, {}, {part: [dimension_of(phrase, size)]}, is_quick=False)
        if found.v is None or found.broken or found.others or not all(r.agrees for r in found.repeats):
            return False
    return True


def _words(settled: Settled, shape: Shape, names: Sequence[str]) -> Iterator[str]:
    """The words that, written at a feature, leave one shape."""
    for name in names:
        link = shape.features[name]
        if not isinstance(link, Outside):
            continue
        for word, source in _variants(shape, link):
            found = tried(settled.group, {}, features={(shape.part.name, name): source}, is_quick=False)
            if found.v is not None and not (found.broken or found.others or found.loose):
                yield f"write '{word}' at '{name}'"


def _variants(shape: Shape, link: Outside) -> Iterator[tuple[str, OutsideFeature]]:
    source = link.source
    if source.kind is OutsideKind.CONE and source.narrow is None:
        for side in Side:
            yield f"narrow: {side}", replace(source, narrow=side)
    is_end = link.index in (0, len(shape.outside) - 1)
    if source.kind is OutsideKind.BALL and is_end and not source.is_dome:
        yield "dome: yes", replace(source, is_dome=True)


def no_corner(settled: Settled, part: str, name: str) -> tuple[Fault, list[Given]]:
    """The fault for a chamfer, fillet or edge between surfaces of one size, and the sizes that make them so."""
    group, v = settled.group, settled.v
    shape = group.shapes[part]
    link = next(k for k in shape.outside if k.source.name == name)
    left, right = shape.outside[link.index - 1], shape.outside[link.index + 1]
    assert v is not None

    def step(v: Vector) -> Scalar:
        return left.end(v, Side.RIGHT) - right.end(v, Side.LEFT)

    gone = {r.given.index for r in settled.repeats}
    kept = [g for g in group.givens if g.index not in gone]
    rates = sensitivities(group, settled.equations, v, step, [g.index for g in kept])
    members = [g for g, r in zip(kept, rates, strict=True) if abs(r) > 1e-9]
    size = amount_text(2.0 * float(left.end(v, Side.RIGHT)), Measure.LENGTH, group.job.units)
    what = f"there is no corner for '{name}': '{left.source.name}' and '{right.source.name}' are both {size} across"
    do = f"delete '{name}', or correct {' or '.join(repr(named(g, part)) for g in members)}" if members else f"delete '{name}'"
    phrases = tuple(dict.fromkeys(named(g, part) for g in members)) or (name,)
    return Fault("no-such-shape", link.source.span, what, do, part, phrases), members


def narrowing(settled: Settled, part: str, name: str) -> Fault:
    """The fault for a cone of which nothing tells which way it narrows, with its size either way."""
    group = settled.group
    shape = group.shapes[part]
    source = next(f for f in shape.part.outside if f.name == name)
    told = []
    for side in Side:
        found = tried(group, {}, features={(part, name): replace(source, narrow=side)})
        if found.v is None or found.loose:
            continue
        ends = [(s, float(found.group.measured(simple(name, s, source.span), part)(found.v))) for s in
                (Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER)]
        sizes = " and ".join(f"'{name} {s}' {amount_text(d, s.measure, group.job.units)}" for s, d in ends)
        told.append(f"to the {side}, {sizes}")
    what = f"nothing tells which way '{name}' narrows" + (f": {'; '.join(told)}" if told else "")
    do = "write 'narrow: left' or 'narrow: right' at it, or give one more diameter"
    return Fault("narrowing-unknown", source.span, what, do, part, (name,))
