"""Working limits for every size that is cut to: the drawing's tolerances shared over the working dimensions.

Method: (1) the drawing solved with every size at its mid-limit gives the sizes aimed at; (2) the same parts solved from
their working dimensions (plan/working.py) give S, how each drawing dimension moves with each working one; (3) the even
share t = c·min T/(|S|c), then widened where rows are not full, and where the mid-limits cannot all be aimed at together
what to aim at (drawing/transfer.py); (4) the parts solved again with
those limits: where a drawing dimension would still leave its own, everything is drawn in. What cannot be shared so
has no limits printed: it is fitted and measured.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.records import Drawing, SolvedDimension, State
from handwheel.drawing.size import size_job
from handwheel.drawing.transfer import Shares, drawn_in, share
from handwheel.job.records import DrawnDimension, Job, Measure, Phrase, Tolerance
from handwheel.plan.records import Makes, Move, PartPlan, Stage, Tight
from handwheel.plan.tight import tight_of
from handwheel.plan.working import FINE, Working, station_of, station_phrase, working_of
from handwheel.workshop.records import Workshop

Limit = tuple[float, float]
"""Size aimed at and half-tolerance."""
Key = tuple[str, str]
"""Part and phrase."""
BALL_COLLET = "a collet has to hold it"


@dataclass(frozen=True, slots=True)
class Row:
    """A drawing dimension that the working dimensions have to keep within its limits."""

    phrase: Phrase
    mid: float
    half: float


def with_limits(plans: tuple[PartPlan, ...], drawing: Drawing, shop: Workshop) -> tuple[PartPlan, ...]:
    """The plans with working limits put into every size they make, where the drawing's tolerances can be shared."""
    limits: dict[Key, Limit] = {}
    tight: dict[str, tuple[Tight, ...]] = {}
    barely = {n.part for n in drawing.notices if n.id == "limits-without-shape"}
    middle = drawing if barely else _at_mid_limits(drawing)
    by_part = {p.part: p for p in plans if p.stages}
    for names in _tied(drawing.job, by_part):
        if barely & set(names):
            continue  # where two surfaces barely touch nothing can be shared: these sizes are fitted and measured
        found, told = _shared(names, drawing, middle, by_part, shop)
        limits |= found
        tight |= told
    _for_collets(limits, plans, shop)
    return tuple(replace(_put_in(p, limits), tight=tight.get(p.part, ())) for p in plans)


def _at_mid_limits(drawing: Drawing) -> Drawing:
    given = {(d.part, d.phrase): d.tolerance for p in drawing.parts for d in p.dimensions if d.given}
    given |= {("", d.phrase): d.tolerance for a in drawing.assemblies for d in a.dimensions if d.given}
    job = drawing.job
    parts = tuple(
        replace(p, dimensions=tuple(_moved(d, given.get((p.name, d.phrase.text))) for d in p.dimensions))
        for p in job.parts
    )
    assemblies = tuple(
        replace(a, dimensions=tuple(_moved(d, given.get(("", d.phrase.text))) for d in a.dimensions))
        for a in job.assemblies
    )
    middle = size_job(replace(job, parts=parts, assemblies=assemblies))
    return middle if len(middle.parts) == len(drawing.parts) else drawing


def _moved(dimension: DrawnDimension, tolerance: tuple[float, float] | None) -> DrawnDimension:
    if tolerance is None or dimension.value.auxiliary:
        return dimension
    low, high = Fraction(tolerance[0]), Fraction(tolerance[1])
    value = dimension.value
    number = replace(value.number, value=value.number.value + (low + high) / 2)
    half = (high - low) / 2
    return replace(dimension, value=replace(value, number=number, tolerance=Tolerance(-half, half)))


def _tied(job: Job, plans: Mapping[str, PartPlan]) -> Iterable[tuple[str, ...]]:
    """Parts that assemblies tie together, in groups; each in one group."""
    group = {name: {name} for name in plans}
    for assembly in job.assemblies:
        names = {n for s in assembly.seats for n in (s.moving.part, s.fixed.part)} & set(plans)
        merged = set().union(*(group[n] for n in names)) if names else set()
        for name in merged:
            group[name] = merged
    return dict.fromkeys(tuple(n for n in plans if n in members) for members in group.values())


def _shared(
    names: tuple[str, ...], drawing: Drawing, middle: Drawing, plans: Mapping[str, PartPlan], shop: Workshop
) -> tuple[dict[Key, Limit], dict[str, tuple[Tight, ...]]]:
    solved = {p.name: p for p in middle.parts}
    working = {n: working_of(solved[n], plans[n]) for n in names}
    rows = _rows(names, drawing)
    result = _solve(names, drawing.job, working, {}, rows)
    if result is None or not rows:
        return {}, {}
    every = [(n, w) for n in names for w in working[n]]
    keys = [(n, w.phrase.text) for n, w in every]
    slopes = _slopes(keys, result)
    able = np.array([shop.habit(w.capability) for _, w in every])
    half = np.array([r.half for r in rows])
    off = np.array([a.value - r.mid for r, a in zip(rows, result.answers, strict=True)])
    found = share(slopes, half, able, off)
    moved = _aimed(names, drawing.job, working, dict(zip(keys, found.shift.tolist(), strict=True)))
    if moved is not None:
        limits = _held(names, drawing.job, moved, _widths(keys, slopes, found), rows)
        if limits:
            return limits, tight_of(names, every, [r.phrase for r in rows], slopes, found, drawing, shop)
    as_they_are = share(slopes, np.maximum(half - np.abs(off), 0.0), able)
    limits = _held(names, drawing.job, working, _widths(keys, slopes, as_they_are), rows)
    return limits, tight_of(names, every, [r.phrase for r in rows], slopes, as_they_are, drawing, shop)


def _slopes(keys: list[Key], result: Drawing) -> NDArray[np.float64]:
    """How every answer moves with every working dimension."""
    column = {key: i for i, key in enumerate(keys)}
    slopes = np.zeros((len(result.answers), len(keys)))
    for i, found in enumerate(result.answers):
        for key, moves in found.shares:
            if key in column:
                slopes[i, column[key]] = moves
    return slopes


def _widths(keys: list[Key], slopes: NDArray[np.float64], found: Shares) -> dict[Key, float]:
    return {
        k: float(t)
        for i, (k, t) in enumerate(zip(keys, found.half, strict=True))
        if np.isfinite(t) and t > 0 and _used(slopes, i)
    }


def _aimed(
    names: tuple[str, ...], job: Job, working: Mapping[str, tuple[Working, ...]], shift: Mapping[Key, float]
) -> dict[str, tuple[Working, ...]] | None:
    """The working dimensions at the sizes to aim at, without those that only repeat the others; None: none moves."""
    if all(abs(by) < 1e-9 for by in shift.values()):
        return None
    own = [(n, w) for n in names for w in working[n]]
    result = _solve(names, job, working, {}, [Row(replace(w.phrase, part=n), w.value, 0.0) for n, w in own])
    if result is None:
        return None
    says = [dict(a.shares).get((n, w.phrase.text), 0.0) for (n, w), a in zip(own, result.answers, strict=True)]
    kept = {(n, w.phrase.text) for (n, w), s in zip(own, says, strict=True) if abs(s) > 1e-9}
    return {
        n: tuple(
            replace(w, value=w.value + shift[(n, w.phrase.text)]) for w in working[n] if (n, w.phrase.text) in kept
        )
        for n in names
    }


def _held(
    names: tuple[str, ...],
    job: Job,
    working: Mapping[str, tuple[Working, ...]],
    widths: dict[Key, float],
    rows: list[Row],
) -> dict[Key, Limit]:
    """Sizes aimed at and half-tolerances that keep the drawing's limits at every corner."""

    def ends(factor: float) -> list[Limit] | None:
        found = _solve(names, job, working, {k: t * factor for k, t in widths.items()}, rows)
        return None if found is None else [(a.low, a.high) for a in found.answers]

    factor = drawn_in(ends, [(r.mid - r.half, r.mid + r.half) for r in rows]) if widths else 0.0
    if not factor:
        return {}
    return {
        (n, w.phrase.text): (w.value, factor * w.share * widths[(n, w.phrase.text)])
        for n in names
        for w in working[n]
        if (n, w.phrase.text) in widths
    }


def _used(slopes: NDArray[np.float64], column: int) -> bool:
    return bool((np.abs(slopes[:, column]) > 1e-9).any())


def _rows(names: tuple[str, ...], drawing: Drawing) -> list[Row]:
    rows: list[Row] = []
    for part in drawing.parts:
        if part.name in names:
            drawn = {d.phrase.text: d for p in drawing.job.parts if p.name == part.name for d in p.dimensions}
            rows += [
                _row(drawn[d.phrase].phrase, d, part.name)
                for d in part.dimensions
                if d.given and d.phrase in drawn and _limits(d, drawn[d.phrase])
            ]
    for drawn_assembly, assembly in zip(drawing.job.assemblies, drawing.assemblies, strict=False):
        involved = {s.moving.part for s in drawn_assembly.seats} | {s.fixed.part for s in drawn_assembly.seats}
        if involved <= set(names):
            texts = {d.phrase.text: d for d in drawn_assembly.dimensions}
            rows += [
                _row(texts[d.phrase].phrase, d, "")
                for d in assembly.dimensions
                if d.given and d.phrase in texts and _limits(d, texts[d.phrase])
            ]
    return rows


def _limits(solved: SolvedDimension, drawn: DrawnDimension) -> bool:
    return (
        drawn.value.follow is None
        and not drawn.value.auxiliary
        and solved.measure is not Measure.RATIO
        and solved.tolerance[1] > solved.tolerance[0]
    )


def _row(phrase: Phrase, solved: SolvedDimension, part: str) -> Row:
    low, high = solved.tolerance
    named = phrase if phrase.part or not part else replace(phrase, part=part)
    return Row(named, solved.value + (low + high) / 2, (high - low) / 2)


def _solve(
    names: tuple[str, ...],
    job: Job,
    working: Mapping[str, tuple[Working, ...]],
    widths: Mapping[Key, float],
    rows: list[Row],
) -> Drawing | None:
    """The parts solved from their working dimensions; None when those do not fix them."""
    parts = tuple(
        replace(
            p,
            dimensions=tuple(
                w.drawn(Fraction(widths.get((p.name, w.phrase.text), 0.0)) if widths else FINE) for w in working[p.name]
            ),
        )
        for p in job.parts
        if p.name in names
    )
    assemblies = tuple(
        replace(a, dimensions=())
        for a in job.assemblies
        if {n for s in a.seats for n in (s.moving.part, s.fixed.part)} <= set(names)
    )
    drawing = size_job(
        replace(job, parts=parts, assemblies=assemblies, as_made=()), [(r.phrase.text, r.phrase) for r in rows]
    )
    good = drawing.state in (State.FULLY_DIMENSIONED, State.OVER_DIMENSIONED)
    return drawing if good and len(drawing.answers) == len(rows) else None


def _for_collets(limits: dict[Key, Limit], plans: tuple[PartPlan, ...], shop: Workshop) -> None:
    """A ball that a collet has to hold is held within what the collet asks, whatever the drawing allows."""
    most = shop.habit("ball collet limit") / 2
    for plan in plans:
        for stage in plan.stages:
            holding = stage.operation.holding
            key = (plan.part, f"{holding.surface} diameter")
            if holding.kind != "ball collet":
                continue
            aimed, half = limits.get(key) or (2.0 * holding.grip_radius_mm, most)
            limits[key] = (aimed, min(half, most))


def _put_in(plan: PartPlan, limits: Mapping[Key, Limit]) -> PartPlan:
    held = {s.operation.holding.surface for s in plan.stages if s.operation.holding.kind == "ball collet"}
    return replace(plan, stages=tuple(_stage(s, plan.part, limits, held) for s in plan.stages))


def _stage(stage: Stage, part: str, limits: Mapping[Key, Limit], held: set[str]) -> Stage:
    operation = stage.operation
    toward = operation.holding.toward_tailstock
    moves = tuple(_move(m, _makes(m.makes, part, toward, limits, held)) if m.makes else m for m in operation.moves)
    sums = tuple(
        replace(s, limits_mm=_around(limits[(part, "overall length")]))
        if s.measured.startswith("overall length") and (part, "overall length") in limits
        else s
        for s in operation.sums
    )
    return replace(stage, operation=replace(operation, moves=moves, sums=sums))


def _move(move: Move, makes: Makes) -> Move:
    """The move with its size's limits; where the size aimed at is not the drawing's nominal, the move goes with it."""
    assert move.makes is not None
    shift = makes.value_mm - move.makes.value_mm
    if makes.is_diameter:
        shift = -shift / 2.0 if move.way == "in" else shift / 2.0
    return replace(move, makes=makes, exact_mm=move.exact_mm + shift)


def _makes(makes: Makes, part: str, toward: str, limits: Mapping[Key, Limit], held: set[str]) -> Makes:
    station = station_of(makes.phrase, toward)
    phrase = makes.phrase if station is None else station_phrase(*station).text
    found = limits.get((part, phrase))
    if found is None:
        return makes
    aimed, half = found
    shift = makes.value_mm if station is not None and makes.phrase.startswith("faced end") else aimed
    name = makes.phrase.rsplit(" ", 1)[0]
    whose = BALL_COLLET if name in held and makes.phrase.endswith(" diameter") else "the drawing"
    return replace(makes, value_mm=shift, working_low_mm=shift - half, working_high_mm=shift + half, limits_from=whose)


def _around(limit: Limit) -> tuple[float, float]:
    return limit[0] - limit[1], limit[0] + limit[1]
