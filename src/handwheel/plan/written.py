"""A route as the maker wrote it, carried out step by step and looked at exactly as an automatic one is.

The first step that cannot be done is refused with the reason, and nothing after it has readings. What the route leaves
undone is refused at its end.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from handwheel.drawing.records import SolvedPart
from handwheel.job.records import DrawnStock, RouteStep, Side
from handwheel.plan.balls import ball_acts, blank_back, can_swing, is_end_ball, room_behind
from handwheel.plan.bench import NO_CUTTER, Bench, CannotMakeError
from handwheel.plan.candidate import CHUCKING_PIECE_MM, HOLLOW_CENTRE, STEADY, STUB_MM, holes_by_holding
from handwheel.plan.centres import DOG_MM, ROOMS_MM, between_holding, dog_stub
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
    BETWEEN,
    FIXED_STEADY,
    bar_chuck,
    bar_holding,
    grip_length,
    on_centred_mandrel,
    on_fixed_steady,
    on_mandrel,
    on_steady,
    protected,
    second_holdings,
    steady_band,
)
from handwheel.plan.inside import centre_hole, hole_acts
from handwheel.plan.outside import metal_left, turn_link
from handwheel.plan.records import Operation, PartPlan, Stage, Why
from handwheel.plan.stock import Choice, choose_bar, greatest_diameter
from handwheel.plan.verdict import checks_of
from handwheel.plan.view import Drilling, Link, View, view
from handwheel.stages.compare import same
from handwheel.stages.finished import finished_section
from handwheel.stages.metal import ends
from handwheel.stages.records import STEADY_HALF_MM, CheckResult, Holding, NoCut
from handwheel.workshop.records import Workshop

TURNED = ("turn", "taper", "chamfer", "curve", "groove")
BALLS = ("blank", "relieve", "corner", "ball")
HOLES = ("drill", "ream", "bore", "tap")
KIND_OF_VERB = {"blank": "turn", "corner": "chamfer", "stub off": "part off", "hold": "fit", "support": "fit"}
WRITTEN = "as-written"
LEFT_MM = 0.002


@dataclass(frozen=True, slots=True)
class Held:
    """A hold with the steps done in it."""

    hold: RouteStep
    steps: tuple[RouteStep, ...]


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


class _Work:
    """The bench as it stands, hold after hold."""

    def __init__(self, part: SolvedPart, shop: Workshop, bar: Choice, holds: tuple[Held, ...]) -> None:
        self.part, self.shop, self.bar, self.holds = part, shop, bar, holds
        self.finished = bar.finished(part)
        self.extra = {side: self._beyond(side) for side in Side}
        self.stages: list[Stage] = []
        low, high = self._blank()
        self.section = bar.blank(low, high)
        self.stock = bar.stock(low, high)
        self.faced: set[Side] = set()
        self.stubs: set[Side] = set()
        self.centred: set[Side] = set()
        self.rounded: set[Side] = set()

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

    # the blank

    def _beyond(self, side: Side) -> float:
        """What the blank has beyond a finished end: facing, a stub for a centre, a ball's allowance. [mm]"""
        found = self.shop.habit("facing allowance")
        dog = next((h.hold for h in self.holds if h.hold.what == BETWEEN and h.hold.toward is side.other), None)
        if dog is not None:
            found += dog_stub(self.shop, ROOMS_MM[0]) if dog.out_mm is None else float(dog.out_mm) - self.part.length + DOG_MM
        elif self._has("centre", side):
            found += STUB_MM
        from_bar = any(h.hold.surface == "stock" and h.hold.toward is side and any(s.verb == "ball" for s in h.steps)
                       for h in self.holds)  # fmt: skip
        return found + (self.shop.habit("ball end allowance") if from_bar and self._pole(side) else 0.0)

    def _has(self, verb: str, side: Side) -> bool:
        return any(s.verb == verb and s.toward is side for h in self.holds for s in h.steps)

    def _pole(self, side: Side) -> bool:
        """Whether a ball is swung to its pole at that end."""
        end = view(self.part, side).links[-1]
        swung = any(s.verb == "ball" and s.what == end.name for h in self.holds for s in h.steps)
        return swung and end.r1 < 1e-6 and is_end_ball(end, self.part.length)

    def _blank(self) -> tuple[float, float]:
        low, high = -self.extra[Side.LEFT], self.part.length + self.extra[Side.RIGHT]
        for held in self.holds:
            if held.hold.surface != "stock" or held.hold.toward is None or held.hold.what == BETWEEN:
                continue
            seen = view(self.part, held.hold.toward)
            face = self._face(held, seen)
            back = face - grip_length(self.shop, bar_chuck(self.shop, self.bar.diameter, self.bar.form), self.bar.diameter)
            low, high = min(low, *seen.span(back, face)), max(high, *seen.span(back, face))
        self.extra = {Side.LEFT: -low, Side.RIGHT: high - self.part.length}
        return low, high

    def _face(self, held: Held, seen: View) -> float:
        """u of the jaws' face for a hold on the bar: as written, else clear of the last thing that is cut. [mm]"""
        if held.hold.out_mm is not None:
            return seen.length - float(held.hold.out_mm)
        clear = self.shop.habit("chuck clearance")
        links = self._links(held, seen)
        if not links:
            return seen.length
        face = min(link.u0 for link in links) - clear
        if links[0] is seen.links[0]:
            face = -(self.shop.habit("facing allowance") + CHUCKING_PIECE_MM + clear)
        ball = seen.links[-1]
        tool = self.shop.ball_tool
        if ball in links and is_end_ball(ball, seen.length) and can_swing(self.shop, ball) and tool is not None:
            radius, bar = ball.feature.arc_radius or 0.0, self.bar.diameter / 2
            swing = (ball.centre or 0.0) - radius - tool.swing_beyond_tip_mm
            back = blank_back(seen, ball, self.shop, bar)
            width = room_behind(seen, ball, self.shop, tool, bar)
            face = min(face, swing - clear - 0.01, min(back, ball.u0 - width) - clear - 0.01)
        return face

    def _links(self, held: Held, seen: View) -> list[Link]:
        """The links that the hold's steps work on, from the headstock."""
        hosts = {c.name: c.source.host for c in self.part.cut_in}
        names = {hosts.get(s.what, s.what) for s in held.steps}
        return [link for link in seen.links if link.name in names]

    # holding

    def _hold(self, held: Held) -> Bench:
        hold = held.hold
        toward = hold.toward or Side.RIGHT
        seen = view(self.part, toward)
        if hold.what == BETWEEN:
            return self._between(seen)
        if hold.surface == "stock":
            holding = bar_holding(seen, self.shop, self.bar.diameter, self._face(held, seen), self.bar.form)
            low, high = ends(self.section)
            if holding.from_mm < low - 1e-6 or holding.to_mm > high + 1e-6:
                raise CannotMakeError("stock", "nothing of the bar is left there to hold by",
                                      "hold it on something that is finished, or saw the bar off later")  # fmt: skip
            return Bench(seen, self.shop, self.finished, self.section, holding, "bar", as_bought=self.bar.as_bought(self.part))
        holding = self._on_finished(held, seen)
        where = "ball" if holding.kind == "ball collet" else "finished work"
        is_far = any(s.verb == "support" and s.what == "hollow centre" for s in held.steps)
        return Bench(seen, self.shop, self.finished, self.section, holding, f"{holding.kind} on {where}",
                     as_bought=self.bar.as_bought(self.part), is_slender=is_far)  # fmt: skip

    def _between(self, seen: View) -> Bench:
        """Between the two centres that were made before. Raises CannotMakeError where one is not there."""
        for side in Side:
            if side not in self.centred:
                raise CannotMakeError("centre", f"there is no centre in the {side} end",
                                      f"hold that end to the tailstock first and write '- centre: {side} end'")  # fmt: skip
        stub = self.extra[seen.toward.other] - self.shop.habit("facing allowance")
        holding = between_holding(seen, self.bar, stub, seen.length + STUB_MM)
        return Bench(seen, self.shop, self.finished, self.section, holding, BETWEEN, as_bought=self.bar.as_bought(self.part))

    def _on_finished(self, held: Held, seen: View) -> Holding:
        """The holding by a finished surface. Raises CannotMakeError with what could be held instead."""
        other = view(self.part, seen.toward.other)
        split = max((other.links.index(link) + 1 for link in self._links(held, other)), default=0)
        possible: list[Holding] = []
        if split < len(other.links):
            possible = [*second_holdings(other, self.shop, split, self.bar), *protected(other, self.shop, split, self.bar),
                        *on_mandrel(other, self.shop, self._drillings(other), split)]  # fmt: skip
            if any(s.verb == "support" and s.what == FIXED_STEADY for s in held.steps):
                possible = [*on_steady(other, self.shop, split, self.bar), *possible]
        possible += on_centred_mandrel(other, self.shop, self._drillings(other))
        for holding in possible:
            if holding.kind == held.hold.what and holding.surface == held.hold.surface:
                return holding
        ways = "; ".join(f"{h.kind} on {h.surface}" for h in possible) or "leave a chucking piece, or work in another order"
        raise CannotMakeError(
            held.hold.surface,
            f"'{held.hold.surface}' cannot be held by a {held.hold.what} for this: too short, not round and plain, or in "
            "the way of what is to be cut", ways)  # fmt: skip

    def _drillings(self, seen: View) -> tuple[Drilling, ...]:
        return holes_by_holding(seen)[0]

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
