"""Limits of a thread's diameters by its class: as the designation says it, else the usual one of its series."""

from __future__ import annotations

from handwheel.tables.inchlimits import ba_limits, pipe_limits, unified_limits, whitworth_limits
from handwheel.tables.metriclimits import metric_limits, usual_metric
from handwheel.tables.threadclass import ThreadLimits, is_nuts_class
from handwheel.tables.threads import UNIFIED, Thread

_WHITWORTH = ("BSW", "BSF", "ME", "brass")


def usual_class(thread: Thread, is_nut: bool) -> str | None:
    """The class taken where the drawing names none, as `thread_limits` takes it.

    Metric 6g with 6H (6h, 5H to 1.4 mm); unified 2A, 2B; G A with G; Whitworth form medium, its nut normal; BA normal.
    None for a special thread.
    """
    if thread.series.startswith("ISO metric"):
        return usual_metric(thread, is_nut)
    if thread.series in UNIFIED:
        return "2B" if is_nut else "2A"
    if thread.series == "BSP":
        return "G" if is_nut else "G A"
    if thread.series in _WHITWORTH:
        return "normal nut" if is_nut else "medium"
    if thread.series == "BA":
        return "normal nut" if is_nut else "normal"
    return None


def with_usual_class(thread: Thread, is_nut: bool) -> str:
    """Its designation with the usual class as the standards write it; without one where there is none to write."""
    usual = (usual_class(thread, is_nut) or "").removesuffix(" nut").removeprefix("G").strip()
    if not usual:
        return thread.designation
    plain = thread.designation.removesuffix(" LH")
    joined = f"{plain}-{usual}" if usual[0].isdigit() else f"{plain} {usual}"
    return f"{joined} LH" if thread.is_left_hand else joined


def drawn_class(thread: Thread, is_nut: bool) -> str | None:
    """The class that the designation writes for a screw or a nut, as `thread_limits` takes it; None: it writes none."""
    for cls in thread.classes:
        of_nut = is_nuts_class(cls, thread.series)
        if of_nut is None or of_nut == is_nut:
            return _taken(thread, cls, is_nut)
    return None


def _taken(thread: Thread, cls: str, is_nut: bool) -> str:
    if thread.series == "BSP":
        return f"G {cls}"
    return f"{cls} nut" if is_nut and thread.series in (*_WHITWORTH, "BA") else cls


def class_of(thread: Thread, is_nut: bool) -> str | None:
    """The class that the designation writes, else the usual one."""
    return drawn_class(thread, is_nut) or usual_class(thread, is_nut)


def thread_limits(thread: Thread, cls: str) -> ThreadLimits | None:
    """The limits of a thread's diameters.

    Parameters
        thread: the thread.
        cls: `6g`, `5g6g`, `6H` and the like; `1A` to `3A`, `1B` to `3B`; `close`, `medium`, `free`, with ` nut` or `normal
            nut` for a nut; `G A`, `G B` (screws), `G` (nuts).
    Returns
        The limits [mm] for a normal length of engagement; None for a class that the series has not, and special threads.
    Source
        ISO 965-1, ASME B1.1, BS 84, BS 93, ISO 228-1: `metriclimits.py`, `inchlimits.py`.
    """
    if thread.series.startswith("ISO metric"):
        return metric_limits(thread, cls)
    if thread.series in UNIFIED:
        return unified_limits(thread, cls)
    if thread.series == "BSP":
        return pipe_limits(thread, cls)
    return ba_limits(thread, cls) if thread.series == "BA" else whitworth_limits(thread, cls)


def class_fault(thread: Thread, is_nut: bool) -> str:
    """What is wrong with the class written, in words for a fault; "" where nothing is."""
    wanted = "a nut" if is_nut else "a screw"
    if not thread.classes:
        return ""
    if all(is_nuts_class(cls, thread.series) is (not is_nut) for cls in thread.classes):
        return f"the class {thread.classes[0]} is not one of {wanted}"
    for cls in thread.classes:
        of_nut = is_nuts_class(cls, thread.series)
        side = is_nut if of_nut is None else of_nut
        if thread_limits(thread, _taken(thread, cls, side)) is None:
            return f"{thread.designation} has no class {cls}"
    return ""
