"""How the outside is turned: each link's surface is traced by a corner of a tool that can reach it.

A surface that rises toward the headstock (or is level) is traced by the corner of a knife tool fed toward the headstock;
one that falls toward the headstock, and any neck, by the corner of a square-nosed or left-hand tool. Which tool serves
is found by trying them in order; the guard refuses the ones that would cut into the part or leave metal.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from handwheel.job.records import OutsideKind, Unit
from handwheel.plan.bench import (
    Bench,
    CannotMakeError,
    cutter_of,
    square_cutter,
)
from handwheel.plan.caution import caution_for
from handwheel.plan.chart import chart_of
from handwheel.plan.moves import Trace, curve_moves, plain_moves
from handwheel.plan.names import said
from handwheel.plan.records import Why
from handwheel.plan.roundnose import round_traces
from handwheel.plan.sloped import sloped
from handwheel.plan.view import Link, UPoint
from handwheel.stages.envelope import radius_at
from handwheel.stages.records import Cutter, Section, Sweep

KIND_OF = {
    OutsideKind.CYLINDER: "turn",
    OutsideKind.BALL: "curve",
    OutsideKind.HOLLOW: "curve",
    OutsideKind.ROUND: "curve",
    OutsideKind.FILLET: "curve",
}
RULE_OF = {
    "turn": "knife-toward-the-headstock",
    "groove": "neck-by-square-tool",
    "curve": "curve-by-chart",
}
LEFT_MM = 0.002
"""More metal than this above a link's surface after its operation, and the tool has not made it. [mm]"""


def turn_link(bench: Bench, link: Link) -> None:
    """Turn one link, unless it is left as bought. Raises CannotMakeError when no tool can."""
    if link.name in bench.as_bought:
        return
    reasons: list[str] = []
    for traces in candidates(bench, link):
        kept, before = len(bench.stages), bench.section
        wrong = next(filter(None, (_keep(bench, link, trace) for trace in traces)), "")
        if not wrong and metal_left(bench, link, bench.section) > LEFT_MM:
            wrong = f"{traces[-1].cutter.name} leaves metal on it"
        if not wrong:
            return
        del bench.stages[kept:]
        bench.section = before
        reasons.append(wrong)
    why = reasons[0] if reasons else "no tool reaches it"
    raise CannotMakeError(
        link.name,
        f"{link.name} cannot be turned so: {why}",
        "a narrower square-nosed or left-hand tool, or the other end toward the tailstock",
    )


def metal_left(bench: Bench, link: Link, section: Section) -> float:
    """Greatest thickness still above the link's surface. [mm]"""
    worst = 0.0
    points = link.surface
    for (ua, ra), (ub, rb) in zip(points, points[1:], strict=False):
        if ub - ua < 1e-9:
            continue
        z = bench.view.z((ua + ub) / 2)
        worst = max(worst, radius_at(section.outer, z, "left") - (ra + rb) / 2)
    return worst


def candidates(bench: Bench, link: Link) -> Iterator[tuple[Trace, ...]]:
    """Tools and paths to try for a link, the plainest first."""
    view, shop = bench.view, bench.shop
    runs = _runs(link)
    above = view.greatest_between(link.u1, view.length)
    is_open = above <= link.least + 1e-6
    knives = [cutter_of(t, view) for t in shop.tools if t.kind == "knife"]
    lefts = [cutter_of(t, view) for t in shop.tools if t.kind == "left-hand knife"]
    squares = sorted((t for t in shop.tools if t.kind == "parting" and t.width_mm), key=lambda t: -(t.width_mm or 0.0))
    widths = [(t.width_mm or 0.0, t.reach_mm or 14.0, t.name, t.owned) for t in squares]
    widths.append((0.5, 8.0, "narrow square-nosed tool 0.5 mm wide", False))
    if link.kind in (OutsideKind.HOLLOW, OutsideKind.FILLET):
        yield from round_traces(bench, link, runs)
    for knife in knives:
        if all(rises for rises, _ in runs):
            yield tuple(Trace(knife, _from_tailstock(run, bench, is_open)) for _, run in runs)
    for width, reach, name, owned in widths:
        traces = tuple(_square_trace(bench, run, rises, width, reach, name, owned) for rises, run in runs)
        if all(traces):
            yield tuple(t for t in traces if t)
    for left in lefts:
        if not any(rises and _steep(run) for rises, run in runs):
            yield tuple(Trace(left, tuple(run), "right") for _, run in runs)
    if len(runs) == 1 and not _steep(runs[0][1]) and lefts and knives:
        low, high = _halves(runs[0][1])
        yield Trace(lefts[0], tuple(high), "right"), Trace(knives[0], tuple(reversed(low)))


def _runs(link: Link) -> list[tuple[bool, list[UPoint]]]:
    """The surface in pieces that rise toward the headstock (True; level too) or fall, tailstock end first."""
    runs: list[tuple[bool, list[UPoint]]] = []
    for a, b in zip(link.surface, link.surface[1:], strict=False):
        rises = b[1] <= a[1] + 1e-9
        if runs and runs[-1][0] == rises:
            runs[-1][1].append(b)
        else:
            runs.append((rises, [a, b]))
    return runs[::-1]


def _from_tailstock(run: list[UPoint], bench: Bench, is_open: bool) -> tuple[UPoint, ...]:
    path = list(reversed(run))
    if is_open:
        path.insert(0, (max(path[0][0], bench.free_u()) + 1.0, path[0][1]))
    return tuple(path)


def _square_trace(
    bench: Bench, run: list[UPoint], rises: bool, width: float, reach: float, name: str, owned: bool
) -> Trace | None:
    is_level = abs(run[0][1] - run[-1][1]) < 1e-9
    if is_level:
        if run[-1][0] - run[0][0] < width - 1e-9:
            return None
        cutter = square_cutter(bench.view, width, reach, "left", name, owned)
        return Trace(cutter, ((run[-1][0] - width, run[0][1]), (run[0][0], run[0][1])))
    corner = "left" if rises else "right"
    return Trace(square_cutter(bench.view, width, reach, corner, name, owned), tuple(reversed(run)), corner)


def _halves(run: list[UPoint]) -> tuple[list[UPoint], list[UPoint]]:
    """A run cut in the middle: the part nearest the headstock, and the other."""
    (u0, r0), (u1, r1) = run[0], run[-1]
    middle = ((u0 + u1) / 2.0, (r0 + r1) / 2.0)
    if len(run) > 2:
        middle = run[len(run) // 2]
    return [p for p in run if p[0] < middle[0]] + [middle], [middle] + [p for p in run if p[0] > middle[0]]


def _steep(run: list[UPoint]) -> bool:
    (ua, ra), (ub, rb) = run[0], run[-1]
    return ub > ua and math.degrees(math.atan2(abs(ra - rb), ub - ua)) > 29.0


def _keep(bench: Bench, link: Link, trace: Trace) -> str:
    start = bench.radius_before(link.u0, link.u1)
    if link.kind in (OutsideKind.CONE, OutsideKind.CHAMFER):
        way = sloped(bench, link, trace, start)
        if isinstance(way, str):
            return way
        return bench.attempt(way.kind, Sweep(bench.view.path(trace.path)), trace.cutter, way.why, setting=way.setting,
                             caution=way.caution, moves=way.moves, settings=way.settings, chart=way.chart)  # fmt: skip
    kind = KIND_OF[link.kind]
    if kind == "turn" and trace.cutter.kind == "parting":
        kind = "groove"
    why = Why(RULE_OF[kind], (link.name,), _reason(kind, link, trace.cutter, bench.shop.units))
    is_curve = kind == "curve"
    moves = curve_moves(bench, link, trace, start) if is_curve else plain_moves(bench, link, trace, start)
    chart = chart_of(bench, link, trace, start) if is_curve else None
    return bench.attempt(kind, Sweep(bench.view.path(trace.path)), trace.cutter, why, setting=bench.setting,
                         caution=caution_for(kind), moves=moves, chart=chart)  # fmt: skip


def _reason(kind: str, link: Link, cutter: Cutter, units: Unit) -> str:
    sizes = f"Ø {said(units, 2 * link.r0)}"
    if abs(link.r0 - link.r1) > 1e-6:
        sizes = f"Ø {said(units, 2 * link.r1)} to {sizes}"
    return {
        "turn": f"{link.name} ({sizes}) is open toward the tailstock: {cutter.name} fed toward the headstock",
        "groove": f"{link.name} ({sizes}) lies between larger diameters: {cutter.name} plunged and traversed",
        "curve": f"{link.name} is an arc: the tool goes from line to line of the chart",
    }[kind]
