"""The list of checks on an operation, what they are, and what they are not. A flat list; nothing is looked up."""

from __future__ import annotations

from handwheel.stages.case import Case, Check, CheckContext
from handwheel.stages.check_metal import cut_in_grip, into_the_part, never_grows, nothing_left, something_to_grip
from handwheel.stages.check_reach import ball_range, clear_of_chuck, overhang, parting_reach, room_for_bit
from handwheel.stages.records import CheckResult, Cut, Cutter, Holding, Section

__all__ = ["CHECKED", "CHECKS", "NOT_CHECKED", "CheckContext", "run_checks"]

CHECKS: tuple[Check, ...] = (
    Check("cut into the part", "the cutting end of the tool, and its flanks, against the finished part", into_the_part),
    Check("metal before and after", "each operation starts from what the one before left", never_grows),
    Check("metal cut in the grip", "nothing is cut within the gripped length", cut_in_grip),
    Check("something to grip", "the grip is long enough, on one diameter, not on a thread, knurl or taper",
          something_to_grip),
    Check("clear of the chuck", "cutter and what swings against the chuck's face", clear_of_chuck),
    Check("overhang", "unsupported length against the diameter of the bar that bends as much; beyond the habit, bending "
          "under a light last cut, as a range", overhang),
    Check("parting reach", "the parting tool's reach against the radius", parting_reach),
    Check("ball tool's range", "the ball's radius against the ranges of the ball tool's head", ball_range),
    Check("room for the ball tool's bit", "the bit's flank, at the ends of its swing, against metal beside the ball",
          room_for_bit),
    Check("nothing left", "after the last operation no metal is left but what is said", nothing_left),
)
"""Every check, in the order in which results are listed."""

CHECKED: tuple[str, ...] = tuple(f"{check.name}: {check.says}" for check in CHECKS)
"""One line for each check, for the sheet."""

NOT_CHECKED: tuple[str, ...] = (
    "strength of the part, of a thin wall or of a joint",
    "bending where the overhang is within the habit, and chatter anywhere; the chuck's, slides' and bearings' own give",
    "whether the grip holds against the force of the cut",
    "the tool's holder, the slides, the tailstock and the operator's hands against chuck and work",
    "cross work, threads and knurls as metal: the section shows their blank",
    "chips, heat, hardness, and the metal's own stresses",
    "the condition of the machine, and whether the tool is sharp and on centre height",
)
"""One line for each thing that is not looked at, for the sheet."""


def run_checks(before: Section, after: Section, finished: Section, holding: Holding, cutter: Cutter, cut: Cut,
               context: CheckContext) -> tuple[CheckResult, ...]:
    """Every check that applies to an operation; `found` is 'no fault' or what is wrong. 'no fault' may carry advice."""
    case = Case(before, after, finished, holding, cutter, cut, context)
    results = (check.result(case) for check in CHECKS)
    return tuple(result for result in results if result is not None)
