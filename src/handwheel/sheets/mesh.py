"""A part or stage as a closed mesh of triangles, and as a binary STL. No I/O.

x along the part's axis from its left end, y toward the part's mark. [mm] What is round is drawn with so many corners that
no chord is farther from its circle than CHORD_MM.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handwheel.stages.metal import outline
from handwheel.stages.records import Section

CHORD_MM = 0.01
ON_AXIS_MM = 1e-6
LEAST_CORNERS = 24
HEADER_BYTES = 80
FACET = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("extra", "<u2")])


@dataclass(frozen=True, slots=True)
class Mesh:
    """Corners (n, 3) [mm] and triangles (m, 3) as rows of corners, anticlockwise seen from outside."""

    corners: NDArray[np.float64]
    triangles: NDArray[np.int64]


def corners_around(radius_mm: float, chord_mm: float = CHORD_MM) -> int:
    """How many corners, a multiple of four, keep a circle's chords within chord_mm of it."""
    if radius_mm <= chord_mm:
        return LEAST_CORNERS
    return max(LEAST_CORNERS, 4 * math.ceil(math.pi / math.acos(1.0 - chord_mm / radius_mm) / 4.0 - 1e-9))


def revolved(section: Section, chord_mm: float = CHORD_MM) -> Mesh:
    """The body that a half section makes, closed all over."""
    profile = np.array(outline(section), dtype=np.float64)[:-1]
    count = corners_around(float(profile[:, 1].max()), chord_mm)
    turns = 2.0 * math.pi * np.arange(count) / count
    corners: list[NDArray[np.float64]] = []
    rings: list[NDArray[np.int64]] = []
    total = 0
    for z, r in profile:
        if r <= ON_AXIS_MM:
            corners.append(np.array([[z, 0.0, 0.0]]))
            rings.append(np.full(count, total))
        else:
            corners.append(np.column_stack([np.full(count, z), r * np.cos(turns), r * np.sin(turns)]))
            rings.append(total + np.arange(count))
        total += len(corners[-1])
    triangles = [_between(a, b) for a, b in zip(rings, [*rings[1:], rings[0]], strict=True)]
    mesh = Mesh(np.concatenate(corners), np.concatenate(triangles))
    return mesh if volume_mm3(mesh) > 0.0 else Mesh(mesh.corners, mesh.triangles[:, ::-1].copy())


def volume_mm3(mesh: Mesh) -> float:
    """Volume within a closed mesh. [mm3]"""
    a, b, c = (mesh.corners[mesh.triangles[:, k]] for k in range(3))
    return float(np.einsum("ij,ij->", a, np.cross(b, c))) / 6.0


def stl(mesh: Mesh, title: str) -> bytes:
    """A binary STL: little-endian, four-byte floats, millimetres."""
    corners = mesh.corners[mesh.triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    facets = np.zeros(len(corners), dtype=FACET)
    facets["normal"] = normals / np.where(lengths > 0.0, lengths, 1.0)
    facets["corners"] = corners
    head = title.encode("ascii", "replace")[:HEADER_BYTES].ljust(HEADER_BYTES)
    return head + len(facets).to_bytes(4, "little") + bytes(facets.tobytes())


def _between(a: NDArray[np.int64], b: NDArray[np.int64]) -> NDArray[np.int64]:
    """Triangles between two rings, one of which may be a point; none where both are."""
    a_next, b_next = np.roll(a, -1), np.roll(b, -1)
    found = np.concatenate([np.column_stack([a, b, a_next]), np.column_stack([a_next, b, b_next])])
    keep = (found[:, 0] != found[:, 1]) & (found[:, 1] != found[:, 2]) & (found[:, 0] != found[:, 2])
    kept: NDArray[np.int64] = found[keep]
    return kept
