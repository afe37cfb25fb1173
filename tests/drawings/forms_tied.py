"""Closed forms of the drawings 55 and 56: flush and tied features, and holes of all kinds."""

from __future__ import annotations

from math import atan, degrees, hypot, radians, sin, sqrt, tan

from tests.drawings.limits_by_corners import INCH, Size, exact, lim, over, pm

GENERAL = 0.005 * INCH


def _waist_centre(b: float, q: float, d: float, n: float) -> tuple[float, float]:
    """Where the hollow's centre lies from the ball's: b/2 + q from it, and q from the far corner (n, d/2)."""
    far = hypot(n, d / 2)
    along = ((b / 2 + q) ** 2 - q * q + far * far) / (2 * far)
    up = sqrt((b / 2 + q) ** 2 - along * along)
    return (along * n - up * d / 2) / far, (along * d / 2 + up * n) / far


def handle() -> dict[str, Size]:
    knob, hollow, land, far = pm(1, 0.002, INCH), pm(12.7, GENERAL), pm(12.7, GENERAL), pm(22.86, GENERAL)
    strip = pm(3 / 8 * INCH - 0.5 + 0.254, GENERAL)
    slope, grip, chamfer = pm(1.5, 0.005, INCH), lim(0.875, 0, 0.0005, INCH), pm(1, GENERAL)
    waist = {"b": knob, "q": hollow, "d": land, "n": far}

    def angle(d: float, g: float, n: float) -> float:
        return 2 * degrees(atan((g - d) / 2 / n))

    return {
        "knob right diameter of handle": over(
            lambda b, q, d, n: 2 * _waist_centre(b, q, d, n)[1] * (b / 2) / (b / 2 + q), **waist
        ),
        "knob centre to waist centre of handle": over(lambda b, q, d, n: _waist_centre(b, q, d, n)[0], **waist),
        "waist length of handle": over(
            lambda b, q, d, n: n - _waist_centre(b, q, d, n)[0] * (b / 2) / (b / 2 + q), **waist
        ),
        "slope included angle of handle": over(angle, d=land, g=grip, n=slope),
        "grip diameter of handle": grip,
        "break right diameter of handle": over(lambda g, c: g - 2 * c * tan(radians(60)), g=grip, c=chamfer),
        "spigot length of handle": over(lambda s: 2 * s + INCH / 16, s=strip),
        "spigot diameter of handle": pm(9 / 16 * INCH, 0.01),
        "overall length of handle": over(
            lambda b, n, s, w, g, c: b / 2 + n + 3 * s + INCH / 16 + w + g + c,
            b=knob, n=far, s=strip, w=slope, g=pm(12.7, GENERAL), c=chamfer,
        ),
    }  # fmt: skip


def flush_and_tied() -> dict[str, Size]:
    grip, far = lim(0.875, 0, 0.0005, INCH), pm(22.86, GENERAL)
    wide, lean, ball, apart = pm(12.7, GENERAL), pm(10, 0.5), pm(0.375, 0.005, INCH), pm(25.4, 0.25)
    lead = {"w": wide, "t": lean, "b": ball, "c": apart}

    def back(w: float, t: float, b: float, c: float) -> float:
        # From the ball's centre back to where the cone runs into it.
        k = tan(radians(t))
        a = w / 2 - c * k
        return (-a * k + sqrt(b * b / 4 * (1 + k * k) - a * a)) / (1 + k * k)

    return {
        **handle(),
        "body length of mate": far,
        "body diameter of mate": over(lambda g: g / 2 + INCH / 4 - 0.5, g=grip),
        "lead length of mate": over(lambda w, t, b, c: c - back(w, t, b, c), **lead),
        "lead right diameter of mate": over(
            lambda w, t, b, c: w - 2 * (c - back(w, t, b, c)) * tan(radians(t)), **lead
        ),
        "tip length of mate": over(lambda w, t, b, c: back(w, t, b, c) + b / 2, **lead),
        "lead included angle of mate": over(lambda t: 2 * t, t=lean),
    }


def holes_of_all_kinds() -> dict[str, Size]:
    t, thread = 0.1, 5 / 4 * sqrt(3) / 2
    register, lead, way, deep = pm(4, t), pm(20, t), lim(16, 0, 0.027), pm(40, t)
    overall, entry, tapped, flange = pm(90, t), pm(20, t), pm(52, t), pm(10, t)
    point = (6 - thread) / 2 / tan(radians(60))
    return {
        "lead length": over(lambda m, w: (m - w) / 2, m=lead, w=way),
        "way length": over(lambda d, r, m, w: d - r - (m - w) / 2, d=deep, r=register, m=lead, w=way),
        "tapped diameter": exact(6 - thread),
        "tapped point to entry bottom": over(lambda a, e, d: a - e - d - point, a=overall, e=entry, d=tapped),
        "ring depth": over(lambda g, w: (g - w) / 2, g=pm(19, t), w=way),
        "left end to ring left": over(lambda d, o, w: d - o - w, d=deep, o=pm(5, t), w=lim(2.5, 0, 0.1)),
        "studs pitch circle diameter": over(lambda p: p / sin(radians(22.5)), p=pm(21, 0.05)),
        "studs diameter": exact(4 - 0.7 * thread),
        "oil centre to flange right": over(lambda d, f: d - 6 - f, d=deep, f=flange),
        "key depth": over(lambda b, h: b / 2 - h, b=pm(36, t), h=pm(14.5, t)),
        "cap left to entry bottom": over(lambda e, c: e - c, e=entry, c=pm(9, t)),
        "key left to right end": over(lambda c, n: c + n / 2, c=pm(25, t), n=pm(20, t)),
    }


FORMS = {"55-flush-and-tied": flush_and_tied, "56-holes-of-all-kinds": holes_of_all_kinds}
