"""The lines of what lies across, as technical drawing has them (ISO 128): cut through where the axis lies in the section,
as it is seen where it faces the reader, flats with thin diagonals, dashes where it is hidden.

Lines are in the part's own frame, z and up from the axis [mm]; a picture only puts them in its place.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from handwheel.sheets.primitives import LineType
from handwheel.stages.offaxis import Array, OffAxis, axis_ends, face_edge, in_plane, rims
from handwheel.stages.records import Section

FACING = 0.9
"""Cosine to the reader from which a flat has its diagonals and a hole is a circle."""
EDGE_ON = 0.1
INSIDE_MM = 1e-5
LEAST_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Stroke:
    """A run of straight lines: (n, 2), z and up. [mm]"""

    points: Array
    kind: LineType


@dataclass(frozen=True, slots=True)
class Cuts:
    """The shapes as they are seen, and what each takes of the picture's plane: (n, 2) convex, or (0, 2)."""

    section: Section
    shapes: tuple[OffAxis, ...]
    voids: tuple[Array, ...]

    @property
    def faces(self) -> tuple[OffAxis, ...]:
        """The flat faces."""
        return tuple(s for s in self.shapes if s.is_face)

    @property
    def open_voids(self) -> tuple[Array, ...]:
        """What holes and slots in the side take of the plane: they break the outline."""
        return tuple(v for s, v in zip(self.shapes, self.voids, strict=True) if not s.is_face and s.kind != "ring" and len(v))

    @property
    def breaking(self) -> tuple[Array, ...]:
        """What breaks the outline of the section: all but holes in a face, whose far rim is seen in it."""
        return tuple(v for s, v in zip(self.shapes, self.voids, strict=True) if s.kind != "ring" and len(v))


def cuts_of(section: Section, shapes: Sequence[OffAxis]) -> Cuts:
    """The shapes as already turned to be seen, with what they take of the plane."""
    far = 2.0 * (float(np.ptp(section.outer[:, 0])) + float(section.outer[:, 1].max()))
    return Cuts(section, tuple(shapes), tuple(in_plane(shape, far) for shape in shapes))


def in_section(cuts: Cuts, loop: Array) -> Iterator[Stroke]:
    """The edges of the cuts within a half of the section, `loop` (n, 2) closed, and their mouths behind it."""
    voids = [v for v in cuts.voids if len(v)]
    up = float(np.sign(loop[:, 1].sum()))
    for k, void in enumerate(voids):
        others = voids[:k] + voids[k + 1 :]
        for run in within(np.vstack([void, void[:1]]), loop):
            yield from (Stroke(piece, LineType.OUTLINE) for piece in outside(run, others))
    for shape in cuts.shapes:
        for rim in () if shape.is_face else rims(shape, cuts.section, cuts.faces):
            for run in _half(rim, up):
                yield from (Stroke(piece[:, :2], LineType.EDGE) for void in voids for piece in _behind(run, void))


def seen_outside(cuts: Cuts, loop: Array, up: float) -> Iterator[Stroke]:
    """The same where the part is whole, above (1) or below (-1) the axis; `loop`: that half's metal, closed."""
    for shape, void in zip(cuts.shapes, cuts.voids, strict=True):
        facing = float(shape.toward[2])
        if shape.is_face:
            yield from _face(shape, cuts.section, up)
            continue
        is_in_plane = abs(facing) < EDGE_ON
        for rim in rims(shape, cuts.section, cuts.faces):
            for run in _half(rim, up):
                for piece in _seen(run):
                    yield Stroke(piece[:, :2], LineType.OUTLINE if is_in_plane else LineType.EDGE)
                if facing < -FACING:
                    yield Stroke(run[:, :2], LineType.HIDDEN)
        if is_in_plane and len(void):
            ends = np.vstack([void, void[:1]])
            yield from (Stroke(run, LineType.HIDDEN) for run in within(ends, loop))


def flats_seen(cuts: Cuts, up: float) -> Iterator[Stroke]:
    """The edges of flats that face the reader, above (1) or below (-1) the axis."""
    for shape in cuts.faces:
        yield from _face(shape, cuts.section, up)


def centre_lines(cuts: Cuts, past: float) -> Iterator[Stroke]:
    """A centre line to each hole and slot; one that faces the reader has it square to the part's."""
    for shape in cuts.shapes:
        if shape.is_face:
            continue
        if abs(float(shape.toward[2])) > FACING:
            z, up = shape.origin[0], shape.origin[1]
            tall = float(np.abs(shape.contour[:, 1]).max()) + past
            yield Stroke(np.array([[z, up - tall], [z, up + tall]]), LineType.CENTRE)
            continue
        for line in axis_ends(shape, cuts.section, past):
            yield Stroke(line[:, :2], LineType.CENTRE)


def _face(shape: OffAxis, section: Section, up: float) -> Iterator[Stroke]:
    """A flat face's edge where it is seen, and its diagonals where it faces the reader."""
    facing = float(shape.toward[2])
    edge = face_edge(shape, section)
    if facing < EDGE_ON or not len(edge):
        return
    for run in _half(edge, up):
        yield Stroke(run[:, :2], LineType.EDGE)
    n = len(edge) // 2
    tall = float(np.ptp(edge[:, 1]))
    corners = (edge[0], edge[n - 1], edge[n], edge[2 * n - 1])
    ends = min(abs(corners[0][1] - corners[3][1]), abs(corners[1][1] - corners[2][1]))
    if facing > FACING and shape.kind != "hexagon" and ends > 0.2 * tall:
        for a, b in ((corners[0], corners[2]), (corners[1], corners[3])):
            for run in _half(np.vstack([a, b]), up):
                yield Stroke(run[:, :2], LineType.THIN)


def _half(points: Array, up: float) -> list[Array]:
    """The runs of a curve above (1) or below (-1) the axis, cut there exactly."""
    return _runs(points, points[:, 1] * up)


def _seen(points: Array) -> list[Array]:
    """The runs of a curve on the reader's side."""
    return _runs(points, points[:, 2] + 1e-3)


def _behind(points: Array, void: Array) -> list[Array]:
    """The runs of a curve behind the section that show through a void."""
    return [piece for run in _runs(points, 1e-3 - points[:, 2]) for piece in within(run[:, :2], void)]


def _runs(points: Array, level: Array) -> list[Array]:
    """The runs of a polyline on which a level is not below 0, cut where it crosses."""
    found: list[list[Array]] = [[]]
    for k, (p, here) in enumerate(zip(points, level, strict=True)):
        if here >= 0.0:
            found[-1].append(p)
        if k + 1 < len(points) and (here < 0.0) != (level[k + 1] < 0.0):
            crossing = p + (points[k + 1] - p) * here / (here - level[k + 1])
            if here < 0.0:
                found.append([crossing])
            else:
                found[-1].append(crossing)
                found.append([])
    return [np.array(run) for run in found if len(run) > 1 and float(np.ptp(np.array(run), axis=0).max()) > LEAST_MM]


def within(line: Array, loop: Array) -> list[Array]:
    """The runs of a polyline inside a closed loop of any shape. (n, 2) each"""
    return _kept(line, lambda middle: _is_inside(middle, loop), [loop])


def outside(line: Array, voids: Sequence[Array]) -> list[Array]:
    """The runs of a polyline outside convex voids; what runs along a void's edge is kept."""
    return _kept(line, lambda middle: not any(_is_in_void(middle, v) for v in voids), voids)


def _kept(line: Array, keeps: Callable[[Array], bool], loops: Sequence[Array]) -> list[Array]:
    runs: list[list[Array]] = []
    is_open = False
    sides = np.vstack([np.hstack([loop, np.roll(loop, -1, axis=0)]) for loop in loops]) if loops else np.zeros((0, 4))
    for a, b in zip(line, line[1:], strict=False):
        if float(np.abs(b - a).max()) < LEAST_MM:
            continue
        shares = sorted({0.0, 1.0, *_crossings(a, b, sides)})
        for low, high in zip(shares, shares[1:], strict=False):
            if high - low < 1e-12:
                continue
            p, q = a + (b - a) * low, a + (b - a) * high
            if not keeps((p + q) / 2.0):
                is_open = False
            elif is_open:
                runs[-1].append(q)
            else:
                runs.append([p, q])
                is_open = True
    return [np.array(run) for run in runs]


def _crossings(a: Array, b: Array, sides: Array) -> list[float]:
    """Shares of a segment at which it crosses the sides of loops, (n, 4)."""
    p = sides[:, :2]
    d, e = b - a, sides[:, 2:] - p
    cross = d[0] * e[:, 1] - d[1] * e[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        w = p - a
        t = (w[:, 0] * e[:, 1] - w[:, 1] * e[:, 0]) / cross
        s = (w[:, 0] * d[1] - w[:, 1] * d[0]) / cross
    hit = np.isfinite(t) & (t > 1e-9) & (t < 1.0 - 1e-9) & (s > -1e-9) & (s < 1.0 + 1e-9)
    return [float(x) for x in t[hit]]


def _is_inside(point: Array, loop: Array) -> bool:
    """Even and odd: whether a point lies inside a closed loop."""
    p, q = loop, np.roll(loop, -1, axis=0)
    met = (p[:, 1] > point[1]) != (q[:, 1] > point[1])
    x = p[met, 0] + (point[1] - p[met, 1]) * (q[met, 0] - p[met, 0]) / (q[met, 1] - p[met, 1])
    return bool((x > point[0]).sum() % 2)


def _is_in_void(point: Array, void: Array) -> bool:
    """Whether a point lies inside a convex loop by more than what is taken to be on its edge."""
    if (point < void.min(axis=0)).any() or (point > void.max(axis=0)).any():
        return False
    step = np.roll(void, -1, axis=0) - void
    length = np.hypot(step[:, 0], step[:, 1])
    keep = length > 1e-12
    w = point - void[keep]
    side = (step[keep, 0] * w[:, 1] - step[keep, 1] * w[:, 0]) / length[keep]
    return bool(side.min() > INSIDE_MM or side.max() < -INSIDE_MM)
