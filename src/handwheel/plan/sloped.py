"""How a cone or an edge is turned: by the top slide, a taper attachment, the tailstock set over, or step by step."""

from __future__ import annotations

from dataclasses import dataclass

from handwheel.job.records import OutsideKind, Unit
from handwheel.plan.attachment import CAUTION, attachment_moves, attachment_settings, attachment_why, key_of
from handwheel.plan.bench import Bench
from handwheel.plan.caution import caution_for
from handwheel.plan.chart import chart_of
from handwheel.plan.moves import Trace, curve_moves, slide_angle, slope_moves
from handwheel.plan.names import said
from handwheel.plan.records import Chart, Move, Setting, Why
from handwheel.plan.setover import over_moves, over_settings, over_why, set_over
from handwheel.plan.taperways import (
    ATTACHMENT,
    STEPS,
    TAILSTOCK,
    TOP,
    TaperWay,
    chosen,
    ruled_out,
    side_of,
    taper_ways,
)
from handwheel.plan.view import Link


@dataclass(frozen=True, slots=True)
class Sloped:
    """What turns a sloping side: the operation's kind, its set-up's raw key, what is set, moved, drawn up, and why."""

    kind: str
    setting: str
    settings: tuple[Setting, ...]
    moves: tuple[Move, ...]
    why: Why
    caution: str
    chart: Chart | None = None


def sloped(bench: Bench, link: Link, trace: Trace, start: float) -> Sloped | str:
    """The way that this workshop has for the link, or why none of them does here. start: radius before. [mm]"""
    ways = ways_for(bench, link)
    if link.kind is not OutsideKind.CONE:
        return _edge(bench, link, start, ways[0])
    taken = chosen(ways)
    if taken is not None and taken.name == STEPS and not bench.steps_because:
        return ruled_out(ways)
    angle, side = abs(link.feature.half_angle_deg), side_of(grows=link.r0 > link.r1)
    if taken is None or taken.name == STEPS:
        return _steps(bench, link, trace, start)
    over = set_over(bench, link)
    if taken.name == TAILSTOCK and over is not None:
        key = f"{bench.setting}|tailstock over {over.amount_mm:.3f} mm {over.way}"
        why = over_why(bench, link, over, ruled_out(ways))
        return Sloped("taper", key, over_settings(bench, over), over_moves(bench, link, start), why, caution_for("set over"))
    if taken.name == ATTACHMENT:
        return Sloped("taper", key_of(bench, angle, side), attachment_settings(angle, side, taken, bench.shop),
                      attachment_moves(bench, link, start), attachment_why(link.name, sizes_of(link, bench.shop.units),
                                                                           ruled_out(ways)), CAUTION)  # fmt: skip
    why = Why("cone-by-top-slide", (link.name,), f"{link.name} ({sizes_of(link, bench.shop.units)}): top slide set over")
    return Sloped("taper", top_slide_key(bench, angle, side), slide_angle(angle, bench.shop.units, side=side),
                  slope_moves(bench, link, start), why, caution_for("taper"))  # fmt: skip


def ways_for(bench: Bench, link: Link) -> tuple[TaperWay, ...]:
    """The ways that there are for a sloping link as the work is held now."""
    holding = bench.holding
    between = None
    if holding.headstock_centre_mm is not None and holding.centre_mm is not None:
        between = abs(holding.centre_mm - holding.headstock_centre_mm)
    ways = taper_ways(abs(link.feature.half_angle_deg), link.u1 - link.u0, bench.shop, between, is_inside=False)
    return tuple(way for way in ways if way.name != TAILSTOCK or between is not None)


def sizes_of(link: Link, units: Unit) -> str:
    """`Ø 18.000 mm to Ø 20.000 mm, 1.432° to the axis`."""
    return f"Ø {said(units, 2 * link.r1)} to Ø {said(units, 2 * link.r0)}, {abs(link.feature.half_angle_deg):.3f}° to the axis"


def top_slide_key(bench: Bench, angle_deg: float, side: str) -> str:
    """The set-up's raw key: alike for all that one setting of the top slide does."""
    return f"{bench.setting}|{TOP} {angle_deg:.4f} deg, {side}"


def _edge(bench: Bench, link: Link, start: float, top: TaperWay) -> Sloped | str:
    """A chamfer: by the top slide's own graduations."""
    if top.needs_mm is not None and top.has_mm is not None and top.needs_mm > top.has_mm + 1e-9:
        return top.why
    angle = abs(link.feature.half_angle_deg)
    why = Why("edge-by-top-slide", (link.name,), f"{link.name} takes the corner off")
    return Sloped("chamfer", bench.setting, slide_angle(angle, bench.shop.units, fine=False),
                  slope_moves(bench, link, start), why, caution_for("chamfer"))  # fmt: skip


def _steps(bench: Bench, link: Link, trace: Trace, start: float) -> Sloped:
    """By a chart, where no slide leads the tool along it."""
    why = Why("cone-by-chart", (link.name,), f"{link.name} ({sizes_of(link, bench.shop.units)}): by steps and the file. "
              f"{bench.steps_because}")  # fmt: skip
    return Sloped("curve", bench.setting, (), curve_moves(bench, link, trace, start), why, caution_for("curve"),
                  chart_of(bench, link, trace, start))  # fmt: skip
