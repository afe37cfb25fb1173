"""Each kind of junction against its closed form, worked to 40 digits with mpmath."""

from __future__ import annotations

import pytest
from mpmath import mp, mpf, radians, sqrt, tan

from handwheel.drawing.records import State
from tests.drawing.jobs import part, sized, values

mp.dps = 40
NEAR = 1e-9


def close(found: float, expected: object) -> None:
    assert found == pytest.approx(float(expected), abs=NEAR)  # type: ignore[arg-type]


def test_ball_on_cylinder() -> None:
    found = part(
        ["ball: b", "cylinder: s"], ["b diameter: 40", "s diameter: 20", "overall length: 90"], "b length", "s length"
    )
    length = 20 + sqrt(mpf(20) ** 2 - mpf(10) ** 2)
    for value, expected in zip(values(found), (length, 90 - length), strict=True):
        close(value, expected)


def test_ball_on_cone_known_at_the_centre_of_the_ball() -> None:
    found = part(
        ["ball: b", "cone: c"],
        ["b diameter: 20", "c diameter at b centre: 12", "c right diameter: 6", "b centre to c right: 70"],
        "b right to right end",
        "c left diameter",
    )
    # (6 - u x)^2 + x^2 = 10^2 with u = 3/70
    u = mpf(3) / 70
    x = (6 * u + sqrt(36 * u**2 + (1 + u**2) * 64)) / (1 + u**2)
    close(values(found)[0], 70 - x)
    close(values(found)[1], 2 * (6 - u * x))


def test_cone_wider_than_the_ball_at_its_centre_takes_the_farther_root() -> None:
    found = part(
        ["ball: b", "cone: c"],
        ["b diameter: 20", "c angle to axis: 30 deg", "c diameter at b centre: 21", "c right diameter: 3"],
        "b centre to b right",
    )
    t = tan(radians(mpf(30)))
    r = mpf("10.5")
    # (r - t x)^2 + x^2 = 100: both roots right of the centre
    a, b, c = 1 + t**2, -2 * r * t, r**2 - 100
    roots = sorted([(-b - sqrt(b * b - 4 * a * c)) / (2 * a), (-b + sqrt(b * b - 4 * a * c)) / (2 * a)])
    assert roots[0] > 0
    close(values(found)[0], roots[1])


def test_dome_said_is_the_shallow_cap() -> None:
    dimensions = ["b diameter: 40", "s diameter: 20", "overall length: 50"]
    found = part(["{ball: b, dome: yes}", "cylinder: s"], dimensions, "b length")
    close(values(found)[0], 20 - sqrt(mpf(300)))


def test_dome_is_taken_unsaid_where_nothing_else_fits() -> None:
    dimensions = ["b diameter: 40", "s diameter: 20", "overall length: 30", "s length: 27.32"]
    found = part(["ball: b", "cylinder: s"], dimensions, "b length")
    assert found.state is State.OVER_DIMENSIONED
    close(values(found)[0], 20 - sqrt(mpf(300)))
    dimensions = ["b diameter: 40", "s diameter: 20", "overall length: 30"]
    found = part(["ball: b", "cylinder: s"], dimensions, "b length")  # the ball itself is 37.3 long
    assert found.state is State.FULLY_DIMENSIONED
    close(values(found)[0], 20 - sqrt(mpf(300)))


def test_ball_tangent_to_cylinder_and_to_cone() -> None:
    found = part(["{ball: b, tangent: right}", "cylinder: s"], ["s diameter: 20", "overall length: 50"], "b length")
    close(values(found)[0], 10)
    found = part(
        ["{ball: b, tangent: right}", "cone: c"],
        ["b diameter: 20", "c angle to axis: 5 deg", "c right diameter: 8"],
        "c left diameter",
        "b centre to b right",
        "overall length",
    )
    a = radians(mpf(5))
    close(values(found)[0], 20 * mp.cos(a))
    close(values(found)[1], 10 * mp.sin(a))
    close(values(found)[2], 10 + 10 * mp.sin(a) + (10 * mp.cos(a) - 4) / tan(a))


def test_ball_to_ball_through_their_circle() -> None:
    found = part(
        ["ball: a", "ball: b"], ["a diameter: 20", "b diameter: 30", "a centre to b centre: 18"], "left end to a right"
    )
    close(values(found)[0], 10 + (mpf(18) ** 2 + 10**2 - 15**2) / (2 * 18))


def test_hollow_between_cylinders() -> None:
    found = part(
        ["cylinder: j", "hollow: h", "cylinder: k"],
        ["j diameter: 20", "k diameter: 16", "h radius: 15", "h length: 18", "j length: 10", "k length: 9"],
        "h left to h centre",
        "h diameter at h centre",
    )
    # centre (x, c) with x^2 + (c - 10)^2 = (18 - x)^2 + (c - 8)^2 = 225
    half, apart = sqrt(mpf(18) ** 2 + 4) / 2, sqrt(mpf(18) ** 2 + 4)
    up = sqrt(225 - half**2)
    close(values(found)[0], 9 + up * 2 / apart)
    close(values(found)[1], 2 * (9 + up * 18 / apart - 15))


def test_hollow_tangent_to_the_smaller() -> None:
    found = part(
        ["cylinder: j", "{hollow: h, tangent: left}", "cylinder: k"],
        ["j diameter: 10", "k diameter: 20", "h radius: 15", "overall length: 40", "j length: 10"],
        "h length",
    )
    close(values(found)[0], sqrt(mpf(15) ** 2 - mpf(10) ** 2))


def test_round_and_hollow_tangent_to_each_other() -> None:
    found = part(
        ["cylinder: j", "{round: o, tangent: both}", "{hollow: h, tangent: right}", "cylinder: k"],
        ["j diameter: 40", "k diameter: 20", "o radius: 12", "h radius: 8", "j length: 10", "k length: 10"],
        "left end to o right",
        "o right diameter",
        "overall length",
    )
    # centres (10, 8) and (z, 18) are 20 apart; the junction is 12 along
    apart = sqrt(mpf(20) ** 2 - mpf(10) ** 2)
    close(values(found)[0], 10 + apart * 12 / 20)
    close(values(found)[1], 2 * (8 + mpf(10) * 12 / 20))
    close(values(found)[2], 20 + apart)


def test_ball_into_hollow() -> None:
    found = part(
        ["ball: b", "{hollow: h, tangent: both}", "cylinder: k"],
        ["b diameter: 20", "h radius: 15", "k diameter: 8", "k length: 5"],
        "b centre to h centre",
        "left end to b right",
        "b right diameter",
        "b centre to h right",
    )
    # hollow's centre at radius 19; externally tangent: 25 apart
    along = sqrt(mpf(25) ** 2 - mpf(19) ** 2)
    close(values(found)[0], along)
    close(values(found)[1], 10 + along * 10 / 25)
    close(values(found)[2], 2 * mpf(19) * 10 / 25)
    close(values(found)[3], along)


def test_fillet_chamfer_and_rounded_edge() -> None:
    outside = ["cylinder: j", "{fillet: root, size: R 1 mm}", "cylinder: f", "{chamfer: tip, size: 0.5 mm x 30 deg}"]
    found = part(
        outside,
        ["j diameter: 10", "f diameter: 20", "j length: 15", "overall length: 40"],
        "f length",
        "root left diameter",
        "root right diameter",
        "tip right diameter",
    )
    length, left, right, tip = values(found)
    close(length, 40 - 15 - 1 - mpf("0.5"))
    close(left, 10)
    close(right, 12)
    close(tip, 20 - 2 * mpf("0.5") * tan(radians(mpf(30))))
    found = part(
        ["{round: edge, size: R 2 mm}", "cylinder: j"], ["j diameter: 10", "overall length: 40"],
        "j length", "edge left diameter",
    )
    close(values(found)[0], 38)
    close(values(found)[1], 6)


def test_fillet_takes_its_smaller_neighbour_on_either_side() -> None:
    dimensions = ["j diameter: 20", "f diameter: 10", "f length: 15", "overall length: 40"]
    found = part(["cylinder: j", "{fillet: root, size: R 1 mm}", "cylinder: f"], dimensions, "root left diameter",
                 "root right diameter", "j length")  # fmt: skip
    for value, expected in zip(values(found), (12, 10, 24), strict=True):
        close(value, expected)


def test_points_that_no_tool_can_touch() -> None:
    found = part(
        ["cone: one", "cone: two"],
        ["one left diameter: 30", "one right diameter: 20", "one length: 20", "two left diameter: 18"]
        + ["two right diameter: 6", "two length: 40"],
        "left end to one apex",
        "left end to one meets two",
        "one diameter at right end",
    )
    # one: r = 15 - z/4; two: r = 9 - 3(z - 20)/20
    close(values(found)[0], 60)
    close(values(found)[1], (15 - 12) / (mpf(1) / 4 - mpf(3) / 20))
    close(values(found)[2], 0)


def test_drilled_hole_point_counterbore_and_countersink() -> None:
    more = (
        "    inside:\n      from right:\n        - counterbore: seat\n        - hole: drill\n"
        "      from left:\n        - countersink: sink\n        - {hole: pilot, through: yes}"
    )
    found = part(
        ["cylinder: body"],
        ["body diameter: 30", "overall length: 50", "seat diameter: 20", "seat depth: 8", "drill diameter: 10"]
        + ["drill depth: 30", "pilot diameter: 4", "sink diameter: 8", "sink included angle: 90 deg"],
        "drill point to left end",
        "drill length",
        "sink depth",
        "pilot length",
        more=more,
    )
    point, length, sink, pilot = values(found)
    close(point, 20 - 5 / tan(radians(mpf(59))))
    close(length, 22)
    close(sink, 2)
    close(pilot, 18)


def test_lever_of_the_contract() -> None:
    from tests.drawing.lever import LEVER

    found = sized(
        LEVER,
        "hub centre of lever to shank right of lever",
        "overall length of lever",
        "shank left diameter of lever",
        "overall length of knob",
        "overall length of short lever",
    )
    inch = mpf("25.4")
    grip, cut = mpf(3) / 8 * inch / 2, mpf(1) / 4 * inch / 2
    half = sqrt(grip**2 - cut**2)
    shank = inch * (2 + mpf(1) / 8) - half  # hub centre to shank right
    hub, at_centre = mpf(9) / 16 * inch / 2, mpf(11) / 32 * inch / 2
    u = (at_centre - cut) / shank
    x = (at_centre * u + sqrt((at_centre * u) ** 2 + (1 + u**2) * (hub**2 - at_centre**2))) / (1 + u**2)
    tenon = mpf("0.2") * inch
    expected = [
        shank, hub + shank + tenon, 2 * (at_centre - u * x), grip + half,
        inch * (mpf(7) / 32 + 1 + mpf(5) / 8 + mpf("0.2")),
    ]  # fmt: skip
    for value, wanted in zip(values(found), expected, strict=True):
        close(value, wanted)
    assert found.state is State.FULLY_DIMENSIONED
    assert found.assemblies[0].left_end["knob"] == pytest.approx(float(hub + shank), abs=NEAR)
