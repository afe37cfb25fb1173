"""Grooves, knurls and threads cut into a feature, made in the holding in which that feature is turned."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from handwheel.drawing.records import SolvedCut
from handwheel.job.records import CutInKind
from handwheel.plan.bench import Bench, CannotMakeError, diameter_makes, length_makes, square_cutter
from handwheel.plan.bored import groove_inside
from handwheel.plan.caution import caution_for
from handwheel.plan.edges import cut_knurl, cut_thread, knurl_link, thread_link
from handwheel.plan.holethreads import hole_thread_acts
from handwheel.plan.names import end_name, said
from handwheel.plan.records import Move, Why
from handwheel.plan.view import Link
from handwheel.stages.records import Sweep

ORDER = (CutInKind.KNURL, CutInKind.GROOVE, CutInKind.THREAD)
"""Knurls first, for they push hardest; grooves before threads, which run out into them."""


def finish_surfaces(bench: Bench, links: Sequence[Link]) -> None:
    """Knurls, then grooves, then threads of these links, of a whole link or cut into one. Raises CannotMakeError."""
    knurls_and_grooves(bench, links)
    threads(bench, links)


def knurls_and_grooves(bench: Bench, links: Sequence[Link]) -> None:
    """Knurls, then grooves. Raises CannotMakeError."""
    for link in links:
        if link.feature.source.knurl:
            knurl_link(bench, link)
    cut_each(bench, [c for c in _on(bench, links) if c.source.kind is not CutInKind.THREAD])


def threads(bench: Bench, links: Sequence[Link]) -> None:
    """Threads of these links; a die wants the tailstock free of its centre. Raises CannotMakeError."""
    for link in links:
        if link.feature.thread:
            thread_link(bench, link)
    cut_each(bench, [c for c in _on(bench, links) if c.source.kind is CutInKind.THREAD])


def _on(bench: Bench, links: Sequence[Link]) -> list[SolvedCut]:
    names = {link.name for link in links}
    return [c for c in bench.view.part.cut_in if not c.source.is_inside and c.source.host in names]


def cut_each(bench: Bench, mine: Sequence[SolvedCut]) -> None:
    """These cuts, in their order. Raises CannotMakeError."""
    for cut in sorted(mine, key=lambda c: ORDER.index(c.source.kind)):
        for _, act in cut_acts(bench, cut):
            act()


def cut_acts(bench: Bench, cut: SolvedCut) -> list[tuple[str, Callable[[], None]]]:
    """What makes it: the operation's kind, and what carries it out on the bench."""
    kind = cut.source.kind
    if cut.source.is_inside and kind is CutInKind.KNURL:
        return [("knurl", lambda: _no_knurl(cut))]
    if cut.source.is_inside and kind is CutInKind.GROOVE:
        return [("groove", lambda: groove_inside(bench, cut))]
    if kind is CutInKind.KNURL:
        return [("knurl", lambda: cut_knurl(bench, cut.name, str(cut.source.what)))]
    if kind is CutInKind.THREAD:
        low, high = sorted((bench.view.u(cut.left), bench.view.u(cut.right)))
        if cut.source.is_inside:
            return hole_thread_acts(bench, cut.name, cut.thread, cut.floor_radius, (low, high))
        return [("thread", lambda: cut_thread(bench, cut.name, cut.thread, cut.floor_radius, (low, high)))]
    return [("groove", lambda: _groove(bench, cut))]


def _no_knurl(cut: SolvedCut) -> None:
    raise CannotMakeError(cut.name, f"{cut.name}: knurling wheels do not go into a hole", "knurl the outside, or leave it plain")


def _groove(bench: Bench, cut: SolvedCut) -> None:
    view, shop = bench.view, bench.shop
    u0, u1 = sorted((view.u(cut.left), view.u(cut.right)))
    width = u1 - u0
    fitting = [t for t in shop.tools if t.kind in ("parting", "relief") and t.width_mm and t.width_mm <= width + 1e-9]
    tool = max(fitting, key=lambda t: t.width_mm or 0.0, default=None)
    if tool is None:
        cutter = square_cutter(view, width, 8.0, "left", f"square-nosed tool {said(shop.units, width)} wide", False)
    else:
        cutter = square_cutter(view, tool.width_mm or 0.0, tool.reach_mm or 0.0, "left", tool.name, tool.owned)
    used = width if tool is None else tool.width_mm or width
    start = bench.radius_before(u0, u1)
    if start <= cut.floor_radius:
        raise CannotMakeError(cut.name, f"{cut.name} has no metal to be cut from", "its depth, or its diameter")
    datum, free = bench.touched(), bench.free_u()
    headstock = end_name(view.toward, headstock=True)
    moves = (
        Move("carriage", "toward the headstock", f"touched on the {datum}", free - u0,
             length_makes(f"{datum} to {cut.name} {headstock}", free - u0), "set by the left corner"),
        Move("cross slide", "in", f"touched on the work, Ø {said(shop.units, 2 * start)}", start - cut.floor_radius,
             diameter_makes(f"{cut.name} diameter", cut.floor_radius)),
    )  # fmt: skip
    why = Why("groove-when-turned", (cut.name,), f"{cut.name} in {cut.source.host}, {said(shop.units, width)} wide: "
              f"{cutter.name} plunged")  # fmt: skip
    note = "" if used >= width - 1e-9 else f"widened toward the tailstock to {said(shop.units, width)}"
    path = ((u1 - used, cut.floor_radius), (u0, cut.floor_radius))
    bench.must(cut.name, "a narrower square-nosed tool", bench.attempt(
        "groove", Sweep(view.path(path)), cutter, why, caution=caution_for("groove"), moves=moves, note=note))  # fmt: skip
