"""Sizes with limits, and the least and greatest of a closed form over them, by brute force."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from typing import NamedTuple

INCH = 25.4


class Size(NamedTuple):
    """A size as typed and its two limits, in millimetres (ratios and degrees where the form says so)."""

    value: float
    low: float
    high: float


def pm(value: float, by: float, unit: float = 1.0) -> Size:
    """``value ± by``, both times ``unit``."""
    return Size(value * unit, (value - by) * unit, (value + by) * unit)


def lim(value: float, low: float, high: float, unit: float = 1.0) -> Size:
    """``value`` with its two deviations, the lower first."""
    return Size(value * unit, (value + low) * unit, (value + high) * unit)


def exact(value: float, unit: float = 1.0) -> Size:
    """A size without tolerance."""
    return Size(value * unit, value * unit, value * unit)


def over(form: Callable[..., float], **sizes: Size) -> Size:
    """The form at the sizes as typed, and its least and greatest with every size at its limits or midway."""
    typed = form(**{name: size.value for name, size in sizes.items()})
    names = list(sizes)
    choices = [sorted({s.low, (s.low + s.high) / 2, s.high}) for s in sizes.values()]
    found = [form(**dict(zip(names, pick, strict=True))) for pick in itertools.product(*choices)]
    return Size(typed, min(found), max(found))
