"""Designations of every spelling; sizes against the forms' closed relations in exact or high-precision arithmetic."""

from __future__ import annotations

import mpmath
import pytest

from handwheel.tables.threads import find_thread, is_same_thread, plain_designation


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
        ("1 1/2-8 UN", "UN", 38.1, 25.4 / 8),
        ("No. 8-32 UN", "UN", 0.164 * 25.4, 25.4 / 32),
        ("1/2-18 UNS", "UNS", 12.7, 25.4 / 18),
        ("3-4 UNC", "UNC", 76.2, 6.35),
        ("1 1/16-18 UNEF", "UNEF", 1.0625 * 25.4, 25.4 / 18),
        ("M68", "ISO metric coarse", 68.0, 6.0),
        ("M300 x 4", "ISO metric fine", 300.0, 4.0),
        ("6 BSW", "BSW", 152.4, 10.16),
        ("4 1/4 BSF", "BSF", 107.95, 6.35),
        ("G6", "BSP", 163.83, 25.4 / 11),
        ("25 BA", "BA", 0.25, 0.072),
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
    ("written", "plain", "classes", "length", "left"),
    # as ISO 965-1, ASME B1.1, BS 84, BS 93 and ISO 228-1 write a class behind a designation
    [("M6-6g", "M6", ("6g",), "", False), ("M6 - 5g6g", "M6", ("5g6g",), "", False), ("M8 x 1-6H", "M8 x 1", ("6H",), "", False),
     ("M10-6H/6g", "M10", ("6H", "6g"), "", False), ("M20-7g6g-L", "M20", ("7g6g",), "L", False),
     ("M6-6g-LH", "M6", ("6g",), "", True), ("M6-LH", "M6", (), "", True), ("M8 × 1 - 4H5H LH", "M8 x 1", ("4H5H",), "", True),
     ("1/4-20 UNC-3A", "1/4-20 UNC", ("3A",), "", False), ("No. 8-32 UNC - 2B-LH", "No. 8-32 UNC", ("2B",), "", True),
     ("1/4 BSW close", "1/4 BSW", ("close",), "", False), ("1/4-20 BSW medium class", "1/4-20 BSW", ("medium",), "", False),
     ("2 BA normal", "2 BA", ("normal",), "", False), ("G1/4 A", "G1/4", ("A",), "", False), ("G1/2B", "G1/2", ("B",), "", False),
     ("1/4 BSP B", "1/4 BSP", ("B",), "", False), ("0 BA", "0 BA", (), "", False)],
)  # fmt: skip
def test_classes_behind_a_designation(written: str, plain: str, classes: tuple[str, ...], length: str, left: bool) -> None:
    thread = find_thread(written)
    assert thread is not None
    assert thread.designation == (f"{plain} LH" if left else plain)
    assert (thread.classes, thread.length, thread.is_left_hand) == (classes, length, left)
    assert plain_designation(written) == thread.designation


def test_one_thread_in_many_spellings() -> None:
    assert is_same_thread("M6-6H", "M6 x 1")
    assert is_same_thread("M8x1", "M8 × 1-6g")
    assert is_same_thread("1/4 BSF", "1/4 x 26 brass")  # both 55 degrees, 26 to the inch: the same thread
    assert not is_same_thread("M6", "M6 LH")
    assert not is_same_thread("1/4-20 UNC", "1/4 BSW")  # 60 and 55 degrees
    assert not is_same_thread("M6", "M60")
    assert is_same_thread("of its own", "of its own")
    assert not is_same_thread("of its own", "M6")


@pytest.mark.parametrize(
    "spelling",
    ["", "M", "M6 x 7", "M6.3", "M8 x 1.5", "1/4-21 UNC", "99 BA", "1/4 x 41 ME", "1/0 x 40 ME", "11/13 BSW",
     "26 BA", "3/4-8 UN", "6 1/8-8 UN", "1/3-16 UN", "M6-6", "M6-", "M6-6k", "1/4-20 UNC-4A", "M6 - - 6g", "1/4 x 40", "1/4 UNC",
     "0.01 in x 10 tpi 55 deg", "M6 RH", "x 36 tpi 55 deg", "1 in x 0 tpi 60 deg"],
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
