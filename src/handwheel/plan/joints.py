"""Joints between parts: what is bonded or pressed on its seat when both are finished."""

from __future__ import annotations

from dataclasses import replace

from handwheel.drawing.records import Drawing
from handwheel.job.records import OutsideKind, Seat, Where
from handwheel.plan.bench import NO_CUTTER
from handwheel.plan.bondwords import Spigots, bond_figures, bond_within_mm, measured_how
from handwheel.plan.caution import caution_for
from handwheel.plan.grub import with_trial
from handwheel.plan.mates import Suited, error_mm, suited_by_words, with_suited
from handwheel.plan.names import said
from handwheel.plan.pressing import is_pressed, press_figures
from handwheel.plan.records import Operation, PartPlan, Stage, Why
from handwheel.stages.records import Holding, NoCut
from handwheel.workshop.records import Workshop

SHOULDER_MM = 0.2
"""A step lower than this carries nothing that pushes onto it: common practice, no source. [mm]"""
FITS_MM = 0.15
"""A hole and a spigot nearer in diameter than this are meant for each other: common practice, no source. [mm]"""


def add_bonds(plans: tuple[PartPlan, ...], drawing: Drawing, shop: Workshop) -> tuple[PartPlan, ...]:
    """A last operation on the part that is put on, for every seat of an assembly whose parts are both planned."""
    by_part = {p.part: p for p in plans}
    told: set[tuple[str, str]] = set()
    for assembly in drawing.job.assemblies:
        for seat in assembly.seats:
            moving, fixed = by_part.get(seat.moving.part), by_part.get(seat.fixed.part)
            if moving is None or fixed is None or not moving.stages or not fixed.stages:
                continue
            joint = bonded_joint(seat, drawing)
            if joint is None:
                continue
            last = moving.stages[-1]
            number = last.operation.number + 10
            where = f"{seat.moving.feature} of {seat.moving.part} on {seat.fixed.feature} of {seat.fixed.part}"
            held = last.operation.holding
            tight = is_pressed(joint)
            kind, set_up, rule = ("fit", "bench", "press-last") if tight else ("bond", "bond", "bond-last")
            operation = Operation(
                number,
                moving.part,
                kind,
                set_up,
                Holding("hand", "hand", held.from_mm, held.from_mm, "finished work", held.toward_tailstock, held.face_mm),
                NO_CUTTER,
                NoCut(),
                "",
                0.0,
                Why(rule, (seat.moving.feature,), f"{assembly.name}: {where}; both finished and measured first"),
                caution_for("press" if tight else "bond"),
                features=(seat.moving.feature,),
                note=_press_note(joint) if tight else _bond_note(joint, shop),
                figures=press_figures(joint, shop) if tight else bond_figures(joint, shop),
                after_parts=(fixed.part,),
            )
            joined = Stage(operation, last.after, last.after, last.off_axis)
            by_part[moving.part] = replace(moving, stages=(*moving.stages, joined))
            by_part = with_suited(by_part, _suited(joint, tight, shop), shop)
            by_part = with_trial(by_part, joint)
            told.add((fixed.part, f"{joint.spigot.name} diameter"))
    for suited in suited_by_words(drawing):
        if (suited.part, suited.phrase) not in told:
            by_part = with_suited(by_part, suited, shop)
    return tuple(by_part[p.part] for p in plans)


def _suited(joint: Spigots, is_tight: bool, shop: Workshop) -> Suited:
    """The spigot to the hole as measured: the bond's gap smaller, or larger by the middle of the interference drawn."""
    drawn = joint.drawn_gap_mm()
    error = error_mm(shop, "inside", joint.diameter_mm)
    less, within, why = shop.habit("bond gap"), bond_within_mm(joint, shop), "for the bond"
    if is_tight and drawn is not None:
        less, why = (drawn[0] + drawn[1]) / 2.0, "for the press"
        room = None if error is None else (drawn[1] - drawn[0]) / 2.0 - error
        within = room if room is not None and room > 0.0 else None
    how = measured_how(joint, shop) if not is_tight else "" if within is not None else ", by a plug tried in it"
    return Suited(joint.spigot_part.name, f"{joint.spigot.name} diameter", joint.hole_part.name,
                  f"{joint.hole.name} diameter", less, why, within, how)  # fmt: skip


def _bond_note(joint: Spigots, shop: Workshop) -> str:
    gap = shop.habits["bond gap"]
    home = "to the shoulder" if joint.has_shoulder else "to the mark"
    return (f"degrease both; diametral gap {said(shop.units, gap.value)} aimed at ({gap.whose}): measure both before; "
            f"home {home}; leave to cure")  # fmt: skip


def _press_note(joint: Spigots) -> str:
    home = "to the shoulder" if joint.has_shoulder else "to the mark"
    return f"drawn tight: both measured; spigot's end led in, oiled; pressed square, home {home}; or hub heated"


def bonded_joint(seat: Seat, drawing: Drawing) -> Spigots | None:
    """The plain spigot beyond the seat and the hole of nearly its size that it goes into: bonded, or pressed if drawn tight."""
    fixed, moving = drawing.part(seat.fixed.part), drawing.part(seat.moving.part)
    names = [f.name for f in fixed.outside]
    if seat.fixed.feature not in names:
        return None
    seated = names.index(seat.fixed.feature)
    at = seated + (1 if seat.fixed.where is Where.RIGHT else -1)
    if not 0 <= at < len(names):
        return None
    spigot = fixed.outside[at]
    holes = moving.inside_left if seat.moving.where is Where.LEFT else moving.inside_right
    if spigot.source.kind is not OutsideKind.CYLINDER or spigot.thread or not holes or holes[0].thread:
        return None
    if abs(holes[0].mouth_radius - spigot.left_radius) > FITS_MM / 2.0:
        return None
    behind = fixed.outside[seated]
    stands = behind.right_radius if seat.fixed.where is Where.RIGHT else behind.left_radius
    return Spigots(moving, holes[0], fixed, spigot, stands > spigot.left_radius + SHOULDER_MM)
