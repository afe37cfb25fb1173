"""Thin walls, bonded and pressed joints: the steps they are worked through in, and their figures."""

from __future__ import annotations

from handwheel.plan.records import Stage
from handwheel.setups.records import Figure, Procedure, Step


def joint_procedure(stage: Stage) -> Procedure | None:
    """How a joint is made, or what a thin wall asks; None for any other stage."""
    operation = stage.operation
    if not operation.figures or operation.refused:
        return None
    made = joint_steps(operation.kind)
    if made is None:
        return None
    subject, steps = made
    return Procedure(subject, steps, tuple(Figure(head, value) for head, value in operation.figures))


def joint_steps(kind: str) -> tuple[str, tuple[Step, ...]] | None:
    """What is set, and its steps, by the operation's kind."""
    if kind == "bond":
        return "bonded joint", BOND
    if kind in HOLE_KINDS:
        return "thin wall behind a hole", WALL
    return ("pressed joint", PRESS) if kind == "fit" else None


HOLE_KINDS = ("drill", "bore", "ream")
WALL = (
    Step("before", "choose a way on and write it into the job file: then the mate follows and all is worked out again"),
    Step("or as drawn", "stop set short, light feed, depth measured before the last of it; not clamped across"),
)
PRESS = (
    Step("measure", "both, in several places, at one warmth: the interference is what was measured"),
    Step("lead", "a short chamfer or taper on the spigot's end and a broken edge at the hole's mouth; no burr"),
    Step("press", "oiled, square, in one go between flat faces; stop if it tilts, and begin again"),
    Step("or heat", "the hub by the figure, evenly, on a plate or in an oven; dry; a stop where it is to come home"),
    Step("after", "measure the bore and the outside again: ream or bore what closed; face what was pushed out"),
)
BOND = (
    Step("measure", "the hole in several places, the least counts; then turn the spigot to it, and measure that"),
    Step("surface", "as turned or reamed, not polished; corner off the spigot's end; a blind hole wants a vent"),
    Step("clean", "both degreased, and not touched again; clean cloth, clean air"),
    Step("try dry", "home against its shoulder, at its place round about; mark that"),
    Step("join", "compound round spigot and mouth, turned as it goes in; home at once, and not moved again; wipe off"),
    Step("cure", "by the compound's own sheet, longer in the cold; no load and no heat before"),
    Step("after", "what was measured before is measured again: run-out and length"),
)
