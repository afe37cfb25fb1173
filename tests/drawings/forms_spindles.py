"""Closed forms of the drawings 1 to 10, written from the drawings by hand."""

from __future__ import annotations

from math import atan, degrees, radians, sin, sqrt, tan

from tests.drawings.limits_by_corners import INCH, Size, exact, lim, over, pm


def sag(radius: float, chord: float) -> float:
    """From a circle's centre to its chord."""
    return sqrt(radius**2 - (chord / 2) ** 2)


def idler_spindle() -> dict[str, Size]:
    overall, tip, nose = pm(96, 0.2), pm(1, 0.1), pm(14, 0.1)
    span, flange, journal = lim(52, -0.1, 0), pm(6, 0.1), lim(14, -0.018, 0)
    width, depth, land = lim(1.3, 0, 0.14), pm(0.6, 0.1), pm(4, 0.1)
    return {
        "tail length": over(lambda a, t, n, s: a - t - n - s, a=overall, t=tip, n=nose, s=span),
        "journal length": over(lambda s, f: s - f, s=span, f=flange),
        "nose diameter": exact(10),
        "tip left diameter": over(lambda t: 10 - 2 * t, t=tip),
        "clip diameter": over(lambda d, g: d - 2 * g, d=journal, g=depth),
        "left end to clip left": over(
            lambda t, n, s, f, w, e: t + n + s - f - e - w, t=tip, n=nose, s=span, f=flange, w=width, e=land
        ),
        "clip middle to flange left": over(lambda w, e: w / 2 + e, w=width, e=land),
        "tail right to flange right": over(lambda a, t, n, s: a - t - n - s, a=overall, t=tip, n=nose, s=span),
    }


def taper_plug() -> dict[str, Size]:
    length, gauge = pm(2.25, 0.005, INCH), pm(0.75, 0.0005, INCH)
    neck, all_over, line = pm(5 / 16, 0.005, INCH), pm(4.375, 0.005, INCH), 0.125 * INCH
    return {
        "plug left diameter": over(lambda g, n: g - (n - line) / 20, g=gauge, n=length),
        "plug right diameter": over(lambda g: g + line / 20, g=gauge),
        "plug angle to axis": exact(degrees(atan(1 / 40))),
        "plug included angle": exact(2 * degrees(atan(1 / 40))),
        "plug apex to plug right": over(lambda g: 20 * g + line, g=gauge),
        "plug diameter at left end + 1 in": over(lambda g, n: g - (n - line - INCH) / 20, g=gauge, n=length),
        "handle length": over(lambda a, n, k: a - n - k, a=all_over, n=length, k=neck),
    }


def crank_handle() -> dict[str, Size]:
    big, small, apart = pm(0.875, 0.004, INCH), pm(0.5, 0.004, INCH), pm(2.75, 0.004, INCH)
    at_big, at_small, flat = pm(15 / 32, 0.004, INCH), pm(5 / 16, 0.004, INCH), pm(0.375, 0.004, INCH)

    def meets(ball: float, here: float, there: float, c: float) -> float:
        # From the ball's centre toward the other one: R² - x² = (here/2 + k·x)², the root ahead of the centre.
        r, k = here / 2, (there - here) / (2 * c)
        return (-r * k + sqrt(ball**2 / 4 * (1 + k * k) - r * r)) / (1 + k * k)

    def at(x: float, here: float, there: float, c: float) -> float:
        return here + (there - here) * x / c

    return {
        "overall length": over(lambda b, f, c, s: sag(b / 2, f) + c + s / 2, b=big, f=flat, c=apart, s=small),
        "big centre to shank left": over(meets, ball=big, here=at_big, there=at_small, c=apart),
        "shank length": over(
            lambda b, s, h, t, c: c - meets(b, h, t, c) - meets(s, t, h, c),
            b=big, s=small, h=at_big, t=at_small, c=apart,
        ),
        "shank left diameter": over(
            lambda b, h, t, c: at(meets(b, h, t, c), h, t, c), b=big, h=at_big, t=at_small, c=apart
        ),
        "small left diameter": over(
            lambda b, h, t, c: at(meets(b, t, h, c), t, h, c), b=small, h=at_big, t=at_small, c=apart
        ),
        "big left to big centre": over(lambda b, f: sag(b / 2, f), b=big, f=flat),
        "shank angle to axis": over(
            lambda h, t, c: degrees(atan((h - t) / (2 * c))), h=at_big, t=at_small, c=apart
        ),
        "shank taper": over(lambda h, t, c: (h - t) / c, h=at_big, t=at_small, c=apart),
        "eye centre to right end": over(lambda c, s: c + s / 2, c=apart, s=small),
    }  # fmt: skip


def domed_stop() -> dict[str, Size]:
    body, crown, foot, overall = pm(16, 0.05), pm(40, 0.05), pm(1.6, 0.05), pm(30, 0.05)

    def cap(ball: float, d: float) -> float:
        return ball / 2 - sag(ball / 2, d)

    return {
        "crown length": over(cap, ball=crown, d=body),
        "body length": over(lambda b, d, f, a: a - f - cap(b, d), b=crown, d=body, f=foot, a=overall),
        "foot diameter": over(lambda d, f: (d * d / 4 + f * f) / f, d=body, f=foot),
        "foot centre to right end": over(lambda d, f: (d * d / 4 + f * f) / (2 * f), d=body, f=foot),
        "crown centre to foot centre": over(
            lambda c, d, f, a: abs(a - (d * d / 4 + f * f) / (2 * f) - c / 2), c=crown, d=body, f=foot, a=overall
        ),
    }


def swan_neck_knob() -> dict[str, Size]:
    grip, neck, base, length = pm(25, 0.05), pm(8, 0.05), pm(12, 0.05), pm(10, 0.05)

    def apart(g: float, n: float, b: float) -> float:
        return sqrt((g / 2 + n) ** 2 - (b / 2 + n) ** 2)

    def share(g: float, n: float) -> float:
        return g / 2 / (g / 2 + n)

    return {
        "overall length": over(lambda g, n, b, k: g / 2 + apart(g, n, b) + k, g=grip, n=neck, b=base, k=length),
        "grip centre to neck right": over(apart, g=grip, n=neck, b=base),
        "grip centre to neck left": over(lambda g, n, b: apart(g, n, b) * share(g, n), g=grip, n=neck, b=base),
        "neck left diameter": over(lambda g, n, b: (b + 2 * n) * share(g, n), g=grip, n=neck, b=base),
        "neck length": over(lambda g, n, b: apart(g, n, b) * (1 - share(g, n)), g=grip, n=neck, b=base),
    }


def idle_jet() -> dict[str, Size]:
    overall, head, seat = pm(16, 0.05), pm(4, 0.05), pm(3, 0.05)
    recess, feed, depth = pm(1.5, 0.05), pm(2.5, 0.05), pm(11, 0.05)
    half, point = radians(30), radians(59)
    return {
        "seat left diameter": exact(5),
        "seat length": over(lambda s: (5 - s) / 2 / tan(half), s=seat),
        "body length": over(lambda a, h, s: a - h - (5 - s) / 2 / tan(half), a=overall, h=head, s=seat),
        "feed length": over(lambda d, r: d - r, d=depth, r=recess),
        "feed bottom to feed point": over(lambda f: f / 2 / tan(point), f=feed),
        "feed point to right end": over(lambda a, d, f: a - d - f / 2 / tan(point), a=overall, d=depth, f=feed),
        "seat apex to right end": over(lambda s: s / 2 / tan(half), s=seat),
    }


def stepped_bush() -> dict[str, Size]:
    overall, flange, barrel = pm(1.125, 0.005, INCH), pm(3 / 16, 0.002, INCH), lim(0.8755, 0, 0.0005, INCH)
    lead, way, mouth = pm(1 / 32, 0.005, INCH), lim(16, 0, 0.018), pm(18, 0.127)
    well, depth, third = pm(0.75, 0.005, INCH), pm(0.25, 0.005, INCH), tan(radians(30))
    return {
        "lead right diameter": over(lambda b, c: b - 2 * c * third, b=barrel, c=lead),
        "barrel length": over(lambda a, f, c: a - f - c, a=overall, f=flange, c=lead),
        "mouth-relief depth": over(lambda m, w: (m - w) / 2, m=mouth, w=way),
        "way length": over(lambda a, d, m, w: a - d - (m - w) / 2, a=overall, d=depth, m=mouth, w=way),
        "flange right to well bottom": over(lambda a, f, d: a - d - f, a=overall, f=flange, d=depth),
        "well radius": over(lambda d: d / 2, d=well),
    }


def tommy_bar() -> dict[str, Size]:
    ball, rod = pm(7 / 16, 0.003, INCH), lim(7 / 32 * INCH - 0.1, -0.0762, 0.0762)
    apart = lim(3.5 * INCH + 5, -0.0762, 0.0762)
    return {
        "far-ball diameter": over(lambda b: b, b=ball),
        "near-ball left diameter": over(lambda b: b / 2 + 0.5, b=ball),
        "near-ball left to near-ball centre": over(lambda b: sag(b / 2, b / 2 + 0.5), b=ball),
        "overall length": over(lambda b, c: c + 2 * sag(b / 2, b / 2 + 0.5), b=ball, c=apart),
        "rod length": over(lambda b, d, c: c - 2 * sag(b / 2, d), b=ball, d=rod, c=apart),
        "left end to far-ball left": over(
            lambda b, d, c: c + sag(b / 2, b / 2 + 0.5) - sag(b / 2, d), b=ball, d=rod, c=apart
        ),
    }


def clamp_collar() -> dict[str, Size]:
    overall, rim, circle, grub = pm(22, 0.2), pm(8, 0.2), pm(44, 0.1), pm(7, 0.2)
    return {
        "boss length": over(lambda a, r: a - r, a=overall, r=rim),
        "ring pitch": over(lambda c: c * sin(radians(30)), c=circle),
        "grub centre to rim left": over(lambda a, r, g: a - r - g, a=overall, r=rim, g=grub),
        "eye length": over(lambda a: a, a=overall),
        "ring pitch circle diameter": over(lambda c: c, c=circle),
    }


def crank_pin() -> dict[str, Size]:
    edge, root, head, journal = pm(1.5, 0.1), pm(1, 0.1), pm(20, 0.1), lim(12, -0.034, -0.016)
    face, bearing, overall, width = pm(5, 0.1), lim(18, 0, 0.05), pm(35, 0.1), pm(2, 0.1)
    return {
        "edge left diameter": over(lambda h, e: h - 2 * e, h=head, e=edge),
        "head length": over(lambda f, e: f - e, f=face, e=edge),
        "root left diameter": over(lambda j, r: j + 2 * r, j=journal, r=root),
        "journal length": over(lambda b, r: b - r, b=bearing, r=root),
        "tail length": over(lambda a, f, b: a - f - b, a=overall, f=face, b=bearing),
        "undercut depth": over(lambda u: (8 - u) / 2, u=pm(6.2, 0.1)),
        "undercut right to right end": over(
            lambda a, f, b, w: a - f - b - w, a=overall, f=face, b=bearing, w=width
        ),
        "journal diameter": over(lambda j: j, j=journal),
    }  # fmt: skip


FORMS = {
    "01-idler-spindle": idler_spindle, "02-taper-plug": taper_plug, "03-crank-handle": crank_handle,
    "04-domed-stop": domed_stop, "05-swan-neck-knob": swan_neck_knob, "06-idle-jet": idle_jet,
    "07-inch-bush": stepped_bush, "08-tommy-bar": tommy_bar, "09-clamp-collar": clamp_collar,
    "10-crank-pin": crank_pin,
}  # fmt: skip
