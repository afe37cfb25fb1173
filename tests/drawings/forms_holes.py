"""Closed forms of the drawings 41 to 46, written from the drawings by hand."""

from __future__ import annotations

from math import radians, sqrt, tan

from tests.drawings.forms_spindles import sag
from tests.drawings.limits_by_corners import INCH, Size, exact, lim, over, pm


def ball_stanchion() -> dict[str, Size]:
    t, k = 0.05, tan(radians(2))
    foot, step, sweep, post = pm(24, t), pm(6, t), pm(3, t), pm(9, t)
    at, ball, apart, finial = pm(45, t), pm(16, 0.02), pm(30, t), pm(11, t)
    waist, land = pm(8, t), pm(9, t)
    neck = {"b": ball, "c": apart, "w": waist}

    def there(b: float, c: float, w: float) -> float:
        # The neck's radius carried on to the finial's centre.
        return w / 2 - (c - sag(b / 2, w)) * k

    def back(b: float, c: float, w: float, f: float) -> float:
        # From the finial's centre back to where the neck runs into it.
        a = there(b, c, w)
        return (-a * k + sqrt(f * f / 4 * (1 + k * k) - a * a)) / (1 + k * k)

    return {
        "overall length": over(lambda z, c, f: z + c + f / 2, z=at, c=apart, f=finial),
        "post length": over(
            lambda z, s, r, b, p: z - s - r - sag(b / 2, p), z=at, s=step, r=sweep, b=ball, p=post
        ),
        "sweep left diameter": over(lambda p, r: p + 2 * r, p=post, r=sweep),
        "middle-ball length": over(lambda b, p, w: sag(b / 2, p) + sag(b / 2, w), b=ball, p=post, w=waist),
        "neck right diameter": over(
            lambda b, c, w, f: 2 * (there(b, c, w) + k * back(b, c, w, f)), f=finial, **neck
        ),
        "neck length": over(lambda b, c, w, f: c - sag(b / 2, w) - back(b, c, w, f), f=finial, **neck),
        "neck diameter at finial centre": over(lambda b, c, w: 2 * there(b, c, w), **neck),
        "neck apex to finial centre": over(lambda b, c, w: there(b, c, w) / k, **neck),
        "land width": over(lambda d, h: 2 * sqrt(d * d / 4 - h * h), d=foot, h=land),
        "rail centre to right end": over(lambda c, f: c + f / 2, c=apart, f=finial),
    }  # fmt: skip


def nearly_a_cylinder() -> dict[str, Size]:
    bead, neck, overall = pm(20, 0.05), pm(19.8, 0.05), pm(50, 0.1)
    return {
        "bead centre to neck left": over(lambda b, n: sag(b / 2, n), b=bead, n=neck),
        "neck length": over(lambda a, b, n: a - b / 2 - sag(b / 2, n), a=overall, b=bead, n=neck),
        "bead length": over(lambda b, n: b / 2 + sag(b / 2, n), b=bead, n=neck),
        "bead centre to right end": over(lambda a, b: a - b / 2, a=overall, b=bead),
    }


def taper_socket() -> dict[str, Size]:
    t, third = 0.1, tan(radians(30))
    overall, gauge, seat, way = pm(80, t), pm(24, 0.01), pm(50, t), pm(12, t)
    wide, deep, off, bore = pm(3, t), pm(1.5, t), pm(0.5, t), pm(20, t)
    drawbar, lead = pm(10.5, t), pm(14, t)
    return {
        "seat left diameter": over(lambda g: g + 3 / 20, g=gauge),
        "seat right diameter": over(lambda g, s: g - (s - 3) / 20, g=gauge, s=seat),
        "relief diameter": over(lambda b, d: b + 2 * d, b=bore, d=deep),
        "left end to relief left": over(lambda s, w, o, b: s + w - o - b, s=seat, w=way, o=off, b=wide),
        "lead depth": over(lambda m, d: (m - d) / 2 / third, m=lead, d=drawbar),
        "drawbar length": over(
            lambda a, s, w, m, d: a - s - w - (m - d) / 2 / third, a=overall, s=seat, w=way, m=lead, d=drawbar
        ),
        "lead left diameter": over(lambda d: d, d=drawbar),
        "corner right diameter": over(lambda b, c: b - 2 * c * third, b=pm(38, t), c=pm(2, t)),
        "seat taper": exact(0.05),
    }


def stacked_column() -> dict[str, Size]:
    t = 0.002
    whole, foot = pm(4.0625, 0.003, INCH), pm(0.375, t, INCH)
    crown, flat = pm(0.875, t, INCH), pm(0.625, t, INCH)
    eye, top = lim(12.7, 0, 0.027), lim(10, 0, 0.015)

    def height(c: float, f: float) -> float:
        return c / 2 + sag(c / 2, f)

    return {
        "wall length of sleeve": over(
            lambda a, n, c, f: a - n - height(c, f), a=whole, n=foot, c=crown, f=flat
        ),
        "foot left of base to wall right of sleeve": over(
            lambda a, c, f: a - height(c, f), a=whole, c=crown, f=flat
        ),
        "spigot right of base to eye bottom of sleeve": over(
            lambda e, s: e - s, e=pm(9 / 32, t, INCH), s=pm(0.25, t, INCH)
        ),
        "top-eye bottom of sleeve to stem left of cap": over(
            lambda e, s: e - s, e=pm(0.5, t, INCH), s=pm(7 / 16, t, INCH)
        ),
        "eye diameter of sleeve": eye,
        "spigot diameter of base": over(lambda e, g: e - g, e=eye, g=pm(0.001, 0.0005, INCH)),
        "stem diameter of cap": over(lambda e, g: e - g, e=top, g=pm(0.01, 0.005)),
        "crown centre to crown right of cap": over(lambda c: c / 2, c=crown),
    }  # fmt: skip


def plumb_bob() -> dict[str, Size]:
    t, slow, quick = 0.01, tan(radians(15)), tan(radians(20))
    boss, line, tip, reach = pm(0.25, t, INCH), pm(0.7, t, INCH), pm(1 / 16, t, INCH), pm(2, t, INCH)
    half = INCH / 2

    def joint(e: float, r: float) -> float:
        return e + 2 * r * quick

    def upper(d: float, e: float, r: float) -> float:
        return half + (joint(e, r) - d) / 2 / slow

    cones = {"d": line, "e": tip, "r": reach}
    return {
        "overall length": over(lambda b, d, e, r: b + upper(d, e, r) + r, b=boss, **cones),
        "upper length": over(upper, **cones),
        "upper right diameter": over(joint, e=tip, r=reach),
        "upper apex to left end": over(lambda b, d: abs(b + half - d / 2 / slow), b=boss, d=line),
        "upper apex to lower apex": over(
            lambda d, e, r: upper(d, e, r) - half + d / 2 / slow + r + e / 2 / quick, **cones
        ),
        "lower apex to right end": over(lambda e: e / 2 / quick, e=tip),
        "upper left diameter": over(lambda d: d - 2 * half * slow, d=line),
    }  # fmt: skip


def valve_spindle() -> dict[str, Size]:
    t = 0.1
    stem, nose, collar, across = pm(10, t), pm(2, t), pm(20, t), pm(17, t)
    overall, drive, ring, floor = pm(75, t), pm(12, t), pm(8, t), pm(2, t)
    return {
        "key from axis": over(lambda k: k / 2, k=pm(7.5, t)),
        "spanner width": over(lambda c, a: sqrt(c * c - a * a), c=collar, a=across),
        "spanner depth": over(lambda c, a: (c - a) / 2, c=collar, a=across),
        "nose right diameter": over(lambda s, n: s - 2 * n, s=stem, n=nose),
        "driver depth": over(lambda s, f: s / 2 - f, s=stem, f=floor),
        "driver centre to right end": over(lambda e, n: e + n / 2, e=pm(6, t), n=pm(9, t)),
        "stem length": over(lambda a, d, r, n: a - d - r - n, a=overall, d=drive, r=ring, n=nose),
        "screw left to nose left": over(lambda e, s, n: e + s - n, e=pm(10, t), s=pm(20, t), n=nose),
        "grip length": over(lambda r: r, r=ring),
    }


FORMS = {
    "41-ball-in-the-middle": ball_stanchion, "42-near-tangent": nearly_a_cylinder,
    "43-taper-socket": taper_socket, "44-three-deep": stacked_column,
    "45-meeting-lines": plumb_bob, "46-squared-spindle": valve_spindle,
}  # fmt: skip
