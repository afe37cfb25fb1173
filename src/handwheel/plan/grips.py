"""Ways of holding: the bar for the first holding, finished surfaces for the second."""

from __future__ import annotations

from collections.abc import Iterator

from handwheel.job.records import OutsideKind
from handwheel.plan.balls import is_end_ball
from handwheel.plan.bench import COLLET_CLEAR_MM, CannotMakeError
from handwheel.plan.names import said
from handwheel.plan.stock import Choice
from handwheel.plan.view import Drilling, Link, View
from handwheel.stages.records import Holding
from handwheel.workshop.records import Chuck, Workshop

LEAST_MANDREL_MM = 5.0
"""Thinnest stub mandrel: common practice, no source. [mm]"""
MANDREL_SHARE = 1.0
"""Length of bore to hold by, in diameters: common practice, no source."""
END_CLEAR_MM = 1.0
"""The mandrel stops short of the end to be faced: common practice, no source. [mm]"""
LIP = 0.5
"""A ball-holding collet's lip lies this share of the radius past the centre: sin 30°, common practice, no source."""


CHUCKS_FOR = {"hexagon": ("three-jaw",), "square": ("four-jaw",)}
"""What grips flat-sided bar: jaws on flats that face them."""


def bar_chuck(shop: Workshop, diameter: float, form: str = "round") -> Chuck:
    """The three-jaw chuck, or a collet, that takes the bar. Raises CannotMakeError. [mm]"""
    for kind in CHUCKS_FOR.get(form, ("three-jaw", "four-jaw", "collet")):
        for chuck in shop.chucks:
            if chuck.kind == kind and chuck.least_mm <= diameter <= chuck.greatest_mm:
                return chuck
    raise CannotMakeError("stock", f"no chuck or collet takes {form} bar, Ø {said(shop.units, diameter)} about it",
                          "a larger chuck")  # fmt: skip


def grip_length(shop: Workshop, chuck: Chuck, diameter: float) -> float:
    """Length of bar to grip. [mm]"""
    wanted = max(shop.habit("least grip"), shop.habit("grip share") * diameter)
    return min(chuck.grip_mm, wanted)


def bar_holding(view: View, shop: Workshop, diameter: float, face_u: float, form: str = "round") -> Holding:
    """The bar in the chuck, jaws' face at face_u. [mm]"""
    chuck = bar_chuck(shop, diameter, form)
    length = grip_length(shop, chuck, diameter)
    low, high = view.span(face_u - length, face_u)
    return Holding(
        chuck.name, chuck.kind, low, high, "stock", str(view.toward), view.z(face_u), chuck.body_radius_mm, diameter / 2
    )


def second_holdings(first: View, shop: Workshop, split: int, bar: Choice) -> Iterator[Holding]:
    """Ways to hold what the first holding finished, for the work on the other end; the best first.

    `first` is the first holding's view; links from `split` outward are finished, the others and the end face are not.
    `bar`: what it is cut from, whose own flats are held where they are left.
    """
    work = first.links[split].u0
    found: list[tuple[float, Holding]] = []
    for i in range(len(first.links) - 1, split - 1, -1):
        holding = _on_cylinder(first, shop, i, work, bar)
        if holding:
            found.append((holding.to_mm - holding.from_mm, holding))
    yield from (h for _, h in sorted(found, key=lambda f: -f[0]))
    ball = first.links[-1]
    if ball.kind is OutsideKind.BALL and is_end_ball(ball, first.length):
        holding = _on_ball(first, shop, ball, work)
        if holding:
            yield holding


def _on_cylinder(first: View, shop: Workshop, i: int, work: float, bar: Choice) -> Holding | None:
    link = first.links[i]
    source = link.feature.source
    radius = min(link.r0, bar.diameter / 2.0)
    cut_across = any(a.source.on == link.name and a.name not in bar.leaves for a in first.part.across) or any(
        c.source.host == link.name for c in first.part.cut_in
    )
    if link.kind is not OutsideKind.CYLINDER or source.thread or source.knurl or cut_across:
        return None
    if any(other.greatest > radius + 1e-6 for other in first.links[i + 1 :]):
        return None
    kinds = CHUCKS_FOR[bar.form] if link.name in bar.hosts else ("collet", "three-jaw")
    for kind in kinds:
        clear = COLLET_CLEAR_MM if kind == "collet" else shop.habit("chuck clearance")
        face = max(link.u0, work + clear)
        for chuck in shop.chucks:
            if chuck.kind != kind or not chuck.least_mm <= 2 * radius <= chuck.greatest_mm:
                continue
            if chuck.sizes_mm and not any(abs(s - 2 * radius) < 0.26 for s in chuck.sizes_mm):
                continue
            end = min(link.u1, face + chuck.grip_mm)
            if end - face < shop.habit("least grip") - 1e-9:
                continue
            low, high = first.span(face, end)
            name = chuck.name if kind == "collet" else f"{chuck.name}, protected jaws"
            return Holding(
                name, kind, low, high, link.name, str(first.toward.other), first.z(face), chuck.body_radius_mm, radius
            )
    return None


def _on_ball(first: View, shop: Workshop, ball: Link, work: float) -> Holding | None:
    radius, centre = ball.feature.arc_radius or 0.0, ball.centre or 0.0
    face = centre - LIP * radius
    if face < work + COLLET_CLEAR_MM - 1e-9:
        face = work + COLLET_CLEAR_MM
        if face > centre - 0.26 * radius:
            return None
    for chuck in shop.chucks:
        if chuck.kind == "ball collet" and chuck.least_mm <= 2 * radius <= chuck.greatest_mm:
            low, high = first.span(face, ball.u1)
            return Holding(
                f"{chuck.name} for Ø {said(shop.units, 2 * radius)}",
                "ball collet",
                low,
                high,
                ball.name,
                str(first.toward.other),
                first.z(face),
                chuck.body_radius_mm,
                radius,
            )
    return None


def on_mandrel(first: View, shop: Workshop, holes: tuple[Drilling, ...], split: int) -> Iterator[Holding]:
    """A stub mandrel turned in place to the bore made in the first holding: its plain hole, long enough to hold by."""
    for drilling in holes:
        hole = drilling.hole
        plain = not hole.thread and abs(hole.mouth_radius - hole.bottom_radius) < 1e-9
        least = max(shop.habit("least grip"), 2.0 * MANDREL_SHARE * hole.bottom_radius)
        length = drilling.mouth - drilling.bottom
        if not plain or hole.bottom_radius < LEAST_MANDREL_MM / 2.0 or length < least or first.links[split].u0 > 1e-6:
            continue
        end = drilling.bottom + END_CLEAR_MM
        low, high = first.span(end, drilling.mouth)
        yield Holding(
            "stub mandrel turned in place", "stub mandrel", low, high, hole.name, str(first.toward.other),
            first.z(drilling.mouth), hole.bottom_radius, hole.bottom_radius)  # fmt: skip
