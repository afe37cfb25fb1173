"""The state of every part of a group, and everything that is wrong with its drawing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from handwheel.base.faults import Fault, Remark
from handwheel.drawing.ambiguous import ambiguity, narrowing, no_corner
from handwheel.drawing.blame import Impossible, broken_faults, stuck_fault
from handwheel.drawing.group import Given
from handwheel.drawing.loose import has_completion, loose_faults
from handwheel.drawing.quarrels import Quarrel, barred, quarrels, standing_in_the_way
from handwheel.drawing.records import State
from handwheel.drawing.remarks import auxiliary_notice, impossible_fault, quarrel_fault, repeat_notice
from handwheel.drawing.settle import Repeat, Settled
from handwheel.drawing.trial import impossible, tried, with_size
from handwheel.job.records import DrawnDimension, Job, OutsideKind

ORDER = list(State)
NUDGE = 1e-4
"""How far past its bound a size is put, so that what else is wrong can be looked into; of its size."""
PASSES = 8
"""How many surfaces that cannot meet are looked into."""


def worst(states: list[State]) -> State:
    """The worst of several states."""
    return min(states, key=ORDER.index, default=State.FULLY_DIMENSIONED)


class _Verdict:
    """The states and remarks, gathered."""

    def __init__(self, settled: Settled) -> None:
        self.states = dict.fromkeys(settled.group.shapes, State.FULLY_DIMENSIONED)
        self.said: list[Remark] = [*settled.group.faults, *settled.group.notices]
        for fault in settled.group.faults:
            self.mark([fault.part], State.CONTRADICTORY)

    def mark(self, parts: Iterable[str], state: State) -> None:
        """The state of those parts is at least as bad; '' is an assembly, which is all of them."""
        for part in parts:
            for name in [part] if part in self.states else list(self.states):
                self.states[name] = worst([self.states[name], state])

    def contradictory(self, fault: Fault, members: Iterable[Given]) -> None:
        """A fault of sizes that cannot all be, in the parts they stand in."""
        self.said.append(fault)
        self.mark([fault.part, *(g.part for g in members)], State.CONTRADICTORY)


def judge(settled: Settled) -> tuple[dict[str, State], list[Remark]]:
    """The state of every part of the group, and what to say."""
    group = settled.group
    verdict = _Verdict(settled)
    for repeat in settled.repeats if settled.v is not None else ():
        if repeat.agrees and not _is_doubtful(settled, repeat):
            verdict.said.append(repeat_notice(group, repeat))
            verdict.mark([repeat.given.part], State.OVER_DIMENSIONED)
    rest = _contradictions(settled, verdict) if _is_contradictory(settled) else settled
    if rest.loose:
        for fault in loose_faults(settled if settled.v is not None else rest):
            verdict.said.append(fault)
            verdict.mark([fault.part], State.UNDER_DIMENSIONED)
    for part, feature in rest.undecided:
        if next(f for f in group.shapes[part].part.outside if f.name == feature).kind is not OutsideKind.CONE:
            verdict.contradictory(*no_corner(rest, part, feature))
            continue
        verdict.said.append(narrowing(rest, part, feature))
        verdict.mark([part], State.AMBIGUOUS)
    if settled.others and rest is settled:
        fault, part = ambiguity(settled)
        verdict.said.append(fault)
        verdict.mark([part], State.AMBIGUOUS)
    for given in group.auxiliary if settled.v is not None and not settled.loose else ():
        notice = auxiliary_notice(group, given, settled.v or [])
        if notice is not None:
            verdict.said.append(notice)
    return verdict.states, [_in_its_part(group.job, remark) for remark in verdict.said]


def _in_its_part(job: Job, remark: Remark) -> Remark:
    """The remark with its part, where the same line is drawn in several that are like one another."""
    sharing = [p for p in job.parts if any(d.span == remark.span for d in p.dimensions)]
    return replace(remark, what=f"in '{remark.part}', {remark.what}") if len(sharing) > 1 and remark.part else remark


def _is_doubtful(settled: Settled, repeat: Repeat) -> bool:
    """Whether the sizes that it repeats are in a quarrel themselves."""
    quarrelling = {g.index for r in settled.repeats if not r.agrees for g in [r.given, *r.others]}
    return bool(quarrelling & {g.index for g in [repeat.given, *repeat.others]})


def _is_contradictory(settled: Settled) -> bool:
    if settled.v is None:
        return True
    if all(r.agrees for r in settled.repeats) and not impossible(settled):
        return False
    return not (settled.loose and has_completion(settled))


def _barred_fault(rest: Settled, both: Quarrel, alone: Settled, found: Impossible | None) -> Fault:
    """The fault where no shape is left, and sizes given twice would leave only one number for each of its causes."""
    needed = {id(g.dimension): both.needed.get(g.index) for g in both.members}
    if found is None or {id(b.given.dimension) for b in found.members} != set(needed):
        return quarrel_fault(rest, both)
    for blamed in found.members:
        exact = needed[id(blamed.given.dimension)]
        blamed.exact = exact if exact is not None and (exact - blamed.bound) * blamed.way >= 0.0 else None
    return impossible_fault(alone, found)


def _contradictions(settled: Settled, verdict: _Verdict) -> Settled:
    """Say everything that cannot be, one sort after the other, each on the drawing with what was found before mended.

    Returns what is left of it then.
    """
    rest = settled
    for _ in range(PASSES):
        if rest.v is not None:
            break
        both = barred(rest)
        alone = tried(rest.group, dict.fromkeys((r.given.index for r in rest.repeats), None)) if rest.repeats else rest
        if alone.v is not None and both is None:
            break
        found = stuck_fault(alone) if alone.v is None else None
        if both is not None:
            verdict.contradictory(_barred_fault(rest, both, alone, found), both.members)
            return tried(rest.group, {both.head.index: None})
        assert found is not None
        if not found.members:
            cause = standing_in_the_way(alone)
            if cause is None:
                verdict.contradictory(impossible_fault(alone, found), [])
                return alone
            verdict.contradictory(quarrel_fault(alone, cause), cause.members)
            return tried(alone.group, {cause.head.index: None})
        verdict.contradictory(impossible_fault(alone, found), [b.given for b in found.members])
        first = found.members[0]
        at = next(g for g in rest.group.givens if (g.part, g.dimension) == (first.given.part, first.given.dimension))
        rest = tried(rest.group, {at.index: with_size(at, first.bound)})
    quarrelling = quarrels(rest)
    for quarrel in quarrelling:
        verdict.contradictory(quarrel_fault(rest, quarrel), quarrel.members or [quarrel.head])
    dropped: dict[int, DrawnDimension | None] = {q.head.index: None for q in quarrelling}
    doubtful = {id(g.dimension) for q in quarrelling for g in [q.head, *q.members, *q.others]}
    last = tried(rest.group, dropped) if dropped else rest
    for _ in range(PASSES):
        wrong = [w for w in broken_faults(last) if w.members or not last.loose]
        # what rests on sizes that quarrel is not told as well
        wrong = [w for w in wrong if not any(id(b.given.dimension) in doubtful for b in w.members)]
        for one in wrong:
            verdict.contradictory(impossible_fault(last, one), [b.given for b in one.members])
        heads = [one.members[0] for one in wrong if one.members]
        mended = {b.given.index: with_size(b.given, b.bound * (1.0 + NUDGE * b.way)) for b in heads}
        if not mended:
            break
        last = tried(last.group, mended)
    return last
