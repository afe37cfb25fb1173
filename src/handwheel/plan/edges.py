"""What follows when the links of one holding are turned: knurls, threads by die, and the places cut across.

None of these changes the half-section: a thread is drawn at its basic cylinder (docs/decisions/0001).
"""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.job.records import OutsideKind
from handwheel.plan.bench import NO_CUTTER, Bench
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
            bench.must(
                link.name,
                "a knurling tool",
                bench.attempt(
                    "knurl",
                    NoCut(),
                    Cutter("knurling tool", "knurl", NO_CUTTER.outline),
                    Why(
                        "knurl-on-finished-cylinder",
                        (link.name,),
                        f"{link.name}: knurl {link.feature.source.knurl}; growth is found on a test piece",
                    ),
                    caution=caution_for("knurl"),
                ),
            )
    for link in links:
        if link.feature.thread:
            _die(bench, link)


def _die(bench: Bench, link: Link) -> None:
    thread = find_thread(link.feature.thread)
    if thread is None:
        return
    share = bench.shop.habit("die blank share")
    blank = thread.major_mm - share * thread.pitch_mm
    makes = Makes(f"{link.name} blank for the die", blank, None, None, True)
    moves = (
        Move(
            "cross slide",
            "in",
            f"touched on {link.name} as turned, Ø {said(bench.shop.units, 2 * link.r0)}",
            max(0.0, link.r0 - blank / 2),
            makes,
            "one light cut over the thread's length",
        ),
    )
    why = Why(
        "die-after-turning",
        (link.name,),
        f"{link.name}: {link.feature.thread}, full thread {said(bench.shop.units, link.u1 - link.u0)}; "
        f"blank {share:g} of the pitch under ({bench.shop.habits['die blank share'].whose})",
    )
    bench.must(
        link.name,
        "single-point threading",
        bench.attempt(
            "thread",
            NoCut(),
            Cutter(f"die {link.feature.thread}, tailstock die holder", "die", NO_CUTTER.outline),
            why,
            caution=caution_for("thread"),
            moves=moves,
        ),
    )
