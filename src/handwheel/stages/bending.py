"""How far the work bends away from the tool: a stepped, tapered or hollow bar in the chuck, or between two centres.

In the chuck, x from the clamp, a unit load at a bends the bar at b by f(a, b) = ∫ (a - x)(b - x)/EI dx. A centre and a
fixed steady are points that do not give: the forces p there follow from F·p = f, F their own f, and the load's own bending
is less by f·p. Between centres the bar is free to tilt at both: ∫ m²/EI dx, m the moment of the load on two supports.
Bending alone: shear adds about 0.54·(d/L)² and the chuck's, slide's and bearings' own give is not known. Checked against
textbook beams.
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
    if holding.headstock_centre_mm is not None and holding.centre_mm is not None:
        return between_centres_mm_per_n(section, holding.headstock_centre_mm, holding.centre_mm, tool_mm, e_gpa)
    sign = 1.0 if holding.toward_tailstock == "right" else -1.0
    face = holding.face_mm
    if sign * (tool_mm - face) <= 0.0:
        return 0.0
    props = [p for p in (holding.steady_mm, holding.centre_mm) if p is not None and sign * (p - face) > 0.0]
    free = _shared(section, face, tool_mm, tool_mm, e_gpa)
    if not props:
        return free
    load = np.array([_shared(section, face, tool_mm, p, e_gpa) for p in props])
    own = np.array([[_shared(section, face, p, q, e_gpa) for q in props] for p in props])
    return max(0.0, free - float(load @ np.linalg.solve(own, load)))


def _shared(section: Section, face: float, one: float, other: float, e_gpa: float) -> float:
    """Bending at one place for a newton at the other, of the bar clamped at `face` and free beyond. [mm/N]"""
    near = min(one, other, key=lambda z: abs(z - face))
    x, weight, ei = _stiffness(section, face, near, e_gpa)
    return float(np.sum(weight * (abs(one - face) - x) * (abs(other - face) - x) / ei))


def between_centres_mm_per_n(section: Section, head: float, tail: float, tool: float, e_gpa: float) -> float:
    """Bending at the tool of a bar on two supports; 0 beyond them. [mm/N]"""
    length = abs(tail - head)
    a = abs(tool - head)
    if not min(head, tail) < tool < max(head, tail):
        return 0.0
    found = 0.0
    for start, reaction in ((head, (length - a) / length), (tail, a / length)):
        x, weight, ei = _stiffness(section, start, tool, e_gpa)
        found += float(np.sum(weight * (reaction * x) ** 2 / ei))
    return found


def even_diameter_mm(section: Section, head: float, tail: float) -> float:
    """Diameter of the plain bar between two centres that bends as much in its middle: L³/48EI. [mm]"""
    length, e_gpa = abs(tail - head), 1.0
    give = between_centres_mm_per_n(section, head, tail, (head + tail) / 2.0, e_gpa)
    return float((64.0 * length**3 / (48.0 * math.pi * e_gpa * 1e3 * give)) ** 0.25)


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
