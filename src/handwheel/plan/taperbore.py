"""A tapering bore: by the top slide at its angle or by a taper attachment, from its mouth inward.

It is planned on the operator's side of the work, where a bore that narrows inward wants the slide swung the other way from a
plug that narrows toward the tailstock; `plan/oneslide.py` turns it to the far side where that saves a setting.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from handwheel.plan.attachment import CAUTION, LAYER, attachment_settings, bore_moves
from handwheel.plan.bench import Bench, CannotMakeError, diameter_makes, length_makes
from handwheel.plan.caution import caution_for
from handwheel.plan.moves import slide_angle
from handwheel.plan.names import end_name, said
from handwheel.plan.records import Move, Why
from handwheel.plan.taperways import ATTACHMENT, TOP, chosen, not_by, ruled_out, side_of, taper_ways
from handwheel.plan.view import Drilling
from handwheel.stages.records import Bore, Cutter, Polyline


@dataclass(frozen=True, slots=True)
class TaperBore:
    """The bar's place in it: what is cut, by what, and the radius that is open at its mouth before. [mm]"""

    profile: Polyline
    cutter: Cutter
    open_mm: float


def bore_taper(bench: Bench, hole: Drilling, found: TaperBore) -> None:
    """Bore it. Raises CannotMakeError where no slide leads the bar along it."""
    name, shop, length = hole.hole.name, bench.shop, hole.mouth - hole.bottom
    rise = hole.hole.mouth_radius - hole.hole.bottom_radius
    angle = math.degrees(math.atan2(abs(rise), length))
    ways = taper_ways(angle, length, shop, None, is_inside=True)
    taken = chosen(ways)
    if taken is None:
        raise CannotMakeError(name, f"{name} cannot be bored so: {ruled_out(ways)}",
                              "a taper reamer, or a slide with more travel")  # fmt: skip
    side = side_of(grows=rise < 0.0)
    sizes = f"Ø {said(shop.units, 2 * hole.hole.mouth_radius)} to Ø {said(shop.units, 2 * hole.hole.bottom_radius)}, {angle:.3f}°"
    if taken.name == ATTACHMENT:
        settings, key = attachment_settings(angle, side, taken, shop), f"{bench.setting}|{LAYER} {angle:.4f} deg, {side}"
        moves = bore_moves(bench, name, found.open_mm, (hole.mouth, hole.hole.mouth_radius), length, angle)
        why = f"{name} ({sizes} to the axis): taper attachment{not_by(ruled_out(ways))}"
    else:
        settings, key = slide_angle(angle, shop.units, side=side), f"{bench.setting}|{TOP} {angle:.4f} deg, {side}"
        moves, why = _slide_moves(bench, hole, found.open_mm), f"{name} ({sizes} to the axis): bored by the top slide"
    caution = caution_for("bore") if taken.name != ATTACHMENT else f"{caution_for('bore')} {CAUTION}"
    wrong = bench.attempt("bore", Bore(found.profile), found.cutter, Why("taper-bored", (name,), why), setting=key,
                          settings=settings, caution=caution, moves=moves)  # fmt: skip
    bench.must(name, "another boring bar", wrong)


def _slide_moves(bench: Bench, hole: Drilling, open_mm: float) -> tuple[Move, ...]:
    """Carriage to the mouth and locked, cross slide out to the mouth's diameter, the top slide in along the slope."""
    name, datum, free = hole.hole.name, bench.touched(), bench.free_u()
    mouth, tailstock = hole.hole.mouth_radius, end_name(bench.view.toward, headstock=False)
    slope = math.hypot(hole.mouth - hole.bottom, mouth - hole.hole.bottom_radius)
    moves = [
        Move("cross slide", "out", f"touched in the hole, Ø {said(bench.shop.units, 2 * open_mm)}", mouth - open_mm,
             diameter_makes(f"{name} {tailstock} diameter", mouth), "the last cut of several, each fed by the top slide"),
        Move("top slide", "toward the headstock", f"tool standing at {name} {tailstock}", slope,
             length_makes(f"{name} along its slope", slope), "carriage locked"),
    ]  # fmt: skip
    if free - hole.mouth > 1e-6:
        stop = length_makes(f"{datum} to {name} {tailstock}", free - hole.mouth)
        moves.insert(0, Move("carriage", "toward the headstock", f"touched on the {datum}", free - hole.mouth, stop, "lock it"))
    return tuple(moves)
