"""One candidate route, tried from bar to finished part.

A candidate says which end goes to the tailstock first, how many links near the headstock are left for the second
holding, how that holds, and whether a holding is steadied by a centre in a stub that comes off last. It is carried out
on a `Bench`; the first thing that cannot be done gives it up with the reason.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

from handwheel.drawing.records import SolvedPart
from handwheel.job.records import OutsideKind, Side, Unit
from handwheel.plan.balls import (
    blank_back,
    blank_mid_ball,
    can_swing,
    finish_end_ball,
    finish_mid_ball,
    is_end_ball,
    is_mid_ball,
    prepare_end_ball,
    room_behind,
)
from handwheel.plan.bench import Bench, CannotMakeError
from handwheel.plan.cutin import knurls_and_grooves, threads
from handwheel.plan.edges import is_corner
from handwheel.plan.ends import (
    centre_stub,
    face_end,
    part_off_to_length,
    saw_blank,
    saw_chucking_piece,
    stub_off,
)
from handwheel.plan.flatsided import said_of_bar
from handwheel.plan.grips import bar_chuck, bar_holding, goes_in, grip_length, on_fixed_steady, steady_band
from handwheel.plan.inside import make_holes
from handwheel.plan.names import said
from handwheel.plan.outside import LEFT_MM, metal_left, turn_link
from handwheel.plan.records import PartPlan, Stage, Stock
from handwheel.plan.stock import Choice
from handwheel.plan.view import Drilling, Link, View, view
from handwheel.stages.compare import excess, same
from handwheel.stages.metal import ends
from handwheel.stages.records import STEADY_HALF_MM, Holding, Section
from handwheel.workshop.records import Workshop

STUB_MM = 8.0
"""Length of the stub left for a centre: common practice, no source. [mm]"""
STEADY = "travelling steady"
HOLLOW_CENTRE = "hollow centre in the tailstock"
CHUCKING_PIECE_MM = 3.0
"""More than this left beyond the finished end is sawn off rather than faced away. [mm]"""


@dataclass(frozen=True, slots=True)
class Candidate:
    """What is to be tried."""

    toward: Side
    split: int
    second: Holding | None
    centre_first: bool
    centre_second: bool
    cup_first: bool = False
    cup_second: bool = False
    steady: bool = False
    """A hollow centre on the ball at the tailstock end, once that is finished: the ball is turned first, while the bar
    is stout, and carries the slender work behind it."""
    steps_because: str = ""
    """Why a cone may be cut by steps: no slide does; "" where others are tried first."""


@dataclass(frozen=True, slots=True)
class Begun:
    """The first holding done: the bench as it then is, not to be worked on itself; where bar and stub end at the back. [mm]"""

    bench: Bench
    stock: Stock
    back_u: float
    stub: float


First = dict[Candidate, Begun | CannotMakeError]
"""What came of first holdings, of one part from one bar: candidates differ mostly in the second."""


def carry_out(part: SolvedPart, shop: Workshop, bar: Choice, candidate: Candidate, first: First | None = None) -> PartPlan:
    """The candidate's whole route. Raises CannotMakeError with the reason when it fails."""
    first = {} if first is None else first
    same_first = replace(candidate, second=None, cup_second=False)
    if same_first not in first:
        try:
            first[same_first] = _begin(part, shop, bar, same_first)
        except CannotMakeError as problem:
            first[same_first] = problem
    begun = first[same_first]
    if isinstance(begun, CannotMakeError):
        raise begun
    bench = replace(begun.bench, stages=[*begun.bench.stages])
    _, far = holes_by_holding(bench.view)
    section = _second(bench, candidate, begun.back_u, begun.stub, far, bar)
    stages = said_of_bar(bench.stages, bar, shop.units)
    complete(part, section, bench.finished, shop.units)
    return PartPlan(part.name, part.quantity, begun.stock, bench.finished, numbered(stages))


def _begin(part: SolvedPart, shop: Workshop, bar: Choice, candidate: Candidate) -> Begun:
    first = view(part, candidate.toward)
    finished = bar.finished(part)
    face_u, free_u, back_u = _stations(first, shop, bar, candidate)
    low, high = first.span(back_u, free_u)
    section = bar.blank(low, high)
    holding = bar_holding(first, shop, bar.diameter, face_u, bar.form)
    bench = Bench(first, shop, finished, section, holding, "bar", as_bought=bar.as_bought(part),
                  steps_because=candidate.steps_because)  # fmt: skip
    stock = bar.stock(low, high)
    saw_blank(bench, stock)
    stub = -back_u - shop.habit("facing allowance")
    if candidate.centre_second:
        face_and_centre(bench, view(part, first.toward.other), bar, stub)
    if candidate.centre_first:
        face_and_centre(bench, first, bar, STUB_MM)
    stub_first = STUB_MM if candidate.centre_first else 0.0
    near, _ = holes_by_holding(first)
    _one_holding(bench, candidate.split, len(first.links), stub_first, candidate, near, bar)
    return Begun(bench, stock, back_u, stub)


def numbered(stages: Iterable[Stage]) -> tuple[Stage, ...]:
    """The stages with their operations' numbers, in tens."""
    return tuple(replace(s, operation=replace(s.operation, number=10 * (i + 1))) for i, s in enumerate(stages))


def _stations(first: View, shop: Workshop, bar: Choice, candidate: Candidate) -> tuple[float, float, float]:
    """u of the chuck's face, of the free end of the blank, and of its back end. [mm]"""
    facing, clear = shop.habit("facing allowance"), shop.habit("chuck clearance")
    end = first.links[-1]
    free = first.length + facing
    face = first.links[candidate.split].u0 - clear if candidate.split < len(first.links) else first.length - clear
    if candidate.split == 0:
        face = -(facing + 3.0 + clear)
    if candidate.centre_first:
        free += STUB_MM
    if (
        is_end_ball(end, first.length)
        and end.kind is OutsideKind.BALL
        and can_swing(shop, end)
        and (shop.ball_tool is not None)
    ):
        radius = end.feature.arc_radius or 0.0
        free += shop.habit("ball end allowance") if end.r1 < 1e-6 else 0.0
        swing = (end.centre or 0.0) - radius - shop.ball_tool.swing_beyond_tip_mm
        back = blank_back(first, end, shop, bar.diameter / 2)
        width = room_behind(first, end, shop, shop.ball_tool, bar.diameter / 2)
        face = min(face, swing - clear - 0.01, min(back, end.u0 - width) - clear - 0.01)
    chuck = bar_chuck(shop, bar.diameter, bar.form)
    if not goes_in(shop, bar, face + facing - chuck.grip_mm):  # its far end stays within the jaws
        face = min(face, chuck.grip_mm - facing)
    back = min(face - grip_length(shop, chuck, bar.diameter), -facing - (STUB_MM if candidate.centre_second else 0.0))
    return face, free, back


def face_and_centre(bench: Bench, seen: View, bar: Choice, stub: float) -> None:
    """Before anything else: an end of the blank faced and centred, for the centre that carries it later. Held short; bar that
    does not pass the spindle at its far end, a fixed steady near this one."""
    chuck, low = bar_chuck(bench.shop, bar.diameter, bar.form), min(seen.u(z) for z in ends(bench.section))
    holding = bar_holding(seen, bench.shop, bar.diameter, seen.length, bar.form)  # the stub stands clear of the jaws
    back = low + grip_length(bench.shop, chuck, bar.diameter)
    out = seen.length + stub - back
    is_in = goes_in(bench.shop, bar, seen.length - chuck.grip_mm - low)
    if not is_in and out <= bench.shop.habit("free overhang") * bar.diameter:
        holding = bar_holding(seen, bench.shop, bar.diameter, back, bar.form)
    elif not is_in:
        at = seen.length + stub - STEADY_HALF_MM - bench.shop.habit("chuck clearance")
        holding = on_fixed_steady(bar_holding(seen, bench.shop, bar.diameter, back, bar.form), seen, bench.shop, at, "the bar")
    other = Bench(seen, bench.shop, bench.finished, bench.section, holding, bench.setting)
    face_end(other, False, stub)
    centre_stub(other, stub)
    bench.stages.extend(other.stages)
    bench.section = other.section


def holes_by_holding(first: View) -> tuple[tuple[Drilling, ...], tuple[Drilling, ...]]:
    """The holes of the first holding and of the second. A plain through hole, no wider than the others, is made from the
    bar, whichever end it is drawn from, so that nothing is bored under the second grip."""
    near, far = first.drillings(True), view(first.part, first.toward.other).drillings(True)
    if not far or not far[-1].hole.source.is_through or far[-1].hole.source.is_cone:
        return near, far
    hole, others = far[-1].hole, (*near, *far[:-1])
    if any(hole.bottom_radius > other.hole.bottom_radius + 1e-6 for other in others):
        return near, far
    mouth = near[-1].bottom if near else first.length
    return (*near, Drilling(hole, mouth, 0.0, 0.0)), far[:-1]


def _one_holding(
    bench: Bench, low: int, high: int, stub: float, candidate: Candidate, holes: tuple[Drilling, ...], bar: Choice
) -> None:
    """Everything done in one holding: links low to high of the bench's view, from the tailstock. `stub`: with a centre
    in it, and the end faced already; 0 without."""
    links = bench.view.links[low:high]
    ball = (
        links[-1]
        if links
        and links[-1].kind is OutsideKind.BALL
        and is_end_ball(links[-1], bench.view.length)
        and can_swing(bench.shop, links[-1])
        else None
    )
    has_cup = candidate.cup_second if bench.holding is candidate.second else candidate.cup_first
    with_centre, has_steady = stub > 0.0, candidate.steady
    bench.is_slender = has_cup
    if with_centre and ball is not None:
        raise CannotMakeError(ball.name, "a centre would stand where the ball's pole is to be", "no centre")
    if has_cup and (ball is None or links[-1].r1 > 1e-6 or holes):
        raise CannotMakeError(bench.view.part.name, "no ball's pole stands at the tailstock for a hollow centre", "no centre")
    if not with_centre:
        face_end(bench, ball is not None and links[-1].r1 < 1e-6, stub)
    if with_centre:
        device = f"{bench.holding.device}; {STEADY}" if has_steady else bench.holding.device
        bench.holding = replace(bench.holding, device=device, centre_mm=bench.free_end()[1], has_steady=has_steady)
    make_holes(bench, holes if not with_centre else ())
    if ball is not None:
        prepare_end_ball(bench, ball)
    if ball is not None and has_cup:
        finish_end_ball(bench, ball)
        bench.holding = replace(bench.holding, device=f"{bench.holding.device}; {HOLLOW_CENTRE} on {ball.name}",
                                centre_mm=bench.free_end()[1])  # fmt: skip
    plain = [link for link in reversed(links) if link is not ball]
    swung = _swung_between(bench, plain) if not with_centre else []
    for late in (False, True):  # corners come off when the surface they stand on is there
        for link in plain:
            if link.kind is not OutsideKind.CONE and is_corner(link) is late and not (link in swung and _blanked(bench, link)):
                turn_link(bench, link)
    knurls_and_grooves(bench, links)
    if not with_centre:
        threads(bench, links)
    for link in plain:  # a set-over top slide last, so that it need not be swung back
        if link.kind is OutsideKind.CONE:
            turn_link(bench, link)
    if with_centre:
        stub_off(bench, stub)
        threads(bench, links)
        if holes:  # it needed a centre to be turned, so it needs a steady to be bored
            _put_in_steady(bench, bar)
        make_holes(bench, holes)
    for link in swung:
        _swing_or_steps(bench, link)
    if ball is not None and not has_cup:
        finish_end_ball(bench, ball)


def _swung_between(bench: Bench, links: Sequence[Link]) -> list[Link]:
    """The balls between two necks that the ball tool reaches."""
    return [link for link in links if is_mid_ball(link, bench.view.length) and can_swing(bench.shop, link)
            and link.name not in bench.as_bought]  # fmt: skip


def _blanked(bench: Bench, link: Link) -> bool:
    """Whether the blank of a ball between two necks can be turned now; the ball itself is swung last."""
    with suppress(CannotMakeError):
        blank_mid_ball(bench, link)
        return True
    return False


def _swing_or_steps(bench: Bench, link: Link) -> None:
    """A ball between two necks swung where the bit and the head have room, else stepped off."""
    if metal_left(bench, link, bench.section) <= LEFT_MM:
        return
    kept, before = len(bench.stages), bench.section
    try:
        finish_mid_ball(bench, link)
    except CannotMakeError:
        del bench.stages[kept:]
        bench.section = before
        turn_link(bench, link)


def _put_in_steady(bench: Bench, bar: Choice) -> None:
    """A fixed steady near the free end, where a turned cylinder carries it and it clears the chuck."""
    band = steady_band(bench.view, bench.shop, bench.free_u(), bar)
    if band is not None and bench.holding.steady_mm is None:
        with suppress(CannotMakeError):
            bench.holding = on_fixed_steady(bench.holding, bench.view, bench.shop, *band)


def _second(bench: Bench, candidate: Candidate, back_u: float, stub: float, holes: tuple[Drilling, ...],
            bar: Choice) -> Section:
    """Take the chucking piece off, turn the part round, and finish the other end."""
    first, second = bench.view, candidate.second
    if second is None:
        if holes:
            raise CannotMakeError(
                holes[0].hole.name, f"{holes[0].hole.name} wants a second holding", "something to grip"
            )
        part_off_to_length(bench)
        return bench.section
    if back_u < -bench.shop.habit("facing allowance") - CHUCKING_PIECE_MM and not candidate.centre_second:
        saw_chucking_piece(bench, second)
    where = "ball" if second.kind == "ball collet" else "finished work"
    turned = view(first.part, first.toward.other)
    other = Bench(turned, bench.shop, bench.finished, bench.section, second, f"{second.kind} on {where}",
                  as_bought=bench.as_bought, steps_because=candidate.steps_because)  # fmt: skip
    count = len(first.links)
    stub = stub if candidate.centre_second else 0.0
    _one_holding(other, count - candidate.split, count, stub, candidate, holes, bar)
    bench.stages.extend(other.stages)
    return other.section


def complete(part: SolvedPart, section: Section, finished: Section, units: Unit) -> None:
    """Raise CannotMakeError where metal is left above the finished part."""
    if not same(section, finished):
        amount, _, r = excess(section, finished)
        raise CannotMakeError(
            part.name, f"{said(units, amount)} of metal would be left, Ø {said(units, 2 * r)}", "another tool"
        )
