"""ISO 286 by the formulae behind its tables, ISO 2768-1 by its printed tables, drills' exactness."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import sqrt

import pytest

from handwheel.tables.drills import drill_diameter_mm
from handwheel.tables.iso286 import deviations_um, fit_of, tolerance_um
from handwheel.tables.iso2768 import deviation_mm

RANGES = [(3, 6), (6, 10), (10, 18), (18, 30), (30, 50), (50, 80), (80, 120), (120, 180), (180, 250), (250, 315),
          (315, 400), (400, 500)]  # fmt: skip


@pytest.mark.parametrize(
    ("grade", "factor"),
    [(6, 10), (7, 16), (8, 25), (9, 40), (10, 64), (11, 100), (12, 160), (13, 250), (14, 400), (15, 640), (16, 1000)],
)
def test_grades_follow_the_tolerance_unit(grade: int, factor: float) -> None:
    """ISO 286-1 (1988) annex A: i = 0.45·∛D + 0.001·D, D the geometric mean of the range; rounded by the standard."""
    for over, up_to in RANGES:
        mean = sqrt(over * up_to)
        unit = 0.45 * mean ** (1 / 3) + 0.001 * mean
        found = tolerance_um(up_to, grade)
        assert found is not None
        assert found == pytest.approx(factor * unit, rel=0.045, abs=0.8)


LARGE = [(500, 630), (630, 800), (800, 1000), (1000, 1250), (1250, 1600), (1600, 2000), (2000, 2500), (2500, 3150)]
# ISO 286-1 (1988) annex A: IT5 to IT11 by their multiple of the tolerance unit, rounded by its table of steps; these
# ranges are printed otherwise, smoothed so that every grade grows evenly (printed value beside each)
FACTORS = {5: 7, 6: 10, 7: 16, 8: 25, 9: 40, 10: 64, 11: 100}
SMOOTHED = {
    (5, 630): 32, (5, 800): 36, (5, 1250): 47, (5, 1600): 55, (5, 2000): 65, (5, 3150): 96,
    (6, 6): 8, (6, 400): 36, (6, 500): 40, (6, 630): 44, (6, 800): 50, (6, 1000): 56,
    (7, 10): 15, (7, 18): 18, (7, 500): 63, (9, 6): 30, (10, 6): 48, (10, 10): 58, (10, 18): 70,
    (11, 6): 75, (11, 50): 160, (11, 80): 190, (11, 400): 360, (11, 500): 400, (11, 630): 440, (11, 800): 500,
}  # fmt: skip


@pytest.mark.parametrize("grade", sorted(FACTORS))
def test_grades_by_the_formula_and_the_standards_rounding(grade: int) -> None:
    """i = 0.45·∛D + 0.001·D to 500 mm, I = 0.004·D + 2.1 above; steps 1 to 60 um, (2 above 500 mm) to 100, 5 to 200,
    10 to 500, 20 to 1000, 50 beyond."""
    for over, up_to in (*RANGES, *LARGE):
        mean = sqrt(over * up_to)
        unit = 0.004 * mean + 2.1 if over >= 500 else 0.45 * mean ** (1 / 3) + 0.001 * mean
        value = FACTORS[grade] * unit
        steps = ((60, 1), (100, 2 if over >= 500 else 1), (200, 5), (500, 10), (1000, 20), (2000, 50))
        step = next(step for top, step in steps if value <= top)
        rounded = step * int(value / step + 0.5)
        printed = SMOOTHED.get((grade, up_to), rounded)
        assert abs(printed - value) <= max(2 * step, 0.04 * value)
        assert tolerance_um(up_to, grade) == printed, (over, up_to)


@pytest.mark.parametrize("grade", range(12, 19))
def test_a_grade_five_further_is_ten_times_as_wide(grade: int) -> None:
    """ISO 286-1 (1988) annex A: from IT6 on every fifth step multiplies by ten; IT12 to IT18 are so made."""
    for _, up_to in ((0, 3), *RANGES, *LARGE):
        finer = tolerance_um(up_to, grade - 5)
        assert finer is not None
        assert tolerance_um(up_to, grade) == 10 * finer


@pytest.mark.parametrize(("grade", "at_nothing", "by_size"), [("01", 0.3, 0.008), (0, 0.5, 0.012), (1, 0.8, 0.02)])
def test_finest_grades(grade: str | int, at_nothing: float, by_size: float) -> None:
    """ISO 286-1 (1988) annex A: IT01, IT0, IT1 in micrometres for D in mm, then rounded to a preferred number."""
    for over, up_to in RANGES:
        found = tolerance_um(up_to, grade)
        assert found is not None
        assert found == pytest.approx(at_nothing + by_size * sqrt(over * up_to), rel=0.29)
    assert tolerance_um(501, "01") is None
    assert tolerance_um(501, 0) is None


def test_finest_grades_above_500_mm() -> None:
    """ISO 286-1 (1988) annex A: IT1 to IT4 are 2, 2.7, 3.7 and 5 times I; rounded to whole micrometres, smoothed."""
    for grade, factor in ((1, 2.0), (2, 2.7), (3, 3.7), (4, 5.0)):
        for over, up_to in LARGE:
            assert tolerance_um(up_to, grade) == pytest.approx(factor * (0.004 * sqrt(over * up_to) + 2.1), abs=1.5)


# ISO 286-1 (1988) annex A, above 500 mm, micrometres for D in mm; s, t and u by IT7 and D
ABOVE_500: dict[str, Callable[[float, float], float]] = {
    "d": lambda d, _: 16 * d**0.44, "e": lambda d, _: 11 * d**0.41, "f": lambda d, _: 5.5 * d**0.41,
    "g": lambda d, _: 2.5 * d**0.34, "h": lambda d, _: 0, "k": lambda d, _: 0, "m": lambda d, _: 0.024 * d + 12.6,
    "n": lambda d, _: 0.04 * d + 21, "p": lambda d, _: 0.072 * d + 37.8, "s": lambda d, it7: it7 + 0.4 * d,
    "r": lambda d, it7: it7 + 0.4 * d, "t": lambda d, it7: it7 + 0.63 * d, "u": lambda d, it7: it7 + d,
}  # fmt: skip
LARGE_STEPS = [(500, 560), (560, 630), (630, 710), (710, 800), (800, 900), (900, 1000), (1000, 1120), (1120, 1250),
               (1250, 1400), (1400, 1600), (1600, 1800), (1800, 2000), (2000, 2240), (2240, 2500), (2500, 2800),
               (2800, 3150)]  # fmt: skip
LARGE_IT7 = dict(zip([up_to for _, up_to in LARGE], [70, 80, 90, 105, 125, 150, 175, 210], strict=True))


@pytest.mark.parametrize("letters", sorted(ABOVE_500))
def test_deviations_above_500_mm(letters: str) -> None:
    """Letters d to p use the range's mean, s to u the step's, r the geometric mean of p and s; printed values lie within
    the standard's rounding of the formula."""
    for over, up_to in LARGE_STEPS:
        whole = next(r for r in LARGE if r[0] < up_to <= r[1])
        mean = sqrt(over * up_to) if letters in "rstu" else sqrt(whole[0] * whole[1])
        found, hole = deviations_um(up_to, f"{letters}6"), deviations_um(up_to, f"{letters.upper()}6")
        assert found is not None
        near = found[0] if letters >= "k" else -found[1]
        wanted = ABOVE_500[letters](mean, LARGE_IT7[whole[1]])
        if letters == "r":
            wanted = sqrt(wanted * ABOVE_500["p"](sqrt(whole[0] * whole[1]), 0.0))
        assert near == pytest.approx(wanted, rel=0.05, abs=1.3), up_to
        # no delta above 500 mm: the hole mirrors the shaft at every grade
        assert hole == (-found[1], -found[0])


@pytest.mark.parametrize("cls", ["a11", "c9", "j7", "J7", "v6", "x6", "zc7", "cd7", "H01", "K9"])
def test_not_given_above_500_mm(cls: str) -> None:
    assert deviations_um(600, cls) is None
    assert (deviations_um(9, cls) is None) == (cls in ("v6", "K9"))


def test_j8_only_to_3_mm_and_the_two_finest_grades() -> None:
    """ISO 286-1 (1988) table 2: j8 -6 up to 3 mm, with IT8 of 14; IT01 and IT0 at 20 mm 0.6 and 1 um."""
    assert deviations_um(2, "j8") == (-6.0, 8.0)
    assert deviations_um(4, "j8") is None
    assert deviations_um(20, "h01") == (-0.6, 0.0)
    assert deviations_um(20, "H0") == (0.0, 1.0)
    assert deviations_um(20, "js18") == (-1650.0, 1650.0)


@pytest.mark.parametrize(("fit", "kind"), [("H7/g6", "clearance"), ("H7/h6", "clearance"), ("H7/k6", "transition"),
                                           ("H7/s6", "interference"), ("P7/h6", "interference")])  # fmt: skip
def test_kinds_of_fit(fit: str, kind: str) -> None:
    found = fit_of(32, fit)
    assert found is not None
    assert found.kind == kind


@pytest.mark.parametrize("fit", ["H7", "g6/H7", "H7/", "/g6", "H7/g", "H7/G6", "H19/g6"])
def test_no_fit(fit: str) -> None:
    assert fit_of(32, fit) is None


STEPS = [(3, 6), (6, 10), (10, 14), (14, 18), (18, 24), (24, 30), (30, 40), (40, 50), (50, 65), (65, 80), (80, 100),
         (100, 120), (120, 140), (140, 160), (160, 180), (180, 200), (200, 225), (225, 250), (250, 280), (280, 315),
         (315, 355), (355, 400), (400, 450), (450, 500)]  # fmt: skip
# IT7 of the step, typed from the printed table so that nothing here leans on our own
IT7 = dict(zip([r[1] for r in RANGES], [12, 15, 18, 21, 25, 30, 35, 40, 46, 52, 57, 63], strict=True))
FORMULAE: dict[str, Callable[[float, float], float]] = {
    "d": lambda d, _: 16 * d**0.44, "e": lambda d, _: 11 * d**0.41, "f": lambda d, _: 5.5 * d**0.41,
    "g": lambda d, _: 2.5 * d**0.34, "n": lambda d, _: 5 * d**0.34, "u": lambda d, it7: it7 + d,
    "v": lambda d, it7: it7 + 1.25 * d, "x": lambda d, it7: it7 + 1.6 * d, "y": lambda d, it7: it7 + 2 * d,
    "z": lambda d, it7: it7 + 2.5 * d, "t": lambda d, it7: it7 + 0.63 * d,
    "za": lambda d, it7: 1.56 * it7 + 3.15 * d, "zb": lambda d, it7: 2.5 * it7 + 4 * d,
    "zc": lambda d, it7: 4 * it7 + 5 * d,
}  # fmt: skip


@pytest.mark.parametrize("letters", sorted(FORMULAE))
def test_deviations_follow_the_formulae(letters: str) -> None:
    """ISO 286-1 (1988) annex A: within the standard's rounding; IT8, IT9, IT10 taken as 25/16, 5/2 and 4 times IT7.

    The letters that do not change inside a range use the range's own mean, the others the step's. t to zc are
    compared above 30 mm: below, the table is eased upward from the formulae.
    """
    tried = 0
    for over, up_to in STEPS if letters in "defgn" else STEPS[6:]:
        whole = next(r for r in RANGES if r[0] < up_to <= r[1])
        mean = sqrt(whole[0] * whole[1]) if letters in "defgn" else sqrt(over * up_to)
        found = deviations_um(up_to, f"{letters}6")
        assert found is not None
        near = found[0] if letters >= "k" else -found[1]
        assert near == pytest.approx(FORMULAE[letters](mean, IT7[whole[1]]), rel=0.05, abs=1.3), up_to
        tried += 1
    assert tried >= 18


@pytest.mark.parametrize("letters", ["k", "m", "n", "p", "r", "s", "u"])
@pytest.mark.parametrize("size", [8, 20, 45, 110, 230, 480])
def test_delta_rule(letters: str, size: int) -> None:
    """What the delta is for: a hole with the next finer shaft gives the fit of H with the same shaft letter."""
    for grade in (6, 7, 8) if letters in "kmn" else (6, 7):
        hole, shaft = deviations_um(size, f"{letters.upper()}{grade}"), deviations_um(size, f"h{grade - 1}")
        base, mate = deviations_um(size, f"H{grade}"), deviations_um(size, f"{letters}{grade - 1}")
        assert hole
        assert shaft
        assert base
        assert mate
        assert hole[0] - shaft[1] == base[0] - mate[1], grade
        assert hole[1] - shaft[0] == base[1] - mate[0], grade


# ISO 286-2, both limits typed from memory of the printed tables (no copy at hand): upper then lower, a range each
J_CLASSES = {
    "j6": "4 -2 6 -2 7 -2 8 -3 9 -4 11 -5 12 -7 13 -9 14 -11 16 -13 16 -16 18 -18 20 -20",
    "j7": "6 -4 8 -4 10 -5 12 -6 13 -8 15 -10 18 -12 20 -15 22 -18 25 -21 26 -26 29 -28 31 -32",
    "J6": "2 -4 5 -3 5 -4 6 -5 8 -5 10 -6 13 -6 16 -6 18 -7 22 -7 25 -7 29 -7 33 -7",
    "J7": "4 -6 6 -6 8 -7 10 -8 12 -9 14 -11 18 -12 22 -13 26 -14 30 -16 36 -16 39 -18 43 -20",
    "J8": "6 -8 10 -8 12 -10 15 -12 20 -13 24 -15 28 -18 34 -20 41 -22 47 -25 55 -26 60 -29 66 -31",
}


@pytest.mark.parametrize("cls", sorted(J_CLASSES))
def test_j_classes(cls: str) -> None:
    numbers = [float(word) for word in J_CLASSES[cls].split()]
    for i, size in enumerate([3, *(up_to for _, up_to in RANGES)]):
        assert deviations_um(size, cls) == (numbers[2 * i + 1], numbers[2 * i]), size


@pytest.mark.parametrize(
    "cls", ["j8", "J5", "", "h", "7", "h00", "h02", "h19", "i7", "o6", "hh7", "Hh7", "t6", "K9", "a9", "H7x"]
)
def test_unknown_classes(cls: str) -> None:
    assert deviations_um(1.0 if cls == "a9" else 10.0, cls) is None


def test_m6_exception_and_ends_of_the_range() -> None:
    assert deviations_um(300, "M6") == (-41.0, -9.0)  # ISO 286-1: not -11 + 9 = -2 but -9 over 250 up to 315
    assert deviations_um(0, "h7") is None
    assert deviations_um(500, "h7") == (-63.0, 0.0)
    assert deviations_um(3150, "h7") == (-210.0, 0.0)
    assert deviations_um(3150.1, "h7") is None
    assert deviations_um(3, "h7") == (-10.0, 0.0)
    assert deviations_um(3.001, "h7") == (-12.0, 0.0)


# ISO 2768-1:1989 table 1, typed from memory of the printed table (no copy at hand): size and f, m, c, v
TABLE_1 = [
    (0.5, 0.05, 0.1, 0.2, None), (3, 0.05, 0.1, 0.2, None), (3.1, 0.05, 0.1, 0.3, 0.5), (6, 0.05, 0.1, 0.3, 0.5),
    (30, 0.1, 0.2, 0.5, 1), (120, 0.15, 0.3, 0.8, 1.5), (400, 0.2, 0.5, 1.2, 2.5), (1000, 0.3, 0.8, 2, 4),
    (2000, 0.5, 1.2, 3, 6), (4000, None, 2, 4, 8), (0.4, None, None, None, None), (4001, None, None, None, None),
]  # fmt: skip


@pytest.mark.parametrize("row", TABLE_1, ids=lambda row: str(row[0]))
def test_linear_general_tolerances(row: tuple[float, ...]) -> None:
    assert tuple(deviation_mm(row[0], grade) for grade in "fmcv") == row[1:]


@pytest.mark.parametrize(
    ("size", "fine", "coarse"), [(1, 0.2, 0.4), (3, 0.2, 0.4), (6, 0.5, 1), (6.1, 1, 2), (50, 1, 2)]
)
def test_broken_edges(size: float, fine: float, coarse: float) -> None:
    """ISO 2768-1:1989 table 2, typed from memory of the printed table."""
    assert [deviation_mm(size, grade, "edge") for grade in "fmcv"] == [fine, fine, coarse, coarse]


def test_unknown_grade_and_kind() -> None:
    assert deviation_mm(10, "x") is None
    assert deviation_mm(10, "m", "angle") is None


@pytest.mark.parametrize(
    ("name", "inches"),
    [("No. 7", "0.201"), ("no 7", "0.201"), ("No. 7 drill", "0.201"), ("letter F", "0.257"),
     ("letter f drill", "0.257"), ("27/64 in", "27/64"), ("1 7/64 in", "71/64")],
)  # fmt: skip
def test_drill_names(name: str, inches: str) -> None:
    assert drill_diameter_mm(name) == Fraction(inches) * Fraction(254, 10)


@pytest.mark.parametrize("name", ["No. 0", "No. 98", "letter", "letter AA", "7", "", "1/0 in", "F"])
def test_unknown_drills(name: str) -> None:
    assert drill_diameter_mm(name) is None


def test_drills_get_smaller_by_number_and_larger_by_letter() -> None:
    numbers = [drill_diameter_mm(f"No. {n}") or 0 for n in range(1, 98)]
    letters = [drill_diameter_mm(f"letter {c}") or 0 for c in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"]
    assert all(a > b > 0 for a, b in zip(numbers, numbers[1:], strict=False))
    assert all(0 < a < b for a, b in zip(letters, letters[1:], strict=False))
    assert letters[0] > numbers[0]
