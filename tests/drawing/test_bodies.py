"""Volume and surface against closed forms, quadrature of radii written down here, and polygons turned about the axis."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product
from math import acos, asin, hypot, pi, radians, sqrt, tan
from random import Random

import mpmath
import pytest
from scipy.integrate import quad
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from handwheel.drawing.records import Answer
from tests.drawing.jobs import part

Radius = Callable[[float], float]
ACROSS = "    across:\n      - {kind}: x\n{more}"


def asked(outside: list[str], sizes: list[str], more: str = "", *questions: str) -> list[Answer]:
    found = part(outside, sizes, *(questions or ("volume", "surface area")), more=more)
    assert not found.questions_unanswered, [f.line() for f in found.questions_unanswered]
    return list(found.answers)


def turned(radius: Radius, *stations: float) -> tuple[float, float]:
    """Volume and lateral surface of a profile, by quadrature between its stations."""
    volume = surface = 0.0
    for a, b in zip(stations, stations[1:], strict=False):
        volume += pi * quad(lambda z: radius(z) ** 2, a, b, epsabs=1e-11, epsrel=1e-12)[0]
        h = 1e-6 * (b - a)

        def band(z: float, a: float = a, b: float = b, h: float = h) -> float:
            z = min(max(z, a + h), b - h)
            return radius(z) * hypot(1.0, (radius(z + h) - radius(z - h)) / (2 * h))

        surface += 2 * pi * quad(band, a, b, epsabs=1e-9, limit=200)[0]
    return volume, surface


def test_ball_cone_cylinder_and_their_holes() -> None:
    sizes = ["c diameter: 20", "c length: 30", "t left diameter: 16", "t right diameter: 10", "t length: 25",
             "s diameter: 18", "k diameter: 10", "k included angle: 90 deg", "h diameter: 6", "h depth: 20"]  # fmt: skip
    inside = "    inside:\n      from left:\n        - countersink: k\n        - hole: h\n"
    volume, surface = asked(["cylinder: c", "cone: t", "ball: s"], sizes, inside)
    centre = 55 + sqrt(81 - 25)
    tip = 3 / tan(radians(59))
    cone = pi * 25 / 3 * (64 + 40 + 25)
    above = centre - 55  # the ball from its meeting to its pole
    ball = pi * (81 * (above + 9) - (above**3 + 9**3) / 3)
    holes = pi * 2 / 3 * (25 + 15 + 9) + pi * 9 * 18 + pi * 9 * tip / 3
    assert volume.value == pytest.approx(pi * 100 * 30 + cone + ball - holes, abs=1e-7)
    outer = 2 * pi * 10 * 30 + pi * 13 * hypot(25, 3) + 2 * pi * 9 * (above + 9)
    faces = pi * (100 - 25) + pi * (100 - 64)
    inner = pi * 8 * hypot(2, 2) + 2 * pi * 3 * 18 + pi * 3 * hypot(3, tip)
    assert surface.value == pytest.approx(outer + faces + inner, abs=1e-7)


def test_a_hole_right_through_a_ball_leaves_a_ring() -> None:
    inside = "    inside:\n      from left:\n        - hole: x\n          through: yes\n"
    volume, surface = asked(["ball: c"], ["c diameter: 20", "x diameter: 12"], inside)
    assert volume.value == pytest.approx(4 / 3 * pi * 8**3, abs=1e-7)
    assert surface.value == pytest.approx(2 * pi * (10 + 6) * 16, abs=1e-7)


def test_a_hollow_a_rounded_edge_and_a_fillet() -> None:
    hollow = ["cylinder: a", "hollow: h", "cylinder: b"]
    sizes = ["a diameter: 20", "a length: 5", "b diameter: 16", "b length: 5", "h radius: 15", "h length: 12",
             "h left diameter: 20", "h right diameter: 16"]  # fmt: skip
    volume, surface = asked(hollow, sizes)
    # its centre: 15 from (5, 10) and (17, 8), away from the axis
    chord = sqrt(12**2 + 2**2)
    away = sqrt(15**2 - chord**2 / 4)
    zc, rc = 11 + away * 2 / chord, 9 + away * 12 / chord

    def radius(z: float) -> float:
        return rc - sqrt(225 - (z - zc) ** 2)

    inside, lateral = turned(radius, 5, 17)
    assert volume.value == pytest.approx(pi * (500 + 320) + inside, rel=1e-10)
    assert surface.value == pytest.approx(pi * (20 * 5 + 16 * 5 + 100 + 64) + lateral, rel=1e-7)

    edge = ["cylinder: a", "{round: e, size: R 3}"]
    volume, surface = asked(edge, ["a diameter: 20", "a length: 5"])
    # Pappus: a quarter disc of 3 about (7, z), its middle 4 R / 3 pi from its centre; its arc's 2 R / pi
    assert volume.value == pytest.approx(pi * (500 + 49 * 3) + 2 * pi * (7 + 4 / pi) * pi * 9 / 4, abs=1e-7)
    assert surface.value == pytest.approx(pi * (100 + 20 * 5 + 49) + 2 * pi * (7 + 6 / pi) * pi * 3 / 2, abs=1e-7)

    fillet = ["cylinder: a", "{fillet: f, size: R 2}", "cylinder: b"]
    volume, _ = asked(fillet, ["a diameter: 10", "a length: 5", "b diameter: 20", "b length: 5"])
    corner = 2 * pi * ((5 + 1) * 4 - (7 - 8 / (3 * pi)) * pi)  # a square less a quarter disc
    assert volume.value == pytest.approx(pi * (25 * 7 + 500) + corner, abs=1e-7)


@pytest.mark.parametrize("seed", range(25))
def test_generated_parts_against_polygons_turned_about_the_axis(seed: int) -> None:
    rng = Random(seed)
    outside: list[str] = []
    sizes: list[str] = []
    points = [(0.0, 0.0)]
    z = 0.0
    for i in range(rng.randint(1, 6)):
        length, left, right = (round(rng.uniform(*r), 3) for r in ((3, 30), (16, 40), (16, 40)))
        if rng.random() < 0.5:
            outside.append(f"cylinder: f{'abcdef'[i]}")
            sizes.append(f"f{'abcdef'[i]} diameter: {left}")
            right = left
        else:
            outside.append(f"cone: f{'abcdef'[i]}")
            sizes += [f"f{'abcdef'[i]} left diameter: {left}", f"f{'abcdef'[i]} right diameter: {right}"]
        sizes.append(f"f{'abcdef'[i]} length: {length}")
        points += [(z, left / 2), (z + length, right / 2)]
        z += length
    metal = Polygon([*points, (z, 0.0)])
    bore, depth = round(rng.uniform(2, 7), 3), round(rng.uniform(1, z - 0.1), 3)
    hole = round(rng.uniform(1, min(7, z)), 3)
    deep = round(rng.uniform(0.2, z - 0.1 - hole / 2 / tan(radians(59))), 3)  # its tip stays within the part
    sizes += [f"p diameter: {bore}", f"p depth: {depth}", f"q diameter: {hole}", f"q depth: {deep}"]
    inside = "    inside:\n      from left:\n        - bore: p\n      from right:\n        - hole: q\n"
    drilled = Polygon([(z, 0), (z, hole / 2), (z - deep, hole / 2), (z - deep - hole / 2 / tan(radians(59)), 0)])
    metal = metal.difference(unary_union([box(0, 0, depth, bore / 2), drilled]))
    volume, surface = asked(outside, sizes, inside)
    swept = outline = 0.0
    for shape in getattr(metal, "geoms", [metal]):
        swept += 2 * pi * shape.area * shape.centroid.y
        for ring in [shape.exterior, *shape.interiors]:
            pairs = list(zip(ring.coords, ring.coords[1:], strict=False))
            outline += sum(pi * (a[1] + b[1]) * hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairs)
    assert volume.value == pytest.approx(swept, rel=1e-9)
    assert surface.value == pytest.approx(outline, rel=1e-9)


def across(kind: str, sizes: list[str], more: str = "") -> Answer:
    return asked(["cylinder: c"], ["c diameter: 20", "c length: 40", *sizes],
                 ACROSS.format(kind=kind, more="".join(f"        {line}\n" for line in more.split("; ") if line)),
                 "volume")[0]  # fmt: skip


def crossing(big: float, small: float) -> float:
    """The metal common to two round bars that cross at right angles, by high-precision quadrature."""
    return float(8 * mpmath.quad(lambda x: mpmath.sqrt(abs((small**2 - x**2) * (big**2 - x**2))), [0, small]))


FULL = pi * 100 * 40


def segment(height: float) -> float:
    """Of a disc of 10, what lies beyond that height."""
    return 100 * acos(height / 10) - height * sqrt(100 - height**2)


TAKEN: dict[str, tuple[tuple[str, list[str], str], float]] = {
    "a cross hole": (("hole", ["x diameter: 6"], "on: c; at: c middle; through: yes"), crossing(10, 3)),
    "a cross hole as wide as the bar": (("hole", ["x diameter: 19.9"], "on: c; at: c middle; through: yes"), crossing(10, 9.95)),
    "a flat": (("flat", ["x from axis: 7", "x length: 12", "left end to x left: 5"], "on: c"), 12 * segment(7)),
    "two flats": (("flat", ["x across flats: 15"], "on: c; count: 2"), 80 * segment(7.5)),
    "a square": (("square", ["x across flats: 16"], "on: c"), 40 * 4 * segment(8)),
    "a hexagon within the bar": (("hexagon", ["x across flats: 17.8"], "on: c"), 40 * 6 * segment(8.9)),
    "a slot": (
        ("slot", ["x width: 4", "x from axis: 6", "x length: 10", "left end to x left: 5"], "on: c"),
        10 * (100 * asin(0.2) + 2 * sqrt(96) - 24),
    ),
    "a ring of holes": (
        ("holes", ["x diameter: 3", "x pitch circle diameter: 13", "x depth: 8"], "face: left; count: 5"),
        5 * (pi * 2.25 * 8 + pi * 1.5**3 / (3 * tan(radians(59)))),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", TAKEN)
def test_what_lies_across_is_taken_away_within_its_stated_error(name: str) -> None:
    (kind, sizes, more), taken = TAKEN[name]
    found = across(kind, sizes, more)
    note = next(n for n in found.notes if "to within" in n)
    stated = float(note.rpartition("to within ")[2].split(" ")[0])
    assert abs(found.value - (FULL - taken)) <= max(stated, 1e-6)
    assert stated < 0.002 * taken


def test_two_cross_holes_that_cut_one_another_are_taken_once() -> None:
    more = "    across:\n" + "".join(
        f"      - hole: {n}\n        on: c\n        at: c middle\n        through: yes\n        around: {a} deg\n"
        for n, a in (("x", 0), ("y", 90))
    )
    found = asked(["cylinder: c"], ["c diameter: 20", "c length: 40", "x diameter: 6", "y diameter: 6"], more, "volume")
    both = 2 * crossing(10, 3) - 16 * 27 / 3  # two bars of 3 cross in 16 R3 / 3
    assert found[0].value == pytest.approx(FULL - both, abs=0.1)


def test_limits_of_a_volume_are_its_corners() -> None:
    volume, surface = asked(
        ["cone: c", "cylinder: d"],
        ["c left diameter: 20 ± 0.2", "c right diameter: 12 +0.1 -0.3", "c length: 30 ± 0.5", "d diameter: 8 ± 0.1"]
        + ["d length: 10 ± 0.2"],
    )

    def solid(a: float, b: float, n: float, d: float, m: float) -> float:
        return pi / 12 * n * (a * a + a * b + b * b) + pi / 4 * d * d * m

    def skin(a: float, b: float, n: float, d: float, m: float) -> float:
        return pi / 4 * (a * a + b * b) + pi / 2 * (a + b) * hypot(n, (a - b) / 2) + pi * d * m

    limits = [(19.8, 20.2), (11.7, 12.1), (29.5, 30.5), (7.9, 8.1), (9.8, 10.2)]
    for answer, fn in ((volume, solid), (surface, skin)):
        corners = [fn(*corner) for corner in product(*limits)]
        assert (answer.low, answer.high) == pytest.approx((min(corners), max(corners)), rel=1e-9)
    # the shares are the partial derivatives amid the limits, times the widths
    h = 1e-4
    middle = [(low + high) / 2 for low, high in limits]
    for i, phrase in enumerate(("c left diameter", "c right diameter", "c length", "d diameter", "d length")):
        up, down = ([x + s * h * (i == j) for j, x in enumerate(middle)] for s in (1, -1))
        share = (solid(*up) - solid(*down)) / (2 * h) * (limits[i][1] - limits[i][0])
        assert next(c.share for c in volume.contributors if c.phrase == phrase) == pytest.approx(share, rel=1e-5)


def test_what_is_not_worked_out_is_said() -> None:
    more = ACROSS.format(kind="hole", more="        on: c\n        at: c middle\n        through: yes\n        leaning: 18 deg\n")
    volume, surface = asked(["cylinder: c"], ["c diameter: 20", "c length: 40", "x diameter: 6"], more)
    assert volume.value == pytest.approx(FULL, abs=1e-7)
    assert "without 'x', cut across" in volume.notes
    assert "without what is cut across: 'x'" in surface.notes


def test_threads_are_taken_as_plain_and_said() -> None:
    volume = asked(["{cylinder: c, thread: M6}"], ["c length: 20"], "", "volume")[0]
    assert volume.value == pytest.approx(pi * 9 * 20, rel=1e-9)
    assert volume.notes == ("threads and knurls taken as plain: c",)


def test_arcs_are_exact_to_high_precision() -> None:
    volume, surface = asked(["ball: b", "cylinder: c"], ["b diameter: 20", "c diameter: 7", "c length: 30"])
    mpmath.mp.dps = 30
    half = mpmath.sqrt(mpmath.mpf(100) - mpmath.mpf("12.25"))
    cap = mpmath.pi * (100 * (half + 10) - (half**3 + 1000) / 3)
    assert volume.value == pytest.approx(float(cap + mpmath.pi * mpmath.mpf("12.25") * 30), rel=1e-12)
    skin = 2 * mpmath.pi * 10 * (half + 10) + mpmath.pi * 7 * 30 + mpmath.pi * mpmath.mpf("12.25")
    assert surface.value == pytest.approx(float(skin), rel=1e-12)
