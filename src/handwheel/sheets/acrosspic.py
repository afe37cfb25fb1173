"""The work tilted as it is held for what lies across: the part in the plane of both axes, the cuts, and what it sweeps.

In the lathe the cut's axis lies along the spindle, open end to the tailstock (right); on the drilling machine it stands
upright. The part is drawn whole, not cut open.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from handwheel.job.records import Unit
from handwheel.plan.records import AcrossCut, Stage
from handwheel.readings.words import length_text
from handwheel.sheets.moving import Picture, as_picture
from handwheel.sheets.primitives import Item, Line, LineType, Polyline, Text
from handwheel.stages.axis import Axis, outside_outline, swept_radius

Array = NDArray[np.float64]
Place = Callable[[float, float], tuple[float, float]]
"""From along and beside the cut's axis to the picture. [mm]"""
LABEL_PT = 8.5
BEYOND_MM = 4.0
GREATEST_SCALE = 4.0


def is_across(stages: Sequence[Stage]) -> bool:
    """Whether the stages are cuts about another axis than the part's, to be drawn so."""
    return bool(stages) and bool(stages[-1].operation.across_cuts) and bool(stages[-1].operation.axis_through)


def across_picture(stages: Sequence[Stage], unit: Unit, width: float, height: float) -> Picture:
    """The last stage's part as it is held, with what has been cut in this holding. [mm]"""
    operation, section = stages[-1].operation, stages[-1].after
    axis = Axis(operation.axis_centre_mm, operation.axis_lean_deg, operation.axis_around_deg)
    is_lathe = operation.holding.kind == "ball collet"
    outline = _tilted(section.outer, axis, outside_outline(section))
    sweep = swept_radius(section, axis) if is_lathe else 0.0
    along, beside = outline[:, 0], outline[:, 1]
    tall = max(2.0 * sweep, float(np.ptp(beside)))
    across, up = (float(np.ptp(along)), tall) if is_lathe else (tall, float(np.ptp(along)))
    scale = min((width - 40.0) / max(across, 1e-6), height / max(up, 1e-6), GREATEST_SCALE)

    def place(a: float, b: float) -> tuple[float, float]:
        return (a * scale, b * scale) if is_lathe else (b * scale, -a * scale)

    items: list[Item] = [Polyline(tuple(place(float(a), float(b)) for a, b in outline), LineType.OUTLINE, True)]
    items += _axes(outline, axis, section.outer, place)
    for cut in operation.across_cuts:
        items += _cut(cut, outline, place)
    if is_lathe:
        low, high = float(along.min()), float(along.max())
        for side in (-sweep, sweep):
            items.append(Line(*place(low, side), *place(high, side), LineType.PHANTOM))
        x, y = place(high, -sweep)
        items.append(Text(x + 1.5, y + 3.0, f"sweeps {length_text(2 * sweep, unit, 'Ø')}", LABEL_PT))
        items.append(Text(place(high + BEYOND_MM, 0.0)[0] + 1.0, 1.2, "tailstock", LABEL_PT, light=True))
    return as_picture(items)


def _tilted(outer: Array, axis: Axis, outline: Array) -> Array:
    """The part's outline in the plane of both axes: along the cut's axis, and beside it. (n, 2) [mm]"""
    lean = math.radians(axis.lean_deg)
    both = np.vstack([outline, outline[::-1] * np.array([1.0, -1.0])])
    z, r = both[:, 0] - axis.centre, both[:, 1]
    tilted: Array = np.column_stack([z * math.sin(lean) + r * math.cos(lean), z * math.cos(lean) - r * math.sin(lean)])
    return tilted


def _axes(outline: Array, axis: Axis, outer: Array, place: Place) -> list[Item]:
    lean = math.radians(axis.lean_deg)
    low, high = float(outer[0, 0]) - axis.centre - BEYOND_MM, float(outer[-1, 0]) - axis.centre + BEYOND_MM
    ends = [place(z * math.sin(lean), z * math.cos(lean)) for z in (low, high)]
    far = [place(float(outline[:, 0].min()) - BEYOND_MM, 0.0), place(float(outline[:, 0].max()) + BEYOND_MM, 0.0)]
    return [Line(*ends[0], *ends[1], LineType.CENTRE), Line(*far[0], *far[1], LineType.CENTRE)]


def _cut(cut: AcrossCut, outline: Array, place: Place) -> list[Item]:
    """A hole's two sides, its end and point, hidden; a flat as a heavy line across the outline."""
    if cut.half_width is None:
        low, high = _chord(outline, cut.end)
        return [Line(*place(cut.end, low), *place(cut.end, high), LineType.HEAVY)] if high > low else []
    w = cut.half_width
    items: list[Item] = [Line(*place(cut.entry, b), *place(cut.end, b), LineType.HIDDEN) for b in (-w, w)]
    tip = place(cut.end - cut.point, 0.0)
    return [*items, *(Line(*place(cut.end, b), *tip, LineType.HIDDEN) for b in (-w, w))]


def _chord(outline: Array, along: float) -> tuple[float, float]:
    """Where a line square to the cut's axis crosses the outline nearest that axis, on either side. [mm]"""
    a, b = outline, np.roll(outline, -1, axis=0)
    crosses = (a[:, 0] - along) * (b[:, 0] - along) < 0.0
    share = (along - a[crosses, 0]) / (b[crosses, 0] - a[crosses, 0])
    found = a[crosses, 1] + share * (b[crosses, 1] - a[crosses, 1])
    below, above = found[found < 0.0], found[found > 0.0]
    return (float(below.max()) if len(below) else 0.0, float(above.min()) if len(above) else 0.0)
