"""A cut list as lines of the wheel: every cut counted from the reading's one zero, so that no rounding adds up.

Roughing is rounded to the line that leaves metal on; the last cut is the nearest line, the reading's own.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from handwheel.job.records import Unit
from handwheel.plan.records import CutList, Move, Pass, Share
from handwheel.readings.dial import dial, dial_short, unit_of
from handwheel.readings.records import CutRow
from handwheel.readings.words import figure, length_text, turns_text, unit_name
from handwheel.workshop.records import Handwheel

AFTER = {"rough": "", "measure": "stop and measure", "last": "last cut", "spring": "again, no feed in"}
AT_SIZE = ("last", "spring")


def cut_rows(move: Move, wheel: Handwheel) -> tuple[CutRow, ...]:
    """The cuts of a move, where it has more than one; a cut that no line tells from the one before is left out.

    The last cuts are equal in lines: counted back from the last one. Roughing goes by whole divisions.
    """
    if move.cuts is None or len(move.cuts.passes) < 2 or move.makes is None:
        return ()
    sense = 1.0 if move.grows else -1.0
    start = move.makes.value_mm - sense * 2.0 * move.exact_mm
    passes = move.cuts.passes
    at = next((k for k, cut in enumerate(passes) if cut.kind in AT_SIZE), len(passes) - 1)
    _, _, at_size = dial(passes[at].travel_mm, wheel)
    each = _last_mm(passes, at, wheel, move.cuts.share is not None)
    rows: list[CutRow] = []
    before = 0.0
    for k, cut in enumerate(passes):
        if k >= at:
            turns, divisions, moves = dial(cut.travel_mm, wheel)
        elif cut.kind == "measure":
            turns, divisions, moves = dial(max(0.0, at_size - each), wheel)
        else:
            turns, divisions, moves = dial_short(min(cut.travel_mm, max(0.0, at_size - 2.0 * each)), _whole(wheel))
        if k < at and (moves <= before + 1e-9 or moves >= at_size - 1e-9):
            continue
        before = moves
        rows.append(CutRow(len(rows) + 1, cut.kind, turns, divisions, unit_of(wheel), moves, cut.travel_mm,
                           start + sense * 2.0 * moves))  # fmt: skip
    return tuple(rows) if len(rows) > 1 else ()


def _last_mm(passes: Sequence[Pass], at: int, wheel: Handwheel, is_light: bool) -> float:
    """Travel of each of the equal last cuts in whole smallest parts, never more where bending makes them light; 0 where there
    is one alone. [mm]"""
    if at == 0 or passes[at - 1].kind != "measure":
        return 0.0
    steps = (passes[at].travel_mm - passes[at - 1].travel_mm) / wheel.step_mm
    return max(1, math.floor(steps + 1e-9) if is_light else round(steps)) * wheel.step_mm


def _whole(wheel: Handwheel) -> Handwheel:
    """The wheel read by whole divisions, where it has any."""
    return replace(wheel, smallest_part=max(1.0, wheel.smallest_part)) if wheel.divisions > 1 else wheel


def cuts_text(rows: tuple[CutRow, ...], units: Unit) -> str:
    """The list in words: `Cuts from the same zero: 40 divisions Ø 11.2; ...`."""
    if not rows:
        return ""
    said = [
        f"{turns_text(row.turns, row.divisions, row.unit)}, Ø {figure(row.leaves_mm, units)}"
        + (f", {AFTER[row.kind]}" if AFTER[row.kind] else "")
        for row in rows
    ]
    return f"Cuts, all from that zero, Ø in {unit_name(units)}: {'; '.join(said)}."


def cuts_note(move: Move, units: Unit) -> str:
    """What holds for the whole list: feeds, what limits the depth, what the work bends."""
    cuts = move.cuts
    if cuts is None or len(cuts.passes) < 2:
        return ""
    has_last = any(cut.kind in AT_SIZE for cut in cuts.passes)
    feeds = f"feed {_feed(cuts.rough_feed_mm, units)}" if any(c.kind == "rough" for c in cuts.passes) else ""
    if has_last:
        feeds = f"{feeds}, the last {_feed(cuts.last_feed_mm, units)}" if feeds else f"feed {_feed(cuts.last_feed_mm, units)}"
    words = [f"{feeds} a turn", _limited(cuts, units)]
    if cuts.share is not None:
        words.append(_share(cuts.share, units))
    return f"{'; '.join(filter(None, words))}."[:1].upper() + f"{'; '.join(filter(None, words))}."[1:]


def _share(share: Share, units: Unit) -> str:
    """Where bending passes its share of the limits, and what it comes to in the light last cuts."""
    low, high = (figure(mm, units) for mm in share.bends_mm)
    at, best = (figure(mm, units) for mm in share.reached_mm)
    name = unit_name(units)
    may = f"{figure(share.may_mm, units)} {name}"
    told = (f"last cuts light: somewhere from {at} to {best} {name} off the diameter bending passes {may}, its share of the "
            f"limits; in these it is {low} to {high} {name}")  # fmt: skip
    chuck = "" if share.has_chuck else ", the chuck's own give not counted"
    support = "; support it, or the last by file" if share.bends_mm[0] > share.may_mm else ""
    return f"{told}{chuck}{support}"


def _feed(feed_mm: float, units: Unit) -> str:
    return f"{feed_mm / 25.4:.3f} in" if units is Unit.INCH else f"{feed_mm:.2f} mm"


def _limited(cuts: CutList, units: Unit) -> str:
    """What keeps the cuts shallower than the habit, where something does."""
    if cuts.limited_by.startswith("the habit") or not any(c.kind == "rough" for c in cuts.passes):
        return ""
    if cuts.deepest_mm == float("inf"):
        return cuts.limited_by
    return f"no more than {length_text(cuts.deepest_mm, units)} off the diameter at a cut: {cuts.limited_by}"
