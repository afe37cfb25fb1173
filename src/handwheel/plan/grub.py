"""A grub screw across a joint: its flat on the spigot is placed by trial, after the screw's hole is tapped."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from handwheel.drawing.records import SolvedAcross
from handwheel.job.records import AcrossKind
from handwheel.plan.bondwords import Spigots
from handwheel.plan.records import PartPlan, Stage

TRIAL = ("put on home, turned to its place, nip the screw to mark the spigot, take off; flat about the mark, wider than the "
         "screw's point and a little toward the shoulder, so that it draws home")  # fmt: skip


def grub_screw(joint: Spigots) -> SolvedAcross | None:
    """The tapped hole across the outer part that meets the spigot; None where there is none."""
    toward = 1.0 if joint.hole.bottom > joint.hole.mouth else -1.0
    low, high = sorted((joint.hole.mouth, joint.hole.mouth + toward * joint.length_mm))
    return next((a for a in joint.hole_part.across if a.source.kind is AcrossKind.HOLE and a.source.thread is not None
                 and low < a.centre < high), None)  # fmt: skip


def flat_for(joint: Spigots) -> SolvedAcross | None:
    """The flat drawn on the spigot; None where there is none."""
    return next((a for a in joint.spigot_part.across if a.source.kind is AcrossKind.FLAT
                 and a.source.on == joint.spigot.name), None)  # fmt: skip


def with_trial(plans: Mapping[str, PartPlan], joint: Spigots) -> dict[str, PartPlan]:
    """The plans with the trial told at the joint's operation, and at the drawn flat's own, which waits for the tapped hole."""
    found, screw = dict(plans), grub_screw(joint)
    if screw is None:
        return found
    outer, inner = found[joint.hole_part.name], found[joint.spigot_part.name]
    size = screw.source.thread.designation if screw.source.thread else ""
    text = f"{screw.name}, {size}: {TRIAL}; held by the screw alone, the compound is left out"
    last = outer.stages[-1]
    told = replace(last, operation=replace(last.operation, figures=(*last.operation.figures, ("grub screw", text))))
    found[outer.part] = replace(outer, stages=(*outer.stages[:-1], told))
    flat = flat_for(joint)
    if flat is not None:
        made = [s.operation.number for s in outer.stages if screw.name in s.operation.features]
        waits = ((outer.part, made[-1]),) if made else ()
        stages = tuple(_by_trial(s, screw, outer.part, waits) if flat.name in s.operation.features else s for s in inner.stages)
        found[inner.part] = replace(inner, stages=stages)
    return found


def _by_trial(stage: Stage, screw: SolvedAcross, outer: str, waits: tuple[tuple[str, int], ...]) -> Stage:
    operation = stage.operation
    note = "; ".join(filter(None, (operation.note, f"placed by trial with {screw.name} of {outer}: {TRIAL}")))
    after = (*operation.after_sizes, *(w for w in waits if w not in operation.after_sizes))
    return replace(stage, operation=replace(operation, note=note, after_sizes=after))
