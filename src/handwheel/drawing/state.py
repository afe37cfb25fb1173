"""What is wrong with a drawing, in its own words: repeats, quarrels, loose numbers, shapes that cannot be."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from handwheel.base.faults import Fault, Notice, Remark, Span
from handwheel.base.tolerance import EQUAL_MM
from handwheel.drawing.ad import Dual
from handwheel.drawing.group import Given, Group
from handwheel.drawing.junctions import Equation
from handwheel.drawing.leeway import make_leeway
from handwheel.drawing.limits import extents
from handwheel.drawing.records import State
from handwheel.drawing.settle import Repeat, Settled, active_equations, agrees, measured_off
from handwheel.drawing.solve import attempt
from handwheel.drawing.suggest import loose_features, suggestions
from handwheel.job.records import Measure

Array = NDArray[np.float64]
ORDER = list(State)


def worst(states: list[State]) -> State:
    """The worst of several states."""
    return min(states, key=ORDER.index, default=State.FULLY_DIMENSIONED)


def judge(settled: Settled) -> tuple[dict[str, State], list[Remark]]:
    """The state of every part of the group, and what to say."""
    group = settled.group
    states = dict.fromkeys(group.shapes, State.FULLY_DIMENSIONED)
    said: list[Remark] = list(group.faults) + list(group.notices)

    def mark(part: str, state: State) -> None:
        for name in [part] if part in states else list(states):
            states[name] = worst([states[name], state])

    for fault in group.faults:
        mark(fault.part, State.CONTRADICTORY)
    for repeat in settled.repeats:
        said.append(_repeat(group, repeat, known=settled.v is not None))
        mark(repeat.given.part, State.OVER_DIMENSIONED if repeat.agrees else State.CONTRADICTORY)
    if settled.stuck:
        fault = _stuck(group, settled.stuck, settled.repeats)
        said.append(fault)
        mark(fault.part, State.CONTRADICTORY)
    if settled.loose:
        _loose(settled, said, mark_part=mark)
    elif settled.broken:
        fault = _broken(settled)
        said.append(fault)
        mark(fault.part, State.CONTRADICTORY)
    for part, feature in settled.undecided:
        said.append(_undecided(group, part, feature))
        mark(part, State.AMBIGUOUS)
    if settled.others and settled.v is not None:
        said.append(_ambiguous(settled, mark))
    for given in group.auxiliary:
        if settled.v is not None and not settled.loose:
            notice = _auxiliary(group, given, settled.v)
            if notice is not None:
                said.append(notice)
    return states, said


def number(value: float, measure: Measure) -> str:
    """A size for a person."""
    unit = {Measure.LENGTH: " mm", Measure.ANGLE: " deg", Measure.RATIO: ""}[measure]
    return f"{value:.6g}{unit}"


def _names(givens: list[Given]) -> str:
    return ", ".join(f"'{g.text}'" for g in givens)


def _repeat(group: Group, repeat: Repeat, *, known: bool) -> Remark:
    given = repeat.given
    others = [g for g in repeat.others if g is not given]
    measure = given.dimension.phrase.size.measure
    phrases = tuple(dict.fromkeys([given.text, *(g.text for g in others)]))
    places = tuple(g.dimension.span for g in others)
    amount = number(abs(repeat.off), measure)
    if known and repeat.agrees:
        by = "exactly" if abs(repeat.off) <= EQUAL_MM else f"to {amount}"
        what = f"'{given.text}' is given already by {_names(others)}, and agrees {by}" if others else (
            f"'{given.text}' is given already by the shape, and agrees {by}")
        return Notice("repeated-dimension", given.dimension.span, what, "leave one of them out, or put it in brackets",
                      given.part, phrases, places)
    what = f"'{given.text}' quarrels with {_names(others) or 'the shape itself'}"
    if known:
        what += f": it is off by {amount}"
    return Fault("dimensions-quarrel", given.dimension.span, what, "correct one of them or leave it out",
                 given.part, phrases, places)


def _stuck(group: Group, equations: list[Equation], repeats: list[Repeat]) -> Fault:
    features = tuple(dict.fromkeys(f for e in equations for f in e.features if f))
    part = next((e.part for e in equations if e.part), next(iter(group.shapes)))
    concerned = _blamed(group, equations, repeats, part)
    if not concerned:
        concerned = [g for g in group.givens if _concerns(g, features, part)]
    concerned.sort(key=lambda g: g.index)
    phrases = tuple(g.text for g in concerned)
    span = concerned[0].dimension.span if concerned else _part_span(group, part)
    names = " and ".join(f"'{f}'" for f in features[:4])
    what = f"no shape fits: {names} cannot meet as they are dimensioned" if names else "no shape fits the dimensions"
    return Fault("no-such-shape", span, what, "look again at the sizes named", part, phrases)


def _concerns(given: Given, features: tuple[str, ...], part: str) -> bool:
    phrase = given.dimension.phrase
    named = {phrase.feature, *(p.feature for p in (phrase.start, phrase.end, phrase.at) if p is not None)}
    return given.part == part and bool(named & set(features))


def _part_span(group: Group, part: str) -> Span:
    return group.shapes[part].part.span


def _broken(settled: Settled) -> Fault:
    group, one = settled.group, settled.broken[0]
    concerned = _behind(settled, one.places)
    if not concerned:
        concerned = [g for g in group.givens if _concerns(g, one.features, one.part)]
    span = concerned[0].dimension.span if concerned else _part_span(group, one.part)
    phrases = tuple(g.text for g in concerned) or one.features
    do = "look again at the sizes named"
    return Fault("no-such-shape", span, f"no shape fits: {one.what}", do, one.part, phrases)


def _behind(settled: Settled, places: tuple[int, ...]) -> list[Given]:
    """The given sizes on which the distance between two places rests."""
    group, v = settled.group, settled.v
    if len(places) != 2 or v is None:
        return []
    way = make_leeway(settled)
    first, last = places
    extent = extents(way, [lambda v: v[last] - v[first]], is_quick=True)[0]
    indices = {e.param for e in extent.rests_on if e.source is not None}
    return [g for g in group.givens if g.index in indices]


def _blamed(group: Group, stuck: list[Equation], repeats: list[Repeat], part: str) -> list[Given]:
    """The given sizes of which each, left out, lets a shape be found."""
    gone = {r.given.index for r in repeats}
    features = tuple(f for e in stuck for f in e.features)
    asked = sorted(
        (g for g in group.givens if g.index not in gone), key=lambda g: not _concerns(g, features, part)
    )[:40]
    return [g for g in asked if attempt(group, active_equations(group, gone | {g.index})).shapes]


def _undecided(group: Group, part: str, feature: str) -> Fault:
    span = group.shapes[part].features[feature].source.span
    what = f"nothing tells which way '{feature}' narrows"
    return Fault("narrowing-unknown", span, what, "write 'narrow: left' or 'narrow: right' at it", part, (feature,))


def _ambiguous(settled: Settled, mark: object) -> Fault:
    group, one, two = settled.group, settled.v, settled.others[0]
    assert one is not None
    assert callable(mark)
    apart = [abs(a - b) for a, b in zip(one[: group.count], two, strict=False)]
    i = int(np.argmax(apart))
    part, kind, feature, index = group.unknowns.names[i]
    name = part or next(iter(group.shapes))
    shape = group.shapes[name]
    if kind == "station":
        link = shape.outside[index - 1]
        feature, words = link.source.name, f"left end to {link.source.name} right"
    else:
        words = f"{feature} {kind}"
    mark(name, State.AMBIGUOUS)
    what = f"two shapes fit: '{words}' is {one[i]:.6g} mm in one and {two[i]:.6g} mm in the other"
    do = f"give '{words}' instead of another size"
    return Fault("ambiguous-shape", _part_span(group, name), what, do, name, (feature,) if feature else ())


def _auxiliary(group: Group, given: Given, v: list[float]) -> Notice | None:
    off = measured_off(group, given, v)
    if agrees(given, off):
        return None
    amount = number(abs(off), given.dimension.phrase.size.measure)
    what = f"'{given.text}' in brackets is off by {amount}"
    return Notice("auxiliary-off", given.dimension.span, what, "correct it; it is not used", given.part, (given.text,))


def null_space(group: Group, equations: list[Equation], v: list[float]) -> Array:
    """(n, count) independent movements that no equation hinders, over the unknowns of v."""
    count = group.count
    duals = [0.0, *(Dual(v[i], {i: 1.0}) for i in range(1, count)), *v[count:]]
    rows = np.zeros((len(equations), count))
    for i, equation in enumerate(equations):
        found = equation.fn(duals)
        if type(found) is Dual:
            for j, d in found.g.items():
                rows[i, j] = d
    size = np.abs(rows).max(axis=1, keepdims=True, initial=0.0)
    rows = np.nan_to_num(rows / np.where(size > 0, size, 1.0))
    _, values, right = np.linalg.svd(rows[:, 1:], full_matrices=True)
    rank = int((values > 1e-8 * max(1.0, float(values.max(initial=0.0)))).sum())
    loose = np.zeros((count - 1 - rank, count))
    loose[:, 1:] = right[rank:]
    return loose


def _loose(settled: Settled, said: list[Remark], mark_part: object) -> None:
    assert callable(mark_part)
    group = settled.group
    v = settled.v or settled.near
    loose = null_space(group, settled.equations, v)
    if not len(loose):
        return
    for part, shape in group.shapes.items():
        moving = loose_features(group, shape, loose, v)
        if not moving:
            continue
        mark_part(part, State.UNDER_DIMENSIONED)
        offers = suggestions(group, shape, loose, v)
        names = ", ".join(f"'{m}'" for m in moving)
        what = f"too few dimensions ({len(loose)} short): still loose is {names}" if len(loose) > 1 else (
            f"one dimension is missing: still loose is {names}")
        do = "give " + " or ".join(f"'{o}'" for o in offers[:4]) if offers else "give one of its sizes"
        said.append(Fault("too-few-dimensions", _part_span(group, part), what, do, part, tuple(moving)))
    for placed in group.assemblies:
        for name, place in placed.offset.items():
            own = all(not loose_features(group, group.shapes[p], loose, v) for p in placed.offset)
            if place and own and np.abs(loose[:, place]).max() > 1e-6:
                mark_part(name, State.UNDER_DIMENSIONED)
                what = f"nothing says where '{name}' sits in '{placed.source.name}'"
                do = "give a seat or a dimension"
                said.append(Fault("too-few-dimensions", placed.source.span, what, do, name))
