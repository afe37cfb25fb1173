"""Ways of holding: the bar for the first holding, finished surfaces for the second."""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace

from handwheel.job.records import OutsideKind
from handwheel.plan.balls import is_end_ball
from handwheel.plan.bench import COLLET_CLEAR_MM, CannotMakeError
from handwheel.plan.names import said
from handwheel.plan.stock import Choice
from handwheel.plan.view import Drilling, Link, View, view
from handwheel.stages.records import STEADY_HALF_MM, Holding
from handwheel.workshop.records import Chuck, Workshop

FIXED_STEADY = "fixed steady"
SOFT_JAWS, SPLIT_BUSH, MANDREL, BETWEEN = "soft jaws", "split bush", "mandrel", "between centres"
SHORT_GRIP = 0.5
"""Grip on finished work that a steady carries, in diameters: common practice, no source."""
BUSH_IN = {SPLIT_BUSH: "three-jaw"}
"""The chuck that holds what holds the work."""
CHUCK_DEEP_MM = 40.0
"""From behind the jaws to the spindle's nose: common practice, no source. [mm]"""
BUSH_WALL_MM = 3.0
"""Wall of a split bush: common practice, no source. [mm]"""
MANDREL_BEYOND_MM = 25.0
"""How far a mandrel stands out of the work at either end: common practice, no source. [mm]"""
LEAST_MANDREL_MM = 5.0
"""Thinnest stub mandrel: common practice, no source. [mm]"""
MANDREL_SHARE = 1.0
"""Length of bore to hold by, in diameters: common practice, no source."""
END_CLEAR_MM = 1.0
"""The mandrel stops short of the end to be faced: common practice, no source. [mm]"""
LEAST_MOUTH_MM = 0.8
"""A ball collet's mouth stands at least so far past the ball's centre: a lip of half a millimetre and a seat behind it.
Common practice, no source. [mm]"""
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


def goes_in(shop: Workshop, bar: Choice, behind_mm: float) -> bool:
    """Whether the bar goes so far in behind the jaws: past the chuck's bore, and past the spindle's beyond the chuck's own
    depth; taken to where they are not known. [mm]"""
    through, bore = bar_chuck(shop, bar.diameter, bar.form).through_mm, shop.lathe.spindle_bore_mm
    if behind_mm <= 1e-9:
        return True
    if through is not None and bar.diameter > through + 1e-9:
        return False
    return bore is None or bar.diameter <= bore + 1e-9 or behind_mm <= CHUCK_DEEP_MM


def on_fixed_steady(holding: Holding, seen: View, shop: Workshop, at_u: float, on: str) -> Holding:
    """The holding with a fixed steady at that place. Raises CannotMakeError where it would stand in the jaws. [mm]"""
    if at_u - STEADY_HALF_MM < seen.u(holding.face_mm) + shop.habit("chuck clearance") - 1e-9:
        raise CannotMakeError(on, "there is no room for a fixed steady before the chuck", "hold it without one")
    return replace(holding, device=f"{holding.device}; {FIXED_STEADY} on {on}", steady_mm=seen.z(at_u))


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
    if link.kind is not OutsideKind.CYLINDER or source.thread or source.knurl or _is_cut(first, link, bar):
        return None
    if any(other.greatest > radius + 1e-6 for other in first.links[i + 1 :]):
        return None
    kinds = CHUCKS_FOR[bar.form] if link.name in bar.hosts else ("collet", "three-jaw")
    for kind in kinds:
        clear = COLLET_CLEAR_MM if kind == "collet" else shop.habit("chuck clearance")
        for chuck in shop.chucks:
            face = max(link.u0, work + clear, _stout_end(first, chuck) - chuck.grip_mm)
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


def _stout_end(first: View, chuck: Chuck) -> float:
    """Where what does not pass behind the jaws ends: it stands no deeper than they are long. [mm]"""
    if chuck.through_mm is None:
        return -math.inf
    return max((link.u1 for link in first.links if 2.0 * link.greatest > chuck.through_mm + 1e-6), default=-math.inf)


def _is_cut(first: View, link: Link, bar: Choice) -> bool:
    """Whether something is cut across a feature or into it, so that it is no plain cylinder."""
    return any(a.source.on == link.name and a.name not in bar.leaves for a in first.part.across) or any(
        c.source.host == link.name for c in first.part.cut_in)  # fmt: skip


def _on_ball(first: View, shop: Workshop, ball: Link, work: float) -> Holding | None:
    radius, centre = ball.feature.arc_radius or 0.0, ball.centre or 0.0
    face = centre - LIP * radius
    if face < work + COLLET_CLEAR_MM - 1e-9:
        face = work + COLLET_CLEAR_MM
        if face > centre - 0.26 * radius:
            return None
    if centre - face < LEAST_MOUTH_MM:
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


def protected(first: View, shop: Workshop, split: int, bar: Choice) -> Iterator[Holding]:
    """Holding what is finished without marking it where no collet does: soft jaws bored to it, then a split bush bored to
    it in the three-jaw chuck, in halves where something larger has to pass."""
    work = first.links[split].u0
    for kind in (SOFT_JAWS, SPLIT_BUSH):
        for i in range(len(first.links) - 1, split - 1, -1):
            holding = _in_bush_or_jaws(first, shop, i, work, bar, kind)
            if holding is not None:
                yield holding


def _in_bush_or_jaws(first: View, shop: Workshop, i: int, work: float, bar: Choice, kind: str) -> Holding | None:
    link = first.links[i]
    if link.kind is not OutsideKind.CYLINDER or link.feature.source.knurl or link.name in bar.hosts or _is_cut(first, link, bar):
        return None
    if link.feature.thread and kind != SPLIT_BUSH:
        return None
    radius, beyond = link.r0, max((o.greatest for o in first.links[i + 1 :]), default=0.0)
    if kind == SOFT_JAWS and beyond > radius + 1e-6:
        return None
    outside = max(radius, beyond) + BUSH_WALL_MM if kind == SPLIT_BUSH else radius
    face = max(link.u0, work + shop.habit("chuck clearance"))
    for chuck in shop.chucks:
        if chuck.kind != BUSH_IN.get(kind, kind) or not chuck.least_mm <= 2 * outside <= chuck.greatest_mm:
            continue
        end = min(link.u1, face + chuck.grip_mm)
        if end - face < shop.habit("least grip") - 1e-9:
            continue
        low, high = first.span(face, end)
        halves = " in halves" if beyond > radius + 1e-6 else ""
        device = f"{SPLIT_BUSH}{halves} bored to {link.name} in the {chuck.name}" if kind == SPLIT_BUSH else (
            f"{chuck.name}, bored to {link.name} in place")
        return Holding(device, kind, low, high, link.name, str(first.toward.other), first.z(face), chuck.body_radius_mm, radius)
    return None


def on_centred_mandrel(first: View, shop: Workshop, holes: tuple[Drilling, ...]) -> Iterator[Holding]:
    """A mandrel between centres pressed into the bore made in the first holding: the whole outside and the other face then
    run true with it. The bore goes right through, plain, and long enough to hold by."""
    for drilling in holes:
        hole, clear = drilling.hole, shop.habit("chuck clearance")
        plain = not hole.thread and abs(hole.mouth_radius - hole.bottom_radius) < 1e-9
        length = drilling.mouth - drilling.bottom
        least = max(shop.habit("least grip"), 2.0 * MANDREL_SHARE * hole.bottom_radius)
        if not plain or hole.bottom_radius < LEAST_MANDREL_MM / 2.0 or length < least + 2.0 * END_CLEAR_MM:
            continue
        if drilling.bottom > 1e-6 or drilling.mouth < first.length - 1e-6:
            continue
        low, high = first.span(END_CLEAR_MM, first.length - END_CLEAR_MM)
        head, tail = first.length + MANDREL_BEYOND_MM, -MANDREL_BEYOND_MM
        yield Holding(f"mandrel {BETWEEN}", MANDREL, low, high, hole.name, str(first.toward.other),
                      first.z(first.length + clear + END_CLEAR_MM), hole.bottom_radius, hole.bottom_radius, first.z(tail), False,
                      first.z(head))  # fmt: skip


def on_steady(first: View, shop: Workshop, split: int, bar: Choice) -> Iterator[Holding]:
    """Long work gripped by its far end, a fixed steady on the finished cylinder nearest to what is to be cut."""
    turned, clear = view(first.part, first.toward.other), shop.habit("chuck clearance")
    band = steady_band(turned, shop, turned.length - first.links[split].u0, bar)
    if band is None:
        return
    least = turned.length - band[0] + STEADY_HALF_MM + clear
    for i in range(len(first.links) - 1, split - 1, -1):
        link = first.links[i]
        length = max(shop.habit("least grip"), SHORT_GRIP * 2.0 * link.r0)
        if _is_band(first, link, bar) and link.u1 - length >= max(least, link.u0):
            holding = _on_cylinder(first, shop, i, link.u1 - length - clear, bar)
            if holding is not None and first.u(holding.face_mm) >= least:
                with suppress(CannotMakeError):
                    yield on_fixed_steady(holding, turned, shop, *band)
                return


def steady_band(seen: View, shop: Workshop, work_u: float, bar: Choice) -> tuple[float, str] | None:
    """Where a fixed steady carries finished work nearest to what is cut beyond work_u: its place and the feature. [mm]"""
    for link in reversed(seen.links):
        end = min(link.u1, work_u - shop.habit("chuck clearance"))
        if _is_band(seen, link, bar) and end - link.u0 >= 2.0 * STEADY_HALF_MM:
            return end - STEADY_HALF_MM, link.name
    return None


def _is_band(seen: View, link: Link, bar: Choice) -> bool:
    """Whether a steady's fingers may run on it: a plain cylinder, turned."""
    is_plain = link.kind is OutsideKind.CYLINDER and not link.feature.thread and not link.feature.source.knurl
    return is_plain and link.name not in bar.hosts and not _is_cut(seen, link, bar)


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
