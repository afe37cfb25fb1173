"""Threads in holes: by tap where one is at hand or the thread is fine, else by a pointed tool from inside."""

from __future__ import annotations

from collections.abc import Callable

from handwheel.plan.bench import NO_CUTTER, Bench
from handwheel.plan.caution import caution_for
from handwheel.plan.records import Why
from handwheel.plan.singlepoint import ThreadPlace, can_single_point, single_point
from handwheel.stages.records import Cutter, NoCut
from handwheel.tables.threads import find_thread


def hole_thread_acts(bench: Bench, name: str, designation: str, radius: float, between: tuple[float, float]
                     ) -> list[tuple[str, Callable[[], None]]]:
    """What cuts a thread in a hole made to that radius, between two places: its kind, and what carries it out. [mm]"""
    thread = find_thread(designation)
    is_owned = any(t.kind == "tap" and t.designation == designation for t in bench.shop.round_tools)
    if thread is None or is_owned or not can_single_point(bench.shop, thread, True):
        return [("tap", lambda: _tap(bench, name, designation))]
    place = ThreadPlace(name, thread, min(between), max(between), radius, is_inside=True)
    return [("thread", lambda: single_point(bench, place, "no tap for it is at hand"))]


def _tap(bench: Bench, name: str, designation: str) -> None:
    why = Why("tap-after-drill", (name,), f"{name}: {designation}")
    tap = Cutter(f"tap {designation}", "tap", NO_CUTTER.outline)
    bench.must(name, "a tap", bench.attempt("tap", NoCut(), tap, why, caution=caution_for("tap"),
                                            note=f"tap {designation}"))  # fmt: skip
