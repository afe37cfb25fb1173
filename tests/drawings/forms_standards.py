"""Closed forms of the drawings 47 to 54: limits out of the standards' rows, threads, tangents and tied angles."""

from __future__ import annotations

from math import atan, cos, degrees, hypot, radians, sin, sqrt, tan

from tests.drawings.forms_spindles import sag
from tests.drawings.limits_by_corners import INCH, Size, exact, lim, over, pm


def shaft_of_fits() -> dict[str, Size]:
    # ISO 286-2, the rows of these sizes, in thousandths of a millimetre.
    rows = {
        "a diameter of shaft": (8, -14, -5), "b diameter of shaft": (12, -59, -32),
        "c diameter of shaft": (20, -117, -65), "d diameter of shaft": (22, 2, 15),
        "e diameter of shaft": (24, 22, 35), "f diameter of shaft": (25, -10.5, 10.5),
        "g diameter of shaft": (18, -205, -95), "h diameter of shaft": (12.7, -43, 0),
        "big diameter of bush": (25, -35, -14), "small diameter of bush": (14, -12, 6),
    }  # fmt: skip
    return {phrase: lim(size, low / 1000, high / 1000) for phrase, (size, low, high) in rows.items()}


def general_limits() -> dict[str, Size]:
    # ISO 2768-1, table 1 for lengths and diameters, table 2 for the rounded edge.
    edge, a = pm(1.5, 0.2), pm(6, 0.1)
    slope = tan(radians(15))
    return {
        "edge left diameter of middling": over(lambda d, r: d - 2 * r, d=a, r=edge),
        "a length of middling": over(lambda n, r: n - r, n=pm(3, 0.1), r=edge),
        "b diameter of middling": pm(30, 0.2),
        "c diameter of middling": pm(30.5, 0.3),
        "overall length of middling": pm(244, 0.1 + 0.3 + 0.5),
        "overall length of fine": pm(37, 0.15 + 0.05),
        "a diameter of fine": pm(3, 0.05),
        "overall length of coarse": pm(160, 0.5 + 1.2),
        "a diameter of coarse": pm(3, 0.2),
        "b diameter of coarse": pm(6, 0.3),
        "a diameter of very coarse": pm(6, 0.5),
        "a length of very coarse": pm(120, 2.5 + 1),
        "b right diameter of very coarse": over(lambda d, n: d - 2 * n * slope, d=pm(20, 1), n=pm(30, 1)),
    }


def threads() -> dict[str, Size]:
    # Basic depth a side: 5/8 of the sharp height for 60 degrees, 0.640327 of the pitch for 55.
    metric, english = 5 / 4 * sqrt(3) / 2, 2 * 0.640327
    return {
        "a diameter of stud": exact(4.7),
        "b diameter of stud": exact(0.25, INCH),
        "c diameter of stud": exact(0.375, INCH),
        "d diameter of stud": exact(13.157),
        "e diameter of stud": exact(0.8, INCH),
        "f diameter of stud": exact(0.25, INCH),
        "front diameter of nut": exact(16 - metric),
        "mid diameter of nut": exact(0.375 - english / 20, INCH),
        "back diameter of nut": exact(0.25 - metric / 20, INCH),
        "grub diameter of nut": exact(5 - 0.8 * metric),
        "grub centre to front bottom of nut": pm(0.25, 0.005, INCH),
        "nut-form from axis of nut": pm(7 / 16, 0.0025, INCH),
    }


def bush_both_ends() -> dict[str, Size]:
    t, third, twenty = 0.1, tan(radians(30)), tan(radians(20))
    wall, way, front, back = pm(30, t), lim(10, 0, 0.015), pm(12, t), pm(14, t)
    return {
        "front depth of bush": over(lambda f, w: (f - w) / 2, f=front, w=way),
        "back depth of bush": over(lambda b, w: (b - w) / 2 / third, b=back, w=way),
        "back left diameter of bush": over(lambda w: w, w=way),
        "way length of bush": over(
            lambda n, f, b, w: n - (f - w) / 2 - (b - w) / 2 / third, n=wall, f=front, b=back, w=way
        ),
        "mouth-bore depth of funnel": over(lambda r, s: (r - s) / 2 / twenty, r=pm(20, t), s=pm(8, t)),
        "way length of funnel": over(
            lambda n, r, s: n - (r - s) / 2 / twenty, n=pm(40, t), r=pm(20, t), s=pm(8, t)
        ),
        "mouth-bore apex to left end of funnel": over(lambda n, r: n - r / 2 / twenty, n=pm(40, t), r=pm(20, t)),
    }  # fmt: skip


def dumb_bell() -> dict[str, Size]:
    t = 0.05
    big, small, neck, apart = pm(24, t), pm(16, t), pm(30, t), pm(36, t)
    both = {"b": big, "s": small, "q": neck, "c": apart}

    def foot(b: float, s: float, q: float, c: float) -> float:
        # The triangle of the three centres: along the axis from the big one to below the hollow's.
        return ((b / 2 + q) ** 2 - (s / 2 + q) ** 2 + c * c) / (2 * c)

    def height(b: float, s: float, q: float, c: float) -> float:
        return sqrt((b / 2 + q) ** 2 - foot(b, s, q, c) ** 2)

    return {
        "overall length": over(lambda b, f, c, s: sag(b / 2, f) + c + s / 2, b=big, f=pm(10, t), c=apart, s=small),
        "neck left diameter": over(lambda b, s, q, c: 2 * height(b, s, q, c) * (b / 2) / (b / 2 + q), **both),
        "neck right diameter": over(lambda b, s, q, c: 2 * height(b, s, q, c) * (s / 2) / (s / 2 + q), **both),
        "neck diameter at neck centre": over(lambda b, s, q, c: 2 * (height(b, s, q, c) - q), **both),
        "big centre to neck left": over(lambda b, s, q, c: foot(b, s, q, c) * (b / 2) / (b / 2 + q), **both),
        "big centre to neck centre": over(foot, **both),
        "neck length": over(
            lambda b, s, q, c: foot(b, s, q, c) * q / (b / 2 + q) + (c - foot(b, s, q, c)) * q / (s / 2 + q), **both
        ),
    }


def smooth_handle() -> dict[str, Size]:
    t, lean = 0.05, radians(6)
    hub, end, land = pm(30, t), pm(14, t), pm(8, t)
    rim, bead, top = pm(40.5, t), pm(5, t), pm(50, t)

    def run(d: float, q: float, b: float) -> float:
        return sqrt(q * q - (d / 2 - (b / 2 - q)) ** 2)

    disc, left, right = pm(30, t), pm(26, t), pm(18, t)
    return {
        "hub right diameter of handle": over(lambda h: h * cos(lean), h=hub),
        "shank length of handle": over(lambda h, d: (h * cos(lean) - d) / 2 / tan(lean), h=hub, d=end),
        "overall length of handle": over(
            lambda h, d, n: h / 2 + h / 2 * sin(lean) + (h * cos(lean) - d) / 2 / tan(lean) + n, h=hub, d=end, n=land
        ),
        "hub centre to shank apex of handle": over(lambda h: h / 2 / sin(lean), h=hub),
        "shank diameter at hub centre of handle": over(lambda h: h / cos(lean), h=hub),
        "bead length of wheel": over(lambda d, q, b: 2 * run(d, q, b), d=rim, q=bead, b=top),
        "bead centre to bead right of wheel": over(run, d=rim, q=bead, b=top),
        "disc length of wheel": over(lambda d, a, b: sag(d / 2, a) + sag(d / 2, b), d=disc, a=left, b=right),
        "overall length of wheel": over(
            lambda n, f, c, q, b, d, e, g: n + f + 2 * run(c, q, b) + sag(d / 2, e) + sag(d / 2, g),
            n=pm(6, t), f=pm(7, t), c=rim, q=bead, b=top, d=disc, e=left, g=right,
        ),
    }  # fmt: skip


def taper_cock() -> dict[str, Size]:
    t, half = 0.02, atan(1 / 12)
    seat, length, tip, wall = pm(14, t), pm(24, t), pm(4, t), pm(26, t)

    def nose(d: float, n: float, e: float) -> float:
        return (d - n / 6 - e) / 2 / tan(4 * half)

    return {
        "seat included angle of plug": exact(2 * degrees(half)),
        "nose angle to axis of plug": exact(4 * degrees(half)),
        "seat right diameter of plug": over(lambda d, n: d - n / 6, d=seat, n=length),
        "nose length of plug": over(nose, d=seat, n=length, e=tip),
        "overall length of plug": over(lambda a, d, n, e: a + n + nose(d, n, e), a=pm(20, t), d=seat, n=length, e=tip),
        "way left diameter of body": over(lambda d: d - 0.4, d=seat),
        "way right diameter of body": over(lambda d, w: d - 0.4 - w / 6, d=seat, w=wall),
        "seat right of plug to wall right of body": over(lambda w, n: w - n, w=wall, n=length),
    }


def acorn() -> dict[str, Size]:
    t = 0.002
    body, cap, overall = pm(0.625, t, INCH), pm(1.5, t, INCH), pm(1.25, t, INCH)
    mouth, dish, deep = pm(0.375, t, INCH), pm(0.75, t, INCH), pm(0.3125, t, INCH)

    def centre(a: float, b: float, q: float, n: float) -> tuple[float, float]:
        # Above the middle of the chord from (0, a/2) to (n, b/2), on the side away from the axis.
        rise = (b - a) / 2
        chord = hypot(n, rise)
        out = sqrt(q * q - chord * chord / 4)
        return n / 2 - out * rise / chord, (a + b) / 4 + out * n / chord

    arc = {"a": mouth, "b": body, "q": dish, "n": deep}
    return {
        "cap length of acorn": over(lambda c, b: c / 2 - sag(c / 2, b), c=cap, b=body),
        "body length of acorn": over(
            lambda w, n, c, b: w - n - c / 2 + sag(c / 2, b), w=overall, n=deep, c=cap, b=body
        ),
        "left end to dish centre of acorn": over(lambda a, b, q, n: abs(centre(a, b, q, n)[0]), **arc),
        "dish diameter at left end + 0.2 in of acorn": over(
            lambda a, b, q, n: 2 * (centre(a, b, q, n)[1] - sqrt(q * q - (0.2 * INCH - centre(a, b, q, n)[0]) ** 2)),
            **arc,
        ),
        "nose diameter of bullet": pm(10, t * INCH),
        "body length of bullet": over(lambda w, d: w - d / 2, w=pm(32, t * INCH), d=pm(10, t * INCH)),
    }  # fmt: skip


FORMS = {
    "47-shaft-of-fits": shaft_of_fits, "48-general-limits": general_limits, "49-threads": threads,
    "50-bush-both-ends": bush_both_ends, "51-two-balls-and-a-hollow": dumb_bell, "52-tangent-cone": smooth_handle,
    "53-tied-angles": taper_cock, "54-acorn": acorn,
}  # fmt: skip
