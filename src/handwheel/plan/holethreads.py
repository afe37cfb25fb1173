"""Threads in holes: by tap where one is at hand or the thread is fine, else by a pointed tool from inside."""

from __future__ import annotations

from collections.abc import Callable

from handwheel.plan.bench import NO_CUTTER, Bench
from handwheel.plan.caution import caution_for
from handwheel.plan.names import said
from handwheel.plan.records import Why
from handwheel.plan.singlepoint import ThreadPlace, can_single_point, runs_out, single_point
from handwheel.plan.threadwords import (
    Figures,
    blind_figures,
    drill_figures,
    engagement_figures,
    tap_lead_pitches,
    tapping_choice,
)
from handwheel.plan.view import Drilling
from handwheel.stages.check_wall import least_wall
from handwheel.stages.metal import apply, ends
from handwheel.stages.records import Bore, Cutter, NoCut
from handwheel.tables.threadcutting import LEAD_PITCHES, BlindTap, blind_tap
from handwheel.tables.threads import Thread, find_thread

NO_WAY = "no way on leaves it but another drawing"


def hole_thread_acts(bench: Bench, name: str, designation: str, radius: float, between: tuple[float, float]
                     ) -> list[tuple[str, Callable[[], None]]]:
    """What cuts a thread in a hole made to that radius, between two places: its kind, and what carries it out. [mm]"""
    thread = find_thread(designation)
    is_owned = any(t.kind == "tap" and t.designation == designation for t in bench.shop.round_tools)
    if thread is None or is_owned or not can_single_point(bench.shop, thread, True):
        return [("tap", lambda: _tap(bench, name, designation, between))]
    place = ThreadPlace(name, thread, min(between), max(between), radius, is_inside=True)
    if thread.is_left_hand and not runs_out(bench, place):
        return [("tap", lambda: _tap(bench, name, designation, between))]
    return [("thread", lambda: single_point(bench, place, "no tap for it is at hand"))]


def _tap(bench: Bench, name: str, designation: str, between: tuple[float, float]) -> None:
    why = Why("tap-after-drill", (name,), f"{name}: {designation}")
    tap = Cutter(f"tap {designation}", "tap", NO_CUTTER.outline)
    bench.must(name, "a tap", bench.attempt("tap", NoCut(), tap, why, caution=caution_for("tap"), note=f"tap {designation}",
                                            figures=tap_figures(bench, name, designation, between)))  # fmt: skip


def tap_figures(bench: Bench, name: str, designation: str, between: tuple[float, float]) -> Figures:
    """What a tapped hole on the axis is set by: drill, depths, the metal left behind them, engagement. [mm]"""
    thread, shop = find_thread(designation), bench.shop
    if thread is None:
        return ()
    choice, length = tapping_choice(shop, thread), max(between) - min(between)
    found = drill_figures(shop, thread)
    hole = next((d for d in bench.view.drillings(True) if d.hole.name == name), None)
    if hole is not None and not hole.hole.source.is_through:
        point, lead = float(hole.hole.source.point_deg), tap_lead_pitches(shop, thread)
        found += blind_figures(shop, thread, length, lead, point)
        deep = blind_tap(thread, length, lead, point)
        found += (("metal behind", _behind(bench, hole, deep, thread.minor_internal_mm / 2.0)),)
    size = None if choice is None else choice.diameter_mm
    return (*found, *engagement_figures(shop, thread, bench.view.part.material, size, length))


def lead_note(bench: Bench, hole: Drilling) -> str:
    """What the drill of a blind tapped hole is to be told: how deep for the tap's lead, and what that leaves; else ""."""
    call = hole.hole.source.thread
    thread = None if call is None else find_thread(call.designation)
    if call is None or thread is None or hole.hole.source.is_through:
        return ""
    acts = hole_thread_acts(bench, hole.hole.name, call.designation, hole.hole.bottom_radius, (hole.bottom, hole.mouth))
    if [kind for kind, _ in acts] != ["tap"]:
        return ""
    lead = tap_lead_pitches(bench.shop, thread)
    deep = blind_tap(thread, hole.mouth - hole.bottom, lead, float(hole.hole.source.point_deg))
    return (f"that is full thread's depth: on to {said(bench.shop.units, deep.drill_to_mm)} full diameter for the tap's lead of "
            f"{lead:g} threads; metal behind then {_behind(bench, hole, deep, thread.minor_internal_mm / 2.0)}")  # fmt: skip


def _behind(bench: Bench, hole: Drilling, deep: BlindTap, radius: float) -> str:
    """What the hole drilled on for the tap's lead leaves of the finished part, and which ways on leave the habit."""
    shop, habit = bench.shop, bench.shop.habit("least wall")
    wanted = min(habit, least_wall(bench.finished, habit)[0]) - 1e-6
    left, where = _left(bench, hole, deep.drill_to_mm, deep.point_to_mm - deep.drill_to_mm, radius)
    if left >= wanted:
        return f"{said(shop.units, left)} {where}"
    thread = find_thread(hole.hole.thread)
    ways = () if thread is None else _ways(bench, hole, thread, radius, wanted)
    what = f"only {said(shop.units, left)} {where}" if left > 0.0 else "none, it comes out"
    return f"{what}, {said(shop.units, habit)} is the habit; " + ("or ".join(ways) if ways else NO_WAY)


def _ways(bench: Bench, hole: Drilling, thread: Thread, radius: float, wanted: float) -> list[str]:
    """The ways on that leave enough: bottoming tap, flat bottom with it, less full thread."""
    shop, full, point = bench.shop, hole.mouth - hole.bottom, float(hole.hole.source.point_deg)
    bottoming = blind_tap(thread, full, LEAD_PITCHES["bottoming"], point)
    found = []
    for what, tip in (("a bottoming tap last", bottoming.point_to_mm - bottoming.drill_to_mm),
                      ("that and a flat-bottomed hole", 0.0)):  # fmt: skip
        left, _ = _left(bench, hole, bottoming.drill_to_mm, tip, radius)
        if left >= wanted:
            found.append(f"{what}, drilled to {said(shop.units, bottoming.drill_to_mm)}: {said(shop.units, left)} left; ")
            break
    lead = tap_lead_pitches(shop, thread)
    for share in range(19, 3, -1):
        less = blind_tap(thread, full * share / 20.0, lead, point)
        if _left(bench, hole, less.drill_to_mm, less.point_to_mm - less.drill_to_mm, radius)[0] >= wanted:
            depths = said(shop.units, less.full_thread_mm), said(shop.units, less.drill_to_mm)
            found.append(f"{depths[0]} of full thread, drilled to {depths[1]}")
            break
    return found


def _left(bench: Bench, hole: Drilling, drill_to: float, tip: float, radius: float) -> tuple[float, str]:
    """The least metal of the finished part with the hole so deep, 0 where it comes out; and where. [mm]"""
    bottom = hole.mouth - drill_to
    points = [(bottom, radius), (hole.mouth, radius)]
    if tip:
        points.insert(0, (bottom - tip, 0.0))
    low, high = ends(bench.finished)
    if not low + 1e-6 < bench.view.z(bottom - tip) < high - 1e-6:
        return 0.0, ""
    after = apply(bench.finished, Bore(bench.view.profile(points)), NO_CUTTER)
    left, _, where = least_wall(after, bench.shop.habit("least wall"))
    return max(left, 0.0), where
