"""A taper turned or bored by the taper attachment: what is set, which moves, and why.

The bar leads the cross slide by tan of its angle for each of carriage travel, so the carriage goes the taper's length along
the axis. Play between bar and slide is taken up first: the carriage starts that much beyond the work.
"""

from __future__ import annotations

import math

from handwheel.plan.bench import Bench, diameter_makes, length_makes
from handwheel.plan.moves import check_of
from handwheel.plan.names import end_name, said
from handwheel.plan.records import Makes, Move, Setting, Why
from handwheel.plan.taperways import TaperWay, not_by, run_up_mm
from handwheel.plan.view import Link
from handwheel.workshop.records import TaperAttachment, Workshop

LAYER = "taper attachment"
CAUTION = ("Taper attachment: bolts tight, the carriage run by hand to both ends of its travel before power; its clamp on the "
           "bed off again afterwards.")  # fmt: skip


SCALE_UNITS = {"angle to axis": "°", "included angle": "° included", "inches per foot": " in per foot",
               "mm in 100 mm": " mm in 100 mm"}  # fmt: skip
"""What follows a figure on each kind of scale."""


def scale_value(angle_deg: float, reads: str) -> float | None:
    """What the scale shows at an angle of the side to the axis; None where there is no scale. [deg] in.

    Parameters
        reads: `angle to axis` [deg], `included angle` [deg], `inches per foot` or `mm in 100 mm` (both of the diameter).
    """
    slope = math.tan(math.radians(angle_deg))
    values = {"angle to axis": angle_deg, "included angle": 2.0 * angle_deg, "inches per foot": 24.0 * slope,
              "mm in 100 mm": 200.0 * slope}  # fmt: skip
    return values.get(reads)


def scale_text(angle_deg: float, owned: TaperAttachment) -> str:
    """`0.600 in per foot on its scale: 4.80 lines of 0.125`; "no scale" where it has none."""
    value = scale_value(angle_deg, owned.reads)
    if value is None:
        return "no scale: by the indicator alone"
    unit = SCALE_UNITS[owned.reads]
    lines = "" if owned.line is None else f": {value / owned.line:.2f} lines of {owned.line:g}"
    return f"{value:.3f}{unit} on its scale{lines}"


def attachment_settings(angle_deg: float, side: str, way: TaperWay, shop: Workshop) -> tuple[Setting, ...]:
    """The attachment's layer, and the top slide's where that puts on the cut. [deg]"""
    owned = shop.lathe.attachment
    assert owned is not None
    unknown = "" if way.fits else f"; {way.why}"
    text = (f"bar at {angle_deg:.3f}° to the bed, {side}: {scale_text(angle_deg, owned)}; then "
            f"{check_of(angle_deg, shop.units)} of carriage by an indicator in the tool post, on a true bar{unknown}")
    found = [Setting(LAYER, text, "a knock on its bar; another taper", angle_deg, "deg", "attachment's scale", side)]
    if owned.cut_by == "top slide":
        found.append(Setting("top slide", "square across the bed: it puts on the cut, the cross slide's screw freed",
                             "swinging the top slide"))  # fmt: skip
    return tuple(found)


def key_of(bench: Bench, angle_deg: float, side: str) -> str:
    """The set-up's raw key: alike for all that one setting of the attachment does."""
    return f"{bench.setting}|{LAYER} {angle_deg:.4f} deg, {side}"


def attachment_moves(bench: Bench, link: Link, start: float) -> tuple[Move, ...]:
    """In to the tailstock end's diameter, then the carriage along the axis, the bar leading the tool."""
    tailstock, units = end_name(bench.view.toward, headstock=False), bench.shop.units
    made = diameter_makes(f"{link.name} {tailstock} diameter", link.r1)
    cut = Move(_cut_by(bench.shop), "in", f"touched on the work, Ø {said(units, 2 * start)}", start - link.r1, made,
               "the last cut of several, each fed by the carriage")  # fmt: skip
    return (cut, _along(bench, f"{link.name} {tailstock}", link.u1 - link.u0,
                        length_makes(f"{link.name} along the axis", link.u1 - link.u0), abs(link.feature.half_angle_deg)))


def bore_moves(
    bench: Bench, name: str, start: float, mouth: tuple[float, float], length: float, angle: float
) -> tuple[Move, ...]:
    """Out to the mouth's diameter, then the carriage in. start, mouth (place, radius), length. [mm], [deg]"""
    tailstock = end_name(bench.view.toward, headstock=False)
    touched = f"touched in the hole, Ø {said(bench.shop.units, 2 * start)}"
    cut = Move(_cut_by(bench.shop), "out", touched, mouth[1] - start,
               diameter_makes(f"{name} {tailstock} diameter", mouth[1]),
               "the last cut of several, each fed by the carriage")  # fmt: skip
    return (cut, _along(bench, f"{name} {tailstock}", length, length_makes(f"{name} along the axis", length), angle))


def _cut_by(shop: Workshop) -> str:
    return shop.lathe.attachment.cut_by if shop.lathe.attachment is not None else "cross slide"


def _along(bench: Bench, where: str, length: float, makes: Makes, angle: float) -> Move:
    owned, units = bench.shop.lathe.attachment, bench.shop.units
    run_up = "play taken up before the work: start well beyond its end"
    if owned is not None and owned.play_mm:
        run_up = f"start {said(units, run_up_mm(angle, owned.play_mm))} or more beyond it, so that the play is taken up"
    return Move("carriage", "toward the headstock", f"tool standing at {where}", length, makes, run_up)


def attachment_why(name: str, sizes: str, ruled_out: str) -> Why:
    """Why the attachment is taken for this taper."""
    return Why("cone-by-attachment", (name,), f"{name} ({sizes}): taper attachment{not_by(ruled_out)}")
