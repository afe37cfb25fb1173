"""Threads in holes: by tap where one is at hand or the thread is fine, else by a pointed tool from inside."""

from __future__ import annotations

from collections.abc import Callable

from handwheel.plan.bench import NO_CUTTER, Bench
from handwheel.plan.blindtaps import drilled_on, has_rows, metal_behind
from handwheel.plan.caution import threading_caution
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
from handwheel.stages.records import Cutter, NoCut
from handwheel.tables.threads import find_thread, is_same_thread, plain_designation


def hole_thread_acts(bench: Bench, name: str, designation: str, radius: float, between: tuple[float, float]
                     ) -> list[tuple[str, Callable[[], None]]]:
    """What cuts a thread in a hole made to that radius, between two places: its kind, and what carries it out. [mm]"""
    thread = find_thread(designation)
    is_owned = any(t.kind == "tap" and is_same_thread(t.designation, designation) for t in bench.shop.round_tools)
    if thread is None or is_owned or not can_single_point(bench.shop, thread, True):
        return [("tap", lambda: _tap(bench, name, designation, between))]
    place = ThreadPlace(name, thread, min(between), max(between), radius, is_inside=True)
    if thread.is_left_hand and not runs_out(bench, place):
        return [("tap", lambda: _tap(bench, name, designation, between))]
    return [("thread", lambda: single_point(bench, place, "no tap for it is at hand"))]


def _tap(bench: Bench, name: str, designation: str, between: tuple[float, float]) -> None:
    why, thread = Why("tap-after-drill", (name,), f"{name}: {designation}"), find_thread(designation)
    tap = Cutter(f"tap {plain_designation(designation)}", "tap", NO_CUTTER.outline)
    hole = next((d for d in bench.view.drillings(True) if d.hole.name == name), None)
    on = [found.more_mm for found in drilled_on(bench, hole) if found.may] if hole is not None and has_rows(hole) else []
    caution = threading_caution("tap", bool(thread and thread.is_left_hand), bench.shop.lathe.has_screwed_chuck)
    bench.must(name, "a tap", bench.attempt("tap", NoCut(), tap, why, caution=caution, note=f"tap {designation}",
                                            figures=tap_figures(bench, name, designation, between),
                                            drilled_on_mm=max(on, default=0.0)))  # fmt: skip


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
        found += (("metal behind", metal_behind(bench, hole, thread, lead)),)
    size = None if choice is None else choice.diameter_mm
    return (*found, *engagement_figures(shop, thread, bench.view.part.material, size, length))


def drills_on(bench: Bench, hole: Drilling) -> bool:
    """Whether a blind hole is tapped, and so drilled on past its drawn depth for the tap's lead."""
    call = hole.hole.source.thread
    if call is None or hole.hole.source.is_through:
        return False
    acts = hole_thread_acts(bench, hole.hole.name, call.designation, hole.hole.bottom_radius, (hole.bottom, hole.mouth))
    return [kind for kind, _ in acts] == ["tap"]
