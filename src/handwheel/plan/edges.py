"""What follows when the links of one holding are turned: knurls, threads by die, and the places cut across.

None of these changes the half-section: a thread is drawn at its basic cylinder (docs/decisions/0001).
"""

from __future__ import annotations

from handwheel.job.records import OutsideKind
from handwheel.plan.bench import NO_CUTTER, Bench, CannotMakeError, owns
from handwheel.plan.caution import caution_for, threading_caution
from handwheel.plan.names import said
from handwheel.plan.records import Makes, Move, Why
from handwheel.plan.singlepoint import (
    LEAST_OUTSIDE_MM,
    ThreadPlace,
    can_single_point,
    over_a_die,
    runs_out,
    single_point,
    under_a_die,
)
from handwheel.plan.threadwords import die_figures
from handwheel.plan.view import Link
from handwheel.stages.records import Cutter, NoCut
from handwheel.tables.threads import find_thread, is_same_thread

SHUT_IN = f"two pieces, joined after the thread is cut; Ø {LEAST_OUTSIDE_MM:g} mm or more, and the leadscrew in the workshop file"


def is_corner(link: Link) -> bool:
    """Whether a link takes a corner off its neighbour."""
    return link.kind is OutsideKind.CHAMFER or link.feature.source.is_edge


def knurl_link(bench: Bench, link: Link) -> None:
    """The knurl of a whole link. Raises CannotMakeError."""
    cut_knurl(bench, link.name, str(link.feature.source.knurl))


def thread_link(bench: Bench, link: Link) -> None:
    """The thread of a whole link. Raises CannotMakeError."""
    cut_thread(bench, link.name, link.feature.thread, link.r0, (link.u0, link.u1))


def cut_knurl(bench: Bench, name: str, what: str) -> None:
    """A knurl on a surface that is turned."""
    text = f"{name}: knurl {what}; growth is found on a test piece"
    tool = Cutter("knurling tool", "knurl", NO_CUTTER.outline, owns(bench, "knurl"))
    why = Why("knurl-on-finished-cylinder", (name,), text)
    bench.must(name, "a knurling tool", bench.attempt("knurl", NoCut(), tool, why, caution=caution_for("knurl")))


def cut_thread(bench: Bench, name: str, designation: str, radius: float, between: tuple[float, float]) -> None:
    """A thread on a surface already turned to its basic major, between two places: by die where one is at hand and gets
    there, else by a pointed tool. [mm]"""
    thread = find_thread(designation)
    if thread is None:
        return
    place = ThreadPlace(name, thread, *between, radius)
    in_way, is_owned = over_a_die(bench, place), _owns(bench, "die", designation)
    can = can_single_point(bench.shop, thread, False)
    shut = under_a_die(bench, place) if in_way and bench.holding.centre_mm is None else ""
    if shut and not can:
        raise CannotMakeError(name, f"{name} is shut in between {shut} and {in_way}: a die gets to it from neither end, and "
                              "it is finer than a pointed tool is for, or it is not known that this lathe cuts threads", SHUT_IN)
    if in_way and not can:
        raise CannotMakeError(name, f"{name}: a die does not pass over {in_way}, and it is finer than a pointed tool is for, or "
                              "it is not known that this lathe cuts threads",
                              "the other end toward the tailstock, or the leadscrew written in the workshop file")  # fmt: skip
    starts = not thread.is_left_hand or runs_out(bench, place)
    if can and (in_way or not is_owned and starts):
        single_point(bench, place, f"a die does not pass over {in_way}" if in_way else "no die for it is at hand")
    else:
        _by_die(bench, place)


def has_die(bench: Bench, link: Link) -> bool:
    """Whether a die for a link's thread is at hand and gets there."""
    thread = find_thread(link.feature.thread)
    if thread is None or not _owns(bench, "die", link.feature.thread):
        return False
    return not over_a_die(bench, ThreadPlace(link.name, thread, link.u0, link.u1, link.r0))


def _owns(bench: Bench, kind: str, designation: str) -> bool:
    return any(t.kind == kind and is_same_thread(t.designation, designation) for t in bench.shop.round_tools)


def _by_die(bench: Bench, place: ThreadPlace) -> None:
    name, thread, designation, radius = place.name, place.thread, place.thread.designation, place.radius
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
        f"{name}: {designation}, full thread {said(units, place.u1 - place.u0)}; "
        f"blank {share:g} of the pitch under ({bench.shop.habits['die blank share'].whose})"
    )
    die = Cutter(f"die {designation}, tailstock die holder", "die", NO_CUTTER.outline)
    why = Why("die-after-turning", (name,), text)
    caution = threading_caution("thread", thread.is_left_hand, bench.shop.lathe.has_screwed_chuck)
    wrong = bench.attempt("thread", NoCut(), die, why, caution=caution, moves=moves,
                          figures=die_figures(bench.shop, thread, blank, _shoulder(bench, place)))  # fmt: skip
    bench.must(name, "single-point threading", wrong)


def _shoulder(bench: Bench, place: ThreadPlace) -> str:
    """What stands above the root right at the thread's headstock end, or ""."""
    for link in bench.view.links:
        if abs(link.u1 - place.u0) < 1e-6 and link.r1 > place.root_radius + 0.01:
            return link.name
    return ""
