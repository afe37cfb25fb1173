"""A blind tapped hole drilled on past its drawn depth for the tap's lead: how far by each tap, what that leaves, which ways on.

A drawn depth is full thread's. The metal model keeps to the drawing; the readings go on by the tap that finishes the hole.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from handwheel.job.records import InsideKind
from handwheel.plan.athand import roots_of
from handwheel.plan.bench import NO_CUTTER, Bench
from handwheel.plan.names import said
from handwheel.plan.records import Makes, Move
from handwheel.plan.threadwords import tap_leads
from handwheel.plan.view import Drilling
from handwheel.stages.check_wall import least_wall, to_the_roots
from handwheel.stages.metal import apply, ends
from handwheel.stages.records import Bore, Section
from handwheel.tables.threadcutting import LEAD_PITCHES, BlindTap, blind_tap
from handwheel.tables.threads import Thread, find_thread

NO_WAY = "no way on leaves it but another drawing"
OPEN_MM = 1e-6


@dataclass(frozen=True, slots=True)
class DrilledOn:
    """The hole drilled on for one tap. more_mm: past the drawn depth; left_mm: the least metal of the finished part then, 0
    where it comes out, and `where`; may: whether that is no less than the habit, or than the drawing leaves anyway. [mm]"""

    tap: str
    lead_pitches: float
    more_mm: float
    left_mm: float
    where: str
    may: bool


def drilled_on(bench: Bench, hole: Drilling) -> tuple[DrilledOn, ...]:
    """How far a blind tapped hole is drilled on, for each tap that may finish it, the longest lead first; () for others."""
    thread = find_thread(hole.hole.thread) if hole.hole.thread else None
    if thread is None or hole.hole.source.is_through:
        return ()
    wanted, found = _wanted(bench), []
    for tap, pitches in tap_leads(bench.shop, thread):
        deep = _deep(hole, thread, pitches)
        left, where = left_behind(bench, hole, deep.drill_to_mm, hole.bottom - hole.tip)
        found.append(DrilledOn(tap, pitches, deep.drill_to_mm - deep.full_thread_mm, left, where, left >= wanted))
    return tuple(found)


def has_rows(hole: Drilling) -> bool:
    """Whether the drill alone makes the hole, with its point: then it has a reading for each tap."""
    source = hole.hole.source
    return source.kind is InsideKind.HOLE and source.finish in ("", "drilled") and hole.bottom - hole.tip > OPEN_MM


def drill_on_moves(bench: Bench, hole: Drilling, zero: str) -> tuple[Move, ...]:
    """The tailstock's further readings from the same zero, one for each tap whose depth leaves the wall that is wanted and is
    within the barrel's travel."""
    if not has_rows(hole):
        return ()
    to_tip, wheel = bench.free_u() - hole.tip, bench.shop.lathe.wheels.get("tailstock")
    most = math.inf if wheel is None or wheel.travel_mm is None else wheel.travel_mm
    return tuple(
        Move("tailstock", "toward the headstock", zero, to_tip + on.more_mm,
             Makes(f"{hole.hole.name}: point, this far instead for {on.tap}, lead {on.lead_pitches:g} threads",
                   to_tip + on.more_mm, None, None, False))
        for on in drilled_on(bench, hole) if on.may and to_tip + on.more_mm <= most
    )  # fmt: skip


def lead_note(bench: Bench, hole: Drilling) -> str:
    """What the drill of a blind tapped hole is to be told: the depths by tap, what they leave, and those there is no room for."""
    found, units = drilled_on(bench, hole), bench.shop.units
    if not found:
        return ""
    full = hole.mouth - hole.bottom
    is_dialled = has_rows(hole) and any(on.may for on in found)
    words = ["the first row is full thread's depth: drill by one of the others, for the tap that finishes the hole" if is_dialled
             else "that is full thread's depth"]  # fmt: skip
    for on in found:
        depth = f"{on.tap} (lead {on.lead_pitches:g} threads): full diameter to {said(units, full + on.more_mm)}"
        words.append(f"{depth}, {_left_words(bench, on)}")
    if not found[0].may:
        words.append(_ways_words(bench, hole))
    return "; ".join(words)


def metal_behind(bench: Bench, hole: Drilling, thread: Thread, lead_pitches: float) -> str:
    """What the hole drilled on for that lead leaves of the finished part, and which ways on leave the habit."""
    deep = _deep(hole, thread, lead_pitches)
    left, where = left_behind(bench, hole, deep.drill_to_mm, hole.bottom - hole.tip)
    on = DrilledOn("", lead_pitches, deep.drill_to_mm - deep.full_thread_mm, left, where, left >= _wanted(bench))
    return _left_words(bench, on) if on.may else f"{_left_words(bench, on)}; {_ways_words(bench, hole)}"


def _left_words(bench: Bench, on: DrilledOn) -> str:
    units = bench.shop.units
    if on.may:
        return f"{said(units, on.left_mm)} {on.where}"
    what = f"only {said(units, on.left_mm)} {on.where}" if on.left_mm > 0.0 else "none, it comes out"
    return f"{what}, {said(units, bench.shop.habit('least wall'))} is the habit"


def _ways_words(bench: Bench, hole: Drilling) -> str:
    thread = find_thread(hole.hole.thread)
    ways = () if thread is None else _ways(bench, hole, thread)
    return "or ".join(ways) if ways else NO_WAY


def _wanted(bench: Bench) -> float:
    """The wall of the habit, or that the drawing leaves anyway where it is less. [mm]"""
    habit = bench.shop.habit("least wall")
    return min(habit, _least(bench, bench.finished)[0]) - OPEN_MM


def _least(bench: Bench, section: Section) -> tuple[float, str]:
    """The least wall of a finished section, every thread taken out to its root; and where. [mm]"""
    left, _, where = least_wall(to_the_roots(section, roots_of(bench.view.part)), bench.shop.habit("least wall"))
    return left, where


def _deep(hole: Drilling, thread: Thread, lead_pitches: float) -> BlindTap:
    return blind_tap(thread, hole.mouth - hole.bottom, lead_pitches, float(hole.hole.source.point_deg))


def _ways(bench: Bench, hole: Drilling, thread: Thread) -> list[str]:
    """The ways on that leave enough: bottoming tap, flat bottom with it, less full thread."""
    shop, full, point, wanted = bench.shop, hole.mouth - hole.bottom, float(hole.hole.source.point_deg), _wanted(bench)
    bottoming = blind_tap(thread, full, LEAD_PITCHES["bottoming"], point)
    found = []
    for what, tip in (("a bottoming tap last", bottoming.point_to_mm - bottoming.drill_to_mm),
                      ("that and a flat-bottomed hole", 0.0)):  # fmt: skip
        left, _ = left_behind(bench, hole, bottoming.drill_to_mm, tip)
        if left >= wanted:
            found.append(f"{what}, drilled to {said(shop.units, bottoming.drill_to_mm)}: {said(shop.units, left)} left; ")
            break
    lead = min(pitches for _, pitches in tap_leads(shop, thread) if pitches > LEAD_PITCHES["bottoming"])
    for share in range(19, 3, -1):
        less = blind_tap(thread, full * share / 20.0, lead, point)
        if left_behind(bench, hole, less.drill_to_mm, less.point_to_mm - less.drill_to_mm)[0] >= wanted:
            depths = said(shop.units, less.full_thread_mm), said(shop.units, less.drill_to_mm)
            found.append(f"{depths[0]} of full thread, drilled to {depths[1]}")
            break
    return found


def left_behind(bench: Bench, hole: Drilling, drill_to: float, tip: float) -> tuple[float, str]:
    """The least metal of the finished part with the hole so deep, 0 where it comes out or into another hole; and where. [mm]"""
    bottom, radius = hole.mouth - drill_to, hole.hole.bottom_radius
    points = [(bottom, radius), (hole.mouth, radius)]
    if tip:
        points.insert(0, (bottom - tip, 0.0))
    low, high = ends(bench.finished)
    if not low + OPEN_MM < bench.view.z(bottom - tip) < high - OPEN_MM or _is_open(bench, bottom - tip, hole.tip):
        return 0.0, ""
    left, where = _least(bench, apply(bench.finished, Bore(bench.view.profile(points)), NO_CUTTER))
    return max(left, 0.0), where


def _is_open(bench: Bench, from_u: float, to_u: float) -> bool:
    """Whether the finished part has a hole already between the deeper point and the drawn one."""
    low, high = bench.view.span(from_u, to_u)
    inner = bench.finished.inner
    inside = (inner[:, 0] > low + OPEN_MM) & (inner[:, 0] < high - OPEN_MM)
    return bool((inner[inside, 1] > OPEN_MM).any())
