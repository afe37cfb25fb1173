"""Check on walls: the least metal beside a hole, behind its bottom, and between it and a groove or shoulder outside."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from handwheel.stages.athand import Root
from handwheel.stages.case import Case, Finding
from handwheel.stages.envelope import Floats, aligned, clip, lower, radius_at, upper
from handwheel.stages.metal import ends
from handwheel.stages.records import Polyline, Section

OPEN_MM = 1e-6


def wall_left(case: Case) -> Finding | None:
    """Whether this operation leaves a wall thinner than is wanted; the drawing may want it so: it warns."""
    least, context = case.context.least_wall_mm, case.context
    if least is None or float(case.after.inner[:, 1].max()) <= OPEN_MM:
        return None
    part = ends(case.finished)
    after, where, what = least_wall(to_the_roots(case.after, context.roots), least, part)
    if not math.isfinite(after):
        return None
    if after >= least or after >= least_wall(to_the_roots(case.before, context.roots), least, part)[0] - 1e-3:
        return Finding()
    return Finding(f"{context.length(after)} of metal left {what}, at {context.station(where)}; {context.length(least)} is "
                   "the habit", "light cuts; turn the outside before the hole is opened out, or hold it by a stout place",
                   is_warning=True)


def to_the_roots(section: Section, roots: Sequence[Root]) -> Section:
    """The section with every thread taken out to its root; one in a hole only where that is open by now."""
    outer, inner = section.outer, section.inner
    for root in roots:
        level = np.array([[root.left_mm, root.radius_mm], [root.right_mm, root.radius_mm]])
        if not root.is_inside:
            outer = lower(outer, clip(level, *ends(section)))
            continue
        for run in _open_runs(inner):
            low, high = max(root.left_mm, float(run[0, 0])), min(root.right_mm, float(run[-1, 0]))
            if high - low > OPEN_MM:
                inner = upper(inner, clip(level, low, high))
    return Section(outer, inner)


def least_wall(section: Section, lips_mm: float, part: tuple[float, float] | None = None) -> tuple[float, float, str]:
    """The least metal between the hole on the axis and the outside, where, and what wall it is; inf where solid. [mm]

    Nearer than lips_mm to an end where the hole opens there is a lip, not a wall. part: ends of the finished part; a stub
    or chucking piece beyond has no walls.
    """
    left, right = ends(section) if part is None else (max(ends(section)[0], part[0]), min(ends(section)[1], part[1]))
    low = left + (lips_mm if radius_at(section.inner, left, "right") > OPEN_MM else 0.0)
    high = right - (lips_mm if radius_at(section.inner, right, "left") > OPEN_MM else 0.0)
    found: list[tuple[float, float, str]] = [(math.inf, left, ""), *_webs(section), *_floors(section)]
    found.append(_beside(section, low, high))
    bored = _open_runs(section.inner)
    floors = section.outer[(section.outer[:, 0] > low) & (section.outer[:, 0] < high)]
    for run in bored:
        edges = run[(run[:, 0] > low) & (run[:, 0] < high)]
        for points, line, what in ((edges, section.outer, "between an edge of the hole and the outside"),
                                   (floors, run, "between an edge outside and the hole")):  # fmt: skip
            if len(points):
                away = _distances(points, line)
                nearest = int(np.argmin(away))
                found.append((float(away[nearest]), float(points[nearest, 0]), what))
    return min(found)


def _beside(section: Section, low: float, high: float) -> tuple[float, float, str]:
    if high - low <= OPEN_MM:
        return math.inf, low, ""
    both = aligned(clip(section.outer, low, high), clip(section.inner, low, high))
    bored = (np.maximum(both.b0, both.b1) > OPEN_MM) & np.isfinite(both.a0) & np.isfinite(both.b0)
    if not bored.any():
        return math.inf, low, ""
    walls = np.concatenate([(both.a0 - both.b0)[bored], (both.a1 - both.b1)[bored]])
    least = int(np.argmin(walls))
    return float(walls[least]), float(np.concatenate([both.z0[bored], both.z1[bored]])[least]), "beside the hole"


def _webs(section: Section) -> list[tuple[float, float, str]]:
    """Metal on the axis behind the bottom of a blind hole, to a face or to the next hole."""
    inner, found = section.inner, []
    solid = (inner[:-1, 1] <= OPEN_MM) & (inner[1:, 1] <= OPEN_MM) & (np.diff(inner[:, 0]) > OPEN_MM)
    for k in np.flatnonzero(solid):
        before, after = k > 0 and inner[:k, 1].max() > OPEN_MM, inner[k + 1:, 1].max() > OPEN_MM
        if before or after:
            what = "between two holes" if before and after else "behind the hole's bottom"
            found.append((float(inner[k + 1, 0] - inner[k, 0]), float(inner[k, 0]), what))
    return found


def _floors(section: Section) -> list[tuple[float, float, str]]:
    """Metal behind a step in the hole, to the face beyond or to where the hole widens again."""
    inner, found = section.inner, []
    left, right = ends(section)
    for k in np.flatnonzero(np.diff(inner[:, 0]) <= OPEN_MM):
        z, r0, r1 = float(inner[k, 0]), float(inner[k, 1]), float(inner[k + 1, 1])
        if abs(r1 - r0) <= OPEN_MM or min(r0, r1) <= OPEN_MM or z - left <= OPEN_MM or right - z <= OPEN_MM:
            continue
        beyond = inner[k + 1:] if r1 < r0 else inner[:k + 1]
        again = beyond[beyond[:, 1] >= max(r0, r1) - OPEN_MM, 0]
        stop = (float(again.min()) if len(again) else right) if r1 < r0 else (float(again.max()) if len(again) else left)
        found.append((abs(stop - z), z, "behind the step in the hole"))
    return found


def _open_runs(inner: Polyline) -> list[Polyline]:
    """The pieces of the hole's edge off the axis, each with the points where it comes down to it."""
    off = np.flatnonzero(inner[:, 1] > OPEN_MM)
    runs = [run for run in np.split(off, np.flatnonzero(np.diff(off) > 1) + 1) if len(run)]
    return [inner[max(run[0] - 1, 0) : run[-1] + 2] for run in runs]


def _distances(points: Polyline, line: Polyline) -> Floats:
    """Distance of points from a polyline. (n,) [mm]"""
    start, step = (line[:-1], np.diff(line, axis=0)) if len(line) > 1 else (line, np.zeros_like(line))
    length = np.maximum(np.sum(step * step, axis=1), 1e-18)
    offset = points[:, None, :] - start
    share = np.clip(np.sum(offset * step, axis=2) / length, 0.0, 1.0)
    apart = offset - share[:, :, None] * step
    nearest: Floats = np.sqrt(np.sum(apart * apart, axis=2)).min(axis=1)
    return nearest
