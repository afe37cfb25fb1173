"""The list of checks run over a finished route, with the workshop's habits put in."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace
from itertools import chain

from handwheel.drawing.records import SolvedPart
from handwheel.job.records import CutInKind, OutsideKind, Unit
from handwheel.plan.athand import hole_of, hollows_of, room_of, roots_of, thread_of, tool_of
from handwheel.plan.bench import COLLET_CLEAR_MM
from handwheel.plan.grips import BUSH_IN
from handwheel.plan.records import Operation, PartPlan, Stage
from handwheel.plan.springs import chuck_give
from handwheel.stages.case import LightCut, Range
from handwheel.stages.checks import CheckContext, run_checks
from handwheel.stages.records import CheckResult
from handwheel.tables.cutting import cutting_of
from handwheel.workshop.records import Workshop

BENCH_KINDS = ("saw", "bond", "mill", "cross-drill", "fit", "measure", "polish")
NOT_TO_GRIP = ("thread", "knurl", "taper")
"""Operations after which a surface is not gripped."""
BLANKS = ("ball-blank", "corner-first")
"""Rules whose cuts leave a size that is cut again."""
SECOND_GRIP_SHARE = 0.5
"""Grip on finished work, in diameters, for the light cuts of a second holding: common practice, no source."""


Looked = dict[tuple[object, ...], tuple[tuple[CheckResult, ...], Stage]]
"""What was found of an operation that several candidates begin with; with the stage, so that it stays the one meant."""


def checks_of(plan: PartPlan, part: SolvedPart, shop: Workshop, *, is_light: bool = True) -> tuple[CheckResult, ...]:
    """One line a check and operation; `is_fault` marks those that refuse the route."""
    return tuple(chain.from_iterable(each_check(plan, part, shop, {}, is_light=is_light)))


def each_check(plan: PartPlan, part: SolvedPart, shop: Workshop, looked: Looked, *,
               is_light: bool) -> Iterator[tuple[CheckResult, ...]]:
    """The lines of one operation after another. `looked`: what was found before, of the same part, bar and workshop."""
    marked: set[str] = set()
    roots = roots_of(part)
    for i, stage in enumerate(plan.stages):
        operation = stage.operation
        is_last, kept_clear = i == len(plan.stages) - 1, _not_to_grip(part, marked)
        key = (*map(id, (stage.before, stage.after, operation.cut, operation.holding, operation.moves)), operation.number,
               operation.kind, kept_clear, is_last, is_light)  # fmt: skip
        if key not in looked:
            context = _context(stage, part, shop, is_last, is_light)
            context = replace(context, not_to_grip=kept_clear, roots=roots)
            looked[key] = (run_checks(stage.before, stage.after, plan.finished, operation.holding, operation.cutter,
                                      operation.cut, context), stage)  # fmt: skip
        yield looked[key][0]
        marked.update(operation.features if operation.kind in NOT_TO_GRIP else ())


def _not_to_grip(part: SolvedPart, marked: Collection[str]) -> tuple[Range, ...]:
    """Where threads, knurls and tapers have been cut by now."""
    found = [
        (f.left, f.right, f"the {'thread' if f.thread else 'knurl' if f.source.knurl else 'taper'} {f.name}")
        for f in part.outside
        if f.name in marked and (f.thread or f.source.knurl or f.source.kind is OutsideKind.CONE)
    ]
    found += [
        (c.left, c.right, f"the {c.source.kind.value} {c.name}")
        for c in part.cut_in
        if c.name in marked and not c.source.is_inside and c.source.kind in (CutInKind.THREAD, CutInKind.KNURL)
    ]
    return tuple(found)


def _context(stage: Stage, part: SolvedPart, shop: Workshop, is_last: bool, is_light: bool) -> CheckContext:
    operation = stage.operation
    holding, tool = operation.holding, shop.ball_tool
    in_hand = tool_of(operation, shop)
    is_turned = operation.kind not in BENCH_KINDS
    return CheckContext(
        part=part.name,
        operation=operation.number,
        chuck_clearance_mm=shop.habit("chuck clearance")
        if holding.kind not in ("collet", "ball collet")
        else COLLET_CLEAR_MM,
        least_grip_mm=_least_grip(stage, shop),
        least_grip_share=0.0,
        free_overhang=shop.habit("free overhang"),
        greatest_overhang=shop.habit("greatest overhang"),
        greatest_with_centre=shop.habit("greatest overhang with centre"),
        tool_reach_mm=in_hand.reach_mm if in_hand else None,
        swing_beyond_tip_mm=tool.swing_beyond_tip_mm if tool else None,
        ball_ranges_mm=tool.ranges_mm if tool else (),
        is_last=is_last,
        revolves=is_turned,
        may_bore_in_grip=True,
        in_inches=shop.units is Unit.INCH,
        light=light_cut(part, stage.operation, shop) if is_light else None,
        nose_radius_mm=in_hand.nose_radius_mm if in_hand else None,
        hollows_mm=hollows_of(operation, part),
        room=room_of(operation, shop) if is_turned else None,
        hole=hole_of(operation, part, shop) if is_turned else None,
        threaded=thread_of(operation, part, shop) if is_turned else None,
        least_wall_mm=shop.habit("least wall") if is_turned else None,
    )


def light_cut(part: SolvedPart, operation: Operation, shop: Workshop) -> LightCut | None:
    """What is known for light cuts in the part's material in that operation; None where it is not known."""
    cutting = cutting_of(part.material)
    if cutting is None:
        return None
    fine, rough = shop.habit("fine feed"), shop.habit("rough feed")
    return LightCut(
        push_n=cutting.push_n(shop.habit("last cut") / 2.0, fine),
        plunged_n_per_mm=cutting.push_n(1.0, fine),
        per_mm=cutting.push_n(1.0, rough)[1],
        e_gpa=cutting.e_gpa,
        may_err_mm=_may_err(part, operation, shop),
        rough_err_mm=shop.habit("rough allowance") / 2.0,
        roughest_mm=shop.habit("greatest cut"),
        farthest=shop.habit("farthest overhang"),
        farthest_with_centre=shop.habit("farthest overhang with centre"),
        chuck_mm_per_n=chuck_give(operation.holding, shop) or 0.0,
        last_mm=shop.habit("last cut"),
    )


def _may_err(part: SolvedPart, operation: Operation, shop: Workshop) -> float:
    """What bending may put on a diameter: a share of the closest limits drawn for the features cut; a
    blank's and a face's, what roughing leaves. [mm]"""
    if operation.why.rule in BLANKS or operation.kind == "face":
        return shop.habit("rough allowance") / 2.0
    drawn = [d.tolerance[1] - d.tolerance[0] for d in part.dimensions
             if d.given and "diameter" in d.phrase and any(d.phrase.startswith(f"{name} ") for name in operation.features)]
    closest = min((t for t in drawn if t > 0.0), default=None)
    return shop.habit("capability diameter") if closest is None else shop.habit("bending share") * closest


def _least_grip(stage: Stage, shop: Workshop) -> float:
    """Length that must be gripped: the habit's, its share of the diameter, but no more than the jaws are long. [mm]"""
    holding = stage.operation.holding
    if holding.kind == "stub mandrel":
        return shop.habit("least grip") - 1.0
    share = shop.habit("grip share") if holding.surface == "stock" else SECOND_GRIP_SHARE
    if holding.headstock_centre_mm is not None:
        return shop.habit("least grip")
    kind = BUSH_IN.get(holding.kind, holding.kind)
    jaws = max((c.grip_mm for c in shop.chucks if c.kind == kind), default=0.0)
    return min(max(shop.habit("least grip"), share * 2.0 * holding.grip_radius_mm), jaws)
