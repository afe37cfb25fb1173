"""What the pictures of a set-up are drawn from: the part's own sizes, and the letters that tie them to its figures."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.job.records import Unit
from handwheel.plan.records import Operation, Stage
from handwheel.plan.taperways import TOWARD
from handwheel.readings.words import figure, unit_name
from handwheel.setups.form import HALF
from handwheel.setups.passes import Blank
from handwheel.setups.records import Sketch
from handwheel.setups.sinebar import Stack
from handwheel.setups.tapers import Taper, along_bar_mm, on_side_mm
from handwheel.stages.records import Bore, Sweep
from handwheel.tables.bonded import face_off_mm
from handwheel.tables.threads import find_thread
from handwheel.workshop.records import Workshop

GAP_TEST = Sketch("gap test", "height")
QUARTER_DEG = 90.0
TOUCHED = {"a": "radius with the tip on the blank", "b": "carry of the carriage after the end",
           "c": "back out before it swings", "d": "ball's centre from the jaws"}  # fmt: skip
MEASURED = {"e": "equator", "f": "side diameters", "g": "side diameters, from the centre", "h": "centre to pole"}


def short(length_mm: float, units: Unit) -> str:
    """`0.0539 in`: a length in one unit. [mm]"""
    return f"{figure(length_mm, units)} {unit_name(units)}"


def ball_sketches(
    blank: Blank, outline: Sequence[tuple[float, float]], radius_mm: float, neck_mm: float, stands_mm: float, units: Unit
) -> tuple[Sketch, ...]:
    """The equal-gap test, where the tip touches and starts, and where the ball is measured.

    Parameters
        blank: the ball's, before it is swung.
        outline: of the metal before, (u, r) from the ball's centre, u toward the tailstock. [mm]
        radius_mm, neck_mm: the ball's, and u where the swing ends. [mm]
        stands_mm: the ball's centre from the jaws. [mm]
    """
    at = {"radius": radius_mm, "neck": neck_mm, "top": blank.top_mm, "end": blank.end_mm, "farthest": blank.farthest_mm,
          "stands": stands_mm, "apart": HALF * radius_mm, "pole": min(radius_mm, blank.end_mm)}  # fmt: skip
    told = {"e": f"Ø {short(2.0 * radius_mm, units)}", "f": f"Ø {short(2.0 * HALF * radius_mm, units)}",
            "g": short(HALF * radius_mm, units), "h": short(at["pole"], units)}  # fmt: skip
    touched = {"a": short(blank.top_mm, units), "c": short(blank.farthest_mm - blank.top_mm, units), "d": short(stands_mm, units)}
    return (
        GAP_TEST,
        Sketch("where to measure", "measure", at, keys=MEASURED, words=told),
        Sketch("touch and start", "stop", at, tuple(outline), TOUCHED, touched, is_own=True),
    )


def taper_sketches(
    taper: Taper, shop: Workshop, span_mm: float, stack: tuple[float, Stack] | None, narrows: str, swung: str
) -> tuple[Sketch, ...]:
    """The two ways of the indicator, the sine bar on its stacks, and what is measured and looked at.

    Parameters
        span_mm: travel of the carriage, or of the slide, that the readings are for. [mm]
        stack: the block under the lower roller (0 none) and the stack under the other; None without a sine bar. [mm]
        narrows: toward what it grows narrow: 'tailstock' or 'headstock'.
        swung: as for a plug that narrows so; of a bore cut on its near side the same, on its far side the other.
    """
    units, angle = shop.units, taper.half_angle_deg
    said = {"a": f"{angle:.3f}°", "narrows": narrows, "swung": swung, "far": short(span_mm, units)}
    side, bar = short(on_side_mm(angle, span_mm), units), short(along_bar_mm(angle, span_mm), units)
    found = [
        Sketch("on the slide's side", "angle", keys={"a": "angle to the axis", "b": "on the slide's side (tangent)"},
               words={**said, "b": side}),
        Sketch("along a true bar", "angle", keys={"a": "angle to the axis", "c": "along a true bar (sine)"},
               words={**said, "c": bar}),
    ]  # fmt: skip
    if stack is not None and shop.sine_bar_mm is not None:
        under, high = stack
        found.append(Sketch("sine bar", "angle", {"under": under}, keys={"a": "angle to the axis", "d": "sine bar"}, words={
            **said, "centres": short(shop.sine_bar_mm, units), "d": short(high.makes_mm, units),
            "under": short(under, units) if under else ""}))  # fmt: skip
    sizes = {"large": taper.large_mm, "small": taper.small_mm, "length": taper.length_mm}
    large, small = (f"Ø {short(size, units)}" for size in (taper.large_mm, taper.small_mm))
    ends = {"e": large, "f": small, "g": short(taper.length_mm, units)}
    name = "blue in a bore" if taper.is_inside else "two diameters"
    return (*found, Sketch(name, "correct", sizes, keys={"e": ENDS, "f": ENDS, "g": ENDS}, words={**said, **ends}))


ENDS = "large end, small end, apart"


def narrow_end(operation: Operation) -> str:
    """Toward what the cone of an operation grows narrow: 'tailstock' or 'headstock'."""
    cut = operation.cut
    points = cut.path if isinstance(cut, Sweep) else cut.profile if isinstance(cut, Bore) else ()
    known = [(float(r), float(z)) for z, r in points if r > 0.0]
    if not known:
        return "tailstock"
    is_right = min(known)[1] > max(known)[1]
    return "tailstock" if is_right == (operation.holding.toward_tailstock == "right") else "headstock"


def swung_for(operation: Operation) -> str:
    """Toward what a plug narrows that wants the slide swung as this operation has it: 'tailstock' or 'headstock'."""
    is_so = any(setting.side == TOWARD for setting in operation.settings)
    return "tailstock" if is_so else "headstock"


def die_sketches(stage: Stage, shop: Workshop) -> tuple[Sketch, ...]:
    """The die in its holder before the end of the blank, to scale, and what is faced off to come tight further round."""
    operation = stage.operation
    if operation.cutter.kind != "die":
        return ()
    thread = find_thread(operation.cutter.name.partition(",")[0].removeprefix("die "))
    blank = next((m.makes.value_mm for m in operation.moves if m.makes is not None and m.makes.is_diameter), None)
    if thread is None or blank is None:
        return ()
    sign = 1.0 if operation.holding.toward_tailstock == "right" else -1.0
    points = [(sign * (float(z) - operation.datum_mm), float(r)) for z, r in stage.before.outer]
    outline = tuple(points if sign > 0 else points[::-1])
    sizes = {"blank": blank, "root": thread.minor_external_mm, "major": thread.major_mm, "pitch": thread.pitch_mm}
    told = {"a": f"Ø {short(blank, shop.units)}", "b": f"Ø {short(thread.minor_external_mm, shop.units)}"}
    heads = {head for head, _ in operation.figures}
    keys = {letter: head for letter, head in {"a": "blank", "b": "lead", "c": "shoulder"}.items() if head in heads}
    off = short(face_off_mm(thread.pitch_mm, QUARTER_DEG), shop.units)
    return (
        Sketch("die in its holder", "die", sizes, outline, keys, told, is_own=True),
        Sketch("clocking", "clocking", keys={"d": "to come tight further"}, words={"to go": f"{QUARTER_DEG:g}°", "d": off}),
    )
