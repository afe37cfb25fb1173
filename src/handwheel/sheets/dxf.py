"""Drawings for other programs: a part or a stage as DXF of release 12, written here line by line. No I/O.

Lines and arcs are true LINE and ARC entities taken from the solved drawing, millimetres, z to the right from the part's
left end, the axis on y 0. Layers are named in trade words (docs/exports.md).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from handwheel.drawing.records import Arc, Line, Piece, SolvedPart
from handwheel.job.records import CutInKind
from handwheel.plan.across.shapes import shapes_of
from handwheel.plan.records import Stage
from handwheel.sheets.acrosslines import centre_lines, cuts_of, flats_seen, in_section
from handwheel.stages.finished import finished_section
from handwheel.stages.metal import outline
from handwheel.stages.offaxis import OffAxis, as_seen
from handwheel.stages.records import Section
from handwheel.tables.threads import find_thread

OUTSIDE, HOLES, AXIS, THREADS = "OUTSIDE", "HOLES", "CENTRE-LINE", "THREADS"
ACROSS, ACROSS_SHAPE, METAL_LEFT, GRIP = "ACROSS", "ACROSS-SHAPE", "METAL-LEFT", "GRIP"
LAYERS = {OUTSIDE: 7, HOLES: 7, AXIS: 1, THREADS: 3, ACROSS: 5, ACROSS_SHAPE: 5, METAL_LEFT: 7, GRIP: 2}
"""Each layer's colour number."""
BEYOND = 1.15
"""A centre line runs past the metal by this."""
SAME_MM = 1e-9
AXIS_PAST_MM = 2.0

Point = tuple[float, float]
Tags = Iterator[tuple[int, object]]


def part_dxf(part: SolvedPart) -> bytes:
    """A part in section: outside with its grooves, holes, threads' roots, and the axes of what lies across."""
    top = 1.2 * max(f.greatest_radius for f in part.outside)
    return _file(_part(part), (0.0, part.length), top)


def stage_dxf(stage: Stage) -> bytes:
    """The metal left after an operation as two closed polylines, one each side of the axis, and what is gripped."""
    points = outline(stage.after)
    left, right = min(z for z, _ in points), max(z for z, _ in points)
    return _file(_stage(stage, points), (left, right), 1.2 * max(r for _, r in points))


def outside_pieces(part: SolvedPart) -> tuple[Piece, ...]:
    """Lines and arcs of the outside from left to right, its grooves cut into it; shoulders are left out. [mm]"""
    pieces = [piece for feature in part.outside for piece in feature.surface]
    for cut in part.cut_in:
        if cut.source.kind is CutInKind.GROOVE and not cut.source.is_inside:
            before = [cut_to(p, p.z0, min(p.z1, cut.left)) for p in pieces if p.z0 < cut.left - SAME_MM]
            after = [cut_to(p, max(p.z0, cut.right), p.z1) for p in pieces if p.z1 > cut.right + SAME_MM]
            pieces = [*before, Line(cut.left, cut.floor_radius, cut.right, cut.floor_radius), *after]
    return tuple(pieces)


def cut_to(piece: Piece, z0: float, z1: float) -> Piece:
    """The part of a piece between two stations within it. [mm]"""
    if isinstance(piece, Line):
        return Line(z0, _at(piece, z0), z1, _at(piece, z1))
    return Arc(z0, _at(piece, z0), z1, _at(piece, z1), piece.zc, piece.rc, piece.radius, piece.bulges)


def _at(piece: Piece, z: float) -> float:
    """Radius of a piece at a station. [mm]"""
    if abs(z - piece.z0) < SAME_MM:
        return piece.r0
    if abs(z - piece.z1) < SAME_MM:
        return piece.r1
    if isinstance(piece, Line):
        return piece.r0 + (piece.r1 - piece.r0) * (z - piece.z0) / (piece.z1 - piece.z0)
    half = math.sqrt(max(piece.radius**2 - (z - piece.zc) ** 2, 0.0))
    return piece.rc + (half if piece.bulges else -half)


def _part(part: SolvedPart) -> Tags:
    inner = [(float(z), float(r)) for z, r in finished_section(part).inner]
    for side in (1.0, -1.0):
        at: Point = inner[0]
        for piece in outside_pieces(part):
            yield from _line(OUTSIDE, at, (piece.z0, piece.r0), side)
            yield from _arc(piece, side) if isinstance(piece, Arc) else _line(
                OUTSIDE, (piece.z0, piece.r0), (piece.z1, piece.r1), side)  # fmt: skip
            at = (piece.z1, piece.r1)
        yield from _line(OUTSIDE, at, inner[-1], side)
        for a, b in zip(inner, inner[1:], strict=False):
            if a[1] > SAME_MM or b[1] > SAME_MM:
                yield from _line(HOLES, a, b, side)
        for low, high, radius in _threads(part):
            yield from _line(THREADS, (low, radius), (high, radius), side)
    reach = BEYOND * max(f.greatest_radius for f in part.outside)
    for across in part.across:
        if across.source.face is None:
            lean, around = math.radians(float(across.source.leaning_deg)), math.radians(float(across.source.around_deg))
            along, up = reach * math.sin(lean), reach * math.cos(lean) * math.cos(around)
            yield from _line(ACROSS, (across.centre - along, -up), (across.centre + along, up))
    section = finished_section(part)
    yield from _across(section, shapes_of(part, section))


def _across(section: Section, shapes: Sequence[OffAxis]) -> Tags:
    """The edges of what lies across, in section each side of the axis, and of flats that face the reader; the mark on top."""
    cuts = cuts_of(section, as_seen(shapes, 0.0))
    upper = np.vstack([section.outer, section.inner[::-1]])
    strokes = [s for side in (1.0, -1.0) for s in in_section(cuts, upper * (1.0, side))]
    strokes += [s for side in (1.0, -1.0) for s in flats_seen(cuts, side)]
    for stroke in strokes:
        for a, b in zip(stroke.points, stroke.points[1:], strict=False):
            yield from _line(ACROSS_SHAPE, (float(a[0]), float(a[1])), (float(b[0]), float(b[1])))


def _threads(part: SolvedPart) -> Iterator[tuple[float, float, float]]:
    """From z to z, and the radius that is not drawn otherwise: a screw's root, a nut's. [mm]"""
    for feature in part.outside:
        thread = find_thread(feature.thread) if feature.thread else None
        if thread is not None:
            yield feature.left, feature.right, thread.minor_external_mm / 2.0
    for cut in part.cut_in:
        thread = find_thread(cut.thread) if cut.thread else None
        if thread is not None:
            yield cut.left, cut.right, (thread.major_mm if cut.source.is_inside else thread.minor_external_mm) / 2.0
    for hole in part.inside_left + part.inside_right:
        thread = find_thread(hole.thread) if hole.thread else None
        if thread is not None:
            yield min(hole.mouth, hole.bottom), max(hole.mouth, hole.bottom), thread.major_mm / 2.0


def _stage(stage: Stage, points: Sequence[Sequence[float]]) -> Tags:
    for side in (1.0, -1.0):
        yield from ((0, "POLYLINE"), (8, METAL_LEFT), (66, 1), (70, 1), (10, 0.0), (20, 0.0), (30, 0.0))
        for z, r in points[:-1]:
            yield from ((0, "VERTEX"), (8, METAL_LEFT), (10, z), (20, side * r), (30, 0.0))
        yield from ((0, "SEQEND"), (8, METAL_LEFT))
        holding = stage.operation.holding
        if holding.to_mm > holding.from_mm:
            r = holding.grip_radius_mm
            yield from _line(GRIP, (holding.from_mm, r), (holding.to_mm, r), side)
    if stage.off_axis:
        yield from _across(stage.after, stage.off_axis)
        for line in centre_lines(cuts_of(stage.after, as_seen(stage.off_axis, 0.0)), AXIS_PAST_MM):
            (z0, up0), (z1, up1) = line.points
            yield from _line(ACROSS, (float(z0), float(up0)), (float(z1), float(up1)))


def _line(layer: str, a: Point, b: Point, side: float = 1.0) -> Tags:
    if math.dist(a, b) > SAME_MM:
        yield from ((0, "LINE"), (8, layer), (10, a[0]), (20, side * a[1]), (30, 0.0), (11, b[0]), (21, side * b[1]), (31, 0.0))


def _arc(arc: Arc, side: float) -> Tags:
    """An arc runs anticlockwise: above the axis a bulge from its right end, a hollow from its left; below, the reverse."""
    left, right = (math.degrees(math.atan2(side * (r - arc.rc), z - arc.zc)) % 360.0
                   for z, r in ((arc.z0, arc.r0), (arc.z1, arc.r1)))  # fmt: skip
    start, end = (right, left) if arc.bulges == (side > 0) else (left, right)
    yield from ((0, "ARC"), (8, OUTSIDE), (10, arc.zc), (20, side * arc.rc), (30, 0.0), (40, arc.radius), (50, start), (51, end))


def _file(entities: Iterable[tuple[int, object]], along: tuple[float, float], top: float) -> bytes:
    low, high = along
    more = (BEYOND - 1.0) * (high - low) / 2.0
    tags: list[tuple[int, object]] = [
        (999, "millimetres"), (0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, "AC1009"),
        (9, "$EXTMIN"), (10, low - more), (20, -top), (30, 0.0), (9, "$EXTMAX"), (10, high + more), (20, top), (30, 0.0),
        (0, "ENDSEC"), (0, "SECTION"), (2, "TABLES"), *_line_types(), *_layers(), (0, "ENDSEC"),
        (0, "SECTION"), (2, "ENTITIES"), *entities, *_line(AXIS, (low - more, 0.0), (high + more, 0.0)),
        (0, "ENDSEC"), (0, "EOF")]  # fmt: skip
    return "".join(f"{code}\n{_value(value)}\n" for code, value in tags).encode("ascii")


def _line_types() -> Tags:
    yield from ((0, "TABLE"), (2, "LTYPE"), (70, 2))
    yield from ((0, "LTYPE"), (2, "CONTINUOUS"), (70, 0), (3, "whole"), (72, 65), (73, 0), (40, 0.0))
    yield from ((0, "LTYPE"), (2, "CHAIN"), (70, 0), (3, "long and short dashes"), (72, 65), (73, 4), (40, 10.0),
                (49, 6.0), (49, -1.5), (49, 1.0), (49, -1.5))  # fmt: skip
    yield (0, "ENDTAB")


def _layers() -> Tags:
    yield from ((0, "TABLE"), (2, "LAYER"), (70, len(LAYERS)))
    for name, colour in LAYERS.items():
        kind = "CHAIN" if name in (AXIS, ACROSS) else "CONTINUOUS"
        yield from ((0, "LAYER"), (2, name), (70, 0), (62, colour), (6, kind))
    yield (0, "ENDTAB")


def _value(value: object) -> str:
    if isinstance(value, float):
        text = f"{value:.9f}".rstrip("0")
        return text + "0" if text.endswith(".") else text
    return str(value)
