"""Holes on the axis: centred, drilled, then reamed, bored, countersunk or tapped, the deepest first.

A hole's own profile is what goes; the drill that leads a reamer is smaller and goes to the same tip, so that its point
lies within the finished one.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np

from handwheel.job.records import InsideKind
from handwheel.plan.bench import Bench, CannotMakeError, diameter_makes, length_makes
from handwheel.plan.blindtaps import drill_on_moves, lead_note
from handwheel.plan.bored import bar_note, bar_of, boring_bar, open_radius
from handwheel.plan.caution import caution_for
from handwheel.plan.cutin import cut_each
from handwheel.plan.holethreads import drills_on, hole_thread_acts
from handwheel.plan.names import said
from handwheel.plan.records import Move, Why
from handwheel.plan.roundtools import drill_before_reamer, owned_tool, tapping_drill, tool_name
from handwheel.plan.taperbore import TaperBore, bore_taper
from handwheel.plan.view import Drilling, UPoint
from handwheel.stages.envelope import radius_at
from handwheel.stages.metal import apply, ends, volume_mm3
from handwheel.stages.records import Bore, Cutter, Polyline

LEAST_DRILL_MM = 0.3
"""Smallest radius of a drill that leads another tool. [mm]"""
SAME_MM = 0.002
OPEN_SHARE = 0.7
"""A hole open to this share of its radius is bored from there: a drill would snatch. Common practice, no source."""
THROUGH_MM = 1.0
"""How far a through drill runs out beyond the finished end. [mm]"""


def make_holes(bench: Bench, holes: tuple[Drilling, ...]) -> None:
    """Make the holes entered from the tailstock end, the deepest first, then what is wider than its way in, then what is
    cut into their walls. Raises CannotMakeError."""
    if not holes:
        return
    wide = [h for k, h in enumerate(holes) if _is_wider_than(h, holes[:k])]
    plain = [h for h in holes if h not in wide]
    if open_radius(bench, plain[-1].bottom, bench.free_u()) < 1e-9:
        centre_hole(bench, plain[-1])
    for hole in reversed(wide):  # drilled before its way in is made to size
        _lead_chamber(bench, hole, before_it(bench, hole))
    for hole in [*reversed(plain), *wide]:
        for _, act in hole_acts(bench, hole):
            act()
    names = {h.hole.name for h in holes}
    cut_each(bench, [c for c in bench.view.part.cut_in if c.source.is_inside and c.source.host in names])


def _is_wider_than(hole: Drilling, before: Sequence[Drilling]) -> bool:
    """Whether a hole is wider than one it is entered through."""
    return any(hole.hole.bottom_radius > b.hole.bottom_radius + 1e-6 for b in before)


def centre_hole(bench: Bench, hole: Drilling) -> None:
    """The centre that a hole's drill starts in. Raises CannotMakeError."""
    radius = min(hole.hole.bottom_radius * 0.8, 3.0)
    depth = min(radius / math.tan(math.radians(30.0)), 0.8 * (hole.mouth - hole.bottom))
    free = bench.free_u()
    mouth = depth * math.tan(math.radians(30.0))
    profile = bench.view.profile([(free - depth, 0.0), (free, mouth)])
    cutter = Cutter("centre drill", "centre drill", bench.view.outline([(0.0, 0.0), (depth, mouth), (depth, 0.0)]))
    moves = (
        Move(
            "tailstock", "toward the headstock", "touched on the end", depth, length_makes("depth of the centre", depth)
        ),
    )
    bench.must(
        hole.hole.name,
        "a smaller centre drill",
        bench.attempt(
            "centre",
            Bore(profile),
            cutter,
            Why("centre-before-drill", (hole.hole.name,), "so that the drill starts true"),
            caution=caution_for("centre"),
            moves=moves,
        ),
    )


def hole_acts(bench: Bench, hole: Drilling) -> list[tuple[str, Callable[[], None]]]:
    """What makes a hole once it is centred, in order: the operation's kind, and what carries it out on the bench."""
    source, radius = hole.hole.source, hole.hole.bottom_radius
    around = before_it(bench, hole)
    if around and _is_wider_than(hole, around):
        return [("drill", lambda: _lead_chamber(bench, hole, around)), ("bore", lambda: _chamber(bench, hole))]
    if source.kind is InsideKind.COUNTERSINK:
        wide = hole.hole.mouth_radius
        return [("bore", lambda: _cut(bench, hole, "bore", wide, "countersink", "countersink"))]
    is_cone = abs(hole.hole.mouth_radius - radius) > 1e-9
    is_bored = source.finish == "bored" or is_cone or source.kind is InsideKind.BORE
    found: list[tuple[str, Callable[[], None]]] = []
    is_open = is_bored and open_radius(bench, *_clear_of_ends(bench, hole)) > OPEN_SHARE * radius
    if not is_open and not (source.kind is InsideKind.COUNTERBORE and source.is_flat_bottomed):
        found.append(("drill", lambda: _lead(bench, hole, is_bored)))
    if source.finish == "reamed":
        name, _ = tool_name(bench.shop, "reamer", radius)
        found.append(("ream", lambda: _cut(bench, hole, "ream", radius, name, "reamed to size")))
    elif source.is_cone and is_cone:
        found.append(("bore", lambda: _taper(bench, hole)))
    elif is_bored or source.is_flat_bottomed or source.kind is InsideKind.COUNTERBORE:
        tool = _bar(bench, hole) if is_bored else "flat-bottomed cutter"
        found.append(("bore", lambda: _cut(bench, hole, "bore", radius, tool, "finished to its form")))
    if source.thread:
        found += hole_thread_acts(bench, hole.hole.name, hole.hole.thread, radius, (hole.bottom, hole.mouth))
    return found


def before_it(bench: Bench, hole: Drilling) -> tuple[Drilling, ...]:
    """The holes it is entered through."""
    names = [d.hole.name for d in bench.view.drillings(True)]
    at = names.index(hole.hole.name) if hole.hole.name in names else 0
    return bench.view.drillings(True)[:at]


def _lead_chamber(bench: Bench, hole: Drilling, around: Sequence[Drilling]) -> None:
    """What is wider than its way in is drilled no wider than that."""
    if hole.bottom - hole.tip > 1e-9:
        raise CannotMakeError(hole.hole.name, f"{hole.hole.name} is wider than its way in: no drill's point gets there",
                              f"draw it with 'bottom: flat', and bore {hole.hole.name} out")  # fmt: skip
    radius = min(b.hole.bottom_radius for b in around)
    lead = max(radius - bench.shop.habit("rough allowance") / 2, LEAST_DRILL_MM)
    _drill(bench, hole, lead, "clear of its way in; bored out from there")


def _chamber(bench: Bench, hole: Drilling) -> None:
    """Bored out behind the mouth, by a bar whose nose stands out. Raises CannotMakeError."""
    name, radius = hole.hole.name, max(hole.hole.bottom_radius, hole.hole.mouth_radius)
    mouth, into, depth = bar_of(bench, name, hole.bottom, hole.mouth, radius)
    tool, is_owned = boring_bar(bench, mouth, into, depth, hole.mouth - hole.bottom)
    units, datum, start = bench.shop.units, bench.touched(), open_radius(bench, hole.bottom + 1e-6, hole.mouth)
    profile = bench.view.profile([(hole.bottom, hole.hole.bottom_radius), (hole.mouth, hole.hole.mouth_radius)])
    cutter = Cutter(tool, "bore", bench.view.outline([(0.0, 0.0), (0.0, into), (depth, into), (depth, 0.0)]), is_owned)
    moves = (
        Move("carriage", "toward the headstock", f"touched on the {datum}", depth,
             length_makes(f"{datum} to {name} bottom", depth), "set a stop"),
        Move("cross slide", "out", f"touched in the hole, Ø {said(units, 2 * start)}", radius - start,
             diameter_makes(f"{name} diameter", radius)),
    )  # fmt: skip
    why = Why("bored-behind-its-mouth", (name,), f"{name} Ø {said(units, 2 * radius)} is wider than its way in, "
              f"Ø {said(units, 2 * mouth)}: bored from inside")  # fmt: skip
    wrong = bench.attempt("bore", Bore(profile), cutter, why, caution=caution_for("bore"), moves=moves,
                          note=bar_note(bench, mouth, into, depth))  # fmt: skip
    bench.must(name, "a wider mouth", wrong)


def _lead(bench: Bench, hole: Drilling, is_bored: bool) -> None:
    """The drill that makes the hole, or leads what finishes it."""
    source, name, radius = hole.hole.source, hole.hole.name, hole.hole.bottom_radius
    lead = radius
    if source.finish == "reamed":
        lead = drill_before_reamer(bench.shop, radius - bench.shop.habit("reaming allowance") / 2)
    elif is_bored:
        lead = radius - bench.shop.habit("rough allowance") / 2
    if lead <= LEAST_DRILL_MM:
        raise CannotMakeError(name, f"{name} is too small to drill first", "drill it to size")
    if source.thread:
        drill, _ = tapping_drill(bench.shop, source.thread.designation)
        _drill(bench, hole, lead, "drawn at the thread's basic minor", drill)
    else:
        _drill(bench, hole, lead, "to size" if lead == radius else "leaves metal for what follows")


def _taper(bench: Bench, hole: Drilling) -> None:
    """A tapering bore, by whatever leads the bar along it. Raises CannotMakeError."""
    mouth = hole.hole.mouth_radius
    cutter = _cutter(bench, hole, "bore", hole.hole.bottom_radius, _bar(bench, hole))  # clear at its mouth
    profile = _profile(bench, hole, hole.hole.bottom_radius)
    if not _takes_nothing(bench, profile, cutter):
        bore_taper(bench, hole, TaperBore(profile, cutter, _open_at_mouth(bench, hole, mouth)))


def _profile(bench: Bench, hole: Drilling, radius: float) -> Polyline:
    """The hole's own profile at another radius, out to the free end, with its point. In the part's frame."""
    free = max(bench.free_u(), hole.mouth)
    full = hole.hole.bottom_radius
    points: list[UPoint]
    if hole.bottom - hole.tip > 1e-9:
        bottom = hole.tip + (hole.bottom - hole.tip) * radius / full
        points = [(hole.tip, 0.0), (bottom, radius), (free, radius)]
    else:
        points = [(hole.bottom, radius), (free, radius)]
        if hole.hole.source.is_through and hole.bottom < 1e-6:  # on past the end, straight
            points.insert(0, (-THROUGH_MM, radius))
    wide = hole.hole.mouth_radius
    if abs(wide - full) > 1e-9:
        points = (
            [*points[:-1], (hole.mouth, wide), (free, wide)]
            if free > hole.mouth + 1e-9
            else [*points[:-1], (hole.mouth, wide)]
        )
    return bench.view.profile(points)


def _drill(bench: Bench, hole: Drilling, radius: float, what: str, tapping: str = "") -> None:
    name = tapping or tool_name(bench.shop, "drill", radius)[0]
    _go(
        bench,
        hole,
        "drill",
        radius,
        name,
        Why("drill-before-finish", (hole.hole.name,), f"Ø {said(bench.shop.units, 2 * radius)}, {what}"),
        _drilled_profile(bench, hole, radius),
    )


def _meeting(bench: Bench, hole: Drilling) -> tuple[Drilling, ...]:
    """The holes from the other end that it comes to meet; none when it runs out of the end."""
    return () if hole.bottom < 1e-6 else bench.view.drillings(False)


def _drilled_profile(bench: Bench, hole: Drilling, radius: float) -> Polyline:
    """A straight drill's hole within the finished one, even where that is a cone or flat-bottomed."""
    full, tip = hole.hole.bottom_radius, hole.tip
    free = max(bench.free_u(), hole.mouth)
    if hole.hole.source.is_through and all(m.hole.bottom_radius >= radius - 1e-6 for m in _meeting(bench, hole)):
        return bench.view.profile([(-THROUGH_MM, radius), (free, radius)])
    point = 0.3004 * 2 * radius
    if hole.hole.source.is_through:  # on into the hole that comes to meet it
        return bench.view.profile([(hole.bottom - point, 0.0), (hole.bottom, radius), (free, radius)])
    if hole.bottom - tip > 1e-9:
        bottom = tip + (hole.bottom - tip) * radius / full
    else:
        tip, bottom = hole.bottom, hole.bottom + point
    return bench.view.profile([(tip, 0.0), (bottom, radius), (free, radius)])


def _cut(bench: Bench, hole: Drilling, kind: str, radius: float, tool: str, what: str) -> None:
    full = hole.hole.bottom_radius
    why = Why(
        f"{kind}-after-drill", (hole.hole.name,), f"{hole.hole.name} Ø {said(bench.shop.units, 2 * radius)} {what}"
    )
    _go(bench, hole, kind, radius, tool, why, _profile(bench, hole, full))


def _go(bench: Bench, hole: Drilling, kind: str, radius: float, tool: str, why: Why, profile: Polyline) -> None:
    free = bench.free_u()
    depth = free - hole.bottom
    cutter = _cutter(bench, hole, kind, radius, tool)
    if kind != "ream" and _takes_nothing(bench, profile, cutter):
        return  # tube's own bore, or drilled already
    datum = bench.touched()
    phrase = f"{hole.hole.name} diameter"
    moves: list[Move] = []
    if not hole.hole.source.is_through:
        to_tip = free - hole.tip
        moves.append(
            Move(
                "tailstock",
                "toward the headstock",
                f"point touched on the {datum}",
                to_tip if kind == "drill" else depth,
                length_makes(
                    f"{datum} to {hole.hole.name} {'point' if kind == 'drill' else 'bottom'}",
                    to_tip if kind == "drill" else depth,
                ),
            )
        )
    note, on = "right through" if hole.hole.source.is_through else "", kind == "drill" and drills_on(bench, hole)
    if on:
        moves += drill_on_moves(bench, hole, moves[0].zero)
        note = lead_note(bench, hole)
    if kind in ("ream", "bore"):
        note = (note + "; " if note else "") + f"makes {phrase} {said(bench.shop.units, 2 * radius)}"
        if kind == "bore":
            open_now = _open_at_mouth(bench, hole, radius)
            moves.insert(
                0,
                Move(
                    "cross slide",
                    "out",
                    f"touched in the hole, Ø {said(bench.shop.units, 2 * open_now)}",
                    radius - open_now,
                    diameter_makes(phrase, radius),
                ),
            )
    bench.must(
        hole.hole.name,
        "another drill or reamer",
        bench.attempt(
            kind,
            Bore(profile),
            cutter,
            why,
            caution=caution_for(kind),
            moves=tuple(moves),
            note=note,
            drilled_on_mm=max(move.exact_mm for move in moves) - moves[0].exact_mm if on else 0.0,
        ),
    )


def _cutter(bench: Bench, hole: Drilling, kind: str, radius: float, tool: str) -> Cutter:
    """What goes in, as thick as the hole that it makes. [mm]"""
    reach = max(bench.free_u() - hole.bottom, 1.0)
    outline = bench.view.outline([(0.0, 0.0), (0.0, radius), (reach, radius), (reach, 0.0)])
    return Cutter(tool, kind, outline, _owned(bench, kind, radius, tool))


def _takes_nothing(bench: Bench, profile: Polyline, cutter: Cutter) -> bool:
    """Whether all that would go is gone, to SAME_MM on the radius."""
    try:
        gone = volume_mm3(bench.section) - volume_mm3(apply(bench.section, Bore(profile), cutter))
    except ValueError:  # nothing would be left: the attempt says so
        return False
    length, radius = float(np.ptp(profile[:, 0])), float(profile[:, 1].max())
    return gone < 2.0 * math.pi * radius * length * SAME_MM


def _bar(bench: Bench, hole: Drilling) -> str:
    """The boring bar that goes into the hole as drilled, by name."""
    way, is_open = hole.hole.bottom_radius, open_radius(bench, *_clear_of_ends(bench, hole))
    way = is_open if is_open > OPEN_SHARE * way else way - bench.shop.habit("rough allowance") / 2
    depth = bench.free_u() - hole.bottom + (THROUGH_MM if hole.hole.source.is_through else 0.0)
    return boring_bar(bench, way, 0.0, depth)[0]


def _open_at_mouth(bench: Bench, hole: Drilling, radius: float) -> float:
    """Radius of what is open already just inside the hole's mouth; what roughing leaves where that is not less. [mm]"""
    found = radius_at(bench.section.inner, bench.view.z(hole.mouth - 0.01), "left")
    return found if 0.0 < found < radius - 1e-6 else radius - bench.shop.habit("rough allowance") / 2


def _clear_of_ends(bench: Bench, hole: Drilling) -> tuple[float, float]:
    """The length of a hole, as far as there is metal. [mm]"""
    low, high = sorted(bench.view.u(z) for z in ends(bench.section))
    return max(low, hole.tip if not hole.hole.source.is_through else hole.bottom) + 1e-6, min(high, hole.mouth) - 1e-6


def _owned(bench: Bench, kind: str, radius: float, tool: str) -> bool:
    wanted = {"drill": "drill", "ream": "reamer"}.get(kind)
    if wanted is None:
        return any(t.name == tool and t.owned for t in bench.shop.tools)
    return (
        "tapping drill" in tool
        and "Ø" not in tool
        and "table" not in tool
        or (owned_tool(bench.shop, wanted, radius) is not None)
    )
