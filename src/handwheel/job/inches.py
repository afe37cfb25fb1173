"""Whether a size was written in inches, with or without saying so."""

from __future__ import annotations

import re
from fractions import Fraction

from handwheel.job.records import DrawnValue, Job, Measure, Unit

_MM = re.compile(r"mm|millimet", re.IGNORECASE)
_INCH = re.compile(r"[0-9\s](?:in|inch|inches)\b|\"|\u2033|\u201d", re.IGNORECASE)


def is_in_inches(value: DrawnValue, units: Unit) -> bool:
    """Whether a length's own text says inches, or says no unit in a job in inches."""
    if value.number.measure is not Measure.LENGTH or value.follow is not None or _MM.search(value.text):
        return False
    return units is Unit.INCH or _INCH.search(value.text) is not None


def has_inches(job: Job, least_mm: Fraction) -> bool:
    """Whether any size of a part was written in inches and is more than so many mm."""
    return any(
        d.value.number.value > least_mm and is_in_inches(d.value, job.units) for part in job.parts for d in part.dimensions
    )
