"""What is wrong with a drawing said in its own words: quarrels, repeats, shapes that cannot be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from handwheel.base.faults import Fault, Notice, Span
from handwheel.base.tolerance import EQUAL_MM
from handwheel.drawing.blame import Blamed, Impossible, concerns
from handwheel.drawing.group import Given, Group
from handwheel.drawing.quarrels import Quarrel
from handwheel.drawing.settle import Repeat, Settled, agrees, measured_off
from handwheel.drawing.slips import Slip, common_fraction, fitting_slips
from handwheel.drawing.spoken import amount_text, listed, named, size_text
from handwheel.drawing.trial import baseline
from handwheel.job.records import Measure

CURES = 6


def part_span(group: Group, part: str) -> Span:
    """Where the part begins; the first part's for none."""
    return (group.shapes.get(part) or next(iter(group.shapes.values()))).part.span


def repeat_notice(group: Group, repeat: Repeat) -> Notice:
    """A size that others fix already, and agrees."""
    given, part = repeat.given, repeat.given.part
    others = [g for g in repeat.others if g is not given]
    phrases = tuple(dict.fromkeys(named(g, part) for g in [given, *others]))
    amount = amount_text(abs(repeat.off), given.dimension.phrase.size.measure, group.job.units)
    by = "exactly" if abs(repeat.off) <= EQUAL_MM else f"to {amount}"
    what = f"'{given.text}' is given already by {listed(phrases[1:]) or 'the shape'}, and agrees {by}"
    do = "leave one of them out, or put it in brackets"
    places = tuple(g.dimension.span for g in others)
    return Notice("repeated-dimension", given.dimension.span, what, do, part, phrases, places)


def quarrel_fault(settled: Settled, quarrel: Quarrel) -> Fault:
    """Dimensions that contradict each other, and what each would need to be."""
    group, head, part = settled.group, quarrel.head, quarrel.head.part
    members = quarrel.members or [head]
    others = [g for g in members if g is not head]
    phrases = tuple(dict.fromkeys(named(g, part) for g in [head, *others]))
    amount = amount_text(abs(quarrel.off), head.dimension.phrase.size.measure, group.job.units)
    against = listed(phrases[1:]) or _against(quarrel, part)
    what = f"'{head.text}' quarrels with {against}: it is off by {amount}"
    base = baseline(settled)
    slips = fitting_slips(group, members, base, quarrel.apart, part=part, needed=quarrel.needed, beyond={})
    slack = 2.0 * sum(g.place for g in members) + 2.0 * EQUAL_MM
    is_length = all(g.dimension.phrase.size.measure is Measure.LENGTH for g in members)
    step = common_fraction(group, quarrel.off, slack) if is_length and not slips else ""
    cures = [c for g in [head, *others] if (c := _cure(group, g, quarrel.needed.get(g.index), part))]
    do = "correct one of them or leave it out"
    if not others:
        do = "correct it or leave it out"
    if cures:
        do += f": it would agree if {' or '.join(cures[:CURES])}"
    do = f"{_slips(slips)}; otherwise {do}" if slips else do
    do += f"; the amount is just {step}, as where one figure is misread" if step and cures else ""
    places = tuple(g.dimension.span for g in others)
    return Fault("dimensions-quarrel", head.dimension.span, what, do, part, phrases, places)


def _against(quarrel: Quarrel, part: str) -> str:
    """What a dimension that alone is wrong quarrels with."""
    others = list(dict.fromkeys(named(g, part) for g in quarrel.others if g is not quarrel.head))
    if others:
        return f"{listed(others)} together" if len(others) > 1 else listed(others)
    return f"the shape of {listed(quarrel.features)}" if quarrel.features else "the shape itself"


def _cure(group: Group, given: Given, needed: float | None, part: str) -> str:
    if needed is None or needed <= 1e-3 * given.nominal:
        return ""
    value, measure = given.dimension.value, given.dimension.phrase.size.measure
    if value.follow is not None:
        amount = amount_text(abs(needed - given.nominal), measure, group.job.units)
        return f"'{named(given, part)}' were {amount} {'more' if needed > given.nominal else 'less'}"
    return f"'{named(given, part)}' were {size_text(needed, value, measure, group.job.units)}"


def _slips(slips: Sequence[Slip], start: str = "all would agree") -> str:
    return f"{start} if " + " or ".join(s.words for s in slips)


def impossible_fault(settled: Settled, found: Impossible) -> Fault:
    """A shape that cannot be, the dimensions that make it so, and what would do."""
    group, part = settled.group, found.part
    units = group.job.units
    if found.what:
        first = found.what[0]
        what = first.what.replace("{size}", amount_text(first.size_mm, Measure.LENGTH, units))
    else:
        names = listed(found.features[:4])
        what = f"{names} cannot meet as they are dimensioned" if len(found.features) > 1 else (
            f"{names or 'nothing'} cannot be as it is dimensioned")
    if not found.members:
        concerned = [g for g in group.givens if concerns(g, found.features, part)]
        span = concerned[0].dimension.span if concerned else part_span(group, part)
        what += f" ({', '.join(found.said)})" if found.said else ""
        do = "look again at its sizes, or give others instead of them"
        return Fault("no-such-shape", span, f"no shape is found: {what}", do, part, found.features)
    members = found.members
    head = members[0].given
    phrases = tuple(dict.fromkeys(named(b.given, part) for b in members))
    base = replace(baseline(settled, frozenset(b.key for b in found.what)), stuck=found.stuck)
    beyond = {b.given.index: (b.bound, b.way) for b in members}
    slips = fitting_slips(group, [b.given for b in members], base, {}, part=part, needed={}, beyond=beyond)
    do = f"it would fit with {' or with '.join(_bound(group, b, part) for b in members[:CURES])}"
    do = f"{_slips(slips, 'it would agree')}; otherwise {do}" if slips else do
    places = tuple(b.given.dimension.span for b in members[1:])
    what = f"no shape fits: {what}; {' or '.join(_miss(group, b, part) for b in members)}"
    return Fault("no-such-shape", head.dimension.span, what, do, part, phrases, places)


def _rounded(size: float) -> float:
    """As near as the bound is found."""
    return float(f"{size:.4g}")


def _miss(group: Group, one: Blamed, part: str) -> str:
    given, word = one.given, "too small" if one.way > 0 else "too large"
    off = _rounded(abs(one.bound - given.nominal))
    return f"'{named(given, part)}' is {amount_text(off, given.dimension.phrase.size.measure, group.job.units)} {word}"


def _bound(group: Group, one: Blamed, part: str) -> str:
    given, units = one.given, group.job.units
    measure = given.dimension.phrase.size.measure
    if one.exact is not None:
        return f"'{named(given, part)}' {amount_text(_rounded(one.exact), measure, units)}"
    if given.dimension.value.follow is not None:
        off = amount_text(_rounded(abs(one.bound - given.nominal)), measure, units)
        return f"'{named(given, part)}' at least {off} {'more' if one.way > 0 else 'less'}"
    word = "more than" if one.way > 0 else "less than"
    return f"'{named(given, part)}' {word} {amount_text(_rounded(one.bound), measure, units)}"


def auxiliary_notice(group: Group, given: Given, v: list[float]) -> Notice | None:
    """A size in brackets that is off by more than its typing."""
    off = measured_off(group, given, v)
    if agrees(given, off):
        return None
    amount = amount_text(abs(off), given.dimension.phrase.size.measure, group.job.units)
    what = f"'{given.text}' in brackets is off by {amount}"
    return Notice("auxiliary-off", given.dimension.span, what, "correct it; it is not used", given.part, (given.text,))
