"""The route: for every part the plainest candidate that no check refuses, then the set-ups all parts share."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

from handwheel.drawing.records import Drawing, SolvedPart
from handwheel.job.records import DrawnStock, OutsideKind
from handwheel.plan.across.route import add_across
from handwheel.plan.bench import CannotMakeError
from handwheel.plan.candidate import Candidate, First, carry_out
from handwheel.plan.centres import carry_out_between
from handwheel.plan.cuts import with_cuts, with_cuts_to_mates
from handwheel.plan.gauging import with_gauges
from handwheel.plan.joints import add_bonds
from handwheel.plan.limits import with_limits
from handwheel.plan.mates import with_late_told
from handwheel.plan.oneslide import with_one_setting
from handwheel.plan.order import share_set_ups
from handwheel.plan.records import PartPlan, Plan
from handwheel.plan.running import loses_true, with_running
from handwheel.plan.seats import seat_checks
from handwheel.plan.slides import with_slides
from handwheel.plan.speeds import with_speeds
from handwheel.plan.stock import Choice, choose_bar, greatest_diameter, stouter
from handwheel.plan.tailroom import with_reach
from handwheel.plan.toget import to_get
from handwheel.plan.verdict import Looked, each_check
from handwheel.plan.wallways import with_wall_ways
from handwheel.plan.warmth import with_warmth
from handwheel.plan.ways import between_centres, candidates, with_centres, with_steady
from handwheel.plan.written import plan_written
from handwheel.stages.checks import CHECKED, NOT_CHECKED
from handwheel.stages.records import CheckResult
from handwheel.workshop.records import Workshop


def plan_job(drawing: Drawing, shop: Workshop, begun: Callable[[str], None] | None = None) -> Plan:
    """Every part's route and the running order over all of them. `begun`: told each part's name as its turn comes.

    A part that cannot be made with this workshop has `refused` and `would_do` set, and no stages.
    """
    plans: list[PartPlan] = []
    checks: list[CheckResult] = []
    drawn = {p.name: p for p in drawing.job.parts}
    for part in drawing.parts:
        if begun is not None:
            begun(part.name)
        written, stock = drawn[part.name].route, drawn[part.name].drawn_stock
        plan, found = plan_written(part, stock, written, shop) if written else plan_part(part, stock, shop)
        plan, beside = add_across(with_running(plan, part, shop), part, shop)
        plans.append(with_speeds(plan, part.material, shop))
        checks.extend((*found, *beside))
    material = {p.name: p.material for p in drawing.parts}
    limited = with_limits(tuple(plans), drawing, shop)
    gauged = tuple(with_warmth(with_gauges(p, shop), material[p.part], shop) for p in limited)
    limited = tuple(with_reach(with_cuts(with_slides(p, shop), material[p.part], shop), material[p.part], shop) for p in gauged)
    checks.extend(seat_checks(limited, drawing, shop))
    bonded = add_bonds(with_wall_ways(limited, drawing, shop), drawing, shop)
    bonded = tuple(with_cuts_to_mates(plan, material[plan.part], shop) for plan in bonded)
    shared, set_ups, order, said = share_set_ups(with_one_setting(bonded))
    parts = with_late_told(shared, order, shop)
    return Plan(parts, set_ups, order, to_get(parts, shop), tuple(checks), tuple(CHECKED), tuple(NOT_CHECKED), said)


def plan_part(part: SolvedPart, stock: DrawnStock | None, shop: Workshop) -> tuple[PartPlan, tuple[CheckResult, ...]]:
    """One part's route with its checks; the first candidate that no check refuses, else the reason nearest to success.

    A centre is only tried where a candidate without one stands out too far and has no other fault.
    """
    try:
        bar = choose_bar(part, stock, shop)
    except CannotMakeError as problem:
        return _refused(part, Choice(greatest_diameter(part), "not chosen", False), problem), ()
    bars = (bar,) if stock is not None else (bar, *stouter(bar, part, shop))
    best: CannotMakeError | None = None
    for one in bars:
        found = _from_bar(part, shop, one)
        if found.plan is not None:
            return _truer(found.plan, found.checks, part, shop, one)
        best = best or found.problem
        if not found.is_slender:
            break
    best = best or CannotMakeError(part.name, "no way of holding it was found", "a different workshop")
    stepped = _stepped(part, shop, bars[0], best.why)
    if stepped is not None and stepped.plan is not None:
        return stepped.plan, stepped.checks
    return _refused(part, bar, best), (CheckResult("route", best.why, part.name, 0, best.would_do),)


def _stepped(part: SolvedPart, shop: Workshop, bar: Choice, because: str) -> Attempt | None:
    """Where no slide leads a tool along a cone: the first way of holding it in which it goes by steps; None where no cone
    is the cause or none does. because: what else is wrong with it."""
    cones = [f for f in part.outside if f.source.kind is OutsideKind.CONE]
    if not any(f"{cone.name} cannot be turned so" in because for cone in cones):
        return None
    looked: Looked = {}
    for candidate in candidates(part, shop, bar):
        stepping = replace(candidate, steps_because=f"No slide does: {because.split(': ', 1)[-1]}")
        attempt = _try(part, shop, partial(carry_out, part, shop, bar, stepping), looked, stepping)
        if attempt.plan is None and attempt.is_slender:
            attempt = _looked_at(attempt, part, shop, looked, is_light=True)
        if attempt.plan is not None:
            return attempt
    return None


def _truer(plan: PartPlan, checks: tuple[CheckResult, ...], part: SolvedPart, shop: Workshop,
           bar: Choice) -> tuple[PartPlan, tuple[CheckResult, ...]]:
    """Between centres where that leaves less run-out than the plan does between diameters that have to run true."""
    if loses_true(plan, part, shop):
        for way in between_centres(steady=False):
            attempt = _try(part, shop, partial(carry_out_between, part, shop, bar, way), {})
            if attempt.plan is not None and not loses_true(attempt.plan, part, shop):
                return attempt.plan, attempt.checks
    return plan, checks


def _from_bar(part: SolvedPart, shop: Workshop, bar: Choice) -> Attempt:
    """The first candidate from that bar that no check refuses: within the habit for overhang, with a centre where that
    needs one, else farther out as bending allows, last with a steady. Without one the reason nearest to success, and
    whether a candidate failed for nothing but standing out too far."""
    first: First = {}
    looked: Looked = {}
    tried: list[Attempt] = []
    slender: list[Attempt] = []
    for candidate in candidates(part, shop, bar):
        attempt = _try(part, shop, partial(carry_out, part, shop, bar, candidate, first), looked, candidate)
        if attempt.plan is not None:
            return attempt
        tried.append(attempt)
        slender += [attempt] if attempt.is_slender else []
    plain = [a.candidate for a in slender if a.candidate is not None]
    for candidate in with_centres(plain, part, shop):
        attempt = _try(part, shop, partial(carry_out, part, shop, bar, candidate, first), looked, candidate)
        if attempt.plan is not None:
            return attempt
        slender += [attempt] if attempt.is_slender else []
    turned = [_try(part, shop, partial(carry_out_between, part, shop, bar, way), looked) for way in between_centres(steady=False)]
    for attempt in turned:
        if attempt.plan is not None:
            return attempt
    slender += [attempt for attempt in turned if attempt.is_slender]
    for attempt in slender:
        again = _looked_at(attempt, part, shop, looked, is_light=True)
        if again.plan is not None:
            return again
    for candidate in with_steady(plain):
        attempt = _try(part, shop, partial(carry_out, part, shop, bar, candidate, first), looked, candidate)
        attempt = _looked_at(attempt, part, shop, looked, is_light=True)
        if attempt.plan is not None:
            return attempt
    best = min(tried, key=lambda t: not t.is_carried_out, default=None)
    best = next((t for t in turned if _says_more(t, best)), best)
    if best is not None and best.is_slender:
        best = _looked_at(best, part, shop, looked, is_light=True)
    return Attempt(problem=best.problem if best is not None else None, is_slender=bool(slender))


def _says_more(attempt: Attempt, than: Attempt | None) -> bool:
    """Whether it failed at the same thing with more to say of it."""
    if attempt.problem is None or than is None or than.problem is None:
        return False
    return attempt.problem.why != than.problem.why and attempt.problem.why.startswith(than.problem.why)


@dataclass(frozen=True, slots=True)
class Attempt:
    """What came of one candidate: a plan with its checks, or what is wrong with it."""

    plan: PartPlan | None = None
    checks: tuple[CheckResult, ...] = ()
    problem: CannotMakeError | None = None
    is_carried_out: bool = False
    is_slender: bool = False
    candidate: Candidate | None = None
    carried_out: PartPlan | None = None


def _try(part: SolvedPart, shop: Workshop, work: Callable[[], PartPlan], looked: Looked,
         candidate: Candidate | None = None) -> Attempt:
    try:
        plan = work()
    except CannotMakeError as problem:
        return Attempt(problem=problem)
    return _looked_at(Attempt(candidate=candidate, carried_out=plan), part, shop, looked, is_light=False)


def _looked_at(attempt: Attempt, part: SolvedPart, shop: Workshop, looked: Looked, *, is_light: bool) -> Attempt:
    """The candidate as the checks see it; `is_light`: light cuts may reach farther out than the habit."""
    plan = attempt.carried_out
    if plan is None:
        return attempt
    checks: tuple[CheckResult, ...] = ()
    for found in each_check(plan, part, shop, looked, is_light=is_light):
        checks = (*checks, *found)
        if any(c.is_fault and c.check != "overhang" for c in found):
            break  # this candidate is given up whatever else is wrong with it
    faults = [c for c in checks if c.is_fault]
    if not faults:
        return replace(attempt, plan=plan, checks=checks, problem=None)
    fault = CannotMakeError(part.name, f"{faults[0].check}: {faults[0].found}", faults[0].do)
    is_slender = all(f.check == "overhang" for f in faults)
    return replace(attempt, checks=checks, problem=fault, is_carried_out=True, is_slender=is_slender)


def _refused(part: SolvedPart, bar: Choice, problem: CannotMakeError) -> PartPlan:
    stock = bar.stock(0.0, part.length)
    return PartPlan(part.name, part.quantity, stock, bar.finished(part), (), problem.why, problem.would_do)
