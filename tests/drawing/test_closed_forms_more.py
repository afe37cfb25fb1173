"""Further junctions and measures against closed forms worked to 50 digits with mpmath."""

from __future__ import annotations

import pytest
from mpmath import atan, cos, degrees, mpf, pi, radians, sin, sqrt, tan, workdps

from tests.drawing.jobs import part, values

NEAR = 1e-9


def agree(found: list[float], *expected: object) -> None:
    assert found == pytest.approx([float(e) for e in expected], abs=NEAR)  # type: ignore[arg-type]


@pytest.fixture(autouse=True)
def _fifty_digits() -> object:
    with workdps(50):
        yield


def test_ball_between_cone_and_cylinder_by_the_cones_taper() -> None:
    found = part(
        ["cone: c", "ball: b", "cylinder: d"],
        ["c left diameter: 10", "c taper: 1 in 20", "c length: 30", "b diameter: 26", "d diameter: 14", "d length: 9"],
        "c right diameter", "left end to b centre", "overall length", "b length", "c included angle",
    )  # fmt: skip
    right = 10 + mpf(30) / 20
    centre = 30 + sqrt(mpf(13) ** 2 - (right / 2) ** 2)
    reach = sqrt(mpf(13) ** 2 - 49)
    agree(values(found), right, centre, centre + reach + 9, centre + reach - 30, degrees(2 * atan(mpf(1) / 40)))


def test_three_balls_in_a_row() -> None:
    found = part(
        ["ball: a", "ball: b", "ball: c"],
        ["a diameter: 20", "b diameter: 30", "c diameter: 24", "a centre to b centre: 18", "b centre to c centre: 20"],
        "a right to left end", "b length", "b left diameter", "b right diameter", "overall length",
        "b middle to b centre",
    )  # fmt: skip
    one = (mpf(18) ** 2 + 100 - 225) / 36  # from a's centre to the circle in which they meet
    two = (mpf(20) ** 2 + 225 - 144) / 40  # from b's
    left, right = 18 - one, two
    agree(
        values(found), 10 + one, left + right, 2 * sqrt(100 - one**2), 2 * sqrt(225 - two**2), 10 + 18 + 20 + 12,
        (left - right) / 2,
    )  # fmt: skip


def test_ball_cut_flat_on_both_sides() -> None:
    found = part(
        ["cylinder: a", "{ball: b, flat: both}", "cylinder: c"],
        ["a diameter: 8", "c diameter: 6", "b diameter: 20", "b left diameter: 12", "b right diameter: 10"]
        + ["a length: 15", "overall length: 50"],
        "b centre to left end", "b length", "c length",
    )  # fmt: skip
    left, right = mpf(8), sqrt(mpf(75))
    agree(values(found), 15 + left, left + right, 35 - left - right)


def arc_centre(chord: object, left: object, right: object, big: object, way: int) -> tuple[object, object]:
    """From the left end of an arc of that length along the axis: its centre (along, out); way +1 is outward."""
    half = sqrt(chord**2 + (right - left) ** 2) / 2  # type: ignore[operator]
    high = sqrt(big**2 - half**2)  # type: ignore[operator]
    along, rise = chord / (2 * half), (right - left) / (2 * half)  # type: ignore[operator]
    return chord / 2 - way * high * rise, (left + right) / 2 + way * high * along  # type: ignore[operator]


def test_hollow_between_cones() -> None:
    found = part(
        ["cone: a", "hollow: h", "cone: c"],
        ["a left diameter: 30", "a right diameter: 24", "a length: 20", "h radius: 15", "h length: 17"]
        + ["c length: 25", "c left diameter: 20", "c right diameter: 28"],
        "h left to h centre", "h diameter at h centre", "overall length",
    )  # fmt: skip
    along, out = arc_centre(mpf(17), mpf(12), mpf(10), mpf(15), 1)
    agree(values(found), along, 2 * (out - 15), 62)


def test_round_between_cylinders() -> None:
    found = part(
        ["cylinder: a", "round: q", "cylinder: c"],
        ["a diameter: 16", "c diameter: 20", "q radius: 24", "a length: 12", "c right to q left: 40"]
        + ["q right to right end: 26"],
        "q left to q centre", "q diameter at q centre", "q length",
    )  # fmt: skip
    along, out = arc_centre(mpf(14), mpf(8), mpf(10), mpf(24), -1)
    agree(values(found), along, 2 * (out + 24), 14)


def test_hollow_tangent_to_a_cone() -> None:
    found = part(
        ["cone: a", "{hollow: h, tangent: left}", "cylinder: c"],
        ["a left diameter: 30", "a right diameter: 20", "a length: 40", "h radius: 12", "c diameter: 22"]
        + ["c length: 5"],
        "h centre to h left", "h diameter at h centre", "overall length",
    )  # fmt: skip
    slope = mpf(-5) / 40
    long = sqrt(1 + slope**2)
    centre, out = -12 * slope / long, 10 + 12 / long  # from the tangent point, along the normal
    right = sqrt(mpf(144) - (out - 11) ** 2)
    agree(values(found), centre, 2 * (out - 12), 40 + centre + right + 5)


def test_ball_into_a_tangent_hollow_into_a_cylinder() -> None:
    found = part(
        ["ball: b", "{hollow: h, tangent: both}", "cylinder: c"],
        ["b diameter: 24", "h radius: 10", "c diameter: 12", "c length: 20"],
        "b centre to h centre", "b right diameter", "h length", "overall length",
    )  # fmt: skip
    out = mpf(6) + 10
    apart = sqrt(mpf(22) ** 2 - out**2)
    agree(values(found), apart, 2 * out * 12 / 22, apart - apart * 12 / 22, 12 + apart + 20)


def test_rounded_edge_between_a_cylinder_and_a_cone() -> None:
    found = part(
        ["cylinder: a", "{round: edge, size: R 3 mm}", "cone: c"],
        ["a diameter: 30", "c angle to axis: 20 deg", "a length: 25", "c length: 18"],
        "edge length", "c left diameter", "c right diameter",
    )  # fmt: skip
    theta = radians(mpf(20))
    left = 2 * (15 - 3 + 3 * cos(theta))
    agree(values(found), 3 * sin(theta), left, left - 2 * 18 * tan(theta))


def test_fillet_against_a_cone() -> None:
    found = part(
        ["cone: c", "{fillet: root, size: R 2 mm}", "cylinder: head"],
        ["c left diameter: 10", "c angle to axis: 5 deg", "c length: 20", "head diameter: 40", "head length: 6"],
        "root length", "root right diameter",
    )  # fmt: skip
    # the centre lies on the cone's normal at the end of the cone, R from it; the arc ends level with the centre
    theta = radians(mpf(5))
    right = 5 + 20 * tan(theta)
    agree(values(found), 2 - 2 * sin(theta), 2 * (right + 2 * cos(theta)))


def test_chamfer_by_included_angle_and_length() -> None:
    found = part(
        ["cylinder: a", "chamfer: tip"],
        ["a diameter: 20", "overall length: 30", "tip included angle: 60 deg", "tip length: 1.5"],
        "tip right diameter", "a length", "left end to tip apex", "tip taper",
    )  # fmt: skip
    u = tan(radians(mpf(30)))
    agree(values(found), 20 - 3 * u, mpf("28.5"), mpf("28.5") + 10 / u, 2 * u)


def test_carried_on() -> None:
    found = part(
        ["cone: c", "ball: b", "cylinder: d"],
        ["c left diameter: 12", "c right diameter: 16", "c length: 24", "b diameter: 30", "d diameter: 10"]
        + ["d length: 40"],
        "c diameter at b centre", "b diameter at c right + 2 mm", "left end to c meets d", "c apex to b centre",
        "b diameter at b centre - 6 mm", "c diameter at left end - 3 mm",
    )  # fmt: skip
    slope, apart = mpf(2) / 24, sqrt(mpf(225) - 64)
    agree(
        values(found), 16 + 2 * slope * apart, 2 * sqrt(225 - (apart - 2) ** 2), (mpf(6) - 5) / slope,
        6 / slope + 24 + apart, 2 * sqrt(mpf(225) - 36), 12 - 6 * slope,
    )  # fmt: skip


def test_ball_met_by_a_cylinder_carried_on() -> None:
    found = part(
        ["cylinder: a", "cylinder: e", "ball: b"],
        ["a diameter: 10", "a length: 20", "e diameter: 14", "e length: 12", "b diameter: 22"],
        "b meets a to b centre", "e left to b meets a",
    )  # fmt: skip
    centre = 12 + sqrt(mpf(121) - 49)
    agree(values(found), sqrt(mpf(121) - 25), centre - sqrt(mpf(121) - 25))


def test_holes_from_both_ends() -> None:
    more = (
        "    inside:\n      from left:\n        - {bore: seat, cone: yes}\n        - hole: pilot\n"
        "      from right:\n        - countersink: sink\n        - {hole: drill, point: 120 deg}\n"
    )
    found = part(
        ["cylinder: body"],
        ["body diameter: 40", "overall length: 90", "seat left diameter: 18", "seat taper: 1 in 10", "seat depth: 25"]
        + ["pilot diameter: 8", "pilot length: 10", "sink diameter: 12", "sink included angle: 82 deg"]
        + ["drill diameter: 7", "pilot point to drill point: 15"],
        "seat right diameter", "pilot bottom to pilot point", "sink depth", "drill depth", "drill length",
        more=more.rstrip("\n"),
    )  # fmt: skip
    tip = 4 / tan(radians(mpf(59)))
    sink = mpf("2.5") / tan(radians(mpf(41)))
    drill = 90 - (35 + tip + 15) - mpf("3.5") / tan(radians(mpf(60)))
    agree([abs(v) for v in values(found)], 18 - mpf(25) / 10, tip, sink, drill, drill - sink)


def test_groove_outside() -> None:
    found = part(
        ["cylinder: j", "{groove: clip, in: j}"],
        ["j diameter: 24", "overall length: 50", "clip width: 2", "clip depth: 1.25", "left end to clip middle: 30"],
        "clip diameter", "clip left to left end", "clip right to right end",
    )  # fmt: skip
    agree(values(found), mpf("21.5"), 29, 19)


def test_across_a_ball_and_a_cylinder() -> None:
    more = (
        "    across:\n      - {flat: land, on: b}\n      - {holes: ring, face: left, count: 5, through: yes}\n"
        "      - {hexagon: nut, on: c}"
    )
    found = part(
        ["cylinder: c", "ball: b"],
        ["c diameter: 30", "c length: 20", "b diameter: 40", "land from axis: 16", "ring diameter: 3"]
        + ["ring pitch circle diameter: 18", "nut across flats: 26"],
        "land width", "land depth", "ring pitch", "nut from axis",
        more=more,
    )  # fmt: skip
    agree(values(found), 2 * sqrt(mpf(400) - 256), 4, 18 * sin(pi / 5), 13)
