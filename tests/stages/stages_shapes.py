"""Independent shapes for the stage tests: shapely alone, none of handwheel's geometry."""

import random

import numpy as np
from shapely import MultiPoint, Point, Polygon, union_all
from shapely.affinity import translate

HIGH = 100.0


def area_of(outline: list[list[float]]) -> Polygon:
    """A closed outline as a polygon; it must be closed and simple as it stands."""
    assert outline[0] == outline[-1]
    polygon = Polygon(outline)
    assert polygon.is_valid
    return polygon


def convex(rng: random.Random, size: float) -> np.ndarray:
    """A random convex outline whose setting point is at or near its lowest part."""
    points = [(rng.uniform(-size, size), rng.uniform(0.0, 2.0 * size)) for _ in range(rng.randint(3, 9))]
    return np.array(MultiPoint([*points, (0.0, 0.0)]).convex_hull.exterior.coords)[:-1]


def placed(outline: np.ndarray, z: float, r: float) -> Polygon:
    return translate(Polygon(outline), z, r)


def swept(outline: np.ndarray, path: np.ndarray, outward: float) -> Polygon:
    """What an outline takes along a path, and everything beyond it away from (1) or toward (-1) the axis."""
    hulls = []
    for start, end in zip(path[:-1], path[1:], strict=True):
        both = [placed(outline, *start), placed(outline, *end)]
        both += [translate(p, 0.0, outward * HIGH) for p in both]
        hulls.append(union_all(both).convex_hull)
    return union_all(hulls)


def placements(outline: np.ndarray, path: np.ndarray, count: int) -> Polygon:
    """The cutter put down many times along the path."""
    found = []
    for start, end in zip(path[:-1], path[1:], strict=True):
        found += [placed(outline, *(start + (end - start) * t)) for t in np.linspace(0.0, 1.0, count)]
    return union_all(found)


def disc(z: float, radius: float) -> Polygon:
    return Point(z, 0.0).buffer(radius, quad_segs=4000)
