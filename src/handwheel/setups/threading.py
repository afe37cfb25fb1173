"""Threads by die, tap and pointed tool: the steps they are worked through in, and their figures."""

from __future__ import annotations

from handwheel.plan.caution import no_reverse
from handwheel.plan.records import Stage
from handwheel.setups.records import Figure, Procedure, Step
from handwheel.setups.sketches import die_sketches
from handwheel.workshop.records import Workshop


def thread_procedure(stage: Stage, shop: Workshop) -> Procedure | None:
    """How a thread is made; None for any other stage."""
    operation = stage.operation
    if not operation.figures or operation.refused:
        return None
    made = thread_steps(operation.kind, operation.cutter.kind, shop, is_left_hand=" LH" in operation.cutter.name)
    if made is None:
        return None
    subject, steps = made
    figures = tuple(Figure(head, value) for head, value in operation.figures)
    return Procedure(subject, steps, figures, sketches=die_sketches(stage, shop))


def thread_steps(kind: str, cutter: str, shop: Workshop, *, is_left_hand: bool = False
                 ) -> tuple[str, tuple[Step, ...]] | None:
    """What is set, and its steps.

    Parameters
        kind, cutter: of the operation, and of its cutter.
        shop: whose lathe it is.
    """
    if kind == "tap":
        return ("left-hand tap" if is_left_hand else "tap"), tap_steps(shop, is_left_hand=is_left_hand)
    if kind == "thread" and cutter == "die":
        return ("left-hand die" if is_left_hand else "die"), die_steps(shop, is_left_hand=is_left_hand)
    return ("threading tool", POINTED) if kind == "thread" else None


def _reverse(shop: Workshop) -> str:
    words = no_reverse(shop.lathe.has_screwed_chuck)
    return words if shop.lathe.has_screwed_chuck is False else f"{words}; wind back by hand"


def _left_hand(shop: Workshop, is_left_hand: bool) -> tuple[Step, ...]:
    """What is other for a left-hand thread; () for a right-hand one."""
    if not is_left_hand:
        return ()
    screws = shop.lathe.has_screwed_chuck
    which = "this" if screws else "a screwed"
    chuck = "" if screws is False else f"; the cut itself unscrews {which} chuck: lock it on, or cut in the vice"
    return (Step("left-hand", f"spindle by hand, its top going away from you; 'back' in these steps is forward{chuck}"),)


def die_steps(shop: Workshop, *, is_left_hand: bool = False) -> tuple[Step, ...]:
    """The steps of a thread by die from the tailstock."""
    return (
        *_left_hand(shop, is_left_hand),
        Step("blank", "turn it to its figure and measure: over it the die tears, far under it the thread is shallow"),
        Step("lead", "chamfer the end before the die comes near it; break no other edge yet"),
        Step("die", "opened a little by its middle screw, the marked side (its longer lead) toward the work, in the tailstock "
             "holder so that it goes on square; barrel free to follow"),
        Step("first pass", f"oil; spindle by hand or slowest, back half a turn for each turn or two; {_reverse(shop)}"),
        Step("try", "in its mate, or over wires; close the die by its outer screws a little and run over again until it goes"),
        Step("shoulder", "turn the die about for the last threads; stop by hand before it touches"),
        Step("clocking", "tight at the wrong place: face the figure for the angle still to go off the seat, in two cuts, "
             "trying between them. A flat for a grub screw is marked in place and made last, after that"),
    )  # fmt: skip


def tap_steps(shop: Workshop, *, is_left_hand: bool = False) -> tuple[Step, ...]:
    """The steps of a thread by tap in a hole."""
    return (
        *_left_hand(shop, is_left_hand),
        Step("hole", "drilled on past the thread's depth by the row for the tap that finishes it; cleared; mouth countersunk "
             "to the major diameter"),
        Step("square", "tap guided by the tailstock's centre or its chuck, barrel following; never started by eye alone"),
        Step("cut", f"oil to suit the metal, spindle or tap by hand, back half a turn for each turn; {_reverse(shop)}"),
        Step("blind", "mark the depth on the tap; out and clear the chips twice before the bottom; bottoming tap last"),
        Step("feel", "if it springs, stop: back out and clear; a bigger drill within the limits eases it most"),
        Step("try", "its own screw, to the full depth"),
    )


POINTED = (
    Step("tool", "ground to the gauge, at centre height, square to the work by the gauge"),
    Step("scratch", "first pass only marks: count it against a rule or a thread gauge before going on"),
    Step("passes", "by the list; tool out, then back, the same way every time"),
    Step("try", "before the last passes in the mate or over wires: three of one size, held by grease or rubber"),
    Step("crests", "break the burr; the mate is tried again after that"),
)
