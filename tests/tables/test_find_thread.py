"""Designations of every spelling; sizes against the forms' closed relations in exact or high-precision arithmetic."""

from __future__ import annotations

import mpmath
import pytest

from handwheel.tables.threads import find_thread


@pytest.mark.parametrize(
    ("spelling", "series", "major_mm", "pitch_mm"),
    [
        ("M6", "ISO metric coarse", 6.0, 1.0),
        ("M8 x 1", "ISO metric fine", 8.0, 1.0),
        ("M8x1", "ISO metric fine", 8.0, 1.0),
        ("M8 × 1", "ISO metric fine", 8.0, 1.0),
        ("M8 x 1.25", "ISO metric coarse", 8.0, 1.25),
        ("1/4-20 UNC", "UNC", 6.35, 1.27),
        ("1/4-28 UNF", "UNF", 6.35, 25.4 / 28),
        ("1/4-32 UNEF", "UNEF", 6.35, 25.4 / 32),
        ("No. 8-32 UNC", "UNC", 0.164 * 25.4, 25.4 / 32),
        ("8-32 UNC", "UNC", 0.164 * 25.4, 25.4 / 32),
        ("1-8 UNC", "UNC", 25.4, 25.4 / 8),
        ("1 1/8-7 UNC", "UNC", 1.125 * 25.4, 25.4 / 7),
        ("2 BA", "BA", 4.7, 0.81),
        ("1/4 BSW", "BSW", 6.35, 1.27),
        ("1/4 BSF", "BSF", 6.35, 25.4 / 26),
        ("1/4 BSP", "BSP", 13.157, 25.4 / 19),
        ("1/4 x 40 ME", "ME", 6.35, 0.635),
        ("1/4 x 26 brass", "brass", 6.35, 25.4 / 26),
        ("0.800 in x 36 tpi 55 deg", "special", 20.32, 25.4 / 36),
        ("20 mm x 1.5 mm 60 deg", "special", 20.0, 1.5),
    ],
)
def test_designations(spelling: str, series: str, major_mm: float, pitch_mm: float) -> None:
    thread = find_thread(spelling)
    assert thread is not None
    assert thread.series == series
    assert thread.major_mm == pytest.approx(major_mm, abs=1e-9)
    assert thread.pitch_mm == pytest.approx(pitch_mm, abs=1e-9)
    assert not thread.is_left_hand
    left = find_thread(spelling + " LH")
    assert left is not None
    assert left.is_left_hand
    assert left.pitch_diameter_mm == thread.pitch_diameter_mm


@pytest.mark.parametrize(
    "spelling",
    ["", "M", "M6 x 7", "M6.3", "M8 x 1.5", "1/4-21 UNC", "99 BA", "1/4 x 41 ME", "1/0 x 40 ME", "11/13 BSW",
     "1/4 x 40", "1/4 UNC", "0.01 in x 10 tpi 55 deg", "M6 RH", "x 36 tpi 55 deg", "1 in x 0 tpi 60 deg"],
)  # fmt: skip
def test_unknown_is_none(spelling: str) -> None:
    assert find_thread(spelling) is None


def test_sixty_degree_form() -> None:
    """ISO 68-1: the triangle's height is P·√3/2, cut off by H/8 at the crest and H/4 at the nut's minor diameter."""
    thread = find_thread("M10")
    assert thread is not None
    height = mpmath.mpf("1.5") * mpmath.sqrt(3) / 2
    nut = float(10 - 2 * (1 - mpmath.mpf(1) / 8 - mpmath.mpf(1) / 4) * height)
    assert thread.minor_internal_mm == pytest.approx(nut)
    assert thread.pitch_diameter_mm == pytest.approx(float(10 - 2 * (mpmath.mpf(1) / 2 - mpmath.mpf(1) / 8) * height))
    # the rounded root lies H/6 inside the triangle's point
    root = float(10 - 2 * (1 - mpmath.mpf(1) / 8 - mpmath.mpf(1) / 6) * height)
    assert thread.minor_external_mm == pytest.approx(root)


def test_whitworth_form() -> None:
    """BS 84: a 55° triangle with a sixth taken off at crest and root, so depth 2/3 · P/2 · cot 27.5°."""
    thread = find_thread("1/2 BSW")
    assert thread is not None
    depth = mpmath.mpf("25.4") / 12 * mpmath.cot(mpmath.radians(27.5)) / 3
    assert thread.minor_internal_mm == pytest.approx(12.7 - 2 * float(depth), abs=2e-6)
    assert thread.pitch_diameter_mm == pytest.approx(12.7 - float(depth), abs=1e-6)


def test_ba_rule() -> None:
    """BS 93, 16 sizes as the standard rounds them: 0.9ⁿ to two places, 6·p^1.2 to two figures."""
    printed = [
        "6.0", "5.3", "4.7", "4.1", "3.6", "3.2", "2.8", "2.5", "2.2",
        "1.9", "1.7", "1.5", "1.3", "1.2", "1.0", "0.90", "0.79",
    ]  # fmt: skip
    pitches = [
        "1.00", "0.90", "0.81", "0.73", "0.66", "0.59", "0.53", "0.48", "0.43",
        "0.39", "0.35", "0.31", "0.28", "0.25", "0.23", "0.21", "0.19",
    ]  # fmt: skip
    for number, (major, pitch) in enumerate(zip(printed, pitches, strict=True)):
        thread = find_thread(f"{number} BA")
        assert thread is not None
        assert (thread.major_mm, thread.pitch_mm) == (float(major), float(pitch))


def test_no_tapping_drill_is_invented() -> None:
    thread = find_thread("1/4 x 40 ME")
    assert thread is not None
    assert thread.tapping_drill_mm is None
