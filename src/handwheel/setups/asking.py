"""Threads for someone who only has a question: the figures of one thread, in a hole or outside."""

from __future__ import annotations

from handwheel.plan.names import said
from handwheel.plan.threadwords import (
    SCREW_METAL,
    between,
    blind_figures,
    die_figures,
    drill_figures,
    engagement_mm,
    tap_lead_pitches,
    tap_leads,
)
from handwheel.readings.dial import dial, unit_of, wheel_of
from handwheel.readings.words import turns_text
from handwheel.setups.records import Figure, Step
from handwheel.setups.threading import die_steps, tap_steps
from handwheel.tables.threadcutting import blind_tap
from handwheel.tables.threads import Thread
from handwheel.workshop.records import Workshop

POINT_DEG = 118.0
HOLE_METALS = ("mild steel", "brass", "aluminium")


def thread_asked(
    thread: Thread, is_inside: bool, depth_mm: float | None, shop: Workshop
) -> tuple[tuple[Step, ...], tuple[Figure, ...]]:
    """How a thread is cut by tap (is_inside) or by die; depth_mm: of full thread in a blind hole, None: not said. [mm]"""
    if is_inside:
        found = drill_figures(shop, thread)
        if depth_mm is not None:
            found += blind_figures(shop, thread, depth_mm, tap_lead_pitches(shop, thread), POINT_DEG)
            found += _drilled_by_tap(shop, thread, depth_mm)
        found += _engaged(shop, thread)
        return tap_steps(shop, is_left_hand=thread.is_left_hand), _figures(found)
    blank = thread.major_mm - shop.habit("die blank share") * thread.pitch_mm
    return die_steps(shop, is_left_hand=thread.is_left_hand), _figures(die_figures(shop, thread, blank, "a shoulder"))


def _drilled_by_tap(shop: Workshop, thread: Thread, depth_mm: float) -> tuple[tuple[str, str], ...]:
    """How far the tailstock goes from where the drill's point touches, for each tap that may finish the hole. [mm]"""
    wheel, found = wheel_of(shop, "tailstock"), []
    if wheel is None or wheel.divisions < 1:
        return ()
    for tap, pitches in tap_leads(shop, thread):
        to_point = blind_tap(thread, depth_mm, pitches, POINT_DEG).point_to_mm
        turns, divisions, _ = dial(to_point, wheel)
        found.append((f"tailstock, {tap}", f"{turns_text(turns, divisions, unit_of(wheel))} from where the point touches: "
                      f"{said(shop.units, to_point)} (lead of {pitches:g} threads)"))  # fmt: skip
    return tuple(found)


def _engaged(shop: Workshop, thread: Thread) -> tuple[tuple[str, str], ...]:
    """The engagement in metals of the hole that are in most use, a mild steel screw."""
    ranges = ((material, engagement_mm(thread, material, None)) for material in HOLE_METALS)
    told = "; ".join(f"in {material} {between(shop, *found)}" for material, found in ranges if found)
    return (("engagement", f"{told}: for a {SCREW_METAL} screw to part before a thread strips"),) if told else ()


def _figures(found: tuple[tuple[str, str], ...]) -> tuple[Figure, ...]:
    return tuple(Figure(head, value) for head, value in found)
