"""A known part's dimensions at many values at once: every combination of limits, or samples, solved by closed forms."""

from __future__ import annotations

from itertools import product
from random import Random
from typing import Any

import numpy as np

from tests.drawing.generated.phrases import Phrase
from tests.drawing.generated.shape import STEP, Made, Part

TURNS = 40


def stepped_many(values: Any) -> Any:
    """Free numbers (n, m) with an imaginary step in each direction: (n, n, m)."""
    n = values.shape[0]
    return values[:, None, :] + 1j * STEP * np.eye(n)[:, :, None]


def solved_many(part: Part, phrases: list[Phrase], wanted: Any) -> Any:
    """Free numbers (n, m) at which the phrases have the wanted values (n - 1, m), from the known part on, or nan."""
    n, m = len(part.values), wanted.shape[1]
    x = np.repeat(np.array(part.values)[:, None], m, axis=1)
    weight = np.array([10.0 if p.unit == "ratio" else 1.0 for p in phrases])[:, None]
    for _ in range(TURNS):
        made = Made(part, stepped_many(x))
        zero = made.station(0) + np.zeros((n, m))
        with np.errstate(all="ignore"):
            found = np.array([np.broadcast_to(p.fn(made), (n, m)) for p in phrases])
            off = (found[:, 0, :].real - wanted) * weight
            rows = found.imag / STEP * weight[:, :, None]
        off = np.vstack([off, zero[None, 0, :].real * 0])
        rows = np.concatenate([rows, zero[None].imag / STEP])
        bad = ~np.isfinite(off).all(axis=0) | ~np.isfinite(rows).all(axis=(0, 1))
        off[:, bad], rows[:, :, bad] = 0.0, np.eye(n)[:, :, None]
        x[:, bad] = np.nan
        if float(np.abs(off).max()) < 1e-12:
            break
        x = x - np.linalg.solve(rows.transpose(2, 0, 1), off.T[..., None])[..., 0].T
    x[:, np.abs(off).max(axis=0) > 1e-9] = np.nan
    return x


def corners(low: Any, high: Any, toleranced: list[int]) -> Any:
    """Every combination of the toleranced sizes' limits, the others at their one value: (count, 2^k)."""
    found = np.repeat(low[:, None], 2 ** len(toleranced), axis=1)
    for j, signs in enumerate(product((0, 1), repeat=len(toleranced))):
        for i, s in zip(toleranced, signs, strict=True):
            found[i, j] = high[i] if s else low[i]
    return found


def samples(low: Any, high: Any, count: int, random: Random) -> Any:
    """Values drawn evenly between the limits: (count of sizes, count)."""
    draw = np.array([[random.random() for _ in range(count)] for _ in low])
    return low[:, None] + (high - low)[:, None] * draw


def asked_many(part: Part, ask: Phrase, x: Any) -> Any:
    """A phrase's value at each column of x."""
    made = Made(part, x.astype(complex))
    with np.errstate(all="ignore"):
        return np.broadcast_to(np.real(ask.fn(made)), x.shape[1:])
