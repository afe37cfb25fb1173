"""How far the work gives away from the tool: a stepped, tapered or hollow bar in the chuck, or between two centres.

In the chuck, x from the clamp, a unit load at a moves the bar at b by f(a, b) = ∫ (a - x)(b - x)/EI dx + ∫ k/GA dx, both as
far as the nearer of the two, and by the chuck's own give where that is known. A centre and a fixed steady are points that do
not give: the forces p there follow from F·p = f, F their own f, and the load's own movement is less by f·p. Between centres
the bar is free to tilt at both: ∫ m²/EI dx + ∫ k·v²/GA dx, m and v moment and shear of the load on two supports. k after
Cowper (1966), which makes a solid round bar's shear 0.54·(d/L)² of its bending. Checked against textbook beams.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handwheel.stages.envelope import aligned, clip
from handwheel.stages.records import Holding, Section

NODES, WEIGHTS = np.polynomial.legendre.leggauss(8)
THINNEST_SHARE = 0.02
"""A bar counts as at least this share of its length thick: a pointed end is not infinitely weak."""
POISSON = 0.3
"""Of any metal turned here, for the shear alone: textbooks give 0.26 to 0.34."""
G_SHARE = 1.0 / (2.0 * (1.0 + POISSON))

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Elastic:
    """What gives. e_gpa: elastic modulus of the work. chuck_mm_per_n: the chuck's own give, crosswise next to its jaws; 0
    where it is not known and so not counted. has_shear: False for bending alone, as textbooks reckon."""

    e_gpa: float
    chuck_mm_per_n: float = 0.0
    has_shear: bool = True


@dataclass(frozen=True, slots=True)
class _Bar:
    """A stretch of bar at the points of its integral: place from the start, weight, 1/EI, k/GA. [mm], [1/N mm²], [1/N]"""

    x: Array
    weight: Array
    per_ei: Array
    per_ga: Array


def gives_mm_per_n(section: Section, holding: Holding, tool_mm: float, elastic: Elastic) -> float:
    """How far the work moves at the tool for one newton there. `tool_mm`: its z. [mm/N]"""
    return max(0.0, moves_mm_per_n(section, holding, tool_mm, tool_mm, elastic))


def moves_mm_per_n(section: Section, holding: Holding, place_mm: float, load_mm: float, elastic: Elastic) -> float:
    """How far the work moves at one place for one newton at another; between centres, at the load's own place. [mm/N]"""
    if holding.headstock_centre_mm is not None and holding.centre_mm is not None:
        return between_centres_mm_per_n(section, holding.headstock_centre_mm, holding.centre_mm, load_mm, elastic)
    sign = 1.0 if holding.toward_tailstock == "right" else -1.0
    face = holding.face_mm
    if sign * (place_mm - face) <= 0.0 or sign * (load_mm - face) <= 0.0:
        return 0.0
    props = [p for p in (holding.steady_mm, holding.centre_mm) if p is not None and sign * (p - face) > 0.0]
    free = _shared(section, face, place_mm, load_mm, elastic)
    if not props:
        return free
    load = np.array([_shared(section, face, load_mm, p, elastic) for p in props])
    here = np.array([_shared(section, face, place_mm, p, elastic) for p in props])
    own = np.array([[_shared(section, face, p, q, elastic) for q in props] for p in props])
    return free - float(here @ np.linalg.solve(own, load))


def _shared(section: Section, face: float, one: float, other: float, elastic: Elastic) -> float:
    """Movement of one place for a newton at the other, of the bar clamped at `face` and free beyond. [mm/N]"""
    near = min(one, other, key=lambda z: abs(z - face))
    bar = _stretch(section, face, near, elastic)
    bends = np.sum(bar.weight * (abs(one - face) - bar.x) * (abs(other - face) - bar.x) * bar.per_ei)
    return float(bends + np.sum(bar.weight * bar.per_ga)) + elastic.chuck_mm_per_n


def between_centres_mm_per_n(section: Section, head: float, tail: float, tool: float, elastic: Elastic) -> float:
    """Movement at the tool of a bar on two supports; 0 beyond them. [mm/N]"""
    length = abs(tail - head)
    a = abs(tool - head)
    if not min(head, tail) < tool < max(head, tail):
        return 0.0
    found = 0.0
    for start, reaction in ((head, (length - a) / length), (tail, a / length)):
        bar = _stretch(section, start, tool, elastic)
        found += float(np.sum(bar.weight * reaction**2 * (bar.x**2 * bar.per_ei + bar.per_ga)))
    return found


def even_diameter_mm(section: Section, head: float, tail: float) -> float:
    """Diameter of the plain bar between two centres that bends as much in its middle: L³/48EI. [mm]"""
    length = abs(tail - head)
    give = between_centres_mm_per_n(section, head, tail, (head + tail) / 2.0, Elastic(1.0, has_shear=False))
    return float((64.0 * length**3 / (48.0 * math.pi * 1e3 * give)) ** 0.25)


def _stretch(section: Section, face: float, end: float, elastic: Elastic) -> _Bar:
    """The bar from `face` to `end`."""
    low, high = min(face, end), max(face, end)
    both = aligned(clip(section.outer, low, high), clip(section.inner, low, high))
    share = 0.5 * (NODES + 1.0)[:, None]
    z = both.z0 + share * (both.z1 - both.z0)
    outside, inside = both.a0 + share * (both.a1 - both.a0), np.nan_to_num(both.b0 + share * (both.b1 - both.b0))
    thinnest = THINNEST_SHARE * (high - low) / 2.0
    second_moment = math.pi / 4.0 * np.maximum(outside**4 - inside**4, thinnest**4)
    weight = np.broadcast_to(0.5 * WEIGHTS[:, None] * (both.z1 - both.z0), z.shape)
    per_ga = np.zeros_like(z)
    if elastic.has_shear:
        area = math.pi * np.maximum(outside**2 - inside**2, thinnest**2)
        per_ga = shear_factor(inside, outside) / (G_SHARE * elastic.e_gpa * 1e3 * area)
    per_ei = 1.0 / (elastic.e_gpa * 1e3 * second_moment)
    return _Bar(np.abs(z - face).ravel(), weight.ravel().copy(), per_ei.ravel(), per_ga.ravel())


def shear_factor(inside: Array, outside: Array) -> Array:
    """What multiplies F/GA for a round bar's shear, by its bore and outside; 1.13 solid, 1.9 a thin tube.

    Source: Cowper, The shear coefficient in Timoshenko's beam theory, J. Appl. Mech. 33 (1966), recalled.
    """
    m = np.minimum(1.0, inside / np.maximum(outside, 1e-9)) ** 2
    found: Array = ((7.0 + 6.0 * POISSON) * (1.0 + m) ** 2 + (20.0 + 12.0 * POISSON) * m) / (
        6.0 * (1.0 + POISSON) * (1.0 + m) ** 2)  # fmt: skip
    return found


def worst_give(section: Section, holding: Holding, places_mm: Array, elastic: Elastic) -> tuple[float, float]:
    """The greatest movement for one newton over the places a cut comes to, and where. [mm/N], [mm]"""
    found = [gives_mm_per_n(section, holding, float(place), elastic) for place in places_mm]
    worst = int(np.argmax(found))
    return found[worst], float(places_mm[worst])


def overhung_mm_per_n(diameter_mm: float, length_mm: float, e_gpa: float) -> float:
    """Movement at its end of a plain round bar held at the other, such as a boring bar. [mm/N]"""
    section = Section(np.array([[0.0, diameter_mm / 2.0], [length_mm, diameter_mm / 2.0]]),
                      np.array([[0.0, 0.0], [length_mm, 0.0]]))  # fmt: skip
    return _shared(section, 0.0, length_mm, length_mm, Elastic(e_gpa))
