"""What a written route begins with and holds by: its blank, each hold's bench, and how far jaws stand off what is cut."""

from __future__ import annotations

from dataclasses import dataclass

from handwheel.drawing.records import SolvedPart
from handwheel.job.records import RouteStep, Side
from handwheel.plan.balls import blank_back, can_swing, is_end_ball, room_behind
from handwheel.plan.bench import Bench, CannotMakeError
from handwheel.plan.candidate import CHUCKING_PIECE_MM, STUB_MM, holes_by_holding
from handwheel.plan.centres import DOG_MM, ROOMS_MM, between_holding, dog_stub
from handwheel.plan.grips import (
    BETWEEN,
    FIXED_STEADY,
    bar_chuck,
    bar_holding,
    grip_length,
    on_centred_mandrel,
    on_mandrel,
    on_steady,
    protected,
    second_holdings,
)
from handwheel.plan.records import Stage
from handwheel.plan.stock import Choice
from handwheel.plan.view import Drilling, Link, View, view
from handwheel.stages.metal import ends
from handwheel.stages.records import Holding
from handwheel.workshop.records import Workshop


@dataclass(frozen=True, slots=True)
class Held:
    """A hold with the steps done in it."""

    hold: RouteStep
    steps: tuple[RouteStep, ...]


class Written:
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
