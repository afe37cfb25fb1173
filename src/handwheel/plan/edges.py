"""What follows when the links of one holding are turned: knurls, threads by die, and the places cut across.

None of these changes the half-section: a thread is drawn at its basic cylinder (docs/decisions/0001).
"""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.job.records import OutsideKind
from handwheel.plan.bench import NO_CUTTER, Bench, owns
from handwheel.plan.caution import caution_for
from handwheel.plan.names import said
from handwheel.plan.records import Makes, Move, Why
from handwheel.plan.view import Link
from handwheel.stages.records import Cutter, NoCut
from handwheel.tables.threads import find_thread


def is_corner(link: Link) -> bool:
    """Whether a link takes a corner off its neighbour."""
    return link.kind is OutsideKind.CHAMFER or link.feature.source.is_edge


def finish_edges(bench: Bench, links: Sequence[Link]) -> None:
    """Knurls first, then threads, of the links turned in this holding."""
    for link in links:
        if link.feature.source.knurl:
            knurl_link(bench, link)
    for link in links:
        if link.feature.thread:
            thread_link(bench, link)


def knurl_link(bench: Bench, link: Link) -> None:
    """The knurl of a whole link. Raises CannotMakeError."""
    cut_knurl(bench, link.name, str(link.feature.source.knurl))


def thread_link(bench: Bench, link: Link) -> None:
    """The thread of a whole link. Raises CannotMakeError."""
    cut_thread(bench, link.name, link.feature.thread, link.r0, link.u1 - link.u0)


def cut_knurl(bench: Bench, name: str, what: str) -> None:
    """A knurl on a surface that is turned."""
    text = f"{name}: knurl {what}; growth is found on a test piece"
    tool = Cutter("knurling tool", "knurl", NO_CUTTER.outline, owns(bench, "knurl"))
    why = Why("knurl-on-finished-cylinder", (name,), text)
    bench.must(name, "a knurling tool", bench.attempt("knurl", NoCut(), tool, why, caution=caution_for("knurl")))


def cut_thread(bench: Bench, name: str, designation: str, radius: float, length: float) -> None:
    """A thread by die on a surface already turned to its basic major. [mm]"""
    thread = find_thread(designation)
    if thread is None:
        return
    units, share = bench.shop.units, bench.shop.habit("die blank share")
    blank = thread.major_mm - share * thread.pitch_mm
    makes = Makes(f"{name} blank for the die", blank, None, None, True)
    touched = f"touched on {name} as turned, Ø {said(units, 2 * radius)}"
    moves = (
        Move(
            "cross slide", "in", touched, max(0.0, radius - blank / 2), makes, "one light cut over the thread's length"
        ),
    )
    text = (
        f"{name}: {designation}, full thread {said(units, length)}; "
        f"blank {share:g} of the pitch under ({bench.shop.habits['die blank share'].whose})"
    )
    die = Cutter(f"die {designation}, tailstock die holder", "die", NO_CUTTER.outline)
    why = Why("die-after-turning", (name,), text)
    wrong = bench.attempt("thread", NoCut(), die, why, caution=caution_for("thread"), moves=moves)
    bench.must(name, "single-point threading", wrong)
