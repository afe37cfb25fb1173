"""How figures stand in JSON: the same job gives the same text."""

from __future__ import annotations

from collections.abc import Mapping

from handwheel.job.records import Measure

Json = Mapping[str, object]
DECIMALS = 9
VALUE_KEY = {Measure.LENGTH: "mm", Measure.ANGLE: "deg", Measure.RATIO: "ratio",
             Measure.AREA: "mm2", Measure.VOLUME: "mm3", Measure.MASS: "g"}  # fmt: skip


def figure(value: float) -> float:
    """A number as it stands in JSON, never minus nought."""
    return round(float(value), DECIMALS) + 0.0
