"""How far the work bends away from the tool: a stepped, tapered or hollow bar in the chuck, free or propped by a centre.

Unit load at `tool`, x from the clamp: a free bar bends by ∫ (a - x)²/EI dx; a centre at L pushes back with
R = ∫ (a - x)(L - x)/EI dx / ∫ (L - x)²/EI dx of the load and takes away R·∫ (a - x)(L - x)/EI dx. Bending alone: shear
adds about 0.54·(d/L)² and the chuck's, slide's and bearings' own give is not known. Checked against textbook beams.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from handwheel.stages.envelope import aligned, clip
from handwheel.stages.records import Holding, Section

NODES, WEIGHTS = np.polynomial.legendre.leggauss(8)
THINNEST_SHARE = 0.02
"""A bar counts as at least this share of its length thick: a pointed end is not infinitely weak."""

Array = NDArray[np.float64]


def gives_mm_per_n(section: Section, holding: Holding, tool_mm: float, e_gpa: float) -> float:
    """Bending at the tool for one newton there. `tool_mm`: its z. [mm/N]"""
    sign = 1.0 if holding.toward_tailstock == "right" else -1.0
    reach = sign * (tool_mm - holding.face_mm)
    if reach <= 0.0:
        return 0.0
    face = holding.face_mm
    x, weight, ei = _stiffness(section, face, tool_mm, e_gpa)
    free = float(np.sum(weight * (reach - x) ** 2 / ei))
    if holding.centre_mm is None or sign * (holding.centre_mm - tool_mm) < 0.0:
        return free
    end = sign * (holding.centre_mm - face)
    both = float(np.sum(weight * (reach - x) * (end - x) / ei))
    x, weight, ei = _stiffness(section, face, holding.centre_mm, e_gpa)
    return free - both * both / float(np.sum(weight * (end - x) ** 2 / ei))


def _stiffness(section: Section, face: float, end: float, e_gpa: float) -> tuple[Array, Array, Array]:
    """Places from the clamp, their weights for the integral, and EI there. [mm], [mm], [N mm²]"""
    low, high = min(face, end), max(face, end)
    both = aligned(clip(section.outer, low, high), clip(section.inner, low, high))
    share = 0.5 * (NODES + 1.0)[:, None]
    z = both.z0 + share * (both.z1 - both.z0)
    outside, inside = both.a0 + share * (both.a1 - both.a0), both.b0 + share * (both.b1 - both.b0)
    thinnest = THINNEST_SHARE * (high - low) / 2.0
    second_moment = math.pi / 4.0 * np.maximum(outside**4 - np.nan_to_num(inside) ** 4, thinnest**4)
    weight = np.broadcast_to(0.5 * WEIGHTS[:, None] * (both.z1 - both.z0), z.shape)
    return np.abs(z - face).ravel(), weight.ravel().copy(), (e_gpa * 1e3 * second_moment).ravel()


def worst_give(section: Section, holding: Holding, places_mm: Array, e_gpa: float) -> tuple[float, float]:
    """The greatest bending for one newton over the places a cut comes to, and where. [mm/N], [mm]"""
    found = [gives_mm_per_n(section, holding, float(place), e_gpa) for place in places_mm]
    worst = int(np.argmax(found))
    return found[worst], float(places_mm[worst])
