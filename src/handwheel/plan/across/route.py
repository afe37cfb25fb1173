"""The stages of what lies across, after the turning: each group held once, its operations, and what was looked at."""

from __future__ import annotations

from dataclasses import replace

from handwheel.drawing.records import SolvedPart
from handwheel.plan.across.cuts import Act, acts, place_of, walls
from handwheel.plan.across.groups import Group, groups_of
from handwheel.plan.across.holding import CannotHold, Hold, hold
from handwheel.plan.across.leads import lead_checks
from handwheel.plan.across.shapes import shapes_of
from handwheel.plan.bench import NO_CUTTER
from handwheel.plan.caution import caution_for
from handwheel.plan.names import said
from handwheel.plan.records import AcrossCut, Operation, PartPlan, Stage, Why
from handwheel.stages.records import CheckResult, Cutter, NoCut
from handwheel.workshop.records import Workshop

WALL = "wall beside a hole across"
SWEEPS = "speed: the lowest the lathe has, for the part sweeps outside the chuck"


def add_across(plan: PartPlan, part: SolvedPart, shop: Workshop) -> tuple[PartPlan, tuple[CheckResult, ...]]:
    """The plan with what lies across as its last operations, and the checks of them.

    A group that cannot be held, or a hole that would break out, makes an operation that is refused with the reason.
    """
    if not plan.stages or not part.across:
        return plan, ()
    whole = part
    part = replace(part, across=tuple(a for a in part.across if a.name not in plan.stock.leaves))
    if not part.across:
        return _with_shapes(plan, whole), ()
    work = _Work(part, shop, list(plan.stages))
    for group in groups_of(part):
        if not work.carry_out(group):
            break
    made = _with_shapes(replace(plan, stages=tuple(work.stages)), whole)
    checks = (*work.checks, *lead_checks(part, work.stages[len(plan.stages):], shop))
    return made, checks


def _with_shapes(plan: PartPlan, part: SolvedPart) -> PartPlan:
    """The plan with what is off each stage across: the bar's own faces at once, the rest from where it is made."""
    shapes, made, stages = shapes_of(part, plan.stages[-1].after), set(plan.stock.leaves), []
    for stage in plan.stages:
        made |= set(stage.operation.across_made)
        stages.append(replace(stage, off_axis=tuple(s for s in shapes if s.name in made)))
    return replace(plan, stages=tuple(stages))


class _Work:
    """The stages so far, and the checks."""

    def __init__(self, part: SolvedPart, shop: Workshop, stages: list[Stage]) -> None:
        self.part, self.shop, self.stages = part, shop, stages
        self.checks: list[CheckResult] = []

    def carry_out(self, group: Group) -> bool:
        """The group's stages; False when it is refused."""
        last = self.stages[-1]
        held = hold(group, self.part, last.after, last.operation.holding, self.shop)
        name = group.items[0].name
        if isinstance(held, CannotHold):
            return self._refuse(group, name, held.why, held.would_do)
        found = self._walls(group)
        if found is not None:
            return self._refuse(group, *found)
        cuts: tuple[AcrossCut, ...] = ()
        for act in acts(group, self.part, last.after, held, self.shop):
            cuts += (act.cut,) if act.cut is not None else ()
            self._add(act, group, held, cuts)
            held = replace(held, settings=(), caution=held.caution_again)
        number = self.stages[-1].operation.number
        self.checks += [CheckResult(check, text, self.part.name, number, do, text != "no fault")
                        for check, text, do in held.found]  # fmt: skip
        return True

    def _walls(self, group: Group) -> tuple[str, str, str] | None:
        """Name, reason and way on of a hole that would break out; thin walls are listed among the checks."""
        least, units = self.shop.habit("least wall"), self.shop.units
        number = self.stages[-1].operation.number + 10
        place = place_of(group, self.part, self.stages[-1].after)
        for item, wall, where in walls(group, self.part, self.stages[-1].after, place):
            ways = "a smaller or shallower hole, a flat bottom, or a larger part"
            if wall < 0.0:
                return item.name, f"{item.name} would break out {where}, by {said(units, -wall)}", ways
            thin = f"{item.name}: {said(units, wall)} of metal {where}, {said(units, least)} is wanted"
            found = "no fault" if wall >= least else thin
            self.checks.append(CheckResult(WALL, found, self.part.name, number, ways, wall < least))
        return None

    def _refuse(self, group: Group, name: str, why: str, would_do: str) -> bool:
        last = self.stages[-1].operation
        kind = "mill" if group.flat is not None else "cross-drill"
        operation = Operation(
            last.number + 10, self.part.name, kind, "not settled", replace(last.holding, device="not settled"),
            NO_CUTTER, NoCut(), "left end", 0.0, Why("across-when-turned", (name,), why), "",
            features=(name,), axis_through=f"{name} centre", axis_lean_deg=group.axis.lean_deg,
            axis_around_deg=group.axis.around_deg, refused=f"{why}; {would_do}")  # fmt: skip
        self.stages.append(Stage(operation, self.stages[-1].after, self.stages[-1].after))
        self.checks.append(CheckResult("holding for what lies across", why, self.part.name, operation.number, would_do))
        return False

    def _add(self, act: Act, group: Group, held: Hold, cuts: tuple[AcrossCut, ...]) -> None:
        last = self.stages[-1]
        caution = " ".join(filter(None, (caution_for(act.kind), held.caution)))
        operation = Operation(
            last.operation.number + 10, self.part.name, act.kind, held.set_up, held.holding,
            Cutter(act.tool, act.kind, NO_CUTTER.outline, act.is_owned), NoCut(), _datum(group, held), group.axis.centre,
            Why("across-when-turned", (act.item.name,), act.words), caution, moves=act.moves, settings=held.settings,
            features=(act.item.name,), across_made=(act.item.name,) if act.made else (),
            axis_through="" if group.face else f"{act.item.name} centre", axis_lean_deg=group.axis.lean_deg,
            axis_around_deg=group.axis.around_deg, note=act.note,
            axis_centre_mm=group.axis.centre, across_cuts=cuts, speed_text=SWEEPS if held.is_lathe else "")  # fmt: skip
        self.stages.append(Stage(operation, last.after, last.after))


def _datum(group: Group, held: Hold) -> str:
    if group.face is not None:
        return "centre of the face"
    return f"{held.holding.surface} centre" if held.is_lathe else "left end"
