"""From a group to its one shape: rulings tried, repeats left out, quarrels and loose numbers found."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from handwheel.base.tolerance import EQUAL_MM
from handwheel.drawing.group import Given, Group
from handwheel.drawing.guess import known_sizes
from handwheel.drawing.junctions import Equation
from handwheel.drawing.measures import signed_distance
from handwheel.drawing.narrowing import ends_differ, is_given, narrowed_wrong
from handwheel.drawing.rulings import (
    Broken,
    broken_rulings,
    deciding_links,
    first_narrowing,
    is_transparent,
    neighbour,
    parts_to_turn,
)
from handwheel.drawing.solve import Attempt, attempt
from handwheel.drawing.starts import STARTS
from handwheel.drawing.walls import walls
from handwheel.job.records import OutsideKind, Side, Size

TRIES = 24
FEW_TRIES = 3
SEEDS = 6
SQUARED = (Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER, Size.DIAMETER_AT)
"""Sizes whose equations an arc's other half may satisfy too."""
HELD = 1e-5
"""Of its size, or in mm: how far a given size may be off where it holds."""
LEAST_SHARE = 1e-3
"""A dimension whose weight in a loop is a smaller part of the greatest stands there by the typing alone."""
Choice = tuple[tuple[tuple[str, str, int], ...], tuple[int, ...], tuple[tuple[tuple[str, int], ...], ...]]
"""Narrowings, directions of distances, and which way round parts are in assemblies."""


@dataclass
class Repeat:
    """A dimension left out because others fix the size already: by how much it is off, and with which it is tied."""

    given: Given
    others: list[Given]
    off: float = 0.0
    agrees: bool = True
    features: tuple[str, ...] = ()


@dataclass
class Settled:
    """What the group came to. `v` is None when there is no shape. `equations`: those used."""

    group: Group
    v: list[float] | None = None
    equations: list[Equation] = field(default_factory=list)
    others: list[list[float]] = field(default_factory=list)
    repeats: list[Repeat] = field(default_factory=list)
    loose: int = 0
    broken: list[Broken] = field(default_factory=list)
    stuck: list[Equation] = field(default_factory=list)
    undecided: list[tuple[str, str]] = field(default_factory=list)
    near: list[float] = field(default_factory=list)


def active_equations(group: Group, left_out: set[int], *, multiplied: bool = False) -> list[Equation]:
    """The equations to solve: what the shape brings, then the dimensions, the most finely typed first."""
    for one in group.shapes.values():
        one.is_multiplied = multiplied
    made = group.equations()
    shape = [e for e in made if e.source is None]
    given = [e for e in made if e.source is not None and e.param not in left_out]
    return shape + sorted(given, key=lambda e: e.place)


def settle(group: Group, *, is_quick: bool = False) -> Settled:
    """The shape of the group's parts, or what stands in its way; `is_quick`: the first shape that fits, no others."""
    for shape in group.shapes.values():
        first_narrowing(shape)
    seen: set[Choice] = set()
    pending: list[Choice] = [_choice(group)]
    fallback: Settled | None = None
    chosen = pending[0]
    while pending and len(seen) < (FEW_TRIES if is_quick else TRIES):
        state = pending.pop(0)
        if state in seen:
            continue
        seen.add(state)
        _choose(group, state)
        result, wanted = _solve_choice(group, is_quick=is_quick, is_long=not is_quick and len(seen) == 1)
        does_fit = result.v is not None and not result.broken and not wanted
        if does_fit and all(r.agrees for r in result.repeats):
            if not (is_quick or result.loose):
                result.others += _narrowed_otherwise(group, result)
            return result
        if fallback is None or (fallback.v is None and result.v is not None) or (
            result.loose and not fallback.loose and fallback.v is None
        ):
            fallback, chosen = result, state
        pending = [*wanted, *pending]
        if not pending:
            quarrelling = {g.index for r in result.repeats if not r.agrees for g in [r.given, *r.others]}
            among = quarrelling if does_fit and not result.loose else None  # a narrowing may leave some loose too
            pending = [s for s in _flips(group, among) if s not in seen]
    assert fallback is not None
    _choose(group, chosen)  # its equations look the choice up, and tell on which side a corner is level
    active_equations(group, set())
    return fallback


def _narrowed_otherwise(group: Group, result: Settled) -> list[list[float]]:
    """Shapes that keep the rulings as well with a cone narrowing the other way, its neighbours' sizes being found."""
    assert result.v is not None
    chosen, found = _choice(group), []
    for shape in group.shapes.values():
        sizes = known_sizes(shape)
        for link in deciding_links(shape):
            beside = [neighbour(shape, link, side, past=not is_transparent(link)) for side in Side]
            settled = None in beside or all(b is not None and is_given(b, sizes) for b in beside)
            settled = settled or link.source.kind is not OutsideKind.CONE
            if settled or link.source.narrow is not None or ends_differ(shape.part.name, link.source.name, group):
                continue
            shape.narrow[link.source.name] *= -1
            other, wanted = _solve_choice(group, is_quick=False)
            if other.v is not None and not (other.broken or wanted or other.loose) and all(
                r.agrees for r in other.repeats
            ):
                found.append(other.v)
            _choose(group, chosen)
    active_equations(group, set())  # which side a corner is level on is told by its equations
    return found


def _choice(group: Group) -> Choice:
    narrow = tuple((p, f, s.narrow[f]) for p, s in group.shapes.items() for f in s.narrow)
    ways = tuple(g.way for g in group.givens)
    turned = tuple(tuple(a.direction.items()) for a in group.assemblies)
    return (narrow, ways, turned)


def _choose(group: Group, state: Choice) -> None:
    narrow, ways, turned = state
    for p, f, s in narrow:
        group.shapes[p].narrow[f] = s
    for given, way in zip(group.givens, ways, strict=True):
        given.way = way
    for placed, items in zip(group.assemblies, turned, strict=True):
        placed.direction.update(dict(items))


def _flips(group: Group, among: set[int] | None) -> list[Choice]:
    """The choices that differ from the present one in a single direction or narrowing that nothing settles.

    Narrowings first: a distance is turned round only where nothing else fits. `among`: only the directions of these,
    where it is sizes that quarrel.
    """
    found = []
    for shape in group.shapes.values() if among is None else ():
        for link in deciding_links(shape):
            name = link.source.name
            if link.source.narrow is None:
                shape.narrow[name] *= -1
                found.append(_choice(group))
                shape.narrow[name] *= -1
    for given in group.givens:
        if not given.is_way_sure and (among is None or given.index in among):
            given.way = -given.way
            found.append(_choice(group))
            given.way = -given.way
    return found


def _solve_choice(group: Group, *, is_quick: bool, is_long: bool = False) -> tuple[Settled, list[Choice]]:
    """Solve with the rulings now chosen; and other choices that the outcome asks for. `is_long`: search longer."""
    left_out: set[int] = set()
    repeats: list[Repeat] = []
    while True:
        equations = active_equations(group, left_out)
        found = _by_closed_forms(group, left_out, equations) or attempt(group, equations)
        if found.stuck:
            other = attempt(group, active_equations(group, left_out, multiplied=True))
            is_better = other.loose or any(not broken_rulings(group, v) for v in other.shapes)
            found = other if other.shapes and is_better else found
        for seed in (1, 2, 3) if is_long else ():
            # 'no shape' is said, and a direction turned round, only after a longer search
            if found.stuck:
                found = attempt(group, equations, seed=seed, starts=3 * STARTS)
        if found.loop is None:
            break
        repeat = _pick(group, found)
        if repeat is None:
            stuck = list(found.loop[0])
            return Settled(group, None, equations, repeats=repeats, stuck=stuck, near=found.best), []
        repeats.append(repeat)
        left_out.add(repeat.given.index)
    result = Settled(group, None, equations, repeats=repeats, loose=found.loose, near=found.best)
    if not found.shapes:
        result.stuck = found.stuck
        return result, []
    _select(group, found, result, active_equations(group, left_out, multiplied=True), is_quick=is_quick)
    if result.v is None:
        return result, []
    for repeat in repeats:
        _check(group, repeat, result.v)
    return result, [] if result.loose else _wanted(group, result)


def _by_closed_forms(group: Group, left_out: set[int], equations: Sequence[Equation]) -> Attempt | None:
    """Every shape in closed form where fractions multiplied out have one and a shape keeps the rulings; else None."""
    if all(e.plain is None for e in equations):
        return None
    made = active_equations(group, left_out, multiplied=True)
    found = attempt(group, made, starts=1, is_closed=True)
    active_equations(group, left_out)
    does_fit = found.is_every and not found.loose and any(not broken_rulings(group, v) for v in found.shapes)
    return found if does_fit else None


def _select(
    group: Group, found: Attempt, result: Settled, equations: list[Equation], *, is_quick: bool = False
) -> None:
    """Of the shapes found, and of those their mirror images lead to, the one by the rulings."""
    shapes = found.shapes
    kept = [g for g in group.givens if not any(r.given is g for r in result.repeats)]
    judged = [(v, _wrong_at(group, kept, v)) for v in shapes]
    good = _fitting(group, result.repeats, judged)
    is_open = not good[0] if result.loose else not (found.is_every or (is_quick and good[0]))
    if is_open and not (found.is_linear or found.is_every):
        again = attempt(group, equations, extra=_mirrored(group, shapes)[: 16 if is_quick else None])
        for seed in range(1, SEEDS):
            judged += [(v, _wrong_at(group, kept, v)) for v in again.shapes if not any(_same(v, w) for w, _ in judged)]
            good = _fitting(group, result.repeats, judged)
            if is_quick or (good[0] and not walls(group, good[0][0])):
                break
            far = _mirrored(group, [v for v, _ in judged[-6:]]) if seed % 2 else ()
            again = attempt(group, equations, extra=far, seed=seed)
    best = next((some for some in good if some), [])
    if best:
        result.v = best[0]
        if result.loose == 0:
            result.others = [w for w in best[1:] if not _same(w, best[0])]
        return
    judged.sort(key=lambda pair: len(pair[1]))
    result.v, result.broken = judged[0]


def _wrong_at(group: Group, kept: Sequence[Given], v: Sequence[float]) -> list[Broken]:
    """Rulings that the shape breaks, and sizes that it has only on an arc's other half or the other way round."""
    found = broken_rulings(group, v)
    for given in kept:
        phrase = given.dimension.phrase
        if phrase.size not in SQUARED or not abs(measured_off(group, given, v)) > HELD * max(1.0, abs(given.nominal)):
            continue
        size = given.nominal + measured_off(group, given, v)
        found.append(Broken(given.part, (phrase.feature,), f"'{given.text}' would be {{size}}", size))
    return found


def _fitting(
    group: Group, repeats: Sequence[Repeat], judged: Sequence[tuple[list[float], list[Broken]]]
) -> list[list[list[float]]]:
    """Shapes by how well they fit: by the rulings, then with domes taken; those that agree with the repeats first."""
    ruled = [v for v, b in judged if not b]
    ruled = [v for v in ruled if not narrowed_wrong(group, v)] or ruled
    if len(ruled) > 1:
        ruled = [v for v in ruled if not walls(group, v)] or ruled
    domed = [v for v, b in judged if b and all(one.is_dome for one in b)]
    as_written = [[v for v in some if _all_agree(group, repeats, v) and _lie_as_written(group, repeats, v)]
                  for some in (ruled, domed)]
    return [*as_written, *([v for v in some if _all_agree(group, repeats, v)] for some in (ruled, domed)), ruled, domed]


def _lie_as_written(group: Group, repeats: Sequence[Repeat], v: Sequence[float]) -> bool:
    """Whether every distance left out has its points the way round in which it is taken."""
    for given in (r.given for r in repeats):
        phrase = given.dimension.phrase
        if phrase.size is not Size.DISTANCE or group.across_parts(phrase, given.part) is not None:
            continue
        shape = group.shape(group.parts_of(phrase, given.part)[0])
        try:
            if float(signed_distance(shape, phrase, v)) * given.way < -EQUAL_MM:
                return False
        except ZeroDivisionError:
            return False
    return True


def _same(v: Sequence[float], w: Sequence[float]) -> bool:
    return all(abs(a - b) < 1e-5 for a, b in zip(v, w, strict=True))


def _mirrored(group: Group, shapes: list[list[float]]) -> list[list[float]]:
    """Shapes with the ends of every ball and arc thrown to the other side of its centre, to start from."""
    made = []
    for v in shapes[:6]:
        for shape in group.shapes.values():
            for link in shape.outside:
                if not link.is_curve:
                    continue
                for place in (link.zl, link.zr):
                    # the end thrown over, or the centre; thrice as far too, for what is tied takes its share back
                    beyond = v[place] - v[link.zc]
                    for moved, way in ((place, -1.0), (link.zc, 1.0)):
                        for times in (2.0, 4.0) if moved else ():
                            other = list(v)
                            other[moved] = v[moved] + way * times * beyond
                            made.append(other[: group.count])
            for place in {p for k in shape.outside for p in (k.big, k.rl, k.rr) if v[p] < 0.0}:
                for times in (2.0, 4.0):
                    other = list(v)
                    other[place] = v[place] * (1.0 - times)
                    made.append(other[: group.count])
    return made[:96]


def _wanted(group: Group, result: Settled) -> list[Choice]:
    """Other choices of narrowing that the rulings ask for at this shape."""
    assert result.v is not None
    asked = []
    for shape, link, ruled in narrowed_wrong(group, result.v):
        feature = link.source.name
        if ruled == 0:
            result.undecided.append((shape.part.name, feature))
            continue
        shape.narrow[feature] = ruled
        asked.append(_choice(group))
        shape.narrow[feature] = -ruled
    for i, part in parts_to_turn(group, result.v):
        placed = group.assemblies[i]
        placed.direction[part] *= -1
        asked.append(_choice(group))
        placed.direction[part] *= -1
    return asked


def _pick(group: Group, found: Attempt) -> Repeat | None:
    """Of a loop's dimensions, the one to leave out: the last written whose typing covers the misclosure."""
    assert found.loop is not None
    weights, misclosure = found.loop
    by_index = {g.index: g for g in group.givens}
    tied = [(by_index[e.param], abs(w)) for e, w in weights.items() if e.source is not None and abs(w) > 1e-12]
    if not tied:
        return None
    gap = abs(misclosure)

    def merit(pair: tuple[Given, float]) -> tuple[float, float, int]:
        given, weight = pair
        amount = max(gap / weight, EQUAL_MM)
        # of those whose typing covers it, the last written goes; else that which comes nearest to covering it
        cover = 2.0 if agrees(given, gap / weight) else min(given.place / amount, 1.9)
        return (cover, 1.0 if given.dimension.value.follow is None else 0.0, given.index)

    worst = max(tied, key=merit)[0]
    features = tuple(dict.fromkeys(f for e in weights for f in e.features if e.source is None))
    most = max(w for _, w in tied)
    others = [g for g, w in sorted(tied, key=lambda t: t[0].index) if w > LEAST_SHARE * most or g is worst]
    return Repeat(worst, others, features=features)


def measured_off(group: Group, given: Given, v: Sequence[float]) -> float:
    """How far what is drawn differs from what is written; infinite where it has no size. [the measure's unit]"""
    wanted = given.nominal
    follow = given.dimension.value.follow
    try:
        value = float(group.measured(given.dimension.phrase, given.part)(v))
        if follow is not None:
            wanted += float(follow.factor) * float(group.measured(follow.phrase, given.part)(v))
    except ZeroDivisionError:
        return math.inf
    return value - wanted


def agrees(given: Given, off: float) -> bool:
    """Whether it is no more off than half the last place typed, or exact."""
    return abs(off) <= max(given.place / 2.0 * (1 + 1e-9), EQUAL_MM)


def _all_agree(group: Group, repeats: Sequence[Repeat], v: Sequence[float]) -> bool:
    return all(agrees(r.given, measured_off(group, r.given, v)) for r in repeats)


def _check(group: Group, repeat: Repeat, v: Sequence[float]) -> None:
    repeat.off = measured_off(group, repeat.given, v)
    repeat.agrees = agrees(repeat.given, repeat.off)
