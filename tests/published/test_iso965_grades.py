"""Every grade and position of ISO 965-1, its tables 1 to 5, micrometres, typed from memory of the tables.

The program holds formulae, R 40 rounding and the few values set aside; the tables are the standard's other half, so this
checks one against the other. Memory, no copy at hand; the classes that found tables print are in test_asme_b1_13m.py.
The table leaves TD2 of grade 8 blank at 1 mm pitch over 22.4 mm; the next step of R 40 is typed there.
"""

from __future__ import annotations

import pytest

from handwheel.tables.metriclimits import engagement_group, metric_deviation_um, metric_tolerance_um
from handwheel.tables.threads import find_thread

# pitch: grades 4, 5, 6, 7, 8 of the nut's minor; grades 4, 6, 8 of the screw's major; G, e, f, g
CRESTS = """
0.2  | 38 - - - - | 36 56 - | 17 - - 17
0.25 | 45 56 - - - | 42 67 - | 18 - - 18
0.3  | 53 67 85 - - | 48 75 - | 18 - - 18
0.35 | 63 80 100 - - | 53 85 - | 19 - 34 19
0.4  | 71 90 112 - - | 60 95 - | 19 - 34 19
0.45 | 80 100 125 - - | 63 100 - | 20 - 35 20
0.5  | 90 112 140 180 - | 67 106 - | 20 50 36 20
0.6  | 100 125 160 200 - | 80 125 - | 21 53 36 21
0.7  | 112 140 180 224 - | 90 140 - | 22 56 38 22
0.75 | 118 150 190 236 - | 90 140 - | 22 56 38 22
0.8  | 125 160 200 250 315 | 95 150 236 | 24 60 38 24
1    | 150 190 236 300 375 | 112 180 280 | 26 60 40 26
1.25 | 170 212 265 335 425 | 132 212 335 | 28 63 42 28
1.5  | 190 236 300 375 475 | 150 236 375 | 32 67 45 32
1.75 | 212 265 335 425 530 | 170 265 425 | 34 71 48 34
2    | 236 300 375 475 600 | 180 280 450 | 38 71 52 38
2.5  | 280 355 450 560 710 | 212 335 530 | 42 80 58 42
3    | 315 400 500 630 800 | 236 375 600 | 48 85 63 48
3.5  | 355 450 560 710 900 | 265 425 670 | 53 90 70 53
4    | 375 475 600 750 950 | 300 475 750 | 60 95 75 60
4.5  | 425 530 670 850 1060 | 315 500 800 | 63 100 80 63
5    | 450 560 710 900 1120 | 335 530 850 | 71 106 85 71
5.5  | 475 600 750 950 1180 | 355 560 900 | 75 112 90 75
6    | 500 630 800 1000 1250 | 375 600 950 | 80 118 95 80
8    | 630 800 1000 1250 1600 | 450 710 1180 | 100 140 118 100
"""
# a diameter of the range, pitch: grades 3 to 9 of the screw's effective diameter; grades 4 to 8 of the nut's
EFFECTIVE = """
1.2 0.25 | 26 34 42 53 - - - | 45 56 - - -
1.4 0.3  | 28 36 45 56 - - - | 48 60 75 - -
2 0.25   | 28 36 45 56 - - - | 48 60 - - -
1.6 0.35 | 32 40 50 63 80 - - | 53 67 85 - -
2 0.4    | 34 42 53 67 85 - - | 56 71 90 - -
2.5 0.45 | 36 45 56 71 90 - - | 60 75 95 - -
3 0.35   | 34 42 53 67 85 - - | 56 71 90 - -
3 0.5    | 38 48 60 75 95 - - | 63 80 100 125 -
3.5 0.6  | 42 53 67 85 106 - - | 71 90 112 140 -
4 0.7    | 45 56 71 90 112 - - | 75 95 118 150 -
4.5 0.75 | 45 56 71 90 112 - - | 75 95 118 150 -
5 0.8    | 48 60 75 95 118 150 190 | 80 100 125 160 200
6 0.75   | 50 63 80 100 125 - - | 85 106 132 170 -
6 1      | 56 71 90 112 140 180 224 | 95 118 150 190 236
8 1.25   | 60 75 95 118 150 190 236 | 100 125 160 200 250
10 1.5   | 67 85 106 132 170 212 265 | 112 140 180 224 280
12 1     | 60 75 95 118 150 190 236 | 100 125 160 200 250
12 1.25  | 67 85 106 132 170 212 265 | 112 140 180 224 280
12 1.5   | 71 90 112 140 180 224 280 | 118 150 190 236 300
12 1.75  | 75 95 118 150 190 236 300 | 125 160 200 250 315
16 2     | 80 100 125 160 200 250 315 | 132 170 212 265 335
20 2.5   | 85 106 132 170 212 265 335 | 140 180 224 280 355
30 1     | 63 80 100 125 160 200 250 | 106 132 170 212 265
30 1.5   | 75 95 118 150 190 236 300 | 125 160 200 250 315
30 2     | 85 106 132 170 212 265 335 | 140 180 224 280 355
24 3     | 100 125 160 200 250 315 400 | 170 212 265 335 425
30 3.5   | 106 132 170 212 265 335 425 | 180 224 280 355 450
36 4     | 112 140 180 224 280 355 450 | 190 236 300 375 475
42 4.5   | 118 150 190 236 300 375 475 | 200 250 315 400 500
60 1.5   | 80 100 125 160 200 250 315 | 132 170 212 265 335
60 2     | 90 112 140 180 224 280 355 | 150 190 236 300 375
60 3     | 106 132 170 212 265 335 425 | 180 224 280 355 450
60 4     | 118 150 190 236 300 375 475 | 200 250 315 400 500
48 5     | 125 160 200 250 315 400 500 | 212 265 335 425 530
56 5.5   | 132 170 212 265 335 425 530 | 224 280 355 450 560
64 6     | 140 180 224 280 355 450 560 | 236 300 375 475 600
100 2    | 95 118 150 190 236 300 375 | 160 200 250 315 400
100 3    | 112 140 180 224 280 355 450 | 190 236 300 375 475
100 4    | 125 160 200 250 315 400 500 | 212 265 335 425 530
100 6    | 150 190 236 300 375 475 600 | 250 315 400 500 630
150 8    | 170 212 265 335 425 530 670 | 280 355 450 560 710
250 3    | 125 160 200 250 315 400 500 | 212 265 335 425 530
250 4    | 140 180 224 280 355 450 560 | 236 300 375 475 600
250 6    | 160 200 250 315 400 500 630 | 265 335 425 530 670
250 8    | 180 224 280 355 450 560 710 | 300 375 475 600 750
"""


def lines(text: str) -> list[list[list[str]]]:
    return [[part.split() for part in line.split("|")] for line in text.strip().splitlines()]


def um(text: str) -> float | None:
    return None if text == "-" else float(text)


@pytest.mark.parametrize("row", lines(CRESTS), ids=lambda row: row[0][0])
def test_crests_and_positions(row: list[list[str]]) -> None:
    pitch, diameter = float(row[0][0]), 300.0 if float(row[0][0]) > 6 else 1.2 if float(row[0][0]) < 0.3 else 20.0
    ours = [metric_tolerance_um("TD1", diameter, pitch, grade) for grade in (4, 5, 6, 7, 8)]
    assert ours == [um(text) for text in row[1]]
    assert [metric_tolerance_um("Td", diameter, pitch, grade) for grade in (4, 6, 8)] == [um(text) for text in row[2]]
    large, e, f, g = (um(text) for text in row[3])
    assert metric_deviation_um("G", pitch) == large
    below = [metric_deviation_um(letter, pitch) for letter in "efgh"]
    assert below == [None if size is None else -size for size in (e, f, g, 0.0)]


@pytest.mark.parametrize("row", lines(EFFECTIVE), ids=lambda row: " ".join(row[0]))
def test_effective_diameters(row: list[list[str]]) -> None:
    diameter, pitch = (float(text) for text in row[0])
    screw = [metric_tolerance_um("Td2", diameter, pitch, grade) for grade in range(3, 10)]
    nut = [metric_tolerance_um("TD2", diameter, pitch, grade) for grade in range(4, 9)]
    assert screw == [um(text) for text in row[1]]
    assert nut == [um(text) for text in row[2]]


@pytest.mark.parametrize(
    ("name", "low", "high"),
    # found on public pages of ISO 965-2 and -4: normal lengths of engagement of the coarse threads
    [("M1.6", 0.8, 2.6), ("M2", 1, 3), ("M2.5", 1.3, 3.8), ("M3", 1.5, 4.5), ("M3.5", 1.7, 5), ("M4", 2, 6), ("M5", 2.5, 7.5),
     ("M6", 3, 9), ("M10", 5, 15), ("M12", 6, 18), ("M16", 8, 24), ("M20", 10, 30), ("M24", 12, 36), ("M30", 15, 45),
     ("M36", 18, 53), ("M42", 21, 63),
     # from memory of ISO 965-1 table 2
     ("M8 x 1", 3, 9), ("M12 x 1.5", 5.6, 16), ("M20 x 1.5", 5.6, 16), ("M30 x 2", 8.5, 25), ("M64", 32, 95),
     ("M100 x 6", 36, 106)],
)  # fmt: skip
def test_lengths_of_engagement(name: str, low: float, high: float) -> None:
    thread = find_thread(name)
    assert thread is not None
    for length, group in ((low, "S"), (low + 0.01, "N"), (high, "N"), (high + 0.01, "L")):
        assert engagement_group(thread, length) == (group, low, high)
