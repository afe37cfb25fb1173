"""Closed forms of the drawings 11 to 20, written from the drawings by hand."""

from __future__ import annotations

from math import atan, degrees, radians, sin, sqrt, tan

from tests.drawings.forms_spindles import sag
from tests.drawings.limits_by_corners import INCH, Size, exact, lim, over, pm


def grinding_arbor() -> dict[str, Size]:
    t = 0.005
    overall, large, span = pm(3.5, t, INCH), pm(0.625, t, INCH), pm(9.5, 0.1)
    flange, neck = pm(5, t * INCH), pm(14, t * INCH)
    register, nose = pm(0.125, t, INCH), pm(0.5, t, INCH)
    return {
        "shank length": over(lambda a, s, r, n: a - s - r - n, a=overall, s=span, r=register, n=nose),
        "shank left diameter": over(
            lambda d, a, s, r, n: d - (a - s - r - n) / 20, d=large, a=overall, s=span, r=register, n=nose
        ),
        "neck length": over(lambda s, f: s - f, s=span, f=flange),
        "nose diameter": exact(0.375, INCH),
        "shank taper": exact(0.05),
        "register diameter": lim(16, -0.011, 0),
        "neck radius": over(lambda d: d / 2, d=neck),
        "flange right to right end": over(lambda r, n: r + n, r=register, n=nose),
    }


def clamp_lever() -> dict[str, Size]:
    hub, left, right, tenon = pm(15, 0.1), pm(9, 0.1), pm(7, 0.1), lim(5, -0.1, 0)
    grip, centres, socket = pm(12, 0.1), pm(60, 0.15), pm(5.5, 0.1)
    along = {"h": hub, "a": left, "b": right, "g": grip, "c": centres}

    def shank(h: float, a: float, b: float, g: float, c: float) -> float:
        return c - sag(g / 2, b) - sag(h / 2, a)

    return {
        "hub centre to shank right of lever": over(lambda c, g, b: c - sag(g / 2, b), c=centres, g=grip, b=right),
        "shank length of lever": over(shank, **along),
        "overall length of lever": over(
            lambda h, b, g, c, t: h / 2 + c - sag(g / 2, b) + t, h=hub, b=right, g=grip, c=centres, t=tenon
        ),
        "shank included angle of lever": over(
            lambda h, a, b, g, c: 2 * degrees(atan((a - b) / 2 / shank(h, a, b, g, c))), **along
        ),
        "grip left diameter of knob": over(lambda b: b, b=right),
        "overall length of knob": over(lambda g, b: g / 2 + sag(g / 2, b), g=grip, b=right),
        "tenon right of lever to socket bottom of knob": over(lambda s, t: s - t, s=socket, t=tenon),
        "hub left of lever to grip right of knob": over(lambda h, c, g: h / 2 + c + g / 2, h=hub, c=centres, g=grip),
    }


def ball_lever() -> dict[str, Size]:
    hub, knob, apart = pm(22, 0.1), pm(15.875, 0.1), pm(69.85, 0.1)
    at_hub, at_knob, flat = pm(12, 0.1), pm(8, 0.1), pm(14, 0.1)
    arm = {"h": at_hub, "k": at_knob, "c": apart}

    def meets(ball: float, here: float, there: float, c: float) -> float:
        r, k = here / 2, (there - here) / (2 * c)
        return (-r * k + sqrt(ball**2 / 4 * (1 + k * k) - r * r)) / (1 + k * k)

    return {
        "overall length": over(lambda b, c, k: b / 2 + c + k / 2, b=hub, c=apart, k=knob),
        "seat from axis": over(lambda b, f: sag(b / 2, f), b=hub, f=flat),
        "arm left diameter": over(
            lambda b, h, k, c: h + (k - h) / c * meets(b, h, k, c), b=hub, **arm
        ),
        "arm right diameter": over(
            lambda b, h, k, c: k + (h - k) / c * meets(b, k, h, c), b=knob, **arm
        ),
        "left end to arm right": over(
            lambda b, s, h, k, c: b / 2 + c - meets(s, k, h, c), b=hub, s=knob, **arm
        ),
        "arm angle to axis": over(lambda h, k, c: degrees(atan((h - k) / (2 * c))), **arm),
        "eye centre to right end": over(lambda c, k: c + k / 2, c=apart, k=knob),
    }  # fmt: skip


def poppet_valve() -> dict[str, Size]:
    rim, edge, seat, stem = pm(20, 0.05), pm(1.2, 0.05), pm(16, 0.05), lim(5, -0.02, 0)
    throat, overall = pm(10, 0.05), pm(62, 0.05)
    hollow = {"q": throat, "d": seat, "s": stem}

    def run(q: float, d: float, s: float) -> float:
        # The arc touches the stem at its right end, so its centre stands there, q above the stem.
        return sqrt(q * q - (q + s / 2 - d / 2) ** 2)

    return {
        "seat length": over(lambda r, d: (r - d) / 2, r=rim, d=seat),
        "throat length": over(run, **hollow),
        "stem length": over(
            lambda a, e, r, q, d, s: a - e - (r - d) / 2 - run(q, d, s), a=overall, e=edge, r=rim, **hollow
        ),
        "rim right to seat apex": over(lambda r: r / 2, r=rim),
        "rim right to seat meets stem": over(lambda r, s: (r - s) / 2, r=rim, s=stem),
        "left end to throat right": over(
            lambda e, r, q, d, s: e + (r - d) / 2 + run(q, d, s), e=edge, r=rim, **hollow
        ),
    }  # fmt: skip


def pump_piston() -> dict[str, Size]:
    # Answers are at the sizes as typed; what the bore as made changes is told apart, see test_forty.
    way, gap, t = pm(1.125, 0.002, INCH), pm(0.002, 0.0005, INCH), 0.005 * INCH
    body, depth, groove = pm(32, t), pm(0.055, 0.005, INCH), pm(0.0625, 0.005, INCH)
    crown, top, land, pin = pm(5 / 32, 0.005, INCH), pm(3 / 32, 0.005, INCH), pm(1.5, t), pm(9, t)
    grooves = {"u": top, "w": groove, "n": land, "x": groove}
    return {
        "body diameter of piston": over(lambda w, g: w - g, w=way, g=gap),
        "upper diameter of piston": over(lambda w, g, d: w - g - 2 * d, w=way, g=gap, d=depth),
        "skirt depth of piston": over(lambda b, c: b - c, b=body, c=crown),
        "pin centre to right end of piston": over(lambda u, w, n, x, p: u + w + n + x + p, p=pin, **grooves),
        "left end to pin centre of piston": over(
            lambda b, u, w, n, x, p: b - (u + w + n + x + p), b=body, p=pin, **grooves
        ),
        "lower left to right end of piston": over(lambda u, w, n, x: u + w + n + x, **grooves),
    }


def barrel_grip() -> dict[str, Size]:
    t = 0.1
    collar, length, belly, half = pm(14, t), pm(4, t), pm(22, t), pm(24, t)
    tail, tip = pm(3, t), pm(10, t)
    arc = {"c": collar, "b": belly, "h": half}

    def radius(c: float, b: float, h: float) -> float:
        rise = (b - c) / 2
        return (h * h + rise * rise) / (2 * rise)

    def right(c: float, b: float, h: float, p: float) -> float:
        q, fall = radius(c, b, h), (b - p) / 2
        return sqrt(2 * q * fall - fall * fall)

    return {
        "barrel radius": over(radius, **arc),
        "barrel diameter": over(lambda c, b, h: 2 * radius(c, b, h), **arc),
        "barrel centre to barrel right": over(right, p=tip, **arc),
        "overall length": over(
            lambda n, c, b, h, p, k: n + h + right(c, b, h, p) + k, n=length, p=tip, k=tail, **arc
        ),
        "barrel length": over(lambda c, b, h, p: h + right(c, b, h, p), p=tip, **arc),
        "left end to barrel middle": over(
            lambda n, c, b, h, p: n + (h + right(c, b, h, p)) / 2, n=length, p=tip, **arc
        ),
    }  # fmt: skip


def checked_shaft() -> dict[str, Size]:
    def at(value: float) -> Size:
        return pm(value, 0.1)

    return {
        "right-journal diameter": at(10),
        "middle-land diameter": at(18),
        "left-journal radius": pm(6, 0.05),
    }


def three_spindles() -> dict[str, Size]:
    t = 0.05
    left, right, stub, overall, short = pm(16, t), pm(10, t), pm(15, t), pm(90, t), pm(60, t)
    slim = pm(11, 0.02)

    def angle(a: float, b: float, n: float) -> float:
        return 2 * degrees(atan((a - b) / (2 * n)))

    return {
        "shank included angle of long": over(angle, a=left, b=right, n=pm(60, t)),
        "shank included angle of short": over(angle, a=left, b=right, n=pm(30, t)),
        "shank taper of slim": over(lambda a, b, n: (a - b) / n, a=slim, b=right, n=pm(60, t)),
        "nose length of long": over(lambda a, s, n: a - s - n, a=overall, s=stub, n=pm(60, t)),
        "nose length of short": over(lambda a, s, n: a - s - n, a=short, s=stub, n=pm(30, t)),
        "stub diameter of slim": over(lambda d: d / 2 + 2, d=pm(20, t)),
        "nose diameter of slim": over(lambda d: 2 * d - 14.5, d=right),
        "shank diameter at shank middle of long": over(lambda a, b: (a + b) / 2, a=left, b=right),
    }


def every_spelling() -> dict[str, Size]:
    t, mm = 0.01, 1 / INCH
    lengths = {
        "a": pm(0.201, t), "b": pm(0.5, t), "c": pm(0.6, t), "d": pm(0.5, t), "e": pm(7 / 8 - 0.5 * mm, t),
        "f": pm(12.7 * mm, 0.05 * mm), "g": pm(0.75, t), "k": lim(1.5, -0.02, 0),
    }  # fmt: skip
    whole = Size(*(INCH * sum(size[i] for size in lengths.values()) for i in range(3)))
    slope = tan(radians(2.5))
    return {
        "overall length": whole,
        "a diameter": pm(0.375, t, INCH),
        "b diameter": pm(0.4375, 0.002, INCH),
        "c diameter": pm(1.4375, t, INCH),
        "d diameter": pm(0.75, 2 * t, INCH),
        "e diameter": Size(25.4, 25.41, 25.42),
        "f diameter": pm(0.257, t, INCH),
        "e length": over(lambda e: e * INCH, e=lengths["e"]),
        "g length": pm(0.75, t, INCH),
        "k right diameter": over(
            lambda d, n: INCH * (d - 2 * n * slope), d=pm(0.75, t), n=lengths["k"]
        ),
        "k included angle": exact(5),
    }  # fmt: skip


def metering_needle() -> dict[str, Size]:
    t = 0.02
    shank, first, all_over, end = pm(3, t), pm(12, t), pm(30, t), pm(0.8, t)
    slow, quick = tan(radians(1.25)), tan(radians(5))
    body = {"d": shank, "f": first, "a": all_over}

    def waist(d: float, f: float, a: float) -> float:
        return d - 2 * (a - f) * slow

    return {
        "body right diameter": over(waist, **body),
        "tip length": over(lambda d, f, a, e: (waist(d, f, a) - e) / 2 / quick, e=end, **body),
        "overall length": over(lambda d, f, a, e: a + (waist(d, f, a) - e) / 2 / quick, e=end, **body),
        "left end to tip apex": over(lambda d, f, a: a + waist(d, f, a) / 2 / quick, **body),
        "right end to tip apex": over(lambda e: e / 2 / quick, e=end),
        "body taper": exact(2 * slow),
        "tip diameter at body right + 2 mm": over(lambda d, f, a: waist(d, f, a) - 4 * quick, **body),
        "tip angle to axis": exact(degrees(atan(sin(radians(5)) / sqrt(1 - sin(radians(5)) ** 2)))),
    }


FORMS = {
    "11-grinding-arbor": grinding_arbor, "12-clamp-lever": clamp_lever, "13-ball-lever": ball_lever,
    "14-poppet-valve": poppet_valve, "15-pump-piston": pump_piston, "16-barrel-grip": barrel_grip,
    "17-checked-shaft": checked_shaft, "18-hand-of-spindles": three_spindles,
    "19-every-spelling": every_spelling, "20-metering-needle": metering_needle,
}  # fmt: skip
