"""Sizes as made: what depends on them is worked out again, what is out of limits is said, and the ways on by number.

Copies with the same number go together; a part made once goes with every copy of its mates.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from handwheel.base.faults import Fault, Notice, in_file_order
from handwheel.drawing import asmaderecords as rec
from handwheel.drawing.asmadeswap import Swapped, nearest, swapped
from handwheel.drawing.asmadeways import ways_on
from handwheel.drawing.group import tied_groups
from handwheel.drawing.records import Answer, Drawing, State
from handwheel.drawing.redrawn import Key, asked, bracketed, drawn_of, given_of, loosened, phrase_of
from handwheel.drawing.size import size_job
from handwheel.job.records import AsMade, Follow, Job, Measure, Part, Size, Unit

STILL = 1e-6
ONE: rec.Ranges = ((1, 1),)
GOOD = (State.FULLY_DIMENSIONED, State.OVER_DIMENSIONED)
Copies = tuple[tuple[str, rec.Ranges], ...]
ROUND = (Size.DIAMETER, Size.RADIUS, Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER)


def with_as_made(drawing: Drawing) -> Drawing:
    """The drawing with what its job's sizes as made come to, for every set of copies that go together.

    Faults: a measured phrase that its part has no sense for. A job that is not fully dimensioned comes back as it is.
    """
    job = drawing.job
    if not job.as_made or drawing.state not in GOOD or drawing.faults:
        return drawing
    phrases = {(m.part, m.dimension.phrase.text): m.dimension.phrase for m in job.as_made}
    alone = replace(job, as_made=())
    known = {(p, t): a for (p, t), a in asked(alone, phrases).items()}
    senseless = [m for m in job.as_made if (m.part, m.dimension.phrase.text) not in known]
    faults = [_no_sense(m) for m in senseless]
    outcomes: list[rec.AsMadeOutcome] = []
    notices: list[Notice] = []
    for members, assemblies in tied_groups(job) if not faults else ():
        names = {p.name for p in members}
        tied = replace(alone, parts=tuple(members), assemblies=tuple(assemblies), notices=())
        for copies, measured in sets_of(members, [m for m in job.as_made if m.part in names]):
            outcomes.append(_outcome(tied, drawing, copies, measured, known))
            notices += _told(outcomes[-1], measured[0])
    return replace(
        drawing,
        as_made=tuple(outcomes),
        faults=in_file_order([*drawing.faults, *faults]),
        notices=(*drawing.notices, *notices),
    )


def sets_of(parts: Sequence[Part], made: Sequence[AsMade]) -> list[tuple[Copies, list[AsMade]]]:
    """The sets of copies of tied parts that have measured sizes: the copies of each part, and the sizes."""
    many = {p.name: p.quantity for p in parts}
    most = max(many.values())
    common = [m for m in made if many[m.part] == 1]
    found: list[tuple[Copies, list[AsMade]]] = []
    numbers = sorted({m.copy for m in made if many[m.part] > 1})
    for n in numbers:
        own = ((n, n),)
        copies: Copies = tuple((p, own if q > 1 else ONE) for p, q in many.items() if q == 1 or q >= n)
        found.append((copies, [*common, *(m for m in made if many[m.part] > 1 and m.copy == n)]))
    rest = _rest(numbers, most)
    if common and rest:
        copies = tuple((p, _cut(rest, q) if q > 1 else ONE) for p, q in many.items())
        found.append((tuple(c for c in copies if c[1]), common))
    return found


def _rest(numbers: Sequence[int], most: int) -> rec.Ranges:
    """The runs of 1 to `most` without these numbers."""
    edges = [0, *numbers, most + 1]
    return tuple((a + 1, b - 1) for a, b in zip(edges, edges[1:], strict=False) if b - a > 1)


def _cut(runs: rec.Ranges, most: int) -> rec.Ranges:
    return tuple((a, min(b, most)) for a, b in runs if a <= most)


def _outcome(
    job: Job,
    drawing: Drawing,
    copies: Copies,
    made: Sequence[AsMade],
    known: Mapping[Key, Answer],
) -> rec.AsMadeOutcome:
    swap = swapped(job, drawing, made)
    sized = size_job(swap.job)
    unused = tuple(_disagrees(m, by, job.units) for m, by in swap.disagree)
    if swap.worked_out and (sized.state not in GOOD or sized.faults):
        swap = nearest(swap, drawing, made) or swap
        sized = size_job(swap.job)
    if sized.state not in GOOD or sized.faults:
        why = sized.faults[0].what if sized.faults else f"it would be {sized.state}"
        bare = tuple(_measured(m, drawing, {}, known, job) for m in made)
        return rec.AsMadeOutcome(copies, bare, (), (), unused, why, job)
    before = _sizes(drawing, job)
    phrases = {k: p for k in before if (p := phrase_of(k, job)) is not None}
    phrases |= {(m.part, f.phrase.text): f.phrase for m in made if (f := _follow(m, job))}
    exact = frozenset((m.part, m.dimension.phrase.text) for m in made)
    now = asked(loosened(swap.job, drawing, exact), phrases)
    measured = tuple(_measured(m, drawing, now, known, job) for m in made)
    moved = tuple(
        found
        for key, old in before.items()
        if key in now and key not in exact and (found := _moved(key, old, now[key], swap, made, drawing)) is not None
    )
    out = _out_of_limits(measured, moved, (swap.job, job, exact), drawing, now)
    return rec.AsMadeOutcome(copies, measured, moved, out, unused, "", swap.job)


def _sizes(drawing: Drawing, job: Job) -> dict[Key, rec.Size]:
    """Every size of these parts as the drawing has it, those in brackets too."""
    found = [d for p in drawing.parts if p.name in {q.name for q in job.parts} for d in p.dimensions]
    sizes = {(d.part, d.phrase): rec.Size(d.part, d.phrase, d.measure, d.value, d.low, d.high) for d in found}
    together = [d for a in drawing.assemblies if a.name in {b.name for b in job.assemblies} for d in a.dimensions]
    sizes |= {("", d.phrase): rec.Size("", d.phrase, d.measure, d.value, d.low, d.high) for d in together}
    for (part, text), a in asked(job, bracketed(job)).items():
        sizes.setdefault((part, text), rec.Size(part, text, a.measure, a.value, a.low, a.high))
    return sizes


def _limits(key: Key, old: float, worst: tuple[float, float], now: Answer | None, drawing: Drawing, job: Job) -> rec.Size:
    """The limits a size has to keep: drawn, with what it follows as it is now; else what the drawing allows."""
    given = given_of(drawing).get(key)
    drawn = drawn_of(job).get(key)
    low, high = worst
    if given is not None and drawn is not None:
        low, high = (old + t for t in given.tolerance)
    measure = given.measure if given else now.measure if now else drawn.phrase.size.measure if drawn else None
    assert measure is not None
    return rec.Size(key[0], key[1], measure, old, low, high)


def _measured(
    made: AsMade, drawing: Drawing, now: Mapping[Key, Answer], known: Mapping[Key, Answer], job: Job
) -> rec.Measured:
    key = (made.part, made.dimension.phrase.text)
    before = known[key]
    follow, nominal = _follow(made, job), before.value
    followed = now.get((made.part, follow.phrase.text)) if follow is not None else None
    if follow is not None and followed is not None:
        nominal = followed.value * float(follow.factor) + float(drawn_of(job)[key].value.number.value)
    limits = _limits(key, nominal, (before.low, before.high), before, drawing, job)
    size = replace(limits, value=float(made.dimension.value.number.value))
    return rec.Measured(size, made.copy, nominal, key in given_of(drawing), _may_be_cut(size, made, job))


def _follow(made: AsMade, job: Job) -> Follow | None:
    drawn = drawn_of(job).get((made.part, made.dimension.phrase.text))
    return drawn.value.follow if drawn else None


def _may_be_cut(size: rec.Size, made: AsMade, job: Job) -> bool:
    """Whether a diameter out of limits still has the metal: outside too big, or a hole too small."""
    phrase = made.dimension.phrase
    part = next(p for p in job.parts if p.name == made.part)
    if phrase.size not in ROUND or not size.beyond:
        return False
    if any(f.name == phrase.feature for f in part.outside):
        return not size.is_under
    holes = {f.name for f in (*part.inside_left, *part.inside_right)} | {f.name for f in part.across}
    return size.is_under and phrase.feature in holes


def _moved(
    key: Key, old: rec.Size, now: Answer, swap: Swapped, made: Sequence[AsMade], drawing: Drawing
) -> rec.Moved | None:
    if abs(now.value - old.value) <= STILL:
        return None
    given = given_of(drawing).get(key)
    drawn = drawn_of(swap.job).get(key)
    low, high = old.low, old.high
    if given is not None:  # what still follows another keeps its tolerance about where that now is
        at = now.value if drawn is not None and drawn.value.follow is not None else old.value
        low, high = (at + t for t in given.tolerance)
    size = rec.Size(key[0], key[1], now.measure, now.value, low, high)
    gave_way = key in swap.gave_way
    behind = [m for m in made if _rests_on(now, m)] or [m for m in made if _follows(m, swap)]
    why = tuple(f"{m.dimension.phrase.text} of {m.part}" for m in behind)
    return rec.Moved(size, old.value, why, given is not None, gave_way)


def _follows(made: AsMade, swap: Swapped) -> bool:
    return (made.part, made.dimension.phrase.text) in swap.worked_out


def _rests_on(now: Answer, made: AsMade) -> bool:
    return abs(dict(now.shares).get((made.part, made.dimension.phrase.text), 0.0)) > STILL


def _out_of_limits(
    measured: Iterable[rec.Measured],
    moved: Sequence[rec.Moved],
    jobs: tuple[Job, Job, frozenset[Key]],
    drawing: Drawing,
    now: Mapping[Key, Answer],
) -> tuple[rec.Out, ...]:
    found = []
    for one in moved:
        if one.size.beyond:
            found.append(rec.Out(one.size, False, one.is_drawn, ways_on(jobs, drawing, one.size, one.old, now)))
    for each in measured:
        if not each.size.beyond:
            continue
        behind = f"{each.size.phrase} of {each.size.part}"
        ways: list[rec.WayOn] = []
        for one in moved:
            is_whole = one.size.part == "" or one.size.phrase == "overall length"
            if is_whole and behind in one.why and not one.size.beyond:
                back = replace(one.size, low=one.old, high=one.old)
                ways += ways_on(jobs, drawing, back, one.old, now)
        found.append(rec.Out(each.size, True, each.is_drawn, tuple(ways)))
    return tuple(found)


def _disagrees(made: AsMade, by: float, units: Unit) -> str:
    phrase = made.dimension.phrase
    off = f"{abs(by):.4g}°"
    if phrase.size.measure is Measure.LENGTH:
        off = f"{abs(by):.4f} mm" if units is Unit.MM else f"{abs(by) / 25.4:.5f} in"
    more = "more" if by > 0 else "less"
    return f"'{phrase.text}' of '{made.part}' {made.copy} is {off} {more} than the other sizes as made give"


def _no_sense(made: AsMade) -> Fault:
    phrase = made.dimension.phrase
    what = f"'{made.part}' has no '{phrase.text}' to measure"
    return Fault("no-such-size", phrase.span, what, "name a size that the part has", made.part, (phrase.text,))


def _told(outcome: rec.AsMadeOutcome, made: AsMade) -> list[Notice]:
    phrase, do = made.dimension.phrase, "measure again"
    told = [Notice("as-made-disagrees", phrase.span, text, do, made.part) for text in outcome.unused]
    if outcome.cannot:
        what = f"the sizes as made of '{made.part}' {made.copy} give no one shape: {outcome.cannot}"
        told.append(Notice("as-made-impossible", phrase.span, what, f"{do}, or one more size", made.part))
    return told
