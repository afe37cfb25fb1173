"""Limits of Whitworth form threads by the formulae of BS 84, annex B, written out here again in inches.

The formulae were found in a public repository's notes on the standard and on a handbook's table; no printed table of limits was
found. That medium and free screws to 3/4 in have an allowance is found; that it is 0.3 T, and under 1/4 in that of 1/4 in, is
memory. A public note on the standard says that its effective diameters agree with the formula rounded to 0.0001 in at every row,
and four of its major diameters by 0.0001 in not.
"""

from __future__ import annotations

from fractions import Fraction
from math import sqrt

import pytest

from handwheel.tables.threadlimits import class_of, thread_limits, usual_class
from handwheel.tables.threads import find_thread

SHARES = {"close": 2 / 3, "medium": 1.0, "free": 1.5}
NUTS = {"close nut": 2 / 3, "medium nut": 1.0, "normal": 1.5}
NAMES = [("1/8 BSW", "1/8", 40), ("3/16 BSW", "3/16", 24), ("1/4 BSW", "1/4", 20), ("1/4 BSF", "1/4", 26), ("1/2 BSW", "1/2", 12),
         ("3/4 BSF", "3/4", 12), ("1 BSW", "1", 8), ("2 BSW", "2", 4.5), ("4 1/4 BSF", "4.25", 4), ("6 BSW", "6", 2.5),
         ("3/8 x 32 ME", "3/8", 32), ("1/2 x 26 brass", "1/2", 26)]  # fmt: skip


def t_inches(d: float, tpi: float) -> float:
    return float(0.002 * d ** (1 / 3) + 0.003 * sqrt(d) + 0.005 / sqrt(tpi))


@pytest.mark.parametrize(("name", "size", "tpi"), NAMES, ids=lambda v: str(v))
@pytest.mark.parametrize("cls", [*SHARES, *NUTS])
def test_by_the_formula(name: str, size: str, tpi: float, cls: str) -> None:
    d, thread = float(Fraction(size)), find_thread(name)
    assert thread is not None
    limits = thread_limits(thread, cls)
    assert limits is not None
    effective = d - 0.640327 / tpi
    share = SHARES.get(cls) or NUTS[cls]
    width = limits.effective_high_mm - limits.effective_low_mm
    assert width / 25.4 == pytest.approx(share * t_inches(d, tpi), abs=0.5001e-4)
    if cls in NUTS:
        assert limits.effective_low_mm / 25.4 == pytest.approx(effective, abs=1.01e-4)
        assert limits.minor_low_mm is not None
        assert limits.minor_high_mm is not None
        constant = 0.004 if tpi >= 26 else 0.005 if tpi in (22, 24) else 0.007
        assert (limits.minor_high_mm - limits.minor_low_mm) / 25.4 == pytest.approx(0.2 / tpi + constant, abs=0.5001e-4)
        return
    least = {"BSW": (0.25, 20), "BSF": (0.25, 26)}.get(name.split()[-1], (d, tpi))
    allowance = 0.0 if cls == "close" or d > 0.75 else 0.3 * t_inches(*(least if d < 0.25 else (d, tpi)))
    assert limits.effective_high_mm / 25.4 == pytest.approx(effective - allowance, abs=1.51e-4)
    assert limits.major_high_mm is not None
    assert limits.major_low_mm is not None
    assert limits.major_high_mm / 25.4 == pytest.approx(d - allowance, abs=0.5001e-4)
    crest = (limits.major_high_mm - limits.major_low_mm) / 25.4
    assert crest == pytest.approx(share * t_inches(d, tpi) + 0.01 / sqrt(tpi), abs=0.5001e-4)


def test_one_sum_by_hand() -> None:
    """1/4 BSW: T = 0.00126 + 0.00150 + 0.00112 = 0.0039; allowance 0.0012; major 0.0039 and 0.0022 below; effective 0.2180."""
    thread = find_thread("1/4 BSW")
    assert thread is not None
    limits = thread_limits(thread, "medium")
    assert limits is not None
    inches = [limits.major_high_mm, limits.major_low_mm, limits.effective_high_mm, limits.effective_low_mm]
    assert [round(size / 25.4, 4) for size in inches if size is not None] == [0.2488, 0.2427, 0.2168, 0.2129]


def test_class_drawn_and_usual() -> None:
    for text, of_screw, of_nut in (("1/4 BSW", "medium", "normal nut"), ("1/4 BSW close", "close", "close nut"),
                                   ("1/4 BSF free", "free", "normal nut"), ("1/4 BSW normal", "medium", "normal nut")):
        thread = find_thread(text)
        assert thread is not None
        assert (class_of(thread, is_nut=False), class_of(thread, is_nut=True)) == (of_screw, of_nut)
    plain = find_thread("1/4 x 40 ME")
    assert plain is not None
    assert usual_class(plain, is_nut=False) == "medium"
