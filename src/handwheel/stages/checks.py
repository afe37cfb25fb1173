"""The list of checks on an operation, what they are, and what they are not. A flat list; nothing is looked up."""

from __future__ import annotations

from handwheel.stages.case import Case, Check, CheckContext
from handwheel.stages.check_hole import boring_bar, bottoming, meets_another
from handwheel.stages.check_metal import cut_in_grip, into_the_part, never_grows, nothing_left, something_to_grip
from handwheel.stages.check_reach import ball_range, clear_of_chuck, overhang, parting_reach, room_for_bit
from handwheel.stages.check_room import behind_the_jaws, jaws_out, set_over, slides, swing, tailstock_hand, thin_tube
from handwheel.stages.check_tool import blade, clear_of_centre, die_at_shoulder, nose_in_corner, shank
from handwheel.stages.check_wall import wall_left
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
    Check("nose in a corner", "the tool's nose radius against the corners and hollows drawn", nose_in_corner),
    Check("shank", "the tool's shank, beyond its reach, against metal beside the cut", shank),
    Check("clear of the centre", "the cutter against a 60° centre's point in the tailstock", clear_of_centre),
    Check("parting blade", "a parting blade's length against its width, and where it parts against the jaws", blade),
    Check("tool on the bottom", "drill point, reamer's and tap's lead in a blind hole", bottoming),
    Check("die at a shoulder", "a die's lead against the shoulder that its thread goes up to", die_at_shoulder),
    Check("boring bar", "bar and back within the bore, its reach; beyond four times its thickness, bending as a range",
          boring_bar),
    Check("breaking through", "a blind hole against what is beyond it", meets_another),
    Check("wall", "metal beside a hole, behind its bottom and to a groove or shoulder outside", wall_left),
    Check("thin tube in the jaws", "a wall under a twentieth of its diameter in a chuck's jaws", thin_tube),
    Check("jaws out of the chuck", "jaws no more than a third of their height out of the chuck's body", jaws_out),
    Check("behind the jaws", "what reaches in behind the jaws against the bores of chuck and spindle", behind_the_jaws),
    Check("swing", "the work against bed and cross slide at every stage", swing),
    Check("travel of the slides", "each move against its slide's travel", slides),
    Check("top slide set over", "its angle against what it can be set to; its body and handle are not known: by hand", set_over),
    Check("room at the tailstock", "the room its handle wants", tailstock_hand),
    Check("nothing left", "after the last operation no metal is left but what is said", nothing_left),
)
"""Every check, in the order in which results are listed."""

BESIDE: tuple[tuple[str, str], ...] = (
    ("corner at a seat", "the corner left, or the fillet drawn, against the chamfer of the hole that goes up to it"),
    ("holding for what lies across", "grip, and what a slot leaves of a collet's cap, where a hole or flat lies across"),
    ("what sweeps, against the cross slide", "the circle that a leaning part sweeps"),
    ("what sweeps, against the headstock", "how far the mouth stands out where a part leans back"),
    ("wall beside a hole across", "metal beside and behind it, to the outside and to other holes"),
)
"""Looked at once for a seat or for what lies across, not at every operation."""

CHECKED: tuple[str, ...] = tuple(f"{name}: {says}" for name, says in (*((c.name, c.says) for c in CHECKS), *BESIDE))
"""One line for each check, for the sheet."""

NOT_CHECKED: tuple[str, ...] = (
    "strength of the part, of a thin wall or of a joint",
    "bending of faces, balls and curves where the overhang is within the habit, and chatter anywhere; the chuck's own give where "
    "it was not measured, its tilt, and what slides and bearings give",
    "whether the grip holds against the force of the cut",
    "the tool's holder, the slides' bodies and the operator's hands against chuck and work",
    "cross work, threads and knurls as metal: the section shows their blank",
    "chips, heat, hardness, and the metal's own stresses",
    "the condition of the machine, and whether the tool is sharp and on centre height",
)
"""One line for each thing that is not looked at, for the sheet."""


def run_checks(before: Section, after: Section, finished: Section, holding: Holding, cutter: Cutter, cut: Cut,
               context: CheckContext) -> tuple[CheckResult, ...]:
    """Every check that applies to an operation; `found` is 'no fault', what is wrong, or a warning."""
    case = Case(before, after, finished, holding, cutter, cut, context)
    results = (check.result(case) for check in CHECKS)
    return tuple(result for result in results if result is not None)
