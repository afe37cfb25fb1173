"""Drawing dimensions that leave a working one less than the workshop holds, and which datum would leave more."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from handwheel.drawing.datum import ALONG, Capability, candidates, from_datum
from handwheel.drawing.records import Drawing
from handwheel.drawing.transfer import Shares
from handwheel.job.records import Measure, Phrase, Size
from handwheel.plan.records import Tight
from handwheel.plan.working import Working
from handwheel.workshop.records import Workshop

DIAMETERS = (Size.DIAMETER, Size.RADIUS, Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER, Size.DIAMETER_AT, Size.PITCH_CIRCLE)
LESS = 1.0 - 1e-6
NIL = 1e-9


def held_by(shop: Workshop) -> Capability:
    """What this workshop holds of a size, plus or minus, by its habits."""

    def able(phrase: Phrase) -> float:
        if phrase.size.measure is Measure.ANGLE:
            return shop.habit("capability angle")
        if phrase.size.measure is Measure.RATIO:  # diameter per length: twice the tangent of the angle to the axis
            return 2.0 * math.radians(shop.habit("capability angle"))
        return shop.habit("capability diameter" if phrase.size in DIAMETERS else "capability length")

    return able


def tight_of(
    names: Sequence[str],
    working: Sequence[tuple[str, Working]],
    rows: Sequence[Phrase],
    slopes: NDArray[np.float64],
    found: Shares,
    drawing: Drawing,
    shop: Workshop,
) -> dict[str, tuple[Tight, ...]]:
    """By part, what is tight.

    Parameters
        working: the working dimensions with their parts, columns of `slopes`; rows: the drawing's, rows of it.
        found: their shares.
    """
    least: dict[tuple[str, int], tuple[float, float]] = {}
    for j, (part, size) in enumerate(working):
        row, held = found.holder[j], shop.habit(size.capability)
        half = float(found.half[j])
        if row < 0 or size.phrase.size.measure is not Measure.LENGTH or half >= held * LESS:
            continue
        if np.count_nonzero(np.abs(slopes[row]) > NIL) > 1:
            least[part, row] = min(least.get((part, row), (half, held)), (half, held))
    told: dict[str, tuple[Tight, ...]] = {}
    for name in names:
        mine = [(row, *pair) for (part, row), pair in least.items() if part == name]
        lengths = [row for row, _, _ in mine if rows[row].part == name and rows[row].size in ALONG]
        better = _better(drawing, name, shop) if lengths else ("", 0.0)
        told[name] = tuple(
            Tight(rows[row].text, _through(working, slopes[row]), half, held, *(better if row in lengths else ("", 0.0)))
            for row, half, held in mine
        )
    return told


def _through(working: Sequence[tuple[str, Working]], slopes: NDArray[np.float64]) -> tuple[str, ...]:
    return tuple(w.phrase.text for (_, w), s in zip(working, slopes, strict=True) if abs(s) > NIL)


def _better(drawing: Drawing, part: str, shop: Workshop) -> tuple[str, float]:
    """The datum from which all lengths of the part get what is held, or "" where there is none."""
    found = from_datum(drawing, part, candidates(drawing.job, part)[0], held_by(shop))
    best = found.ranking[0] if found is not None and found.ranking else ("", 0.0)
    return best if best[1] >= LESS else ("", 0.0)
