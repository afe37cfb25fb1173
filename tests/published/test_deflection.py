"""Bending against textbook beams: every shared row. Only the first was found with its printed answer; the others' answers are
closed forms (their notes say so), a check of arithmetic and no evidence from outside.

A rectangular section is stood for by the round bar of the same second moment; a load spread along the bar by 400 pushes.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from thread_rows import rows_of

from handwheel.stages.bending import Elastic, gives_mm_per_n, moves_mm_per_n, worst_give
from handwheel.stages.records import Holding, Section

ROWS = {row["id"]: row for row in rows_of("deflection")}


def bar(*steps: tuple[float, float], bore: float = 0.0) -> Section:
    """Steps of (diameter, length) from the clamp outward."""
    z, points = 0.0, []
    for diameter, length in steps:
        points += [[z, diameter / 2], [z + length, diameter / 2]]
        z += length
    return Section(np.array(points), np.array([[0.0, bore / 2], [z, bore / 2]]))


def clamped(centre: float | None = None) -> Holding:
    return Holding("chuck", "three-jaw", -20.0, 0.0, "stock", "right", 0.0, centre_mm=centre)


def on_two_supports(length: float) -> Holding:
    return Holding("centres", "between centres", 0.0, 0.0, "stock", "right", 0.0, centre_mm=length, headstock_centre_mm=0.0)


def round_of(second_moment_mm4: float) -> float:
    return float((64.0 * second_moment_mm4 / math.pi) ** 0.25)


def alone(e_gpa: float) -> Elastic:
    return Elastic(e_gpa, has_shear=False)


def at_free_end(section: Section, length: float, loads: list[tuple[float, float]], e_gpa: float) -> float:
    return sum(load * moves_mm_per_n(section, clamped(), length, at, alone(e_gpa)) for load, at in loads)


def spread(n_per_mm: float, length: float) -> list[tuple[float, float]]:
    step = length / 400.0
    return [(n_per_mm * step, (k + 0.5) * step) for k in range(400)]


def near(row: dict[str, Any], key: str) -> Any:
    tolerance = row["tolerance"]
    return pytest.approx(row["expected"][key], abs=tolerance.get("abs"), rel=tolerance.get("rel"))


def test_rows_are_there() -> None:
    assert len(ROWS) == 13
    assert [i for i, row in ROWS.items() if row["note"].startswith("[example]")] == ["deflection-s001"]


def test_two_loads_on_one_beam() -> None:
    """Printed 1.39 mm: 10 kN at the end, 20 kN half way out."""
    row = ROWS["deflection-s001"]
    given = row["inputs"]
    section = bar((round_of(given["width_mm"] * given["depth_mm"] ** 3 / 12), given["length_mm"]))
    assert at_free_end(section, given["length_mm"], given["loads_N_at_mm_from_fixed"], given["E_GPa"]) == near(
        row, "deflection_free_end_mm")  # fmt: skip


@pytest.mark.parametrize("name", ["deflection-s002", "deflection-s003"])
def test_spread_loads(name: str) -> None:
    row = ROWS[name]
    given, length = row["inputs"], 1000.0 * row["inputs"]["cantilever_length_m"]
    section = bar((round_of(given["EI_MNm2"] * 1e12 / 200e3), length))
    loads = [*spread(given["udl_N_per_m"] / 1000.0, length), (given.get("point_load_N_free_end", 0.0), length)]
    assert at_free_end(section, length, loads, 200.0) == near(row, "deflection_mm")


def test_the_round_bar_that_bends_so_much() -> None:
    row = ROWS["deflection-s004"]
    given, length = row["inputs"], 1000.0 * row["inputs"]["cantilever_length_m"]
    section = bar((row["expected"]["diameter_mm"], length))
    found = at_free_end(section, length, spread(given["udl_N_per_m"] / 1000.0, length), given["E_GPa"])
    assert found == pytest.approx(given["deflection_mm"], rel=row["tolerance"]["rel"])


def test_on_two_supports() -> None:
    row = ROWS["deflection-s005"]
    given, length = row["inputs"], 1000.0 * row["inputs"]["simply_supported_length_m"]
    section = bar((round_of(given["EI_MNm2"] * 1e12 / 200e3), length))
    give = gives_mm_per_n(section, on_two_supports(length), length / 2, alone(200.0))
    assert given["centre_load_N"] * give == near(row, "deflection_mm")
    row = ROWS["deflection-s009"]
    given = row["inputs"]
    give = gives_mm_per_n(bar((given["diameter_mm"], given["length_mm"])), on_two_supports(given["length_mm"]),
                          given["length_mm"] / 2, alone(given["E_GPa"]))  # fmt: skip
    assert given["load_N"] * give == near(row, "deflection_mm")


@pytest.mark.parametrize("name", ["deflection-s006", "deflection-s007", "deflection-s008", "deflection-s013"])
def test_overhanging_bars(name: str) -> None:
    row = ROWS[name]
    given = row["inputs"]
    length = given.get("length_mm") or given["cantilever_length_mm"]
    diameter = given.get("diameter_mm") or given.get("od_mm") or round_of(given["width_mm"] * given["depth_mm"] ** 3 / 12)
    section = bar((diameter, length), bore=given.get("id_mm", 0.0))
    assert at_free_end(section, length, [(given["load_N"], length)], given["E_GPa"]) == near(row, "deflection_mm")


def test_chuck_and_centre() -> None:
    row = ROWS["deflection-s010"]
    given, length = row["inputs"], row["inputs"]["length_mm"]
    section, held, elastic = bar((given["diameter_mm"], length)), clamped(length), alone(given["E_GPa"])
    assert given["load_N"] * gives_mm_per_n(section, held, length / 2, elastic) == near(row, "deflection_under_load_mm")
    places = np.linspace(1.0, length - 1.0, 1193)
    curve = [given["load_N"] * moves_mm_per_n(section, held, float(z), length / 2, elastic) for z in places]
    assert max(curve) == near(row, "max_deflection_mm")
    from_pin = (length - places[int(np.argmax(curve))]) / length
    assert from_pin == pytest.approx(row["expected"]["max_at_fraction_from_pin"], abs=2e-3)
    # the prop's force: what brings the unpropped end back
    free = moves_mm_per_n(section, clamped(), length, length / 2, elastic)
    reaction = given["load_N"] * free / gives_mm_per_n(section, clamped(), length, elastic)
    assert reaction == near(row, "prop_reaction_N")
    # the load that bends most stands elsewhere than where this one does
    assert worst_give(section, held, places, elastic)[1] / length == pytest.approx(0.586, abs=2e-3)


@pytest.mark.parametrize("name", ["deflection-s011", "deflection-s012"])
def test_stepped_bars(name: str) -> None:
    row = ROWS[name]
    given = row["inputs"]
    steps = ((given["fixed_end_dia_mm"], given["fixed_end_length_mm"]), (given["free_end_dia_mm"], given["free_end_length_mm"]))
    length = steps[0][1] + steps[1][1]
    assert at_free_end(bar(*steps), length, [(given["load_N"], length)], given["E_GPa"]) == near(row, "deflection_mm")
