"""A route as the maker wrote it, carried out step by step and looked at exactly as an automatic one is.

The first step that cannot be done is refused with the reason, and nothing after it has readings. What the route leaves
undone is refused at its end.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from handwheel.drawing.records import SolvedPart
from handwheel.job.records import DrawnStock, RouteStep, Side
from handwheel.plan.balls import ball_acts
from handwheel.plan.bench import NO_CUTTER, Bench, CannotMakeError
from handwheel.plan.candidate import HOLLOW_CENTRE, STEADY
from handwheel.plan.cutin import cut_acts
from handwheel.plan.edges import knurl_link, thread_link
from handwheel.plan.ends import (
    centre_stub,
    face_end,
    part_off_to_length,
    saw_blank,
    saw_chucking_piece,
    stub_off,
)
from handwheel.plan.flatsided import said_of_bar
from handwheel.plan.grips import (
    FIXED_STEADY,
    on_fixed_steady,
    steady_band,
)
from handwheel.plan.inside import centre_hole, hole_acts
from handwheel.plan.outside import metal_left, turn_link
from handwheel.plan.records import Operation, PartPlan, Stage, Why
from handwheel.plan.stock import Choice, choose_bar, greatest_diameter
from handwheel.plan.verdict import checks_of
from handwheel.plan.view import view
from handwheel.plan.writtenholds import Held, Written
from handwheel.stages.compare import same
from handwheel.stages.finished import finished_section
from handwheel.stages.records import STEADY_HALF_MM, CheckResult, Holding, NoCut
from handwheel.workshop.records import Workshop

TURNED = ("turn", "taper", "chamfer", "curve", "groove")
BALLS = ("blank", "relieve", "corner", "ball")
HOLES = ("drill", "ream", "bore", "tap")
KIND_OF_VERB = {"blank": "turn", "corner": "chamfer", "stub off": "part off", "hold": "fit", "support": "fit"}
WRITTEN = "as-written"
LEFT_MM = 0.002


def plan_written(
    part: SolvedPart, stock: DrawnStock | None, steps: Sequence[RouteStep], shop: Workshop
) -> tuple[PartPlan, tuple[CheckResult, ...]]:
    """The route carried out, with its checks; refused at the step that fails."""
    finished = finished_section(part)
    try:
        bar = choose_bar(part, stock, shop)
    except CannotMakeError as problem:
        nothing = Choice(greatest_diameter(part), "not chosen", False).stock(0.0, part.length)
        return PartPlan(part.name, part.quantity, nothing, finished, (), problem.why, problem.would_do), ()
    work = _Work(part, shop, bar, _by_hold(steps))
    work.run()
    stages = tuple(replace(s, operation=replace(s.operation, number=10 * (i + 1)))
                   for i, s in enumerate(said_of_bar(work.stages, bar, shop.units)))  # fmt: skip
    plan = PartPlan(part.name, part.quantity, work.stock, work.finished, stages)
    checks = checks_of(plan, part, shop)
    return _refused_by(plan, checks), checks


def _by_hold(steps: Sequence[RouteStep]) -> tuple[Held, ...]:
    found: list[Held] = []
    for step in steps:
        if step.verb == "hold":
            found.append(Held(step, ()))
        elif found:
            found[-1] = replace(found[-1], steps=(*found[-1].steps, step))
    return tuple(found)


def _refused_by(plan: PartPlan, checks: Sequence[CheckResult]) -> PartPlan:
    """The plan with the first operation that a check finds fault with refused."""
    faults = {c.operation: c for c in reversed(checks) if c.is_fault}
    stages = []
    for stage in plan.stages:
        fault = faults.get(stage.operation.number)
        if fault is not None and not stage.operation.refused:
            why = f"{fault.check}: {fault.found}; {fault.do}"
            stage = replace(stage, operation=replace(stage.operation, refused=why))
        stages.append(stage)
    return replace(plan, stages=tuple(stages))


class _Work(Written):
    """The route carried out, hold after hold."""

    def run(self) -> None:
        """Every hold and step, up to the first that cannot be done."""
        step: RouteStep | None = None
        bench: Bench | None = None
        try:
            for k, held in enumerate(self.holds):
                step = held.hold
                bench = self._hold(held)
                bench.steps_because = "As written: no slide leads the tool along it in this holding"
                if not self.stages:
                    saw_blank(bench, self.stock)
                for step in held.steps:
                    self._carry_out(bench, step, self.holds[k + 1] if k + 1 < len(self.holds) else None)
                self.stages.extend(bench.stages)
                bench.stages = []
                self.section = bench.section
                step = None
            self._whole()
        except CannotMakeError as problem:
            self.stages.extend(bench.stages if bench is not None else [])
            self._refuse(step, problem)

    def _refuse(self, step: RouteStep | None, problem: CannotMakeError) -> None:
        kind = KIND_OF_VERB.get(step.verb, step.verb) if step is not None else "measure"
        held = self.stages[-1].operation.holding if self.stages else Holding(
            "not settled", "not settled", 0.0, 0.0, "", "right", 0.0)  # fmt: skip
        section = self.stages[-1].after if self.stages else self.section
        line = f" (line {step.span.line} of the job file)" if step is not None else ""
        features = (step.what,) if step is not None and step.toward is None else ()
        operation = Operation(0, self.part.name, kind, "not settled", held, NO_CUTTER, NoCut(), "", 0.0,
                              Why(WRITTEN, features, f"{problem.why}{line}"), "", features=features,
                              refused=f"{problem.why}{line}; {problem.would_do}")  # fmt: skip
        self.stages.append(Stage(operation, section, section))

    def _whole(self) -> None:
        """Raise for what the route leaves undone."""
        if same(self.section, self.finished):
            return
        seen = view(self.part, Side.RIGHT)
        bench = Bench(seen, self.shop, self.finished, self.section, Holding("", "", 0, 0, "", "right", 0.0))
        left = [link.name for link in seen.links if metal_left(bench, link, self.section) > LEFT_MM]
        names = ", ".join(f"'{name}'" for name in left) or "a hole or an end"
        raise CannotMakeError(self.part.name, f"the route ends before the part is finished: {names} is still to be made",
                              "write the steps that make it")  # fmt: skip

    # steps

    def _carry_out(self, bench: Bench, step: RouteStep, following: Held | None) -> None:
        verb, toward = step.verb, bench.view.toward
        if step.toward is not None and step.toward is not toward and verb not in ("saw", "part off"):
            raise CannotMakeError(step.what, f"the {step.what} is at the headstock in this holding",
                                  "hold the work the other way round first")  # fmt: skip
        if verb in (*TURNED, *BALLS, *HOLES, "knurl", "thread") and toward not in self.faced:
            raise CannotMakeError(
                step.what, f"lengths would be measured from the {toward} end, which is still as sawn and comes off later",
                f"write '- face: {toward} end' before it")  # fmt: skip
        for act in self._acts(bench, step, following):
            act()

    def _acts(self, bench: Bench, step: RouteStep, following: Held | None) -> Sequence[Callable[[], None]]:
        verb = step.verb
        if step.toward is not None:
            return (lambda: self._at_end(bench, verb, following),)
        if verb == "support":
            return (lambda: self._support(bench, step.what),)
        holes = {d.hole.name: d for d in (*self._drillings(bench.view), *bench.view.drillings(True))}
        if step.what in holes:
            hole = holes[step.what]
            if verb == "centre":
                return (lambda: centre_hole(bench, hole),)
            return _only(hole_acts(bench, hole), verb, step)
        cuts = [c for c in self.part.cut_in if c.name == step.what]
        if cuts:
            return _only(cut_acts(bench, cuts[0]), verb, step)
        link = next((each for each in bench.view.links if each.name == step.what), None)
        if link is None:
            raise CannotMakeError(step.what, f"'{step.what}' is entered from the other end", "hold it the other way round")
        if verb in BALLS:
            return _only(ball_acts(bench, link), verb, step)
        if verb == "knurl":
            return (lambda: knurl_link(bench, link),)
        if verb == "thread":
            return (lambda: thread_link(bench, link),)
        if link.name in bench.as_bought:
            raise CannotMakeError(step.what, f"'{step.what}' is left as the bar is: nothing is turned there", "leave it out")
        if verb in TURNED:
            return (lambda: turn_link(bench, link),)
        raise CannotMakeError(step.what, f"'{step.what}' is not made by '{verb}'", "write what makes it")

    def _at_end(self, bench: Bench, verb: str, following: Held | None) -> None:
        side = bench.view.toward
        stub = self.extra[side] - self.shop.habit("facing allowance") if self._has("centre", side) else 0.0
        stub -= self.shop.habit("ball end allowance") if stub and self._pole(side) else 0.0
        if verb == "face":
            if side in self.stubs or not self._has("centre", side):
                stub = 0.0
            face_end(bench, self._pole(side) and side not in self.stubs, stub)
            self.faced.add(side)
        elif verb == "centre":
            centre_stub(bench, stub)
            self.centred.add(side)
        elif verb == "stub off":
            stub_off(bench, stub)
            self.stubs.add(side)
        elif verb == "part off":
            part_off_to_length(bench)
        elif verb == "saw":
            if following is None:
                raise CannotMakeError("end", "it is sawn off and then held by nothing", "write how it is held next")
            if following.hold.surface == "stock":
                raise CannotMakeError("stock", "it is sawn off, and the next hold is by it: nothing of the bar is left there",
                                      "hold it by something that is finished, or saw later")  # fmt: skip
            self.section = bench.section
            self.stubs.add(side.other)
            saw_chucking_piece(bench, self._on_finished(following, view(self.part, following.hold.toward or Side.RIGHT)))

    def _support(self, bench: Bench, what: str) -> None:
        holding, end = bench.holding, bench.free_end()[1]
        if what == FIXED_STEADY:
            self._fixed_steady(bench)
        elif what == "travelling steady":
            bench.holding = replace(holding, device=f"{holding.device}; {STEADY}", has_steady=True)
        elif what == "hollow centre":
            ball = bench.view.links[-1].name
            bench.holding = replace(holding, device=f"{holding.device}; {HOLLOW_CENTRE} on {ball}", centre_mm=end)
        elif not self._has("centre", bench.view.toward):
            raise CannotMakeError("centre", "there is no centre in that end", f"write '- centre: {bench.view.toward} end'")
        else:
            bench.holding = replace(holding, centre_mm=end)

    def _fixed_steady(self, bench: Bench) -> None:
        """On the bar where its end is not faced yet, else on the turned cylinder nearest to what is cut."""
        seen, holding = bench.view, bench.holding
        if holding.steady_mm is not None:
            return
        band: tuple[float, str] | None = None
        if holding.surface == "stock" and seen.toward not in self.faced:
            stub = self.extra[seen.toward] - self.shop.habit("facing allowance")
            band = seen.length + stub - STEADY_HALF_MM - self.shop.habit("chuck clearance"), "the bar"
        else:
            band = steady_band(seen, self.shop, bench.free_u(), self.bar)
        if band is None:
            raise CannotMakeError(FIXED_STEADY, "no plain cylinder stands there for its fingers", "turn one first")
        bench.holding = on_fixed_steady(holding, seen, self.shop, *band)


def _only(acts: Sequence[tuple[str, Callable[[], None]]], verb: str, step: RouteStep) -> Sequence[Callable[[], None]]:
    """Those of the acts that the verb names. Raises CannotMakeError when it names none."""
    chosen = [act for kind, act in acts if kind == verb]
    if not chosen:
        known = ", ".join(dict.fromkeys(f"'{kind}: {step.what}'" for kind, _ in acts))
        raise CannotMakeError(step.what, f"'{step.what}' is not made by '{verb}'", f"it takes {known}")
    return chosen
