"""What screws home and points the wrong way: what to face off its seat, in divisions of the workshop's own wheel."""

from __future__ import annotations

from handwheel.plan.names import said
from handwheel.readings.strip import wheel_text
from handwheel.tables.bonded import clocked_error_deg, face_off_mm
from handwheel.tables.threads import Thread
from handwheel.workshop.records import Handwheel, Workshop

ALONG = ("top slide", "carriage")
"""Slides that face by a length, the finer first."""
BEDS_DEG = 10.0
"""Left for the threads and the seat to bed when it is first pulled tight: common practice, no source. [deg]"""


def facing_wheel(shop: Workshop) -> Handwheel | None:
    """The wheel by which a length is faced off; None where none has divisions."""
    wheels = (shop.lathe.wheels.get(name) for name in ALONG)
    return next((wheel for wheel in wheels if wheel is not None and wheel.divisions > 0), None)


def clocked_words(thread: Thread, short_deg: float, judged_deg: float | None, shop: Workshop) -> tuple[str, ...]:
    """What to do with a lever that is tight at the wrong angle.

    Parameters
        thread: what it screws home by.
        short_deg: how far it would have to turn on, the way it tightens, to point right; less than nought: how far past it is.
        judged_deg: plus or minus of that angle, None where not said.
        shop: whose wheel faces it.
    """
    on, units = short_deg % 360.0, shop.units
    way = "anticlockwise" if thread.is_left_hand else "clockwise"
    off = face_off_mm(thread.pitch_mm, on)
    lines = [f"{thread.designation} tightens {way}, seen from the side it is screwed on from; facing its seat lets it turn "
             "further that way, never back"]  # fmt: skip
    if on < 1e-9:
        return (*lines, "it points right: nothing is faced off")
    if short_deg < 0.0:
        lines.append(f"{-short_deg:g}° past: it has to go on {on:g}° to come round to the same place, or a washer thicker by "
                     f"{said(units, thread.pitch_mm - off)} brings it back")  # fmt: skip
    else:
        lines.append(f"{on:g}° short: it has to go on {on:g}°")
    wheel = facing_wheel(shop)
    dial = "" if wheel is None else f", {wheel_text(off, wheel)} of the {wheel.slide}"
    lines.append(f"face {said(units, off)} off the seat in all{dial}")
    first = max(on - BEDS_DEG, on / 2.0)
    lines.append(f"first cut {said(units, face_off_mm(thread.pitch_mm, first))}{_dial(thread, first, wheel)}, for the last "
                 f"{on - first:g}° beds in; try it, measure the angle left, and ask again")  # fmt: skip
    held = shop.habits["capability length"]
    worst, likely = clocked_error_deg(thread.pitch_mm, held.value, judged_deg or 0.0)
    judged = "" if judged_deg is None else f" and the angle judged to ± {judged_deg:g}°"
    lines.append(f"faced to ± {said(units, held.value)} ({held.whose}){judged} it comes tight within {worst:.0f}° at worst"
                 + ("" if judged_deg is None else f", {likely:.0f}° likely"))  # fmt: skip
    lines.append("a flat for a grub screw comes last of all: nip the screw where the lever points right, take the lever off, and "
                 "file or mill the flat about the mark")  # fmt: skip
    if shop.is_example and wheel is not None:
        lines.append("Example workshop: its divisions are not for your wheel; --workshop FILE names yours.")
    return tuple(lines)


def _dial(thread: Thread, further_deg: float, wheel: Handwheel | None) -> str:
    return "" if wheel is None else f", {wheel_text(face_off_mm(thread.pitch_mm, further_deg), wheel)}"
